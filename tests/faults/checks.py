"""What must hold of a register after a fault, worked out apart from the program where that can be.

I1 acknowledged entries are there; I2 no half unit; I3 integrity and references; I4 chain whole, numbers without gaps;
I5 never two open issues of one piece.
"""

from __future__ import annotations

import json
import os
import shutil
import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import UTC
from functools import cache
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from unittest import mock

from app.decision.domain.errors import CuffdateError
from app.register.engine import open_store
from app.register.migrate import expected_fingerprint
from app.register.verify import Damage
from app.usecases import verify_register as verifying
from app.usecases.desk import Desk
from tests.fakes import FixedClock

# The byte each kind of line begins its hash with, as the description of the chain has it.
KINDS = ("crib", "person", "system", "circuit", "site_rule", "piece", "record", "decision", "bag", "alias", "stocktake")
# What a fresh register is like does not change within a run, and building one is most of a verification.
_expected = cache(expected_fingerprint)


def verified(desk: Desk) -> tuple[Damage, ...]:
    """What the program's own verification names."""
    with mock.patch.object(verifying, "expected_fingerprint", _expected):
        return verifying.verify_register(desk).damage


@contextmanager
def on_memory(otherwise: Path) -> Iterator[Path]:
    """A folder of its own in memory, or the other one where the system has no such place."""
    memory = Path("/dev/shm")
    if not os.access(memory, os.W_OK):
        yield otherwise
        return
    with TemporaryDirectory(dir=memory) as folder:
        yield Path(folder)


def copied(register: Path, folder: Path, name: str = "r.cuffdate") -> Path:
    """The ready register at its place in a folder made for it."""
    folder.mkdir(parents=True, exist_ok=True)
    return Path(shutil.copyfile(register, folder / name))


@dataclass(frozen=True)
class Line:
    """One line of the journal as it stands in the file."""

    book: str
    number: int
    at: str
    kind: str
    subject: str
    content: dict[str, Any]


def lines(raw: sqlite3.Connection) -> list[Line]:
    """Every line, in the order in which they were written."""
    rows = raw.execute("SELECT book, number, at, kind, subject, content FROM journal ORDER BY rowid")
    return [Line(row[0], row[1], row[2], row[3], row[4], json.loads(row[5])) for row in rows]


def contents(path: Path) -> dict[str, list[tuple[object, ...]]]:
    """Everything that can be read of a database: tables with their rows, and what the tables are."""
    with closing(sqlite3.connect(path)) as raw:
        found = {"": raw.execute("SELECT type, name, sql FROM sqlite_master ORDER BY 1, 2").fetchall()}
        for (name,) in raw.execute("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY 1").fetchall():
            found[name] = sorted(raw.execute(f'SELECT * FROM "{name}"').fetchall(), key=repr)
        found["pragma"] = [raw.execute(f"PRAGMA {one}").fetchone() for one in ("application_id", "user_version")]
    return found


Said = list[dict[str, Any]]


def parsed(said: str) -> Said:
    """What a process told; a line it did not come to end is not told."""
    return [json.loads(line) for line in said.split("\n")[:-1]]


def problems(path: Path, said: str, before: int) -> list[str]:
    """Everything that must hold and does not. `before`: lines the journal had before the process began."""
    with closing(sqlite3.connect(path)) as raw:
        try:
            found = [*_file(raw), *_chain(raw)]
            made = lines(raw)
            found += _units(made, parsed(said), before)
            found += _out(raw, made)
        except sqlite3.DatabaseError as fault:
            return [f"I3 {fault}"]
    try:
        desk = Desk(open_store(path), FixedClock(), UTC)
    except CuffdateError as no:
        return [*found, f"I3 does not open: {no}"]
    found += [f"I3 verify: {one.says}" for one in verified(desk)]
    desk.store.close()
    return found


def count_lines(path: Path) -> int:
    with closing(sqlite3.connect(path)) as raw:
        return int(raw.execute("SELECT count(*) FROM journal").fetchone()[0])


