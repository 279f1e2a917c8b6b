"""What a history says of a test is what was stated, and no pass where nobody stated one."""

from __future__ import annotations

from datetime import date

import pytest

from app.decision.domain.calendar import Day
from app.decision.domain.entries import Entry, Name
from app.decision.domain.record import ElectricalTest
from app.outputs.documents.entry_words import record_words


@pytest.mark.parametrize(
    ("result", "says"),
    [("passed", "stated pass without test values"), (None, "no result and no test values"), ("failed", "")],
)
def test_a_pass_is_stated_only_where_somebody_stated_it(result: str | None, says: str) -> None:
    test = ElectricalTest(on=Day.of(date(2026, 3, 2)), evidence="stated-pass", result=result)
    words = " ".join(record_words(Entry(name=Name("main", 1), record=test), {}, {}))
    assert ("test values" in words) == bool(says)
    assert says in words
