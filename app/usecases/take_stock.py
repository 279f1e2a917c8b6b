"""Take stock of a crib by scanner: what is missing, what is there and should not be, what was lost and is found."""

from __future__ import annotations

from collections.abc import Iterable

from app.domain.electrical_test import Note
from app.domain.entries import Found, Lost
from app.domain.record import Hold
from app.judging.answers import Saved
from app.store.engine import Connection
from app.store.reads import out, pieces
from app.store.reads.due import shelf_rows
from app.store.unit import Unit
from app.usecases.add_piece import crib_for
from app.usecases.desk import Desk
from app.usecases.entering import codes_meant, enter, on_day


def take_stock(desk: Desk, by: str, codes: Iterable[str], crib: str, *, mark_lost: bool = False) -> Saved:
    """Enter one stocktake.

    Missing: on this crib's shelf by the register and not scanned. Unexpected: scanned, but out, with somebody,
    withdrawn or of another crib. A lost piece that was scanned is found, and held until it is looked over.
    """
    with desk.write(by) as unit:
        crib = crib_for(unit, crib)
        scanned = codes_meant(unit, codes)
        missing, unexpected = unit.read(lambda connection: _compare(connection, crib, set(scanned)))
        row = {
            "crib": crib, "on_day": desk.today(), "scanned": tuple(scanned), "missing": tuple(missing),
            "unexpected": tuple(unexpected),
        }  # fmt: skip
        unit.add(crib, "stocktake", crib, row)
        told = [Note("stocktake.missing", {"pieces": tuple(missing)})] if missing else []
        told += [Note("stocktake.unexpected", {"pieces": tuple(unexpected)})] if unexpected else []
        told += _found(desk, unit, scanned)
        if mark_lost:
            told += _lost(desk, unit, missing)
        return Saved(tuple(unit.names), tuple(told) or (Note("stocktake.agrees", {}),))


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
