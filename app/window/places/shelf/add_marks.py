"""The marks a piece may have, each a field that asks it as it is printed, read into the keys of a worked case."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from app.decision.domain.declarations import Kind
from app.decision.fields.field import Field as Declared
from app.decision.fields.pieces import FIELDS, OF_ALL
from app.decision.fields.sorts import YES_NO
from app.intake.mark_cells import marks_of
from app.window.forms import ChoiceField, DayField, Field, FigureField, TextField
from app.words.saying import say
from app.words.vocabulary import EVERYTHING

#: asked of a kind: what it has, and what every kind has
ASKED = tuple(
    field for field in FIELDS.values() if field.is_offered and field.key not in ("code", "kind", "custody", "lost")
)
_UNKNOWN = "unknown"


def asked_of(kind: Kind) -> frozenset[str]:
    """The fields asked of a kind, and the day it was first handed out, which every clock may need."""
    return frozenset({*kind.fields, *OF_ALL, "first_issue"})


def _choice(key: str, options: Iterable[tuple[str, str]]) -> ChoiceField:
    return ChoiceField(_label(key), options)


def _label(key: str) -> str:
    return say(f"shelf.add.{key}", {})


def plain(words: Sequence[str]) -> list[tuple[str, str]]:
    """Options that say their own key."""
    return [(word, word) for word in words]


def _yes_no(key: str) -> ChoiceField:
    words = ("fixed", "loose") if key == "fixed_leads" else ("yes", "no")
    return _choice(key, [(answer, _label(word)) for answer, word in zip(("yes", "no"), words, strict=True)])


def _of_list(field: Declared) -> ChoiceField:
    words = EVERYTHING[field.table] if field.table else {}
    return _choice(
        field.key,
        [(value, _label(value) if value == _UNKNOWN else words.get(value, value)) for value in field.sort.values],
    )


def _simple(field: Declared) -> Field[Any]:
    """The field of a form that asks one declared field."""
    if field.sort is YES_NO:
        return _yes_no(field.key)
    if field.sort.name == "choice":
        return _of_list(field)
    if field.sort.name in ("text", "list", "marks"):
        return TextField(_label(field.key))
    return FigureField(_label(field.key), field.sort.unit, field.asked)


class FirstIssue:
    """When it was handed out for the first time ever: never, on a day, or nobody knows."""

    def __init__(self, today: Callable[[], date]) -> None:
        options = [
            ("never", say("shelf.add.never", {})), ("day", say("shelf.add.on-a-day", {})),
            ("unknown", say("shelf.add.unknown", {})),
        ]  # fmt: skip
        self.choice = _choice("first_issue", options)
        self.day = DayField(say("shelf.add.first_issue_day", {}), today, is_needed=True)
        self.choice.changed.connect(self.show)

    def show(self) -> None:
        """The day is asked where there was one."""
        self.day.setVisible(not self.choice.isHidden() and self.choice.value() == "day")

    def value(self) -> object:
        """As a worked case says it; None where nothing is chosen."""
        return self.day.value() if self.choice.value() == "day" else self.choice.value()


class Marks:
    """Every field by its key, in the order they are asked. `fuse` and `voltage_mark` are of several fields each."""

    def __init__(self, today: Callable[[], date]) -> None:
        self.first_issue = FirstIssue(today)
        self.volts = {key: FigureField(_label(f"voltage_{key[:2]}"), "V") for key in ("ac_v", "dc_v")}
        kinds_of_fuse = [*_FUSES, (_UNKNOWN, _label(_UNKNOWN))]
        self.fuse: dict[str, Field[Any]] = {
            "v": FigureField(_label("fuse_v"), "V"), "ac_only": _yes_no("fuse_ac_only"),
            "kind": _choice("fuse_kind", kinds_of_fuse),
        }  # fmt: skip
        several: dict[str, list[Field[Any]]] = {
            "first_issue": [self.first_issue.choice, self.first_issue.day],
            "voltage_mark": list(self.volts.values()), "fuse": list(self.fuse.values()),
        }  # fmt: skip
        #: key of a worked case -> the fields it is made of, in the order they are asked.
        self.fields = {field.key: several.get(field.key) or [_simple(field)] for field in ASKED}

    def __getitem__(self, key: str) -> Field[Any]:
        """The first field of a mark."""
        return self.fields[key][0]

    def every(self) -> list[Field[Any]]:
        """All fields in order."""
        return [field for fields in self.fields.values() for field in fields]

    def show(self, offered: frozenset[str]) -> None:
        """Ask only these."""
        for key, fields in self.fields.items():
            for field in fields:
                field.setVisible(key in offered)
        self.first_issue.show()

    def table(self, offered: frozenset[str]) -> dict[str, object]:
        """What is filled in of these, in the keys and values of a worked case; BadInput for marks nobody can read."""
        found: dict[str, object] = {}
        for key in (one for one in self.fields if one in offered):
            value = self._value(key)
            if value is not None and value != {}:
                found[key] = value
        return found

    def _value(self, key: str) -> object:
        if key == "first_issue":
            return self.first_issue.value()
        if key == "voltage_mark":
            return _filled(self.volts)
        if key == "fuse":
            return _filled(self.fuse)
        return _as_written(key, self[key].value())


def _filled(fields: Mapping[str, Field[Any]]) -> dict[str, object]:
    read = {key: _as_written(key, field.value()) for key, field in fields.items()}
    return {key: value for key, value in read.items() if value is not None}


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


_FUSES = [("hbc", "HBC / HRC"), ("glass", "glass"), ("blown", "blown")]
