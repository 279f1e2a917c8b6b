"""The second half of the short run, in a file of its own so that another worker takes it."""

from __future__ import annotations

import pytest

from tests.oracle.agreement import Tally
from tests.oracle.short_run import HALF, HalfOfTheShortRun, half


@pytest.fixture(scope="module")
def total() -> Tally:
    return half(HALF)


class TestSecondHalf(HalfOfTheShortRun):
    """Kits 10,000 to 19,999."""
