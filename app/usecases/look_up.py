"""Look up what a scanned or typed code means: pieces, a bag of them, a person, a system, or nothing that is known."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from app.decision.domain.errors import BadInput
from app.decision.domain.own_code import is_own, is_whole
from app.register.engine import Connection
from app.register.reads import names, register
from app.usecases.desk import Desk


class Meant(Struct, frozen=True):
    """What a code means; `pieces` are the pieces' own codes, several for a bag."""

    written: str
    pieces: tuple[str, ...] = ()
    person: str = ""
    system: str = ""


def _of(known: Iterable[str], code: str) -> str:
    """The code of theirs that is meant, capitals or not; "" for none."""
    codes = list(known)
    return code if code in codes else next((other for other in codes if other.casefold() == code.casefold()), "")


def look_up(desk: Desk, written: str) -> Meant:
    """BadInput for a label of ours that was misread, for a code nobody knows, and for one that means two things."""
    code = written.strip()
    if is_own(code) and not is_whole(code):
        raise BadInput("scan.misread", thing=code)

    def read(connection: Connection) -> Meant:
        pieces = names.pieces_meant(connection, code)
        people = _of(register.people_kept(connection), code)
        systems = _of(register.systems_kept(connection), code)
        if bool(pieces) + bool(people) + bool(systems) > 1:
            raise BadInput("scan.two-things", thing=code)
        if not (pieces or people or systems):
            raise BadInput("scan.unknown", thing=code, nearest=names.nearest_code(connection, code))
        return Meant(code, pieces, people, systems)

    return desk.ask(read)
