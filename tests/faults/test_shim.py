"""The shim does what it says, and finds what it is for: SQLite as we set it loses nothing, set otherwise it does."""

from __future__ import annotations

import errno
import itertools
import platform
import sqlite3
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest

from tests.faults import shim as machinery
from tests.faults.shim import Fail, Fault, Image, Kill, NotLoaded, Recording, Shim, Sort, Unseen, images, lay, read

pytestmark = pytest.mark.skipif(bool(machinery.why_not()), reason=machinery.why_not() or "never")

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


@pytest.fixture(scope="module")
def shim(tmp_path_factory: pytest.TempPathFactory) -> Shim:
    return Shim.build(tmp_path_factory.mktemp("shim"))


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The watched folder, and where the programs run."""
    watched = tmp_path / "watched"
    watched.mkdir()
    monkeypatch.chdir(watched)
    return watched


def units_kept(files: machinery.Files) -> int | None:
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


def after(recording: Recording, calls: int) -> machinery.Files:
    """The folder as the log has it after a number of calls."""
    disk = machinery._Disk(recording.start)
    for event in recording.events:
        if event.call <= calls:
            disk.step(event)
    return disk.left(lambda: True)


# Counting, failing, falling short, killing


def test_every_call_in_the_folder_is_counted_and_none_outside(shim: Shim, folder: Path) -> None:
    assert shim.count(python(CALLS), folder) == EXPECTED
    assert read(folder) == {
        "sub/": b"",
        "sub/two": b"a" * 500 + b"b" * 500 + b"c" * 10 + b"d" * 10 + b"e" + b"b" * 179 + b"at the end",
    }


def test_a_folder_reached_through_a_link_is_the_same_folder(shim: Shim, folder: Path, tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to(folder)
    script = f"open({str(tmp_path / 'link' / 'made')!r}, 'w').write('x')"
    assert shim.count(python(script), tmp_path / "link")["create"] == 1
    (tmp_path / "watched-too").mkdir()
    assert not any(shim.count(python("open('../watched-too/made', 'w').write('x')"), folder).values())


@pytest.mark.parametrize("sort", EXPECTED)
def test_a_chosen_call_fails_as_chosen(sort: Sort, shim: Shim, folder: Path) -> None:
    ran = shim.run(python(CALLS), folder, Fail(sort, EXPECTED[sort], errno.EROFS))
    assert (ran.returncode, ran.hits, ran.counts[sort]) == (1, 1, EXPECTED[sort])
    assert ran.stderr.splitlines()[-1].startswith(f"OSError: [Errno {errno.EROFS}]")


def test_a_call_that_is_never_reached_strikes_nobody(shim: Shim, folder: Path) -> None:
    ran = shim.run(python(CALLS), folder, Fail("fsync", EXPECTED["fsync"] + 1, errno.EIO))
    assert (ran.returncode, ran.hits, ran.stdout) == (0, 0, "told\n")


@pytest.mark.parametrize(
    ("fault", "status"), [(lambda nth: Fail(None, nth, errno.EIO), 1), (lambda nth: Kill(None, nth), -9)]
)
def test_a_call_that_fails_or_kills_leaves_what_the_calls_before_it_made(
    fault: Callable[[int], Fault], status: int, shim: Shim, folder: Path, tmp_path: Path
) -> None:
    whole = shim.record(python(CALLS), folder)
    for nth in range(1, sum(EXPECTED.values()) + 1):
        place = tmp_path / f"{nth}"
        place.mkdir()
        ran = shim.run(python(f"import os; os.chdir({str(place)!r})\n{CALLS}"), place, fault(nth))
        assert (ran.hits, ran.returncode) == (1, status), nth
        assert read(place) == after(whole, nth - 1), nth


WRITES = """
import os
one = os.open("one", os.O_CREAT | os.O_WRONLY)
for _ in range(5):
    try: print(os.write(one, b"x" * 100))
    except OSError as error: print(-error.errno)
