"""Entering a calibration or a self-test: passed or failed, and the day."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QVBoxLayout

from app.decision.judging.answers import Saved
from app.usecases.desk import Desk
from app.usecases.log_check import log_check
from app.window.forms import ChoiceField
from app.window.places.bench.form import BenchForm, Table, grid_of, lead, past_day
from app.words.saying import say


class ResultForm(BenchForm):
    """`key` is what is logged as well."""

    lead_key = ""

    def build(self, down: QVBoxLayout) -> None:
        """Result and day."""
        lead(down, say(self.lead_key, {}))
        options = (("passed", say("bench.passed", {})), ("failed", say("bench.failed", {})))
        self.result = ChoiceField(say("bench.result", {}), options, is_needed=True)
        self.day = past_day(self.shell)
        self.fields = [self.result, self.day]
        down.addLayout(grid_of(self.fields, 2))

    def table(self) -> Table:
        """Without a day it is of today and now."""
        day = self.day.value()
        return {"result": self.result.value(), **({} if day is None else {"on": day})}

    def act(self, by: str, code: str, table: Table) -> Callable[[Desk], Saved]:
        """Log it."""
        return lambda desk: log_check(desk, by, self.key, code, table)


class CalibrationForm(ResultForm):
    """Of an instrument."""

    key = "calibration"
    lead_key = "bench.calibration.lead"


class SelfCheckForm(ResultForm):
    """Of a detector or a proving unit."""

    key = "self-test"
    lead_key = "bench.self-test.lead"
