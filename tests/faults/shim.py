"""A shim under the file calls of a program: calls that fail or fall short, kill -9, and what a power cut leaves behind.

    shim = Shim.build(tmp_path)  # compiles shim.c; why_not() says when that cannot be
    shim.count(argv, folder)  # {"open": 3, "write": 17, ...}: how big N can get
    shim.run(argv, folder, Fail("write", 7, ENOSPC))  # or Kill(("write", "fsync"), 7)
    recording = shim.record(argv, folder)  # runs it and keeps every call, and what it printed, in order
    for image in images(recording, seed=1, count=200):
        lay(image, other_folder)  # what a disk may hold after a cut; image.said: all it had told its caller by then

Only what lies under `folder` is watched. Processes the program starts are watched too and share the counters.

The disk. A completed fsync of a file puts all bytes written to it so far on the disk, a completed fsync of a folder all
names made, removed and renamed in it. Nothing else does: of the writes since, any may be lost (and may then still have
lengthened the file, with zeros), they may land in any order, one may be torn at a boundary of 512 bytes; of the names
since, each may have changed or not, a rename as one. After an fsync that failed, what it should have written may be
there or not for ever, whatever later ones say. Not modelled: garbage in sectors nobody wrote, disks that confirm an
fsync and forget, and files that change without a call the shim knows (`Unseen` tells).
"""

from __future__ import annotations

import hashlib
import os
import random
import shutil
import struct
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from pathlib import Path
from typing import Literal, NamedTuple, get_args

Sort = Literal["open", "create", "write", "truncate", "fsync", "unlink", "rename", "mkdir", "rmdir", "close"]
"""Sorts of calls. `create` is an open that makes a file or a link, `open` any other, of a folder as well; `fsync` is also
fdatasync, of files and folders; an open that empties a file counts as open only."""
SORTS: tuple[Sort, ...] = get_args(Sort)
Files = dict[str, bytes]
"""Path below the folder, with "/", to content; a folder is a path that ends in "/" with no content."""
SOURCE = Path(__file__).with_name("shim.c")
SECTOR_BYTES = 512
_STATE = struct.Struct(f"={4 + len(SORTS)}Q")
_HEAD = struct.Struct("=QQqIIII")


class NotLoaded(Exception):
    """The program ran without the shim, so the run proves nothing (a static or privileged program)."""


class Unseen(Exception):
    """The folder is not what the log says: something changed files past the shim. Holds their paths."""


def why_not() -> str:
    """Reason for which no shim can be built here, or nothing."""
    if sys.platform != "linux" or sys.maxsize <= 2**32:
        return "the shim under file calls needs 64-bit Linux"
    return "" if _compiler() else "no C compiler to build the shim under file calls with"


def _compiler() -> str | None:
    return next(filter(None, map(shutil.which, (os.environ.get("CC") or "cc", "gcc", "clang"))), None)


@dataclass(frozen=True)
class Fail:
    """The `nth` call, from 1, of a sort, of several counted together, or of any (None) fails with `errno`.

    `sticky`: from the Nth on, as on a full disk. `part`: the Nth write gets that many bytes through (at most one less
    than asked) and says so; it is the next that fails, or none with errno 0. A call that fails does nothing, except
    close, which closes. ValueError for a fault that could not strike.
    """

    sort: Sort | tuple[Sort, ...] | None
    nth: int
    errno: int = 0
    sticky: bool = False
    part: int = 0

    def __post_init__(self) -> None:
        if self.nth < 1 or self.part < 0 or not (self.errno or self.part) or (self.part and self.sort != "write"):
            raise ValueError(self)


@dataclass(frozen=True)
class Kill:
    """The process ends by SIGKILL before its `nth` call, or within it after `part` bytes of a write."""

    sort: Sort | tuple[Sort, ...] | None
    nth: int
    part: int = 0

    def __post_init__(self) -> None:
        if self.nth < 1 or self.part < 0 or (self.part and self.sort != "write"):
            raise ValueError(self)


Fault = Fail | Kill | None
Env = Mapping[str, str] | None
Start = Callable[[Sequence[str], Mapping[str, str], float], subprocess.CompletedProcess[str]]


class Ran(subprocess.CompletedProcess[str]):
    """How a run ended, with the calls by sort and how often the fault struck (0: N was never reached)."""

    def __init__(self, done: subprocess.CompletedProcess[str], counts: Mapping[Sort, int], hits: int) -> None:
        super().__init__(done.args, done.returncode, done.stdout, done.stderr)
        self.counts = counts
        self.hits = hits


class Event(NamedTuple):
    """One record of the log.

    `what`: c create, o open, w write, t truncate, s fsync of a file, d of a folder, u unlink, r rename and l link (`data`
    holds the new name), m mkdir, x rmdir, - close, = what the program printed. `node` tells files apart, also after a
    rename, until the next create of the same number. `err`: errno of a call that failed.
    """

    call: int
    node: int
    at: int
    err: int
    what: str
    name: str
    data: bytes


