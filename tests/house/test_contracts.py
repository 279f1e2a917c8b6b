"""The rooms stay apart: every contract holds, and each is broken on purpose to see that it would be noticed."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
LINT = Path(sys.executable).parent / "lint-imports"
# contract, file to spoil, line to put into it
BREAKS = [
    ("A room imports only rooms below it", "app/domain/chain.py", "import app.words.saying"),
    ("A room imports only rooms below it", "app/odd.py", "x = 1"),
    ("The window's toolkit stays in the window", "app/reports/decision.py", "import PySide6"),
    ("The database library stays in the store", "app/usecases/list_due.py", "import sqlalchemy"),
    ("No file, clock or environment", "app/rules/at_hand.py", "import os"),
    ("Rules never import each other", "app/rules/at_hand.py", "import app.rules.not_held"),
    ("Rule sets never import each other", "app/rulesets/sets/us_osha_137.py", "import app.rulesets.sets.other"),
]


def lint(folder: Path) -> str:
    done = subprocess.run([str(LINT), "--no-cache"], cwd=folder, capture_output=True, text=True, check=False)
    return done.stdout + done.stderr


def test_every_contract_holds() -> None:
    assert "0 broken" in lint(ROOT)


@pytest.mark.parametrize(("contract", "file", "line"), BREAKS)
def test_a_break_is_noticed(contract: str, file: str, line: str, tmp_path: Path) -> None:
    shutil.copytree(ROOT / "app", tmp_path / "app", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    (tmp_path / "app/rulesets/sets/other.py").write_text("", encoding="utf-8")
    spoiled = tmp_path / file
    before = spoiled.read_text(encoding="utf-8") if spoiled.exists() else ""
    spoiled.write_text(f"{before}\n{line}\n", encoding="utf-8")
    said = lint(tmp_path)
    broken = [row for row in said.splitlines() if row.endswith("BROKEN")]
    told = any(row.startswith(contract) for row in broken) or (not broken and "odd" in said)
    assert told, said
