"""The air test, led hand by hand: large keys, left before right, and nothing passed that nobody pressed."""

from __future__ import annotations

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QFrame, QPushButton, QVBoxLayout, QWidget

from app.decision.judging.defects import of_air_test
from app.outputs.pictures.scene import Role, ShapeKind
from app.usecases.log_check import log_check
from app.usecases.look_at_kit import OnCounter
from app.window.build import (
    REST,
    TOP,
    button,
    card,
    column,
    grid,
    label,
    mark,
    put_mark,
    relook,
    row,
    toggle,
)
from app.window.forms import FigureField
from app.window.places.bench.form import Act, BenchForm
from app.window.places.bench.state import AirState, allowed_inflation
from app.window.shell import Shell
from app.window.theme import COUNTER_PX
from app.words.saying import say
from app.words.vocabulary import DEFECTS

HANDS = {"left": "bench.air.left", "right": "bench.air.right"}
_MISSING = {"left": "bench.air.missing.left", "right": "bench.air.missing.right"}
_MARKS = {
    "passed": (ShapeKind.TICK, Role.FIT, "fit"), "failed": (ShapeKind.CROSS, Role.SHORT, "short"),
    "left-out": (ShapeKind.QUESTION, Role.QUIET, "quiet"), "": (ShapeKind.CLOCK, Role.QUIET, "quiet"),
}  # fmt: skip


class HandCard(QFrame):
    """One hand: how far it is, and its keys, which stand elsewhere than the other hand's."""

    def __init__(self, form: AirForm, hand: str) -> None:
        super().__init__()
        self.setProperty("look", "card")
        self.hand = hand
        self._form = form
        name = say(HANDS[hand], {})
        self._mark, self.says = mark(24), label("", "quiet")
        self.passed = button(
            say("bench.air.hand-passed", {"hand": name}), lambda: form.set_hand(hand, "passed"), "counter"
        )
        self.defect = large(button(say("bench.air.hand-defect", {"hand": name}), lambda: form.ask_defect(hand)))
        self.leave_out = large(button(say("bench.air.leave-out", {}), lambda: form.set_hand(hand, "left-out")))
        self.again = button(say("bench.air.again", {}), lambda: form.again(hand), "link")
        for key in (self.leave_out, self.again):
            key.setAccessibleName(say("bench.air.of-hand", {"hand": name, "act": key.text()}))
        head = row((self._mark, 0, TOP), (column(label(name, "lead"), self.says, spacing=0), 1))
        keys = (self.passed, self.defect, self.leave_out, self.again)
        column(head, *keys, REST, on=self, spacing=8, margins=(14, 10, 14, 12))

    def show_hand(self, state: AirState) -> None:
        """How far it is, and what can be pressed."""
        result = state.results.get(self.hand, "")
        kind, role, look = _MARKS[result]
        put_mark(self._mark, kind, role, self._form.shell.theme.name)
        relook(self.says, look)
        self.says.setText(state.says(self.hand))
        is_now = state.now == self.hand
        # The key stays where it was, so that a second press in a hurry meets nothing else.
        self.passed.setVisible(result in ("", "passed"))
        self.passed.setEnabled(is_now)
        self.defect.setVisible(not result)
        self.defect.setEnabled(is_now)
        self.leave_out.setVisible(is_now and state.has_failed)
        self.again.setVisible(bool(result))


