"""What every form of the bench shares: its fields, what saving would do, and saving once."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from typing import Any

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLineEdit,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.decision.domain.errors import BadInput, CuffdateError
from app.decision.judging.answers import Saved
from app.usecases.desk import NOBODY_YET, Desk
from app.usecases.foresee_entry import Foreseen, foresee_entry
from app.usecases.look_at_kit import OnCounter
from app.window.build import button, label
from app.window.forms import DayField, Field, complaints
from app.window.places.bench.review_card import ReviewCard
from app.window.places.bench.state import CHOICES, Review, refused, review_of, waiting
from app.window.shell import Shell
from app.window.writing import Writing
from app.words.saying import listed, say, say_here

Table = dict[str, object]
_WITHIN = Qt.ShortcutContext.WidgetWithChildrenShortcut


class PastDay(DayField):
    """A day that has come; one ahead is complained about in the field itself."""

    def value(self) -> date | None:
        """The day; BadInput for one ahead."""
        day, today = super().value(), self._today()
        if day is not None and day > today:
            raise BadInput("entry.ahead", thing=str(day), today=str(today))
        return day


class GoesOn(QObject):
    """Enter in a field goes on to the next; it never saves."""

    def __init__(self, form: BenchForm) -> None:
        super().__init__(form)
        self._form = form

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802, ARG002
        """Take a plain Enter; with Ctrl it is the form's."""
        if event.type() != QEvent.Type.KeyPress or not isinstance(event, QKeyEvent):
            return False
        is_enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if not is_enter or event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            return False
        if not event.isAutoRepeat():
            self._form.focusNextChild()
        return True


