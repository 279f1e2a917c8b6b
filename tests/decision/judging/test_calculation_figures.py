"""Calculations that decide nothing: why one has no answer, and which caution stands beside an answer."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from app.decision.domain.errors import BadInput
from app.decision.judging.calculation import Law
from app.decision.judging.catalogues import calculations
from app.words.saying import say
from tests.decision.judging.test_calculations import LAW, work

ARC: dict[str, Any] = {
    "method": "max-power", "system_v": 250, "fault_current_a": 4000, "clearing_s": 2, "distance_mm": 457.2,
}  # fmt: skip
GAP: dict[str, Any] = {
    "method": "arc-voltage",
    "gap_mm": 25,
    "arc_current_a": 5000,
    "clearing_s": 0.2,
    "distance_mm": 455,
}
ADVICE = "never lowers the protection against shock"


def without(table: dict[str, Any], *keys: str, **more: Any) -> dict[str, Any]:
    return {**{key: value for key, value in table.items() if key not in keys}, **more}


NONE: list[tuple[str, dict[str, Any], str]] = [
    ("arc-energy", without(ARC, "method"), "calculation.figure-missing"),
    ("arc-energy", without(ARC, "system_v"), "calculation.figure-missing"),
    ("arc-energy", without(ARC, "fault_current_a"), "calculation.figure-missing"),
    ("arc-energy", without(ARC, "distance_mm"), "calculation.figure-missing"),
    ("arc-energy", without(ARC, "fault_current_a", "system_v", source_ohm=1), "calculation.figure-missing"),
    ("arc-energy", {**ARC, "system_v": 0}, "case.out-of-range"),
    ("arc-energy", {**ARC, "system_v": 1500.001}, "case.out-of-range"),
    ("arc-energy", {**ARC, "fault_current_a": -1}, "case.out-of-range"),
    ("arc-energy", {**ARC, "fault_current_a": 0}, "case.out-of-range"),
    ("arc-energy", {**ARC, "clearing_s": 0}, "case.out-of-range"),
    ("arc-energy", {**ARC, "distance_mm": 0}, "case.out-of-range"),
    ("arc-energy", {**ARC, "distance_mm": 1e-300}, "case.out-of-range"),
    ("arc-energy", {**ARC, "distance_mm": 1e300}, "case.out-of-range"),
    ("arc-energy", {**ARC, "distance_mm": float("nan")}, "case.not-a-number"),
    ("arc-energy", {**ARC, "distance_mm": float("inf")}, "case.not-a-number"),
    ("arc-energy", {**ARC, "distance_mm": True}, "case.not-a-number"),
    ("arc-energy", {**ARC, "distance_mm": "457"}, "case.not-a-number"),
    ("arc-energy", {**ARC, "enclosure_factor": 0.999}, "case.out-of-range"),
    ("arc-energy", {**ARC, "enclosure_factor": 3.001}, "case.out-of-range"),
    ("arc-energy", {**ARC, "arc_current_a": 4000.1}, "calculation.figures-contradict"),
    ("arc-energy", {**ARC, "quantity": "arc-voltage"}, "calculation.not-with-method"),
    ("arc-energy", {**ARC, "quantity": "arc-power"}, "calculation.not-with-method"),
    ("arc-energy", {**ARC, "enclosure": "panel"}, "calculation.not-with-method"),
    ("arc-energy", {**ARC, "method": "guess"}, "case.unknown-word"),
    ("arc-energy", {**GAP, "enclosure": "panel", "enclosure_factor": 2}, "calculation.not-with-method"),
    ("arc-energy", without(GAP, "gap_mm"), "calculation.figure-missing"),
    ("arc-energy", without(GAP, "arc_current_a", system_v=400), "calculation.figure-missing"),
    ("arc-energy", without(GAP, "arc_current_a", source_ohm=0.1), "calculation.figure-missing"),
    ("arc-energy", {**GAP, "system_v": 92.677}, "calculation.figures-contradict"),
    ("arc-energy", {**GAP, "system_v": 600, "source_ohm": 0.1201}, "calculation.figures-contradict"),
    ("arc-boundary", without(ARC, "system_v"), "calculation.figure-missing"),
    ("arc-boundary", without(ARC, "fault_current_a", arc_current_a=0), "case.out-of-range"),
    ("arc-category", {}, "calculation.figure-missing"),
    ("arc-category", {"energy_cal": 0}, "case.out-of-range"),
    ("arc-category", {"energy_cal": -4}, "case.out-of-range"),
    ("arc-category", {**ARC, "energy_cal": 4}, "calculation.figures-contradict"),
    ("arc-category", without(ARC, "distance_mm"), "calculation.figure-missing"),
    ("altitude-factor", {}, "calculation.figure-missing"),
    ("altitude-factor", {"altitude_m": 20_000.1}, "calculation.outside-table"),
    ("altitude-factor", {"altitude_m": -501}, "case.out-of-range"),
    ("clearance-step-down", {"altitude_m": 3000}, "calculation.figure-missing"),
    ("clearance-step-down", {"rated_v": 8000}, "calculation.figure-missing"),
    ("clearance-step-down", {"rated_v": 8000.5, "altitude_m": 3000}, "calculation.outside-table"),
    ("clearance-step-down", {"rated_v": 10_000, "altitude_m": 3000}, "calculation.outside-table"),
    ("clearance-step-down", {"rated_v": 8000, "altitude_m": 20_001}, "calculation.outside-table"),
    ("clearance-step-down", {"rated_v": 2500, "altitude_m": 2001}, "calculation.no-lower-impulse"),
    ("clearance-step-down", {"rated_v": 4000, "altitude_m": 10_000}, "calculation.no-lower-impulse"),
    ("inverter-rms", {"dc_v": 400}, "calculation.figure-missing"),
    ("inverter-rms", {"modulation": "svpwm"}, "calculation.figure-missing"),
    ("inverter-rms", {"dc_v": 0, "modulation": "svpwm"}, "case.out-of-range"),
    ("inverter-rms", {"dc_v": 400, "modulation": "svpwm", "quantity": "total"}, "calculation.not-with-method"),
    ("inverter-rms", {"dc_v": 400, "modulation": "other"}, "case.unknown-word"),
    ("isolation-ohm", {"joined_ac": False}, "calculation.figure-missing"),
    ("isolation-ohm", {"v": 400, "working_v": 401, "joined_ac": False}, "calculation.figures-contradict"),
    ("isolation-ohm", {"working_v": 400}, "calculation.figure-missing"),
    ("isolation-ohm", {"working_v": 400, "quantity": "per-volt"}, "calculation.figure-missing"),
    ("isolation-ohm", {"working_v": 400, "quantity": "holds", "joined_ac": False}, "calculation.figure-missing"),
    ("isolation-ohm", {"working_v": 400, "quantity": "holds", "measured_ohm": 1}, "calculation.figure-missing"),
    ("isolation-ohm", {"working_v": 400, "quantity": "per-volt", "measured_ohm": 0}, "case.out-of-range"),
    ("bond-ok", {"ohm": 0.05}, "calculation.figure-missing"),
    ("bond-ok", {"current_a": 0.2}, "calculation.figure-missing"),
    ("bond-ok", {"ohm": 0, "current_a": 0.2}, "case.out-of-range"),
    ("keep-record-until", {"rule_set": "us-osha-137", "test_on": "2025-04-10"}, "calculation.no-retention"),
    ("keep-record-until", {"test_on": "2025-04-10"}, "calculation.no-retention"),
    ("keep-record-until", {"rule_set": "jp-351"}, "calculation.figure-missing"),
    ("keep-record-until", {"rule_set": "jp-351", "test_on": "9998-04-10"}, "case.out-of-range"),
]  # fmt: skip


@pytest.mark.parametrize(("what", "ask", "key"), NONE)
def test_no_answer_and_why(what: str, ask: dict[str, Any], key: str) -> None:
    with pytest.raises(BadInput) as told:
        work(what, **ask)
    assert told.value.key == key


@pytest.mark.parametrize(
    ("what", "ask", "value", "unit"),
    [
        ("arc-energy", {**ARC, "quantity": "arc-current"}, 2000.0, "A"),
        ("arc-energy", {**ARC, "quantity": "arc-current", "arc_current_a": 4000}, 4000.0, "A"),
        ("arc-energy", without(ARC, "fault_current_a", arc_current_a=2000), 4.78396, "cal/cm2"),
        ("arc-energy", {**ARC, "source_ohm": 0.05, "quantity": "arc-current"}, 2500.0, "A"),
        ("arc-energy", {**ARC, "source_ohm": 0.07, "quantity": "arc-current"}, 2000.0, "A"),
        ("arc-energy", {**ARC, "enclosure_factor": 1}, 4.78396, "cal/cm2"),
        ("arc-energy", {**ARC, "enclosure_factor": 3}, 14.35188, "cal/cm2"),
        # The trap: a program in public leaves the root out and gives 8,333 cm.
        ("arc-boundary", ARC, 91.2871, "cm"),
        ("arc-boundary", {**ARC, "distance_mm": 1}, 91.2871, "cm"),
        ("arc-boundary", {**GAP, "enclosure_factor": 1.5}, 46.9397, "cm"),
        # A short arc deep in a box: nothing outside it reaches 1.2.
        ("arc-boundary", {**GAP, "enclosure": "switchgear", "clearing_s": 0.01}, 0.0, "cm"),
        ("arc-category", {"energy_cal": 1.2}, 1, None),
        ("arc-category", {"energy_cal": 1.1999}, "none", None),
        ("arc-category", {"energy_cal": 40}, 4, None),
        ("arc-category", {"energy_cal": 40.0001}, "prohibited", None),
        ("arc-category", {**ARC, "enclosure_factor": 3}, 3, None),
        ("arc-category", {**ARC, "clearing_s": 60}, "prohibited", None),
        ("altitude-factor", {"altitude_m": 2000.5}, 1.14, None),
        ("altitude-factor", {"altitude_m": 0}, 1.0, None),
        ("altitude-factor", {"altitude_m": -500}, 1.0, None),
        ("clearance-step-down", {"rated_v": 12_000, "altitude_m": 20_000, "quantity": "clearance"}, 14 / 14.5, "mm"),
        ("isolation-ohm", {"v": 400, "joined_ac": False}, 40_000.0, "ohm"),
        ("isolation-ohm", {"v": 400, "working_v": 400, "joined_ac": False}, 40_000.0, "ohm"),
        ("bond-ok", {"ohm": 0.099, "current_a": 25}, True, None),
        ("bond-ok", {"ohm": 0.05, "current_a": 0.1}, False, None),
        ("keep-record-until", {"rule_set": "jp-351", "test_on": "2025-04-10"}, date(2028, 4, 10), None),
        ("keep-record-until", {"rule_set": "jp-351", "on": "2024-02-29"}, date(2027, 2, 28), None),
    ],
)
def test_an_answer(what: str, ask: dict[str, Any], value: object, unit: str | None) -> None:
    answer = work(what, **ask)
    assert answer.value == (pytest.approx(value, abs=1e-4) if isinstance(value, float) else value)
    assert type(answer.value) is type(value)
    assert answer.unit == unit


@pytest.mark.parametrize(
    ("what", "ask", "key"),
    [
        ("arc-energy", {**ARC, "enclosure_factor": 1}, ""),
        ("arc-energy", {**ARC, "enclosure": "open"}, ""),
        ("arc-energy", ARC, "calculation.arc-open-air-taken"),
        ("arc-energy", without(ARC, "clearing_s", enclosure_factor=3), "calculation.arc-time-assumed"),
        ("arc-energy", without(ARC, "clearing_s"), "calculation.arc-open-air-and-time"),
        ("arc-energy", without(ARC, "clearing_s", quantity="arc-current"), ""),
        ("arc-energy", {**GAP, "enclosure": "panel"}, "calculation.arc-box-unseen"),
        ("arc-energy", without(GAP, "clearing_s", enclosure="panel"), "calculation.arc-box-unseen-and-time"),
        ("arc-boundary", without(ARC, "clearing_s", enclosure_factor=2), "calculation.arc-time-assumed"),
        ("arc-boundary", {**GAP, "enclosure": "switchgear"}, "calculation.arc-box-unseen"),
        ("arc-category", without(ARC, "clearing_s", enclosure_factor=2), "calculation.arc-time-assumed"),
        ("arc-category", {"energy_cal": 4}, ""),
        ("altitude-factor", {"altitude_m": 5000}, ""),
        ("clearance-step-down", {"rated_v": 8000, "altitude_m": 2000}, "calculation.step-down-is-advice"),
        ("clearance-step-down", {"rated_v": 8000, "altitude_m": 2001}, "calculation.clearance-not-seen"),
        ("clearance-step-down", {"rated_v": 8000, "altitude_m": 3000, "quantity": "clearance"},
         "calculation.step-down-is-advice"),
        *(
            ("clearance-step-down", {"rated_v": volts, "altitude_m": 3000, "quantity": "clearance"},
             "calculation.clearance-not-seen")
            for volts in (2500, 4000, 6000, 12_000)
        ),
        ("inverter-rms", {"dc_v": 400, "modulation": "sine-pwm"}, "calculation.inverter-full-link"),
        ("isolation-ohm", {"v": 400, "joined_ac": True}, "calculation.double-insulation-not-stated"),
        ("isolation-ohm", {"v": 400, "joined_ac": True, "ac_double_insulated": False}, ""),
        ("isolation-ohm", {"v": 400, "joined_ac": False}, ""),
        ("isolation-ohm", {"v": 400, "joined_ac": True, "quantity": "holds", "measured_ohm": 1},
         "calculation.double-insulation-not-stated"),
        ("bond-ok", {"ohm": 0.05, "current_a": 0.1999}, "calculation.bond-current-small"),
        ("bond-ok", {"ohm": 0.05, "current_a": 0.2}, ""),
    ],
)  # fmt: skip
def test_the_caution_beside_it(what: str, ask: dict[str, Any], key: str) -> None:
    caution = work(what, **ask).caution
    assert caution == key
    if caution:
        sentence = say(caution, {})
        assert (ADVICE in sentence) is caution.startswith("calculation.arc-")


@pytest.mark.parametrize("what", ["arc-energy", "arc-boundary", "arc-category"])
def test_every_arc_figure_is_declared_as_advice(what: str) -> None:
    written = " ".join(str(calculations()[what].work.__globals__["__doc__"]).split())
    assert "Advice only: it never lowers the protection against shock." in written


def test_a_set_that_loses_its_retention_is_no_default() -> None:
    sets = {key: one for key, one in LAW.rule_sets.items() if one.limit("keep-record", "years") is None}
    assert set(LAW.rule_sets) - set(sets) == {"jp-351"}
    for key in sets:
        with pytest.raises(BadInput) as told:
            work("keep-record-until", Law(sets, LAW.house), rule_set=key, test_on="2025-04-10")
        assert (told.value.key, told.value.thing) == ("calculation.no-retention", key)
