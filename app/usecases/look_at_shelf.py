"""Look over the shelf: every piece with its standing on today and the marks people know it by."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Protocol, TypeVar

from msgspec import Struct

from app.decision.domain.facts import Facts
from app.decision.judging.answers import DueRow
from app.decision.judging.catalogues import facts_on, rule_sets_of
from app.register.reads.shelf import cribs_there, how_many, shelved
from app.register.reads.site_rules import depot_rules
from app.usecases.shelf_row import dated_kinds, row_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.register.engine import Connection

T = TypeVar("T")


class Asked(Protocol):
    """A desk, or a glance that is taken before there is one."""

    def ask(self, read: Callable[[Connection], T]) -> T:
        """One question."""
        ...

    def today(self) -> date:
        """The day."""
        ...


class OnShelf(Struct, frozen=True, gc=False):
    """One piece. `size` in inches as people say it, "" where none is known."""

    row: DueRow
    label: str
    insulation_class: str
    size: str

    @property
    def code(self) -> str:
        """Its own code."""
        return self.row.status.piece.code


class Shelf(Struct, frozen=True):
    """`rows` by code; `total` counts every piece, those of kinds not judged yet too; `facts` are without pieces.

    `cribs` in the order they were set up, those without a piece too.
    """

    rows: tuple[OnShelf, ...]
    total: int
    facts: Facts
    cribs: tuple[str, ...] = ()


def look_at_shelf(desk: Asked, most: int | None = None) -> Shelf:
    """The whole shelf, or its first so many pieces."""
    today = desk.today()

    def read(connection: Connection) -> Shelf:
        depot = depot_rules(connection)
        facts = facts_on(today, depot.site, rule_sets_of(depot))
        dated, left_out = dated_kinds(facts), 0
        rows: list[OnShelf] = []
        for row in shelved(connection, most):
            if row.kept.kind not in facts.kinds:
                left_out += 1
                continue
            judged = row_of(row.kept, today, facts, dated, (row.out_with, row.out_until))
            rows.append(OnShelf(judged, row.label, row.insulation_class or "", size_words(row.size_c)))
        total = len(rows) + left_out if most is None else how_many(connection)
        return Shelf(tuple(rows), total, facts, cribs_there(connection))

    return desk.ask(read)


def size_words(size_c: int | None) -> str:
    """A glove size from hundredths of an inch: 9, 9.5, 10.25."""
    return "" if size_c is None else f"{size_c / 100:g}"
