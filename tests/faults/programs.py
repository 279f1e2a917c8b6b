"""Small programs for the tests of the shim, and what must be left of what they did."""

from __future__ import annotations

import sqlite3
import sys
import tempfile
from collections import Counter
from contextlib import closing
from pathlib import Path

from tests.faults.disk import Disk, Files, Image, lay
from tests.faults.shim import Recording, Sort, images

# Every sort of call, through the names Python reaches; the last lines are none of the folder's business.
CALLS = """
import os
folder = os.open(".", os.O_RDONLY)
one = os.open("one", os.O_CREAT | os.O_RDWR)
os.write(one, b"a" * 1000)
os.pwrite(one, b"b" * 1000, 500)
os.writev(one, [b"c" * 10, b"d" * 10])
again = os.dup(one)
os.write(again, b"e")
os.ftruncate(one, 1200)
os.fsync(one); os.fdatasync(one); os.fsync(folder)
os.mkdir("sub")
os.rename("one", "sub/two")
os.mkdir("sub/gone"); os.rmdir("sub/gone")
os.close(os.open("here", os.O_CREAT | os.O_WRONLY, dir_fd=os.open("sub", os.O_RDONLY)))
with open("sub/two", "ab", 0) as two: two.write(b"at the end")
with open("text", "wb", 0) as text: text.write(b"first")
with open("text", "wb", 0) as text: text.write(b"other")
os.unlink("text")
os.unlink("here", dir_fd=os.open("sub", os.O_RDONLY))
print("told")
with open("../outside", "w") as outside: outside.write("x")
os.unlink("../outside")
"""
EXPECTED: dict[Sort, int] = {
    "open": 5, "create": 3, "write": 7, "truncate": 1, "fsync": 3, "unlink": 2, "rename": 1, "mkdir": 2, "rmdir": 1,
    "close": 4,
}  # fmt: skip

# One more entry each, over several pages, with all older ones touched, so that a half of it shows.
STORE = """
import sqlite3, sys
sync, units, cache_pages, order = sys.argv[1:]
kept = sqlite3.connect("kept.sqlite", isolation_level=None)
try:
    for setting in ("journal_mode=DELETE", "synchronous=" + sync, "cache_size=" + cache_pages):
        kept.execute("PRAGMA " + setting).fetchall()
    kept.execute("BEGIN IMMEDIATE")
    if not kept.execute("SELECT 1 FROM sqlite_master").fetchall():
        kept.execute("CREATE TABLE tally (n INTEGER)")
        kept.execute("CREATE TABLE part (unit INTEGER, part INTEGER, seen INTEGER, body TEXT)")
        kept.execute("INSERT INTO tally VALUES (0)")
    kept.execute("COMMIT")
    first = kept.execute("SELECT n FROM tally").fetchone()[0]
    for unit in range(first, first + int(units)):
        kept.execute("BEGIN IMMEDIATE")
        for part in range(4):
            kept.execute("INSERT INTO part VALUES (?, ?, 0, ?)", (unit, part, str(unit) * 1500))
        kept.execute("UPDATE part SET seen = ?", (unit + 1,))
        kept.execute("UPDATE tally SET n = n + 1")
        if order == "early": print(unit, flush=True)
        kept.execute("COMMIT")
        if order != "early": print(unit, flush=True)
except sqlite3.OperationalError as error:
    print(type(error).__name__, error, file=sys.stderr)
    sys.exit(3)
"""


def python(source: str, *args: str) -> list[str]:
    return [sys.executable, "-I", "-S", "-c", source, *args]


def store(units: int, sync: str = "EXTRA", *, cache_pages: int = -2000, order: str = "late") -> list[str]:
    return python(STORE, sync, str(units), str(cache_pages), order)


def units_kept(files: Files) -> int | None:
    """Whole entries that SQLite finds after putting itself right; None for half an entry or a damaged file."""
    with tempfile.TemporaryDirectory() as place:
        lay(files, Path(place))
        with closing(sqlite3.connect(Path(place) / "kept.sqlite")) as kept:
            try:
                kept.execute("PRAGMA synchronous=OFF")  # this copy need not outlive anything
                if kept.execute("PRAGMA integrity_check").fetchall() != [("ok",)]:
                    return None
                if not kept.execute("SELECT 1 FROM sqlite_master").fetchall():
                    return 0
                tally = kept.execute("SELECT n FROM tally").fetchall()
                rows = kept.execute("SELECT unit, part, seen, body FROM part ORDER BY 1, 2").fetchall()
            except sqlite3.DatabaseError:
                return None
    n = tally[0][0] if len(tally) == 1 else None
    if not isinstance(n, int):
        return None
    return n if rows == [(unit, part, n, str(unit) * 1500) for unit in range(n) for part in range(4)] else None


def told(said: str) -> int:
    """Entries acknowledged: lines that were printed whole."""
    return said.count("\n")


def judged(image: Image) -> str:
    """What became of the acknowledged entries (the recordings start from an empty folder)."""
    kept = units_kept(image.files)
    if kept is None:
        return "half"
    if kept > told(image.said) + 1:
        return "ahead"
    return "kept" if kept >= told(image.said) else "lost"


def found(recording: Recording, seed: int, count: int) -> Counter[str]:
    assert recording.ran.returncode == 0, recording.ran.stderr
    return Counter(judged(image) for image in images(recording, seed=seed, count=count))


def after(recording: Recording, calls: int) -> Files:
    """The folder as the log has it after a number of calls."""
    disk = Disk(recording.start)
    for event in recording.events:
        if event.call <= calls:
            disk.step(event)
    return disk.left(lambda: True)
