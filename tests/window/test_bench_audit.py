"""The accessibility audit over every form of the bench, with everything in it that can be there."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.usecases.add_piece import add_piece
from app.words.catalogue import CATALOGUE
from tests.build import plain
from tests.drive import Drive
from tests.fakes import desk_on
from tests.window import audit
from tests.window.test_bench import at_test, scan_list
from tests.words import languages


def air(drive: Drive) -> None:
    drive.scan("G1")
    form = drive.screen.forms["air"]
    drive.click(form.cards["left"].defect)
    drive.click(form.defects["hole"])


def air_failed(drive: Drive) -> None:
    air(drive)
    drive.click(drive.screen.forms["air"].failed)


def electrical(drive: Drive) -> None:
    at_test(drive, occasion="acceptance", left_ma="17")


def unreadable(drive: Drive) -> None:
    at_test(drive, test_v="5,000", on="31.2.26")


def plainly(choice: str, code: str) -> Callable[[Drive], None]:
    def show(drive: Drive) -> None:
        drive.scan(code)
        drive.click(drive.screen.choices[choice])

    return show


def held(drive: Drive) -> None:
    drive.enter_as("P0")
    plainly("hold", "G1")(drive)
    form = drive.screen.forms["hold"]
    drive.type_in(form.by_key["why"], "defect")
    drive.click(form.save_key)
    drive.click(drive.screen.choices["release"])


def repair(drive: Drive) -> None:
    plainly("repair", "G1")(drive)
    form = drive.screen.forms["repair"]
    drive.type_in(form.by_key["how"], "trimmed")
    drive.type_in(form.by_key["place"], "finger")


def inspection(drive: Drive) -> None:
    look = scan_list(drive, "L1", "D1", "M1", "G1")
    look.lines["D1"].defect.setCurrentIndex(2)
    look.lines["M1"].jack.setCurrentIndex(3)
    QTest.keyClicks(look.lines["G1"].clearance, "1,500")
    drive.settle()


SHOWN: dict[str, Callable[[Drive], None]] = {
    "nothing": lambda _: None, "air": air, "air failed": air_failed, "electrical": electrical,
    "unreadable": unreadable, "self-test": plainly("self-test", "U1"), "event": plainly("event", "G1"),
    "on-hold": held, "repair": repair, "inspection": inspection, "calibration": plainly("calibration", "M1"),
}  # fmt: skip


@pytest.fixture
def with_meter(register: Path) -> Path:
    desk = desk_on(register)
    add_piece(desk, "P0", plain("M1", "multimeter"))
    desk.store.close()
    return register


def at_bench(register: Path, drives: Callable[[Path], Drive]) -> Drive:
    drive = drives(register)
    drive.main.resize(1024, 640)
    drive.go("bench")
    return drive


@pytest.fixture
def bench(with_meter: Path, drives: Callable[[Path], Drive]) -> Drive:
    return at_bench(with_meter, drives)


@pytest.mark.parametrize("view", SHOWN)
def test_names_targets_and_words_at_the_smallest_size(view: str, bench: Drive) -> None:
    SHOWN[view](bench)
    assert audit.without_name(bench.main) == []
    assert audit.too_small(bench.main) == []
    assert list(audit.clipped(bench.main)) == []
    assert audit.outside(bench.main) == []
    assert (bench.main.width(), bench.main.height()) == (1024, 640)


@pytest.mark.parametrize("view", ["air", "electrical", "inspection"])
def test_tab_comes_to_everything(view: str, bench: Drive) -> None:
    SHOWN[view](bench)
    bench.main.activateWindow()
    bench.until(lambda: QApplication.focusWidget() is not None)
    assert audit.not_reached(bench.main) == []


@pytest.mark.parametrize("view", ["nothing", "air", "electrical", "on-hold", "inspection"])
def test_words_40_percent_longer_still_fit(view: str, with_meter: Path, drives: Callable[[Path], Drive]) -> None:
    with CATALOGUE.spoken(languages.longer()):
        drive = at_bench(with_meter, drives)
        SHOWN[view](drive)
        assert list(audit.clipped(drive.main)) == []
        assert audit.outside(drive.main) == []
        assert (drive.main.width(), drive.main.height()) == (1024, 640)


def test_the_keys_that_save_wait_until_the_result_stands_there(bench: Drive) -> None:
    bench.enter_as("P0")
    form = at_test(bench)
    line = form.by_key["laboratory"].line
    bench.main.activateWindow()
    bench.until(lambda: QApplication.focusWidget() is not None)
    line.setFocus()
    QTest.keyClicks(line, "Northgate Test House")
    # Too early: what it would be is not known yet.
    QTest.keyClick(line, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert "Read the result" in bench.line
    bench.settle()
    QTest.keyClick(line, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    bench.settle()
    assert "Saved as" in bench.line