class Recording(NamedTuple):
    """A run with the folder as it was before and everything done in it since."""

    ran: Ran
    start: Files
    events: tuple[Event, ...]


class Image(NamedTuple):
    """What the disk may hold when the power goes after call `cut` (0: before the first).

    `how`: "least" when nothing unsynced survived, "most" when all did, "drawn" by the generator otherwise.
    """

    cut: int
    how: Literal["least", "most", "drawn"]
    said: str
    files: Files


@dataclass(frozen=True, slots=True)
class Shim:
    """The compiled shim and a folder for its counters and logs.

    `start` runs a program with orders added to its environment; by default one is started with the shim loaded.
    """

    library: Path
    home: Path
    start: Start | None = None

    @classmethod
    def build(cls, tmp: Path) -> Shim:
        """Compile into `tmp`; RuntimeError with the compiler's words, or with why_not()."""
        if why_not():
            raise RuntimeError(why_not())
        library = tmp / "shim.so"
        flags = ["-O1", "-Wall", "-Wextra", "-shared", "-fPIC", "-U_FORTIFY_SOURCE"]
        command = [str(_compiler()), *flags, "-o", str(library), str(SOURCE), "-ldl", "-lpthread"]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        if done.returncode:
            raise RuntimeError(done.stderr)
        return cls(library, tmp)

    def run(
        self, argv: Sequence[str], folder: Path, fault: Fault = None, *, env: Env = None, timeout_s: float = 60
    ) -> Ran:
        """Run a program with at most one fault. `env` is added to the environment. NotLoaded, TimeoutExpired."""
        return self._run(argv, folder, {**_orders(fault), **(env or {})}, timeout_s)

    def count(self, argv: Sequence[str], folder: Path, *, env: Env = None) -> Mapping[Sort, int]:
        """Run a program without a fault; its calls by sort."""
        return self.run(argv, folder, env=env).counts

    def record(
        self, argv: Sequence[str], folder: Path, fault: Fault = None, *, env: Env = None, timeout_s: float = 60
    ) -> Recording:
        """Run a program and keep all it did; Unseen when that does not account for what the folder holds after."""
        start = read(folder)
        with tempfile.NamedTemporaryFile(dir=self.home, suffix=".log") as log:
            ran = self._run(argv, folder, {**_orders(fault), **(env or {}), "SHIM_LOG": log.name}, timeout_s)
            events = tuple(_parsed(Path(log.name).read_bytes()))
        disk = _Disk(start)
        for event in events:
            disk.step(event)
        told, there = disk.left(lambda: True), read(folder)
        if told != there:
            raise Unseen(sorted(name for name in told.keys() | there.keys() if told.get(name) != there.get(name)))
        return Recording(ran, start, events)

    def _run(self, argv: Sequence[str], folder: Path, orders: Mapping[str, str], timeout_s: float) -> Ran:
        if self.home.resolve().is_relative_to(folder.resolve()):
            raise ValueError(folder)
        with tempfile.NamedTemporaryFile(dir=self.home, suffix=".state") as state:
            state.write(bytes(4096))
            state.flush()
            env = {**orders, "SHIM_FOLDER": str(folder.resolve()), "SHIM_STATE": state.name}
            done = (self.start or self._loaded)(argv, env, timeout_s)
            ready, _, _, hits, *counts = _STATE.unpack(Path(state.name).read_bytes()[: _STATE.size])
        if not ready:
            raise NotLoaded(done.stderr)
        return Ran(done, dict(zip(SORTS, counts, strict=True)), hits)

    def _loaded(
        self, argv: Sequence[str], orders: Mapping[str, str], timeout_s: float
    ) -> subprocess.CompletedProcess[str]:
        env = {**os.environ, **orders}
        env["LD_PRELOAD"] = " ".join(filter(None, (str(self.library), os.environ.get("LD_PRELOAD"))))
        return subprocess.run(
            list(argv), env=env, capture_output=True, text=True, encoding="utf-8", check=False, timeout=timeout_s
        )


def _orders(fault: Fault) -> dict[str, str]:
    if fault is None:
        return {}
    sorts = (fault.sort,) if isinstance(fault.sort, str) else fault.sort or SORTS
    orders = {"NTH": fault.nth, "PART": fault.part, "SORTS": sum(1 << SORTS.index(sort) for sort in set(sorts))}
    orders |= {"KILL": 1} if isinstance(fault, Kill) else {"ERRNO": fault.errno, "STICKY": int(fault.sticky)}
    return {f"SHIM_{name}": str(value) for name, value in orders.items()}


