"""The rooms stay apart: every contract holds, and each is broken on purpose to see that it would be noticed."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import tomllib
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
LINT = Path(sys.executable).parent / "lint-imports"
SETTINGS: dict[str, Any] = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["importlinter"]
CONTRACTS: dict[str, dict[str, Any]] = {one["id"]: one for one in SETTINGS["contracts"]}
NAMED_IN = re.compile(r"^\W*(app\S*) -> (\S+) \(l\.\d+\)", re.MULTILINE)
ROOMS = {path.stem for path in (ROOT / "app").iterdir() if path.suffix == ".py" or (path / "__init__.py").is_file()}
ROOMS -= {"__init__"}
# What the two libraries may be imported by, and the rooms that may read files, the clock or the environment.
FREE = {
    "toolkit": {"window"},
    "database": {"register"},
    "pure": {"__main__", "cli", "compose", "intake", "outputs", "window", "register"},
}
# Rooms people meet, and what of the store they may not see.
COUNTER = ("__main__", "cli", "window", "outputs.documents")
FORBIDDEN = {
    "toolkit": {"PySide6"},
    "database": {"sqlalchemy"},
    "pure": {
        "os", "io", "pathlib", "time", "sqlite3", "subprocess", "socket", "logging", "random", "tempfile", "shutil",
    },
}  # fmt: skip


def lint(folder: Path) -> str:
    done = subprocess.run([str(LINT), "--no-cache"], cwd=folder, capture_output=True, text=True, check=False)
    said = done.stdout + done.stderr
    assert (done.returncode == 0) == (", 0 broken" in said), said
    return said


def broken(said: str) -> list[str]:
    """Ids of the contracts that do not hold."""
    names = {row.removesuffix(" BROKEN") for row in said.splitlines() if row.endswith(" BROKEN")}
    return sorted(key for key, one in CONTRACTS.items() if one["name"] in names)


def layers() -> list[list[str]]:
    """Rooms of each layer that exist so far, highest first."""
    names = [[part.strip(" ()") for part in layer.split("|")] for layer in CONTRACTS["layers"]["layers"]]
    there = [[name for name in layer if name in ROOMS] for layer in names]
    return [layer for layer in there if layer]


def add(folder: Path, module: str, *lines: str) -> None:
    """Put lines at the end of a room's first file, or of a module."""
    path = folder / module.replace(".", "/")
    file = path / "__init__.py" if path.is_dir() else path.with_suffix(".py")
    text = file.read_text(encoding="utf-8") if file.exists() else ""
    file.write_text("\n".join((text, *lines, "")), encoding="utf-8")


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    shutil.copytree(ROOT / "app", tmp_path / "app", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    return tmp_path


def test_every_contract_holds() -> None:
    said = lint(ROOT)
    assert f"Contracts: {len(CONTRACTS)} kept, 0 broken." in said


def test_the_copy_holds_before_it_is_spoiled(copied: Path) -> None:
    assert broken(lint(copied)) == []


def test_the_floors_of_what_decides_hold(copied: Path) -> None:
    add(copied, "app.decision.domain", "import app.decision.judging")
    assert broken(lint(copied)) == ["decision-layers"]


def test_a_picture_never_asks_a_document(copied: Path) -> None:
    add(copied, "app.outputs.pictures", "import app.outputs.documents")
    assert broken(lint(copied)) == ["outputs-layers"]


@pytest.mark.parametrize("room", ["outputs.documents", "words"])
def test_an_act_that_makes_papers_or_sentences_is_noticed(room: str, copied: Path) -> None:
    add(copied, "app.usecases", f"import app.{room}")
    assert broken(lint(copied)) == ["acts-apart"]


def test_every_room_is_a_layer_and_what_decides_is_the_lowest() -> None:
    assert {name for layer in layers() for name in layer} == ROOMS
    assert layers()[-1] == ["decision"]


@pytest.mark.parametrize("key", FORBIDDEN)
def test_a_forbidden_list_leaves_out_no_room_and_no_module(key: str) -> None:
    assert ROOMS - FREE[key] <= {name.removeprefix("app.") for name in CONTRACTS[key]["source_modules"]}
    assert FORBIDDEN[key] <= set(CONTRACTS[key]["forbidden_modules"])
    assert CONTRACTS[key]["allow_indirect_imports"] is True


def test_every_import_upwards_is_noticed(copied: Path) -> None:
    """All of them planted at once and each named: a run of its own for each would take minutes."""
    pairs = [(low, up) for above, below in pairwise(layers()) for up in above for low in below]
    for lower, upper in pairs:
        add(copied, f"app.{lower}", f"import app.{upper}")
    said = lint(copied)
    assert "layers" in broken(said)
    assert {(f"app.{lower}", f"app.{upper}") for lower, upper in pairs} <= set(NAMED_IN.findall(said))


@pytest.mark.parametrize("rooms", [layer for layer in layers() if len(layer) > 1], ids="-".join)
def test_an_import_sideways_is_noticed(rooms: list[str], copied: Path) -> None:
    add(copied, f"app.{rooms[0]}", f"import app.{rooms[1]}")
    assert "layers" in broken(lint(copied))


def test_what_decides_imports_no_other_room(copied: Path) -> None:
    others = sorted(ROOMS - {"decision", "__main__"})
    add(copied, "app.decision.domain.chain", *(f"import app.{room}" for room in others))
    said = lint(copied)
    assert "layers" in broken(said)
    assert {f"app.{room}" for room in others} <= {
        to for of, to in NAMED_IN.findall(said) if of == "app.decision.domain.chain"
    }


def test_a_room_nobody_gave_a_layer_is_noticed(copied: Path) -> None:
    add(copied, "app.odd", "x = 1")
    said = lint(copied)
    assert broken(said) == ["layers"]
    assert "- app.odd" in said


def test_rooms_to_come_have_their_place(copied: Path) -> None:
    for room in ("window", "register", "planning"):
        (copied / "app" / room).mkdir(exist_ok=True)
        add(copied, f"app.{room}", f'"""{room}."""')
    add(copied, "app.window", "import PySide6", "import app.usecases")
    add(copied, "app.register", "import sqlalchemy", "import app.decision.domain")
    assert broken(lint(copied)) == []
    add(copied, "app.window", "import app.cli")
    add(copied, "app.decision.judging", "import app.register")
    said = lint(copied)
    assert broken(said) == ["layers"]
    assert {("app.window", "app.cli"), ("app.decision.judging", "app.register")} <= set(NAMED_IN.findall(said))


@pytest.mark.parametrize("key", FORBIDDEN)
def test_each_forbidden_import_is_noticed_in_each_room(key: str, copied: Path) -> None:
    rooms = [name for name in CONTRACTS[key]["source_modules"] if name.removeprefix("app.") in ROOMS]
    modules = CONTRACTS[key]["forbidden_modules"]
    for room in rooms:
        add(copied, room, *(f"import {module}" for module in modules))
    said = lint(copied)
    assert key in broken(said)
    assert {(room, module) for room in rooms for module in modules} <= set(NAMED_IN.findall(said))


@pytest.mark.parametrize(
    ("key", "one", "other"),
    [
        ("rules-apart", "app.decision.rules.at_hand", "app.decision.rules.not_held"),
        ("sets-apart", "app.decision.rulesets.sets.us_osha_137", "app.decision.rulesets.sets.other"),
    ],
)
def test_declarations_that_lean_on_each_other_are_noticed(key: str, one: str, other: str, copied: Path) -> None:
    if not (copied / f"{other.replace('.', '/')}.py").exists():
        add(copied, other, '"""Another."""')
    assert broken(lint(copied)) == []
    add(copied, one, f"import {other}")
    assert broken(lint(copied)) == [key]


def test_a_look_behind_the_stores_questions_is_noticed(copied: Path) -> None:
    modules = CONTRACTS["counter"]["forbidden_modules"]
    # Values that answers are made of, and no way to the tables: what a line, a finding of damage and a proof are.
    behind = {path.stem for path in (ROOT / "app" / "register").glob("*.py")} - {
        "__init__",
        "journal",
        "verify",
        "proof",
        "upcasts",
    }
    assert {f"app.register.{name}" for name in behind} | {"app.register.writes"} == set(modules)
    for room in COUNTER:
        add(copied, f"app.{room}", *(f"import {module}" for module in modules))
    said = lint(copied)
    assert "counter" in broken(said)
    assert {(f"app.{room}", module) for room in COUNTER for module in modules} <= set(NAMED_IN.findall(said))
