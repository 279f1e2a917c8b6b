"""Whether the same person has said the very same of a thing that stands: a second press of Enter writes nothing."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from datetime import timedelta

from app.decision.domain.entries import Name
from app.decision.domain.errors import BadInput
from app.register.reads.lines import Line, line, lines_about
from app.register.unit import Unit, content_of, head_of, stored_row
from app.usecases.entering import DOUBLE


def status_line(
    unit: Unit, kind: str, subject: str, row: Mapping[str, object], but: Iterable[str] = ("revision",)
) -> Line | None:
    """The newest line of this kind about the subject, where it is by the same person and differs in `but` only."""
    lines = unit.read(lambda connection: lines_about(connection, subject))
    last = next((newest for newest in reversed(lines) if newest.kind == kind), None)
    if last is None or last.actor != unit.actor:
        return None
    left_out = set(but)
    content = json.loads(content_of(kind, stored_row(kind, row)))
    is_same = _without(content, left_out) == _without(last.content, left_out)
    return last if is_same else None


def refuse_if_it_stands(unit: Unit, kind: str, subject: str, row: Mapping[str, object]) -> None:
    """BadInput naming the entry by which it stands already."""
    last = status_line(unit, kind, subject, row)
    if last is not None:
        raise BadInput("entry.stands", thing=subject, entry=str(last.name))


def refuse_if_just_taken(unit: Unit, crib: str, row: Mapping[str, object]) -> None:
    """BadInput where it is the same stocktake again within two minutes and nothing else stands in that book since."""
    last = status_line(unit, "stocktake", crib, row)
    if last is None or not timedelta(0) <= unit.now - last.at <= DOUBLE:
        return
    book = last.name.book
    end = unit.read(lambda connection: line(connection, Name(book, head_of(connection, book).number)))
    # What an act writes stands under one moment: found and lost pieces follow from the stocktake itself.
    if end is not None and end.at == last.at:
        raise BadInput("stocktake.twice", thing=crib, entry=str(last.name))


def _without(content: Mapping[str, object], left_out: set[str]) -> dict[str, object]:
    return {key: value for key, value in content.items() if key not in left_out}
