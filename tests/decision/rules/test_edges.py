"""Small things of the rules that other tests pass by: each was found by a change nobody noticed."""

from __future__ import annotations

from typing import Any

import pytest

from app.decision.domain.finding import Finding, Outcome
from app.decision.judging.judge import ask
from app.decision.rules.repair_allowed import WAYS
from app.words.vocabulary import REPAIRS
from tests import build
from tests.build import Table

TEST, AIR = build.gloves()["records"]
FIGURES = {
    "what": "electrical-test", "on": "2026-01-15", "result": "passed", "evidence": "figures", "occasion": "in-service",
    "test_v": 5000, "kind_of_current": "ac", "frequency_hz": 60, "dwell_s": 60, "left_ma": 8, "right_ma": 8,
}  # fmt: skip


def found(rule: str, case: Table) -> list[Finding]:
    return [one for one in ask(build.facts(case), {rule}) if one.key != "no-demand"]


def kit(*added: Table, **by_code: Table | None) -> Table:
    case = build.world()
    pieces = [by_code.get(one["code"], one) for one in case["pieces"]]
    case["pieces"] = [one for one in (*pieces, *added) if one is not None]
    return case


def keys(findings: list[Finding]) -> list[tuple[str, str]]:
    return [(one.outcome.value, one.key) for one in findings]


def test_energy_without_a_shield_is_told_in_calories() -> None:
    case = kit()
    case["job"]["incident_energy_cal"] = 8.5
    (one,) = found("arc-rating", case)
    assert (one.key, one.measured, one.unit) == ("arc-rating.no-shield", 8.5, "cal/cm2")


def test_energy_beyond_every_shield_is_told_in_calories() -> None:
    shield = build.plain("S1", "arc-face-shield", arc_rating_cal=65, hood=True)
    case = kit(shield)
    case["job"]["incident_energy_cal"] = 41.5
    (one,) = [one for one in found("arc-rating", case) if one.key == "arc-rating.beyond"]
    assert (one.outcome, one.measured, one.required, one.unit) == (Outcome.CAUTION, 41.5, 40, "cal/cm2")


def test_no_calibration_is_asked_of_a_detector() -> None:
    assert found("calibration-in-date", kit()) == []


def test_of_several_loose_parts_the_first_scanned_is_spoken_of() -> None:
    loose = [build.plain(code, "test-leads", tip_mm=2) for code in ("W8", "W9")]
    said = [one for one in found("chain-complete", kit(*loose)) if one.outcome is Outcome.CANNOT_TELL]
    assert [(one.subject, one.values["parts"]) for one in said if "W9" in str(one.values["parts"])] == [
        ("W8", "W8, W9")
    ]


@pytest.mark.parametrize(("length", "key"), [(325, "short"), (324.999, "covered")])
def test_a_cuff_is_covered_as_soon_as_it_lies_behind_the_protector(length: float, key: str) -> None:
    # 310 mm of protector and 15 mm allowed for
    (one,) = found("cuff-clearance", kit(G1=build.gloves(length_mm=length)))
    assert one.key == f"cuff-clearance.{key}"


@pytest.mark.parametrize(
    ("change", "key"), [({"dwell_s": 181}, "test.dwell-long"), ({"test_v": 10_000}, "test.voltage-far-above")]
)
def test_what_the_counting_test_did_to_the_glove_is_a_caution(change: dict[str, Any], key: str) -> None:
    said = keys(found("electrical-test-counts", kit(G1=build.gloves(records=[{**FIGURES, **change}, AIR]))))
    assert said == [("met", "electrical-test-counts.counts"), ("caution", key)]
    plain = keys(found("electrical-test-counts", kit(G1=build.gloves(records=[FIGURES, AIR]))))
    assert plain == [("met", "electrical-test-counts.counts")]


