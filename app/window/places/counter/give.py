"""Giving a kit out: who, on what, for which task, with which pieces - and the decision, asked anew at every change."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget

from app.decision.domain.entries import Name
from app.decision.domain.errors import BadInput, CuffdateError
from app.decision.judging.answers import KitAnswer, KitQuestion, Saved
from app.usecases.about_here import AboutHere
from app.usecases.check_store import check_store
from app.usecases.desk import Desk
from app.usecases.issue_kit import issue_kit
from app.usecases.look_at_kit import OnCounter, look_at_kit
from app.usecases.look_up import Meant
from app.usecases.record_refusal import record_refusal
from app.window.build import REST, button, column, row, save_keys
from app.window.lists import choice
from app.window.places.counter.decision_card import DecisionCard
from app.window.places.counter.job_form import JobForm
from app.window.places.counter.kit_list import KitList
from app.window.places.counter.state import GiveState, Row
from app.window.shell import Shell
from app.window.writing import Writing
from app.words.saying import say, say_here


class GivePanel(QWidget):
    """The form of a job, the kit, the decision, and the key that issues."""

    def __init__(self, shell: Shell) -> None:
        super().__init__()
        self.shell = shell
        self.state = GiveState()
        self._writing = Writing(shell, self._show)
        self._unread = ""
        self.job = JobForm(lambda: shell.here.today)
        self.job.changed.connect(self._job_changed)
        self.kit = KitList(shell.theme, self._leads_of)
        self.kit.removed.connect(self._remove)
        self.kit.setMinimumWidth(300)
        self.card = DecisionCard(shell.theme)
        right = column((self.card, 1), self._keys(), spacing=8)
        column(self.job, (row((self.kit, 5), (right, 9), spacing=14), 1), on=self, spacing=10)
        self._show()

    def _keys(self) -> QHBoxLayout:
        self.refusal = button(say("counter.enter-refusal", {}), self._enter_refusal)
        self.empty = button(say("counter.empty", {}), self.clear)
        self.issue = button("", self._issue, "counter")
        self.issue.setToolTip(say("counter.issue-keys", {}))
        save_keys(self, self._issue_by_key)
        return row(self.empty, self.refusal, REST, self.issue)

    # What comes in.

    def show_about(self, about: AboutHere) -> None:
        """People and systems as they are now; what was chosen stays."""
        self.state.people, self.state.systems = about.people, about.systems
        self.job.show_about(about)
        self._job_changed()

    def put_down(self, meant: Meant) -> bool:
        """Take a scan, or a code typed in: pieces, a badge, a system."""
        if meant.person:
            has_room = self.state.has_room(meant.person)
            key = self.state.take_person(meant.person)
            self.job.show_people(self.state)
            told = say(key, {"person": meant.person})
            if not self.shell.here.by:
                self.shell.enter_as(meant.person)
                told = f"{told} {say('counter.enters-too', {'person': meant.person})}"
            kind = "done" if has_room else "wrong"
            self.shell.tell(told, kind=kind, is_heard=True)
        elif meant.system:
            self.job.system.choose(meant.system)
            self.shell.tell(say("counter.system-set", {"system": meant.system}), kind="done", is_heard=True)
        else:
            new, there = self.state.add(meant.pieces)
            key = "counter.put" if new else "counter.put-there"
            told = say(key, {"pieces": new or there})
            self.shell.tell(told, kind="done" if new else "told", is_heard=True)
        self.kit.taken(meant.written)
        self._ask()
        return True

    def _job_changed(self) -> None:
        self._unread = self.job.read_into(self.state)
        self._ask()

    def _leads_of(self, piece: Row) -> QWidget | None:
        if not piece.leads_to:
            return None
        meters = [(meter, say("counter.leads-to", {"meter": meter})) for meter in piece.leads_to]
        return choice(
            say("counter.leads-of", {"piece": piece.code}), [("", say("counter.leads-choose", {})), *meters],
            piece.meter, lambda meter: self._leads_chosen(piece.code, meter),
        )  # fmt: skip

    def _leads_chosen(self, leads: str, meter: str) -> None:
        if meter:
            self.state.meters[leads] = meter
        else:
            self.state.meters.pop(leads, None)
        self._ask()

    def _remove(self, code: str) -> None:
        self.state.remove(code)
        self._ask()

    def clear(self) -> None:
        """Begin with the next kit; who enters stays."""
        self.state.kit, self.state.meters, self.state.seen, self.state.answer = [], {}, {}, None
        self.job.clear()
        self._job_changed()
        self.shell.tell("")
        self.kit.line.setFocus()

    # What is asked.

    def refresh(self) -> None:
        """Ask again: something has moved."""
        self._ask()

    def _ask(self) -> None:
        """Look at the pieces, and decide where everything is said. An answer to an older question is never shown."""
        state, doors = self.state, self.shell.doors
        state.answer, state.cannot = None, self._unread
        doors.drop(self, "decision")
        codes = tuple(state.kit)
        doors.ask(lambda desk: look_at_kit(desk, codes), self._seen, self.shell.complain, owner=self, slot="kit")
        question = state.question(self.shell.here.today)
        if question is not None:
            doors.ask(
                lambda desk: check_store(desk, question), self._decided, self._not_decided, owner=self, slot="decision"
            )
        self._show()

    def _seen(self, pieces: Mapping[str, OnCounter]) -> None:
        self.state.seen = pieces
        self._show()

    def _decided(self, answer: KitAnswer) -> None:
        self.state.answer = answer
        self._show()

    def _not_decided(self, fault: CuffdateError) -> None:
        self.state.cannot = say_here(fault)
        self.shell.complain(fault)
        self._show()

    def _show(self) -> None:
        state = self.state
        self.kit.show_rows(state.rows())
        self.card.show_decision(state.decision(), state.answer)
        self.issue.setText(state.issue_words())
        self.issue.setEnabled(state.may_issue and not self._writing.is_on)
        self.refusal.setVisible(state.is_refused)
        self.refusal.setEnabled(not self._writing.is_on)
        self.empty.setEnabled(bool(state.kit or state.who or state.system or state.task))

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """The picture is laid out for the room there is."""
        super().resizeEvent(event)
        self.card.refit()

    # What is written.

    def _issue_by_key(self) -> None:
        if self.issue.isEnabled():
            self._issue()
        elif self.state.kit and not self._writing.is_on:
            # An empty counter says nothing: whoever pressed twice would read that nothing was issued.
            why = say("counter.cannot-issue", {"why": self.state.decision().says})
            self.shell.tell(why, kind="wrong", is_heard=True)

    def _issue(self) -> None:
        self._write(issue_kit)

    def _enter_refusal(self) -> None:
        self._write(record_refusal)

    def _write(self, act: Callable[[Desk, str, KitQuestion], tuple[KitAnswer, Name | None]]) -> None:
        question = self.state.question(self.shell.here.today)
        if question is None or not self._writing.may_begin():
            return
        by = self.shell.here.by
        self._writing.do(
            lambda desk: act(desk, by, question), question.kit, lambda done: self._written(*done), self._not_written
        )

    def _written(self, answer: KitAnswer, name: Name | None) -> None:
        if answer.verdict.may_be_issued and name is not None:
            self.clear()
            self.shell.saved(Saved((name,)), answer.question.kit, words=_issued(answer.question, name))
            return
        # Overtaken by another counter, or a refusal entered: what is so now is shown, the kit stays on the counter.
        self.state.answer = answer
        key = "counter.refusal-entered" if name is not None else "counter.refusal-there"
        self.shell.tell(say(key, {"entry": "" if name is None else str(name)}), kind="wrong", is_heard=True)
        self._show()

    def _not_written(self, fault: CuffdateError) -> None:
        if isinstance(fault, BadInput):
            self._ask()


def _issued(question: KitQuestion, name: Name) -> str:
    values = {"count": len(question.kit), "person": question.person, "until": question.until, "entry": str(name)}
    return say("counter.issued", values)
