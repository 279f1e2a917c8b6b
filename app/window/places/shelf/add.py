"""Adding a piece by hand: the marks its kind may have, each asked as it is printed."""

from __future__ import annotations

from collections.abc import Sequence

from app.decision.judging.catalogues import catalogues
from app.usecases.add_piece import add_piece
from app.window.asked import plain
from app.window.form_dialog import Act, FormDialog
from app.window.forms import ChoiceField, TextField
from app.window.places.shelf.add_marks import Marks, asked_of
from app.window.shell import Shell
from app.words.saying import say
from app.words.vocabulary import KINDS


class AddPiece(FormDialog):
    """One piece with the marks printed on it; once it is saved the shelf shows it."""

    def __init__(self, shell: Shell, cribs: Sequence[str]) -> None:
        known = catalogues().kinds
        self.code = TextField(say("shelf.add.code", {}), is_needed=True)
        self.kind = ChoiceField(say("shelf.kind", {}), [(key, KINDS[key]) for key in known], is_needed=True)
        self.crib = ChoiceField(say("shelf.add.crib", {}), plain(cribs)(), is_needed=len(cribs) > 1)
        self.marks = Marks(shell)
        self._offered = {kind.key: asked_of(kind) for kind in known.values()}
        words = (say("shelf.add", {}), say("shelf.add.do", {}), (say("shelf.add.lead", {}),))
        super().__init__(shell, words, [self.code, self.kind, self.crib, *self.marks.every()], self._made, ())
        # Many marks, and room for a good part of them at once.
        self.resize(600, 600)
        self.crib.setVisible(len(cribs) > 1)
        self.kind.changed.connect(self._show_marks)
        self._show_marks()

    def _asked(self) -> frozenset[str]:
        return self._offered.get(self.kind.value() or "", frozenset())

    def _show_marks(self) -> None:
        self.marks.show(self._asked())

    def _made(self) -> Act:
        code = self.code.value() or ""
        table = {"code": code, "kind": self.kind.value() or "", **self.marks.table(self._asked())}
        by, crib = self._shell.here.by, self.crib.value() or ""
        self._codes = [code]
        return lambda desk: add_piece(desk, by, table, crib)

    def done_with(self) -> None:
        """The shelf shows it."""
        super().done_with()
        self._shell.go("shelf", self._codes[0])
