"""Failed, does not count, passed: what the paper must say, and what is not asked of a failure."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from msgspec.structs import replace

from app.decision.domain import electrical_test
from app.decision.domain.calendar import Day
from app.decision.domain.electrical_test import Judgement, current_limit_ua, judge, length_column, table_limit
from app.decision.domain.history import History
from app.decision.domain.limits import Approval, RuleSet, SiteRules
from app.decision.domain.piece import Piece
from app.decision.domain.record import ElectricalTest
from app.decision.judging.catalogues import catalogues

SET = catalogues().rule_sets["us-osha-137"]
HOUSE = catalogues().house
PAIR = Piece(code="G1", kind="rubber-gloves", insulation_class="0", class_system="iec", length_um=360_000)
FULL = ElectricalTest(
    on=Day.of(date(2026, 1, 15)), result="passed", evidence="figures", occasion="in-service", test_v=5000,
    kind_of_current="ac", frequency_mhz=60_000, dwell_s=60, left_ua=11_000, right_ua=12_000,
)  # fmt: skip
OTHER_SET = replace(SET, scales_with_frequency=False)


def judged(test: ElectricalTest, piece: Piece = PAIR, rule_set: RuleSet = SET, **site: Any) -> Judgement:
    return judge(test, piece, rule_set, HOUSE, SiteRules(**site))


def keys(judgement: Judgement) -> list[str]:
    return [note.key for note in judgement.reasons]


def test_all_figures_in_order_pass() -> None:
    assert judged(FULL) == Judgement(FULL, "passed")


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"on": None}, "test.no-day"),
        ({"certificate_names_piece": False}, "test.names-no-piece"),
        ({"test_v": None}, "test.figure-missing"),
        ({"test_v": 4999}, "test.voltage-low"),
        ({"dwell_s": None}, "test.figure-missing"),
        ({"dwell_s": 59}, "test.dwell-short"),
        ({"dwell_s": 179, "occasion": "acceptance"}, "test.dwell-short"),
        ({"kind_of_current": None}, "test.figure-missing"),
        ({"frequency_mhz": None}, "test.figure-missing"),
        ({"left_ua": None}, "test.figure-missing"),
        ({"right_ua": None}, "test.figure-missing"),
    ],
)
def test_one_thing_spoiled_does_not_count(change: dict[str, Any], key: str) -> None:
    found = judged(replace(FULL, **change))
    assert (found.result, keys(found)) == ("does-not-count", [key])


@pytest.mark.parametrize(
    ("change", "figure"),
    [
        ({"test_v": None}, "test-voltage"), ({"dwell_s": None}, "dwell"), ({"kind_of_current": None}, "kind-of-current"),
        ({"frequency_mhz": None}, "frequency"), ({"left_ua": None}, "current-of-each-hand"),
    ],
)  # fmt: skip
def test_the_figure_that_is_missing_is_named(change: dict[str, Any], figure: str) -> None:
    assert judged(replace(FULL, **change)).reasons[0].values == {"figure": figure}


def test_every_fault_of_one_paper_is_named() -> None:
    found = judged(replace(FULL, on=None, certificate_names_piece=False, test_v=4000, dwell_s=10))
    assert keys(found) == ["test.no-day", "test.names-no-piece", "test.voltage-low", "test.dwell-short"]
    assert found.reasons[2].values == {"measured_v": 4000, "required_v": 5000}
    assert found.reasons[3].values == {"measured_s": 10, "required_s": 60}


@pytest.mark.parametrize(
    ("piece", "key"),
    [
        (replace(PAIR, insulation_class=None), "test.class-unknown"),
        (replace(PAIR, class_system="gb"), "test.class-unknown"),
        (replace(PAIR, length_um=None), "test.length-unknown"),
        (replace(PAIR, length_um=320_000), "test.length-unknown"),
        # Class 1 has no column for 280 mm: no limit printed is an invalid combination, never no limit.
        (replace(PAIR, insulation_class="1", length_um=280_000), "test.no-current-limit"),
        (replace(PAIR, insulation_class="5"), "test.no-limit-printed"),
    ],
)
def test_what_the_table_does_not_hold_does_not_count(piece: Piece, key: str) -> None:
    found = judged(replace(FULL, test_v=50_000), piece)
    assert found.result == "does-not-count"
    assert keys(found)[0] == key


BARE = {"test_v": None, "dwell_s": None, "on": None, "certificate_names_piece": False, "right_ua": None}


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"breakdown": True}, "test.breakdown"),
        ({"result": "failed"}, "test.lab-failed"),
        ({"left_ua": 12_001}, "test.current-above"),
    ],
)
def test_a_failure_is_a_failure_whatever_else_is_missing(change: dict[str, Any], key: str) -> None:
    found = judged(replace(FULL, **{**BARE, **change}))
    assert (found.result, keys(found)) == ("failed", [key])


def test_the_higher_hand_is_named() -> None:
    found = judged(replace(FULL, left_ua=12_100, right_ua=12_300))
    assert found.reasons[0].values == {"measured_ua": 12_300, "hand": "right", "limit_ua": 12_000}


@pytest.mark.parametrize(("hand", "field"), [("left", "left_ua"), ("right", "right_ua")])
def test_no_current_at_all_under_ac_is_no_reading_of_that_hand(hand: str, field: str) -> None:
    found = judged(replace(FULL, **{field: 0}))
    assert (found.result, keys(found)) == ("does-not-count", ["test.no-current"])
    assert found.reasons[0].values == {"hand": hand}


def test_a_hand_above_its_limit_fails_whatever_the_other_shows() -> None:
    assert judged(replace(FULL, left_ua=0, right_ua=12_300)).result == "failed"


@pytest.mark.parametrize(("hand", "field"), [("left", "left_ua"), ("right", "right_ua")])
def test_one_glove_is_asked_for_its_own_hand_only(hand: str, field: str) -> None:
    single = replace(PAIR, hand=hand)
    assert judged(replace(FULL, **{"left_ua": None, "right_ua": None, field: 11_000}), single).result == "passed"
    other = judged(replace(FULL, **{"left_ua": 11_000, "right_ua": 11_000, field: None}), single)
    assert (other.result, other.reasons[0].values["figure"]) == ("does-not-count", "current-of-its-hand")
    # What the lab wrote of another glove speaks against this one all the same.
    assert judged(replace(FULL, **{"left_ua": 17_000, "right_ua": 17_000, field: 11_000}), single).result == "failed"


def test_one_hand_at_the_limit_and_the_other_missing_does_not_count() -> None:
    assert judged(replace(FULL, left_ua=12_000, right_ua=None)).result == "does-not-count"


@pytest.mark.parametrize(
    ("hertz", "limit"), [(50_000, 10_000), (60_000, 12_000), (16_700, 3_340), (400_000, 80_000)]
)  # fmt: skip
def test_the_limit_goes_with_the_frequency(hertz: int, limit: float) -> None:
    test = replace(FULL, frequency_mhz=hertz)
    assert current_limit_ua(test, PAIR, SET) == pytest.approx(limit)
    assert current_limit_ua(test, PAIR, OTHER_SET) == 12_000


def test_without_a_frequency_there_is_no_limit_where_the_set_scales() -> None:
    test = replace(FULL, frequency_mhz=None, left_ua=99_000)
    assert current_limit_ua(test, PAIR, SET) is None
    assert judged(test).result == "does-not-count"
    assert judged(test, rule_set=OTHER_SET).result == "failed"
    assert judged(replace(test, left_ua=1), rule_set=OTHER_SET).result == "passed"


def test_direct_current_has_no_printed_current_limit() -> None:
    dc = replace(FULL, kind_of_current="dc", test_v=20_000, left_ua=99_000, right_ua=None, frequency_mhz=None)
    assert current_limit_ua(dc, PAIR, SET) is None
    assert judged(dc).result == "passed"


@pytest.mark.parametrize(
    ("occasion", "soaked", "hertz", "limit"),
    [
        ("acceptance", True, 60_000, 14_000),
        ("acceptance", False, 60_000, 12_000),
        ("in-service", True, 60_000, 12_000),
        ("not-stated", True, 60_000, 12_000),
        (None, True, 60_000, 12_000),
        # 2 mA are scaled down with the frequency and never up.
        ("acceptance", True, 30_000, 7_000),
        ("acceptance", True, 120_000, 26_000),
    ],
)
def test_two_milliamperes_after_a_soak_for_acceptance_alone(
    occasion: str | None, soaked: bool, hertz: int, limit: float
) -> None:
    test = replace(FULL, occasion=occasion, soaked=soaked, frequency_mhz=hertz)
    assert current_limit_ua(test, PAIR, SET) == limit


@pytest.mark.parametrize(
    ("um", "mm"),
    [(264_999, None), (265_000, 280), (295_000, 280), (295_001, None), (345_000, 360), (375_001, None), (395_000, 410),
     (425_000, 410), (445_000, 460), (475_000, 460), (475_001, None), (None, None)],
)  # fmt: skip
def test_a_length_belongs_to_a_column_within_fifteen_millimetres(um: int | None, mm: int | None) -> None:
    assert length_column(replace(PAIR, length_um=um), SET) == mm


def test_a_composite_glove_may_be_twenty_millimetres_off_and_longer_than_the_table_where_it_is_open() -> None:
    composite = replace(PAIR, kind="composite-gloves", length_um=380_000)
    assert length_column(composite, SET) == 360
    assert length_column(replace(composite, length_um=380_001), SET) is None
    # Longer than the table are composite gloves of classes 1 to 3 alone (GB/T 17622-2008, lengths).
    iec, long = catalogues().rule_sets["iec-60903-2014"], replace(composite, insulation_class="1", length_um=800_000)
    assert length_column(long, SET) is None
    assert length_column(long, iec) == 460
    assert length_column(replace(long, insulation_class="0"), iec) is None
    assert length_column(replace(long, kind="rubber-gloves"), iec) is None


def test_no_limit_is_named_for_another_class_system() -> None:
    assert table_limit(PAIR, SET) is not None
    assert table_limit(replace(PAIR, class_system="gb"), SET) is None
    assert table_limit(replace(PAIR, insulation_class=None), SET) is None


def test_long_dwell_and_voltage_far_above_are_cautions() -> None:
    found = judged(replace(FULL, dwell_s=181, test_v=10_000))
    assert found.result == "passed"
    assert [note.key for note in found.cautions] == ["test.dwell-long", "test.voltage-far-above"]
    assert [note.values for note in found.cautions] == [
        {"measured_s": 181, "limit_s": 180}, {"measured_v": 10_000, "limit_v": 10_000},
    ]  # fmt: skip
    assert judged(replace(FULL, dwell_s=180, test_v=9_999)).cautions == ()


def test_figures_from_memory_pass_but_carry_nothing_until_seen() -> None:
    pair = replace(PAIR, insulation_class="1")
    test = replace(FULL, test_v=10_000, left_ua=1, right_ua=1)
    found = judged(test, pair)
    assert found.result == "passed"
    assert [limit.key for limit in found.unconfirmed] == ["us-osha-137/current/1/360"]
    assert judged(test, pair, confirmed_in_print=frozenset({"us-osha-137/current/1/360"})).unconfirmed == ()
    assert judged(test, pair, confirmed_in_print=None).unconfirmed == ()
    dc_of_00 = replace(FULL, kind_of_current="dc", test_v=10_000)
    low = replace(PAIR, insulation_class="00")
    assert [limit.key for limit in judged(dc_of_00, low).unconfirmed] == ["us-osha-137/retest/dc/00"]


STATED = ElectricalTest(on=FULL.on, result="passed", evidence="stated-pass", lab="LAB-1")
APPROVED = (Approval("figures_required", "P9", "the lab sends no figures"),)


@pytest.mark.parametrize(
    ("test", "site", "reasons"),
    [
        (STATED, {}, ["test.figures-required"]),
        (STATED, {"figures_required": False}, ["test.figures-required"]),  # nobody approved the looser rule
        (STATED, {"figures_required": False, "approvals": APPROVED}, []),
        (STATED, {"approvals": APPROVED}, ["test.figures-required"]),
        (replace(STATED, confirmed_seen=True), {}, []),
        (replace(STATED, evidence="sheet-only"), {"figures_required": False, "approvals": APPROVED},
         ["test.certificate-not-seen"]),
        (replace(STATED, evidence="sheet-only", confirmed_seen=True), {}, []),
        (replace(STATED, evidence=None), {}, []),
        (replace(STATED, evidence=None), {"labs": ("LAB-1",)}, []),
        (replace(STATED, evidence=None), {"labs": ("LAB-2",)}, ["test.lab-not-listed"]),
        (replace(STATED, evidence=None, confirmed_seen=True), {"labs": ("LAB-2",)}, []),
        (replace(STATED, evidence=None, lab=None), {"labs": ("LAB-2",)}, []),
        (replace(STATED, evidence=None, result=None), {}, ["test.no-result"]),
        (replace(STATED, evidence=None, on=None), {}, ["test.no-day"]),
    ],
)  # fmt: skip
def test_a_test_without_figures(test: ElectricalTest, site: dict[str, Any], reasons: list[str]) -> None:
    found = judged(test, **site)
    assert keys(found) == reasons
    assert found.result == ("does-not-count" if reasons else "passed")


def passed(day: str, **more: Any) -> ElectricalTest:
    return ElectricalTest(on=Day.parse(day), result="passed", **more)


def failed(day: str | None, **more: Any) -> ElectricalTest:
    return ElectricalTest(on=None if day is None else Day.parse(day), result="failed", **more)


def stands(*tests: ElectricalTest, today: date = date(2026, 3, 2)) -> tuple[date | None, bool]:
    """T, and whether a failure stands."""
    found = electrical_test.tested(History.of(replace(PAIR, records=tests), today), SET, HOUSE, SiteRules())
    return found.tested_on, found.failed is not None


@pytest.mark.parametrize(
    ("tests", "answer"),
    [
        ((), (None, False)),
        ((passed("2026-01-15"),), (date(2026, 1, 15), False)),
        ((passed("2026-01-15"), passed("2025-12-01")), (date(2026, 1, 15), False)),
        ((passed("2026-01-15"), failed("2026-01-14")), (date(2026, 1, 15), False)),
        ((passed("2026-01-15"), failed("2026-01-15")), (date(2026, 1, 15), True)),
        ((passed("2026-01-15"), failed("2026-01-16")), (date(2026, 1, 15), True)),
        ((passed("2026-01-15", after="failed"), failed("2026-01-15")), (date(2026, 1, 15), False)),
        ((passed("2026-01-15", after="dropped"), failed("2026-01-15")), (date(2026, 1, 15), True)),
        # A vague day counts from its earliest for the piece, from its latest against it, not beyond today.
        ((passed("2026-02"), failed("2026-02-20")), (date(2026, 2, 1), True)),
        ((passed("2026-02-20"), failed("2026-02")), (date(2026, 2, 20), True)),
        ((passed("2026-03-02", after="failed"), failed("2026-03")), (date(2026, 3, 2), False)),
        # Undated: as late as can be.
        ((passed("2026-03-01"), failed(None)), (date(2026, 3, 1), True)),
        # After the day of judging nothing has happened yet.
        ((passed("2026-03-03"), failed("2026-03-03")), (None, False)),
    ],
)  # fmt: skip
def test_the_last_passing_test_and_the_failure_that_stands(
    tests: tuple[ElectricalTest, ...], answer: tuple[date | None, bool]
) -> None:
    assert stands(*tests) == answer
    assert stands(*reversed(tests)) == answer


def test_a_later_test_that_does_not_count_leaves_t() -> None:
    weak = replace(FULL, on=Day.of(date(2026, 2, 20)), test_v=4000)
    assert stands(passed("2026-01-15"), weak) == (date(2026, 1, 15), False)


def test_a_test_waiting_for_print_is_shown_as_waiting() -> None:
    pair = replace(PAIR, insulation_class="1", records=(replace(FULL, test_v=10_000, left_ua=1, right_ua=1),))
    found = electrical_test.tested(History.of(pair, date(2026, 3, 2)), SET, HOUSE, SiteRules())
    assert (found.last, found.passing, found.tested_on) == (None, [], None)
    assert found.waiting is not None
    assert found.waiting.test is pair.records[0]


@pytest.mark.parametrize("evidence", ["stated-pass", "sheet-only"])
@pytest.mark.parametrize(
    ("stated", "reasons"),
    [
        ({"test_v": 19_999, "kind_of_current": "dc"}, ["test.voltage-low"]),
        ({"test_v": 20_000, "kind_of_current": "dc"}, []),
        ({"test_v": 4999, "kind_of_current": "ac"}, ["test.voltage-low"]),
        ({"dwell_s": 59}, ["test.dwell-short"]),
        ({"dwell_s": 179, "occasion": "acceptance"}, ["test.dwell-short"]),
        ({"dwell_s": 60}, []),
        ({"test_v": 100}, []),  # without the kind of current no limit can be named
    ],
)
def test_a_stated_figure_that_falls_short_does_not_count(
    evidence: str, stated: dict[str, Any], reasons: list[str]
) -> None:
    assert keys(judged(replace(STATED, evidence=evidence, confirmed_seen=True, **stated))) == reasons


def test_what_the_register_has_judged_already_stands() -> None:
    assert judged(replace(STATED, evidence=None, test_v=1, kind_of_current="dc")).result == "passed"
