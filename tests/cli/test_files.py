"""Files that are not what they should be, files in another encoding, and answers in each form they are given in."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path
from typing import Any

import pytest

from app.cli import demo_register
from tests.conftest import Cli

ROOT = Path(__file__).parents[2]
SHEET = ("--sheet", "demo_data/shelf.xlsx")
DEPOT = ("--depot", "demo_data/depot.toml")
CHECKS = ("--checks", "demo_data/checks.toml")
JOB = ("--system", "BUS-198", "--circuit", "traction", "--task", "isolate-and-prove-dead", "--person", "P03")
DAY = ("--on", "2026-03-02")
KIT = ("--kit", "G001", "P001", "D001", "U001", "B001", "K001")


def written(folder: Path, name: str, content: str | bytes) -> str:
    path = folder / name
    path.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
    return str(path)


@pytest.fixture
def cp1252_sheet(tmp_path: Path) -> str:
    """The demo sheet with one word that UTF-8 cannot be."""
    text = (ROOT / "demo_data" / "shelf.csv").read_text(encoding="utf-8-sig")
    return written(tmp_path, "shelf.csv", text.replace("Colour of bag", "Col\u00f6ur of bag").encode("cp1252"))


def test_a_sheet_in_another_encoding_is_asked_about_and_then_read(cp1252_sheet: str, cli: Cli) -> None:
    rest = (*DEPOT, *CHECKS, *JOB, *DAY, *KIT)
    asked = cli("check", "--sheet", cp1252_sheet, *rest)
    assert asked.status == 2
    assert "not written in UTF-8" in asked.err
    assert "cp1252" in asked.err.splitlines()[-1]
    assert cli("check", "--sheet", cp1252_sheet, *rest, "--encoding", "cp1252").status == 0
    other = cli("check", "--sheet", cp1252_sheet, *rest, "--encoding", "koi8-r")
    assert other.status == 2
    assert "utf-8, cp1252" in other.err


def test_a_fault_of_a_whole_sheet_names_the_file_once(cp1252_sheet: str, cli: Cli) -> None:
    said = cli("check", "--sheet", cp1252_sheet, *DEPOT, *JOB, *DAY, *KIT)
    assert f"Where: {cp1252_sheet}\n" in said.err


BAD_FILES: list[tuple[str, bytes | None, str, str]] = [
    ("depot.toml", b"\xff\xfe\xe9", "not text in UTF-8", "Save it again as UTF-8"),
    ("depot.toml", b"[site\n", "cannot be read as TOML", "Correct the line"),
    ("no-such.toml", None, "There is no file", "Check the name"),
    ("", None, "cannot be read", "Check that it is a file"),
]


@pytest.mark.parametrize("option", ["--depot", "--checks"])
@pytest.mark.parametrize(("name", "content", "said_so", "next_step"), BAD_FILES, ids=lambda one: str(one)[:24])
def test_a_text_file_that_is_none_is_told_in_words(
    option: str, name: str, content: bytes | None, said_so: str, next_step: str, cli: Cli, tmp_path: Path
) -> None:
    file = str(tmp_path / name) if content is None else written(tmp_path, name, content)
    others = CHECKS if option == "--depot" else DEPOT
    said = cli("check", *SHEET, option, file, *others, *JOB, *DAY, *KIT)
    assert (said.status, said.out) == (2, "")
    assert said_so in said.err, said.err
    assert f"Where: {file}" in said.err
    assert next_step in said.err.splitlines()[-1]


@pytest.mark.parametrize(
    ("name", "content", "said_so", "next_step"),
    [
        ("no-such.xlsx", None, "There is no file", "Check the name and the folder"),
        ("", None, "is a folder", "Choose the sheet inside it"),
        ("empty.csv", b"", "is empty", "Check that the right file was chosen"),
        ("noise.xlsx", b"PK\x03\x04" + bytes(range(256)), "damaged", "save it again"),
        (
            "noise.csv",
            bytes(range(256)) * 8,
            "neither a CSV file nor an XLSX workbook",
            "Save the sheet as CSV or XLSX",
        ),
        ("words.csv", b"dear crib\nsee you on Monday\n", "no row of headings", "Give the columns headings"),
    ],
)
def test_a_file_that_is_neither_sheet_says_which_it_is(
    name: str, content: bytes | None, said_so: str, next_step: str, cli: Cli, tmp_path: Path
) -> None:
    file = str(tmp_path / name) if content is None else written(tmp_path, name, content)
    for command in (("check", *DEPOT, *JOB, *KIT), ("due",)):
        said = cli(command[0], "--sheet", file, *command[1:], *DAY)
        assert (said.status, said.out) == (2, "")
        assert said_so in said.err, said.err
        assert next_step in said.err, said.err


def test_a_check_of_a_piece_that_is_not_there_names_the_nearest(cli: Cli, tmp_path: Path) -> None:
    checks = '[[records]]\npiece = "G099"\nwhat = "air-test"\non = 2026-03-02\nleft = "passed"\nright = "passed"\n'
    said = cli("check", *SHEET, *DEPOT, "--checks", written(tmp_path, "checks.toml", checks), *JOB, *DAY, *KIT)
    assert said.status == 2
    assert "names the piece G099" in said.err
    assert "Did you mean" in said.err


def test_a_key_that_is_near_to_none_is_not_compared_with_nothing(cli: Cli, tmp_path: Path) -> None:
    said = cli("check", *SHEET, "--depot", written(tmp_path, "depot.toml", "[qqq]\n"), *JOB, *DAY, *KIT)
    assert '""' not in said.err


@pytest.mark.parametrize(
    ("more", "said_so"),
    [
        (("--second", "P99"), "No person P99"),
        (("--certificate-seen", "G9999"), "No piece G9999"),
        (("--with", "N001:L001"), "No piece N001"),
        (("--with", "N001:"), "METER:LEADS"),
        (("--circut", "traction"), "--circut"),
        (("--until", "2026-02-30"), "2026-02-30"),
    ],
)
def test_each_wrong_word_on_the_line_is_named(more: tuple[str, ...], said_so: str, cli: Cli) -> None:
    said = cli("check", *SHEET, *DEPOT, *CHECKS, *JOB, *DAY, *KIT, *more)
    assert (said.status, said.out) == (2, "")
    assert said_so in said.err
    assert "Traceback" not in said.err


def findings(cli: Cli, *kit_and_more: str) -> dict[tuple[str, str], str]:
    said = cli("check", *SHEET, *DEPOT, *CHECKS, *JOB, *DAY, "--kit", *kit_and_more, "--json")
    assert said.status in (0, 3), said.err
    return {(one["rule"], one["subject"]): one["outcome"] for one in json.loads(said.out)["findings"]}


def test_leads_that_fit_two_instruments_are_told_apart_by_with(cli: Cli) -> None:
    kit = (*KIT[1:], "N001", "N002", "L001", "L002")
    before = findings(cli, *kit)
    assert before["chain-complete", "N001"] == "cannot-tell"
    after = findings(cli, *kit, "--with", "N001:L001", "--with", "N002:L002")
    assert after["chain-complete", "N001+L001"] == "met"
    assert after["chain-complete", "N002+L002"] == "met"
    assert after["chain-stands-voltage", "N001+L001"] == "met"


def test_a_code_that_is_scanned_twice_is_refused(cli: Cli) -> None:
    assert findings(cli, *KIT[1:], "G001")["no-piece-twice", "kit"] == "not-met"


def test_the_due_list_says_the_same_in_each_form(cli: Cli) -> None:
    asked = ("due", *SHEET, *DEPOT, *DAY, "--within", "30")
    by_flag, by_format = cli(*asked, "--json").out, cli(*asked, "--format", "json").out
    assert by_flag == by_format
    rows: list[dict[str, Any]] = json.loads(by_flag)
    table = list(csv.DictReader(io.StringIO(cli(*asked, "--format", "csv").out)))
    assert [row["piece"] for row in rows] == [row["Piece"] for row in table]
    assert [row["due_on"] or "" for row in rows] == [row["Due"] for row in table]
    text = cli(*asked).out
    assert all(row["piece"] in text for row in rows)


@pytest.mark.parametrize("begin", ["=", "+", "-", "@"])
def test_what_a_spreadsheet_would_run_leaves_as_plain_text(begin: str, cli: Cli, tmp_path: Path) -> None:
    depot = f'[[systems]]\ncode = "A"\n[site]\nname = "{begin}1"\n'
    checks = (
        f'[[records]]\npiece = "G1"\nwhat = "hand-over"\non = 2026-03-01\nto = "{begin}SUM(1)"\n'
        '[[records]]\npiece = "G2"\nwhat = "hand-over"\non = 2026-03-01\nto = "van 7"\n'
    )
    sheet = written(tmp_path, "kit.csv", "Code,Kind,Class\nG1,rubber gloves,0\nG2,rubber gloves,0\n")
    files = ("--depot", written(tmp_path, "depot.toml", depot), "--checks", written(tmp_path, "checks.toml", checks))
    said = cli("due", "--sheet", sheet, *files, *DAY, "--format", "csv")
    assert said.status == 0, said.err
    holders = {row["Piece"]: row["With"] for row in csv.DictReader(io.StringIO(said.out))}
    assert holders == {"G1": f"'{begin}SUM(1)", "G2": "van 7"}


def test_a_formula_in_a_sheet_is_named_and_its_row_not_used(cli: Cli, tmp_path: Path) -> None:
    sheet = written(tmp_path, "kit.csv", "Code,Kind,Class,Holder\nG1,rubber gloves,0,=1+1\nG2,rubber gloves,0,\n")
    said = cli("due", "--sheet", sheet, *DAY, "--format", "csv")
    assert said.status == 0
    assert [row["Piece"] for row in csv.DictReader(io.StringIO(said.out))] == ["G2"]
    assert "row 2, column D" in said.err


def test_a_picture_that_cannot_be_written_is_told_in_words(cli: Cli, tmp_path: Path) -> None:
    file = written(tmp_path, "taken", "a file, not a folder")
    said = cli("check", *SHEET, *DEPOT, *CHECKS, *JOB, *DAY, *KIT, "--picture", f"{file}/kit.svg")
    assert said.status == 2
    assert "could not be written" in said.err
    assert "Traceback" not in said.err
    demo = cli("demo", "--no-window", "--into", file)
    assert demo.status == 2
    assert "could not be written" in demo.err


def test_the_demo_names_its_own_pictures_only(cli: Cli, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # Its two years are played elsewhere; what it names does not hang on them.
    monkeypatch.setattr(demo_register, "_history", lambda _: iter(()))
    written(tmp_path, "holiday.png", b"not ours")
    said = cli("demo", "--no-window", "--into", str(tmp_path), "--json")
    answer = json.loads(said.out)
    assert (said.status, [step["status"] for step in answer["steps"]]) == (0, [0, 3, 3, 0, 0, 0, 0])
    there = {str(path) for path in tmp_path.iterdir()}
    others = {str(tmp_path / name) for name in ("holiday.png", "demo.cuffdate", "demo.cuffdate.lock")}
    assert set(answer["pictures"]) == there - others


@pytest.mark.parametrize(
    ("name", "content"), [("no-such.toml", None), ("", None), ("cases.toml", b"\xff\xfe"), ("cases.toml", b"[case\n"), ("cases.toml", b"")]
)  # fmt: skip
def test_judge_stops_at_a_file_it_cannot_read(name: str, content: bytes | None, cli: Cli, tmp_path: Path) -> None:
    file = str(tmp_path / name) if content is None else written(tmp_path, name, content)
    said = cli("judge", "tests/decision/rulesets/cases/decisions.toml", file)
    assert (said.status, said.out) == (2, "")
    assert file in said.err


def test_a_process_answers_with_the_same_status(process: Cli) -> None:
    files = (*SHEET, *DEPOT, *CHECKS)
    assert process("check", *files, *JOB, *DAY, *KIT).status == 0
    refused = process("check", *files, *JOB, *DAY, *KIT[:-1])
    assert (refused.status, refused.err) == (3, "")
    wrong = process("check", *files, *JOB, *DAY, "--kit", "D999")
    assert (wrong.status, wrong.out) == (2, "")
    assert "No piece D999" in wrong.err


def test_an_unknown_rule_set_in_the_depot_file_is_told_in_words(cli: Cli, tmp_path: Path) -> None:
    depot = written(tmp_path, "depot.toml", "[site]\nrule_sets = ['us-osha-173']\n")
    said = cli("check", *SHEET, "--depot", depot, *JOB, *DAY, *KIT)
    assert (said.status, said.out) == (2, "")
    assert "us-osha-137" in said.err
