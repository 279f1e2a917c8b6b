"""Adding a piece by hand: the marks its kind may have, each asked as it is printed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from app.domain.case.words import CLASS_SYSTEMS, CLASSES
from app.domain.errors import BadInput
from app.intake.faults import CellFault
from app.intake.mark_cells import category_marks
from app.judging.catalogues import catalogues
from app.ui.form_dialog import Act, FormDialog
from app.ui.forms import ChoiceField, Field, FigureField, TextField
from app.ui.shell import Shell
from app.words.saying import say
from app.words.vocabulary import CLASS_SYSTEMS as SYSTEM_WORDS
from app.words.vocabulary import KINDS


def _choice(key: str, options: Sequence[tuple[str, str]]) -> ChoiceField:
    return ChoiceField(say(f"shelf.add.{key}", {}), options)


def _plain(words: Sequence[str]) -> list[tuple[str, str]]:
    return [(one, one) for one in words]


def _figure(key: str, unit: str, decimals: int) -> FigureField:
    return FigureField(say(f"shelf.add.{key}", {}), unit, decimals)


class AddPiece(FormDialog):
    """One piece with the marks printed on it."""

    def __init__(self, shell: Shell, cribs: Sequence[str]) -> None:
        known = catalogues().kinds
        self.code = TextField(say("shelf.add.code", {}), is_needed=True)
        self.kind = ChoiceField(say("shelf.kind", {}), [(key, KINDS[key]) for key in known], is_needed=True)
        self.crib = ChoiceField(say("shelf.add.crib", {}), _plain(cribs), is_needed=len(cribs) > 1)
        first = [("never", say("shelf.add.never", {})), ("unknown", say("shelf.add.unknown", {}))]
        leads = [("yes", say("shelf.add.fixed", {})), ("no", say("shelf.add.loose", {}))]
        #: key of a worked case -> its field; shown only where the kind has it.
        self.marks: dict[str, Field[Any]] = {
            "label": TextField(say("shelf.add.label", {})),
            "batch": TextField(say("shelf.add.batch", {})),
            "class": _choice("class", _plain(CLASSES)),
            "class_system": _choice("class_system", [(key, SYSTEM_WORDS[key]) for key in CLASS_SYSTEMS]),
            "type": _choice("type", _plain(("I", "II"))),
            "hand": _choice("hand", _plain(("pair", "left", "right"))),
            "size": _figure("size", "", 2),
            "length_mm": _figure("length_mm", "mm", 0),
            "first_issue": _choice("first_issue", first),
            "cut_for_class": _choice("cut_for_class", _plain(CLASSES)),
            "leather_mm": _figure("leather_mm", "mm", 2),
            "arc_rating_cal": _figure("arc_rating_cal", "cal/cm\u00b2", 2),
            "voltage_mark": _figure("voltage_mark", "V AC", 0),
            "marks": TextField(say("shelf.add.marks", {})),
            "fixed_leads": _choice("fixed_leads", leads),
            "threshold_dc_v": _figure("threshold_dc_v", "V", 1),
            "output_dc_v": _figure("output_dc_v", "V", 1),
            "tip_mm": _figure("tip_mm", "mm", 1),
        }
        self._offered = {kind.key: kind.fields for kind in known.values()}
        super().__init__(
            shell, say("shelf.add", {}), say("shelf.add.lead", {}),
            [self.code, self.kind, self.crib, *self.marks.values()], say("shelf.add.do", {}), self._made, (),
        )  # fmt: skip
        self.crib.setVisible(len(cribs) > 1)
        self.kind.changed.connect(self._show_marks)
        self._show_marks()

    def _show_marks(self) -> None:
        offered = self._offered.get(self.kind.value() or "", frozenset())
        for key, field in self.marks.items():
            field.setVisible(bool(offered) and (key in offered or key in ("label", "batch", "first_issue")))

    def _made(self) -> Act:
        from app.usecases.add_piece import add_piece

        table: dict[str, object] = {"code": self.code.value() or "", "kind": self.kind.value() or ""}
        for key, field in self.marks.items():
            if field.isVisible() and (value := field.value()) is not None:
                table[key] = _as_written(key, value)
        by, crib = self._shell.here.by, self.crib.value() or ""
        self._codes = [str(table["code"])]
        return lambda desk: add_piece(desk, by, table, crib)


def _marks(written: str) -> list[list[object]]:
    """CAT III 1000 V, CAT IV 600 V as a worked case writes it; read as a cell of a sheet is read."""
    try:
        return category_marks(written)
    except CellFault as fault:
        raise BadInput("case.not-marks", thing=written) from fault


def _as_written(key: str, value: object) -> object:
    """A field's value as a worked case writes it."""
    if key == "marks":
        return _marks(str(value))
    if key == "voltage_mark":
        assert isinstance(value, Decimal)
        return {"ac_v": int(value)}
    if key == "fixed_leads":
        return value == "yes"
    if isinstance(value, Decimal):
        return int(value) if value == value.to_integral_value() else float(value)
    assert not isinstance(value, date)
    return value
