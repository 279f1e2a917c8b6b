"""The confirm-in-print list: each figure ticked off by name, on a day, against a document, and none dropped by another."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from msgspec.structs import replace

from app.decision.domain.entries import Name
from app.decision.judging.figures_known import every_figure
from app.register.canonical import canonical
from app.register.reads.lines import lines_about
from app.register.reads.site_rules import Confirmation, confirmations, depot_rules
from app.usecases.add_piece import add_piece
from app.usecases.books import the_site
from app.usecases.confirm_figures import confirm_figures, figures_now, withdraw_confirmations
from app.usecases.desk import Desk
from app.usecases.set_rule import rules_now, set_rule
from app.usecases.show_piece import show_piece
from tests.build import DAY, gloves
from tests.fakes import FixedClock, desk_on
from tests.usecases.conftest import Refused

FIRST, SECOND, HOUSE = "us-osha-137/current/1/360", "us-osha-137/retest/ac/00", "house/clearance/astm-f496/0"
SLEEVES = "iec-60903-2014/interval/rubber-sleeves"
COPY = "29 CFR 1910.137, Table I-1, own copy"


def kept(desk: Desk) -> dict[str, tuple[str, date | None, str]]:
    return {key: (one.by, one.on, one.document) for key, one in desk.ask(confirmations).items()}


def in_print(desk: Desk) -> set[str]:
    confirmed = desk.ask(depot_rules).site.confirmed_in_print
    assert confirmed is not None
    return set(confirmed)


def test_each_figure_keeps_its_own_name_day_and_document(desk: Desk) -> None:
    confirm_figures(desk, "P9", [FIRST, HOUSE], COPY, DAY - timedelta(days=9))
    confirm_figures(desk, "P0", [SECOND], "  another copy ")
    assert kept(desk) == {
        FIRST: ("P9", DAY - timedelta(days=9), COPY), HOUSE: ("P9", DAY - timedelta(days=9), COPY),
        SECOND: ("P0", DAY, "another copy"),
    }  # fmt: skip
    assert in_print(desk) == {FIRST, SECOND, HOUSE}
    said = desk.ask(lambda connection: lines_about(connection, SECOND))
    assert [(one.kind, one.actor, one.content["reason"]) for one in said] == [("site_rule", "P0", "another copy")]


def test_a_retest_clock_from_memory_is_confirmed_like_any_figure(desk: Desk) -> None:
    confirm_figures(desk, "P9", [SLEEVES], "IEC 60984, own copy")
    assert in_print(desk) == {SLEEVES}


def test_the_same_again_stands_and_of_several_only_the_new_is_entered(desk: Desk, refused: Refused) -> None:
    first = confirm_figures(desk, "P9", [FIRST, FIRST], COPY)
    assert len(first.entries) == 1
    for on in (None, DAY - timedelta(days=3)):
        told = refused(lambda on=on: confirm_figures(desk, "P9", [FIRST], COPY, on))  # type: ignore[misc]
        assert (told.key, told.thing, told.values["entry"]) == ("entry.stands", FIRST, (str(first.entries[0]),))
    both = confirm_figures(desk, "P9", [FIRST, SECOND], COPY)
    assert len(both.entries) == 1
    assert [one.values["figure"] for one in both.told if one.key == "saved.figure-stands"] == [FIRST]


def test_somebody_else_or_another_document_confirms_it_anew_and_the_earlier_stays_in_its_history(desk: Desk) -> None:
    confirm_figures(desk, "P9", [FIRST], COPY)
    confirm_figures(desk, "P0", [FIRST], COPY)
    confirm_figures(desk, "P0", [FIRST], "the edition after it")
    assert kept(desk) == {FIRST: ("P0", DAY, "the edition after it")}
    said = desk.ask(lambda connection: lines_about(connection, FIRST))
    assert [one.actor for one in said] == ["P9", "P0", "P0"]


@pytest.mark.parametrize(
    ("figures", "document", "on", "key", "value"),
    [
        (["us-osha-137/current/1/36"], COPY, None, "rules.unknown-figure", "us-osha-137/current/1/360"),
        ([FIRST, "us-osha-137/interval/rubber-glove"], COPY, None, "rules.unknown-figure",
         "us-osha-137/interval/rubber-gloves"),
        (["us-osha-137/current/1/"], COPY, None, "rules.unknown-figure", ""),
        (["us-osha-137/retest/ac/0"], COPY, None, "rules.figure-seen", "P"),
        (["us-osha-137/use/ac/0"], COPY, None, "rules.figure-seen", "S"),
        (["us-osha-137/use/dc/0"], COPY, None, "rules.figure-seen", "T"),
        (["house/inflation/I"], COPY, None, "rules.figure-seen", "H"),
        (["us-osha-137/interval/rubber-gloves"], COPY, None, "rules.figure-seen", "S"),
        ([FIRST], None, None, "rules.confirm-document", None), ([FIRST], " \t", None, "rules.confirm-document", None),
        ([FIRST], COPY, DAY + timedelta(days=1), "entry.ahead", None), ([], COPY, None, "rules.no-figure", None),
        ([""], COPY, None, "rules.unknown-figure", None), (["all"], COPY, None, "rules.unknown-figure", None),
    ],
)  # fmt: skip
def test_what_cannot_be_confirmed_is_named_and_nothing_is(  # the columns above
    figures: list[str], document: str | None, on: date | None, key: str, value: str | None, desk: Desk, refused: Refused
) -> None:
    told = refused(lambda: confirm_figures(desk, "P9", figures, document, on))
    assert told.key == key
    if value:
        assert value in (told.values.get("nearest"), told.values.get("letter"))


def test_only_a_person_of_the_register_confirms(desk: Desk, refused: Refused) -> None:
    assert refused(lambda: confirm_figures(desk, "P99", [FIRST], COPY)).key == "by.unknown"
    assert refused(lambda: withdraw_confirmations(desk, "P99", [FIRST], "so")).key == "by.unknown"


def test_one_is_taken_back_with_a_reason_and_the_others_stay(desk: Desk, refused: Refused) -> None:
    confirm_figures(desk, "P9", [FIRST, SECOND], COPY)
    for reason in (None, "  "):
        told = refused(lambda reason=reason: withdraw_confirmations(desk, "P9", [FIRST], reason))  # type: ignore[misc]
        assert told.key == "rules.unconfirm-reason"
    assert refused(lambda: withdraw_confirmations(desk, "P9", [HOUSE], "so")).key == "rules.not-confirmed"
    assert refused(lambda: withdraw_confirmations(desk, "P9", [FIRST, HOUSE], "so")).key == "rules.not-confirmed"
    assert refused(lambda: withdraw_confirmations(desk, "P9", ["house/inflation/I"], "so")).key == "rules.figure-seen"
    assert refused(lambda: withdraw_confirmations(desk, "P9", ["no such"], "so")).key == "rules.unknown-figure"
    assert refused(lambda: withdraw_confirmations(desk, "P9", [], "so")).key == "rules.no-figure"
    withdraw_confirmations(desk, "P9", [FIRST], "read in a draft")
    assert in_print(desk) == {SECOND}
    assert refused(lambda: withdraw_confirmations(desk, "P9", [FIRST], "so")).key == "rules.not-confirmed"
    confirm_figures(desk, "P9", [FIRST], COPY)
    assert in_print(desk) == {FIRST, SECOND}


def test_a_pair_counts_as_tested_when_its_figures_are_seen_and_waits_again_when_one_is_taken_back(desk: Desk) -> None:
    test = {
        "what": "electrical-test", "on": DAY - timedelta(days=30), "test_v": 10_000, "kind_of_current": "ac",
        "frequency_hz": 60, "dwell_s": 60, "left_ma": 7, "right_ma": 7, "evidence": "figures",
    }  # fmt: skip
    add_piece(desk, "P0", {**gloves("G5"), "class": "1", "length_mm": 360, "records": [test]})
    assert stands(desk) == ("cannot-tell", (FIRST,))
    confirm_figures(desk, "P9", [FIRST], COPY)
    assert stands(desk) == ("inspect-today", ())
    withdraw_confirmations(desk, "P9", [FIRST], "read in a draft")
    assert stands(desk) == ("cannot-tell", (FIRST,))


def stands(desk: Desk) -> tuple[str, tuple[str, ...]]:
    """State and the figures the newest test of G5 waits for."""
    card = show_piece(desk, "G5")
    assert card.test is not None
    return card.row.status.state, tuple(one.key for one in card.test.unconfirmed)


def test_the_list_is_of_the_sites_sets_and_house_policy_or_of_those_named(desk: Desk, refused: Refused) -> None:
    confirm_figures(desk, "P9", [FIRST, HOUSE], COPY)
    figures, confirmed, titles = figures_now(desk)
    keys = [one.key for one in figures]
    assert len(keys) == len(set(keys))
    assert {key.split("/")[0] for key in keys} == {"us-osha-137", "house"}
    assert "us-osha-137/interval/rubber-gloves" in keys
    assert titles == ("US 1910.137 (adopted practice)",)
    assert confirmed[FIRST].by == "P9"
    waiting = {one.key for one in figures_now(desk, unseen=True)[0]}
    assert waiting == {one.key for one in figures if one.figure.confidence == "M"} - {FIRST, HOUSE}
    others = {one.key for one in figures_now(desk, ["en-60903-2003", "jp-351"], unseen=True)[0]}
    assert "en-60903-2003/interval/rubber-sleeves" in others
    assert {key.split("/")[0] for key in others} == {"en-60903-2003", "house"}
    told = refused(lambda: figures_now(desk, ["en-60903"]))
    assert (told.key, told.values["nearest"]) == ("rules.unknown-set", "en-60903-2003")


def test_every_figure_stands_once_with_the_kinds_that_lean_on_it() -> None:
    known = every_figure()
    assert known["us-osha-137/use/ac/00"].kinds == ("rubber-gloves", "composite-gloves")
    assert "rubber-sleeves" in known["us-osha-137/use/ac/0"].kinds
    assert known["us-osha-137/dielectric-footwear/use/ac/0"].kinds == ("dielectric-footwear",)
    assert known["iec-60903-2014/insulating-matting/use/dc/0"].kinds == ("insulating-matting",)
    assert known["us-osha-137/repair-place"].kinds == ("rubber-gloves", "composite-gloves")
    assert known[HOUSE].kinds == ("rubber-gloves", "composite-gloves")
    assert known["us-osha-137/current/1/360"].kinds == ("rubber-gloves", "composite-gloves")
    of_kit = [one for one in known.values() if one.is_from_memory and not one.kinds]
    assert {"/".join(one.key.split("/")[1:]) for one in of_kit} == {"test-dwell/most", "phase-to-earth"}


def _earlier_form(desk: Desk, value: object, by: str | None = None, document: str | None = None) -> Name:
    """The list as one row, as it was kept before figures had rows of their own."""
    with desk.write("P9", books=the_site) as unit:
        row = {"key": "confirmed_in_print", "revision": 1, "value": canonical(value), "approved_by": by}
        return unit.add("site", "site_rule", "confirmed_in_print", {**row, "reason": document})


def test_a_list_of_the_earlier_form_still_confirms_and_loses_nothing_by_what_is_added(desk: Desk) -> None:
    _earlier_form(desk, [FIRST, SECOND], document="a copy of long ago")
    assert in_print(desk) == {FIRST, SECOND}
    confirm_figures(desk, "P0", [HOUSE, SECOND], COPY)
    assert in_print(desk) == {FIRST, SECOND, HOUSE}
    seen = figures_now(desk)[1]
    assert (seen[FIRST].by, seen[FIRST].on, seen[FIRST].document) == ("P9", DAY, "a copy of long ago")
    assert seen[SECOND].by == "P0"
    withdraw_confirmations(desk, "P9", [FIRST], "not in the edition in force")
    assert in_print(desk) == {SECOND, HOUSE}
    now = rules_now(desk)
    assert (now.confirmed, now.waiting) == (2, len(figures_now(desk, unseen=True)[0]))
    assert all(not one.key.startswith("confirmed") for one in now.kept)


def test_the_word_all_of_worked_cases_confirms_nothing_in_a_register(desk: Desk) -> None:
    _earlier_form(desk, "all")
    assert in_print(desk) == set()
    confirm_figures(desk, "P9", [FIRST], COPY)
    assert in_print(desk) == {FIRST}


@pytest.mark.parametrize("value", ["all", [FIRST], [], None])
def test_the_list_is_not_set_as_a_whole(value: object, desk: Desk, refused: Refused) -> None:
    confirm_figures(desk, "P9", [SECOND], COPY)
    told = refused(lambda: set_rule(desk, "P9", {"warning_days": 20, "confirmed_in_print": value}, "P9", "so"))
    assert told.key == "rules.confirm-apart"
    assert in_print(desk) == {SECOND}


def test_what_is_confirmed_is_read_the_same_by_another_desk(desk: Desk, clock: FixedClock) -> None:
    confirm_figures(desk, "P9", [FIRST], COPY)
    other = desk_on(desk.store.path, clock)
    there = other.ask(confirmations)
    other.store.close()
    assert [replace(one, entry=0, at=clock.moment) for one in there.values()] == [
        Confirmation(FIRST, "P9", DAY, COPY, 0, clock.moment)
    ]
