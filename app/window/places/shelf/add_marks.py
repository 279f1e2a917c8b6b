"""The marks a piece may have, each a field that asks it as it is printed, read into the keys of a worked case."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from decimal import Decimal
from typing import Any

from app.decision.domain.errors import BadInput
from app.decision.fields.words import CLASS_SYSTEMS, CLASSES
from app.intake.faults import CellFault
from app.intake.mark_cells import category_marks
from app.window.asked import Asked, Options, any_day, choice, figure, plain, said, words_of
from app.window.forms import Field
from app.window.shell import Shell
from app.words.vocabulary import CLASS_SYSTEMS as SYSTEM_WORDS
from app.words.vocabulary import EVERYTHING

# Asked of every kind; everything else only where the kind has it.
OF_ALL = ("label", "batch", "first_issue")
CAL = "cal/cm\u00b2"
_UNKNOWN = {"unknown": "shelf.add.unknown"}
_YES_NO = said({"yes": "shelf.add.yes", "no": "shelf.add.no"})
_FIRST_ISSUE = said({"never": "shelf.add.never", "day": "shelf.add.on-a-day", **_UNKNOWN})


def _worded(table: str, *keys: str) -> Callable[[], Options]:
    return lambda: [(key, EVERYTHING[table][key]) for key in keys]


def _fuses() -> Options:
    return [*_worded("fuse", "hbc", "glass", "blown")(), *said(_UNKNOWN)()]


# Key of a worked case -> its field, or the fields it is made of by the part each gives, in the order they are asked.
_MARKS: Mapping[str, Asked | Mapping[str, Asked]] = {
    "label": words_of("shelf.add.label"),
    "class": choice("shelf.add.class", plain(CLASSES)),
    "class_system": choice("shelf.add.class_system", lambda: [(key, SYSTEM_WORDS[key]) for key in CLASS_SYSTEMS]),
    "type": choice("shelf.add.type", plain(("I", "II"))),
    "hand": choice("shelf.add.hand", _worded("hand", "pair", "left", "right")),
    "size": figure("shelf.add.size", decimals=2),
    "length_mm": figure("shelf.add.length_mm", "mm"),
    "categories": words_of("shelf.add.categories"),
    "dc_tested": choice("shelf.add.dc_tested", _YES_NO),
    "material": choice("shelf.add.material", _worded("material", "natural", "synthetic")),
    "cut_for_class": choice("shelf.add.cut_for_class", plain(CLASSES)),
    "leather": words_of("shelf.add.leather"),
    "leather_mm": figure("shelf.add.leather_mm", "mm", 2),
    "arc_rating_cal": figure("shelf.add.arc_rating_cal", CAL, 2),
    "window_rating_cal": figure("shelf.add.window_rating_cal", CAL, 2),
    "fabric_rating_cal": figure("shelf.add.fabric_rating_cal", CAL, 2),
    "hood": choice("shelf.add.hood", _YES_NO),
    "balaclava": choice("shelf.add.balaclava", _YES_NO),
    "voltage_mark": {"ac_v": figure("shelf.add.voltage_ac", "V"), "dc_v": figure("shelf.add.voltage_dc", "V")},
    "marks": words_of("shelf.add.marks"),
    "marks_cap_off": words_of("shelf.add.marks_cap_off"),
    "caps": choice("shelf.add.caps", lambda: [*_worded("caps", "present", "missing")(), *said(_UNKNOWN)()]),
    "fixed_leads": choice("shelf.add.fixed_leads", said({"yes": "shelf.add.fixed", "no": "shelf.add.loose"})),
    "tip_mm": figure("shelf.add.tip_mm", "mm", 1),
    "current_a": figure("shelf.add.current_a", "A", 3),
    "max_input_ac_v": figure("shelf.add.max_input_ac_v", "V"),
    "max_input_dc_v": figure("shelf.add.max_input_dc_v", "V"),
    "fuse": {
        "v": figure("shelf.add.fuse_v", "V"),
        "ac_only": choice("shelf.add.fuse_ac_only", _YES_NO),
        "kind": choice("shelf.add.fuse_kind", _fuses),
    },
    "threshold_ac_v": figure("shelf.add.threshold_ac_v", "V", 1),
    "threshold_dc_v": figure("shelf.add.threshold_dc_v", "V", 1),
    "output_ac_v": figure("shelf.add.output_ac_v", "V", 1),
    "output_dc_v": figure("shelf.add.output_dc_v", "V", 1),
    "max_altitude_m": figure("shelf.add.max_altitude_m", "m"),
    "maker_interval_months": figure("shelf.add.maker_interval_months", "months"),
    "batch": words_of("shelf.add.batch"),
    # Never, on a day, or nobody knows.
    "first_issue": {
        "": choice("shelf.add.first_issue", _FIRST_ISSUE),
        "day": any_day("shelf.add.first_issue_day", is_needed=True),
    },
}
_ANSWERED = frozenset({"hood", "balaclava", "dc_tested", "fixed_leads", "ac_only"})


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
        return _marks(str(value))
    if key == "categories":
        return str(value).upper().replace(",", " ").split()
    if key in _ANSWERED:
        return value == "yes"
    return int(value) if isinstance(value, Decimal) and value == value.to_integral_value() else value


def _marks(written: str) -> list[list[object]]:
    """CAT III 1000 V, CAT IV 600 V as a worked case writes it; read as a cell of a sheet is read."""
    try:
        return category_marks(written)
    except CellFault as fault:
        raise BadInput("case.not-marks", thing=written) from fault
