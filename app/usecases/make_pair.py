"""Pair two single gloves anew: alike in everything and both sound; the older test and the earlier issue count."""

from __future__ import annotations

from datetime import date

import msgspec
from msgspec.structs import replace

from app.decision.domain.calendar import Day
from app.decision.domain.electrical_test import tested
from app.decision.domain.errors import BadInput
from app.decision.domain.history import History
from app.decision.domain.piece import FirstIssue, Piece
from app.decision.domain.record import ElectricalTest, Withdrawal
from app.decision.judging.answers import Saved
from app.decision.judging.catalogues import catalogues
from app.register.reads.pieces import Kept
from app.register.unit import Unit
from app.usecases.add_piece import put_piece
from app.usecases.books import of_pieces
from app.usecases.desk import Desk
from app.usecases.entering import enter, in_service, on_day, one_piece
from app.usecases.hand_over import not_out
from app.usecases.release_piece import why_held

_OWN = ("code", "label", "batch", "hand", "first_issue", "records", "custody")


def make_pair(desk: Desk, by: str, left: str, right: str, code: str) -> Saved:
    """Make the pair `code` of two singles, which are withdrawn; BadInput says in what they differ or what is wrong."""
    with desk.write(by, books=of_pieces([left, right])) as unit:
        hands = (one_piece(unit, left), one_piece(unit, right))
        _check(desk, unit, hands)
        first, second = (kept.piece for kept in hands)
        tests = [min(_last_passed(desk, unit, kept), key=_tested_on) for kept in hands]
        pair = replace(
            first, code=code, hand="pair", label=" ".join(filter(None, (first.label, second.label))),
            batch=", ".join(dict.fromkeys(filter(None, (first.batch, second.batch)))), custody="crib",
            first_issue=_earlier(desk, first, second), records=(_of_both(*tests),),
        )  # fmt: skip
        put_piece(desk, unit, pair, hands[0].crib)
        # What withdraws the singles follows from the pair's own line, and cannot be struck while that stands.
        pair_entry = next(name for name in unit.names if name.book == hands[0].crib)
        for kept in hands:
            enter(unit, kept, on_day(desk, Withdrawal()), reason=f"paired anew as {code}", of=pair_entry)
        return Saved(tuple(unit.names))


def _check(desk: Desk, unit: Unit, hands: tuple[Kept, Kept]) -> None:
    left, right = hands
    if (left.piece.hand, right.piece.hand) != ("left", "right"):
        raise BadInput("pair.not-single", thing=f"{left.piece.code}, {right.piece.code}")
    for field in msgspec.structs.fields(Piece):
        if field.name not in _OWN and getattr(left.piece, field.name) != getattr(right.piece, field.name):
            raise BadInput("pair.not-alike", thing=field.name)
    if left.crib != right.crib:
        raise BadInput("pair.not-alike", thing="crib")
    not_out(unit, hands)
    for kept in hands:
        in_service(kept)
        if any(isinstance(record, ElectricalTest) and record.breakdown for record in kept.piece.records):
            raise BadInput("entry.withdrawn", thing=kept.piece.code)
        if why_held(desk, unit, kept) is not None or kept.piece.is_lost:
            raise BadInput("pair.not-sound", thing=kept.piece.code)


def _last_passed(desk: Desk, unit: Unit, kept: Kept) -> list[ElectricalTest]:
    """The last test that counts under each set; none counts where a later one failed."""
    site, rule_sets = desk.rules(unit)
    history, house = History.of(kept.piece, desk.today()), catalogues().house
    tests: list[ElectricalTest] = []
    for rule_set in rule_sets:
        under_set = tested(history, rule_set, house, site)
        if under_set.last is None or under_set.failed is not None:
            raise BadInput("pair.not-tested", thing=kept.piece.code)
        tests.append(under_set.last)
    return tests


def _of_both(left: ElectricalTest, right: ElectricalTest) -> ElectricalTest:
    """The older test as the pair's: with the current of each hand where both were measured alike.

    A current limit hangs on kind of current, frequency, occasion and soak; of two sorts no one test can be made, and
    what was judged for each hand stands as judged.
    """
    older = min(left, right, key=_tested_on)
    if "figures" not in (left.evidence, right.evidence):
        return older
    if left.evidence == right.evidence and _sort(left) == _sort(right):
        return replace(
            older, left_ua=left.left_ua, right_ua=right.right_ua, test_v=_least(left.test_v, right.test_v),
            dwell_s=_least(left.dwell_s, right.dwell_s),
        )  # fmt: skip
    return replace(older, evidence=None, result="passed")


def _sort(test: ElectricalTest) -> tuple[object, ...]:
    return test.kind_of_current, test.frequency_mhz, test.occasion, test.soaked


def _least(first: int | None, other: int | None) -> int | None:
    return min((figure for figure in (first, other) if figure is not None), default=None)


def _tested_on(test: ElectricalTest) -> date:
    return date.min if test.on is None else test.on.first


def _earlier(desk: Desk, piece: Piece, other: Piece) -> FirstIssue:
    """The earlier F; unknown where either is, and *never* only where both are."""
    firsts = [History.of(piece, desk.today()).first_issue() for piece in (piece, other)]
    if "unknown" in firsts:
        return "unknown"
    days = [first for first in firsts if isinstance(first, Day)]
    if not days:
        return "never"
    return days[0] if days[0].first <= days[-1].first else days[-1]