def test_a_test_about_to_run_out_still_counts_beside_an_exemption_that_ends_sooner() -> None:
    records = [{**TEST, "on": "2025-09-25"}, {**AIR, "on": "2025-09-10", "at": "07:05"}]
    case = build.world(rule_sets=["en-60903-2003"], pieces=[build.gloves(records=records)])
    case["site"]["dielectric_exempt_00_0"] = {"approved_by": "P7", "reason": "by air and by eye each half year"}
    said = found("electrical-test-in-date", case)
    assert keys(said) == [("met", "electrical-test-in-date.in-date"), ("caution", "electrical-test-in-date.due-soon")]
    assert str(said[0].good_until) == "2026-03-24"


@pytest.mark.parametrize(
    ("records", "key"), [([], "none"), ([{**TEST, "evidence": "sheet-only"}], "none-counts")], ids=["none", "unseen"]
)
def test_no_test_and_none_that_counts_are_told_apart(records: list[Table], key: str) -> None:
    said = keys(found("electrical-test-in-date", kit(G1=build.gloves(records=records))))
    assert said == [("not-met", f"electrical-test-in-date.{key}")]


def test_only_an_unknown_lithium_chemistry_is_cautioned() -> None:
    case = kit()
    (circuit,) = case["job"]["circuits"]
    assert keys(found("working-voltage-known", case)) == [("met", "working-voltage-known.known")]
    circuit["cells"] = {"series": 100, "chemistry": "unknown-lithium"}
    assert keys(found("working-voltage-known", case))[1:] == [("caution", "working-voltage-known.unknown-lithium")]
    del circuit["cells"]
    circuit["maker_max_v"] = 400
    assert keys(found("working-voltage-known", case)) == [("met", "working-voltage-known.known")]


def of_current(supply: str, **outputs: Any) -> list[tuple[str, str]]:
    unit = {key: value for key, value in build.proving_unit(**outputs).items() if value}
    case = kit(U1=unit)
    case["job"]["circuits"] = [{"key": "t", "supply": supply, "category": "III", "maker_max_v": 230}]
    return keys(found("proving-unit-fits", case))


def test_a_proving_unit_gives_the_current_that_is_asked() -> None:
    fits, other = [("met", "proving-unit-fits.fits")], [("not-met", "proving-unit-fits.other-current")]
    assert of_current("ac-single-phase", output_dc_v=0) == of_current("isolated-dc", output_ac_v=0) == fits
    assert of_current("ac-single-phase", output_ac_v=0) == of_current("isolated-dc", output_dc_v=0) == other


@pytest.mark.parametrize(
    ("first", "second", "key"),
    [
        ({"result": "passed"}, {"result": "failed"}, "failed"),
        ({"result": "failed"}, {"result": "passed"}, "failed"),
        ({"result": "failed", "at": "07:00"}, {"result": "passed", "at": "07:01"}, "failed"),
        ({"result": "passed", "at": "07:00"}, {"result": "failed", "at": "07:01"}, "failed"),
    ],
)
def test_a_failed_self_test_is_not_mended_by_another_try(first: Table, second: Table, key: str) -> None:
    records = [{"what": "self-test", "on": build.DAY, **one} for one in (first, second)]
    said = [one.key for one in found("self-test-done", kit(D1=build.detector(records=records))) if one.subject == "D1"]
    assert said == [f"self-test-done.{key}"]


@pytest.mark.parametrize("place", ["finger", "fingers", "fork", "thumb", "palm", "hand", "back", "wrist"])
@pytest.mark.parametrize("repair", [{"repair": "patched"}, {"repair": "liquid-compound"}, {}])
def test_a_glove_is_never_mended_on_the_hand(place: str, repair: Table) -> None:
    mended = {"what": "event", "kind": "repaired", "on": "2026-02-01", "place": place, **repair}
    said = keys(found("repair-allowed", kit(G1=build.gloves(records=[TEST, mended]))))
    assert said == [("not-met", "repair-allowed.not-there")]


