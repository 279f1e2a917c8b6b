"""Holding a piece: the reason, and what would clear it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QVBoxLayout

from app.decision.judging.answers import Saved
from app.usecases.desk import Desk
from app.usecases.hold_piece import hold_piece, reasons_for
from app.window.forms import ChoiceField
from app.window.places.bench.form import BenchForm, Table, lead
from app.words.saying import say
from app.words.vocabulary import EVENTS


class HoldForm(BenchForm):
    """From now on."""

    key = "hold"
    _kind: str | None = None

    def build(self, down: QVBoxLayout) -> None:
        """One reason."""
        lead(down, say("bench.hold.lead", {}))
        self.why = ChoiceField(say("bench.hold.why", {}), [], is_needed=True)
        self.fields = [self.why]
        down.addWidget(self.why)

    def adapt(self) -> None:
        """The reasons there are for this kind."""
        kind = "" if self.seen is None else self.seen.piece.kind
        if kind != self._kind:
            self._kind = kind
            self.why.set_options((key, EVENTS.get(key, key.replace("-", " "))) for key in reasons_for(kind))

    def table(self) -> Table:
        """The reason."""
        return {"why": self.why.value()}

    def act(self, by: str, code: str, table: Table) -> Callable[[Desk], Saved]:
        """Hold it."""
        return lambda desk: hold_piece(desk, by, [code], str(table["why"]))
