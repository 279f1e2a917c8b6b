"""The marks a piece may have, each a field that asks it as it is printed, read into the keys of a worked case."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal
from functools import partial
from typing import Any

from app.decision.domain.declarations import Kind
from app.decision.fields.field import Field as Declared
from app.decision.fields.pieces import FIELDS, OF_ALL
from app.decision.fields.sorts import YES_NO
from app.intake.mark_cells import marks_of
from app.window.asked import Asked, Options, any_day, choice, figure, said, words_of
from app.window.forms import Field
from app.window.shell import Shell
from app.words.vocabulary import EVERYTHING

_UNKNOWN = {"unknown": "shelf.add.unknown"}
_YES_NO = said({"yes": "shelf.add.yes", "no": "shelf.add.no"})
_FIRST_ISSUE = said({"never": "shelf.add.never", "day": "shelf.add.on-a-day", **_UNKNOWN})


def _fuses() -> Options:
    return [*((kind, EVERYTHING["fuse"][kind]) for kind in ("hbc", "glass", "blown")), *said(_UNKNOWN)()]


# Fields that a form asks by their parts, or in words of their own.
_OWN: Mapping[str, Asked | Mapping[str, Asked]] = {
    "fixed_leads": choice("shelf.add.fixed_leads", said({"yes": "shelf.add.fixed", "no": "shelf.add.loose"})),
    "voltage_mark": {"ac_v": figure("shelf.add.voltage_ac", "V"), "dc_v": figure("shelf.add.voltage_dc", "V")},
    "fuse": {
        "v": figure("shelf.add.fuse_v", "V"),
        "ac_only": choice("shelf.add.fuse_ac_only", _YES_NO),
        "kind": choice("shelf.add.fuse_kind", _fuses),
    },
    # Never, on a day, or nobody knows.
    "first_issue": {
        "": choice("shelf.add.first_issue", _FIRST_ISSUE),
        "day": any_day("shelf.add.first_issue_day", is_needed=True),
    },
}


def asked_of(kind: Kind) -> frozenset[str]:
    """The fields asked of a kind, and the day it was first handed out, which every clock may need."""
    return frozenset({*kind.fields, *OF_ALL, "first_issue"})


def _options(declared: Declared) -> Options:
    words = EVERYTHING[declared.table] if declared.table else {}
    known = [(value, words.get(value, value)) for value in declared.sort.values if value != "unknown"]
    return [*known, *(said(_UNKNOWN)() if len(known) < len(declared.sort.values) else ())]


def _asked(declared: Declared) -> Asked | Mapping[str, Asked]:
    """The field of a form, or its parts, that asks a declared field."""
    words = f"shelf.add.{declared.key}"
    if declared.key in _OWN:
        return _OWN[declared.key]
    if declared.sort is YES_NO:
        return choice(words, _YES_NO)
    if declared.sort.name == "choice":
        return choice(words, partial(_options, declared))
    if declared.sort.name in ("text", "list", "marks"):
        return words_of(words)
    return figure(words, declared.sort.unit, declared.asked)


# Key of a worked case -> its field, or the fields it is made of by the part each gives, in the order they are asked.
_MARKS = {
    field.key: _asked(field)
    for field in FIELDS.values()
    if field.is_offered and field.key not in ("code", "kind", "custody", "lost")
}


class Marks:
    """Every field by its mark and its part of it, in the order they are asked."""

    def __init__(self, shell: Shell) -> None:
        self.fields: dict[str, dict[str, Field[Any]]] = {
            key: {part: ask(shell) for part, ask in (asked.items() if isinstance(asked, Mapping) else [("", asked)])}
            for key, asked in _MARKS.items()
        }
        self.first_issue = self.fields["first_issue"]
        self.first_issue[""].changed.connect(self._show_day)

    def __getitem__(self, key: str) -> Field[Any]:
        """The first field of a mark."""
        return next(iter(self.fields[key].values()))

    def every(self) -> list[Field[Any]]:
        """All fields in order."""
        return [field for parts in self.fields.values() for field in parts.values()]

    def show(self, offered: frozenset[str]) -> None:
        """Ask only these."""
        for key, parts in self.fields.items():
            for field in parts.values():
                field.setVisible(key in offered)
        self._show_day()

    def _show_day(self) -> None:
        """The day is asked where there was one."""
        chosen = self.first_issue[""]
        self.first_issue["day"].setVisible(not chosen.isHidden() and chosen.value() == "day")

    def table(self, offered: frozenset[str]) -> dict[str, object]:
        """What is filled in of these, in the keys and values of a worked case; BadInput for marks nobody can read."""
        return {key: value for key in self.fields if key in offered for value in self._values(key)}

    def _values(self, key: str) -> Iterator[object]:
        """The value of a mark; none where nothing is filled in."""
        parts = self.fields[key]
        read = {part: _as_written(part or key, field.value()) for part, field in parts.items()}
        if key == "first_issue":
            read = {"": read["day"] if read[""] == "day" else read[""]}
        filled = {part: value for part, value in read.items() if value is not None}
        if filled:
            yield filled.get("", filled)


def _as_written(key: str, value: object) -> object:
    """A field's value as a worked case writes it."""
    if value is None:
        return None
    if key in ("marks", "marks_cap_off"):
        return marks_of(str(value))
    if key == "categories":
        return str(value).upper().replace(",", " ").split()
    if key == "ac_only" or (key in FIELDS and FIELDS[key].sort is YES_NO):
        return value == "yes"
    return int(value) if isinstance(value, Decimal) and value == value.to_integral_value() else value
