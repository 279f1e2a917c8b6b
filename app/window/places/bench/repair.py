"""Entering a repair of gloves, or a part replaced on anything else."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QVBoxLayout

from app.decision.judging.answers import Saved
from app.usecases.desk import Desk
from app.usecases.repair_piece import repair_piece
from app.window.forms import ChoiceField, FigureField, TextField
from app.window.places.bench.form import BenchForm, Table, grid_of, lead, past_day
from app.window.places.bench.state import kind_of
from app.words.saying import say

# The words the rule knows -> their sentences; whether one is allowed is the rule's to say, before it is saved.
HOW = {
    "patched": "bench.repair.patched", "liquid-compound": "bench.repair.liquid-compound",
    "trimmed": "bench.repair.trimmed", "cut-shorter": "bench.repair.cut-shorter",
}  # fmt: skip
WHERE = {
    "between-wrist-and-cuff": "bench.repair.place.between", "cuff": "bench.repair.place.cuff",
    "gauntlet": "bench.repair.place.gauntlet", "wrist": "bench.repair.place.wrist", "back": "bench.repair.place.back",
    "palm": "bench.repair.place.palm", "thumb": "bench.repair.place.thumb", "fork": "bench.repair.place.fork",
    "finger": "bench.repair.place.finger",
}  # fmt: skip

_SIDES = ("bench.repair.side", "bench.repair.other-side")


class RepairForm(BenchForm):
    """How, and where for gloves, of rubber goods; what was replaced of anything else."""

    key = "repair"

    def build(self, down: QVBoxLayout) -> None:
        """Both sorts of fields; those of the other kind are hidden."""
        lead(down, say("bench.repair.lead", {}))
        self.how = ChoiceField(
            say("bench.repair.how", {}), [(key, say(word, {})) for key, word in HOW.items()], is_needed=True
        )
        self.place = ChoiceField(
            say("bench.repair.place", {}), [(key, say(word, {})) for key, word in WHERE.items()], is_needed=True
        )
        # What remains of a trimmed piece: both sides, as they are measured.
        self.sides = [FigureField(say(words, {}), "mm", most=100_000) for words in _SIDES]
        self.part = TextField(say("bench.repair.part", {}), is_needed=True)
        self.day = past_day(self.shell)
        self.fields = [self.how, self.place, *self.sides, self.part, self.day]
        down.addWidget(self.part)
        down.addLayout(grid_of([self.how, self.place, *self.sides, self.day], 2))

    def adapt(self) -> None:
        """Rubber goods are mended, gloves at some place; of everything else a part is replaced."""
        kind = None if self.seen is None else kind_of(self.seen)
        is_rubber = kind is not None and kind.is_classed
        self.how.setVisible(is_rubber)
        self.place.setVisible(kind is not None and kind.is_worn_on_hands and is_rubber)
        for side in self.sides:
            side.setVisible(is_rubber and self.how.value() == "trimmed")
        self.part.setVisible(not is_rubber)

    def table(self) -> Table:
        """The keys of an event."""
        day = self.day.value()
        dated: Table = {} if day is None else {"on": day}
        if not self.part.isHidden():
            return {"kind": "repaired", "repair": self.part.value(), **dated}
        how = self.how.value()
        kind = "patched" if how == "patched" else "repaired"
        found: Table = {"kind": kind, "repair": how, **dated}
        if not self.place.isHidden():
            found["place"] = self.place.value()
        remaining = [int(side) for one in self.sides if not one.isHidden() and (side := one.value()) is not None]
        return {**found, "remaining_mm": remaining} if remaining else found

    def act(self, by: str, code: str, table: Table) -> Callable[[Desk], Saved]:
        """Enter it."""
        return lambda desk: repair_piece(desk, by, code, table)
