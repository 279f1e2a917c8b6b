"""A second language is one file: in a made-up one nothing is left in English, wherever the program speaks.

The made-up language has letters of its own and the numbers, lists and months of Greek. A word in plain letters is then one
that code has made, or one of those `plain_words` lists as no language.
"""

from __future__ import annotations

import json
import os
import re
import shlex
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QAbstractButton, QComboBox, QLabel, QLineEdit, QPlainTextEdit, QTableView, QWidget

from app.cli.demo_register import build
from app.cli.program import COMMANDS
from app.outputs.paper import plain_text
from app.outputs.pictures.scene import Words
from app.window.paint import SceneView
from app.words.catalogue import CATALOGUE
from app.words.vocabulary import PLACES
from tests.conftest import ROOT, Cli
from tests.drive import Drive, fixed_clock
from tests.fakes import FixedClock, stocked
from tests.words.languages import pseudo
from tests.words.plain_words import DEMO, TYPED, headings, plain_words

JOB = "--system BUS-198 --task isolate-and-prove-dead --person P03 --on 2026-03-02"
# What people typed in one word each: circuits, a pool, a leather, chemistries, roles; and a key named with its value.
ONE_WORD = (
    "hv",
    "defects",
    "frob",
    "nowhere",
    "abc",
    "Bus",
    "keeper",
    "technician",
    "traction",
    "battery",
    "training",
    "goat",
    "nmc",
    "lfp",
    "nimh",
)
# Asked of the demo's register, which holds an entry of every sort.
ASKED = (
    f"check {JOB} --kit G005 P004 N001 L004 U003 B003 K003 --met --sources",
    f"check {JOB} --until 2026-03-06 --kit G001 P001 D001 U001 B001 K001 --met", f"check {JOB} --kit G020 G038 G009",
    "check --system STORE-384 --task work-in-open-live-pack --person P05 --second P04 --kit G002 N004 L007 X014 H003",
    "due", "due --within 30 --on 2026-03-02", "due --format csv", "verify", "rules figures",
    "rules figures --unseen", "rules figures --format csv", "history P03", "history BUS-198", "history BAG-BUS",
    "history QL-0001", "history figures_required", "history margin_percent",
    *(f"show {code}" for code in ("G015", "G020", "G021", "G009", "N001", "D001", "L007", "U001", "X014", "P001", "S001")),
)  # fmt: skip
WITHOUT = (
    "self-check", "calculate retest-due test_on=2026-01-15", "calculate working-voltage cells.series=96 cells.chemistry=nmc",
    "calculate", "calculate arc-energy system_v=250 fault_current_a=4000", "due --sheet demo_data/shelf.xlsx --on 2026-03-02",
    "judge tests/decision/rulesets/cases --all",
)  # fmt: skip
WRONG = (
    "", "frob", "due --frob", "due --within x", "due --within", "due --on 2.3.2026", "due --headings=3", "due --piece",
    "confirm frob G1 --store X --by P0", "issue", "due --format frob", "due --store nowhere.cuffdate", "due",
    "check --store X --sheet Y", "due --sheet nowhere.csv --on 2026-03-02", "judge nowhere.toml", "judge demo_data",
    "judge demo_data/demo.toml", "calculate frob", "calculate frob=1", "calculate retest-due", "calculate retest-due test_on=x",
    "add", "load nowhere.toml --store X --by P0", "due --sheet README.md --on 2026-03-02",
)  # fmt: skip
# Entered in the register of the good world, one after the other: what is saved, and what is refused.
ENTERED = (
    "log inspection G1 D1 --defect D1:cracked", "log inspection L1 caps=present", "hold G1 --why frob", "hold G1 --why suspect",
    "release G1", "log air-test G1 left=passed right=passed inflation=1.25", "log electrical-test G1 on=2026-02-20 test_v=5000",
    "log electrical-test G1 on=2026-02-21 result=failed lab=L9 evidence=stated-pass", "log calibration D1 on=2026-02-01 result=passed",
    "log event G1 kind=dropped", "log event G1 kind=dropped", "repair G1 kind=patched place=cuff on=2026-02-20",
    "hand-over B1 --to pool:P9", "hand-over B1 --to frob", "return B1 --defect B1:frob", "return B1", "reserve K1 --person P1 --from 2026-03-05",
    "alias X-1 B1", "bag BAG1 B1 K1", "stocktake B1 K1 ZZ", "transfer B1 --to frob", "taken-without-issue U1 --person P1",
    "recall --label frob --reason frob", "recall --lab frob --reason frob", "withdraw K1 --reason frob", "confirm certificate-seen G1",
    "make-pair G1 D1 --code PP", "correct main:1 --reason frob", "correct main:12 --reason frob", "correct frob --reason frob",
    "add crib other", "add piece N7 kind=multimeter marks=III:1000 fixed_leads=false", "add piece N7 kind=frob", "add piece N7 frob",
    "add person P7 scopes=isolate", "add circuit BUS.hv supply=isolated-dc nominal_v=400", "add system VAN", "history G1", "history D1",
    "show G1", "rules set altitude_m=200 --by P9", "rules set margin_percent=2 --by P9", "rules set frob=1", "rules confirm frob",
    "issue --system BUS --task isolate-and-prove-dead --person P1 --from 2026-03-02 --until 2026-03-03 --kit G1 L1", "verify",
)  # fmt: skip


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's register, entered while English was spoken: what it keeps is no text."""
    path = tmp_path_factory.mktemp("demo") / "QL1.cuffdate"
    build(DEMO, path)
    return path


