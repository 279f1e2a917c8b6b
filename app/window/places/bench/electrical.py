"""Entering an electrical test: what the paper gives, judged while it is filled in."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QVBoxLayout

from app.decision.judging.answers import Saved
from app.usecases.desk import Desk
from app.usecases.foresee_entry import Foreseen, foresee_test
from app.usecases.log_electrical_test import log_electrical_test
from app.window.build import label
from app.window.forms import ChoiceField, Field, FigureField, TextField
from app.window.places.bench.form import BenchForm, PastDay, Table, grid_of
from app.window.places.bench.state import fields_of_test, table_of_test
from app.words.saying import say
from app.words.vocabulary import EVENTS

_EXPLAINS = {
    "": "bench.test.explains", "figures": "bench.test.explains.figures",
    "stated-pass": "bench.test.explains.stated-pass", "sheet-only": "bench.test.explains.sheet-only",
}  # fmt: skip


class ElectricalForm(BenchForm):
    """`by_key`: the fields by their keys of a worked case."""

    key = "test"

    def build(self, down: QVBoxLayout) -> None:
        """Day and evidence first; the rest is shown where that evidence gives it."""
        day = PastDay(say("bench.test.day", {}), lambda: self.shell.here.today, is_needed=True)
        evidence = ChoiceField(
            say("bench.test.evidence", {}),
            (
                ("figures", say("bench.test.evidence.figures", {})),
                ("stated-pass", say("bench.test.evidence.stated-pass", {})),
                ("sheet-only", say("bench.test.evidence.sheet-only", {})),
            ),
            is_needed=True,
        )
        self.by_key: dict[str, Field[Any]] = {"on": day, "evidence": evidence, **_figures(), **_paper()}
        self.fields = list(self.by_key.values())
        self.explains = label("", "quiet")
        self._grid = grid_of([day, evidence])
        down.addLayout(self._grid)
        down.addWidget(self.explains)
        self._rest = [one for key, one in self.by_key.items() if key not in ("on", "evidence")]
        self._grid_below = grid_of(self._rest)
        down.addLayout(self._grid_below)
        self._laid: tuple[str, ...] = ()

    def adapt(self) -> None:
        """Only what this evidence, this current and this glove ask; what is hidden is not entered."""
        evidence = self._value("evidence")
        hand = None if self.seen is None else self.seen.piece.hand
        kind = "" if self.seen is None else self.seen.piece.kind
        wanted = fields_of_test(evidence, self._value("kind_of_current"), self._value("occasion"), hand, kind)
        self.explains.setText(say(_EXPLAINS[evidence], {}))
        laid = tuple(key for key in self.by_key if key in wanted)
        for key in ("result", "certificate_names_piece"):
            # What the laboratory found, and of which piece, is never taken as read where the paper is all there is.
            self.by_key[key].is_needed = key in wanted and (key != "result" or evidence != "figures")
        if laid == self._laid and laid:
            return
        self._laid = laid
        for one in self._rest:
            self._grid_below.removeWidget(one)
            one.setVisible(False)
        for number, key in enumerate(laid):
            self._grid_below.addWidget(self.by_key[key], number // 3, number % 3)
            self.by_key[key].setVisible(True)

    def _value(self, key: str) -> str:
        return str(self.by_key[key].value() or "")

    def table(self) -> Table:
        """Only what is shown."""
        return table_of_test({key: one.value() for key, one in self.by_key.items() if not one.isHidden()})

    def foresee(self, code: str, table: Table) -> Callable[[Desk], Foreseen]:
        """Which of the three results it would have."""
        return lambda desk: foresee_test(desk, code, table)

    def act(self, by: str, code: str, table: Table) -> Callable[[Desk], Saved]:
        """Log it."""
        return lambda desk: log_electrical_test(desk, by, code, table)


def _yes_no(name: str, *, is_needed: bool = False) -> ChoiceField:
    options = (("yes", say("bench.test.yes", {})), ("no", say("bench.test.no", {})))
    return ChoiceField(name, options, none="" if is_needed else say("bench.test.not-stated", {}), is_needed=is_needed)


def _figures() -> dict[str, Field[Any]]:
    unstated = say("bench.test.not-stated", {})
    occasions = (("in-service", say("bench.test.in-service", {})), ("acceptance", say("bench.test.acceptance", {})))
    currents = (("ac", say("bench.test.ac", {})), ("dc", say("bench.test.dc", {})))
    return {
        "occasion": ChoiceField(say("bench.test.occasion", {}), occasions, none=unstated),
        "kind_of_current": ChoiceField(say("bench.test.current", {}), currents),
        "test_v": FigureField(say("bench.test.volts", {}), "V", most=1_000_000),
        "dwell_s": FigureField(say("bench.test.dwell", {}), "s", most=100_000),
        "frequency_hz": FigureField(say("bench.test.frequency", {}), "Hz", 3, most=10_000),
        "left_ma": FigureField(say("bench.test.left", {}), "mA", 3, most=10_000),
        "right_ma": FigureField(say("bench.test.right", {}), "mA", 3, most=10_000),
        "soaked": _yes_no(say("bench.test.soaked", {})),
        "breakdown": ChoiceField(
            say("bench.test.breakdown", {}), (("yes", say("bench.test.broke-down", {})),),
            none=say("bench.test.no-breakdown", {}),
        ),
    }  # fmt: skip


def _paper() -> dict[str, Field[Any]]:
    results = (("passed", say("bench.test.passed", {})), ("failed", say("bench.test.failed", {})))
    events = (*EVENTS.items(), ("failed", say("bench.test.after-failed", {})))
    return {
        "result": ChoiceField(say("bench.test.result", {}), results, none=say("bench.test.not-stated", {})),
        "lab": TextField(say("bench.test.lab", {})),
        "certificate": TextField(say("bench.test.certificate", {})),
        "method": TextField(say("bench.test.method", {})),
        "certificate_names_piece": _yes_no(say("bench.test.names", {}), is_needed=True),
        "after": ChoiceField(say("bench.test.after", {}), events, none=say("bench.test.no-event", {})),
    }
