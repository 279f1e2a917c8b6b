"""Bench: what was found on this piece? Tests, checks, events, holds and repairs are entered here."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtWidgets import QFrame, QHBoxLayout, QStackedWidget, QWidget

from app.decision.domain.errors import BadInput, CuffdateError
from app.usecases.look_at_kit import OnCounter, look_at_kit
from app.usecases.look_up import Meant, look_up
from app.window.build import REST, box, button, card, code_line, column, label, one_of, release, row
from app.window.lists import scrolled
from app.window.places.bench import state as shown
from app.window.places.bench.air import AirForm
from app.window.places.bench.declarations import DECLARED
from app.window.places.bench.declared import DeclaredForm
from app.window.places.bench.form import BenchForm
from app.window.places.bench.inspection import LookForm
from app.window.places.bench.piece_card import PieceCard
from app.window.places.bench.release import ReleaseForm
from app.window.places.bench.state import CHOICES
from app.window.question import Question
from app.window.shell import Screen, Shell
from app.words.saying import listed, say


def _form(shell: Shell, key: str) -> BenchForm:
    """Most are nothing but fields; three lead the hand."""
    own = {"air": AirForm, "look": LookForm, "release": ReleaseForm}
    return own[key](shell) if key in own else DeclaredForm(shell, key, DECLARED[key])


class BenchScreen(Screen):
    """One piece on the bench and one thing that is entered about it, or a list that is inspected."""

    place = "bench"

    def __init__(self, shell: Shell) -> None:
        super().__init__(shell)
        self.code = ""
        self.seen: OnCounter | None = None
        self.forms = {key: _form(shell, key) for key in CHOICES}
        self.piece_card = PieceCard(shell.theme)
        self.stack = QStackedWidget()
        self.intro = label("")
        frame, inside = card()
        inside.addWidget(self.intro)
        inside.addStretch(1)
        self.stack.addWidget(frame)
        for form in self.forms.values():
            self.stack.addWidget(form)
            form.saved.connect(self._saved)
        self.look.left.connect(self._leave_list)
        self.body.removeWidget(self.heading)
        self.body.addLayout(self._head())
        self.body.addWidget(self.piece_card)
        self.body.addLayout(row(self._choices(), (self.stack, 1), spacing=6), 1)
        shell.theme.changed.connect(lambda _: self._show())
        self._show()

    @property
    def look(self) -> LookForm:
        """The list."""
        form = self.forms["look"]
        assert isinstance(form, LookForm)
        return form

    # What it is made of.

    def _head(self) -> QHBoxLayout:
        self.line = code_line(say("bench.pick", {}), say("bench.pick-hint", {}), self._pick)
        self.line.setMinimumWidth(200)
        self.show_key = button(say("bench.show", {}), self._pick)
        return row((self.heading, 1), self.line, self.show_key, spacing=8)

    def _choices(self) -> QWidget:
        words = {key: say(word, {}) for key, word in CHOICES.items()}
        self.choices = one_of(self, words, self._pressed)
        # Room for the bar that moves it, where the words are long.
        area = scrolled(
            box(column(*self.choices.values(), REST, spacing=3, margins=(0, 0, 14, 0))), say("bench.choices", {})
        )
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setFixedWidth(196)
        return area

    # What comes in.

    def arrived(self) -> None:
        """What is there as it stands now."""
        self._ask()
        self.line.setFocus()

    def moved(self, subjects: frozenset[str]) -> None:
        """Somebody has entered something: the line about the piece is asked anew, what is typed stays."""
        _ = subjects
        self._ask()

    def scanned(self, meant: Meant) -> bool:
        """A piece is put on the bench or into the list, a badge is who enters."""
        if meant.person:
            self.shell.enter_as(meant.person)
            self.shell.tell(say("bench.enters", {"person": meant.person}), kind="done", is_heard=True)
        elif not meant.pieces:
            return False
        elif self.choice == "look":
            self.look.add(meant.pieces)
        elif len(meant.pieces) > 1:
            self._bag(meant)
        else:
            self._put(meant.pieces[0])
        if self.line.text().strip() == meant.written:
            self.line.clear()
        return True

    def show_code(self, code: str) -> None:
        """Put this piece on the bench; a list that is being scanned stays."""
        self._put(code)

    def unsaved(self) -> str:
        """What is filled in and not entered."""
        parts = []
        if self.look.is_typed():
            parts.append(say("bench.unsaved-list", {"pieces": listed(list(self.look.state.rows)[:12])}))
        if what := self._typed():
            parts.append(say("bench.unsaved", {"piece": self.code, "what": what}))
        return " ".join(parts)

    def _typed(self) -> str:
        """The forms about the piece in which something is filled in."""
        return listed(say(CHOICES[key], {}) for key, form in self.forms.items() if key != "look" and form.is_typed())

    def _pick(self) -> None:
        text = self.line.text().strip()
        if text:
            self.shell.doors.ask(
                lambda desk: look_up(desk, text), self._picked, self._not_picked, owner=self, slot=f"pick {text}"
            )

    def _picked(self, meant: Meant) -> None:
        if not self.scanned(meant):
            self._not_picked(BadInput("store.unknown-piece", thing=meant.written, nearest=""))

    def _not_picked(self, fault: CuffdateError) -> None:
        self.shell.complain(fault)
        self.line.setFocus()
        self.line.selectAll()

    def _bag(self, meant: Meant) -> None:
        def inspection() -> None:
            self.choose("look")
            self.look.add(meant.pieces)

        told = say("bench.a-bag", {"thing": meant.written, "count": len(meant.pieces)})
        verb = say("bench.inspection-bag", {"count": len(meant.pieces)})
        self.shell.tell(told, (verb, inspection), kind="wrong", is_heard=True)

    def _put(self, code: str) -> None:
        """Put this piece on the bench; asked first where something about another is filled in."""
        what = self._typed()
        if code == self.code or not what:
            self._set(code)
            return
        lead = say("bench.leave.lead", {"piece": self.code, "what": what})
        question = Question(
            say("bench.leave", {"other": code}), (lead,), (("go", say("bench.leave.go", {"other": code})),)
        )
        self.shell.ask.put(question, lambda key, _: self._set(code) if key == "go" else None)

    def _set(self, code: str) -> None:
        if code != self.code:
            self.code, self.seen = code, None
            for key, form in self.forms.items():
                if key != "look":
                    form.clear()
                form.show_piece(None)
        self.shell.tell(say("bench.on-bench", {"piece": code}), kind="done", is_heard=True)
        self._ask()
        self._show()

    # What is shown.

    @property
    def choice(self) -> str:
        """What is being entered, "" where nothing is chosen."""
        return next((key for key, form in self.forms.items() if form is self.stack.currentWidget()), "")

    def choose(self, key: str) -> None:
        """Enter this now; "" for nothing yet."""
        if key:
            self.choices[key].setChecked(True)
            self.stack.setCurrentWidget(self.forms[key])
        else:
            release(self.choices)
            self.stack.setCurrentIndex(0)
        self._show()
        if key and self.isVisible():
            self.forms[key].focus()

    def _pressed(self, key: str) -> None:
        """Begin it; the piece on the bench is the first of a list, and a second press on the list goes back to one."""
        was = self.choice
        if key == "look" and was == "look":
            self._leave_list()
            return
        self.choose(key)
        if key == "look" and self.code and not self.look.is_typed():
            self.look.add([self.code])

    def _leave_list(self) -> None:
        """From the list to one piece: the one there was, or the next scan."""
        self.choose(shown.first_choice(self.seen))
        self.line.setFocus()

    def _ask(self) -> None:
        if self.look.is_typed():
            self.look.refresh()
        if self.code:
            code = self.code
            self.shell.doors.ask(
                lambda desk: look_at_kit(desk, [code]), self._looked_at, self.shell.complain, owner=self, slot="piece"
            )

    def _looked_at(self, pieces: Mapping[str, OnCounter]) -> None:
        is_new = self.seen is None
        self.seen = pieces.get(self.code)
        for form in self.forms.values():
            form.show_piece(self.seen)
        is_idle = is_new and (not self.choice or (self.choice == "look" and not self.look.is_typed()))
        if is_idle or (self.choice and shown.why_not(self.seen, self.choice)):
            self.choose(shown.first_choice(self.seen))
        elif is_new and self.choice:
            self.forms[self.choice].focus()
        self._show()

    def _show(self) -> None:
        for key, choice in self.choices.items():
            choice.setEnabled(not shown.why_not(self.seen, key))
            choice.setToolTip(shown.reason(self.seen, (key,)))
            choice.setAccessibleDescription(shown.reason(self.seen, (key,)))
        self.intro.setText(say("bench.choose" if self.seen is not None else "bench.nothing-yet", {}))
        # A list is about what is in it: the piece looked at before would stand in the way.
        self.piece_card.setVisible(bool(self.code) and self.choice != "look")
        self.show_key.setText(say("bench.add" if self.choice == "look" else "bench.show", {}))
        self.piece_card.show_piece(self.seen, shown.reason(self.seen, CHOICES))

    def _saved(self) -> None:
        """Ready for the next scan, which is one piece again."""
        if self.choice == "look":
            self._leave_list()
        self.line.setFocus()


SCREEN = BenchScreen