def _parsed(log: bytes) -> Iterator[Event]:
    at = 0
    while at < len(log):
        call, node, place, err, what, name_bytes, data_bytes = _HEAD.unpack_from(log, at)
        name_at, data_at = at + _HEAD.size, at + _HEAD.size + name_bytes
        at = data_at + data_bytes
        name = os.fsdecode(log[name_at:data_at])
        yield Event(call, node, place, err, chr(what), name, log[data_at:at])


def read(folder: Path) -> Files:
    """What a folder holds."""
    found = sorted(folder.rglob("*"))
    return {
        f"{path.relative_to(folder).as_posix()}{'/' * path.is_dir()}": b"" if path.is_dir() else path.read_bytes()
        for path in found
        if path.is_dir() or path.is_file()
    }


def lay(image: Image | Files, folder: Path) -> Path:
    """Put an image into a folder that is empty or not there yet (else FileExistsError); answers the folder."""
    folder.mkdir(parents=True, exist_ok=True)
    if any(folder.iterdir()):
        raise FileExistsError(folder)
    for name, content in (image.files if isinstance(image, Image) else image).items():
        path = folder / name
        (path if name.endswith("/") else path.parent).mkdir(parents=True, exist_ok=True)
        if not name.endswith("/"):
            path.write_bytes(content)
    return folder


def images(recording: Recording, *, seed: int, count: int) -> Iterator[Image]:
    """States after a cut at each call: both extremes of every cut, and `count` drawn ones, more where more is unsynced.

    A state that was given already, with the same words said, is not given again, so fewer than `count` may come.
    """
    rng = random.Random(seed)
    draws = Counter(rng.choices(range(len(recording.events) + 1), _unsynced(recording), k=count))
    disk, said, call, seen = _Disk(recording.start), b"", 0, set[bytes]()
    for place in range(len(recording.events) + 1):
        states: list[tuple[Literal["least", "most", "drawn"], Files]] = [
            ("least", disk.left(lambda: False)),
            ("most", disk.left(lambda: True)),
            *(("drawn", disk.drawn(rng)) for _ in range(draws[place])),
        ]
        for how, files in states:
            mark = _digest(said, files)
            if mark not in seen:
                seen.add(mark)
                yield Image(call, how, said.decode(errors="replace"), files)
        if place < len(recording.events):
            event = recording.events[place]
            disk.step(event)
            call = event.call
            said += event.data if event.what == "=" else b""


def _unsynced(recording: Recording) -> list[int]:
    """Changes without an fsync before each event and after the last, one added so that every cut may be drawn."""
    disk, found = _Disk(recording.start), [1]
    for event in recording.events:
        disk.step(event)
        open_ = sum(one.fate is _Fate.OPEN for node in disk.nodes.values() for one in node.changes)
        found.append(1 + open_ + len(disk.steps))
    return found


def _digest(said: bytes, files: Files) -> bytes:
    digest = hashlib.sha256(said)
    for name, content in sorted(files.items()):
        digest.update(f"\0{len(name)} {len(content)} {name}\0".encode(errors="surrogateescape"))
        digest.update(content)
    return digest.digest()


class _Fate(Enum):
    """Of a change since the last fsync that put everything on the disk."""

    OPEN = "no fsync yet"
    DOUBTFUL = "its fsync failed"
    SURE = "its fsync completed"