def test_a_mended_and_tested_glove_waits_for_its_release_wherever_everything_is_written() -> None:
    records = [
        {"what": "inspection", "on": "2026-01-20", "defects": ["cut"]},
        {"what": "event", "kind": "repaired", "on": "2026-02-01", "repair": "patched", "place": "cuff"},
        {**TEST, "on": "2026-02-10", "after": "repaired"},
    ]
    case = kit(G1=build.gloves(records=records))
    said = [one.key for one in found("not-held", case) if one.subject == "G1"]
    assert said == ["not-held.defect"]
    # A question about one finding takes what is not written as being in order.
    said = [one.key for one in found("not-held", {**case, "level": "finding"}) if one.subject == "G1"]
    assert said == ["not-held.free"]


@pytest.mark.parametrize(("on", "day"), [("2026-02-01", "2026-02-01"), (None, "")])
def test_a_paper_that_does_not_count_is_told_with_its_day(on: str | None, day: str) -> None:
    paper = {key: value for key, value in {**TEST, "on": on, "evidence": "sheet-only"}.items() if value}
    case = kit(G1=build.gloves(records=[TEST, paper, AIR]))
    (beside,) = [one for one in found("electrical-test-counts", case) if one.outcome is Outcome.CAUTION]
    assert beside.values["day"] == day
    (alone,) = found("electrical-test-counts", kit(G1=build.gloves(records=[paper, AIR])))
    assert (alone.outcome, alone.values["day"]) == (Outcome.NOT_MET, day)


def test_of_several_open_events_the_first_written_is_named() -> None:
    events = [
        {"what": "event", "kind": "dropped", "on": "2026-02-01"}, {"what": "event", "kind": "wet", "on": "2026-02-02"},
    ]  # fmt: skip
    (said,) = [
        one for one in found("no-open-event", kit(G1=build.gloves(records=[TEST, *events]))) if one.subject == "G1"
    ]
    assert (said.outcome, said.values["event"], said.values["day"]) == (Outcome.NOT_MET, "dropped", "2026-02-01")


@pytest.mark.parametrize("why", ["suspect", "repair", "no-protectors", "dropped", "wet"])
def test_kit_without_a_class_is_inspected_where_gloves_are_tested(why: str) -> None:
    seen = [
        {"what": "hold", "on": "2026-02-01", "why": why}, build.look(on="2026-02-02"),
        {"what": "release", "on": "2026-02-03", "by": "P9"},
    ]  # fmt: skip
    case = kit(build.plain("M1", "multimeter", records=seen), G1=build.gloves(records=[TEST, *seen, AIR]))
    said = {one.subject: one.key for one in found("not-held", case)}
    assert said["M1"] == "not-held.free"
    assert said["G1"] == "not-held.released-without-evidence"


def test_a_protector_in_use_does_not_stand_where_one_of_another_class_is_lacking() -> None:
    second = build.gloves("G2", **{"class": "1"})
    assert keys(found("protector-fits-class", kit(second))) == [("met", "protector-fits-class.fits")]
    spare = found("protector-fits-class", kit(second, build.protectors("L2")))
    assert keys(spare) == [("not-met", "protector-fits-class.too-few")] * 2
    assert [one.values["insulation_class"] for one in spare] == ["1", "1"]


def test_how_far_a_tip_may_stand_out_is_told_in_millimetres() -> None:
    unstated = {key: value for key, value in build.detector().items() if key != "tip_mm"}
    (said,) = [one for one in found("tip-exposure", kit(D1=unstated)) if one.subject == "D1"]
    assert (said.key, said.required, said.unit) == ("tip-exposure.not-stated", 4, "mm")
    for tip, key in ((4, "short"), (4.5, "long")):
        said = next(one for one in found("tip-exposure", kit(D1=build.detector(tip_mm=tip))) if one.subject == "D1")
        assert (said.key, said.measured, said.required, said.unit) == (f"tip-exposure.{key}", tip, 4, "mm")
    (said,) = [one for one in found("tip-exposure", kit(D1=build.detector(tip_mm=3))) if one.outcome is Outcome.CAUTION]
    assert (said.key, said.measured, said.unit) == ("tip-exposure.over-preferred", 3, "mm")


