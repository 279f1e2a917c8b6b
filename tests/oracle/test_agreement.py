"""The first half of the short run, and the run over several processes held against one process."""

from __future__ import annotations

import pytest

from tests.oracle.agreement import Tally, compare, run
from tests.oracle.short_run import HalfOfTheShortRun, half


@pytest.fixture(scope="module")
def total() -> Tally:
    return half(0)


class TestFirstHalf(HalfOfTheShortRun):
    """Kits 0 to 9,999."""


def test_slices_over_several_processes_count_what_one_process_counts() -> None:
    assert run(7, 520) == compare(7, range(520))
