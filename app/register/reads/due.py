"""The shelf as a list: every piece with what lasts of its standing, the most pressing first."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

from sqlalchemy import ColumnElement, Select, and_, bindparam, or_, select
from sqlalchemy.engine import Connection

from app.register.reads.shelf import ShelfRow
from app.register.statements import Question
from app.register.tables import STATUS

_KEPT = STATUS.c
_ROWS = select(*(_KEPT[name] for name in ShelfRow._fields))
_BY_CODE = Question(_ROWS.order_by(_KEPT.piece))
_OF_CRIB = Question(_ROWS.where(_KEPT.crib == bindparam("crib")).order_by(_KEPT.piece))
_PAST = _KEPT.due_on <= bindparam("last")


def _by_due_day(where: ColumnElement[bool]) -> tuple[Question, Question]:
    """All of them, and the first `most`."""
    rows = _ROWS.where(where).order_by(_KEPT.due_on.nulls_first(), _KEPT.piece)
    return Question(rows), Question(rows.limit(bindparam("most")))


_OVERDUE = _by_due_day(and_(_KEPT.state == "ready", _PAST))
_DUE = _by_due_day(
    and_(_KEPT.state.not_in(("lost", "withdrawn")), or_(_PAST, _KEPT.state.in_(("held", "not-tested", "cannot-tell"))))
)


def _offered() -> Select[Any]:
    in_date = or_(_KEPT.due_on.is_(None), _KEPT.due_on > bindparam("until"))
    on_shelf = and_(_KEPT.holder == "", _KEPT.state.in_(("ready", "certificate-not-seen")))
    rows = select(_KEPT.piece).where(_KEPT.kind == bindparam("kind"), on_shelf, in_date)
    return rows.order_by(_KEPT.due_on.nulls_last(), _KEPT.piece).limit(bindparam("most"))


_OFFERED = Question(_offered())


def shelf_rows(connection: Connection, crib: str | None = None) -> list[ShelfRow]:
    """Every piece, by code."""
    rows = _BY_CODE.rows(connection) if crib is None else _OF_CRIB.rows(connection, crib=crib)
    return list(map(ShelfRow._make, rows))


def overdue_rows(connection: Connection, today: date, most: int | None = None) -> list[ShelfRow]:
    """Pieces whose last good day is past and that nothing else keeps back, the longest overdue first."""
    return _first_of(connection, _OVERDUE, today, most)


def due_rows(connection: Connection, last: date, most: int | None = None) -> list[ShelfRow]:
    """Pieces due on or before `last`, and those that are held, untested or cannot be told; by due day."""
    return _first_of(connection, _DUE, last, most)


def _first_of(connection: Connection, asked: tuple[Question, Question], last: date, most: int | None) -> list[ShelfRow]:
    every, first = asked
    day = last.isoformat()
    rows = every.rows(connection, last=day) if most is None else first.rows(connection, last=day, most=most)
    return list(map(ShelfRow._make, rows))


def candidates(connection: Connection, kinds: Iterable[str], until: date, most_of_each: int) -> list[str]:
    """Codes of pieces that could be offered instead: on the shelf, nothing known against them, and in date.

    The nearest due comes first, so that what runs out soonest is used soonest.
    """
    day = until.isoformat()
    return [
        str(code) for kind in kinds for (code,) in _OFFERED.rows(connection, kind=kind, until=day, most=most_of_each)
    ]
