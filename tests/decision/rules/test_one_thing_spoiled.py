"""The good world with one thing spoiled: the rules that stop it, no more and no fewer; every rule stops something."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from app.decision.judging.catalogues import catalogues
from tests import build
from tests.build import DAY, Table

Spoil = Callable[[Table], object]


def on_piece(code: str, **keys: Any) -> Spoil:
    """Change fields of one piece; None takes the field away."""

    def spoil(case: Table) -> None:
        piece = next(one for one in case["pieces"] if one["code"] == code)
        piece.update(keys)
        for key in [key for key, value in keys.items() if value is None]:
            del piece[key]

    return spoil


def with_record(code: str, **record: Any) -> Spoil:
    def spoil(case: Table) -> None:
        piece = next(one for one in case["pieces"] if one["code"] == code)
        piece["records"] = [*piece["records"], record]

    return spoil


def without_records(code: str, what: str) -> Spoil:
    def spoil(case: Table) -> None:
        piece = next(one for one in case["pieces"] if one["code"] == code)
        piece["records"] = [one for one in piece["records"] if one["what"] != what]

    return spoil


def in_job(**keys: Any) -> Spoil:
    return lambda case: case["job"].update(keys)


def on_circuit(**keys: Any) -> Spoil:
    return lambda case: case["job"]["circuits"][0].update(keys)


def circuit(**keys: Any) -> Spoil:
    return lambda case: case["job"].update(circuits=[{"key": "traction", "category": "III", **keys}])


def on_person(**keys: Any) -> Spoil:
    return lambda case: case["person"].update(keys)


def on_site(**keys: Any) -> Spoil:
    return lambda case: case["site"].update(keys)


def leave_out(code: str) -> Spoil:
    return lambda case: case.update(pieces=[one for one in case["pieces"] if one["code"] != code])


def add(piece: Table) -> Spoil:
    return lambda case: case["pieces"].append(piece)


def planned_until(day: date) -> Spoil:
    return lambda case: case.update(until=day)


METER = build.plain(
    "M1", "multimeter", fixed_leads=True, marks=[["III", 1000]], max_input_dc_v=1000, tip_mm=2,
    records=[build.look(), {"what": "calibration", "on": "2026-01-01", "result": "passed"}],
)  # fmt: skip

SPOILED: list[tuple[str, Spoil, set[str]]] = [
    ("on-hold", with_record("B1", what="hold", on="2026-02-01", why="recall"), {"not-held"}),
    ("kept by another", on_piece("B1", custody="P9"), {"at-hand"}),
    ("went out yesterday", with_record("K1", what="issue", on="2026-03-01"), {"at-hand"}),
    ("handed to another", with_record("K1", what="hand-over", on="2026-03-01", to="P9"), {"at-hand"}),
    ("withdrawn", with_record("B1", what="withdrawal", on="2026-02-01"), {"not-withdrawn"}),
    ("lost", on_piece("B1", lost=True), {"not-withdrawn"}),
    ("breakdown long ago", with_record("G1", what="electrical-test", on="2025-02-01", breakdown=True),
     {"not-withdrawn"}),
    ("class system not marked", on_piece("G1", class_system=None),
     {"class-known", "insulation-class-stands-voltage", "protector-fits-class", "cuff-clearance"}),
    ("class gone from the mark", on_piece("G1", **{"class": None}),
     {"class-known", "insulation-class-stands-voltage", "protector-fits-class", "cuff-clearance"}),
    ("class too low", on_piece("G1", **{"class": "00"}), {"insulation-class-stands-voltage", "protector-fits-class"}),
    ("no electrical test", without_records("G1", "electrical-test"),
     {"electrical-test-counts", "electrical-test-in-date"}),
    ("test overdue", lambda case: with_record("G1", what="electrical-test", on="2025-09-02", result="passed")(
        without(case, "G1", "electrical-test")), {"electrical-test-in-date"}),
    ("test runs out before the end", planned_until(date(2026, 7, 15)), {"electrical-test-in-date"}),
    ("failed since", with_record("G1", what="electrical-test", on="2026-02-01", result="failed"),
     {"electrical-test-in-date", "not-held"}),
    ("dropped since the test", with_record("G1", what="event", kind="dropped", on="2026-02-01"), {"no-open-event"}),
    ("a tool dropped", with_record("D1", what="event", kind="dropped", on="2026-02-01"), {"no-open-event"}),
    ("patched in the palm",
     with_record("G1", what="event", kind="patched", on="2026-01-01", place="palm"), {"repair-allowed"}),
    ("not air-tested", without_records("G1", "air-test"), {"air-test-done", "inspected"}),
    ("over-inflated", lambda case: with_record("G1", what="air-test", on=DAY, at="07:00", left="passed",
        right="passed", inflation=1.51)(without(case, "G1", "air-test")), {"air-test-done"}),
    ("one hand alone air-tested", lambda case: with_record("G1", what="air-test", on=DAY, at="07:00",
        left="passed")(without(case, "G1", "air-test")), {"air-test-done", "inspected"}),
    ("not looked over", without_records("L1", "inspection"), {"inspected"}),
    ("lead in the current jack", with_record("D1", what="inspection", on=DAY, at="08:00", jack="current"),
     {"inspected"}),
    ("cracked", with_record("D1", what="inspection", on=DAY, at="08:00", defects=["cracked"]),
     {"inspected", "not-held"}),
    ("size off", on_piece("G1", size=11.5), {"glove-fits-wearer"}),
    ("no protectors", leave_out("L1"), {"task-roles-filled", "protectors-worn", "cuff-clearance"}),
    ("cuff too close", on_piece("L1", length_mm=321), {"cuff-clearance"}),
    ("cut for another class", on_piece("L1", cut_for_class="1"), {"protector-fits-class"}),
    ("a left hand alone", on_piece("G1", hand="left"), {"hands-belong-together"}),
    ("mark below the need", on_piece("D1", marks=[["III", 914]]), {"chain-stands-voltage"}),
    ("mark illegible", on_piece("D1", marks=None), {"chain-stands-voltage"}),
    ("category above the mark", on_circuit(category="IV"), {"chain-stands-voltage"}),
    ("leads not told of", on_piece("D1", fixed_leads=False), {"chain-complete"}),
    ("input below the need", on_piece("D1", max_input_dc_v=914), {"input-stands-voltage"}),
    ("tip too long", on_piece("D1", tip_mm=4.001), {"tip-exposure"}),
    ("tip not stated", on_piece("D1", tip_mm=None), {"tip-exposure"}),
    ("glass fuse", on_piece("D1", fuse={"kind": "glass"}), {"fuse-fit"}),
    ("above the altitude", on_site(altitude_m=2001), {"altitude-within-mark"}),
    ("self-test not done", without_records("D1", "self-test"), {"self-test-done"}),
    ("proving unit too weak", on_piece("U1", output_dc_v=12), {"proving-unit-fits"}),
    ("proving unit for AC alone", on_piece("U1", output_dc_v=None), {"proving-unit-fits"}),
    ("multimeter for proving dead", lambda case: add(METER)(left(case, "D1")), {"instrument-suits-task"}),
    ("meter never calibrated", add({**METER, "records": [build.look()]}),
     {"calibration-in-date", "instrument-suits-task"}),
    ("no barrier", leave_out("B1"), {"task-roles-filled"}),
    ("scanned twice", lambda case: add(case["pieces"][-1])(case), {"no-piece-twice"}),
    ("not for this scope", on_person(scopes=["live"]), {"person-authorised"}),
    ("authorisation runs out", on_person(valid_until=date(2026, 3, 1)), {"person-authorised"}),
    ("authorisation runs out before the end", lambda case: on_person(valid_until=DAY)(until_tomorrow(case)),
     {"person-authorised"}),
    ("nobody named", lambda case: case.pop("person"), {"person-authorised", "glove-fits-wearer"}),
    ("second person asked for", on_site(second_person_isolate=True), {"second-person-present"}),
    ("wet place", in_job(place="wet"), {"place-dry"}),
    ("no circuit", in_job(circuits=[]), {"working-voltage-known"}),
    ("nominal voltage alone", circuit(supply="isolated-dc", nominal_v=355),
     {"working-voltage-known", "circuit-in-scope", "insulation-class-stands-voltage", "chain-stands-voltage",
      "input-stands-voltage"}),
    ("reading above the data", on_circuit(reading_v=831.601), {"data-agrees-with-reading"}),
    ("above the scope", circuit(supply="isolated-dc", maker_max_v=1500.001),
     {"circuit-in-scope", "insulation-class-stands-voltage", "chain-stands-voltage", "input-stands-voltage"}),
    ("class A on an assumed cell", circuit(supply="isolated-dc", cells={"series": 14, "chemistry": "nmc"}),
     {"circuit-in-scope"}),
    ("energy stated, no shield", in_job(incident_energy_cal=1.2), {"arc-rating"}),
    ("hook mark below the need", add(build.plain("H1", "rescue-hook", voltage_mark={"dc_v": 914})),
     {"voltage-mark-stands-voltage"}),
    ("hook not looked over for a year", add(build.plain("H1", "rescue-hook", voltage_mark={"dc_v": 1500}, records=[
        {"what": "inspection", "on": "2025-03-02", "defects": []}])), {"inspection-in-date", "inspected"}),
]  # fmt: skip


def without(case: Table, code: str, what: str) -> Table:
    without_records(code, what)(case)
    return case


def left(case: Table, code: str) -> Table:
    leave_out(code)(case)
    return case


def until_tomorrow(case: Table) -> Table:
    case["until"] = date(2026, 3, 3)
    return case


def test_the_good_world_may_go() -> None:
    assert build.verdict(build.world()).may_be_issued
    assert build.stops(build.world()) == set()


@pytest.mark.parametrize(("what", "spoil", "rules"), SPOILED, ids=[one[0] for one in SPOILED])
def test_one_thing_spoiled_is_stopped_by_its_rules(what: str, spoil: Spoil, rules: set[str]) -> None:
    case = build.world()
    spoil(case)
    assert build.stops(case) == rules, what
    assert not build.verdict(case).may_be_issued


def test_every_rule_stops_something_here() -> None:
    assert set(catalogues().rules) == set().union(*(rules for _, _, rules in SPOILED))


NEARLY: list[tuple[str, Spoil]] = [
    ("released", lambda case: (
        with_record("B1", what="hold", on="2026-02-01", why="recall")(case),
        with_record("B1", what="release", on="2026-02-02", by="P9")(case))),
    ("kept by the doer", on_piece("B1", custody="P1")),
    ("back since", lambda case: (
        with_record("K1", what="issue", on="2026-02-27")(case), with_record("K1", what="return", on="2026-02-28")(case))),
    ("mark at the need", on_piece("D1", marks=[["III", 914.76]])),
    ("input at the need", on_piece("D1", max_input_dc_v=914.76)),
    ("cuff at the limit", on_piece("L1", length_mm=320)),
    ("tip at the limit", on_piece("D1", tip_mm=4)),
    ("at the altitude", on_site(altitude_m=2000)),
    ("inflated to the limit", lambda case: with_record("G1", what="air-test", on=DAY, at="07:00", left="passed",
        right="passed", inflation=1.5)(without(case, "G1", "air-test"))),
    ("size one off", on_piece("G1", size=11)),
    ("last day of the test", planned_until(date(2026, 7, 14))),
    ("last day of the authorisation", on_person(valid_until=DAY)),
    ("reading at the data", on_circuit(reading_v=831.6)),
    ("hook at the need", add(build.plain("H1", "rescue-hook", voltage_mark={"dc_v": 914.76}))),
    ("energy below any shield", in_job(incident_energy_cal=1.199)),
    ("a second person of no need", lambda case: case.update(second={"code": "P2"})),
    ("an event before the test", with_record("G1", what="event", kind="dropped", on="2026-01-14")),
    ("withdrawn tomorrow", with_record("B1", what="withdrawal", on="2026-03-03")),
]  # fmt: skip


@pytest.mark.parametrize(("what", "change"), NEARLY, ids=[one[0] for one in NEARLY])
def test_what_just_reaches_may_go(what: str, change: Spoil) -> None:
    case = build.world()
    change(case)
    assert build.stops(case) == set(), what
    assert build.verdict(case).may_be_issued
