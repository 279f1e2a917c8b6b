"""Files that are no register, cannot be read, or belong to somebody else just now: refused as they are, with the cause."""

from __future__ import annotations

import os
import sqlite3
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import UTC
from pathlib import Path
from typing import Any

import pytest

from app.decision.domain.errors import CuffdateError
from app.register import engine, sqlite
from app.register.engine import look_at, open_store
from app.register.locks import FileLock
from app.register.migrate import migrate
from app.usecases.desk import Desk
from tests.fakes import FixedClock
from tests.faults.acts import LATER, Worker, one_act, silently
from tests.faults.checks import contents, copied, count_lines, parsed, problems
from tests.faults.forks import Forks, Running

SOMEBODY = 65534


def refusal(path: Path) -> tuple[str, dict[str, object]]:
    """The key with which a register is not opened, and the values beside it."""
    with pytest.raises(CuffdateError) as refused:
        Desk(open_store(path), FixedClock(), UTC)
    assert refused.value.thing
    assert str(path) in refused.value.file
    return refused.value.key, refused.value.values


def stranger(path: Path) -> None:
    with closing(sqlite3.connect(path)) as raw:
        raw.execute("CREATE TABLE song (name TEXT)")
        raw.execute("PRAGMA user_version=1")
        raw.commit()


def text(path: Path) -> None:
    path.write_text("code,kind\nG1,rubber-gloves\n" * 200, encoding="utf-8")


def nearly(path: Path) -> None:
    """Begins as a database does, and goes on as nothing does."""
    path.write_bytes(b"SQLite format 3\0" + b"\xff" * 5000)


def empty(path: Path) -> None:
    path.touch()


def folder(path: Path) -> None:
    path.mkdir()


def socket_or_pipe(path: Path) -> None:
    if not hasattr(os, "mkfifo"):
        pytest.skip("no named pipes here")
    os.mkfifo(path)


def nothing(path: Path) -> None:
    del path


def dangling(path: Path) -> None:
    path.symlink_to("nowhere")


NOT_OURS: dict[Callable[[Path], None], str] = {
    stranger: "store.foreign", text: "store.foreign", nearly: "store.foreign", empty: "store.empty",
    folder: "store.not-a-file", socket_or_pipe: "store.not-a-file", nothing: "store.not-found",
    dangling: "store.not-found",
}  # fmt: skip


@contextmanager
def untouched(path: Path) -> Iterator[None]:
    """I8: nothing of it, and nothing beside it, is another afterwards."""
    before = _seen(path)
    yield
    assert _seen(path) == before


def _seen(path: Path) -> dict[str, object]:
    return {
        one.name: (one.read_bytes(), one.stat().st_mtime_ns) if one.is_file() else one.is_symlink()
        for one in path.parent.iterdir()
        if one.name != f"{path.name}.lock"
    }


@pytest.mark.parametrize("make", NOT_OURS, ids=lambda make: make.__name__)
def test_what_is_no_register_is_refused_as_it_is(make: Callable[[Path], None], forks: Forks, place: Path) -> None:
    """I7 I8: within a moment, too; a pipe would keep whoever opens it waiting for ever."""
    path = place / "r.cuffdate"
    make(path)
    with untouched(path):
        ran = forks.run(["open", str(path)], timeout_s=10)
        assert [one.get("trouble") for one in parsed(ran.stdout)] == [NOT_OURS[make]], ran.stderr
        with pytest.raises(CuffdateError) as refused:
            migrate(path)
        assert refused.value.key == NOT_OURS[make]
    assert not path.with_name("r.cuffdate.lock").exists()


def cut_to(share: float) -> Callable[[bytearray], None]:
    def cut(content: bytearray) -> None:
        del content[int(len(content) * share) :]

    return cut


def no_header(content: bytearray) -> None:
    content[:100] = bytes(100)


def first_page_gone(content: bytearray) -> None:
    content[:4096] = bytes(4096)


def schema_gone(content: bytearray) -> None:
    content[100:4096] = bytes(3996)


def other_page_size(content: bytearray) -> None:
    content[16:18] = (8192).to_bytes(2, "big")


