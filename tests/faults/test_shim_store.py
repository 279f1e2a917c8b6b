"""The shim finds what it is for: SQLite as we set it loses nothing, set otherwise it does."""

from __future__ import annotations

import errno
import itertools
from collections import Counter
from pathlib import Path

import pytest

from tests.faults.disk import Files, lay, read
from tests.faults.programs import after, found, judged, store, told, units_kept
from tests.faults.shim import Fail, Fault, Kill, Ran, Shim, Sort, images, why_not

pytestmark = pytest.mark.skipif(bool(why_not()), reason=why_not() or "never")


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


def struck(shim: Shim, folder: Path, start: Files, fault: Fault) -> tuple[Ran, int, int | None]:
    """Two entries more, with a fault: how that ended, entries acknowledged and entries there after."""
    for path in folder.iterdir():
        path.unlink()
    lay(start, folder)
    ran = shim.run(store(2), folder, fault)
    assert ran.hits, "the fault was never reached"
    return ran, 2 + told(ran.stdout), units_kept(read(folder))


@pytest.fixture
def start(shim: Shim, folder: Path) -> Files:
    """Two entries."""
    assert shim.run(store(2), folder).returncode == 0
    return read(folder)


@pytest.fixture
def reach(shim: Shim, folder: Path, start: Files) -> dict[Sort, int]:
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
    code: int, sticky: bool, part: int, shim: Shim, folder: Path, start: Files, reach: dict[Sort, int],
    stride: int,
) -> None:  # fmt: skip
    for nth in range(1, reach["write"], stride):
        ran, acknowledged, kept = struck(shim, folder, start, Fail("write", nth, code, sticky=sticky, part=part))
        assert (ran.returncode, ran.stderr) == (3, WORDS[code]), nth
        assert kept == acknowledged, nth


def test_writes_that_fall_short_harm_nothing(shim: Shim, folder: Path, start: Files, reach: dict[Sort, int]) -> None:
    ran, acknowledged, kept = struck(shim, folder, start, Fail("write", 1, sticky=True, part=1000))
    assert (ran.returncode, acknowledged, kept) == (0, 4, 4)


@pytest.mark.parametrize("sort", ["fsync", "unlink", "create", "open"])
def test_another_call_that_fails_never_leaves_half_an_entry_or_loses_one(
    sort: Sort, shim: Shim, folder: Path, start: Files, reach: dict[Sort, int], stride: int
) -> None:
    ends = set()
    for nth, sticky in itertools.product(range(1, reach[sort] + 1), {False, stride == 1}):
        ran, acknowledged, kept = struck(shim, folder, start, Fail(sort, nth, errno.EIO, sticky=sticky))
        assert kept in (acknowledged, acknowledged + 1), nth
        ends.add((ran.returncode, ran.stderr))
    assert any(code == 3 and words.startswith("OperationalError") for code, words in ends)


def test_killed_at_any_call_no_entry_is_half_or_lost(
    shim: Shim, folder: Path, start: Files, reach: dict[Sort, int], stride: int
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
