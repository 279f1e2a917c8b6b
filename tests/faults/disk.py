"""What a disk may hold when the power goes, told from the calls a program made.

The disk. A completed fsync of a file puts all bytes written to it so far on the disk, a completed fsync of a folder all
names made, removed and renamed in it. Nothing else does: of the writes since, any may be lost (and may then still have
lengthened the file, with zeros), they may land in any order, one may be torn at a boundary of 512 bytes; of the names
since, each may have changed or not, a rename as one. After an fsync that failed, what it should have written may be
there or not for ever, whatever later ones say. Not modelled: garbage in sectors nobody wrote, disks that confirm an
fsync and forget, and files that change without a call the shim knows (`Unseen` tells).
"""

from __future__ import annotations

import os
import random
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from enum import Enum
from pathlib import Path
from typing import Literal, NamedTuple

Files = dict[str, bytes]
"""Path below the folder, with "/", to content; a folder is a path that ends in "/" with no content."""
SECTOR_BYTES = 512


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


class Image(NamedTuple):
    """What the disk may hold when the power goes after call `cut` (0: before the first).

    `how`: "least" when nothing unsynced survived, "most" when all did, "drawn" by the generator otherwise.
    """

    cut: int
    how: Literal["least", "most", "drawn"]
    said: str
    files: Files


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


class Fate(Enum):
    """Of a change since the last fsync that put everything on the disk."""

    OPEN = "no fsync yet"
    DOUBTFUL = "its fsync failed"
    SURE = "its fsync completed"


@dataclass(slots=True)
class Change:
    """Bytes put `at` a place of a file, or its length set to `at`. No bytes beyond the end lengthen it."""

    at: int
    data: bytes | None
    fate: Fate = Fate.OPEN

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
class Node:
    """A file without its name: what is on the disk, and changes in the order they were made."""

    base: bytearray = field(default_factory=bytearray)
    changes: list[Change] = field(default_factory=list)

    def settle(self, fate: Fate) -> None:
        for change in self.changes:
            change.fate = fate if change.fate is Fate.OPEN else change.fate
        while self.changes and self.changes[0].fate is Fate.SURE:
            self.changes.pop(0).apply(self.base)

    def left(self, keep: Callable[[], bool], rng: random.Random | None, torn: Change | None) -> bytes:
        content, late = bytearray(self.base), list[Change]()
        for change in self.changes:
            if change.fate is Fate.OPEN:
                late += _fallen(change, keep, rng, is_torn=change is torn)
            elif change.fate is Fate.SURE or keep():
                change.apply(content)
        if rng and rng.random() < 0.5:
            rng.shuffle(late)
        for change in late:
            change.apply(content)
        return bytes(content)


def _fallen(change: Change, keep: Callable[[], bool], rng: random.Random | None, *, is_torn: bool) -> list[Change]:
    """What is left of an unsynced change: it, nothing, the length it gave the file, or one side of a tear."""
    if rng and is_torn and change.data is not None:
        edge = rng.choice(change.boundaries)
        head, tail = change.data[: edge - change.at], change.data[edge - change.at :]
        return [Change(change.at, head) if rng.random() < 0.5 else Change(edge, tail)]
    if keep():
        return [change]
    return [Change(change.end, b"")] if rng and change.data and rng.random() < 0.5 else []


@dataclass(slots=True)
class Step:
    """A name that came (`node`) or went (None), with the one it had before; sure once all of `folders` are synced."""

    name: str
    node: Node | None
    old: str | None
    folders: set[str]
    fate: Fate = Fate.OPEN

    def apply(self, names: dict[str, Node]) -> None:
        if self.old is not None:
            names.pop(self.old, None)
        if self.node is None:
            names.pop(self.name, None)
        else:
            names[self.name] = self.node


class Disk:
    """Follows the events of a log; says at any time what may be left."""

    def __init__(self, start: Files) -> None:
        self.names = {name: Node(bytearray(content)) for name, content in start.items()}
        self.now = dict(self.names)
        self.steps: list[Step] = []
        self.nodes: dict[int, Node] = {}

    def step(self, event: Event) -> None:
        """Take one event in. NotImplementedError for a folder that is renamed."""
        match event.what:
            case "s" | "d":
                self._sync(event, Fate.DOUBTFUL if event.err else Fate.SURE)
            case _ if event.err:
                return
            case "c":
                self.nodes[event.node] = node = Node()
                self._name(event.name, node)
            case "o":
                self.nodes[event.node] = self.now.get(event.name) or Node()
            case "w" | "t":
                data = event.data if event.what == "w" else None
                self.nodes.setdefault(event.node, Node()).changes.append(Change(event.at, data))
            case "l":
                self._name(os.fsdecode(event.data), self.now.get(event.name) or Node())
            case "m":
                self._name(f"{event.name}/", Node())
            case "u" | "x":
                self._name(event.name + "/" * (event.what == "x"), None)
            case "r":
                if f"{event.name}/" in self.now:
                    raise NotImplementedError(event)
                self._name(os.fsdecode(event.data), self.now.get(event.name) or Node(), event.name)

    def left(self, keep: Callable[[], bool], rng: random.Random | None = None) -> Files:
        """Synced and kept changes; with a generator also out of order, torn and lengthened."""
        names = dict(self.names)
        for step in self.steps:
            if step.fate is Fate.SURE or keep():
                step.apply(names)
        late = [one for node in names.values() for one in node.changes if one.fate is Fate.OPEN and one.boundaries]
        torn = rng.choice(late) if rng and late and rng.random() < 0.5 else None
        # A file of two names has one content.
        held = {id(node): node.left(keep, rng, torn) for node in names.values()}
        return {name: held[id(node)] for name, node in names.items() if all(above in names for above in _above(name))}

    def drawn(self, rng: random.Random) -> Files:
        """One state out of many; how much is lost is drawn first, so that nearly nothing and nearly all occur."""
        share = rng.choice((0.1, 0.5, 0.9))
        return self.left(lambda: rng.random() < share, rng)

    def _name(self, name: str, node: Node | None, old: str | None = None) -> None:
        folders = {_folder(one) for one in (name, old) if one is not None}
        self.steps.append(Step(name, node, old, folders))
        self.steps[-1].apply(self.now)

    def _sync(self, event: Event, fate: Fate) -> None:
        if event.what == "s":
            self.nodes.setdefault(event.node, Node()).settle(fate)
            return
        for step in self.steps:
            if step.fate is Fate.OPEN and event.name in step.folders:
                step.folders -= {event.name} if fate is Fate.SURE else set()
                step.fate = fate if fate is Fate.DOUBTFUL or not step.folders else Fate.OPEN
        while self.steps and self.steps[0].fate is Fate.SURE:
            self.steps.pop(0).apply(self.names)


def _folder(name: str) -> str:
    return name.rstrip("/").rpartition("/")[0]


def _above(name: str) -> Iterable[str]:
    parts = _folder(name).split("/")
    return ("/".join(parts[:n]) + "/" for n in range(1, len(parts) + 1) if parts[0])
