"""Records for and against: what is taken away or added never improves an outcome."""

from __future__ import annotations

from copy import deepcopy

from hypothesis import assume, given
from hypothesis import strategies as st

from app.decision.domain.finding import Finding
from tests.properties.drawn import (
    OUTSIDER,
    Key,
    Table,
    by_subject,
    decide,
    improved,
    kits,
    proven,
    repairs,
    speaking_against,
    speaking_for,
    without,
)

_FOR_LIKE = {"calibration", "self-test", "electrical-test"}


def speaks_for(piece: Table, record: Table) -> bool:
    """Whether a record speaks for its piece and for nothing else.

    Of a tip or a detector nobody stated caps of, a look at the caps also tells that there are some: from then on they
    have to be looked at. Of loose leads that is known anyway.
    """
    what = record["what"]
    if what in _FOR_LIKE:
        return bool(record.get("result") == "passed") and not _has_currents(record)
    if what == "air-test":
        both = bool(record.get("left") == record.get("right") == "passed")
        return both and not record.get("defects") and bool(record.get("inflation", 9) <= 1.25)
    if what == "inspection":
        plain = not record.get("defects") and record.get("jack") != "current"
        tells_of_caps = "caps" in record and not (piece["kind"] == "test-leads" and record["caps"] == "present")
        return plain and not tells_of_caps and "clearance_mm" not in record
    return bool(what == "release")


def _has_currents(record: Table) -> bool:
    """A test by figures may have failed on a hand's current although it says passed."""
    return "left_ma" in record or "right_ma" in record


def _places(case: Table) -> list[tuple[int, int]]:
    return [
        (i, j) for i, piece in enumerate(case["pieces"]) for j, record in enumerate(piece["records"])
        if speaks_for(piece, record)
    ]  # fmt: skip


@given(kits(most=4), st.data())
@proven
def test_taking_away_a_record_that_speaks_for_a_piece_never_improves(case: Table, data: st.DataObject) -> None:
    places = _places(case)
    assume(places)
    piece, record = data.draw(st.sampled_from(places))
    assert improved(decide(case), decide(without(case, piece, record)), by_subject) == []


@given(kits(), st.data())
@proven
def test_taking_away_a_drawn_record_that_speaks_for_a_piece_never_improves(case: Table, data: st.DataObject) -> None:
    """The same from the other side: the record that is taken away was drawn to matter on these days."""
    piece = data.draw(st.sampled_from(case["pieces"]))
    more = deepcopy(case)
    index = case["pieces"].index(piece)
    at = data.draw(st.integers(0, len(piece["records"])))
    more["pieces"][index]["records"].insert(at, data.draw(speaking_for(case)))
    assert improved(decide(more), decide(case), by_subject) == []


def _without_sharing(one: Finding) -> Key | None:
    """Who gets which pair may change with a pair's custody, and then another pair fits: the decision does not."""
    return None if one.rule == "glove-fits-wearer" else by_subject(one)


@given(kits(), st.data())
@proven
def test_adding_a_record_that_speaks_against_a_piece_never_improves(case: Table, data: st.DataObject) -> None:
    more = deepcopy(case)
    piece = data.draw(st.sampled_from(more["pieces"]))
    record = data.draw(speaking_against(case))
    # Whoever else a piece was handed to is followed by this one only where it came later.
    elsewhere = any(one["what"] == "hand-over" for one in piece["records"]) or piece.get("custody", "crib") != "crib"
    assume(record["what"] != "hand-over" or not elsewhere)
    at = data.draw(st.integers(0, len(piece["records"])))
    piece["records"].insert(at, record)
    key = _without_sharing if record.get("to") == OUTSIDER else by_subject
    assert improved(decide(case), decide(more), key) == []


def _has_defect(piece: Table) -> bool:
    return any("failed" in (one.get("left"), one.get("right")) or one.get("defects") for one in piece["records"])


@given(kits(), st.data())
@proven
def test_adding_a_repair_to_a_sound_piece_never_improves(case: Table, data: st.DataObject) -> None:
    more = deepcopy(case)
    sound = [one for one in more["pieces"] if not _has_defect(one)]
    assume(sound)
    data.draw(st.sampled_from(sound))["records"].append(data.draw(repairs(case)))
    assert improved(decide(case), decide(more), by_subject) == []
