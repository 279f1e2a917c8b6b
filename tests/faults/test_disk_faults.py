"""The Nth call of an act fails: the act is wholly there, or the register is as it was and the true cause is named."""

from __future__ import annotations

import errno
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from tests.faults.checks import all_of, contents, copied, count_lines, parsed, problems
from tests.faults.shim import Fail, Shim, Sort

SORTS: tuple[Sort, ...] = ("open", "create", "write", "truncate", "fsync", "unlink", "close")
ERRORS = (errno.ENOSPC, errno.EIO, errno.EROFS)
_OPENING = {"store.cannot-open", "store.read-only", "store.disk-full", "store.disk-fault"}
#: what may be named; the database does not tell why a write or an open failed, only a full disk is told apart
RIGHT: Mapping[tuple[Sort, int], set[str]] = {
    ("write", errno.ENOSPC): {"store.disk-full"},
    ("write", errno.EIO): {"store.disk-fault"},
    ("write", errno.EROFS): {"store.disk-fault", "store.read-only"},
    **{("fsync", one): {"store.disk-fault"} for one in ERRORS},
    **{("truncate", one): {"store.disk-fault"} for one in ERRORS},
    **{("unlink", one): {"store.disk-fault"} for one in ERRORS},
    **{(sort, one): _OPENING for sort in ("open", "create", "close") for one in ERRORS},
}


def outcome(woken: Shim, made: Path, folder: Path, fault: Fail, *argv: str) -> tuple[str, list[str]]:
    """One act under one fault: what came of it, and what does not hold."""
    path = copied(made, folder)
    before, count = contents(path), count_lines(path)
    ran = woken.run([*argv[:-1], str(path), argv[-1]], folder, fault)
    told = parsed(ran.stdout)
    wrong = [] if ran.returncode == 0 and told else [f"I7 ends with {ran.returncode}: {ran.stderr[-800:]}"]
    wrong += problems(path, ran.stdout, count)
    troubles = [one["trouble"] for one in told if "trouble" in one]
    assert isinstance(fault.sort, str)
    right = RIGHT[fault.sort, fault.errno] if fault.errno else set()
    wrong += [f"I7 {key} is not the cause" for key in troubles if key not in right]
    if not ran.hits:
        return "not reached", wrong
    if not troubles:
        return "done all the same", wrong
    if contents(path) == before:
        return "as before", wrong
    return "told of trouble and wholly there", wrong


def faults(counts: Mapping[Sort, int], step: int) -> Iterator[Fail]:
    """Every sort, call, error and way, or every so many of them."""
    every = [
        fault
        for sort in SORTS
        for nth in range(1, counts[sort] + 1)
        for error in ERRORS
        for fault in _ways(sort, nth, error)
    ]
    yield from every[::step]


def _ways(sort: Sort, nth: int, error: int) -> Iterator[Fail]:
    yield Fail(sort, nth, error)
    yield Fail(sort, nth, error, sticky=True)
    if sort == "write":
        yield Fail(sort, nth, error, part=100)
        if error == errno.ENOSPC:
            yield Fail(sort, nth, part=1)
            yield Fail(sort, nth, error, sticky=True, part=100)


def swept(woken: Shim, made: Path, folder: Path, act: str, step: int) -> tuple[list[str], Counter[str]]:
    """Faults of one act one by one; answers what does not hold and what came of them."""
    path = copied(made, folder / "whole")
    counts = woken.count(["one", str(path), act], path.parent)
    found, seen = list[tuple[object, list[str]]](), Counter[str]()
    for number, fault in enumerate(faults(counts, step)):
        what, wrong = outcome(woken, made, folder / str(number), fault, "one", act)
        seen[what] += 1
        if what == "told of trouble and wholly there" and fault.sort != "fsync":
            wrong.append("I2 told of trouble, and the act is there")
        found.append((fault, wrong))
    return all_of(found), seen


def test_an_act_is_there_or_the_register_as_it_was(woken: Shim, made: Path, place: Path) -> None:
    """I2 I3 I4 I7."""
    found, seen = swept(woken, made, place, "issue", 23)
    assert found == []
    assert seen["as before"] > 15


@pytest.mark.long
@pytest.mark.parametrize(("act", "step"), [("issue", 1), ("transfer", 5), ("log", 5)])
def test_every_fault_of_every_call(act: str, step: int, woken: Shim, made: Path, place: Path) -> None:
    """I2 I3 I4 I7."""
    found, seen = swept(woken, made, place, act, step)
    assert found == []
    assert seen["as before"] > 40


def test_a_desk_works_on_after_trouble(woken: Shim, made: Path, place: Path) -> None:
    """I2 I3: what failed once is taken by the same desk when it is entered again."""
    for sort, nth in (("write", 5), ("write", 60), ("fsync", 1), ("fsync", 4), ("unlink", 1), ("create", 2)):
        path = copied(made, place / f"{sort}{nth}")
        ran = woken.run(["twice", str(path), "issue"], path.parent, Fail(sort, nth, errno.EIO))  # type: ignore[arg-type]
        told = [one for one in parsed(ran.stdout) if "try" not in one]
        assert ["trouble" in told[0], "done" in told[1]] == [True, True], (sort, nth, ran.stdout, ran.stderr)
        assert problems(path, ran.stdout, count_lines(made)) == []


def test_a_process_that_says_done_whatever_happened_is_found(woken: Shim, made: Path, place: Path) -> None:
    """The check of I1 can fail: where trouble is swallowed, acknowledged entries are missed."""
    path = copied(made, place)
    count = count_lines(path)
    ran = woken.run(["plant", "silent", "one", str(path), "issue"], place, Fail("write", 20, errno.EIO))
    assert any("I1" in one for one in problems(path, ran.stdout, count))
