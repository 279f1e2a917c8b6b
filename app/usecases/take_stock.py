"""Take stock of a crib by scanner: what is missing, what is there and should not be, what was lost and is found."""

from __future__ import annotations

from collections.abc import Collection

from app.decision.domain.electrical_test import Note
from app.decision.domain.entries import Found, Lost
from app.decision.domain.record import Hold
from app.decision.judging.answers import Saved
from app.register.engine import Connection
from app.register.reads import names, out, pieces
from app.register.reads.due import shelf_rows
from app.register.unit import Unit
from app.usecases.add_piece import crib_for
from app.usecases.books import every_book
from app.usecases.desk import Desk
from app.usecases.entering import codes_meant, enter, on_day
from app.usecases.said_before import refuse_if_just_taken


def take_stock(desk: Desk, by: str, codes: Collection[str], crib: str, *, mark_lost: bool = False) -> Saved:
    """Enter one stocktake.

    Missing: on this crib's shelf by the register and not scanned. Unexpected: scanned, but out, with somebody,
    withdrawn, of another crib, or nothing the register knows. A lost piece that was scanned is found, and held until
    it is inspected. BadInput where not one code is known, or the same was entered a moment ago.
    """
    with desk.write(by, books=every_book) as unit:
        crib = crib_for(unit, crib)
        scanned, unknown = _scanned(unit, codes)
        missing, unexpected = unit.read(lambda connection: _compare(connection, crib, set(scanned)))
        row = {
            "crib": crib, "on_day": desk.today(), "scanned": (*scanned, *unknown), "missing": tuple(missing),
            "unexpected": (*unexpected, *unknown),
        }  # fmt: skip
        refuse_if_just_taken(unit, crib, row)
        unit.add(crib, "stocktake", crib, row)
        told = [Note("stocktake.missing", {"pieces": tuple(missing)})] if missing else []
        told += [Note("stocktake.unexpected", {"pieces": tuple(unexpected)})] if unexpected else []
        told += [
            Note("stocktake.unknown", {"code": code, "nearest": near(unit, code)}) for code in unknown
        ]  # fmt: skip
        told += _found(desk, unit, scanned)
        if mark_lost:
            # Behind a misread label hangs a piece that is not missing at all.
            told += [Note("stocktake.none-lost", {})] if unknown and missing else _lost(desk, unit, missing)
        return Saved(tuple(unit.names), tuple(told) or (Note("stocktake.agrees", {}),))


def near(unit: Unit, code: str) -> str:
    """The known piece most like what was scanned, "" where none is."""
    return unit.read(lambda connection: names.nearest_code(connection, code))


def _scanned(unit: Unit, codes: Collection[str]) -> tuple[list[str], list[str]]:
    """The pieces meant, and what means nothing; one label nobody knows is no reason to walk the shelf again."""
    known, unknown = dict[str, None](), dict[str, None]()
    for code in codes:
        meant = unit.read(lambda connection, code=code: names.pieces_meant(connection, code))  # type: ignore[misc]
        if meant:
            known.update(dict.fromkeys(meant))
        else:
            unknown[shown(code)] = None
    if unknown and not known:
        codes_meant(unit, unknown)
    return list(known), list(unknown)


def shown(code: str) -> str:
    """A code as it may stand in a line, signs that cannot be seen as question marks."""
    return "".join(sign if sign.isprintable() else "?" for sign in code)


def _compare(connection: Connection, crib: str, scanned: set[str]) -> tuple[list[str], list[str]]:
    away = out.out_now(connection)
    missing, unexpected = [], []
    for row in shelf_rows(connection):
        is_here = row.crib == crib and row.piece not in away and not row.holder
        expected = is_here and row.state not in ("withdrawn", "lost")
        if expected and row.piece not in scanned:
            missing.append(row.piece)
        elif row.piece in scanned and not expected and row.state != "lost":
            unexpected.append(row.piece)
    return missing, unexpected


def _found(desk: Desk, unit: Unit, scanned: list[str]) -> list[Note]:
    told = []
    for kept in unit.read(lambda connection: pieces.pieces(connection, scanned)).values():
        if kept.piece.is_lost:
            enter(unit, kept, on_day(desk, Found()))
            enter(unit, kept, on_day(desk, Hold(why="lost")))
            told.append(Note("stocktake.found", {"piece": kept.piece.code}))
    return told


def _lost(desk: Desk, unit: Unit, missing: list[str]) -> list[Note]:
    for kept in unit.read(lambda connection: pieces.pieces(connection, missing)).values():
        enter(unit, kept, on_day(desk, Lost()))
    return [Note("stocktake.lost", {"pieces": tuple(missing)})] if missing else []
