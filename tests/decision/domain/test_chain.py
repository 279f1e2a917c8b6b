"""Marks and chains: no volts across categories, the states of caps, and which leads belong to which instrument."""

from __future__ import annotations

from datetime import date
from itertools import product
from typing import Any

import pytest

from app.decision.domain.calendar import Day
from app.decision.domain.chain import CATEGORIES, Mark, Member, offers, rank
from app.decision.domain.facts import Chains, Facts, Job, chain_name, chains_of
from app.decision.domain.member import member
from app.decision.domain.piece import Piece
from app.decision.domain.record import Inspection
from app.decision.judging.catalogues import catalogues

KINDS = catalogues().kinds
TODAY = date(2026, 3, 2)
III_1000 = (Mark("III", 1_000_000),)
II_1000 = (Mark("II", 1_000_000),)
BOTH = (Mark("III", 1_000_000), Mark("IV", 600_000))


@pytest.mark.parametrize(
    ("marks", "category", "mv"),
    [
        (BOTH, "II", 1_000_000), (BOTH, "III", 1_000_000), (BOTH, "IV", 600_000),
        (II_1000, "III", 0), (III_1000, "IV", 0), (III_1000, "II", 1_000_000),
        ((Mark("IV", 600_000), Mark("III", 300_000)), "III", 600_000),
        ((Mark("I", 1_000_000),), "II", 0), ((Mark("O", 1_000_000),), "II", 0), (III_1000, "O", 0), ((), "II", 0),
    ],
)  # fmt: skip
def test_offers(marks: tuple[Mark, ...], category: str, mv: int) -> None:
    assert offers(marks, category) == mv


def test_a_higher_category_never_offers_more() -> None:
    for pairs in product((0, 300_000, 600_000, 1_000_000), repeat=3):
        marks = tuple(Mark(category, mv) for category, mv in zip(CATEGORIES, pairs, strict=True) if mv)
        assert offers(marks, "II") >= offers(marks, "III") >= offers(marks, "IV")
    assert [rank(one) for one in ("O", "I", "II", "III", "IV")] == [-1, -1, 0, 1, 2]


@pytest.mark.parametrize(
    ("caps", "marks", "cap_off", "needed", "mv"),
    [
        (None, III_1000, None, 900_000, 1_000_000),
        (None, None, None, 900_000, None),
        ("present", III_1000, II_1000, 900_000, 1_000_000),
        ("present", None, III_1000, 900_000, None),
        ("missing", III_1000, II_1000, 900_000, 0),
        ("missing", II_1000, III_1000, 900_000, 1_000_000),
        ("missing", III_1000, None, 900_000, None),
        # Unknown: the cap-off mark counts where it reaches.
        ("unknown", None, III_1000, 1_000_000, 1_000_000),
        ("unknown", II_1000, III_1000, 1_000_000, 1_000_000),
        # It falls short and cap-on would do, or may do: nobody can tell.
        ("unknown", III_1000, II_1000, 1_000_000, None),
        ("unknown", None, II_1000, 1_000_000, None),
        ("unknown", III_1000, None, 1_000_000, None),
        # Neither would do: the shortfall is certain.
        ("unknown", III_1000, II_1000, 1_000_001, 0),
        ("unknown", III_1000, None, 1_000_001, 1_000_000),
        ("unknown", None, None, 1_000_000, None),
    ],
)
def test_the_states_of_caps(
    caps: str | None, marks: tuple[Mark, ...] | None, cap_off: tuple[Mark, ...] | None, needed: int, mv: int | None
) -> None:
    assert Member("W1", marks, cap_off, caps).offer("III", needed) == mv


def look(caps: str | None, on: date = TODAY, defects: tuple[str, ...] = ()) -> Inspection:
    return Inspection(on=Day.of(on), caps=caps, defects=defects)


OLD = date(2025, 9, 1)