@pytest.mark.parametrize(
    ("circuit", "key", "volts"),
    [
        ({"nominal_v": 355.2}, "nominal-only", 355.2),
        ({"reading_v": 402.5}, "reading-only", 402.5),
        ({"maker_max_v": 420.5}, "known", 420.5),
    ],
)
def test_what_is_known_of_the_volts_is_told_in_volts(circuit: Table, key: str, volts: float) -> None:
    case = kit()
    case["job"]["circuits"] = [{"key": "t", "supply": "isolated-dc", **circuit}]
    (said,) = found("working-voltage-known", case)
    assert (said.key, said.measured, said.unit) == (f"working-voltage-known.{key}", volts, "V")


@pytest.mark.parametrize(
    ("after", "key"),
    [
        (
            [{"what": "release", "by": "P9", "at": "07:30"}, {"what": "self-test", "result": "passed", "at": "07:40"}],
            "done",
        ),
        ([{"what": "release", "by": "P9", "at": "07:30"}], "failed"),
        ([{"what": "release", "at": "07:30"}, {"what": "self-test", "result": "passed", "at": "07:40"}], "failed"),
        (
            [{"what": "self-test", "result": "passed", "at": "07:20"}, {"what": "release", "by": "P9", "at": "07:30"}],
            "failed",
        ),
    ],
)
def test_a_failed_self_test_is_released_by_name_and_passes_after_that(after: list[Table], key: str) -> None:
    failed = {"what": "self-test", "result": "failed", "at": "07:00"}
    records = [{"on": build.DAY, **one} for one in (failed, *after)]
    said = [one.key for one in found("self-test-done", kit(D1=build.detector(records=records))) if one.subject == "D1"]
    assert said == [f"self-test-done.{key}"]


DC = {"what": "electrical-test", "on": "2026-02-20", "kind_of_current": "dc"}
BOOTS = {"code": "F1", "kind": "dielectric-footwear", "class": "0", "class_system": "iec"}


@pytest.mark.parametrize(
    ("marked", "test", "refused"),
    [
        (None, None, True),
        (True, None, False),
        (None, {"evidence": "figures", "test_v": 10, "dwell_s": 1}, True),
        (None, {"evidence": "figures", "test_v": 10, "dwell_s": 60, "result": "passed"}, True),
        (None, {"evidence": "figures", "test_v": 1499, "dwell_s": 60, "result": "passed"}, True),
        (None, {"evidence": "figures", "test_v": 1500, "dwell_s": 60, "result": "passed"}, False),
        (None, {"evidence": "figures", "test_v": 1500, "dwell_s": 60}, True),
        (None, {"evidence": "figures", "test_v": 1500, "dwell_s": 59, "result": "passed"}, True),
        (None, {"result": "passed"}, False),
        (None, {"result": "failed"}, True),
        (False, {"result": "passed"}, True),
    ],
)
def test_boots_on_dc_want_their_mark_or_a_test_that_says_something(
    marked: bool | None, test: Table | None, refused: bool
) -> None:
    records = [] if test is None else [{**DC, **test}]
    boots = {**BOOTS, "records": records, **({} if marked is None else {"dc_tested": marked})}
    case = build.world()
    case["pieces"].append(boots)
    keys_of = [one.key for one in found("insulation-class-stands-voltage", case) if one.subject == "F1"]
    assert ("insulation-class-stands-voltage.no-dc-test" in keys_of) is refused


@pytest.mark.parametrize("days", [("2025-04-01", "2025-06-01"), ("2025-06-01", "2025-04-01")])
def test_the_newest_passed_calibration_counts(days: tuple[str, str]) -> None:
    records = [{"what": "calibration", "on": day, "result": "passed"} for day in days]
    (one,) = found("calibration-in-date", kit(build.plain("M1", "multimeter", records=records)))
    assert str(one.good_until) == "2026-05-31"


@pytest.mark.parametrize("rule", ["electrical-test-counts", "electrical-test-in-date"])
def test_of_several_figures_a_test_waits_for_the_first_is_named(rule: str) -> None:
    marks: Table = {"class": "00", "length_mm": 280}
    case = kit(G1=build.gloves(records=[{**FIGURES, "test_v": 2500}, AIR], **marks))
    case["site"] = {"altitude_m": 140}
    (one,) = [one for one in found(rule, case) if one.outcome is Outcome.CANNOT_TELL]
    assert one.values["limit"] == "us-osha-137/retest/ac/00"


