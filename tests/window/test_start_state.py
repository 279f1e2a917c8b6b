"""What beginning a register asks and says, without a window."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from app.compose import BadRow, DepotFile, SheetRows, demo_folder, read_rows
from app.decision.case.site import read_site
from app.decision.domain.calendar import Day
from app.decision.domain.errors import BadInput
from app.decision.domain.record import ElectricalTest
from app.decision.domain.register import Depot
from app.decision.judging.catalogues import catalogues
from app.window.places.start.state import (
    MOST_SAID,
    BeginState,
    about_set,
    cannot_serve,
    certificate_words,
    check_file_name,
    day_of_test,
    least_margin,
    margin_example,
    most_margin,
    sets_offered,
)


@pytest.fixture(scope="module")
def rows() -> SheetRows:
    return read_rows(demo_folder() / "shelf.xlsx", date(2026, 3, 2))


def filled(**changes: object) -> BeginState:
    plain: dict[str, object] = {
        "folder": Path("somewhere"), "file_name": "quarry", "code": "P01", "rule_set": "us-osha-137", "crib": "Workshop",
    }  # fmt: skip
    return BeginState(**{**plain, **changes})  # type: ignore[arg-type]  # names of its own fields


def test_nothing_is_chosen_beforehand_and_what_is_missing_is_named() -> None:
    assert BeginState().missing() == ["the name of the register", "your code", "the rule set", "the crib"]
    assert BeginState().review() == []
    assert filled().missing() == []


@pytest.mark.parametrize(
    ("field", "named"),
    [
        ("file_name", "the name of the register"),
        ("code", "your code"),
        ("rule_set", "the rule set"),
        ("crib", "the crib"),
    ],
)
def test_each_thing_that_is_needed_is_asked_for(field: str, named: str) -> None:
    assert filled(**{field: ""}).missing() == [named]


def test_a_place_that_is_refused_has_to_be_changed() -> None:
    assert filled(refused_where="There is a file of that name already.").missing() == ["another name or folder"]


def test_bad_rows_are_decided_about_and_a_row_counts_once_however_much_is_wrong_with_it(rows: SheetRows) -> None:
    bad = (BadRow("Gloves", 3, "G1", "one"), BadRow("Gloves", 3, "G1", "two"), BadRow("Gloves", 4, "", "three"))
    state = filled(rows=SheetRows(rows.good, bad, ()))
    assert state.missing() == ["whether to load without 2 rows"]
    state.leaves_out = True
    assert state.missing() == []
    assert any("rows left out: 2" in line for line in state.review())


def test_many_bad_rows_are_not_all_read_out() -> None:
    bad = tuple(BadRow("S", number, "", f"row {number}") for number in range(MOST_SAID + 7))
    said = filled(rows=SheetRows((), bad, ())).bad_words()
    assert len(said) == MOST_SAID + 1
    assert "7 more" in said[-1]
    assert len(filled(rows=SheetRows((), bad[:3], ())).bad_words()) == 3


def test_the_ending_is_added_once() -> None:
    assert filled().path == Path("somewhere/quarry.cuffdate")
    assert filled(file_name="quarry.cuffdate").path == Path("somewhere/quarry.cuffdate")


@pytest.mark.parametrize(
    "name", ["../up", "a/b", "a\\b", "c:", "what?", "a*", ".", "..", ".cuffdate", '"a"', "<a>", "a|b"]
)
def test_a_name_that_is_none_or_leads_elsewhere_is_refused(name: str) -> None:
    with pytest.raises(BadInput, match=r"start\.no-file-name"):
        check_file_name(name)


@pytest.mark.parametrize("name", ["quarry", "Quarry Lane 2", "\u00e4\u00f6\u00fc-1.2", "quarry.cuffdate"])
def test_plain_names_are_taken(name: str) -> None:
    check_file_name(name)


def test_a_certificate_is_named_by_day_laboratory_and_number_as_far_as_they_are_known() -> None:
    on = Day(date(2025, 11, 17), date(2025, 11, 17))
    full = ElectricalTest(on=on, lab="Lab One", certificate="C-7")
    assert certificate_words("G1", full) == "G1: test of 2025-11-17, laboratory Lab One, certificate C-7"
    assert certificate_words("G1", ElectricalTest()) == "G1: test of an unknown day"


def test_rows_show_the_day_of_their_latest_test(rows: SheetRows) -> None:
    shown = {row.piece.code: day_of_test(row) for row in rows.good}
    assert shown["G002"] == "2025-11-24"
    assert "" in shown.values()


def test_where_rows_go_that_name_no_crib_is_said(rows: SheetRows) -> None:
    assert filled(rows=rows).crib_words() == "Cribs the sheet names: Bus hall crib and Workshop crib."
    bare = SheetRows(tuple(type(row)(row.place, row.code, row.fields, row.piece, "") for row in rows.good[:2]), (), ())
    assert filled(rows=bare).crib_words() == "Rows that name no crib: 2; they go to Workshop."
    assert "a crib called main" in filled(rows=bare, crib="").crib_words()


def test_the_margin_in_the_review_is_the_one_that_will_hold() -> None:
    def said(state: BeginState) -> str:
        return next(line for line in state.review() if "margin" in line)

    brought = DepotFile({"site": {"margin_percent": 15}}, Depot())
    assert "as house policy says" in said(filled())
    assert "15 %, as the depot file says" in said(filled(brought=brought))
    assert "margin: 20 %" in said(filled(brought=brought, margin_percent=20))


def test_the_bounds_of_the_margin_are_the_houses_and_the_readers() -> None:
    read_site({"margin_percent": most_margin()}, "site")
    with pytest.raises(BadInput):
        read_site({"margin_percent": most_margin() + 1}, "site")
    assert least_margin() * 100 == max(catalogues().house.margin_bp.values())


def test_the_example_follows_house_policy() -> None:
    said = margin_example()
    margin = catalogues().house.margin_bp["cells"]
    assert f"margin to the working voltage: {margin / 100:g} % from cells" in said
    assert "96 cells of 4.2 V has 403.2 V" in said
    assert f"circuit needs {403.2 * (10_000 + margin) / 10_000:.2f} V" in said


def test_each_rule_set_says_what_it_covers_and_what_it_does_not() -> None:
    offered = dict(sets_offered())
    assert list(offered) == list(catalogues().rule_sets)
    assert [key for key, words in offered.items() if "house default" in words] == ["us-osha-137"]
    said = about_set("us-osha-137")
    own, _, others = said.partition("House policy alone applies to")
    assert "rubber insulating gloves" in own
    assert "multimeter" in others
    assert "rubber insulating gloves" not in others
    assert cannot_serve("us-osha-137") == ""
    assert cannot_serve("") == ""
    assert "Choose the law" in about_set("")


@pytest.mark.parametrize("key", [key for key, one in catalogues().rule_sets.items() if one.notices])
def test_a_rule_set_that_has_no_limits_for_dc_says_so_before_it_is_chosen(key: str) -> None:
    title = catalogues().rule_sets[key].title
    assert (
        f"{title}: no limits for DC were seen. Nothing can be issued under it on a traction battery."
        in cannot_serve(key)
    )


def test_goods_with_a_class_that_a_set_says_nothing_of_are_never_shown_as_fit() -> None:
    own, _, never = about_set("jp-351").partition("Never shown as fit under it")
    assert "insulating blanket" in never
    assert "insulating blanket" not in own
    assert "multimeter" in own
    assert about_set("en-60903-2003").startswith("EN 60903:2003. Limits")


def test_whether_anything_would_be_lost_is_known() -> None:
    assert not BeginState(folder=Path("x"), rule_set="us-osha-137").is_begun
    assert BeginState(code="P").is_begun
    assert BeginState(brought=DepotFile({}, Depot())).is_begun
