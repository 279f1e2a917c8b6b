"""The recipes of DEVELOPERS.md, followed in a copy: a rule set and a kind are judged with no other file touched."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
DECLARED = (
    "import json; from app.decision.judging.catalogues import catalogues as known; "
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
kind = "earthing-stick"
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


def taken_in(folder: Path, sheet: str) -> list[tuple[str, str, int | None]]:
    """Code, kind and DC volts of the rows of a keeper's sheet, as the copy takes them in."""
    (folder / "shelf.csv").write_text(sheet, encoding="utf-8")
    read = (
        "from datetime import date; from pathlib import Path; import json; "
        "from app.intake.register_sheet import read_register_sheet; "
        "sheet = read_register_sheet(Path('shelf.csv'), on=date(2026, 3, 2)); "
        "print(json.dumps([[row.code, row.piece.kind, row.piece.voltage_mark.dc_mv] for row in sheet.rows]))"
    )
    done = call(folder, "-c", read)
    assert done.returncode == 0, done.stderr
    return [tuple(row) for row in json.loads(done.stdout)]


def touched(folder: Path) -> set[str]:
    """Files of the copy that are new or differ from the checkout."""
    files = {
        path.relative_to(folder).as_posix(): path
        for path in (folder / "app").rglob("*")
        if path.suffix in (".py", ".json")
    }
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


def test_a_rule_set_is_one_file_and_its_key(copied: Path) -> None:
    model = copied / "app" / "decision" / "rulesets" / "sets" / "us_osha_137.py"
    words = copied / "app" / "decision" / "fields" / "words.py"
    change(words, '"gb-17622",\n', '"gb-17622", "invented-set",\n')
    assert judged(copied, GLOVES.format(rule_set="invented-set", outcome="not-met")) == "waiting"
    new = model.with_name("invented_set.py")
    text = model.read_text(encoding="utf-8").replace("us-osha-137", "invented-set")
    text = text.replace("SET = RuleSet(", "_DECLARED = RuleSet(")
    low = 'replace(_DECLARED.limits["use/dc/00"], value=700_000)'
    text += f'\nSET = replace(_DECLARED, limits={{**_DECLARED.limits, "use/dc/00": {low}}})\n'
    new.write_text(
        text.replace(
            "from app.decision.domain.limits",
            "from msgspec.structs import replace\n\nfrom app.decision.domain.limits",
            1,
        )
    )
    assert touched(copied) == {"app/decision/rulesets/sets/invented_set.py", "app/decision/fields/words.py"}
    assert {"invented-set", "us-osha-137"} <= set(declared(copied)["sets"])
    assert judged(copied, GLOVES.format(rule_set="invented-set", outcome="not-met")) == "passed"
    assert judged(copied, GLOVES.format(rule_set="us-osha-137", outcome="met")) == "passed"
    assert all(name in recipe("A rule set") for name in ("app/decision/rulesets/sets/", "app/decision/fields/words.py"))