def test_of_two_withdrawals_the_first_is_told() -> None:
    days = [{"what": "withdrawal", "on": day} for day in ("2026-02-01", "2026-02-10")]
    (one,) = [one for one in found("not-withdrawn", kit(G1=build.gloves(records=[TEST, *days]))) if one.subject == "G1"]
    assert (one.outcome, one.values["since"]) == (Outcome.NOT_MET, "2026-02-01")


def test_where_a_repair_was_made_is_told() -> None:
    patched = {"what": "event", "kind": "patched", "on": "2026-01-01", "place": "palm"}
    (one,) = found("repair-allowed", kit(G1=build.gloves(records=[patched, TEST, AIR])))
    assert (one.outcome, one.values["place"]) == (Outcome.NOT_MET, "palm")


def test_what_has_no_tip_is_met_without_one() -> None:
    meter = build.plain("M1", "multimeter", marks=[["III", 1000]])
    leads = build.plain("W1", "test-leads", marks=[["III", 1000]], tip_mm=2)
    said = {(one.subject, one.key) for one in found("tip-exposure", kit(meter, leads, D1=None))}
    assert ("M1", "tip-exposure.no-tip") in said
    assert ("W1", "tip-exposure.short") in said


def test_of_a_chain_whose_leads_nobody_can_name_the_instrument_is_told() -> None:
    meters = [build.plain(code, "multimeter", marks=[["III", 1000]]) for code in ("M1", "M2")]
    loose = [
        build.plain("W1", "test-leads", marks=[["III", 1000]]),
        build.plain("C1", "tip-or-clip", marks=[["III", 1000]]),
    ]
    case = kit(*meters, *loose, D1=None)
    case["job"]["with"] = [["M1", "C1"]]
    said = [one for one in found("chain-stands-voltage", case) if one.subject == "M1+C1"]
    assert [(one.outcome, one.values["parts"]) for one in said] == [(Outcome.CANNOT_TELL, "M1")]


def test_a_class_table_from_memory_waits_for_a_confirmation() -> None:
    case = kit(build.plain("H1", "line-hose", **{"class": "0", "class_system": "iec"}))
    said = [one for one in found("class-known", case) if one.subject == "H1"]
    assert [(one.outcome, one.key) for one in said] == [(Outcome.CANNOT_TELL, "limit-not-seen-in-print")]


@pytest.mark.parametrize("leather", ["sheep", "cape"])
@pytest.mark.parametrize(("cut", "outcome"), [("0", Outcome.MET), ("1", Outcome.NOT_MET)])
def test_sheep_and_cape_serve_the_low_classes_alone(leather: str, cut: str, outcome: Outcome) -> None:
    marks: Table = {"class": cut}
    case = kit(G1=build.gloves(**marks), L1=build.protectors(cut_for_class=cut, leather=leather))
    assert [one.outcome for one in found("protector-fits-class", case)] == [outcome]


def test_of_several_classes_that_lack_protectors_the_lowest_is_told() -> None:
    def pair(code: str, of: str) -> Table:
        marks: Table = {"class": of}
        return build.gloves(code, **marks)

    spares = [build.protectors(code) for code in ("L2", "L3")]
    said = found("protector-fits-class", kit(pair("G2", "1"), pair("G3", "2"), *spares))
    assert {(one.key, one.values.get("insulation_class")) for one in said} == {("protector-fits-class.too-few", "1")}


@pytest.mark.parametrize(("calibrated", "is_warned"), [("2025-04-02", True), ("2025-04-03", False)])
def test_the_warning_days_of_a_calibration_end_with_the_thirtieth(calibrated: str, is_warned: bool) -> None:
    records = [{"what": "calibration", "on": calibrated, "result": "passed"}]
    said = found("calibration-in-date", kit(build.plain("M1", "multimeter", records=records)))
    assert ((("caution", "calibration-in-date.due-soon")) in keys(said)) is is_warned


