"""Small things of the domain that other tests pass by: each was found by a change nobody noticed."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from typing import Any

import pytest
from msgspec.structs import replace

from app.decision.case.case import read_case
from app.decision.case.pieces import read_piece, read_record
from app.decision.case.site import read_site
from app.decision.case.world import read_circuit, read_person
from app.decision.domain.calendar import Day
from app.decision.domain.electrical_test import length_column
from app.decision.domain.errors import BadInput
from app.decision.domain.finding import Demand, Renewal
from app.decision.domain.impulse import ROWS
from app.decision.domain.isolation import bond_holds
from app.decision.domain.limits import Approval, Limit, SiteRules
from app.decision.domain.piece import Piece
from app.decision.domain.verdict import fold
from app.decision.domain.voltage import CELL_MAX_MV, CELL_MIN_MV, Circuit, required, stresses
from app.decision.fields import words
from app.decision.judging.catalogues import calculations, catalogues
from tests import build

NOW = date(2026, 3, 2)
SET = catalogues().rule_sets["us-osha-137"]


def test_a_moment_is_read_as_its_day() -> None:
    assert Day.parse(datetime(2026, 3, 2, 23, 59)) == Day.of(NOW)  # noqa: DTZ001 - a day has no zone


def test_an_error_leaves_out_what_it_was_not_told() -> None:
    assert str(BadInput("file.not-toml", file="a.toml", thing="x")) == "file.not-toml [a.toml x] {}"
    assert str(BadInput("case.none")) == "case.none [] {}"


# Facts, meters and systems, 1.2: CAT II, III, IV by volts to earth, up to and with them.
IMPULSES = """
50 500 800 1500
100 800 1500 2500
150 1500 2500 4000
300 2500 4000 6000
600 4000 6000 8000
1000 6000 8000 12000
1250 6000 8000 12000
1500 8000 10000 15000
"""


def test_the_impulse_table_is_the_one_of_the_facts() -> None:
    written = [tuple(int(one) for one in line.split()) for line in IMPULSES.split("\n") if line]
    assert [(volts, *row) for volts, row, _ in ROWS] == written


def test_the_cells_are_those_of_the_facts() -> None:
    """Facts, meters and systems, section 4: volts of a cell empty and full."""
    assert {CELL_MIN_MV[one] for one in ("nmc", "nca", "lco", "lmo")} == {2500}
    assert [CELL_MIN_MV[one] for one in ("lfp", "lto", "nimh")] == [2000, 1500, 900]
    assert {CELL_MAX_MV[one] for one in ("nmc", "nca", "lco", "lmo")} == {4200}
    assert [CELL_MAX_MV[one] for one in ("lfp", "lto", "nimh")] == [3650, 2850, 1600]
    # Unknown: the highest of the high-voltage types, and the lowest of all when cells are counted.
    assert (CELL_MAX_MV["unknown-lithium"], CELL_MIN_MV["unknown-lithium"]) == (4450, 1500)


@pytest.mark.parametrize(("margin", "volts"), [(0, 577.0), (1000, 634.7)])
def test_volts_to_earth_carry_the_margin_on_top(margin: int, volts: float) -> None:
    grid = Circuit(
        key="grid", supply="ac-three-phase", maker_max_mv=1_000_000, phase_to_earth_mv=577_000,
        phase_to_earth_confirmed_by="P9",
    )  # fmt: skip
    needed = required(grid, {"cells": 0, "boosted": 0, "plate": 0, "maker": margin})
    assert needed is not None
    assert [(one.current, one.volts) for one in stresses(grid, needed)] == [("ac", volts)]


def test_an_approval_of_one_site_rule_is_none_of_another() -> None:
    site = SiteRules(approvals=(Approval("tip_profile", "P9", "agreed"), Approval("clearance_table", "P8", "agreed")))
    found: list[Any] = [site.approver(key) for key in ("tip_profile", "clearance_table", "figures_required")]
    assert [one and one.approved_by for one in found] == ["P9", "P8", None]
    assert site.takes_looser("clearance_table")
    assert not site.takes_looser("figures_required")


def test_what_a_table_says_is_not_printed_is_not_borrowed_from_a_figure_beside_it() -> None:
    figure = Limit("us-osha-137/use/dc/3", 1, "mV", "beside it", "S")
    table = SET.tables["rubber-gloves"]
    silent = replace(table, not_printed=frozenset({"use/dc/3"}))
    with_figure = {**SET.limits, "use/dc/3": figure}
    assert replace(SET, limits=with_figure).class_limit("rubber-gloves", "3", "use", "dc") is figure
    asked = replace(SET, limits=with_figure, tables={"rubber-gloves": silent})
    assert asked.class_limit("rubber-gloves", "3", "use", "dc") is None


@pytest.mark.parametrize("lacking", ["id", "source", "confidence", "level", "expect"])
def test_a_case_that_lacks_what_every_case_says_is_told_which(lacking: str) -> None:
    whole = {"id": "a", "source": "house policy", "confidence": "H", "level": "calculation", "expect": {}}
    assert read_case(whole).id == "a"
    with pytest.raises(BadInput) as told:
        read_case({key: value for key, value in whole.items() if key != lacking})
    assert (told.value.key, told.value.thing) == ("case.key-missing", lacking)


def piece(**keys: Any) -> Piece:
    return read_piece({"code": "G1", "kind": "rubber-gloves", **keys}, "")


def air(inflation: float) -> Piece:
    return piece(records=[{"what": "air-test", "on": NOW, "inflation": inflation}])


@pytest.mark.parametrize(
    ("read", "least", "most", "step"),
    [
        (lambda value: piece(size=value), 0, 20, 0.01),
        (air, 1, 100, 0.01),
        (lambda value: read_person({"glove_sizes": [value]}, ""), 0, 20, 0.01),
        (lambda value: read_site({"margin_percent": value}, ""), 0, 50, 0.01),
        (lambda value: read_site({"altitude_m": value}, ""), -500, 20_000, 1),
        (lambda value: piece(length_mm=value), 0, 10**9, 0.001),
    ],
    ids=["size", "inflation", "sizes", "margin", "altitude", "length"],
)
def test_either_end_of_a_range_can_be_written_and_nothing_beyond(
    read: Any, least: float, most: float, step: float
) -> None:
    read(least)
    read(most)
    for beyond in (least - step, most + step):
        with pytest.raises(BadInput):
            read(beyond)


DEFECTS = """
hole tear puncture cut ozone-cutting embedded-object swelling softening hardening sticky inelastic other
inner-colour-visible cracked no-finger-guard mark-worn loose-sleeve exposed-metal damp dirty
"""
# Each list of the format once more, as it stands in its description.
WORDS = [
    ("class", "00 0 1 2 3 4", lambda word: piece(**{"class": word})),
    ("class_system", "iec gb jp", lambda word: piece(class_system=word)),
    ("type", "I II", lambda word: piece(type=word)),
    ("categories", "A H Z R C", lambda word: piece(categories=[word])),
    ("hand", "left right pair", lambda word: piece(hand=word)),
    ("material", "natural synthetic", lambda word: piece(material=word)),
    ("caps", "present missing unknown", lambda word: piece(caps=word)),
    ("marks", "II III IV I O", lambda word: piece(marks=[[word, 600]])),
    ("supply", "isolated-dc earthed-dc ac-single-phase ac-three-phase inverter-output",
     lambda word: read_circuit({"key": "t", "supply": word}, "")),
    ("category", "II III IV", lambda word: read_circuit({"key": "t", "supply": "earthed-dc", "category": word}, "")),
    ("chemistry", "nmc nca lco lmo lfp lto nimh unknown-lithium",
     lambda word: read_circuit({"key": "t", "supply": "isolated-dc", "cells": {"series": 1, "chemistry": word}}, "")),
    ("scopes", "isolate live", lambda word: read_person({"code": "P1", "scopes": [word]}, "")),
    ("tip_profile", "gs38 iec", lambda word: read_site({"tip_profile": word}, "")),
    ("clearance_table", "cautious astm-f496", lambda word: read_site({"clearance_table": word}, "")),
    ("reading", "stricter us-osha-137", lambda word: read_site({"without_protectors_reading": word}, "")),
    ("event", "suspect repaired patched used-without-protectors dropped wet",
     lambda word: piece(records=[{"what": "event", "on": NOW, "kind": word}])),
    ("after", "suspect repaired patched used-without-protectors dropped wet failed",
     lambda word: piece(records=[{"what": "electrical-test", "on": NOW, "after": word}])),
    ("evidence", "figures stated-pass sheet-only",
     lambda word: piece(records=[{"what": "electrical-test", "on": NOW, "evidence": word}])),
    ("defects", DEFECTS, lambda word: piece(records=[{"what": "inspection", "on": NOW, "defects": [word]}])),
]  # fmt: skip


@pytest.mark.parametrize(("said", "read"), [one[1:] for one in WORDS], ids=[one[0] for one in WORDS])
def test_every_word_of_the_format_can_be_written_and_no_other(said: str, read: Any) -> None:
    for word in said.split():
        read(word)
    with pytest.raises((BadInput, KeyError)):
        read("nothing-of-the-kind")


def test_every_calculation_is_a_word_of_the_format() -> None:
    assert set(calculations()) == set(words.CALCULATIONS)


def test_a_test_that_counts_waits_for_nothing() -> None:
    facts = build.facts(build.world())
    tested = facts.tested(facts.pieces[0], SET)
    assert tested.last is facts.pieces[0].records[0]
    assert tested.waiting is None


NEVER_MENDED = (
    "insulation-class-stands-voltage", "voltage-mark-stands-voltage", "not-withdrawn", "not-held", "no-open-event",
)  # fmt: skip


@pytest.mark.parametrize("rule", NEVER_MENDED)
def test_what_no_act_at_the_counter_mends_is_said_first(rule: str) -> None:
    renewals = {rule: Renewal.EACH_ISSUE, "issue": Renewal.EACH_ISSUE, "daily": Renewal.EACH_DAY}
    findings = tuple(Demand(one, "G1").not_met("n") for one in ("daily", "issue", rule))
    stops = fold(findings, NOW, NOW, renewals, judged=True).stops
    assert [one.rule for one in stops] == [rule, "issue", "daily"]


@pytest.mark.parametrize("key", ["key", "approved_by", "reason"])
def test_an_approval_says_what_by_whom_and_why(key: str) -> None:
    whole = {"key": "tip_profile", "approved_by": "P9", "reason": "agreed"}
    read_site({"approvals": [whole]}, "site")
    with pytest.raises(BadInput) as told:
        read_site({"approvals": [{one: words for one, words in whole.items() if one != key}]}, "site")
    assert (told.value.key, told.value.thing) == ("case.key-missing", key)


@pytest.mark.parametrize(("what", "key"), [("event", "kind"), ("hand-over", "to"), ("inspection", "on")])
def test_a_record_says_what_it_cannot_be_without(what: str, key: str) -> None:
    whole = {"what": what, "on": NOW, **({"kind": "dropped"} if what == "event" else {}), "to": "P2"}
    if what != "hand-over":
        del whole["to"]
    read_record(whole, "piece")
    with pytest.raises(BadInput) as told:
        read_record({one: value for one, value in whole.items() if one != key}, "piece")
    assert (told.value.key, told.value.thing) == ("case.key-missing", key)


@pytest.mark.parametrize("key", ["plate_max_v", "maker_max_v", "boosted_v"])
def test_nothing_is_no_voltage_of_a_circuit(key: str) -> None:
    with pytest.raises(BadInput, match="out-of-range"):
        read_circuit({"key": "t", "supply": "isolated-dc", key: 0}, "circuit")


@pytest.mark.parametrize("level", ["finding", "decision", "entry"])
def test_a_case_that_judges_has_a_day(level: str) -> None:
    with pytest.raises(BadInput) as told:
        read_case({"id": "x", "source": "s", "confidence": "H", "level": level, "expect": {}})
    assert (told.value.key, told.value.thing) == ("case.key-missing", "on")


@pytest.mark.parametrize("length", [280, 360, 410, 460])
@pytest.mark.parametrize(("kind", "within"), [("rubber-gloves", 15), ("composite-gloves", 20)])
def test_a_length_belongs_to_its_column_within_the_tolerance_of_its_kind(length: int, kind: str, within: int) -> None:
    for off, column in ((-within, length), (within, length), (-within - 1, None), (within + 1, None)):
        piece = Piece(code="G1", kind=kind, insulation_class="0", length_um=(length + off) * 1000)
        # Between two columns the nearer one may take it; only what lies outside every column has none.
        wanted = column if column is not None else next(
            (mm for mm in (280, 360, 410, 460) if abs(length + off - mm) <= within), None
        )  # fmt: skip
        assert length_column(piece, SET) == wanted


def test_pairs_with_protection_of_their_own_leave_the_protectors_to_who_is_there() -> None:
    case = build.world()
    pairs = [build.gloves(code, kind="composite-gloves") for code in ("G1", "G2")]
    case["pieces"] = [*pairs, build.protectors()]
    case["rule_sets"] = ["iec-60903-2014"]
    case["site"] = {"altitude_m": 140, "confirmed_in_print": "all"}
    facts = build.facts(case)
    assert [facts.wants_protectors(one) for one in facts.pieces[:2]] == [True, True]
    bare = build.facts({**case, "pieces": pairs})
    assert [bare.wants_protectors(one) for one in bare.pieces] == [False, False]


@pytest.mark.parametrize(("ohm", "amps", "holds"), [("0.0999", "0.2", True), ("0.09999", "0.2", True),
                                                   ("0.1", "0.2", False), ("0.09", "0.19999", False)])  # fmt: skip
def test_a_bond_is_held_to_a_tenth_of_an_ohm_and_two_tenths_of_an_ampere(ohm: str, amps: str, holds: bool) -> None:
    assert bond_holds(Decimal(ohm), Decimal(amps)) is holds
