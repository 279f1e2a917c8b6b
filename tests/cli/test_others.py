"""due, judge, self-check, demo and the program itself."""

from __future__ import annotations

import csv
import io
import json
import os
import shutil
import subprocess
import sys
import tomllib
import venv
from pathlib import Path
from typing import Any

import pytest

from tests.conftest import Cli

ROOT = Path(__file__).parents[2]
EXPECTED: dict[str, Any] = tomllib.loads((ROOT / "demo_data" / "expected.toml").read_text(encoding="utf-8"))
FILES = ("--sheet", "demo_data/shelf.xlsx", "--depot", "demo_data/depot.toml", "--on", "2026-03-02")
CASES = "tests/decision/rulesets/cases/decisions.toml"


def due(cli: Cli, *more: str) -> dict[str, dict[str, Any]]:
    said = cli("due", *FILES, *more, "--json")
    assert said.status == 0
    return {row["piece"]: row for row in json.loads(said.out)}


def test_standings_and_dates_are_those_worked_out_by_hand(cli: Cli) -> None:
    rows = due(cli)
    gloves = EXPECTED["gloves"]
    for state, key in (
        ("overdue", "overdue"),
        ("due-soon", "due_soon"),
        ("certificate-not-seen", "certificate_not_seen"),
    ):
        wanted = {one["code"]: (state, str(one["due_on"])) for one in gloves[key]}
        assert {code: (rows[code]["status"], rows[code]["due_on"]) for code in wanted} == wanted
        also = {code for code, row in rows.items() if row["status"] == state and code.startswith("G")} - set(wanted)
        assert also <= set(gloves["others"]["laboratory_not_listed"]), (state, also)
    assert {rows[code]["status"] for code in gloves["others"]["not_tested"]} == {"not-tested"}
    assert {rows[code]["status"] for code in gloves["others"]["limit_not_seen_in_print"]} == {"cannot-tell"}
    for written, state in (("held", "on-hold"), ("withdrawn", "withdrawn"), ("lost", "lost")):
        assert {rows[code]["status"] for code in EXPECTED["states"][written]} == {state}
    assert list(next(iter(rows.values()))) == [
        "piece", "kind", "status", "due_on", "use_until", "why", "holder", "place", "out",
    ]  # fmt: skip


def test_confirming_certificates_changes_the_standing_and_nothing_else(cli: Cli) -> None:
    before, after = due(cli), due(cli, "--certificate-seen", "G010", "G018")
    assert after["G010"]["status"] != "certificate-not-seen"
    assert after["G010"]["due_on"] == before["G010"]["due_on"]
    assert {code for code in before if before[code] != after[code]} == {"G010", "G018"}


def test_within_leaves_out_what_is_not_due(cli: Cli) -> None:
    everything, soon = due(cli), due(cli, "--within", "30")
    assert set(soon) < set(everything)
    assert "G001" not in soon
    assert {code for code, row in everything.items() if row["status"] == "overdue"} <= set(soon)


def test_the_list_as_csv_reads_back(cli: Cli) -> None:
    said = cli("due", *FILES, "--within", "0", "--format", "csv")
    rows = list(csv.DictReader(io.StringIO(said.out)))
    assert {row["Piece"] for row in rows} >= {one["code"] for one in EXPECTED["gloves"]["overdue"]}
    assert not any(cell.startswith(("=", "+", "-", "@")) for row in rows for cell in row.values())
    assert "G044" in said.err


def test_rows_that_cannot_be_used_are_named_with_sheet_row_and_column(cli: Cli) -> None:
    said = cli("due", *FILES, "--within", "0")
    for code, place in (("G044", "row 30, column N"), ("G045", "row 62"), ("L012", "row 29"), ("G017", "row 18")):
        assert code in said.out
        assert place in " ".join(said.out.split())


def test_headings_are_guessed_and_shown(cli: Cli) -> None:
    short, long = cli("due", *FILES, "--within", "0").out, cli("due", *FILES, "--within", "0", "--headings").out
    assert '"Next test"' in short.split("How the headings were read")[1]
    assert '"Last electrical test" is read as day of the test' not in " ".join(short.split())
    assert '"Last electrical test" is read as day of the test' in " ".join(long.split())


def test_the_due_picture_is_one_ribbon_or_a_list(cli: Cli, tmp_path: Path) -> None:
    one, many = tmp_path / "one.svg", tmp_path / "many.svg"
    assert cli("due", *FILES, "--piece", "G028", "--picture", str(one)).status == 0
    assert cli("due", *FILES, "--within", "30", "--picture", str(many)).status == 0
    assert "use until 2026-03-16" in one.read_text(encoding="utf-8")
    assert "G038" in many.read_text(encoding="utf-8")
    assert cli("due", *FILES, "--piece", "G999").status == 2


def test_judge_passes_and_says_so(cli: Cli) -> None:
    said = cli("judge", CASES, "--json")
    answer = json.loads(said.out)
    assert said.status == 0
    assert list(answer) == ["passed", "failed", "waiting", "cases"]
    assert answer["passed"] == len(answer["cases"])
    assert list(answer["cases"][0]) == ["id", "file", "state", "expected", "found", "why"]


