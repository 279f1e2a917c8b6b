"""What is told at the foot of the window: what was saved, what went wrong, where a scan could not land."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from app.decision.domain.errors import CuffdateError
from app.window.shell import Action, Shell
from app.window.strip import Strip
from app.words.saying import say, say_here

if TYPE_CHECKING:
    from app.decision.judging.answers import Saved


class Telling:
    """Puts words for what happened into the strip."""

    def __init__(self, strip: Strip, shell: Shell) -> None:
        self._strip = strip
        self._shell = shell

    def tell(self, text: str, *actions: Action, kind: str = "told", is_heard: bool = False) -> None:
        """Say something; `kind`: done, wrong, told, wait."""
        self._strip.show_line(kind, text, actions, is_heard=is_heard)

    def complain(self, fault: CuffdateError) -> None:
        """Say what went wrong and what to do now."""
        self.alarmed(say_here(fault))

    def saved(self, saved: Saved, codes: Iterable[str], *, words: str = "") -> None:
        """Say what was saved under which number, and offer to correct it; `words` in place of the plain words."""
        # A form brings the use cases and the database, 227 modules: nothing is saved before those are there.
        from app.outputs.documents.saved import lines  # noqa: PLC0415
        from app.window.correct import CorrectDialog  # noqa: PLC0415

        about = list(codes)
        actions: list[Action] = []
        if saved.entries:
            actions.append((say("window.correct", {}), lambda: CorrectDialog(self._shell, saved.entries, about).put()))
        self._strip.show_line("done", words or " ".join(lines(saved)), actions, is_heard=True)

    def alarmed(self, text: str) -> None:
        """Say something that must not be missed."""
        self._strip.show_line("wrong", text, is_heard=True)

    def scan_refused(self, key: str, code: str) -> None:
        """Say why a scan was not taken."""
        self.alarmed(say(key, {"thing": code}))