@dataclass(slots=True)
class _Change:
    """Bytes put `at` a place of a file, or its length set to `at`. No bytes beyond the end lengthen it."""

    at: int
    data: bytes | None
    fate: _Fate = _Fate.OPEN

    @property
    def end(self) -> int:
        return self.at + len(self.data or b"")

    @property
    def boundaries(self) -> range:
        """Sector boundaries strictly within."""
        return range((self.at // SECTOR_BYTES + 1) * SECTOR_BYTES, self.end, SECTOR_BYTES)

    def apply(self, content: bytearray) -> None:
        content.extend(bytes(max(0, self.at - len(content))))
        if self.data is None:
            del content[self.at :]
        else:
            content[self.at : self.end] = self.data


@dataclass(slots=True)
class _Node:
    """A file without its name: what is on the disk, and changes in the order they were made."""

    base: bytearray = field(default_factory=bytearray)
    changes: list[_Change] = field(default_factory=list)

    def settle(self, fate: _Fate) -> None:
        for change in self.changes:
            change.fate = fate if change.fate is _Fate.OPEN else change.fate
        while self.changes and self.changes[0].fate is _Fate.SURE:
            self.changes.pop(0).apply(self.base)

    def left(self, keep: Callable[[], bool], rng: random.Random | None, torn: _Change | None) -> bytes:
        content, late = bytearray(self.base), list[_Change]()
        for change in self.changes:
            if change.fate is _Fate.OPEN:
                late += _fallen(change, keep, rng, is_torn=change is torn)
            elif change.fate is _Fate.SURE or keep():
                change.apply(content)
        if rng and rng.random() < 0.5:
            rng.shuffle(late)
        for change in late:
            change.apply(content)
        return bytes(content)


def _fallen(change: _Change, keep: Callable[[], bool], rng: random.Random | None, *, is_torn: bool) -> list[_Change]:
    """What is left of an unsynced change: it, nothing, the length it gave the file, or one side of a tear."""
    if rng and is_torn and change.data is not None:
        edge = rng.choice(change.boundaries)
        head, tail = change.data[: edge - change.at], change.data[edge - change.at :]
        return [_Change(change.at, head) if rng.random() < 0.5 else _Change(edge, tail)]
    if keep():
        return [change]
    return [_Change(change.end, b"")] if rng and change.data and rng.random() < 0.5 else []


@dataclass(slots=True)
class _Step:
    """A name that came (`node`) or went (None), with the one it had before; sure once all of `folders` are synced."""

    name: str
    node: _Node | None
    old: str | None
    folders: set[str]
    fate: _Fate = _Fate.OPEN

    def apply(self, names: dict[str, _Node]) -> None:
        if self.old is not None:
            names.pop(self.old, None)
        if self.node is None:
            names.pop(self.name, None)
        else:
            names[self.name] = self.node


class _Disk:
    """Follows the events of a log; says at any time what may be left."""

    def __init__(self, start: Files) -> None:
        self.names = {name: _Node(bytearray(content)) for name, content in start.items()}
        self.now = dict(self.names)
        self.steps: list[_Step] = []
        self.nodes: dict[int, _Node] = {}

    def step(self, event: Event) -> None:
        """Take one event in. NotImplementedError for a folder that is renamed."""
        match event.what:
            case "s" | "d":
                self._sync(event, _Fate.DOUBTFUL if event.err else _Fate.SURE)
            case _ if event.err:
                return
            case "c":
                self.nodes[event.node] = node = _Node()
                self._name(event.name, node)
            case "o":
                self.nodes[event.node] = self.now.get(event.name) or _Node()
            case "w" | "t":
                data = event.data if event.what == "w" else None
                self.nodes.setdefault(event.node, _Node()).changes.append(_Change(event.at, data))
            case "l":
                self._name(os.fsdecode(event.data), self.now.get(event.name) or _Node())
            case "m":
                self._name(f"{event.name}/", _Node())
            case "u" | "x":
                self._name(event.name + "/" * (event.what == "x"), None)
            case "r":
                if f"{event.name}/" in self.now:
                    raise NotImplementedError(event)
                self._name(os.fsdecode(event.data), self.now.get(event.name) or _Node(), event.name)

    def left(self, keep: Callable[[], bool], rng: random.Random | None = None) -> Files:
        """Synced and kept changes; with a generator also out of order, torn and lengthened."""
        names = dict(self.names)
        for step in self.steps:
            if step.fate is _Fate.SURE or keep():
                step.apply(names)
        late = [one for node in names.values() for one in node.changes if one.fate is _Fate.OPEN and one.boundaries]
        torn = rng.choice(late) if rng and late and rng.random() < 0.5 else None
        # A file of two names has one content.
        held = {id(node): node.left(keep, rng, torn) for node in names.values()}
        return {
            name: held[id(node)] for name, node in names.items() if all(above in names for above in _above(name))
        }

    def drawn(self, rng: random.Random) -> Files:
        """One state out of many; how much is lost is drawn first, so that nearly nothing and nearly all occur."""
        share = rng.choice((0.1, 0.5, 0.9))
        return self.left(lambda: rng.random() < share, rng)

    def _name(self, name: str, node: _Node | None, old: str | None = None) -> None:
        folders = {_folder(one) for one in (name, old) if one is not None}
        self.steps.append(_Step(name, node, old, folders))
        self.steps[-1].apply(self.now)

    def _sync(self, event: Event, fate: _Fate) -> None:
        if event.what == "s":
            self.nodes.setdefault(event.node, _Node()).settle(fate)
            return
        for step in self.steps:
            if step.fate is _Fate.OPEN and event.name in step.folders:
                step.folders -= {event.name} if fate is _Fate.SURE else set()
                step.fate = fate if fate is _Fate.DOUBTFUL or not step.folders else _Fate.OPEN
        while self.steps and self.steps[0].fate is _Fate.SURE:
            self.steps.pop(0).apply(self.names)


def _folder(name: str) -> str:
    return name.rstrip("/").rpartition("/")[0]


def _above(name: str) -> Iterable[str]:
    parts = _folder(name).split("/")
    return ("/".join(parts[:n]) + "/" for n in range(1, len(parts) + 1) if parts[0])
