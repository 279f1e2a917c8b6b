"""What can be done with the pieces chosen on the shelf: each a small form, and one use case."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

from app.decision.judging.answers import Saved
from app.usecases.add_alias import add_alias
from app.usecases.confirm_certificates import confirm_certificates
from app.usecases.desk import Desk
from app.usecases.hold_piece import WHY, hold_piece
from app.usecases.make_bag import make_bag
from app.usecases.release_piece import release_piece
from app.usecases.what_clears import what_clears
from app.usecases.withdraw_piece import withdraw_piece
from app.window.build import fit_height
from app.window.form_dialog import Act, FormDialog
from app.window.forms import ChoiceField, Field, TextField
from app.window.shell import Shell
from app.words.saying import listed, say
from app.words.vocabulary import HOLD_REASONS

_MOST_NAMED = 10


class HoldReason(ChoiceField):
    """One of the reasons that something clears; below it stands what clears the one chosen, for these kinds."""

    def __init__(self, kinds: Sequence[str]) -> None:
        self._kinds = kinds
        options = [(key, HOLD_REASONS[key]) for key in WHY]
        super().__init__(say("shelf.hold.why", {}), options, is_needed=True)
        self.changed.connect(lambda: fit_height(self.window(), self.window().width()))

    def says(self) -> str:
        """What would clear it."""
        why = self.value()
        clears = () if why is None else what_clears(why, self._kinds)
        return " ".join(say("shelf.hold.clears", {"why": evidence}) for evidence in clears)


class _Form(NamedTuple):
    """`does`: the use case, by whom, with which pieces and which words; `asks`: the key of the label of the words."""

    does: Callable[[Desk, str, Sequence[str], str], Saved]
    asks: str = ""


FORMS: Mapping[str, _Form] = {
    "hold": _Form(hold_piece, "shelf.hold.why"),
    "release": _Form(lambda desk, by, codes, _: release_piece(desk, by, codes)),
    "withdraw": _Form(withdraw_piece, "shelf.withdraw.why"),
    "seen": _Form(lambda desk, by, codes, _: confirm_certificates(desk, by, codes)),
    "alias": _Form(lambda desk, by, codes, written: add_alias(desk, by, written, codes[0]), "shelf.alias.label"),
    "bag": _Form(lambda desk, by, codes, written: make_bag(desk, by, written, codes), "shelf.bag.code"),
}


def ask(shell: Shell, key: str, codes: Sequence[str], kinds: Sequence[str] = ()) -> FormDialog:
    """Show the form `key`, with the title, lead and verb the catalogue has for it. `kinds` are those of the pieces."""
    form = FORMS[key]
    fields: list[Field[str]] = []
    if form.asks:
        fields.append(HoldReason(kinds) if key == "hold" else TextField(say(form.asks, {}), is_needed=True))

    def act() -> Act:
        by, written = shell.here.by, " ".join(field.value() or "" for field in fields)
        return lambda desk: form.does(desk, by, codes, written)

    title = f"shelf.{key}"
    words = (say(title, {}), say(f"{title}.do", {}), (say(f"{title}.lead", {"pieces": _short(codes)}),))
    return FormDialog(shell, words, fields, act, codes).put()


def _short(codes: Sequence[str]) -> str:
    if len(codes) <= _MOST_NAMED:
        return listed(codes)
    return say("shelf.short", {"codes": ", ".join(codes[:_MOST_NAMED]), "count": len(codes) - _MOST_NAMED})