def test_judge_tells_a_difference_and_what_waits(cli: Cli, tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    file.write_text(
        """
[[case]]
id = "wrong"
source = "made up for this test"
confidence = "H"
level = "calculation"
[case.ask]
what = "class-limit-v"
class = "0"
supply = "isolated-dc"
[case.expect]
value = 1499
unit = "V"
[[case]]
id = "later"
source = "made up for this test"
confidence = "H"
level = "calculation"
[case.ask]
what = "a-later-one"
[case.expect]
value = true
""",
        encoding="utf-8",
    )
    said = cli("judge", str(file), "--json")
    answer = json.loads(said.out)
    assert said.status == 3
    assert [(one["id"], one["state"]) for one in answer["cases"]] == [("wrong", "failed"), ("later", "waiting")]
    assert "a-later-one" in answer["cases"][1]["why"]
    text = cli("judge", str(file)).out
    assert "FAILED   wrong" in text
    assert "1 failed, 1 waiting" in text


def test_judge_names_an_unknown_key_and_the_nearest(cli: Cli, tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    file.write_text(
        '[[case]]\nid="a"\nsource="b"\nconfidence="H"\nlevel="finding"\nons=2026-01-01\n[case.expect]\n', "utf-8"
    )
    said = cli("judge", str(file))
    assert said.status == 2
    assert '"ons"' in said.err
    assert 'Did you mean "on"' in said.err


def test_self_check_says_what_is_there(cli: Cli) -> None:
    said = cli("self-check")
    assert said.status == 0
    assert "Everything needed is here." in said.out
    assert json.loads(cli("self-check", "--json").out)["complete"] is True


def test_self_check_says_in_plain_words_what_is_missing(cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "python_calamine", None)
    said = cli("self-check")
    assert said.status == 1
    assert "XLSX sheets cannot be read" in said.out


def test_demo_runs_each_command_and_draws(cli: Cli, tmp_path: Path) -> None:
    said = cli("demo", "--no-window", "--into", str(tmp_path))
    assert said.status == 0
    assert len(said.out.splitlines()) <= 40
    for part in ("MAY BE ISSUED", "REFUSED", "914.76 V", "(why: ", "pieces are overdue", "Try next:", str(tmp_path)):
        assert part in said.out
    whole = cli("demo", "--no-window", "--full", "--into", str(tmp_path))
    assert whole.out.count("$ cuffdate ") == 7
    assert "MAY BE ISSUED" in whole.out
    assert whole.out.count("REFUSED") == 2
    assert "Whole: " in whole.out
    made = sorted(path.name for path in tmp_path.iterdir())
    assert len([name for name in made if name.endswith((".svg", ".png"))]) == 10
    assert [name for name in made if not name.endswith((".svg", ".png"))] == ["demo.cuffdate", "demo.cuffdate.lock"]
    assert "Nothing here is a real entry" in said.out


def test_the_program_shows_what_there_is(cli: Cli) -> None:
    assert cli("--help").status == 0
    assert cli("--version").out.startswith("Cuffdate ")
    assert cli().status == 2
    assert cli("chek").status == 2
    assert "Use one of" in cli("chek").err


def test_as_a_process(process: Cli) -> None:
    assert process("--version").status == 0
    said = process("due", *FILES, "--within", "0", "--json")
    assert said.status == 0, said.err
    assert json.loads(said.out)


def test_a_fault_of_ours_is_said_in_words(cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    from app.cli import self_check

    def breaks(_: object) -> int:
        raise RuntimeError

    monkeypatch.setattr(self_check, "run", breaks)
    said = cli("self-check")
    assert said.status == 1
    assert "unexpected happened" in said.err


@pytest.mark.long
def test_the_wheel_runs_outside_the_checkout(tmp_path: Path) -> None:
    # From a copy: what an earlier build left in the checkout would be packed again.
    source = tmp_path / "source"
    for folder in ("app", "demo_data", "migrations"):
        shutil.copytree(ROOT / folder, source / folder, ignore=shutil.ignore_patterns("__pycache__"))
    for file in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(ROOT / file, source)
    build = [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", str(tmp_path / "dist"), str(source)]
    subprocess.run(build, check=True, cwd=tmp_path)
    venv.create(tmp_path / "env", with_pip=True)
    python = tmp_path / "env" / ("Scripts" if os.name == "nt" else "bin") / "python"
    wheel = next((tmp_path / "dist").glob("*.whl"))
    subprocess.run([str(python), "-m", "pip", "install", "-q", str(wheel)], check=True, cwd=tmp_path)
    program = python.parent / "cuffdate"
    assert subprocess.run([str(program), "self-check"], check=False, cwd=tmp_path).returncode == 0
    done = subprocess.run([str(program), "demo", "--no-window", "--into", "out"], check=False, cwd=tmp_path)
    assert done.returncode == 0
    assert len(list((tmp_path / "out").iterdir())) == 12
    names = {path.name for path in (tmp_path / "env" / "lib").glob("python*/site-packages/*")}
    assert {"app"} <= names
    assert not names & {"tests", "demo_data", "migrations", "docs"}