"""


@pytest.mark.parametrize(
    ("fault", "answers"),
    [
        (Fail("write", 3, 28), [100, 100, -28, 100, 100]),
        (Fail("write", 3, 28, sticky=True), [100, 100, -28, -28, -28]),
        (Fail("write", 3, part=10), [100, 100, 10, 100, 100]),
        (Fail("write", 3, part=10, sticky=True), [100, 100, 10, 10, 10]),
        (Fail("write", 3, part=1000), [100, 100, 99, 100, 100]),
        (Fail("write", 3, 5, part=10), [100, 100, 10, -5, 100]),
        (Fail("write", 3, 28, part=10, sticky=True), [100, 100, 10, -28, -28]),
        (Fail(("create", "write"), 3, 30), [100, -30, 100, 100, 100]),
        (Fail(None, 3, 30), [100, -30, 100, 100, 100]),
        (Fail(("fsync", "write"), 3, 30), [100, 100, -30, 100, 100]),
    ],
)
def test_writes_fail_once_or_from_then_on_or_fall_short(
    fault: Fail, answers: list[int], shim: Shim, folder: Path
) -> None:
    ran = shim.run(python(WRITES), folder, fault)
    assert [int(line) for line in ran.stdout.split()] == answers
    assert ran.hits == sum(answer != 100 for answer in answers)
    assert (folder / "one").stat().st_size == sum(answer for answer in answers if answer > 0)


def test_a_kill_may_come_within_a_write(shim: Shim, folder: Path) -> None:
    ran = shim.run(python(WRITES), folder, Kill("write", 3, part=10))
    assert (ran.returncode, (folder / "one").stat().st_size) == (-9, 210)


@pytest.mark.parametrize(
    "make",
    [
        lambda: Fail("write", 0, 5),
        lambda: Fail("write", 1),
        lambda: Fail("fsync", 1, 5, part=1),
        lambda: Fail(None, 1, part=1),
        lambda: Kill("write", 0),
        lambda: Kill("fsync", 1, part=1),
    ],
)
def test_a_fault_that_could_not_strike_is_refused(make: Callable[[], Fault]) -> None:
    with pytest.raises(ValueError, match="nth="):
        make()


def test_processes_share_the_count_and_one_killed_at_it_holds_up_no_other(shim: Shim, folder: Path) -> None:
    script = """
import subprocess, sys
write = "one = open('one', 'ab', 0); one.write(b'x'); one.write(b'y'); one.write(b'z')"
print([subprocess.run([sys.executable, "-I", "-S", "-c", write]).returncode for _ in range(3)])
"""
    assert shim.count(python(script), folder)["write"] == 9
    (folder / "one").unlink()
    ran = shim.run(python(script), folder, Kill("write", 5))
    assert (ran.stdout, ran.hits) == ("[0, -9, -9]\n", 2)
    assert read(folder) == {"one": b"xyzx"}


def test_a_program_without_the_shim_is_noticed(shim: Shim, folder: Path, tmp_path: Path) -> None:
    with pytest.raises(NotLoaded):
        Shim(tmp_path / "nowhere.so", tmp_path).run(python("pass"), folder)
    with pytest.raises(ValueError, match="watched"):
        Shim(shim.library, folder).run(python("pass"), folder)


# The log


def test_the_log_accounts_for_the_folder_with_processes_and_threads_at_once(shim: Shim, folder: Path) -> None:
    script = """
import os, threading
def work(name):
    one = os.open(name, os.O_CREAT | os.O_RDWR | os.O_APPEND)
    for n in range(50):
        os.write(one, name.encode() * 9)
        os.fsync(one)
        os.write(shared, b"+")
    os.rename(name, name + "-done")
children = []
shared = os.open("shared", os.O_CREAT | os.O_WRONLY | os.O_APPEND)
for p in "ab":
    if p == "b": shared = os.open("shared", os.O_WRONLY | os.O_APPEND)
    pid = os.fork()
    if pid: children.append(pid); continue
    threads = [threading.Thread(target=work, args=(p + t,)) for t in "01"]
    for thread in threads: thread.start()
    for thread in threads: thread.join()
    os._exit(0)
