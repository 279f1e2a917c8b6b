"""What can be done with the pieces chosen on the shelf: each a small form, and one use case."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from app.decision.domain.entries import Name
from app.usecases.add_alias import add_alias
from app.usecases.confirm_certificates import confirm_certificates
from app.usecases.hold_piece import WHY, hold_piece
from app.usecases.make_bag import make_bag
from app.usecases.release_piece import release_piece
from app.usecases.what_clears import what_clears
from app.usecases.withdraw_piece import withdraw_piece
from app.window.build import fit_height
from app.window.correct import CorrectDialog
from app.window.form_dialog import Act, FormDialog
from app.window.forms import ChoiceField, Field, TextField
from app.window.shell import Shell
from app.words.saying import say
from app.words.vocabulary import EVENTS

_MOST_NAMED = 10


def _short(codes: Sequence[str]) -> str:
    if len(codes) <= _MOST_NAMED:
        return ", ".join(codes)
    return say("shelf.short", {"codes": ", ".join(codes[:_MOST_NAMED]), "more": len(codes) - _MOST_NAMED})


class HoldReason(ChoiceField):
    """One of the reasons that something clears; below it stands what clears the one chosen."""

    def __init__(self, kinds: Sequence[str]) -> None:
        self._kinds = kinds
        options = [(key, EVENTS.get(key, key.replace("-", " "))) for key in WHY]
        super().__init__(say("shelf.hold.why", {}), options, is_needed=True)

    def says(self) -> str:
        """What would clear it, for the kinds that are chosen."""
        why = self.value()
        found = () if why is None else what_clears(why, self._kinds)
        return " ".join(say("shelf.hold.clears", {"why": one}) for one in found)


def hold(shell: Shell, codes: Sequence[str], kinds: Sequence[str] = ()) -> FormDialog:
    """Hold them, for one reason. `kinds` are those of the pieces: what clears a hold depends on them."""
    why = HoldReason(kinds)

    def act() -> Act:
        by, reason = shell.here.by, why.value() or ""
        return lambda desk: hold_piece(desk, by, codes, reason)

    made = _dialog(shell, ("shelf.hold", "shelf.hold.lead", "shelf.hold.do"), [why], act, codes)
    why.changed.connect(lambda: fit_height(made, made.width()))
    return made


def release(shell: Shell, codes: Sequence[str]) -> FormDialog:
    """Release them; the use case names the evidence that is missing."""

    def act() -> Act:
        by = shell.here.by
        return lambda desk: release_piece(desk, by, codes)

    return _dialog(shell, ("shelf.release", "shelf.release.lead", "shelf.release.do"), [], act, codes)


def withdraw(shell: Shell, codes: Sequence[str]) -> FormDialog:
    """Take them out for good, with the reason."""
    why = TextField(say("shelf.withdraw.why", {}), is_needed=True)

    def act() -> Act:
        by, reason = shell.here.by, why.value() or ""
        return lambda desk: withdraw_piece(desk, by, codes, reason)

    return _dialog(shell, ("shelf.withdraw", "shelf.withdraw.lead", "shelf.withdraw.do"), [why], act, codes)


def seen(shell: Shell, codes: Sequence[str]) -> FormDialog:
    """Their certificates have been seen, in one act."""

    def act() -> Act:
        by = shell.here.by
        return lambda desk: confirm_certificates(desk, by, codes)

    return _dialog(shell, ("shelf.seen", "shelf.seen.lead", "shelf.seen.do"), [], act, codes)


def alias(shell: Shell, codes: Sequence[str]) -> FormDialog:
    """Another label that means the piece."""
    written = TextField(say("shelf.alias.label", {}), is_needed=True)

    def act() -> Act:
        by, text = shell.here.by, written.value() or ""
        return lambda desk: add_alias(desk, by, text, codes[0])

    return _dialog(shell, ("shelf.alias", "shelf.alias.lead", "shelf.alias.do"), [written], act, codes)


def bag(shell: Shell, codes: Sequence[str]) -> FormDialog:
    """Make them one scan."""
    code = TextField(say("shelf.bag.code", {}), is_needed=True)

    def act() -> Act:
        by, text = shell.here.by, code.value() or ""
        return lambda desk: make_bag(desk, by, text, codes)

    return _dialog(shell, ("shelf.bag", "shelf.bag.lead", "shelf.bag.do"), [code], act, codes)


def correct(shell: Shell, entry: Name, code: str) -> None:
    """Strike an entry of its history."""
    CorrectDialog.put(shell, [entry], [code])


def _dialog(
    shell: Shell, keys: tuple[str, str, str], fields: Sequence[Field[str]], act: Callable[[], Act], codes: Sequence[str]
) -> FormDialog:
    title, lead, do = keys
    return FormDialog(
        shell, say(title, {}), say(lead, {"pieces": _short(codes)}), fields, say(do, {}), act, codes
    ).put()  # fmt: skip


FORMS: Mapping[str, Callable[[Shell, Sequence[str]], FormDialog]] = {
    "release": release, "withdraw": withdraw, "seen": seen, "alias": alias, "bag": bag,
}  # fmt: skip
