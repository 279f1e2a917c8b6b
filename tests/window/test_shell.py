from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtWidgets import QLineEdit

from app.usecases.desk import Desk
from app.usecases.hold_piece import hold_piece
from tests.drive import Drive
from tests.fakes import FixedClock, desk_on


def test_a_register_opens_and_the_counter_is_shown_first(drive: Drive) -> None:
    assert drive.main.place == "counter"
    assert "crib is open" in drive.line
    drive.go("shelf")
    assert drive.main.place == "shelf"


def test_a_scan_of_something_nobody_knows_is_said_and_changes_nothing(drive: Drive) -> None:
    drive.scan("NOBODY")
    assert "NOBODY" in drive.line
    drive.scan("CD00001P")
    assert "misread" in drive.line


def test_at_midnight_the_day_and_everything_shown_are_asked_anew(drive: Drive, clock: FixedClock) -> None:
    assert "2026-03-02" in drive.window.bar.day.text()
    drive.scan("G1")
    assert "check due" not in drive.said()
    clock.at(date(2026, 3, 3))
    drive.window._look_for_midnight()
    drive.settle()
    assert "2026-03-03" in drive.window.bar.day.text()
    assert "inspect today" in drive.said()


def test_what_another_counter_enters_is_shown_here_without_asking(drive: Drive, register: Path) -> None:
    drive.scan("G1")
    drive.window.doors._look_for_others()
    drive.settle()
    other = desk_on(register)
    hold_piece(other, "P0", ["G1"], "suspect")
    other.store.close()
    assert "on hold" not in drive.said()
    drive.window.doors._look_for_others()
    drive.settle()
    assert "on hold" in drive.said()


def answering(word: str) -> Callable[[Desk], str]:
    return lambda _: word


def test_a_late_answer_to_a_question_asked_anew_is_dropped(drive: Drive) -> None:
    heard: list[str] = []
    for word in ("old", "new"):
        drive.window.doors.ask(answering(word), heard.append, lambda _: None, owner=drive.main, slot="one")
    drive.settle()
    assert heard == ["new"]


def test_what_was_done_is_told_even_if_nobody_waits_any_more(drive: Drive) -> None:
    heard: list[str] = []
    for word in ("one", "two"):
        drive.window.doors.change(answering(word), heard.append, lambda _: None, subjects=())
    drive.settle()
    assert heard == ["one", "two"]


def test_closing_asks_where_something_would_be_lost(drive: Drive) -> None:
    drive.scan("G1")
    drive.ask.answers.append(("", ""))
    drive.main.close()
    assert drive.main.isVisible()
    assert "G1" in drive.ask.asked[0].lines[1]
    drive.ask.answers.append(("close", ""))
    drive.main.close()
    drive.until(lambda: not drive.main.isVisible())


@pytest.mark.parametrize("place", ["shelf", "due"])
def test_a_list_left_open_is_shown_before_the_register_is_open_and_then_whole(
    place: str, register: Path, drives: Callable[[Path | None], Drive], own_settings: None
) -> None:
    from app.window.desktop import remember

    remember("place", place)
    drive = drives(register)
    assert drive.main.place == place
    assert all(one.isEnabled() for one in drive.main.buttons.values())
    assert drive.screen.model.total == 6
    # Scanner and guards listen only once rows are shown: from then on a scan is a scan, and types nothing.
    drive.scan("nothing-known")
    assert "nothing-known" in drive.line
    assert drive.screen.findChild(QLineEdit).text() == ""
    drive.go("counter")
    assert drive.main.place == "counter"


def test_a_glance_at_what_is_no_whole_register_shows_nothing_and_the_opening_says_why(
    tmp_path: Path, drives: Callable[[Path | None], Drive]
) -> None:
    from app.window.desktop import remember

    remember("place", "shelf")
    path = tmp_path / "crib.cuffdate"
    path.write_text("Dear all", encoding="utf-8")
    drive = drives(path)
    drive.settle()
    assert "crib.cuffdate" in drive.line
    assert drive.main.place == ""
