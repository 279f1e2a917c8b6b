"""Recall: hold in one act every piece that a laboratory, a period of tests, words on the label or a list names."""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from app.domain.electrical_test import Note
from app.domain.errors import BadInput
from app.domain.record import ElectricalTest, Hold, Withdrawal
from app.judging.answers import Saved
from app.store.reads import out, pieces
from app.store.reads.pieces import Kept
from app.usecases.desk import Desk
from app.usecases.entering import codes_meant, enter, on_day


class Recall(Struct, frozen=True, kw_only=True):
    """What is recalled; everything named has to fit. `since`, `until`: days of tests, both included."""

    pieces: tuple[str, ...] = ()
    label: str = ""
    lab: str = ""
    since: date | None = None
    until: date | None = None
    reason: str = ""


def recall_pieces(desk: Desk, by: str, recall: Recall) -> Saved:
    """Hold them; answers also which of them are out and with whom. BadInput where nothing is named or nothing fits."""
    if not (recall.pieces or recall.label or recall.lab or recall.since or recall.until):
        raise BadInput("recall.nothing-named")
    with desk.write(by) as unit:
        named = codes_meant(unit, recall.pieces) if recall.pieces else unit.read(pieces.all_codes)
        fit = [
            one for one in unit.read(lambda connection: pieces.pieces(connection, named)).values() if _fits(one, recall)
        ]
        if not fit:
            raise BadInput("recall.nothing-fits")
        for kept in fit:
            enter(unit, kept, on_day(desk, Hold(why="recall")), reason=recall.reason or None)
        codes = [kept.piece.code for kept in fit]
        away = unit.read(lambda connection: out.out_now(connection, codes))
        told = [Note("recall.held", {"count": len(fit), "pieces": tuple(codes)})]
        told += [Note("recall.out", {"piece": one.piece, "person": one.person}) for one in away.values()]
        return Saved(tuple(unit.names), tuple(told))


def _fits(kept: Kept, recall: Recall) -> bool:
    if any(isinstance(one, Withdrawal) for one in kept.piece.records):
        return False
    if recall.label and recall.label.casefold() not in kept.piece.label.casefold():
        return False
    return not (recall.lab or recall.since or recall.until) or any(
        _is_of(one, recall) for one in kept.piece.records if isinstance(one, ElectricalTest)
    )


def _is_of(test: ElectricalTest, recall: Recall) -> bool:
    """A test that names no laboratory or no day may be of the one recalled: unknown is held."""
    if recall.lab and test.lab is not None and test.lab.casefold() != recall.lab.casefold():
        return False
    if test.on is None:
        return True
    is_after = recall.since is None or test.on.last >= recall.since
    return is_after and (recall.until is None or test.on.first <= recall.until)
