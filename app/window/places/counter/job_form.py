"""The job a kit is given out for: who, second, system, circuits, task, last day, incident energy."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QWidget

from app.usecases.about_here import AboutHere
from app.window.build import label
from app.window.forms import ChoiceField, DayField, Field, FigureField
from app.window.places.counter.circuit_boxes import CircuitBoxes
from app.window.places.counter.state import GiveState
from app.words.saying import say
from app.words.vocabulary import TASKS


class JobForm(QWidget):
    """`changed`: something was said anew, and has to be read."""

    changed = Signal()

    def __init__(self, today: Callable[[], date]) -> None:
        super().__init__()
        self.who = ChoiceField(say("counter.who", {}), [])
        self.system = ChoiceField(say("counter.system", {}), [])
        self.task = ChoiceField(say("counter.task", {}), TASKS.items())
        self.second = ChoiceField(say("counter.second", {}), [], none=say("counter.no-second", {}))
        self.until = DayField(say("counter.until", {}), today, hint="")
        self.until.line.setMinimumWidth(104)
        self.until.line.setPlaceholderText(say("counter.today-only", {}))
        self.energy = FigureField(say("counter.energy", {}), "cal/cm\u00b2", 2, most=200)
        self.energy.line.setMinimumWidth(96)
        self.energy.line.setPlaceholderText(say("counter.not-stated", {}))
        self.circuits = CircuitBoxes()
        self.fields: tuple[Field[Any], ...] = (
            self.who, self.system, self.task, self.second, self.until, self.energy,
        )  # fmt: skip
        self._lay_out()
        for field in self.fields:
            field.changed.connect(self.changed)
        self.circuits.changed.connect(self.changed)

    def _lay_out(self) -> None:
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(14)
        grid.setVerticalSpacing(6)
        for place, field in enumerate((self.who, self.system, self.task)):
            grid.addWidget(field, 0, place)
            grid.setColumnStretch(place, 1)
        grid.addWidget(self.second, 1, 0)
        grid.addWidget(self.circuits, 1, 1)
        last = QHBoxLayout()
        last.setSpacing(10)
        last.addWidget(self.until)
        last.addWidget(self.energy)
        grid.addLayout(last, 1, 2)
        for row, narrow in ((2, self.until), (3, self.energy)):
            below = label("", "quiet")
            below.setAlignment(Qt.AlignmentFlag.AlignRight)
            narrow.speak_in(below)
            grid.addWidget(below, row, 0, 1, 3)

    def show_about(self, about: AboutHere) -> None:
        """People and systems as they are now; what was chosen stays."""
        self.who.set_options(about.people.items())
        self.second.set_options(about.people.items())
        self.system.set_options((code, f"{code} {system.name}") for code, system in about.systems.items())

    def show_people(self, state: GiveState) -> None:
        """Whom the badges named."""
        self.who.choose(state.who or None)
        self.second.choose(state.second or None)

    def read_into(self, state: GiveState) -> str:
        """What is said now; answers the complaint where a figure cannot be read, and nothing must be decided."""
        state.who, state.second = self.who.value() or "", self.second.value() or ""
        state.task, system = self.task.value() or "", self.system.value() or ""
        if system != state.system:
            state.system = system
            known = state.systems.get(system)
            self.circuits.show_circuits(() if known is None else known.circuits)
        state.circuits = self.circuits.chosen()
        complaint = self.until.complaint() or self.energy.complaint()
        if not complaint:
            energy: Decimal | None = self.energy.value()
            state.until = self.until.value()
            state.energy_mcal = None if energy is None else int(energy * 1000)
        return complaint

    def clear(self) -> None:
        """Nothing said."""
        for field in self.fields:
            field.blockSignals(True)  # the toolkit's
            field.clear()
            field.blockSignals(False)
