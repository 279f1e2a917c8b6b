"""What every form of the bench shares: its fields, what saving would do, and saving once."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from app.decision.domain.errors import BadInput, CuffdateError
from app.decision.judging.answers import Saved
from app.usecases.desk import NOBODY_YET, Desk
from app.usecases.foresee_entry import foresee_entry
from app.usecases.look_at_kit import OnCounter
from app.window.build import box, button, column, row, save_keys
from app.window.forms import Field, complaints
from app.window.lists import scrolled
from app.window.places.bench.review_card import ReviewCard
from app.window.places.bench.state import CHOICES, Review, refused, review_of, waiting
from app.window.shell import Shell
from app.window.writing import Writing
from app.words.saying import listed, say, say_here

Act = Callable[[Desk], Saved]
_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class GoesOn(QObject):
    """Enter in a field goes on to the next; it never saves."""

    def __init__(self, form: BenchForm) -> None:
        super().__init__(form)
        self._form = form

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802, ARG002
        """Take a plain Enter; with Ctrl it is the form's."""
        if event.type() != QEvent.Type.KeyPress or not isinstance(event, QKeyEvent) or event.key() not in _ENTER:
            return False
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
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
        down = column(spacing=8, margins=(0, 0, 8, 0))
        self.build(down)
        down.addStretch(1)
        self.inner = box(down)
        self.area = scrolled(self.inner)
        column((self.area, 1), self._foot(), on=self, spacing=8)
        goes_on = GoesOn(self)
        for field in self.fields:
            field.changed.connect(self.changed)
            if isinstance(field.editor, QLineEdit):
                field.editor.installEventFilter(goes_on)
        save_keys(self, self.save, Qt.ShortcutContext.WidgetWithChildrenShortcut)

    def _foot(self) -> QHBoxLayout:
        self.review = ReviewCard(self.shell.theme)
        self.save_key = button(say("bench.save", {}), self.save, "counter")
        self.save_key.setToolTip(say("bench.save-keys", {}))
        self.save_key.setAccessibleName(say("bench.save-what", {"what": say(CHOICES[self.key], {})}))
        return row((self.review, 1), (self.save_key, 0, Qt.AlignmentFlag.AlignBottom), spacing=12)

    # What a form says of itself.

    def build(self, down: QVBoxLayout) -> None:
        """Put its parts in place and its fields into `fields`."""
        raise NotImplementedError

    def adapt(self) -> None:
        """Another piece, or another choice: show what is asked of it."""

    def missing(self) -> list[str]:
        """What has to be said besides the fields, in words."""
        return []

    def act(self, by: str) -> Act:
        """What is to be done, from what is filled in now."""
        raise NotImplementedError

    def foresee(self) -> Callable[[Desk], Any]:
        """What it would do: the act itself, and nothing kept. `reviewed` gets the answer."""
        code, act = self.code, self.act(NOBODY_YET)
        return lambda desk: foresee_entry(desk, code, act)

    def reviewed(self, foreseen: Any) -> Review:  # noqa: ANN401  # what `foresee` of the same form answers
        """What was foreseen, to be shown."""
        return review_of(self.code, foreseen)

    def is_typed(self) -> bool:
        """Whether anything is filled in that would be lost."""
        return any(_is_filled(field) for field in self.fields)

    def empty(self) -> None:
        """Nothing filled in."""
        for field in self.fields:
            field.blockSignals(True)  # the toolkit's
            field.clear()
            field.blockSignals(False)

    def focus(self) -> None:
        """Where typing begins."""
        if shown := self.shown():
            shown[0].editor.setFocus(Qt.FocusReason.OtherFocusReason)

    # What the bench tells it.

    @property
    def code(self) -> str:
        """The piece it is about, "" for none."""
        return "" if self.seen is None else self.seen.piece.code

    def show_piece(self, seen: OnCounter | None) -> None:
        """About this piece from now on; what is filled in stays."""
        self.seen = seen
        self.changed()

    def clear(self) -> None:
        """Begin anew."""
        self.empty()
        self.changed()

    # Before it is saved.

    def shown(self) -> list[Field[Any]]:
        """The fields that are asked."""
        return [field for field in self.fields if not field.isHidden()]

    def changed(self) -> None:
        """Something was filled in, or moved: what was foreseen no longer holds."""
        self.adapt()
        self.shell.doors.drop(self, "review")
        self._answer = self.before()
        self._is_asking = self._answer is None
        if self._is_asking:
            self.shell.doors.ask(
                self.foresee(), lambda foreseen: self._answered(self.reviewed(foreseen)),
                lambda fault: self._answered(refused(say_here(fault))), owner=self, slot="review",
            )  # fmt: skip
        self.show_state()

    def before(self) -> Review | None:
        """Why nothing can be foreseen yet, None where it can."""
        if self.seen is None or not self.is_typed():
            return waiting(say("bench.review.nothing", {}))
        for field in self.shown():
            if _is_filled(field) and (text := field.complaint()):
                return waiting(say("bench.review.unread", {"why": text}))
        absent = [field.name for field in self.shown() if field.is_needed and not _is_filled(field)] + self.missing()
        return waiting(say("bench.review.missing", {"what": listed(absent)})) if absent else None

    def _answered(self, answer: Review) -> None:
        self._is_asking, self._answer = False, answer
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

    def codes(self) -> Sequence[str]:
        """The pieces it is about."""
        return [self.code]

    def complained(self) -> bool:
        """Whether something is wrong, said below its field, which gets the keyboard, or at the foot of the window."""
        if complaints(self.shown()):
            return True
        if absent := self.missing():
            self.shell.tell(
                say("bench.review.missing", {"what": listed(absent)}), kind="wrong", is_heard=True
            )  # fmt: skip
        return bool(absent)

    def save(self) -> None:
        """Save it once; the form is closed until it is done, and stays as it was where it could not be."""
        if self._is_asking:
            # Nothing is saved that nobody has seen judged, and a key pressed too early is not pressed for nothing.
            self.shell.tell(say("bench.review.wait", {}), kind="wait", is_heard=True)
            return
        if not self.can_save() or not self.writing.may_begin() or self.complained():
            return
        keyboard, codes = self.window().focusWidget(), tuple(self.codes())

        def saved(answer: Saved) -> None:
            self.clear()
            self.shell.saved(answer, codes)
            self.saved.emit()

        def failed(_: CuffdateError) -> None:
            if keyboard is not None and self.isAncestorOf(keyboard):
                keyboard.setFocus()
            self.not_saved()

        self.writing.do(self.act(self.shell.here.by), codes, saved, failed)

    def not_saved(self) -> None:
        """It could not be entered; it has been said why."""


def _is_filled(field: Field[Any]) -> bool:
    try:
        return field.value() is not None
    except BadInput:
        return True