for pid in children: os.waitpid(pid, 0)
"""
    recording = shim.record(python(script), folder)
    assert (recording.ran.counts["write"], recording.ran.counts["fsync"]) == (400, 200)
    done = {f"{p}{t}-done": f"{p}{t}".encode() * 450 for p in "ab" for t in "01"}
    assert read(folder) == {**done, "shared": b"+" * 200}
    calls = [event.call for event in recording.events]
    assert calls == list(range(1, 1 + sum(recording.ran.counts.values())))


def test_copies_inside_the_kernel_are_seen_as_writes(shim: Shim, folder: Path, tmp_path: Path) -> None:
    (tmp_path / "from").write_bytes(bytes(range(256)) * 1000)
    shim.record(python("import shutil; shutil.copyfile('../from', 'to')"), folder)
    assert (folder / "to").read_bytes() == bytes(range(256)) * 1000


@pytest.mark.parametrize(
    "script",
    [
        "import mmap; one = open('old', 'r+b'); mmap.mmap(one.fileno(), 3)[0] = 120",
        "import os; os.rename('../stranger', 'old')",
        "import os; os.truncate('old', 1)",
        "import os, ctypes; ctypes.CDLL(None).syscall(87, b'old')",
    ],
    ids=["map", "moved in", "truncate by name", "system call"],
)  # 87: unlink on x86-64
def test_what_slips_past_the_shim_is_noticed(script: str, shim: Shim, folder: Path, tmp_path: Path) -> None:
    if "87" in script and platform.machine() != "x86_64":
        pytest.skip("the number of the system call is that of x86-64")
    (folder / "old").write_bytes(b"abc")
    (tmp_path / "stranger").write_bytes(b"strange")
    with pytest.raises(Unseen, match="old"):
        shim.record(python(script), folder)


def test_what_the_program_prints_stands_among_its_calls(shim: Shim, folder: Path) -> None:
    script = "import os; os.mkdir('a'); print('one', flush=True); os.mkdir('b'); print('two', flush=True)"
    given = list(images(shim.record(python(script), folder), seed=0, count=0))
    assert [(image.cut, image.said, *image.files) for image in given if image.how == "most"] == [
        (1, "", "a/"), (1, "one\n", "a/"), (2, "one\n", "a/", "b/"), (2, "one\ntwo\n", "a/", "b/"),
    ]  # fmt: skip


# What a disk may hold

# A file and its name on the disk, then one thing more.
BEGUN = """
import os
folder = os.open(".", os.O_RDONLY)
one = os.open("one", os.O_CREAT | os.O_RDWR)
os.write(one, b"A" * 4096)
os.fsync(one); os.fsync(folder)
print("begun", flush=True)
"""


def states(shim: Shim, folder: Path, more: str, fault: Fault = None) -> Iterator[Image]:
    recording = shim.record(python(BEGUN + more), folder, fault)
    assert recording.ran.returncode == 0, recording.ran.stderr
    return (image for image in images(recording, seed=1, count=400) if image.said)


def test_what_is_synced_is_there_whatever_the_cut(shim: Shim, folder: Path) -> None:
    assert [image.files for image in states(shim, folder, "")] == [{"one": b"A" * 4096}]
    last = [*states(shim, folder, "os.pwrite(one, b'B' * 4096, 0); os.fdatasync(one); print('end', flush=True)")]
    assert {image.files["one"] for image in last if "end" in image.said} == {b"B" * 4096}


def test_an_unsynced_write_is_lost_whole_or_torn_at_a_sector(shim: Shim, folder: Path) -> None:
    given = list(states(shim, folder, "os.pwrite(one, b'B' * 2000, 100)"))
    contents = {image.files["one"] for image in given}
    whole = b"A" * 100 + b"B" * 2000 + b"A" * 1996
    assert {image.files["one"] for image in given if image.how == "least"} == {b"A" * 4096}
    assert {image.files["one"] for image in given if image.how == "most"} == {whole}
    torn = {whole[:edge] + b"A" * (4096 - edge) for edge in (512, 1024, 1536, 2048)}
    torn |= {b"A" * edge + whole[edge:] for edge in (512, 1024, 1536, 2048)}
    assert contents == {b"A" * 4096, whole, *torn}


def test_of_two_unsynced_writes_either_may_be_lost_and_either_may_land_last(shim: Shim, folder: Path) -> None:
    more = "os.pwrite(one, b'B' * 20, 0); os.pwrite(one, b'C' * 20, 10); os.pwrite(one, b'D', 4200)"
    given = {image.files["one"] for image in states(shim, folder, more)}
    assert {content[:31] for content in given} == {
        b"A" * 31, b"B" * 20 + b"A" * 11, b"A" * 10 + b"C" * 20 + b"A", b"B" * 10 + b"C" * 20 + b"A",
        b"B" * 20 + b"C" * 10 + b"A",
    }  # fmt: skip
    assert {content[4096:] for content in given} == {b"", bytes(105), bytes(104) + b"D"}


@pytest.mark.parametrize(
    ("more", "may"),
    [
        ("os.open('two', os.O_CREAT)", {("one",), ("one", "two")}),
        ("os.unlink('one')", {("one",), ()}),
        ("os.rename('one', 'two')", {("one",), ("two",)}),
        ("os.mkdir('sub'); os.rename('one', 'sub/two')", {("one",), ("one", "sub/"), ("sub/", "sub/two"), ()}),
        ("os.unlink('one'); os.open('one', os.O_CREAT)", {("one",), ()}),
    ],
)
def test_names_stay_or_change_until_their_folder_is_synced(
    more: str, may: set[tuple[str, ...]], shim: Shim, folder: Path
) -> None:
    given = list(states(shim, folder, more))
    assert {tuple(sorted(image.files)) for image in given} == may
    assert all(image.files.get("two", b"A" * 4096) in (b"", b"A" * 4096) for image in given)
    for path in sorted(folder.rglob("*"), reverse=True):
        path.rmdir() if path.is_dir() else path.unlink()
    synced = (
        "\nos.fsync(folder)\nif os.path.isdir('sub'): os.fsync(os.open('sub', os.O_RDONLY))\nprint('end', flush=True)"
    )
    last = [image for image in states(shim, folder, more + synced) if "end" in image.said]
    end = tuple(sorted(read(folder)))
    assert {tuple(sorted(image.files)) for image in last} == {end}


def test_what_a_failed_fsync_should_have_written_is_doubtful_for_ever(shim: Shim, folder: Path) -> None:
    more = """
