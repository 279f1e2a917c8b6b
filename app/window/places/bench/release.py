"""Releasing a piece: what holds it, what clears that, and whether it has been entered."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QVBoxLayout

from app.decision.domain.errors import CuffdateError
from app.decision.judging.answers import Saved
from app.usecases.desk import Desk
from app.usecases.release_piece import release_piece
from app.usecases.what_holds import Held, what_holds
from app.window.build import label
from app.window.places.bench.form import BenchForm, Table
from app.window.places.bench.state import refused, review_of_release, waiting
from app.words.saying import say, say_finding, say_here


class ReleaseForm(BenchForm):
    """Nothing is typed here: the evidence is what was entered before."""

    key = "release"

    def build(self, down: QVBoxLayout) -> None:
        """The list of what is open."""
        self._held: Held | None = None
        down.addWidget(label(say("bench.release.lead", {}), "heading"))
        self.open_now = label("")
        down.addWidget(self.open_now)
        self.shell.here.changed.connect(self._person_changed)

    def table(self) -> Table:
        """Nothing."""
        return {}

    def changed(self) -> None:
        """Ask what holds it."""
        self._held = None
        self.open_now.setText("")
        self.shell.doors.drop(self, "review")
        if self.seen is None or self.seen.row is None or self.seen.row.status.state != "on-hold":
            self._answer = waiting(say("bench.release.free", {}))
            self.show_state()
            return
        code, by = self.code, self.shell.here.by
        self._answer = waiting(say("bench.review.judging", {}))
        self.shell.doors.ask(
            lambda desk: what_holds(desk, code, by), self._found, self._not_found, owner=self, slot="review"
        )
        self.show_state()

    def _found(self, held: Held) -> None:
        self._held = held
        self.open_now.setText(
            "\n".join(
                f"\u2022 {say_finding(one.finding)}\n   {say('bench.release.clears', {'why': one.clears})}"
                for one in held.open_now
            )
        )
        self._answer = review_of_release(held, self.shell.here.by)
        self.show_state()

    def _not_found(self, fault: CuffdateError) -> None:
        self._answer = refused(say_here(fault))
        self.show_state()

    def _person_changed(self) -> None:
        if self._held is not None:
            self.changed()

    def can_save(self) -> bool:
        """Only what can be released by what has been entered."""
        held = self._held
        return (
            held is not None and bool(held.open_now) and not (held.missing or held.refused) and not self.writing.is_on
        )

    def focus(self) -> None:
        """The key is all there is."""
        self.save_key.setFocus()

    def act(self, by: str, code: str, table: Table) -> Callable[[Desk], Saved]:
        """Release it; the use case names what a second person has to do."""
        del table
        return lambda desk: release_piece(desk, by, [code])
