"""A form of the bench that is declared: its fields by the keys of a worked case, what is asked when, and its act."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from functools import cached_property
from typing import Any, NamedTuple

from PySide6.QtWidgets import QVBoxLayout

from app.decision.judging.answers import Saved
from app.usecases.desk import Desk
from app.usecases.foresee_entry import Foreseen
from app.usecases.look_at_kit import OnCounter
from app.window.asked import Asked, Options
from app.window.build import grid, label, let_grow
from app.window.forms import ChoiceField, Field
from app.window.places.bench.form import Act, BenchForm
from app.window.shell import Shell
from app.words.saying import say

Table = dict[str, object]
#: What is chosen in the lists of a form, by key; "" for nothing yet.
Chosen = Mapping[str, str]


class Declared(NamedTuple):
    """`rows`: keys of fields side by side, and in how many columns; what is not asked leaves no hole.

    `asked`: which fields are asked now, all of them where it is None; `needed`: which must be filled in besides those
    that always must; `options`: what can be chosen about this piece; `explains`: what the first row's last choice
    means, by its key; `table`: the values in the keys of a worked case; `foresees`: where more can be foreseen of it
    than of any entry.
    """

    fields: Mapping[str, Asked]
    rows: tuple[tuple[tuple[str, ...], int], ...]
    does: Callable[[Desk, str, str, Table], Saved]
    lead: str = ""
    asked: Callable[[Chosen, OnCounter | None], Collection[str]] | None = None
    needed: Callable[[Chosen], Collection[str]] = lambda _: ()
    options: Mapping[str, Callable[[OnCounter | None], Options]] = {}
    explains: Mapping[str, str] = {}
    table: Callable[[Table], Table] = lambda values: values
    foresees: Callable[[Desk, str, Table], Foreseen] | None = None


class DeclaredForm(BenchForm):
    """`by_key`: the fields by their keys."""

    def __init__(self, shell: Shell, key: str, declared: Declared) -> None:
        self.key = key
        self.declared = declared
        super().__init__(shell)

    @cached_property
    def by_key(self) -> dict[str, Field[Any]]:
        """Made with the form."""
        return {key: asked(self.shell) for key, asked in self.declared.fields.items()}

    def build(self, down: QVBoxLayout) -> None:
        """The lead, then row by row."""
        self.fields = list(self.by_key.values())
        self._always = {key for key, field in self.by_key.items() if field.is_needed}
        self._laid: Collection[str] = ()
        if self.declared.lead:
            down.addWidget(label(say(self.declared.lead, {})))
        for field in self.fields:
            let_grow(field)
        self._grids = [grid([self.by_key[key] for key in keys], columns) for keys, columns in self.declared.rows]
        self.explains = label("", "quiet")
        for number, laid in enumerate(self._grids):
            down.addLayout(laid)
            if self.declared.explains and not number:
                down.addWidget(self.explains)

    def _chosen(self) -> dict[str, str]:
        return {key: field.value() or "" for key, field in self.by_key.items() if isinstance(field, ChoiceField)}

    def adapt(self) -> None:
        """Only what this piece and what is chosen so far ask; what is hidden is not entered."""
        declared, chosen = self.declared, self._chosen()
        for key, options in declared.options.items():
            field = self.by_key[key]
            assert isinstance(field, ChoiceField)
            field.set_options(options(self.seen))
        asked = self.by_key.keys() if declared.asked is None else declared.asked(chosen, self.seen)
        needed = {*self._always, *declared.needed(chosen)}
        for key, field in self.by_key.items():
            field.is_needed = key in needed
        if declared.explains:
            self.explains.setText(say(declared.explains[chosen[declared.rows[0][0][-1]]], {}))
        self._lay([key for key in self.by_key if key in asked])

    def _lay(self, asked: Collection[str]) -> None:
        if asked == self._laid:
            return
        self._laid = asked
        for laid, (keys, columns) in zip(self._grids, self.declared.rows, strict=True):
            for key in keys:
                laid.removeWidget(self.by_key[key])
                self.by_key[key].setVisible(key in asked)
            for number, key in enumerate(key for key in keys if key in asked):
                laid.addWidget(self.by_key[key], number // columns, number % columns)

    def table(self) -> Table:
        """What is shown and filled in, as the keys of a worked case."""
        values = {key: field.value() for key, field in self.by_key.items() if not field.isHidden()}
        return self.declared.table({key: value for key, value in values.items() if value is not None})

    def foresee(self) -> Callable[[Desk], Foreseen]:
        """The act, or what more can be foreseen of it."""
        code, table, foresees = self.code, self.table(), self.declared.foresees
        return super().foresee() if foresees is None else lambda desk: foresees(desk, code, table)

    def act(self, by: str) -> Act:
        """What is declared."""
        code, table, does = self.code, self.table(), self.declared.does
        return lambda desk: does(desk, by, code, table)
