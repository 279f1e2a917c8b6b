"""Beginning a register: what is asked before, and what is entered in which order."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from app.compose import SheetRows, demo_folder, read_rows
from app.decision.domain.limits import SiteRules
from app.decision.domain.record import ElectricalTest
from app.decision.domain.register import Depot
from app.register.reads import register
from app.usecases.begin_register import Beginning, begin_register, waiting_for_certificates
from app.usecases.look_at_shelf import look_at_shelf
from app.usecases.set_rule import rules_now
from tests.build import DAY
from tests.fakes import desk_on

SET = "us-osha-137"


@pytest.fixture(scope="module")
def sheet() -> SheetRows:
    return read_rows(demo_folder() / "shelf.xlsx", DAY)


def begun(path: Path, **changes: Any) -> dict[str, Any]:
    """What stands in a register that was begun so."""
    desk = desk_on(path)
    begin_register(desk, Beginning(**{"by": "P01", "rule_set": SET, **changes}))
    now = rules_now(desk)
    found = {
        "people": set(desk.ask(register.people_kept)), "cribs": list(desk.ask(register.cribs)),
        "rules": {one.key: str(one.value) for one in now.kept}, "sets": [one.title for one in now.rule_sets],
        "states": {row.code: row.row.status.state for row in look_at_shelf(desk).rows},
        "cribs_of": {row.code: row.row.crib for row in look_at_shelf(desk).rows},
    }  # fmt: skip
    desk.store.close()
    return found


def test_the_first_person_enters_themselves_and_the_rule_set_is_an_entry_of_its_own(tmp_path: Path) -> None:
    found = begun(tmp_path / "x.cuffdate", crib="Workshop crib")
    assert (found["people"], found["cribs"], found["states"]) == ({"P01"}, ["Workshop crib"], {})
    assert "margin_percent" not in found["rules"]
    assert SET in found["rules"]["rule_sets"]


def test_a_margin_is_entered_where_one_was_filled_in(tmp_path: Path) -> None:
    assert begun(tmp_path / "x.cuffdate", crib="A", margin_percent=25)["rules"]["margin_percent"] == "25"


def test_who_begins_may_stand_in_the_depot_file_or_beside_it(tmp_path: Path) -> None:
    depot = {"people": [{"code": "P01", "role_words": "keeper"}, {"code": "P02"}]}
    assert begun(tmp_path / "in.cuffdate", crib="A", depot=depot)["people"] == {"P01", "P02"}
    assert begun(tmp_path / "by.cuffdate", crib="A", by="P09", depot=depot)["people"] == {"P01", "P02", "P09"}


def test_the_rule_set_chosen_holds_over_the_one_a_file_names_and_is_not_entered_twice(tmp_path: Path) -> None:
    depot = {"people": [{"code": "P01"}], "site": {"rule_sets": [SET]}}
    found = begun(tmp_path / "x.cuffdate", crib="A", depot=depot)
    assert SET in found["rules"]["rule_sets"]


def test_what_was_ticked_counts_and_nothing_else(sheet: SheetRows, tmp_path: Path) -> None:
    waiting = [code for code, _ in waiting_for_certificates(sheet.good, SET, None, DAY)]
    before = begun(tmp_path / "none.cuffdate", rows=sheet.good)["states"]
    unseen = {code for code, state in before.items() if state == "certificate-not-seen"}
    assert unseen <= set(waiting)
    chosen = sorted(unseen)[:2]
    after = begun(tmp_path / "two.cuffdate", rows=sheet.good, seen=tuple(chosen))["states"]
    assert {code for code in before if before[code] != after[code]} == set(chosen)


def test_waiting_are_tests_without_figures_too_and_those_of_labs_a_site_does_not_list(sheet: SheetRows) -> None:
    def waiting(depot: Depot | None = None) -> Mapping[str, ElectricalTest]:
        return dict(waiting_for_certificates(sheet.good, SET, depot, DAY))

    plain = waiting()
    assert {one.evidence for one in plain.values()} == {"sheet-only", "stated-pass"}
    # Where an approver has let stated passes count, those of the laboratories that are listed wait no more.
    approved = {"figures_required": False, "approvals_taken_as_given": True}
    relaxed = waiting(Depot(site=SiteRules(**approved)))  # type: ignore[arg-type]  # names of its own fields
    assert {one.evidence for one in relaxed.values()} == {"sheet-only"}
    other = waiting(Depot(site=SiteRules(labs=("Some Other House",), **approved)))  # type: ignore[arg-type]
    assert set(relaxed) < set(other) <= set(plain)
    assert dict(waiting_for_certificates(sheet.good, "", None, DAY)) == plain, "the house's own set until one is chosen"
    assert waiting_for_certificates((), SET, None, date(2026, 3, 2)) == ()


def test_rows_that_name_no_crib_go_to_the_one_filled_in(sheet: SheetRows, tmp_path: Path) -> None:
    first, second = sheet.good[:2]
    bare = type(first)(first.place, first.code, first.fields, first.piece, "")
    found = begun(tmp_path / "x.cuffdate", crib=second.crib, rows=(second, bare))
    assert set(found["cribs_of"].values()) == {second.crib}
    assert found["cribs"] == [second.crib]
