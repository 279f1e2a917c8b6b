"""What an act wrote, in words and as plain values."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from app.decision.domain.electrical_test import Note
from app.decision.domain.entries import Name
from app.decision.domain.finding import Finding
from app.decision.judging.answers import Saved
from app.words.saying import listed, say, say_finding


def lines(saved: Saved) -> list[str]:
    """The entry's name first: it is what a correction has to name."""
    sentences = [names_said(saved.entries)] if saved.entries else []
    if saved.result:
        sentences.insert(0, say(f"saved.result.{saved.result}", {}))
    return sentences + [told(note) for note in saved.told]


def names_said(names: Iterable[Name]) -> str:
    """Entry names, runs of one book in short."""
    entries = list(names)
    if len(entries) == 1:
        return say("saved.one", {"entry": str(entries[0])})
    first, last = entries[0], entries[-1]
    if all(entry.book == first.book for entry in entries):
        return say("saved.many", {"first": str(first), "last": last.number})
    books: dict[str, list[int]] = {}
    for entry in entries:
        books.setdefault(entry.book, []).append(entry.number)
    runs = [_run(Name(book, min(numbers)), max(numbers)) for book, numbers in books.items()]
    return say("saved.several", {"entries": runs})


def _run(first: Name, last: int) -> str:
    return str(first) if last == first.number else say("saved.run", {"first": str(first), "last": last})


def told(note: Note) -> str:
    """One thing to say beside "saved"; a finding among the values is said in its own sentence."""
    values = dict(note.values)
    finding = values.pop("finding", None)
    if isinstance(finding, Finding):
        values["says"] = say_finding(finding)
    shown = {key: listed(map(str, value)) if isinstance(value, tuple) else value for key, value in values.items()}
    return say(note.key, shown)


def as_values(saved: Saved) -> dict[str, Any]:
    """Entries by book and number, `entry` the first of them, what was told as key and sentence."""
    first = saved.entries[0] if saved.entries else None
    return {
        "entry": None if first is None else str(first),
        "entries": [{"book": entry.book, "number": entry.number} for entry in saved.entries],
        "result": saved.result or None,
        "told": [{"key": note.key, "says": told(note)} for note in saved.told],
    }