os.pwrite(one, b'B', 0)
try: os.fsync(one)
except OSError: pass
os.pwrite(one, b'C', 1); os.fsync(one)
print("end", flush=True)
"""
    last = [image.files["one"][:2] for image in states(shim, folder, more) if "end" in image.said]
    assert set(last) == {b"BC"}
    for path in folder.iterdir():
        path.unlink()
    failed = states(shim, folder, more, Fail("fsync", 3, errno.EIO))
    assert {image.files["one"][:2] for image in failed if "end" in image.said} == {b"BC", b"AC"}


def test_a_name_needs_the_fsync_of_its_own_folder_and_one_moved_that_of_both(shim: Shim, folder: Path) -> None:
    more = """
os.mkdir("sub"); os.fsync(folder)
sub = os.open("sub", os.O_RDONLY)
os.rename("one", "sub/two"); os.open("three", os.O_CREAT); os.fsync(sub)
print("end", flush=True)
"""
    last = {tuple(sorted(image.files)) for image in states(shim, folder, more) if "end" in image.said}
    assert last == {
        ("one", "sub/"), ("one", "sub/", "three"), ("sub/", "sub/two"), ("sub/", "sub/two", "three"),
    }  # fmt: skip


@pytest.mark.parametrize(
    ("nth", "may"), [(4, {("one", "sub/", "two")}), (5, {("one", "sub/"), ("one", "sub/", "two")})]
)
def test_a_name_whose_folder_failed_to_sync_is_doubtful_for_ever(
    nth: int, may: set[tuple[str, ...]], shim: Shim, folder: Path
) -> None:
    more = """