class BenchForm(QWidget):
    """One thing that is entered. `saved`: it has been, and the bench is free for the next scan."""

    key = ""
    saved = Signal()

    def __init__(self, shell: Shell) -> None:
        super().__init__()
        self.shell = shell
        self.seen: OnCounter | None = None
        self.fields: list[Field[Any]] = []
        self.writing = Writing(shell, self.show_state)
        self._is_asking = False
        self._answer: Review | None = None
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(8)
        self.inner = QWidget()
        self.down = QVBoxLayout(self.inner)
        self.down.setContentsMargins(0, 0, 8, 0)
        self.down.setSpacing(8)
        self.build(self.down)
        self.down.addStretch(1)
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.area.setWidget(self.inner)
        outer.addWidget(self.area, 1)
        outer.addLayout(self._foot())
        goes_on = GoesOn(self)
        for one in self.fields:
            one.changed.connect(self.changed)
            if isinstance(one.editor, QLineEdit):
                one.editor.installEventFilter(goes_on)
        for keys in ("Ctrl+Return", "Ctrl+Enter"):
            QShortcut(QKeySequence(keys), self, self.save, context=_WITHIN).setAutoRepeat(False)

    def _foot(self) -> QHBoxLayout:
        across = QHBoxLayout()
        across.setSpacing(12)
        self.review = ReviewCard(self.shell.theme)
        across.addWidget(self.review, 1)
        self.save_key = button(say("bench.save", {}), self.save, "counter")
        self.save_key.setToolTip(say("bench.save-keys", {}))
        self.save_key.setAccessibleName(say("bench.save-what", {"what": say(CHOICES[self.key], {})}))
        across.addWidget(self.save_key, 0, Qt.AlignmentFlag.AlignBottom)
        return across

    # What a form says of itself.

    def build(self, down: QVBoxLayout) -> None:
        """Put its parts in place and its fields into `fields`."""
        raise NotImplementedError

    def adapt(self) -> None:
        """Another piece, or another choice: show what is asked of it."""

    def missing(self) -> list[str]:
        """What has to be said besides the fields, in words."""
        return []

    def table(self) -> Table:
        """What is filled in, as the keys of a worked case."""
        raise NotImplementedError

    def foresee(self, code: str, table: Table) -> Callable[[Desk], Foreseen]:
        """What it would do: the act itself, and nothing kept."""
        return lambda desk: foresee_entry(desk, code, self.act(NOBODY_YET, code, table))

    def act(self, by: str, code: str, table: Table) -> Callable[[Desk], Saved]:
        """What is to be done."""
        raise NotImplementedError

    def is_typed(self) -> bool:
        """Whether anything is filled in that would be lost."""
        return any(_is_filled(one) for one in self.fields)

    def empty(self) -> None:
        """Nothing filled in."""
        for one in self.fields:
            one.blockSignals(True)  # the toolkit's
            one.clear()
            one.blockSignals(False)

    def focus(self) -> None:
        """Where typing begins."""
        for one in self.shown():
            one.editor.setFocus(Qt.FocusReason.OtherFocusReason)
            return

    # What the bench tells it.

    @property
    def code(self) -> str:
        """The piece it is about, "" for none."""
        return "" if self.seen is None else self.seen.piece.code

    def show_piece(self, seen: OnCounter | None) -> None:
        """About this piece from now on; what is filled in stays."""
        self.seen = seen
        self.adapt()
        self.changed()

    def clear(self) -> None:
        """Begin anew."""
        self.empty()
        self.adapt()
        self.changed()

    # Before it is saved.

    def shown(self) -> list[Field[Any]]:
        """The fields that are asked."""
        return [one for one in self.fields if not one.isHidden()]

    def changed(self) -> None:
        """Something was filled in, or moved: what was foreseen no longer holds."""
        self.adapt()
        self.shell.doors.drop(self, "review")
        self._is_asking = False
        self._answer = self._before_asking()
        if self._answer is None:
            self._ask()
        self.show_state()

    def _before_asking(self) -> Review | None:
        if self.seen is None or not self.is_typed():
            return waiting(say("bench.review.nothing", {}))
        absent = [one.name for one in self.shown() if one.is_needed and not _is_filled(one)]
        for one in self.shown():
            if _is_filled(one) and (text := one.complaint()):
                return waiting(say("bench.review.unread", {"why": text}))
        absent += self.missing()
        return waiting(say("bench.review.missing", {"what": listed(absent)})) if absent else None

    def _ask(self) -> None:
        self._is_asking = True
        self.shell.doors.ask(
            self.foresee(self.code, self.table()), self._foreseen, self._foreseen, owner=self, slot="review"
        )

    def _foreseen(self, found: Foreseen | CuffdateError) -> None:
        self._is_asking = False
        if isinstance(found, CuffdateError):
            self._answer = refused(say_here(found))
        else:
            self._answer = review_of(self.code, found)
        self.show_state()

    def show_state(self) -> None:
        """Show what saving would do, and whether it can be done now."""
        self.review.show_review(self._answer or waiting(say("bench.review.judging", {})))
        self.inner.setEnabled(not self.writing.is_on)
        self.save_key.setEnabled(self.can_save())

    def can_save(self) -> bool:
        """Not twice, and never before what it would do stands there."""
        return self.seen is not None and not self.writing.is_on and not self._is_asking

    # Saving.

    def save(self) -> None:
        """Save it once; what is wrong is said below its field, which gets the keyboard."""
        if self._is_asking:
            # Nothing is saved that nobody has seen judged, and a key pressed too early is not pressed for nothing.
            self.shell.tell(say("bench.review.wait", {}), kind="wait", is_heard=True)
            return
        if not self.can_save() or not self.writing.may_begin():
            return
        if complaints(self.shown()):
            return
        if absent := self.missing():
            said = say("bench.review.missing", {"what": listed(absent)})
            self.shell.tell(said, kind="wrong", is_heard=True)
            return
        self.write(self.act(self.shell.here.by, self.code, self.table()), [self.code])

    def write(self, act: Callable[[Desk], Saved], codes: Sequence[str]) -> None:
        """Do the act; the form is closed until it is done, and stays as it was where it could not be."""
        keyboard = self.window().focusWidget()

        def failed(fault: CuffdateError) -> None:
            if keyboard is not None and self.isAncestorOf(keyboard):
                keyboard.setFocus()
            self.not_saved(fault)

        self.writing.do(act, codes, lambda saved: self._written(saved, codes), failed)

    def _written(self, saved: Saved, codes: Sequence[str]) -> None:
        self.clear()
        self.shell.saved(saved, list(codes))
        self.saved.emit()

    def not_saved(self, fault: CuffdateError) -> None:
        """It could not be entered; it has been said why."""


def _is_filled(one: Field[Any]) -> bool:
    try:
        return one.value() is not None
    except BadInput:
        return True


def grid_of(fields: Sequence[QWidget], columns: int = 3) -> QGridLayout:
    """Fields side by side, all columns of one width."""
    grid = QGridLayout()
    grid.setHorizontalSpacing(14)
    grid.setVerticalSpacing(8)
    for number, one in enumerate(fields):
        let_grow(one)
        grid.addWidget(one, number // columns, number % columns)
    for column in range(columns):
        grid.setColumnStretch(column, 1)
    return grid


def let_grow(one: QWidget) -> None:
    """Room for a complaint of several lines below a field, with the field at the head of its cell."""
    one.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
    layout = one.layout()
    if isinstance(layout, QVBoxLayout):
        layout.addStretch(1)


def lead(down: QVBoxLayout, text: str) -> None:
    """The sentence a form begins with."""
    down.addWidget(label(text))


def past_day(shell: Shell) -> PastDay:
    """The day of a check, which may be left empty."""
    return PastDay(say("bench.day", {}), lambda: shell.here.today, hint=say("bench.day-empty", {}))
