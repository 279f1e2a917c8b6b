"""A disk that fills up, memory that runs out: said so, nothing half written, and taken again once there is room."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from app.compose import write_file
from app.decision.domain.errors import BadInput, StoreTrouble
from app.register.backup import copy_of
from tests.fakes import FixedClock
from tests.faults.acts import LATER, Worker, one_act, silently
from tests.faults.checks import contents, copied, count_lines, parsed, problems
from tests.faults.forks import Forks

KIB = 1024


class Room:
    """A small file system in memory. `leave(n)`: n bytes are free from now on."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def resize(self, size: int) -> None:
        subprocess.run(["mount", "-o", f"remount,size={size}", str(self.folder)], check=True)

    def leave(self, free: int) -> None:
        about = os.statvfs(self.folder)
        self.resize((about.f_blocks - about.f_bfree) * about.f_frsize + free)


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Room]:
    folder = tmp_path / "room"
    folder.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=64m", "tmpfs", str(folder)]
    if sys.platform != "linux" or subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("no small file system can be mounted here")
    try:
        yield Room(folder)
    finally:
        subprocess.run(["umount", "-l", str(folder)], check=True)


def quiet(path: Path) -> Worker:
    return Worker(path, FixedClock(LATER), tell=silently)


@pytest.mark.parametrize("free", [0, 4 * KIB, 16 * KIB, 64 * KIB])
def test_an_act_on_a_full_disk_is_refused_and_taken_once_there_is_room(free: int, room: Room, made: Path) -> None:
    """I2 I3 I7."""
    path = copied(made, room.folder)
    before = contents(path)
    worker = quiet(path)
    act = one_act(worker, "issue")
    room.leave(free)
    assert worker.do(act) == "store.disk-full"
    assert contents(path) == before
    room.resize(64 * KIB * KIB)
    assert worker.do(act) == "done"
    worker.desk.store.close()
    assert problems(path, "", count_lines(path)) == []


def test_a_copy_on_a_full_disk_leaves_nothing_behind(room: Room, made: Path) -> None:
    """I7 I8."""
    path = copied(made, room.folder)
    room.leave(32 * KIB)
    with pytest.raises(StoreTrouble) as refused:
        copy_of(path, "before-migration")
    assert refused.value.key in ("store.disk-full", "store.copy-failed")
    assert [one.name for one in room.folder.iterdir()] == [path.name]
    assert path.read_bytes() == made.read_bytes()


def test_an_export_on_a_full_disk_leaves_the_one_before_it(room: Room) -> None:
    """I2 I7."""
    target = room.folder / "list.csv"
    write_file(target, "what was there before\n")
    room.leave(8 * KIB)
    with pytest.raises(BadInput) as refused:
        write_file(target, "x" * 200_000)
    assert refused.value.key == "file.not-written"
    assert target.read_text(encoding="utf-8") == "what was there before\n"
    assert [one.name for one in room.folder.iterdir()] == ["list.csv"]


def pages_taken(path: Path) -> int:
    """How many pages an issue adds to this register."""
    worker = quiet(path)
    count = worker.desk.store._connection.exec_driver_sql
    before = int(count("PRAGMA page_count").scalar_one())
    assert worker.do(one_act(worker, "issue")) == "done"
    after = int(count("PRAGMA page_count").scalar_one())
    worker.desk.store.close()
    return after - before


def test_a_register_at_the_most_pages_it_may_have(made: Path, place: Path) -> None:
    """I2 I3 I7: full in the middle of any act, at each page but the last it takes."""
    taken = pages_taken(copied(made, place / "room"))
    assert taken >= 2
    path = copied(made, place)
    worker = quiet(path)
    ask = worker.desk.store._connection.exec_driver_sql
    pages = int(ask("PRAGMA page_count").scalar_one())
    act = one_act(worker, "issue")
    for more in range(taken):
        before = contents(path)
        ask(f"PRAGMA max_page_count={pages + more}").scalar_one()
        assert worker.do(act) == "store.disk-full"
        assert contents(path) == before
    ask("PRAGMA max_page_count=1000000").scalar_one()
    assert worker.do(act) == "done"
    worker.desk.store.close()
    assert problems(path, "", count_lines(path)) == []


def test_an_act_without_memory_is_refused(forks: Forks, made: Path, place: Path) -> None:
    """I2 I3 I7: in a process of its own, because the limit is the process's."""
    path = copied(made, place)
    before = contents(path)
    ran = forks.run(["starve", str(path), "issue"])
    assert ran.returncode == 0, ran.stderr
    told = [one for one in parsed(ran.stdout) if "try" not in one]
    if told[0].get("done"):
        pytest.skip("this build of the database keeps no count of its memory")
    assert [one.get("trouble") for one in told] == ["store.no-memory", None]
    assert contents(path) != before
    assert problems(path, ran.stdout, count_lines(made)) == []
