"""The recipes of the guide for contributors: adding a rule set and a kind touches the files they name and no other."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
ASK = "from app.judging.catalogues import catalogues; known = catalogues(); print(sorted({what}))"


def copy_of_app(tmp_path: Path) -> Path:
    shutil.copytree(ROOT / "app", tmp_path / "app", ignore=shutil.ignore_patterns("__pycache__"))
    return tmp_path / "app"


def ask(folder: Path, what: str) -> str:
    command = [sys.executable, "-c", ASK.format(what=what)]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    return done.stdout + done.stderr


def test_a_rule_set_is_one_file(tmp_path: Path) -> None:
    sets = copy_of_app(tmp_path) / "rulesets" / "sets"
    written = (sets / "us_osha_137.py").read_text(encoding="utf-8").replace('key="us-osha-137"', 'key="another-set"')
    (sets / "another_set.py").write_text(written, encoding="utf-8")
    assert "another-set" in ask(tmp_path, "known.rule_sets")


def test_a_kind_is_one_file_and_a_line(tmp_path: Path) -> None:
    app = copy_of_app(tmp_path)
    kind = (app / "kinds" / "insulated_tool.py").read_text(encoding="utf-8").replace("insulated-tool", "torque-tool")
    (app / "kinds" / "torque_tool.py").write_text(kind, encoding="utf-8")
    assert "catalogue.kind-not-covered" in ask(tmp_path, "known.kinds")
    house = app / "rulesets" / "house.py"
    line = '        "torque-tool": (*OTHER_KIT, "voltage-mark-stands-voltage", "calibration-in-date"),\n'
    written = house.read_text(encoding="utf-8")
    house.write_text(written.replace('        "insulated-tool":', line + '        "insulated-tool":'), encoding="utf-8")
    assert "torque-tool" in ask(tmp_path, "known.kinds")


def test_a_module_without_its_constant_stops_the_start(tmp_path: Path) -> None:
    app = copy_of_app(tmp_path)
    (app / "rules" / "forgotten.py").write_text('"""Nothing declared."""\n', encoding="utf-8")
    assert "catalogue.constant-missing" in ask(tmp_path, "known.rules")