@pytest.mark.parametrize(
    ("spoil", "key"),
    [
        (cut_to(0.5), "store.damaged"),
        (cut_to(0.9), "store.damaged"),
        (cut_to(0.001), "store.damaged"),
        (no_header, "store.foreign"),
        (first_page_gone, "store.foreign"),
        (schema_gone, "store.damaged"),
        (other_page_size, "store.damaged"),
    ],
)
def test_a_spoiled_register_is_refused_as_it_is(
    spoil: Callable[[bytearray], None], key: str, made: Path, place: Path
) -> None:
    """I3 I6 I7 I8."""
    path = copied(made, place)
    content = bytearray(path.read_bytes())
    spoil(content)
    path.write_bytes(content)
    with untouched(path):
        assert refusal(path)[0] == key


def test_a_newer_register_is_refused_with_both_versions(made: Path, place: Path) -> None:
    """I7 I8."""
    path = copied(made, place)
    with closing(sqlite3.connect(path)) as raw:
        raw.execute("PRAGMA user_version=7")
    with untouched(path):
        key, values = refusal(path)
    assert (key, values["found"], values["known"]) == ("store.newer", "7", str(engine.SCHEMA))


def test_a_name_no_system_takes_is_refused(place: Path) -> None:
    """I7."""
    with pytest.raises(CuffdateError) as refused:
        look_at(place / ("n" * 300))
    assert refused.value.key in ("store.cannot-open", "store.not-found")


def test_a_name_of_any_letters_is_a_name(made: Path, place: Path) -> None:
    path = copied(made, place / "Größe % 100 ?#", "ре́гистр ?mode=memory#é.cuffdate")
    worker = Worker(path, FixedClock(LATER), tell=silently)
    assert worker.do(one_act(worker, "issue")) == "done"
    worker.desk.store.close()
    assert problems(path, "", count_lines(path)) == []


# Rights


def told_as_somebody(forks: Forks, *argv: str) -> list[dict[str, Any]]:
    """What happens to a user who owns nothing here; to ourselves where we are no administrator."""
    user = SOMEBODY if os.getuid() == 0 else None
    ran = forks.start(list(argv), user=user).wait()
    assert ran.returncode == 0, ran.stderr
    return [one for one in parsed(ran.stdout) if "try" not in one]


@pytest.fixture
def shown(made: Path, place: Path) -> Iterator[Path]:
    """A register whose file and folder somebody else may read and write."""
    if sys.platform == "win32":
        pytest.skip("rights of files are another matter here")
    inner = place / "shown"
    path = copied(made, inner)
    for one, rights in ((place, 0o755), (inner, 0o777), (path, 0o666)):
        one.chmod(rights)
    yield path
    inner.chmod(0o755)


@pytest.mark.parametrize(
    ("file", "inner"), [(0o444, 0o777), (0o666, 0o555), (0o444, 0o555)], ids=["file", "folder", "both"]
)
def test_what_cannot_be_written_is_read_and_not_written(file: int, inner: int, shown: Path, forks: Forks) -> None:
    """I7 I8."""
    shown.chmod(file)
    shown.parent.chmod(inner)
    with untouched(shown):
        assert told_as_somebody(forks, "open", str(shown)) == [{"done": [], "act": "open", "is_read_only": True}]
        assert [one["trouble"] for one in told_as_somebody(forks, "one", str(shown), "issue")] == ["store.read-only"]


def test_what_may_be_written_is_written(shown: Path, forks: Forks) -> None:
    """The two above refuse because of the rights and of nothing else."""
    assert [one["act"] for one in told_as_somebody(forks, "one", str(shown), "issue") if one["done"]] == ["issue"]


def test_what_cannot_be_read_is_refused(shown: Path, forks: Forks) -> None:
    """I7 I8: the file, and the way to it."""
    shown.chmod(0)
    assert [one.get("trouble") for one in told_as_somebody(forks, "open", str(shown))] == ["store.cannot-open"]
    shown.chmod(0o666)
    shown.parent.chmod(0)
    try:
        assert [one.get("trouble") for one in told_as_somebody(forks, "open", str(shown))] == ["store.cannot-open"]
    finally:
        shown.parent.chmod(0o755)


def test_a_folder_that_cannot_be_written_gets_no_register(shown: Path, forks: Forks) -> None:
    """I7."""
    shown.parent.chmod(0o555)
    target = shown.with_name("other.cuffdate")
    (told,) = told_as_somebody(forks, "create", str(target))
    assert told["trouble"] in ("store.cannot-open", "store.read-only", "store.folder-read-only")
    assert [one.name for one in shown.parent.iterdir()] == [shown.name]


