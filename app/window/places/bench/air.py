"""The air test, led hand by hand: large keys, left before right, and nothing passed that nobody pressed."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app.decision.judging.answers import Saved
from app.decision.judging.defects import of_air_test
from app.outputs.pictures.scene import Role, ShapeKind
from app.usecases.desk import Desk
from app.usecases.log_check import log_check
from app.usecases.look_at_kit import OnCounter
from app.window.build import button, card, label, relook
from app.window.forms import FigureField
from app.window.paint import icon
from app.window.places.bench.form import BenchForm, Table
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
        down = QVBoxLayout(self)
        down.setContentsMargins(14, 10, 14, 12)
        down.setSpacing(8)
        head = QHBoxLayout()
        self._mark = QLabel()
        self._mark.setFixedSize(24, 24)
        head.addWidget(self._mark, 0, Qt.AlignmentFlag.AlignTop)
        words = QVBoxLayout()
        words.setSpacing(0)
        words.addWidget(label(name, "lead"))
        self.says = label("", "quiet")
        words.addWidget(self.says)
        head.addLayout(words, 1)
        down.addLayout(head)
        self.passed = button(say("bench.air.hand-passed", {"hand": name}), lambda: form.pass_hand(hand), "counter")
        self.defect = large(button(say("bench.air.hand-defect", {"hand": name}), lambda: form.ask_defect(hand)))
        self.leave_out = large(button(say("bench.air.leave-out", {}), lambda: form.leave_out(hand)))
        self.again = button(say("bench.air.again", {}), lambda: form.again(hand), "link")
        self.leave_out.setAccessibleName(f"{name}: {self.leave_out.text()}")
        self.again.setAccessibleName(f"{name}: {self.again.text()}")
        for one in (self.passed, self.defect, self.leave_out, self.again):
            down.addWidget(one)
        down.addStretch(1)

    def show_hand(self, state: AirState) -> None:
        """How far it is, and what can be pressed."""
        result = state.results.get(self.hand, "")
        kind, role, look = _MARKS[result]
        self._mark.setPixmap(icon(kind, role, self._form.shell.theme.name, 24).pixmap(24, 24))
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
        across = QHBoxLayout()
        across.setSpacing(14)
        across.addWidget(self.inflation)
        says = QVBoxLayout()
        says.setSpacing(2)
        self.leads = label("")
        self.allowed = label("")
        says.addWidget(self.allowed)
        says.addWidget(self.leads)
        across.addLayout(says, 1)
        down.addLayout(across)
        cards = QHBoxLayout()
        cards.setSpacing(14)
        self.cards = {hand: HandCard(self, hand) for hand in HANDS}
        for one in self.cards.values():
            cards.addWidget(one, 1)
        down.addLayout(cards)
        down.addWidget(self._list())

    def _list(self) -> QWidget:
        self.found, inside = card()
        self.asks = label("", "lead")
        inside.addWidget(self.asks)
        grid = QGridLayout()
        grid.setSpacing(6)
        self.defects: dict[str, QPushButton] = {}
        for number, key in enumerate(of_air_test()):
            one = large(button(DEFECTS[key], self._draw))
            one.setCheckable(True)
            grid.addWidget(one, number // 4, number % 4)
            self.defects[key] = one
        inside.addLayout(grid)
        across = QHBoxLayout()
        self.failed = large(button("", self._fail))
        across.addWidget(self.failed, 1)
        across.addWidget(large(button(say("bench.air.not-failed", {}), lambda: self.ask_defect(""))))
        inside.addLayout(across)
        return self.found

    # What is pressed.

    def pass_hand(self, hand: str) -> None:
        """This hand has passed."""
        self._set(hand, "passed")

    def leave_out(self, hand: str) -> None:
        """The other hand has failed, so this one is not tested any more."""
        self._set(hand, "left-out")

    def ask_defect(self, hand: str) -> None:
        """Which defect; "" for none after all."""
        self._failing = hand
        for one in self.defects.values():
            one.setChecked(False)
        self._draw()
        if hand:
            next(iter(self.defects.values())).setFocus()
            # The list has no height before it has been laid out.
            QTimer.singleShot(0, self, lambda: self.area.ensureWidgetVisible(self.failed, 0, 12))

    def _fail(self) -> None:
        hand = self._failing
        self.state.defects[hand] = tuple(key for key, one in self.defects.items() if one.isChecked())
        self._set(hand, "failed")

    def again(self, hand: str) -> None:
        """What was pressed for this hand was wrong."""
        self.state.results.pop(hand, None)
        self.state.defects.pop(hand, None)
        self._failing = ""
        self.changed()
        self.cards[hand].passed.setFocus()

    def _set(self, hand: str, result: str) -> None:
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
        for hand, one in self.cards.items():
            one.setVisible(hand in self.state.hands)
            one.show_hand(self.state)
        self.found.setVisible(bool(self._failing))
        if self._failing:
            name = say(HANDS[self._failing], {})
            self.asks.setText(say("bench.air.found", {"hand": name}))
            self.failed.setText(say("bench.air.failed", {"hand": name}))
            self.failed.setEnabled(any(one.isChecked() for one in self.defects.values()))

    def is_typed(self) -> bool:
        """A hand pressed, or a figure."""
        return bool(self.state.results) or super().is_typed()

    def missing(self) -> list[str]:
        """The hands nobody has pressed yet."""
        return [say(_MISSING[hand], {}) for hand in self.state.hands if hand not in self.state.results]

    def table(self) -> Table:
        """The keys of a worked case, of today and now."""
        return self.state.table(self.inflation.value())

    def act(self, by: str, code: str, table: Table) -> Callable[[Desk], Saved]:
        """Log it."""
        return lambda desk: log_check(desk, by, "air-test", code, table)


def large(one: QPushButton) -> QPushButton:
    """For thumbs, without the colour of the key that goes on."""
    # The window's style gives every button a height of its own, which only a style can change.
    one.setStyleSheet(f"min-height: {COUNTER_PX}px;")
    return one