os.mkdir("sub"); os.fsync(folder)
os.open("two", os.O_CREAT)
for each in (os.open("sub", os.O_RDONLY), folder):
    try: os.fsync(each)
    except OSError: pass
os.fsync(folder)
print("end", flush=True)
"""
    failed = states(shim, folder, more, Fail("fsync", nth, errno.EIO))
    assert {tuple(sorted(image.files)) for image in failed if "end" in image.said} == may


def test_the_same_seed_gives_the_same_states_and_none_twice(shim: Shim, folder: Path) -> None:
    recording = shim.record(store(2, "OFF"), folder)
    given = list(images(recording, seed=1, count=200))
    assert given == list(images(recording, seed=1, count=200)) != list(images(recording, seed=2, count=200))
    assert len({(image.said, *image.files.items()) for image in given}) == len(given)


def test_an_image_is_laid_as_it_was_read_and_never_over_something(folder: Path, tmp_path: Path) -> None:
    files = {"one": b"1", "sub/": b"", "sub/two": b"2", "empty/": b""}
    assert read(lay(files, tmp_path / "laid")) == files
    with pytest.raises(FileExistsError):
        lay(files, tmp_path / "laid")


# SQLite upon it


def test_as_we_set_it_no_cut_loses_or_halves_an_acknowledged_entry(shim: Shim, folder: Path) -> None:
    recording = shim.record(store(4), folder)
    verdicts = found(recording, seed=1, count=400)
    assert set(verdicts) == {"kept"}
    assert verdicts["kept"] > 150


@pytest.mark.parametrize(
    ("argv", "finds"),
    [
        (store(4, "OFF"), {"lost", "half"}),  # nothing is synced
        (store(4, "FULL"), {"lost"}),  # the unlink of the journal is not: it may come back
        (store(4, order="early"), {"lost"}),  # said before it was so
    ],
    ids=["synchronous=OFF", "synchronous=FULL", "acknowledged early"],
)
def test_set_otherwise_a_cut_is_found_that_breaks_it(
    argv: list[str], finds: set[str], shim: Shim, folder: Path
) -> None:
    verdicts = found(shim.record(argv, folder), seed=1, count=200)
    assert finds <= set(verdicts) <= {"kept", *finds}


def struck(shim: Shim, folder: Path, start: machinery.Files, fault: Fault) -> tuple[machinery.Ran, int, int | None]:
    """Two entries more, with a fault: how that ended, entries acknowledged and entries there after."""
    for path in folder.iterdir():
        path.unlink()
    lay(start, folder)
    ran = shim.run(store(2), folder, fault)
    assert ran.hits, "the fault was never reached"
    return ran, 2 + told(ran.stdout), units_kept(read(folder))


@pytest.fixture
def start(shim: Shim, folder: Path) -> machinery.Files:
    """Two entries."""
    assert shim.run(store(2), folder).returncode == 0
    return read(folder)


@pytest.fixture
def reach(shim: Shim, folder: Path, start: machinery.Files) -> dict[Sort, int]:
    """How big N can get for two entries more."""
    counts = dict(shim.count(store(2), folder))
    assert counts["write"] > 20
    return counts


@pytest.fixture
def stride(request: pytest.FixtureRequest) -> int:
    """The long run takes every N, the short one every seventh."""
    return 1 if request.config.getoption("--long") else 7


WORDS = {
    errno.ENOSPC: "OperationalError database or disk is full\n",
    errno.EIO: "OperationalError disk I/O error\n",
}


@pytest.mark.parametrize("part", [0, 5])
@pytest.mark.parametrize("sticky", [False, True])
@pytest.mark.parametrize("code", WORDS)
def test_a_write_that_fails_is_told_and_leaves_the_old_content(
    code: int, sticky: bool, part: int, shim: Shim, folder: Path, start: machinery.Files, reach: dict[Sort, int],
    stride: int,
) -> None:  # fmt: skip
    for nth in range(1, reach["write"], stride):
        ran, acknowledged, kept = struck(shim, folder, start, Fail("write", nth, code, sticky=sticky, part=part))
        assert (ran.returncode, ran.stderr) == (3, WORDS[code]), nth
        assert kept == acknowledged, nth


def test_writes_that_fall_short_harm_nothing(
    shim: Shim, folder: Path, start: machinery.Files, reach: dict[Sort, int]
) -> None:
    ran, acknowledged, kept = struck(shim, folder, start, Fail("write", 1, sticky=True, part=1000))
    assert (ran.returncode, acknowledged, kept) == (0, 4, 4)


@pytest.mark.parametrize("sort", ["fsync", "unlink", "create", "open"])
def test_another_call_that_fails_never_leaves_half_an_entry_or_loses_one(
    sort: Sort, shim: Shim, folder: Path, start: machinery.Files, reach: dict[Sort, int], stride: int
) -> None:
    ends = set()
    for nth, sticky in itertools.product(range(1, reach[sort] + 1), {False, stride == 1}):
        ran, acknowledged, kept = struck(shim, folder, start, Fail(sort, nth, errno.EIO, sticky=sticky))
        assert kept in (acknowledged, acknowledged + 1), nth
        ends.add((ran.returncode, ran.stderr))
    assert any(code == 3 and words.startswith("OperationalError") for code, words in ends)


def test_killed_at_any_call_no_entry_is_half_or_lost(
    shim: Shim, folder: Path, start: machinery.Files, reach: dict[Sort, int], stride: int
) -> None:
    for nth in range(1, sum(reach.values()) + 1, stride):
        ran, acknowledged, kept = struck(shim, folder, start, Kill(None, nth))
        assert ran.returncode == -9
        assert kept in (acknowledged, acknowledged + 1), nth
    for nth in range(1, reach["write"] + 1, stride):
        _, acknowledged, kept = struck(shim, folder, start, Kill("write", nth, part=700))
        assert kept == acknowledged, nth


@pytest.mark.long
@pytest.mark.parametrize("cache_pages", [-2000, 3])
@pytest.mark.parametrize("seed", range(5))
def test_long_many_cuts(seed: int, cache_pages: int, shim: Shim, folder: Path) -> None:
    """A small cache writes to the file before the commit, with more than one sync of the journal."""
    verdicts = found(shim.record(store(8, cache_pages=cache_pages), folder), seed, count=3000)
    assert set(verdicts) == {"kept"}


@pytest.mark.long
def test_long_a_cut_after_a_failed_fsync(shim: Shim, folder: Path) -> None:
    """SQLite survives every fsync whose failure it reports. It does not look at one: of the folder, for the journal's
    name. Should that fail unnoticed and the power go as well, the journal may be missing when it is needed.
    """
    unreported = Counter[str]()
    for nth in range(1, 21):  # of the 20 of three entries from nothing
        for path in folder.iterdir():
            path.unlink()
        recording = shim.record(store(3), folder, Fail("fsync", nth, errno.EIO))
        failed = next(event for event in recording.events if event.err)
        verdicts = Counter(judged(image) for image in images(recording, seed=nth, count=400))
        if recording.ran.returncode:
            assert set(verdicts) == {"kept"}, nth
        else:
            assert (failed.what, "kept.sqlite-journal" in after(recording, failed.call)) == ("d", True), nth
            unreported += verdicts
    assert set(unreported) == {"kept", "lost", "half"}
