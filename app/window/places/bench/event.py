"""Entering that something happened to a piece: from then on it is held."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QVBoxLayout

from app.decision.judging.answers import Saved
from app.usecases.desk import Desk
from app.usecases.log_check import log_check
from app.window.forms import ChoiceField
from app.window.places.bench.form import BenchForm, Table, grid_of, lead, past_day
from app.window.places.bench.state import kind_of
from app.words.saying import say
from app.words.vocabulary import EVENTS

# Repairs have a form of their own, which asks what was done and where.
_OF_REPAIR = ("repaired", "patched")
_OF_HANDS = ("used-without-protectors",)


class EventForm(BenchForm):
    """What happened, and when."""

    key = "event"

    def build(self, down: QVBoxLayout) -> None:
        """Kind and day."""
        lead(down, say("bench.event.lead", {}))
        self.kind = ChoiceField(say("bench.event.kind", {}), (), is_needed=True)
        self.day = past_day(self.shell)
        self.fields = [self.kind, self.day]
        down.addLayout(grid_of(self.fields, 2))

    def adapt(self) -> None:
        """Only gloves are worn with protectors."""
        kind = None if self.seen is None else kind_of(self.seen)
        left_out = _OF_REPAIR if kind is not None and kind.is_worn_on_hands else (*_OF_REPAIR, *_OF_HANDS)
        self.kind.set_options((key, words) for key, words in EVENTS.items() if key not in left_out)

    def table(self) -> Table:
        """Without a day it is of today and now."""
        day = self.day.value()
        return {"kind": self.kind.value(), **({} if day is None else {"on": day})}

    def act(self, by: str, code: str, table: Table) -> Callable[[Desk], Saved]:
        """Log it."""
        return lambda desk: log_check(desk, by, "event", code, table)