def test_a_write_cut_short_that_cannot_be_taken_back_is_refused(shown: Path, forks: Forks) -> None:
    """I3 I6: half of an act is never shown, not even to somebody who may only read."""
    left = forks.start(["half", str(shown)])
    _wait_for(left)
    left.kill()
    left.wait()
    assert shown.with_name(f"{shown.name}-journal").stat().st_size > 0
    shown.chmod(0o444)
    shown.parent.chmod(0o555)
    with untouched(shown):
        (told,) = told_as_somebody(forks, "open", str(shown))
    assert told["trouble"] in ("store.read-only", "store.cannot-open")


def test_a_write_cut_short_while_the_file_grew_is_taken_back(forks: Forks, made: Path, place: Path) -> None:
    """I2 I3: the file says it is longer than it is, and is no damaged one for that."""
    path = copied(made, place)
    before = contents(path)
    left = forks.start(["half", str(path)])
    _wait_for(left)
    left.kill()
    left.wait()
    content = bytearray(path.read_bytes())
    content[28:32] = (len(content) // 4096 + 1000).to_bytes(4, "big")
    path.write_bytes(content)
    assert look_at(path) == engine.SCHEMA
    open_store(path).close()
    assert contents(path) == before


# Others


def _wait_for(running: Running) -> None:
    end = time.monotonic() + 20
    while not running.said() and time.monotonic() < end:
        time.sleep(0.002)
    assert running.said()


@contextmanager
def somebody(forks: Forks, what: str, path: Path) -> Iterator[None]:
    """Another process that has the register in its own way, until it is killed."""
    running = forks.start([what, str(path)])
    try:
        _wait_for(running)
        yield
    finally:
        running.kill()
        running.wait()


def test_a_register_somebody_writes_to_is_busy(
    forks: Forks, made: Path, place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """I7 I8: after the time we wait, and as if nothing had been once the other is gone."""
    path = copied(made, place)
    monkeypatch.setattr(sqlite, "WAIT_MS", 100)
    worker = Worker(path, FixedClock(LATER), tell=silently)
    act = one_act(worker, "issue")
    before = contents(path)
    with somebody(forks, "exclusive", path):
        assert worker.do(act) == "store.busy"
        assert refusal(path)[0] == "store.busy"
    assert contents(path) == before
    assert worker.do(act) == "done"
    worker.desk.store.close()


def test_a_register_being_rebuilt_is_not_opened(forks: Forks, made: Path, place: Path) -> None:
    """I7 I8: until whoever rebuilds it has ended, by whatever end."""
    path = copied(made, place)
    with somebody(forks, "rebuild", path), untouched(path):
        assert refusal(path)[0] == "store.being-rebuilt"
    open_store(path).close()


def test_a_register_others_have_open_is_not_rebuilt(forks: Forks, made: Path, place: Path) -> None:
    """I7: by whatever name it was opened."""
    path = copied(made, place / "real")
    link = place / "link.cuffdate"
    link.symlink_to(path)
    with somebody(forks, "keep", link):
        for name in (path, link):
            with pytest.raises(CuffdateError) as refused:
                FileLock(name, alone=True)
            assert refused.value.key == "store.in-use"
        open_store(path).close()
    FileLock(path, alone=True).close()


def _garbage(lock: Path) -> None:
    lock.write_bytes(b"\x00\xff pid 99999999 \n" * 50)


def _pipe(lock: Path) -> None:
    if not hasattr(os, "mkfifo"):
        pytest.skip("no named pipes here")
    os.mkfifo(lock)


@pytest.mark.parametrize("make", [_garbage, _pipe, Path.mkdir], ids=["garbage", "pipe", "folder"])
def test_a_strange_lock_file_stops_nobody_from_reading(
    make: Callable[[Path], None], forks: Forks, made: Path, place: Path
) -> None:
    """I7: what stands in it means nothing, and nobody waits for it."""
    path = copied(made, place)
    make(path.with_name(f"{path.name}.lock"))
    ran = forks.run(["open", str(path)], timeout_s=10)
    assert [one.get("act") for one in parsed(ran.stdout) if "done" in one] == ["open"], ran.stderr
    assert contents(path) == contents(made)
