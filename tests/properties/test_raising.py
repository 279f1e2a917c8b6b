"""Raising voltage, category, margin or altitude never improves an outcome."""

from __future__ import annotations

from copy import deepcopy

from hypothesis import assume, given
from hypothesis import strategies as st

from app.decision.domain.voltage import voltage_class, working
from tests.properties.drawn import Table, by_subject, decide, facts, improved, kits, proven

STATED = ("plate_max_v", "maker_max_v", "boosted_v", "reading_v", "phase_to_earth_v")
CATEGORIES = ("II", "III", "IV")
UP_TO = 1_400


def _raise_cells(cells: Table, data: st.DataObject) -> None:
    how = data.draw(st.sampled_from([key for key in ("series", "modules", "max_v") if key in cells]))
    if how == "max_v":
        cells["max_v"] = round(cells["max_v"] + data.draw(st.sampled_from((0.001, 0.05, 0.5))), 3)
    else:
        cells[how] += data.draw(st.integers(1, 60))


def _raise(circuit: Table, data: st.DataObject) -> None:
    key = data.draw(st.sampled_from([key for key in (*STATED, "cells") if key in circuit]))
    if key == "cells":
        _raise_cells(circuit["cells"], data)
    else:
        more = st.integers(1, UP_TO) | st.sampled_from((0.001, 0.5, 5))
        circuit[key] = round(circuit[key] + data.draw(more), 3)


def _has_a_doubt_that_volts_may_settle(case: Table) -> bool:
    """Two doubts lie *below* the volts and end when they are known to be higher.

    Class A is never concluded from an assumed cell voltage, so up to 60 V DC nobody can tell and above it class B is
    certain; and a reading above the working voltage contradicts it, until the card states more.
    """
    for circuit in facts(case).job.circuits:
        best = working(circuit)
        if best is None or (best.is_assumed and voltage_class(circuit.supply, best.mv) == "A"):
            return True
        if circuit.reading_mv is not None and circuit.reading_mv > best.mv:
            return True
    return False


@given(kits(most=1), st.data())
@proven
def test_raising_a_voltage_never_improves(case: Table, data: st.DataObject) -> None:
    assume(not _has_a_doubt_that_volts_may_settle(case))
    more = deepcopy(case)
    circuits = [one for one in more["job"]["circuits"] if any(key in one for key in (*STATED, "cells"))]
    assume(circuits)
    _raise(data.draw(st.sampled_from(circuits)), data)
    assert improved(decide(case), decide(more), by_subject) == []


@given(kits(most=1), st.booleans(), st.integers(0, 400), st.data())
@proven
def test_a_further_stated_maximum_never_improves(case: Table, plate: bool, volts: int, data: st.DataObject) -> None:
    """Naming one more origin of a voltage that is known raises what is asked or leaves it, whatever its margin."""
    assume(not _has_a_doubt_that_volts_may_settle(case))
    more = deepcopy(case)
    circuit = data.draw(st.sampled_from(more["job"]["circuits"]))
    key = "plate_max_v" if plate else "boosted_v"
    assume(key not in circuit)
    circuit[key] = volts + 1
    assert improved(decide(case), decide(more), by_subject) == []


@given(kits(most=1), st.data())
@proven
def test_raising_a_category_never_improves(case: Table, data: st.DataObject) -> None:
    more = deepcopy(case)
    circuit = data.draw(st.sampled_from([one for one in more["job"]["circuits"] if one.get("category") in CATEGORIES]))
    assume(circuit["category"] != "IV")
    circuit["category"] = CATEGORIES[CATEGORIES.index(circuit["category"]) + 1]
    if data.draw(st.booleans()):
        more["site"] = case["site"] = more["site"] | {"tip_profile": "iec", "approvals": _approved(case, "tip_profile")}
    assert improved(decide(case), decide(more), by_subject) == []


def _approved(case: Table, key: str) -> list[Table]:
    approvals: list[Table] = case["site"].get("approvals", [])
    return [*approvals, {"key": key, "approved_by": "P9", "reason": "agreed at the depot"}]


@given(kits(most=1), st.booleans(), st.lists(st.integers(0, 5_000), min_size=2, max_size=2))
@proven
def test_raising_the_margin_never_improves(case: Table, approved: bool, margins: list[int]) -> None:
    low, high = sorted(margins)
    if approved:
        case["site"]["approvals"] = _approved(case, "margin_percent")
    less, more = deepcopy(case), deepcopy(case)
    less["site"]["margin_percent"], more["site"]["margin_percent"] = low / 100, high / 100
    assert improved(decide(less), decide(more), by_subject) == []


@given(kits(most=1), st.integers(1_000, 5_000))
@proven
def test_a_margin_above_the_shipped_one_never_improves(case: Table, margin: int) -> None:
    assume("margin_percent" not in case["site"])
    more = deepcopy(case)
    more["site"]["margin_percent"] = margin / 100
    assert improved(decide(case), decide(more), by_subject) == []


@given(kits(most=1), st.none() | st.integers(-400, 5_000), st.integers(0, 4_000))
@proven
def test_raising_the_altitude_never_improves(case: Table, altitude: int | None, higher: int) -> None:
    """An altitude nobody states counts as 2,000 m, so from there on up it is a rise."""
    case["site"].pop("altitude_m", None)
    more = deepcopy(case)
    more["site"]["altitude_m"] = (2_000 if altitude is None else altitude) + higher
    if altitude is not None:
        case["site"]["altitude_m"] = altitude
    assert improved(decide(case), decide(more), by_subject) == []