@pytest.fixture(autouse=True)
def spoken(demo: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    # Wide enough that no clause of several words is parted.
    monkeypatch.setattr(plain_text, "WIDTH", 100_000)
    monkeypatch.setattr(plain_text, "_WIDEST", 10_000)
    with CATALOGUE.spoken(pseudo()):
        yield


def test_a_word_that_code_makes_is_found_and_what_is_no_language_is_not() -> None:
    assert plain_words("ŕéťéśť due", ["X"]) == ["due"]
    assert plain_words("ĺíśť: one piece and G001", ["X"]) == ["one", "piece", "and"]
    said = "5.000 V, 9,5 in, --leave-out rules.toml us-osha-137/use/dc/0 two-pole-detector Workshop crib 1910.137 Table I-5"
    assert plain_words(said) == []


def left_in(cli: Cli, line: str, *typed: str) -> dict[str, list[str]]:
    """What a command line prints that is of no catalogue, by the command line."""
    try:
        said = cli(*shlex.split(line))
    except SystemExit:
        return {}
    assert "Traceback" not in said.err, said.err
    plain = plain_words(f"{said.out}\n{said.err}", (*typed, *ONE_WORD))
    return {line: plain} if plain else {}


def merged(found: Iterator[dict[str, list[str]]]) -> dict[str, list[str]]:
    return {line: plain for one in found for line, plain in one.items()}


def test_no_command_says_an_english_word(cli: Cli, demo: Path) -> None:
    here = [f"{line} --store {demo}" for line in ASKED]
    assert merged(left_in(cli, line) for line in here) == {}
    # What may be looser is told as it is typed.
    assert left_in(cli, f"rules show --store {demo}", *TYPED, "= false", "= iec") == {}


def test_no_answer_without_a_register_has_an_english_word(cli: Cli) -> None:
    assert merged(left_in(cli, line, *TYPED, *headings()) for line in WITHOUT) == {}


def test_no_complaint_has_an_english_word(cli: Cli) -> None:
    # The unknown key of a file is said as the file has it.
    assert merged(left_in(cli, line, *TYPED, "steps", "case") for line in WRONG) == {}


def test_no_entry_is_answered_in_english(cli: Cli, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    clock = fixed_clock(monkeypatch, FixedClock())
    path = tmp_path / "crib.cuffdate"
    stocked(path, clock).store.close()
    lines = (
        f"{line} --store {path}"
        + ("" if "--by" in line or line.startswith(("history", "show", "verify")) else " --by P0")
        for line in ENTERED
    )
    assert merged(left_in(cli, line, *TYPED) for line in lines) == {}


@pytest.mark.parametrize("name", COMMANDS)
def test_help_is_of_the_catalogue(name: str, cli: Cli, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        cli(name, "--help")
    assert plain_words(capsys.readouterr().out, TYPED) == []


def test_the_first_help_is_of_the_catalogue(cli: Cli) -> None:
    assert plain_words(cli("--help").out, TYPED) == []


def test_no_picture_has_an_english_word(cli: Cli, demo: Path, tmp_path: Path) -> None:
    drawn = tmp_path / "drawn.svg"
    lines = (
        f"check --store {demo} {JOB} --kit G005 P004 N001 L004 U003 B003 K003", f"due --store {demo} --piece G028",
        f"due --store {demo} --within 30", f"due --store {demo} --piece N004", f"due --store {demo} --piece G038",
    )  # fmt: skip
    for line in lines:
        cli(*shlex.split(line), "--picture", str(drawn))
        texts = [part.partition("<")[0] for part in drawn.read_text(encoding="utf-8").split(">")]
        words = "\n".join(texts)
        assert plain_words(words, ONE_WORD) == [], line
        assert re.findall(r"\d{4}-\d{2}", words) == [], line


def said_by(window: QWidget) -> Iterator[str]:
    """Every text of a window: shown, read out, as a hint, in lists and in pictures."""
    for widget in (window, *window.findChildren(QWidget)):
        yield from (widget.windowTitle(), widget.toolTip(), widget.accessibleName(), widget.accessibleDescription())
        if isinstance(widget, (QAbstractButton, QLabel)):
            yield widget.text()
        if isinstance(widget, QLineEdit):
            yield widget.placeholderText()
        if isinstance(widget, QPlainTextEdit):
            yield widget.toPlainText()
        if isinstance(widget, QComboBox):
            yield from (widget.itemText(row) for row in range(widget.count()))
        if isinstance(widget, SceneView) and widget.scene is not None:
            yield from (item.text for item in widget.scene.items if isinstance(item, Words))
        if isinstance(widget, QTableView) and widget.model() is not None:
            yield from _listed(widget.model())
    for action in window.findChildren(QAction):
        yield from (action.text(), action.toolTip())


def _listed(model: Any) -> Iterator[str]:
    columns = range(model.columnCount(QModelIndex()))
    yield from (str(model.headerData(column, Qt.Orientation.Horizontal) or "") for column in columns)
    for row in range(model.rowCount(QModelIndex())):
        yield from (str(model.index(row, column).data() or "") for column in columns)


@pytest.fixture
def drive(demo: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[Drive]:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    driven = Drive(demo)
    yield driven
    if driven.made:
        driven.close()


def english(window: QWidget) -> set[str]:
    return {text for text in said_by(window) if plain_words(text, ONE_WORD)}


@pytest.mark.parametrize("place", PLACES)
def test_no_place_of_the_window_has_an_english_word(place: str, drive: Drive) -> None:
    drive.go(place)
    assert english(drive.main) == set()
    for code in ("G005", "N001", "G020", "frob"):
        drive.scan(code)
        assert english(drive.main) == set(), code


def test_no_decision_and_no_way_to_give_and_take_has_an_english_word(drive: Drive) -> None:
    drive.scan("P03")
    job = drive.screen.give.job
    drive.type_in(job.system, "BUS-198")
    drive.type_in(job.task, "isolate-and-prove-dead")
    for code in ("G005", "P004", "N001", "L004"):
        drive.scan(code)
    assert english(drive.main) == set()
    drive.type_in(job.until, "05/11/26")
    drive.type_in(job.energy, "abc")
    for mode in ("take", "hand", "taken"):
        drive.click(drive.screen.tabs[mode])
        drive.scan("G016")
        assert english(drive.main) == set(), mode


@pytest.fixture
def own(drive: Drive, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Drive]:
    """A window on a register that takes entries, made by somebody of it."""
    drive.close()
    path = tmp_path / "QL2.cuffdate"
    stocked(path, fixed_clock(monkeypatch, FixedClock())).store.close()
    driven = Drive(path)
    driven.enter_as("P0")
    yield driven
    driven.close()


def test_no_dialog_of_the_shelf_has_an_english_word(own: Drive) -> None:
    own.go("shelf")
    own.scan("G1")
    for act in ("hold", "release", "withdraw", "seen", "alias", "bag", "add"):
        if act == "add":
            own.screen._add()
            own.type_in(own.dialog().kind, "rubber-gloves")  # type: ignore[attr-defined]
        else:
            own.screen._act(act)()
        own.settle()
        dialog = own.dialog()
        assert english(dialog) == set(), act
        dialog.close()
        own.settle()


def test_no_form_of_the_bench_has_an_english_word(own: Drive) -> None:
    own.go("bench")
    for code in ("G1", "D1"):
        own.scan(code)
        for choice in [button for button in own.screen.findChildren(QAbstractButton) if button.isCheckable()]:
            if choice.isVisible() and choice.isEnabled():
                own.click(choice)
                assert english(own.main) == set(), (code, choice.text())


def test_no_first_run_has_an_english_word(drive: Drive) -> None:
    drive.window.begin()
    drive.settle()
    page: Any = drive.main.stack.currentWidget()
    assert english(drive.main) == set()
    drive.click(page.own)
    drive.type_in(page.begin.rule_set, "jp-351")
    assert english(drive.main) == set()


def test_a_file_beside_the_english_one_is_a_language(tmp_path: Path) -> None:
    shutil.copytree(ROOT / "app", tmp_path / "app", ignore=shutil.ignore_patterns("__pycache__"))
    (tmp_path / "app" / "words" / "xx.json").write_text(json.dumps(pseudo()), encoding="utf-8")

    def started(language: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-m", "app", "calculate", "--frob"], cwd=tmp_path, capture_output=True, text=True,
            check=False, encoding="utf-8", env={**os.environ, "CUFFDATE_LANGUAGE": language},
        )  # fmt: skip

    with CATALOGUE.spoken({}):
        spoken = started("xx")
        assert (spoken.returncode, plain_words(spoken.stderr, ONE_WORD)) == (2, [])
        assert "This command does not take --frob." in started("en").stderr
        unknown = started("frob")
    assert (unknown.returncode, unknown.stderr) == (
        2, "There is no language frob here.\nNext: Set CUFFDATE_LANGUAGE to one of these, or leave it out for English: en and xx.\n",
    )  # fmt: skip