@pytest.mark.parametrize(
    ("kind", "stated", "looks", "caps"),
    [
        ("multimeter", "missing", [look("present")], None),  # no caps on it, whatever is written
        ("test-leads", None, [], "unknown"),
        ("test-leads", "present", [], "unknown"),
        ("test-leads", "missing", [], "missing"),
        ("test-leads", None, [look("present")], "present"),
        ("test-leads", "missing", [look("present")], "missing"),
        ("test-leads", "present", [look("missing")], "missing"),
        ("test-leads", None, [look("present"), look("missing")], "missing"),
        ("test-leads", None, [look("present"), look("unknown")], "unknown"),
        ("test-leads", None, [look("present", OLD)], "unknown"),
        ("test-leads", None, [look("present", TODAY, ("cracked",))], "unknown"),
        ("test-leads", None, [look(None)], "unknown"),
        ("tip-or-clip", None, [], None),
        ("tip-or-clip", "present", [], "unknown"),
        ("tip-or-clip", None, [look("present")], "present"),
        ("tip-or-clip", None, [look("present", OLD)], "unknown"),
        ("two-pole-detector", None, [look(None)], None),
        ("two-pole-detector", "unknown", [look("present")], "present"),
    ],
)
def test_caps_count_as_present_only_by_todays_look(
    kind: str, stated: str | None, looks: list[Inspection], caps: str | None
) -> None:
    piece = Piece(code="W1", kind=kind, caps=stated, marks=III_1000, records=tuple(looks))
    assert member(facts(piece), piece).caps == caps


@pytest.mark.parametrize(("stated", "caps"), [(None, "unknown"), ("present", "present"), ("missing", "missing")])
def test_what_is_written_stands_where_the_rest_is_in_order(stated: str | None, caps: str) -> None:
    piece = Piece(code="W1", kind="test-leads", caps=stated)
    assert member(facts(piece, rest_in_order=True), piece).caps == caps


def facts(*pieces: Piece, **keys: Any) -> Facts:
    return Facts(on=TODAY, until=TODAY, job=Job(), pieces=pieces, kinds=KINDS, house=catalogues().house,
                 rule_sets=(), **keys)  # fmt: skip


def piece(code: str, kind: str, fixed: bool | None = None) -> Piece:
    return Piece(code=code, kind=kind, fixed_leads=fixed)


M1, M2 = piece("M1", "multimeter"), piece("M2", "multimeter", fixed=False)
D1 = piece("D1", "two-pole-detector", fixed=True)
W1, W2, C1 = piece("W1", "test-leads"), piece("W2", "test-leads"), piece("C1", "tip-or-clip")


def told(found: Chains) -> tuple[set[str], set[str], str]:
    return {chain_name(chain) for chain in found.chains}, {one.code for one in found.unassigned}, found.why


@pytest.mark.parametrize(
    ("pieces", "said", "answer"),
    [
        ((), (), (set(), set(), "")),
        ((D1,), (), ({"D1"}, set(), "")),
        ((M1,), (), ({"M1"}, set(), "")),
        ((M1, W1, C1), (), ({"M1+W1+C1"}, set(), "")),
        ((W1, C1, M1), (), ({"M1+W1+C1"}, set(), "")),
        ((D1, M1, W1), (), ({"D1", "M1+W1"}, set(), "")),
        ((D1, W1), (), ({"D1"}, {"W1"}, "chain.leads-without-instrument")),
        ((W1,), (), (set(), {"W1"}, "chain.leads-without-instrument")),
        ((M1, M2, W1), (), ({"M1", "M2"}, {"W1"}, "chain.say-which")),
        ((M1, M2, W1), (("M2", "W1"),), ({"M1", "M2+W1"}, set(), "")),
        ((M1, M2, W1, W2), (("M2", "W1"), ("M1", "W2")), ({"M1+W2", "M2+W1"}, set(), "")),
        ((M1, M2, W1, W2), (("M2", "W1"),), ({"M1", "M2+W1"}, {"W2"}, "chain.say-which")),
        ((M1, M2, W1), (("M9", "W1"),), ({"M1", "M2"}, {"W1"}, "chain.say-which")),
        # An instrument with its own leads takes no others, whatever is said.
        ((D1, M1, M2, W1), (("D1", "W1"),), ({"D1", "M1", "M2"}, {"W1"}, "chain.say-which")),
        ((M1, M2), (), ({"M1", "M2"}, set(), "")),
    ],
)
def test_which_parts_belong_to_which_instrument(
    pieces: tuple[Piece, ...], said: tuple[tuple[str, str], ...], answer: tuple[set[str], set[str], str]
) -> None:
    assert told(chains_of(pieces, KINDS, said)) == answer


def test_a_chain_is_named_by_its_codes() -> None:
    pieces = (Piece(code="M1", kind="multimeter"), Piece(code="W1", kind="test-leads"))
    assert chain_name(pieces) == "M1+W1"
