"""An anchor belongs to a register and not to a path: nothing that this desktop keeps ties the two together.

What tells one register from another is the first hash of its site's book, which holds who began it and when.
"""

from __future__ import annotations

import ast
import shutil
from datetime import timedelta
from pathlib import Path

from sqlalchemy import select

from app.register.tables import JOURNAL
from app.usecases.desk import Desk
from tests.fakes import MORNING, FixedClock, desk_on, stocked

WINDOW = Path(__file__).parents[2] / "app" / "window"
FIRST_OF_SITE = select(JOURNAL.c.hash).where(JOURNAL.c.book == "site", JOURNAL.c.number == 1)


def first_hash(desk: Desk) -> bytes:
    found = desk.ask(lambda connection: connection.scalar(FIRST_OF_SITE))
    desk.store.close()
    assert isinstance(found, bytes)
    return found


def test_a_register_is_the_same_wherever_its_file_lies(tmp_path: Path) -> None:
    here, elsewhere = tmp_path / "r.cuffdate", tmp_path / "moved.cuffdate"
    desk = stocked(here)
    anchors = desk.anchors()
    own = first_hash(desk)
    shutil.copyfile(here, elsewhere)
    moved = desk_on(elsewhere)
    assert moved.anchors() == anchors
    assert first_hash(moved) == own


def test_another_register_at_its_path_is_another(tmp_path: Path) -> None:
    path = tmp_path / "r.cuffdate"
    own = first_hash(stocked(path))
    path.unlink()
    assert first_hash(stocked(path, FixedClock(MORNING + timedelta(days=1)))) != own


def test_a_desktop_keeps_no_anchor_beside_a_path() -> None:
    calls = [
        node for path in WINDOW.rglob("*.py") for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "remember"
    ]  # fmt: skip
    keys = {call.args[0].value for call in calls if isinstance(call.args[0], ast.Constant)}
    assert len(calls) == len([call for call in calls if isinstance(call.args[0], ast.Constant)])
    assert keys == {"register", "palette", "place"}