def test_a_kind_is_one_file_its_words_and_a_line_in_house_policy_and_in_covers(copied: Path) -> None:
    kinds, house = copied / "app" / "decision" / "kinds", copied / "app" / "decision" / "rulesets" / "house.py"
    covers = house.with_name("covers.py")
    change(
        copied / "app" / "words" / "en.json", '"kind/lock-off-set"',
        '"kind/earthing-stick": "earthing stick",\n"kind/lock-off-set"',
    )  # fmt: skip
    model = (kinds / "insulated_tool.py").read_text(encoding="utf-8")
    new = model.replace('key="insulated-tool"', 'key="earthing-stick"')
    names = new.partition('names="')[2].partition('"')[0]
    (kinds / "earthing_stick.py").write_text(new.replace(names, "earthing stick | earth rod"), encoding="utf-8")
    stopped = call(copied, "-c", DECLARED)
    assert stopped.returncode != 0
    assert "catalogue.kind-not-covered" in stopped.stderr
    line = '"earthing-stick": (*OTHER_KIT, "voltage-mark-stands-voltage"),'
    change(house, '        "insulated-tool":', f'        {line}\n        "insulated-tool":')
    assert "earthing-stick" in declared(copied)["kinds"]
    assert judged(copied, TOOL.format(mark=1500, outcome="met")) == "passed"
    assert judged(copied, TOOL.format(mark=1499, outcome="not-met")) == "passed"
    sheet = "Code;What it is;Voltage AC;Voltage DC;State\nX1;Earth rod;1000;1500;in crib\n"
    assert taken_in(copied, sheet) == [("X1", "earthing-stick", 1_500_000)]
    change(
        covers,
        'return {"rubber-gloves": GLOVES,',
        'return {"earthing-stick": ("class-known",), "rubber-gloves": GLOVES,',
    )
    assert judged(copied, TOOL.format(mark=1500, outcome="met")) == "passed"
    assert touched(copied) == {
        "app/decision/kinds/earthing_stick.py", "app/decision/rulesets/house.py", "app/decision/rulesets/covers.py",
        "app/words/en.json",
    }  # fmt: skip
    named = recipe("A kind of kit")
    assert all(f"`{name}`" in named for name in touched(copied) if name != "app/decision/kinds/earthing_stick.py")
    assert "`app/decision/kinds/`" in named


MIGRATION = """
import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("piece", sa.Column("cuff_um", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True))
"""


def test_a_field_is_declared_once(copied: Path) -> None:
    """Followed by the word; then a sheet, a command, the card and a correction know it, and the register keeps it."""
    shutil.copytree(ROOT / "migrations", copied / "migrations", ignore=shutil.ignore_patterns("__pycache__"))
    decision, words = copied / "app" / "decision", copied / "app" / "words" / "en.json"
    change(
        decision / "fields" / "pieces.py", '        Field(key="leather_mm"',
        '        Field(key="cuff_mm", sort=LENGTH, headings="cuff width | width of the cuff"),\n        Field(key="leather_mm"',
    )  # fmt: skip
    change(decision / "domain" / "piece.py", "    leather_um: ", "    cuff_um: int | None = None\n    leather_um: ")
    change(decision / "kinds" / "leather_protectors.py", '"leather_mm"', '"leather_mm", "cuff_mm"')
    change(words, '"field/leather_mm"', '"field/cuff_mm": "cuff width",\n"field/leather_mm"')
    change(words, '"shelf.add.leather_mm"', '"shelf.add.cuff_mm": "Cuff width",\n"shelf.add.leather_mm"')
    (copied / "migrations" / "versions" / "0004_cuff.py").write_text(MIGRATION, encoding="utf-8")
    change(copied / "app" / "register" / "marks.py", "SCHEMA = 3", "SCHEMA = 4")
    by = ("--store", "crib.cuffdate", "--by", "P01")
    (copied / "shelf.csv").write_text(
        "Code;What it is;Cut for class;Cuff width mm;State\nL2;Leather protectors;0;62,5;in crib\n", encoding="utf-8"
    )
    for act in (
        ("add", "person", "P01"), ("add", "crib", "Bus hall"),
        ("add", "piece", "L1", "kind=leather-protectors", "cut_for_class=0", "cuff_mm=60.5"), ("load", "shelf.csv"),
    ):  # fmt: skip
        done = call(copied, "-m", "app", *act, *by)
        assert done.returncode == 0, done.stdout + done.stderr
    for code, width in (("L1", "60.5"), ("L2", "62.5")):
        shown = call(copied, "-m", "app", "show", code, "--store", "crib.cuffdate")
        assert re.search(rf"cuff width +{width} mm", shown.stdout), shown.stdout + shown.stderr
    assert call(copied, "-m", "app", "verify", "--store", "crib.cuffdate").returncode == 0
    assert touched(copied) == {
        "app/decision/fields/pieces.py", "app/decision/domain/piece.py", "app/decision/kinds/leather_protectors.py",
        "app/words/en.json", "app/register/marks.py",
    }  # fmt: skip
    recipes = recipe("A field of a piece") + recipe("A stored column")
    assert all(name in recipes for name in ("app/decision/fields/pieces.py", "app/decision/domain/piece.py"))
    assert all(
        name in recipes
        for name in ("app/decision/kinds/", "app/words/en.json", "register/marks.py", "migrations/versions")
    )


