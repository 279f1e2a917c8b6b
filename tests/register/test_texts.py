"""What is asked before the database library is loaded is asked by the library alike."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Select, func, select

from app.register import texts
from app.register.columns import Instant
from app.register.reads.site_rules import CONFIRMED
from app.register.tables import CRIB, DERIVED, JOURNAL, OUT_NOW, PIECE, SITE_RULE, STATUS
from app.usecases.add_crib import add_crib
from app.usecases.confirm_figures import confirm_figures
from app.usecases.desk import Desk
from app.usecases.issue_kit import issue_kit
from app.usecases.set_rule import set_rule
from tests.fakes import question, stocked
from tests.usecases.acts import FROM_MEMORY

LATER = SITE_RULE.alias("later")
NEWEST = SITE_RULE.c.revision == (
    select(func.max(LATER.c.revision)).where(LATER.c.key == SITE_RULE.c.key).scalar_subquery()
)
RULES = (SITE_RULE.c.key, SITE_RULE.c.value, SITE_RULE.c.approved_by, SITE_RULE.c.reason, SITE_RULE.c.entry)
SHELF = (
    select(
        *(STATUS.c[name] for name in (
            "piece", "kind", "crib", "state", "due_on", "decides", "counted_from", "checked_on", "unchecked", "why",
            "holder", "place",
        )),
        PIECE.c.label, PIECE.c.insulation_class, PIECE.c.size_c, OUT_NOW.c.person, OUT_NOW.c.until_day,
    )
    .join(PIECE, (PIECE.c.code == STATUS.c.piece) & (PIECE.c.revision == STATUS.c.revision))
    .outerjoin(OUT_NOW, OUT_NOW.c.piece == STATUS.c.piece)
    .order_by(STATUS.c.piece)
)  # fmt: skip
ALIKE: dict[str, tuple[Select[Any], Sequence[object]]] = {
    "RULES_DIGEST": (select(DERIVED.c.value).where(DERIVED.c.key == "rules-digest"), ()),
    "CRIBS": (select(CRIB.c.code).order_by(CRIB.c.entry), ()),
    "PIECES_COUNTED": (select(func.count()).select_from(STATUS), ()),
    "SITE_RULES": (select(*RULES).where(NEWEST).order_by(SITE_RULE.c.key), ()),
    "CONFIRMED_FIGURES": (
        select(*RULES, JOURNAL.c.actor, JOURNAL.c.at)
        .join(JOURNAL, (JOURNAL.c.book == SITE_RULE.c.book) & (JOURNAL.c.number == SITE_RULE.c.entry))
        .where(SITE_RULE.c.key.startswith(CONFIRMED, autoescape=True), NEWEST)
        .order_by(SITE_RULE.c.key),
        ("confirmed~_in~_print%",),
    ),
    "SHELF": (SHELF, ()),
    "FIRST_OF_SHELF": (SHELF.limit(3), (3,)),
}


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    opened = stocked(tmp_path / "r.cuffdate")
    add_crib(opened, "P0", "north")
    for days in (14, 20):
        set_rule(opened, "P0", {"warning_days": days})
    confirm_figures(opened, "P0", [FROM_MEMORY], "own copy")
    issue_kit(opened, "P0", question())
    yield opened
    opened.store.close()


@pytest.mark.parametrize("name", ALIKE)
def test_the_library_asks_alike(name: str, desk: Desk) -> None:
    statement, values = ALIKE[name]
    asked = desk.ask(lambda connection: texts.asked(connection, getattr(texts, name), *values))
    named = desk.ask(lambda connection: [tuple(row) for row in connection.execute(statement)])
    stored = [
        tuple(value if value is None or isinstance(value, int) else _text(value) for value in row) for row in named
    ]
    assert asked == stored
    assert asked


def _text(value: object) -> str:
    """A day or a moment as it stands in the file."""
    return Instant().stored(value) if isinstance(value, datetime) else str(value)


def test_every_text_is_among_them() -> None:
    assert {name for name in vars(texts) if name.isupper() and not name.startswith("_")} - {"TYPE_CHECKING"} == set(
        ALIKE
    )
