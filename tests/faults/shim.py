"""A shim under the file calls of a program: calls that fail or fall short, kill -9, and what a power cut leaves behind.

    shim = Shim.build(tmp_path)  # compiles shim.c; why_not() says when that cannot be
    shim.count(argv, folder)  # {"open": 3, "write": 17, ...}: how big N can get
    shim.run(argv, folder, Fail("write", 7, ENOSPC))  # or Kill(("write", "fsync"), 7)
    recording = shim.record(argv, folder)  # runs it and keeps every call, and what it printed, in order
    for image in images(recording, seed=1, count=200):
        lay(image, other_folder)  # what a disk may hold after a cut; image.said: all it had told its caller by then

Only what lies under `folder` is watched. Processes the program starts are watched too and share the counters.

What a disk may hold after a cut stands in disk.py.
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
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, NamedTuple, get_args

from tests.faults.disk import Disk, Event, Fate, Files, Image, read

Sort = Literal["open", "create", "write", "truncate", "fsync", "unlink", "rename", "mkdir", "rmdir", "close"]
"""Sorts of calls. `create` is an open that makes a file or a link, `open` any other, of a folder as well; `fsync` is also
fdatasync, of files and folders; an open that empties a file counts as open only."""
SORTS: tuple[Sort, ...] = get_args(Sort)
SOURCE = Path(__file__).with_name("shim.c")
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


class Recording(NamedTuple):
    """A run with the folder as it was before and everything done in it since."""

    ran: Ran
    start: Files
    events: tuple[Event, ...]


@dataclass(frozen=True, slots=True)
class Shim:
    """The compiled shim and a folder for its counters and logs.

    `start` runs a program with orders added to its environment; by default one is started with the shim loaded.
    """

    preloaded: Path
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
        disk = Disk(start)
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
        env["LD_PRELOAD"] = " ".join(filter(None, (str(self.preloaded), os.environ.get("LD_PRELOAD"))))
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


def images(recording: Recording, *, seed: int, count: int) -> Iterator[Image]:
    """States after a cut at each call: both extremes of every cut, and `count` drawn ones, more where more is unsynced.

    A state that was given already, with the same words said, is not given again, so fewer than `count` may come.
    """
    rng = random.Random(seed)
    draws = Counter(rng.choices(range(len(recording.events) + 1), _unsynced(recording), k=count))
    disk, said, call, seen = Disk(recording.start), b"", 0, set[bytes]()
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
    disk, found = Disk(recording.start), [1]
    for event in recording.events:
        disk.step(event)
        open_ = sum(one.fate is Fate.OPEN for node in disk.nodes.values() for one in node.changes)
        found.append(1 + open_ + len(disk.steps))
    return found


def _digest(said: bytes, files: Files) -> bytes:
    digest = hashlib.sha256(said)
    for name, content in sorted(files.items()):
        digest.update(f"\0{len(name)} {len(content)} {name}\0".encode(errors="surrogateescape"))
        digest.update(content)
    return digest.digest()