def test_a_task_is_one_file_and_its_name(copied: Path) -> None:
    tasks, words = copied / "app" / "decision" / "tasks", copied / "app" / "words" / "en.json"
    model = (tasks / "measure_only.py").read_text(encoding="utf-8")
    new = model.replace('key="measure-only"', 'key="look-only"').replace(', "proving-unit"', "")
    (tasks / "look_only.py").write_text(new, encoding="utf-8")
    change(words, '"task/measure-only"', '"task/look-only": "look only",\n"task/measure-only"')
    case = GLOVES.replace("[case.job]", '[case.job]\ntask = "look-only"').replace("class-known", "task-roles-filled")
    case = case.partition("[[case.expect.findings]]")[0].replace("{rule_set}", "us-osha-137")
    roles = '[[case.expect.findings]]\nrule = "task-roles-filled"\noutcome = "not-met"\n'
    assert judged(copied, case + roles) == "passed"
    assert "look-only" in call(copied, "-m", "app", "check", "--help").stdout
    assert touched(copied) == {"app/decision/tasks/look_only.py", "app/words/en.json"}
    assert all(name in recipe("A task") for name in ("app/decision/tasks/", "app/words/en.json"))


def test_a_command_is_its_use_case_a_declaration_its_name_and_its_texts(copied: Path) -> None:
    shutil.copytree(ROOT / "migrations", copied / "migrations")
    use_cases, cli, words = copied / "app" / "usecases", copied / "app" / "cli", copied / "app" / "words" / "en.json"
    model = (use_cases / "withdraw_piece.py").read_text(encoding="utf-8")
    (use_cases / "scrap_piece.py").write_text(model.replace("withdraw_piece", "scrap_piece"), encoding="utf-8")
    declared_act = '"scrap": Act("scrap_piece", (CODES, _words("reason", "--reason", "WORDS"))),'
    change(cli / "acts.py", '    "withdraw": Act(', f'    {declared_act}\n    "withdraw": Act(')
    change(cli / "program.py", '"withdraw",', '"withdraw", "scrap",')
    texts = '"help/scrap": "scrap pieces",\n"help/scrap/reason": "why they are scrapped",\n'
    change(words, '"help/withdraw": ', f'{texts}"help/withdraw": ')
    store = ("--store", "crib.cuffdate", "--by", "P01")
    for act in (
        ("add", "person", "P01"), ("add", "crib", "Bus hall"), ("add", "piece", "G1", "kind=rubber-gloves", "class=0"),
        ("scrap", "G1", "--reason", "cut through"),
    ):  # fmt: skip
        done = call(copied, "-m", "app", *act, *store)
        assert done.returncode == 0, done.stderr
    asked = call(copied, "-m", "app", "history", "G1", "--store", "crib.cuffdate", "--json")
    assert "cut through" in asked.stdout, asked.stderr
    assert "why they are scrapped" in call(copied, "-m", "app", "scrap", "--help").stdout
    new = "app/usecases/scrap_piece.py"
    assert touched(copied) == {new, "app/cli/acts.py", "app/cli/program.py", "app/words/en.json"}
    assert all(f"`{name}`" in recipe("A command") for name in touched(copied) if name != new)


@pytest.mark.parametrize(
    ("file", "written", "key"),
    [
        ("decision/rules/forgotten.py", '"""Nothing declared."""\n', "catalogue.constant-missing"),
        (
            "decision/rulesets/sets/twice.py",
            "from app.decision.rulesets.sets.us_osha_137 import SET\n",
            "catalogue.key-twice",
        ),
        ("decision/kinds/broken.py", "import app.decision.kinds.not_there\n", "ModuleNotFoundError"),
    ],
)
def test_a_declaration_that_does_not_fit_stops_the_start(file: str, written: str, key: str, copied: Path) -> None:
    (copied / "app" / file).write_text(written, encoding="utf-8")
    done = call(copied, "-c", DECLARED)
    assert done.returncode != 0
    assert key in done.stderr
