"""The shim does what it says: calls that are counted, fail, fall short or kill, and a log that accounts for all."""

from __future__ import annotations

import errno
import platform
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.faults.disk import read
from tests.faults.programs import CALLS, EXPECTED, after, python
from tests.faults.shim import Fail, Fault, Kill, NotLoaded, Shim, Sort, Unseen, images, why_not

pytestmark = pytest.mark.skipif(bool(why_not()), reason=why_not() or "never")


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
        Shim(shim.preloaded, folder).run(python("pass"), folder)


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
