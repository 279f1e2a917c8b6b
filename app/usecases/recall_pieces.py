"""Recall: hold in one act every piece that a laboratory, a period of tests, label, batch or a list names."""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from app.decision.domain.electrical_test import Note
from app.decision.domain.errors import BadInput
from app.decision.domain.record import ElectricalTest, Hold, Withdrawal
from app.decision.fields.reading import nearest
from app.decision.judging.answers import Saved
from app.register.reads import out, pieces
from app.register.reads.pieces import Kept
from app.usecases.books import every_book, of_pieces
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
    """Hold them; answers also which of them are out and with whom.

    BadInput where nothing is named, days stand in the wrong order or lie ahead, or nothing fits: it names the nearest.
    """
    if not (recall.pieces or recall.label or recall.lab or recall.since or recall.until):
        raise BadInput("recall.nothing-named")
    with desk.write(by, books=of_pieces(recall.pieces) if recall.pieces else every_book) as unit:
        _days_in_order(recall, desk.today())
        named = codes_meant(unit, recall.pieces) if recall.pieces else unit.read(pieces.all_codes)
        looked_at = list(unit.read(lambda connection: pieces.pieces(connection, named)).values())
        fit = [kept for kept in looked_at if _fits(kept, recall)]
        labs = {test.lab for kept in looked_at for test in _tests(kept) if test.lab}
        near_lab = _nearest(recall.lab, labs, is_whole=True)
        if not fit:
            words = {words for kept in looked_at for words in (kept.piece.label, kept.piece.batch) if words}
            raise BadInput("recall.nothing-fits", nearest=_nearest(recall.label, words, is_whole=False) or near_lab)
        for kept in fit:
            enter(unit, kept, on_day(desk, Hold(why="recall")), reason=recall.reason or None)
        codes = [kept.piece.code for kept in fit]
        away = unit.read(lambda connection: out.out_now(connection, codes))
        told = [Note("recall.held", {"count": len(fit), "pieces": tuple(codes)})]
        if recall.lab and not any(_is_there(recall.lab, lab, is_whole=True) for lab in labs):
            # A slip of the pen would otherwise hold only what names no laboratory, and look like a recall done.
            told.append(Note("recall.lab-nowhere", {"lab": recall.lab, "nearest": near_lab}))
        told += [Note("recall.out", {"piece": gone.piece, "person": gone.person}) for gone in away.values()]
        return Saved(tuple(unit.names), tuple(told))


def _days_in_order(recall: Recall, today: date) -> None:
    if recall.since is not None and recall.until is not None and recall.until < recall.since:
        raise BadInput("recall.days-reversed", thing=str(recall.until), since=str(recall.since))
    if recall.since is not None and recall.since > today:
        raise BadInput("entry.ahead", thing=str(recall.since), today=str(today))


def _nearest(written: str, known: set[str], *, is_whole: bool) -> str:
    """The known words most like what was written, "" where that itself is known or nothing is like it."""
    if not written or any(_is_there(written, word, is_whole=is_whole) for word in known):
        return ""
    folded = {word.casefold(): word for word in sorted(known)}
    return folded.get(nearest(written.casefold(), folded), "")


def _is_there(written: str, known: str, *, is_whole: bool) -> bool:
    """A laboratory is named by its whole name, words on a label are part of it."""
    return written.casefold() == known.casefold() if is_whole else written.casefold() in known.casefold()


def _tests(kept: Kept) -> list[ElectricalTest]:
    return [record for record in kept.piece.records if isinstance(record, ElectricalTest)]


def _fits(kept: Kept, recall: Recall) -> bool:
    if any(isinstance(record, Withdrawal) for record in kept.piece.records):
        return False
    words = recall.label.casefold()
    if words and words not in kept.piece.label.casefold() and words not in kept.piece.batch.casefold():
        return False
    return not (recall.lab or recall.since or recall.until) or any(_is_of(test, recall) for test in _tests(kept))


def _is_of(test: ElectricalTest, recall: Recall) -> bool:
    """A test that names no laboratory or no day may be of the one recalled: unknown is held."""
    if recall.lab and test.lab is not None and test.lab.casefold() != recall.lab.casefold():
        return False
    if test.on is None:
        return True
    is_after = recall.since is None or test.on.last >= recall.since
    return is_after and (recall.until is None or test.on.first <= recall.until)
