"""What each set's text was seen to speak of, and which demands it makes itself; the rest is asked as house policy.

Source: 1910.137(a), (c)(2) and Table I-5 (US); the standards of the other sets as docs/sources.md lists them.
"""

from __future__ import annotations

import pytest

from app.decision.domain.finding import HOUSE
from app.decision.judging.catalogues import catalogues

SETS = catalogues().rule_sets
GLOVES = {"rubber-gloves", "composite-gloves"}
OF_THE_US_LIST = {"rubber-gloves", "rubber-sleeves", "insulating-blanket", "line-hose", "insulating-cover"}
SPOKEN_OF = {
    "us-osha-137": OF_THE_US_LIST,
    "us-nfpa-70e": OF_THE_US_LIST,
    "us-wa-electrical": OF_THE_US_LIST,
    "us-telecom-268": {"rubber-gloves"},
    "iec-60903-2014": GLOVES,
    "en-60903-2003": GLOVES,
    "de-dguv": GLOVES | {"rubber-sleeves"},
    "as-nzs": GLOVES,
    "jp-351": {"rubber-gloves"},
    "gb-17622": GLOVES,
}
TESTED = {"electrical-test-counts", "electrical-test-in-date"}
US = {*TESTED, "class-known", "insulation-class-stands-voltage", "no-open-event", "air-test-done", "protectors-worn"}
DEMANDED = {
    "us-osha-137": US | {"repair-allowed"},
    "us-nfpa-70e": US,
    "us-wa-electrical": US,
    "us-telecom-268": US | {"repair-allowed"},
    "iec-60903-2014": TESTED | {"insulation-class-stands-voltage"},
    "en-60903-2003": TESTED | {"insulation-class-stands-voltage"},
    "de-dguv": TESTED,
    "as-nzs": TESTED | {"insulation-class-stands-voltage"},
    "jp-351": TESTED | {"no-open-event"},
    "gb-17622": TESTED | {"class-known", "insulation-class-stands-voltage"},
}
KINDS_OF_A_CLOCK = {
    "us-osha-137": {*GLOVES, "rubber-sleeves", "insulating-blanket"},
    "us-nfpa-70e": {*GLOVES, "rubber-sleeves", "insulating-blanket"},
    "us-wa-electrical": {*GLOVES, "rubber-sleeves", "insulating-blanket", "line-hose", "insulating-cover"},
    "us-telecom-268": {*GLOVES, "rubber-sleeves", "insulating-blanket"},
    "iec-60903-2014": {*GLOVES, "rubber-sleeves", "insulating-blanket", "insulating-matting"},
    "en-60903-2003": {*GLOVES, "rubber-sleeves", "insulating-blanket", "insulating-matting"},
    "de-dguv": {*GLOVES, "rubber-sleeves", "insulating-blanket", "insulating-matting"},
    "as-nzs": {*GLOVES, "rubber-sleeves", "insulating-blanket", "insulating-matting"},
    "jp-351": {"rubber-gloves"},
    "gb-17622": GLOVES,
}


def test_every_set_is_looked_at() -> None:
    assert set(SETS) == set(SPOKEN_OF) == set(DEMANDED) == set(KINDS_OF_A_CLOCK)


@pytest.mark.parametrize("key", sorted(SETS))
def test_a_demand_rests_on_the_text_only_where_it_was_seen_to_speak_of_the_kind(key: str) -> None:
    rule_set = SETS[key]
    found = {
        (rule, kind)
        for kind, rules in rule_set.covers.items()
        for rule in {*rules, *DEMANDED[key]}
        if rule_set.basis(rule, kind).clause != HOUSE
    }
    wanted = {(rule, kind) for kind in SPOKEN_OF[key] & set(rule_set.covers) for rule in DEMANDED[key]}
    assert found == wanted
    assert all(rule_set.basis(*one).rule_set == key for one in wanted)


@pytest.mark.parametrize("key", sorted(SETS))
def test_every_set_has_clocks_for_just_these_kinds(key: str) -> None:
    assert {kind for kind, clocks in SETS[key].intervals.items() if clocks} == KINDS_OF_A_CLOCK[key]


def test_telecommunications_months_are_printed_of_gloves_and_remembered_of_other_goods() -> None:
    letters = {kind: {one.confidence for one in clocks} for kind, clocks in SETS["us-telecom-268"].intervals.items()}
    assert letters == {
        "rubber-gloves": {"P"}, "composite-gloves": {"M"}, "rubber-sleeves": {"M"}, "insulating-blanket": {"M"},
    }  # fmt: skip


@pytest.mark.parametrize("key", ["us-osha-137", "us-nfpa-70e"])
def test_a_clock_held_of_a_kind_the_table_does_not_list_says_so(key: str) -> None:
    said = {kind: "house policy" in clocks[0].clause for kind, clocks in SETS[key].intervals.items()}
    assert said == {
        "rubber-gloves": False, "composite-gloves": True, "rubber-sleeves": False, "insulating-blanket": False,
    }  # fmt: skip
