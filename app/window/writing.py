"""Every act of the window: once, by whoever is chosen, closed while it is entered, and told what came of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, TypeVar

from app.decision.domain.errors import CuffdateError
from app.window.doors import EVERYTHING

if TYPE_CHECKING:
    from app.decision.judging.answers import Saved
    from app.usecases.desk import Desk
    from app.window.shell import Shell

T = TypeVar("T")


class Writing:
    """One per form. `show` is called whenever an act begins or could not be done, so that the form says so."""

    def __init__(self, shell: Shell, show: Callable[[], object]) -> None:
        self._shell = shell
        self._show = show
        self.is_on = False

    def may_begin(self) -> bool:
        """Whether an act may be entered now: not twice, and by somebody."""
        return not self.is_on and self._shell.needs_by()

    def do(
        self,
        act: Callable[[Desk], T],
        codes: Iterable[str],
        done: Callable[[T], object],
        failed: Callable[[CuffdateError], object] = lambda _: None,
    ) -> None:
        """Do this act about these pieces, of everything where none are named."""

        def entered(answer: T) -> None:
            self.is_on = False
            done(answer)

        def not_entered(fault: CuffdateError) -> None:
            self.is_on = False
            self._show()
            self._shell.complain(fault)
            failed(fault)

        self.is_on = True
        self._show()
        self._shell.doors.change(act, entered, not_entered, subjects=tuple(codes) or EVERYTHING)

    def save(
        self,
        act: Callable[[Desk], Saved],
        codes: Iterable[str],
        clear: Callable[[], object],
        failed: Callable[[CuffdateError], object] = lambda _: None,
    ) -> None:
        """Do it, `clear` the form once it is there, and say under which number it was saved."""
        pieces = tuple(codes)

        def saved(answer: Saved) -> None:
            clear()
            self._shell.saved(answer, pieces)

        self.do(act, pieces, saved, failed)
