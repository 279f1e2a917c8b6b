"""The figures behind every decision in people's units, with letter, clause, and who saw them in print."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from app.decision.domain.limits import Limit, TestInterval
from app.decision.judging.figures_known import FigureKnown
from app.outputs.document import Cell, Document, Section, Table, row
from app.outputs.documents.figure_words import UNITS, Named, of_clock, of_limit
from app.register.reads.site_rules import Confirmation
from app.words.saying import listed, say
from app.words.vocabulary import KINDS

FIGURE_COLUMNS = ("figure", "value", "needed", "clause", "letter", "print")
_STATEMENT = "statement"


def build(
    figures: Iterable[FigureKnown], confirmed: Mapping[str, Confirmation], sets: Iterable[str], *, unseen: bool
) -> Document:
    """The figures as people read them; `unseen`: they are the confirm-in-print list, which tells no letter."""
    columns = FIGURE_COLUMNS[:-2] if unseen else FIGURE_COLUMNS
    rows = tuple(_row(one, confirmed.get(one.key))[: len(columns)] for one in figures)
    table = Table(tuple(say(f"rules.figure-column.{key}", {}) for key in columns), rows)
    of_sets = {"sets": listed(sets)}
    if not unseen:
        return Document(say("rules.figures", {}), say("rules.figures-of", of_sets), (Section("", (), table),))
    how = Section("", (say("rules.unseen-how" if rows else "rules.unseen-none", {}),))
    return Document(
        say("rules.unseen", {}), say("rules.unseen-of", of_sets), (Section("", (), table), how) if rows else (how,)
    )  # fmt: skip


def _row(one: FigureKnown, seen: Confirmation | None) -> tuple[Cell, ...]:
    said = named(one)
    return row(one.key, said.value, needed_words(one), said.clause, said.letter, print_words(one, seen))


def as_values(figures: Iterable[FigureKnown], confirmed: Mapping[str, Confirmation]) -> list[dict[str, Any]]:
    """The figures as plain values; `months` stands for a retest clock, which is no single figure."""
    return [
        {
            "figure": one.key, "rule_set": one.title or None, **_plain(one.figure), "needed_for": needed_words(one),
            "kinds": list(one.kinds), "clause": one.figure.clause, "confidence": one.figure.confidence,
            "waits": one.is_from_memory and one.key not in confirmed,
            "confirmed": _seen(confirmed.get(one.key)),
        }
        for one in figures
    ]  # fmt: skip


def _seen(one: Confirmation | None) -> dict[str, str] | None:
    if one is None:
        return None
    return {"by": one.by, "on": str(one.on), "document": one.document, "entry": f"site:{one.entry}"}


def _plain(figure: Limit | TestInterval) -> dict[str, object]:
    if isinstance(figure, TestInterval):
        return {"unit": "months", "months": {"never_issued": figure.never, "in_use": figure.reused}}
    if figure.unit == _STATEMENT:
        return {"unit": None}
    parts, written = UNITS.get(figure.unit, (1, figure.unit))
    return {"value": figure.value / parts if parts > 1 else figure.value, "unit": written.strip()}


def named(one: FigureKnown) -> Named:
    """The figure in words: what it is, its value in people's units, where it stands."""
    return of_clock(one.figure) if isinstance(one.figure, TestInterval) else of_limit(one.figure)


def needed_words(one: FigureKnown) -> str:
    """What a figure is needed for, with class, length and the kinds of kit that lean on it."""
    what = named(one).words
    if not one.kinds or any(KINDS[kind] in what for kind in one.kinds):
        return what
    return say("rules.needed-for", {"what": what, "kinds": one.kinds})


def print_words(one: FigureKnown, seen: Confirmation | None) -> str:
    """Where a figure was seen: by its letter, or by whoever confirmed it."""
    if seen is not None and one.is_from_memory:
        return say(
            "rules.seen-by", {"by": seen.by, "on": seen.on or "", "document": seen.document, "entry": seen.entry}
        )  # fmt: skip
    if one.is_from_memory:
        return say("rules.not-seen", {})
    return say("rules.seen-letter", {"letter": one.figure.confidence})
