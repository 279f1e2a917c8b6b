"""Releasing a piece: what holds it, what clears that, and whether it has been entered."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QVBoxLayout

from app.usecases.desk import Desk
from app.usecases.release_piece import release_piece
from app.usecases.what_holds import Held, what_holds
from app.window.build import label
from app.window.places.bench.form import Act, BenchForm
from app.window.places.bench.state import Review, review_of_release, waiting
from app.words.saying import say, say_finding


class ReleaseForm(BenchForm):
    """Nothing is typed here: the evidence is what was entered before."""

    key = "release"
    _held: Held | None = None

    def build(self, down: QVBoxLayout) -> None:
        """The list of what is open."""
        self.open_now = label("")
        down.addWidget(label(say("bench.release.lead", {}), "heading"))
        down.addWidget(self.open_now)
        self.shell.here.changed.connect(self._person_changed)

    def before(self) -> Review | None:
        """Only what is on hold can be released."""
        self._held = None
        self.open_now.setText("")
        is_held = self.seen is not None and self.seen.row is not None and self.seen.row.status.state == "on-hold"
        return None if is_held else waiting(say("bench.release.free", {}))

    def foresee(self) -> Callable[[Desk], Held]:
        """What holds it, and whether this person may release it."""
        code, by = self.code, self.shell.here.by
        return lambda desk: what_holds(desk, code, by)

    def reviewed(self, foreseen: Held) -> Review:
        """What is open, with what clears it."""
        self._held = foreseen
        self.open_now.setText(
            "\n".join(
                f"\u2022 {say_finding(hold.finding)}\n   {say('bench.release.clears', {'why': hold.clears})}"
                for hold in foreseen.open_now
            )
        )
        return review_of_release(foreseen, self.shell.here.by)

    def _person_changed(self) -> None:
        if self._held is not None:
            self.changed()

    def can_save(self) -> bool:
        """Only what can be released by what has been entered."""
        held = self._held
        return super().can_save() and held is not None and bool(held.open_now) and not (held.missing or held.refused)

    def focus(self) -> None:
        """The key is all there is."""
        self.save_key.setFocus()

    def act(self, by: str) -> Act:
        """Release it; the use case names what a second person has to do."""
        code = self.code
        return lambda desk: release_piece(desk, by, [code])