def test_volts_to_earth_wait_for_the_footnote_of_every_set() -> None:
    case = kit(G1=build.gloves())
    case["job"]["circuits"] = [{
        "key": "inlet", "supply": "ac-three-phase", "category": "III", "maker_max_v": 1400, "phase_to_earth_v": 808,
        "phase_to_earth_confirmed_by": "P9",
    }]  # fmt: skip
    case["site"] = {"altitude_m": 140, "confirmed_in_print": "all"}
    asked = {}
    for sets in (["us-osha-137"], ["us-osha-137", "iec-60903-2014"]):
        said = found("insulation-class-stands-voltage", {**case, "rule_sets": sets})
        asked[len(sets)] = {one.required for one in said if one.subject == "G1"}
    assert asked == {1: {808.0}, 2: {1400.0}}


@pytest.mark.parametrize(("pairs", "is_enough"), [(1, False), (2, True), (3, True)])
def test_two_people_wear_two_pairs(pairs: int, is_enough: bool) -> None:
    added = [build.gloves(f"G{number}") for number in range(2, pairs + 1)]
    case = kit(*added, build.protectors("L2"), build.protectors("L3"))
    case["job"]["task"] = "work-in-open-live-pack"
    case["second"] = {"code": "P2", "scopes": ["live"], "glove_sizes": [10]}
    (one,) = found("second-person-present", case)
    assert (one.outcome is Outcome.MET) is is_enough


@pytest.mark.parametrize("repair", WAYS)
@pytest.mark.parametrize("kind", ["rubber-gloves", "insulating-blanket"])
def test_every_way_of_repair_is_answered_for_by_its_name(repair: str, kind: str) -> None:
    event = {"what": "event", "kind": "repaired", "repair": repair, "on": "2026-01-01", "place": "cuff"}
    piece = {**build.gloves(records=[event, TEST, AIR]), "kind": kind}
    allowed = {"rubber-gloves": {"patched", "liquid-compound"}, "insulating-blanket": {"patched"}}[kind]
    case = kit(G1=piece)
    case["site"] = {"altitude_m": 140, "confirmed_in_print": "all"}
    outcomes = {one.outcome for one in found("repair-allowed", case) if one.subject == "G1"}
    assert (outcomes == {Outcome.MET}) is (repair in allowed)
    assert tuple(REPAIRS) == WAYS


@pytest.mark.parametrize("hand", ["left", "right"])
def test_either_hand_alone_is_no_pair(hand: str) -> None:
    (one,) = found("hands-belong-together", kit(G1=build.gloves(hand=hand)))
    assert (one.outcome, one.values["hand"]) == (Outcome.NOT_MET, hand)


def test_an_open_event_asks_a_test_of_kit_with_a_class_and_a_release_of_other_kit() -> None:
    dropped = {"what": "event", "kind": "dropped", "on": "2026-02-01"}
    case = kit(build.plain("T1", "insulated-tool", records=[dropped]), G1=build.gloves(records=[TEST, dropped]))
    said = {one.subject: one.key for one in found("no-open-event", case) if one.outcome is Outcome.NOT_MET}
    assert said == {"G1": "no-open-event.open", "T1": "no-open-event.not-released"}


def test_a_class_nobody_marked_is_told_as_that_and_not_as_one_out_of_the_table() -> None:
    unmarked = {key: value for key, value in build.gloves().items() if key != "class"}
    (one,) = found("class-known", kit(G1=unmarked))
    assert one.key == "class-known.no-class"


@pytest.mark.parametrize(("marks", "key"), [([["III", 600]], "short"), ([["O", 1000]], "nothing")])
def test_an_offer_that_is_too_low_and_none_at_all_are_told_apart(marks: list[list[object]], key: str) -> None:
    (one,) = found("chain-stands-voltage", kit(D1=build.detector(marks=marks)))
    assert one.key == f"chain-stands-voltage.{key}"
