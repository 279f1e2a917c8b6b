"""What narrows the shelf's list: words, kind, standing, crib."""

from __future__ import annotations

from collections.abc import Iterable

from app.window.forms import ChoiceField
from app.window.places.shelf.state import ShelfState
from app.window.tables import FilterLine
from app.words.saying import say
from app.words.vocabulary import STATUSES


class Narrowing(FilterLine):
    """Kinds and cribs are those there are pieces of."""

    def __init__(self) -> None:
        every = say("shelf.any", {})
        self.kind = ChoiceField(say("shelf.kind", {}), [], none=every)
        self.status = ChoiceField(say("shelf.status", {}), STATUSES.items(), none=every)
        self.crib = ChoiceField(say("shelf.crib", {}), [], none=every)
        super().__init__(say("shelf.find", {}), say("shelf.find-hint", {}), (self.kind, self.status, self.crib))

    def tell(self, state: ShelfState) -> None:
        """Put what is chosen here into the state."""
        state.kind, state.status = self.kind.value() or "", self.status.value() or ""
        state.crib, state.words = self.crib.value() or "", self.line.text()

    def offer(self, kinds: Iterable[tuple[str, str]], cribs: Iterable[str]) -> None:
        """The kinds (key, words) and cribs there are; what was chosen stays chosen where it is still there."""
        self.kind.set_options(kinds)
        self.crib.set_options((crib, crib) for crib in cribs)
