"""The recipes of DEVELOPERS.md, followed in a copy: a rule set and a kind are judged with no other file touched."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
DECLARED = (
    "import json; from app.judging.catalogues import catalogues as known; "
    "print(json.dumps({'kinds': [*known().kinds], 'rules': [*known().rules], 'sets': [*known().rule_sets]}))"
)
GLOVES = """
[[case]]
id = "recipe"
source = "made up for this test"
confidence = "H"
level = "finding"
rule_sets = ["{rule_set}"]
on = 2026-03-02
[case.job]
[[case.job.circuits]]
key = "traction"
supply = "isolated-dc"
category = "III"
maker_max_v = 720
[[case.pieces]]
code = "G1"
kind = "rubber-gloves"
class = "00"
class_system = "iec"
[[case.expect.findings]]
rule = "insulation-class-stands-voltage"
subject = "G1"
outcome = "{outcome}"
"""
TOOL = """
[[case]]
id = "recipe"
source = "made up for this test"
confidence = "H"
level = "finding"
on = 2026-03-02
[case.job]
[[case.job.circuits]]
key = "traction"
supply = "isolated-dc"
category = "III"
maker_max_v = 1500
[[case.pieces]]
code = "X1"
kind = "torque-tool"
voltage_mark = {{ ac_v = 1000, dc_v = {mark} }}
[[case.expect.findings]]
rule = "voltage-mark-stands-voltage"
subject = "X1"
outcome = "{outcome}"
"""


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    shutil.copytree(ROOT / "app", tmp_path / "app", ignore=shutil.ignore_patterns("__pycache__"))
    return tmp_path


def call(folder: Path, *argv: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-B", *argv], cwd=folder, capture_output=True, text=True, check=False)


def declared(folder: Path) -> dict[str, list[str]]:
    done = call(folder, "-c", DECLARED)
    assert done.returncode == 0, done.stderr
    names: dict[str, list[str]] = json.loads(done.stdout)
    return names


def judged(folder: Path, case: str) -> Any:
    """State of the one case of a file, from `judge` run on the copy."""
    (folder / "case.toml").write_text(case, encoding="utf-8")
    done = call(folder, "-m", "app", "judge", "case.toml", "--json")
    assert done.stdout, done.stderr
    return json.loads(done.stdout)["cases"][0]["state"]


def touched(folder: Path) -> set[str]:
    """Files of the copy that are new or differ from the checkout."""
    files = {path.relative_to(folder).as_posix(): path for path in (folder / "app").rglob("*.py")}
    return {
        name for name, path in files.items()
        if not (ROOT / name).exists() or (ROOT / name).read_bytes() != path.read_bytes()
    }  # fmt: skip


def change(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert text.count(old) == 1, (file.name, old)
    file.write_text(text.replace(old, new), encoding="utf-8")


def recipe(name: str) -> str:
    """The paragraph of DEVELOPERS.md that begins with the recipe's name."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    return text.partition(f"**{name}.**")[2].partition("\n\n")[0]


def test_a_rule_set_is_one_file(copied: Path) -> None:
    model = copied / "app" / "rulesets" / "sets" / "us_osha_137.py"
    assert judged(copied, GLOVES.format(rule_set="jp-351", outcome="not-met")) == "waiting"
    new = model.with_name("another.py")
    new.write_text(model.read_text(encoding="utf-8").replace("us-osha-137", "jp-351"), encoding="utf-8")
    change(new, '"00": (750, "T")', '"00": (700, "T")')
    assert touched(copied) == {"app/rulesets/sets/another.py"}
    assert {"jp-351", "us-osha-137"} <= set(declared(copied)["sets"])
    assert judged(copied, GLOVES.format(rule_set="jp-351", outcome="not-met")) == "passed"
    assert judged(copied, GLOVES.format(rule_set="us-osha-137", outcome="met")) == "passed"
    assert "app/rulesets/sets/" in recipe("A rule set")


def test_a_kind_is_one_file_and_a_line_in_house_policy_and_in_a_set(copied: Path) -> None:
    kinds, house = copied / "app" / "kinds", copied / "app" / "rulesets" / "house.py"
    rule_set = house.with_name("sets") / "us_osha_137.py"
    model = (kinds / "insulated_tool.py").read_text(encoding="utf-8")
    (kinds / "torque_tool.py").write_text(model.replace('key="insulated-tool"', 'key="torque-tool"'), encoding="utf-8")
    stopped = call(copied, "-c", DECLARED)
    assert stopped.returncode != 0
    assert "catalogue.kind-not-covered" in stopped.stderr
    line = '"torque-tool": (*OTHER_KIT, "voltage-mark-stands-voltage"),'
    change(house, '        "insulated-tool":', f'        {line}\n        "insulated-tool":')
    assert "torque-tool" in declared(copied)["kinds"]
    assert judged(copied, TOOL.format(mark=1500, outcome="met")) == "passed"
    assert judged(copied, TOOL.format(mark=1499, outcome="not-met")) == "passed"
    change(
        rule_set,
        'covers={"rubber-gloves": GLOVES}',
        'covers={"rubber-gloves": GLOVES, "torque-tool": ("class-known",)}',
    )
    assert judged(copied, TOOL.format(mark=1500, outcome="met")) == "passed"
    assert touched(copied) == {
        "app/kinds/torque_tool.py", "app/rulesets/house.py", "app/rulesets/sets/us_osha_137.py",
    }  # fmt: skip
    assert all(name in recipe("A kind of kit") for name in ("app/kinds/", "app/rulesets/house.py", "`covers`"))


@pytest.mark.parametrize(
    ("file", "written", "key"),
    [
        ("rules/forgotten.py", '"""Nothing declared."""\n', "catalogue.constant-missing"),
        ("rulesets/sets/twice.py", "from app.rulesets.sets.us_osha_137 import SET\n", "catalogue.key-twice"),
        ("kinds/broken.py", "import app.kinds.not_there\n", "ModuleNotFoundError"),
    ],
)
def test_a_declaration_that_does_not_fit_stops_the_start(file: str, written: str, key: str, copied: Path) -> None:
    (copied / "app" / file).write_text(written, encoding="utf-8")
    done = call(copied, "-c", DECLARED)
    assert done.returncode != 0
    assert key in done.stderr
