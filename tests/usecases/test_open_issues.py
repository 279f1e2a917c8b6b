"""A figure of a system that turns out wrong: whoever went out on it is named, because they are working on it now."""

from __future__ import annotations

from datetime import timedelta

import pytest

from app.decision.domain.entries import Name
from app.decision.judging.answers import OpenIssue, Saved
from app.outputs.documents.decision import as_values, build, said
from app.outputs.documents.saved import told
from app.usecases.add_system import add_circuit, add_system
from app.usecases.check_store import check_store
from app.usecases.desk import Desk
from app.usecases.issue_kit import issue_kit
from app.usecases.return_kit import return_kit
from tests.build import DAY, world
from tests.fakes import KIT, question

CIRCUIT = world()["job"]["circuits"][0]
READ = {**CIRCUIT, "reading_v": 900}
LAST = DAY + timedelta(days=2)


@pytest.fixture
def gone(desk: Desk) -> Name:
    """The kit of the good world, out with P1 for three days."""
    _, name = issue_kit(desk, "P0", question(until=LAST))
    assert name is not None
    return name


def keys(saved: Saved) -> list[str]:
    return [one.key for one in saved.told]


def test_a_reading_above_the_working_voltage_names_who_is_out_on_it(desk: Desk, gone: Name) -> None:
    saved = add_circuit(desk, "P0", "BUS", READ)
    assert keys(saved) == ["saved.replaced", "saved.working", "saved.reading-contradicts", "saved.open-issue"]
    line = told(saved.told[-1])
    assert all(word in line for word in (str(gone), "P1", LAST.isoformat(), *KIT)), line


def test_a_figure_put_right_names_who_is_out_on_the_one_before(desk: Desk, gone: Name) -> None:
    _ = gone
    saved = add_circuit(desk, "P0", "BUS", {**CIRCUIT, "plate_max_v": 950})
    assert keys(saved) == ["saved.replaced", "saved.working", "saved.open-issue"]


def test_a_system_entered_anew_names_them_too(desk: Desk, gone: Name) -> None:
    _ = gone
    saved = add_system(desk, "P0", {"code": "BUS", "name": "Bus", "circuits": [READ]})
    assert keys(saved) == ["saved.replaced", "saved.working", "saved.reading-contradicts", "saved.open-issue"]


@pytest.mark.usefixtures("gone")
def test_a_circuit_nobody_is_out_for_names_nobody(desk: Desk) -> None:
    assert keys(add_circuit(desk, "P0", "BUS", {**READ, "key": "charger-link"})) == [
        "saved.working", "saved.reading-contradicts",
    ]  # fmt: skip
    assert keys(add_system(desk, "P0", {"code": "VAN", "name": "Van"})) == []


@pytest.mark.usefixtures("gone")
def test_who_has_come_back_is_not_named(desk: Desk) -> None:
    return_kit(desk, "P0", KIT, {})
    assert keys(add_circuit(desk, "P0", "BUS", READ)) == [
        "saved.replaced",
        "saved.working",
        "saved.reading-contradicts",
    ]


def test_a_refusal_for_it_lists_them_until_it_is_mended(desk: Desk, gone: Name) -> None:
    add_circuit(desk, "P0", "BUS", READ)
    answer = check_store(desk, question(kit=()))
    assert answer.open_issues == (OpenIssue(gone, "P1", LAST, tuple(sorted(KIT))),)
    assert as_values(answer)["open_issues"] == [
        {"entry": str(gone), "person": "P1", "until": LAST.isoformat(), "pieces": sorted(KIT)}
    ]
    (line,) = said(answer).open_issues
    assert line in [one for section in build(answer).sections for one in section.lines]
    add_circuit(desk, "P0", "BUS", CIRCUIT)
    mended = check_store(desk, question(kit=()))
    assert mended.open_issues == ()
    assert "open_issues" not in as_values(mended)


def test_a_refused_issue_keeps_them_in_its_proof(desk: Desk, gone: Name) -> None:
    add_circuit(desk, "P0", "BUS", READ)
    return_kit(desk, "P0", KIT[:1], {})
    answer, name = issue_kit(desk, "P0", question(kit=KIT[:1]))
    assert not answer.verdict.may_be_issued
    assert [one.entry for one in answer.open_issues] == [gone]
    assert answer.open_issues[0].pieces == tuple(sorted(KIT[1:]))
    assert name is not None
