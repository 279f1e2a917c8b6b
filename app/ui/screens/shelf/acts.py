"""What can be done with the pieces chosen on the shelf: each a small form, and one use case."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from app.domain.entries import Name
from app.ui.form_dialog import Act, FormDialog
from app.ui.forms import ChoiceField, Field, TextField
from app.ui.shell import Shell
from app.words.saying import say
from app.words.vocabulary import EVENTS


def _short(codes: Sequence[str]) -> str:
    if len(codes) <= 10:
        return ", ".join(codes)
    return say("shelf.short", {"codes": ", ".join(codes[:10]), "more": len(codes) - 10})


def hold(shell: Shell, codes: Sequence[str]) -> FormDialog:
    """Hold them, for one of the reasons that something clears."""
    from app.usecases.hold_piece import WHY, hold_piece

    options = [
        (key, say("shelf.hold.reason", {"why": EVENTS.get(key, key.replace("-", " ")), "clears": key})) for key in WHY
    ]
    why = ChoiceField(say("shelf.hold.why", {}), options, is_needed=True)

    def act() -> Act:
        by, reason = shell.here.by, why.value() or ""
        return lambda desk: hold_piece(desk, by, codes, reason)

    return _dialog(shell, "hold", [why], act, codes)


def release(shell: Shell, codes: Sequence[str]) -> FormDialog:
    """Release them; the use case names the evidence that is missing."""
    from app.usecases.release_piece import release_piece

    def act() -> Act:
        by = shell.here.by
        return lambda desk: release_piece(desk, by, codes)

    return _dialog(shell, "release", [], act, codes)


def withdraw(shell: Shell, codes: Sequence[str]) -> FormDialog:
    """Take them out for good, with the reason."""
    from app.usecases.withdraw_piece import withdraw_piece

    why = TextField(say("shelf.withdraw.why", {}), is_needed=True)

    def act() -> Act:
        by, reason = shell.here.by, why.value() or ""
        return lambda desk: withdraw_piece(desk, by, codes, reason)

    return _dialog(shell, "withdraw", [why], act, codes)


def seen(shell: Shell, codes: Sequence[str]) -> FormDialog:
    """Their certificates have been seen, in one act."""
    from app.usecases.confirm_certificates import confirm_certificates

    def act() -> Act:
        by = shell.here.by
        return lambda desk: confirm_certificates(desk, by, codes)

    return _dialog(shell, "seen", [], act, codes)


def alias(shell: Shell, codes: Sequence[str]) -> FormDialog:
    """Another label that means the piece."""
    from app.usecases.add_alias import add_alias

    written = TextField(say("shelf.alias.label", {}), is_needed=True)

    def act() -> Act:
        by, text = shell.here.by, written.value() or ""
        return lambda desk: add_alias(desk, by, text, codes[0])

    return _dialog(shell, "alias", [written], act, codes)


def bag(shell: Shell, codes: Sequence[str]) -> FormDialog:
    """Make them one scan."""
    from app.usecases.make_bag import make_bag

    code = TextField(say("shelf.bag.code", {}), is_needed=True)

    def act() -> Act:
        by, text = shell.here.by, code.value() or ""
        return lambda desk: make_bag(desk, by, text, codes)

    return _dialog(shell, "bag", [code], act, codes)


def correct(shell: Shell, entry: Name, code: str) -> None:
    """Strike an entry of its history."""
    from app.ui.correct import CorrectDialog

    CorrectDialog.put(shell, [entry], [code])


def _dialog(
    shell: Shell, key: str, fields: Sequence[Field[str]], act: Callable[[], Act], codes: Sequence[str]
) -> FormDialog:
    lead = say(f"shelf.{key}.lead", {"pieces": _short(codes)})
    return FormDialog(shell, say(f"shelf.{key}", {}), lead, fields, say(f"shelf.{key}.do", {}), act, codes).put()
