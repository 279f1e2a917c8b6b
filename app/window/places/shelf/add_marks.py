"""The marks a piece may have, each a field that asks it as it is printed, read into the keys of a worked case."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from app.decision.fields.words import CLASS_SYSTEMS, CLASSES
from app.intake.mark_cells import marks_of
from app.window.forms import ChoiceField, DayField, Field, FigureField, TextField
from app.window.places.shelf.marks import CHOICES, FIGURES, TEXTS, YES_NO
from app.words.saying import say
from app.words.vocabulary import CLASS_SYSTEMS as SYSTEM_WORDS

# Asked of every kind; everything else only where the kind has it.
OF_ALL = ("label", "batch", "first_issue")


def _choice(key: str, options: Iterable[tuple[str, str]]) -> ChoiceField:
    return ChoiceField(say(key, {}), options)


def plain(words: Sequence[str]) -> list[tuple[str, str]]:
    """Options that say their own key."""
    return [(one, one) for one in words]


def _figure(key: str) -> FigureField:
    words, unit, decimals = FIGURES[key]
    return FigureField(say(words, {}), unit, decimals)


class FirstIssue:
    """When it was handed out for the first time ever: never, on a day, or nobody knows."""

    def __init__(self, today: Callable[[], date]) -> None:
        options = [
            ("never", say("shelf.add.never", {})), ("day", say("shelf.add.on-a-day", {})),
            ("unknown", say("shelf.add.unknown", {})),
        ]  # fmt: skip
        self.choice = _choice(CHOICES["first_issue"], options)
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
        leads = [("yes", say("shelf.add.fixed", {})), ("no", say("shelf.add.loose", {}))]
        yes_no = [("yes", say("shelf.add.yes", {})), ("no", say("shelf.add.no", {}))]
        unknown = ("unknown", say("shelf.add.unknown", {}))
        self.first_issue = FirstIssue(today)
        made: dict[str, Field[Any]] = {
            **{key: TextField(say(words, {})) for key, words in TEXTS.items()},
            **{key: _figure(key) for key in FIGURES},
            **{key: _choice(words, yes_no) for key, words in YES_NO.items()},
            "class": _choice(CHOICES["class"], plain(CLASSES)),
            "class_system": _choice(CHOICES["class_system"], [(key, SYSTEM_WORDS[key]) for key in CLASS_SYSTEMS]),
            "type": _choice(CHOICES["type"], plain(("I", "II"))),
            "hand": _choice(CHOICES["hand"], plain(("pair", "left", "right"))),
            "material": _choice(CHOICES["material"], plain(("natural", "synthetic"))),
            "first_issue": self.first_issue.choice,
            "cut_for_class": _choice(CHOICES["cut_for_class"], plain(CLASSES)),
            "fixed_leads": _choice(CHOICES["fixed_leads"], leads),
            "caps": _choice(CHOICES["caps"], [*plain(("present", "missing")), unknown]),
        }
        self.volts = {key: FigureField(say(words, {}), "V") for key, words in _VOLTS.items()}
        self.fuse: dict[str, Field[Any]] = {
            "v": FigureField(say("shelf.add.fuse_v", {}), "V"), "ac_only": _choice("shelf.add.fuse_ac_only", yes_no),
            "kind": _choice("shelf.add.fuse_kind", [*_FUSES, unknown]),
        }  # fmt: skip
        #: key of a worked case -> the fields it is made of, in the order they are asked.
        self.fields: dict[str, list[Field[Any]]] = {}
        for key in _ORDER:
            if key == "voltage_mark":
                self.fields[key] = list(self.volts.values())
            elif key == "fuse":
                self.fields[key] = list(self.fuse.values())
            else:
                self.fields[key] = [made[key], self.first_issue.day] if key == "first_issue" else [made[key]]

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
    if key in YES_NO or key in ("fixed_leads", "ac_only"):
        return value == "yes"
    return int(value) if isinstance(value, Decimal) and value == value.to_integral_value() else value


_VOLTS = {"ac_v": "shelf.add.voltage_ac", "dc_v": "shelf.add.voltage_dc"}
_FUSES = [("hbc", "HBC / HRC"), ("glass", "glass"), ("blown", "blown")]
_ORDER = (
    "label", "class", "class_system", "type", "hand", "size", "length_mm", "categories", "dc_tested", "material",
    "cut_for_class", "leather", "leather_mm", "arc_rating_cal", "window_rating_cal", "fabric_rating_cal", "hood",
    "balaclava", "voltage_mark", "marks", "marks_cap_off", "caps", "fixed_leads", "tip_mm", "current_a",
    "max_input_ac_v", "max_input_dc_v", "fuse", "threshold_ac_v", "threshold_dc_v", "output_ac_v", "output_dc_v",
    "max_altitude_m", "maker_interval_months", "batch", "first_issue",
)  # fmt: skip
