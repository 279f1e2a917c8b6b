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
    rows = tuple(_row(figure, confirmed.get(figure.key))[: len(columns)] for figure in figures)
    table = Table(tuple(say(f"rules.figure-column.{key}", {}) for key in columns), rows)
    of_sets = {"sets": listed(sets)}
    if not unseen:
        return Document(say("rules.figures", {}), say("rules.figures-of", of_sets), (Section("", (), table),))
    how = Section("", (say("rules.unseen-how" if rows else "rules.unseen-none", {}),))
    return Document(
        say("rules.unseen", {}), say("rules.unseen-of", of_sets), (Section("", (), table), how) if rows else (how,)
    )  # fmt: skip


def _row(figure: FigureKnown, seen: Confirmation | None) -> tuple[Cell, ...]:
    words = named(figure)
    return row(figure.key, words.value, needed_words(figure), words.clause, words.letter, print_words(figure, seen))


def as_values(figures: Iterable[FigureKnown], confirmed: Mapping[str, Confirmation]) -> list[dict[str, Any]]:
    """The figures as plain values; `months` stands for a retest clock, which is no single figure."""
    return [
        {
            "figure": known.key, "rule_set": known.title or None, **_plain(known.figure),
            "needed_for": needed_words(known), "kinds": list(known.kinds),
            "clause": known.figure.clause, "confidence": known.figure.confidence,
            "waits": known.is_from_memory and known.key not in confirmed,
            "confirmed": _seen(confirmed.get(known.key)),
        }
        for known in figures
    ]  # fmt: skip


def _seen(confirmation: Confirmation | None) -> dict[str, str] | None:
    if confirmation is None:
        return None
    return {
        "by": confirmation.by,
        "on": str(confirmation.on),
        "document": confirmation.document,
        "entry": f"site:{confirmation.entry}",
    }


def _plain(figure: Limit | TestInterval) -> dict[str, object]:
    if isinstance(figure, TestInterval):
        return {"unit": "months", "months": {"never_issued": figure.never, "in_use": figure.reused}}
    if figure.unit == _STATEMENT:
        return {"unit": None}
    parts, written = UNITS.get(figure.unit, (1, figure.unit))
    return {"value": figure.value / parts if parts > 1 else figure.value, "unit": written}


def named(known: FigureKnown) -> Named:
    """The figure in words: what it is, its value in people's units, where it stands."""
    return of_clock(known.figure) if isinstance(known.figure, TestInterval) else of_limit(known.figure)


def needed_words(figure: FigureKnown) -> str:
    """What a figure is needed for, with class, length and the kinds of kit that lean on it."""
    what = named(figure).words
    if not figure.kinds or any(KINDS[kind] in what for kind in figure.kinds):
        return what
    return say("rules.needed-for", {"what": what, "kinds": figure.kinds})


def print_words(figure: FigureKnown, seen: Confirmation | None) -> str:
    """Where a figure was seen: by its letter, or by whoever confirmed it."""
    if seen is not None and figure.is_from_memory:
        return say(
            "rules.seen-by", {"by": seen.by, "on": seen.on or "", "document": seen.document, "entry": seen.entry}
        )  # fmt: skip
    if figure.is_from_memory:
        return say("rules.not-seen", {})
    return say("rules.seen-letter", {"letter": figure.figure.confidence})