class AirForm(BenchForm):
    """Inflation, both hands, the defect list where one was found."""

    key = "air"

    def __init__(self, shell: Shell) -> None:
        self.state = AirState()
        self._failing = ""
        super().__init__(shell)
        shell.theme.changed.connect(lambda _: self._draw())

    def build(self, down: QVBoxLayout) -> None:
        """Caution first: hands depend on it."""
        down.addWidget(label(say("bench.air.caution", {}), "warn"))
        self.inflation = FigureField(say("bench.air.inflation", {}), say("bench.air.inflation-unit", {}), 2, most=10)
        self.fields = [self.inflation]
        self.leads, self.allowed = label(""), label("")
        down.addLayout(row(self.inflation, (column(self.allowed, self.leads, spacing=2), 1), spacing=14))
        self.cards = {hand: HandCard(self, hand) for hand in HANDS}
        down.addLayout(row(*((hand, 1) for hand in self.cards.values()), spacing=14))
        down.addWidget(self._list())

    def _list(self) -> QWidget:
        self.found, inside = card()
        self.asks = label("", "lead")
        self.defects = {key: large(toggle(DEFECTS[key], self._draw)) for key in of_air_test()}
        self.failed = large(button("", self._fail))
        none_after_all = large(button(say("bench.air.not-failed", {}), lambda: self.ask_defect("")))
        inside.addWidget(self.asks)
        inside.addLayout(grid(self.defects.values(), 4, spacing=(6, 6)))
        inside.addLayout(row((self.failed, 1), none_after_all))
        return self.found

    # What is pressed.

    def ask_defect(self, hand: str) -> None:
        """Which defect; "" for none after all."""
        self._failing = hand
        for defect in self.defects.values():
            defect.setChecked(False)
        self._draw()
        if hand:
            next(iter(self.defects.values())).setFocus()
            # The list has no height before it has been laid out.
            QTimer.singleShot(0, self, lambda: self.area.ensureWidgetVisible(self.failed, 0, 12))

    def _fail(self) -> None:
        hand = self._failing
        self.state.defects[hand] = tuple(key for key, defect in self.defects.items() if defect.isChecked())
        self.set_hand(hand, "failed")

    def again(self, hand: str) -> None:
        """What was pressed for this hand was wrong."""
        self.state.results.pop(hand, None)
        self.state.defects.pop(hand, None)
        self._failing = ""
        self.changed()
        self.cards[hand].passed.setFocus()

    def set_hand(self, hand: str, result: str) -> None:
        """It has passed, failed, or is left out because the other one has failed."""
        self.state.results[hand] = result
        self._failing = ""
        self.changed()
        if self.state.now:
            self.cards[self.state.now].passed.setFocus()
        else:
            self.save_key.setFocus()

    # What is shown.

    def show_piece(self, seen: OnCounter | None) -> None:
        """A single glove has one hand; the hands of another piece are tested anew."""
        if self.code != ("" if seen is None else seen.piece.code):
            self.state, self._failing = AirState.of(seen), ""
        super().show_piece(seen)

    def empty(self) -> None:
        """Nothing tested."""
        super().empty()
        self.state, self._failing = AirState.of(self.seen), ""

    def adapt(self) -> None:
        """The inflation is asked where both hands have passed; a hand that failed needs none."""
        self.inflation.is_needed = not self.state.has_failed
        self.allowed.setText(allowed_inflation(self.seen))
        is_single = len(self.state.hands) == 1
        self.leads.setText(say("bench.air.lead-single" if is_single else "bench.air.lead", {}))
        self._draw()

    def _draw(self) -> None:
        for hand, hand_card in self.cards.items():
            hand_card.setVisible(hand in self.state.hands)
            hand_card.show_hand(self.state)
        self.found.setVisible(bool(self._failing))
        if self._failing:
            name = say(HANDS[self._failing], {})
            self.asks.setText(say("bench.air.found", {"hand": name}))
            self.failed.setText(say("bench.air.failed", {"hand": name}))
            self.failed.setEnabled(any(defect.isChecked() for defect in self.defects.values()))

    def is_typed(self) -> bool:
        """A hand pressed, or a figure."""
        return bool(self.state.results) or super().is_typed()

    def missing(self) -> list[str]:
        """The hands nobody has pressed yet."""
        return [say(_MISSING[hand], {}) for hand in self.state.hands if hand not in self.state.results]

    def act(self, by: str) -> Act:
        """Log it, of today and now."""
        code, table = self.code, self.state.table(self.inflation.value())
        return lambda desk: log_check(desk, by, "air-test", code, table)


def large(key: QPushButton) -> QPushButton:
    """For thumbs, without the colour of the key that goes on."""
    # The window's style gives every button a height of its own, which only a style can change.
    key.setStyleSheet(f"min-height: {COUNTER_PX}px;")
    return key