def _file(raw: sqlite3.Connection) -> Iterator[str]:
    for (word,) in raw.execute("PRAGMA integrity_check"):
        if word != "ok":
            yield f"I3 integrity: {word}"
    for row in raw.execute("PRAGMA foreign_key_check"):
        yield f"I3 reference: {row}"


def _chain(raw: sqlite3.Connection) -> Iterator[str]:
    """Written from the description of the chain alone."""
    heads: dict[str, tuple[int, bytes]] = {}
    names = "book, number, at, actor, kind, subject, revision, content, previous, hash"
    for *fields, before, digest in raw.execute(f"SELECT {names} FROM journal ORDER BY book, number"):
        book, number, kind = fields[0], fields[1], fields[4]
        last, last_hash = heads.get(book, (0, bytes(32)))
        if number != last + 1:
            yield f"I4 {book}: {last} is followed by {number}"
        text = "\n".join(str(one) for one in fields).encode()
        domain = bytes([KINDS.index(kind) + 1])
        if before != last_hash or sha256(domain + before + text).digest() != digest:
            yield f"I4 {book}:{number} does not follow from the line before"
        heads[book] = (number, digest)


def _units(made: list[Line], said: Said, before: int) -> Iterator[str]:
    """Acknowledged acts whole, and of the one that was not at most a whole one as well."""
    units: dict[str, list[Line]] = {}
    for line in made[before:]:
        units.setdefault(line.at, []).append(line)
    by_names = {tuple(sorted((one.book, one.number) for one in unit)): at for at, unit in units.items()}
    act: dict[str, Any] = {}
    pending: list[dict[str, Any]] = []
    for told in said:
        if "try" in told:
            act = told
            pending.append(act)
        elif "trouble" not in told:
            pending.remove(act)
            if told.get("done"):
                names = tuple(sorted((book, number) for book, number in told["done"]))
                at = by_names.get(names)
                if at is None:
                    yield f"I1 {told['act']} {names} was acknowledged and is not there"
                else:
                    yield from _whole(units.pop(at), act)
    for at, unit in units.items():
        if not pending:
            yield f"I2 lines nobody told of at {at}: {[(one.book, one.number, one.kind) for one in unit]}"
        else:
            yield from _whole(unit, pending.pop())


def _whole(unit: list[Line], act: dict[str, Any]) -> Iterator[str]:
    """An act's lines are those of all its pieces, or there is half of it."""
    kinds = sorted(line.kind for line in unit)
    count = len(act["codes"])
    wanted = {
        "issue": [["decision", *["record"] * count], ["decision"]],
        "transfer": [sorted(["record", "piece"] * count)],
    }.get(act["try"], [["record"] * count])
    if kinds not in wanted:
        yield f"I2 half of {act}: {kinds}"
    if act["try"] == "issue" and len(unit) == 1 and unit[0].content["decision"] != "refused":
        yield f"I2 half of {act}: a decision to issue without its issues"
    if {line.subject for line in unit if line.kind == "record"} not in (set(), set(act["codes"])):
        yield f"I2 half of {act}: other pieces"


def _out(raw: sqlite3.Connection, made: Sequence[Line]) -> Iterator[str]:
    """What is out by the entries is what is kept as out, and no piece went out twice without coming back."""
    away: dict[str, tuple[str, int]] = {}
    for line in made:
        if line.kind != "record" or line.content["what"] not in ("issue", "return"):
            continue
        if line.content["what"] == "return":
            away.pop(line.subject, None)
            continue
        if line.subject in away:
            yield f"I5 {line.subject} went out by {line.book}:{line.number} while out by {away[line.subject]}"
        away[line.subject] = (line.content["of_in"], line.content["of_entry"])
    kept = {piece: (book, entry) for piece, book, entry in raw.execute("SELECT piece, book, entry FROM out_now")}
    for piece in sorted(kept.keys() | away.keys()):
        if kept.get(piece) != away.get(piece):
            yield f"I2 out_now of {piece} is {kept.get(piece)}, by its entries {away.get(piece)}"


def all_of(found: Iterable[tuple[object, list[str]]]) -> list[str]:
    """Problems with where they were found."""
    return [f"{where}: {one}" for where, ones in found for one in ones]
