"""A piece's records as they stand on one day: later ones absent, vague days read against the piece.

Same-day order is by instant; where a time is missing, the unfavourable record is taken as the last.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import TypeVar

from msgspec import Struct, field

from app.decision.domain.calendar import Day
from app.decision.domain.piece import FirstIssue, Piece
from app.decision.domain.record import (
    AirTest,
    AnyRecord,
    ElectricalTest,
    Event,
    HandOver,
    Inspection,
    Issue,
    Record,
    Return,
)

R = TypeVar("R", bound=Record)
_VOIDING = (Return, HandOver, Event)


class History(Struct, frozen=True):
    """One piece on one day. `records` are those that begin on or before `today`; undated ones are kept."""

    piece: Piece
    today: date
    records: tuple[AnyRecord, ...]
    _of_type: dict[type, list[AnyRecord]] = field(default_factory=dict)
    _memo: dict[str, object] = field(default_factory=dict)

    @classmethod
    def of(cls, piece: Piece, today: date) -> History:
        """Leave out what happened later than `today`."""
        seen = tuple(record for record in piece.records if record.on is None or record.on.first <= today)
        # Sorted once: a dozen rules ask for one sort each, over and over.
        sorts: dict[type, list[AnyRecord]] = {}
        for record in seen:
            sorts.setdefault(type(record), []).append(record)
        return cls(piece, today, seen, sorts)

    def all(self, kind: type[R]) -> list[R]:
        """Records of one type, in the order they were written down."""
        return list(self._of_type.get(kind, ()))  # type: ignore[arg-type]  # sorted by this very type

    def of_today(self, kind: type[R]) -> list[R]:
        """Checks of this very day (exact day) that nothing since has made void, in order of time."""
        today = Day.of(self.today)
        checks = [record for record in self.all(kind) if record.on == today]
        return [check for check in checks if not self._is_void(check)]

    def deciding(self, kind: type[R], is_bad: Callable[[R], bool]) -> R | None:
        """Today's check that counts: a bad one, unless a good one certainly came after it; else a good one."""
        judged = [(check, is_bad(check)) for check in self.of_today(kind)]
        good = [check for check, bad in judged if not bad]
        standing = [check for check, bad in judged if bad and not any(self.is_after(other, check) for other in good)]
        return next(reversed(standing or good), None)

    def _is_void(self, check: Record) -> bool:
        """Void on return, on change of custody and on an incident after it on the same day."""
        for record in (record for kind in _VOIDING for record in self._of_type.get(kind, ())):
            if record.latest(self.today) == self.today:
                is_earlier = record.at is not None and check.at is not None and record.at < check.at
                if not is_earlier or (record.on is not None and not record.on.is_exact):
                    return True
        return False

    def is_after(self, later: Record, earlier: Record) -> bool:
        """Whether `later`, which speaks for the piece, certainly came after `earlier`, which speaks against it."""
        if later.on is None:
            return False
        against = earlier.latest(self.today)
        if later.on.first != against:
            return later.on.first > against
        return later.at is not None and earlier.at is not None and later.at > earlier.at

    def first_issue(self) -> FirstIssue:
        """The first hand-over ever to a person, vehicle or pool: the earliest of what is stated and what is recorded.

        "never" is contradicted by any issue or hand-over in the records, and then the recorded day stands.
        """
        if "first-issue" not in self._memo:
            self._memo["first-issue"] = self._first_issue()
        return self._memo["first-issue"]  # type: ignore[return-value]  # what stands under this word

    def _first_issue(self) -> FirstIssue:
        stated = self.piece.first_issue
        if isinstance(stated, Day) and stated.first > self.today:
            # A day to come is not known on this one, and unknown is the least over every day it may turn out to be.
            return "unknown"
        if stated == "unknown":
            return "unknown"
        given: list[Issue | HandOver] = [*self.all(Issue), *(move for move in self.all(HandOver) if move.to != "crib")]
        days = [record.on for record in given if record.on is not None]
        if isinstance(stated, Day):
            days.append(stated)
        earliest = min((day.first for day in days), default=None)
        return "never" if earliest is None else Day.of(earliest)

    def places(self) -> frozenset[str]:
        """Where the piece may be: the custody stated, and where any move leaves it that none certainly came after."""
        moves: list[HandOver | Return] = [*self.all(HandOver), *self.all(Return)]
        # A move that was over before another began has been followed; only the others need to be held together.
        began = max((move.on.first for move in moves if move.on is not None), default=date.min)
        near = [move for move in moves if move.latest(self.today) >= began]
        last = [move for move in near if not any(self.is_after(other, move) for other in near)]
        return frozenset({self.piece.custody, *(move.to if isinstance(move, HandOver) else "crib" for move in last)})

    def open_issue(self) -> Issue | None:
        """An issue with no return certainly after it."""
        returns = self.all(Return)
        began = max((back.on.first for back in returns if back.on is not None), default=date.min)
        for issue in self.all(Issue):
            # A return of a later day came after it; only on one day has each to be asked for its time.
            if issue.latest(self.today) >= began and not any(self.is_after(back, issue) for back in returns):
                return issue
        return None

    def open_events(self, passing: list[ElectricalTest]) -> list[Event]:
        """Events on or after the last passing test that no passing test on or after them names."""
        last = max((test.on.first for test in passing if test.on is not None), default=None)
        return [event for event in self.all(Event) if not self._is_answered(event, passing, last)]

    def _is_answered(self, event: Event, passing: list[ElectricalTest], last: date | None) -> bool:
        happened = event.latest(self.today)
        if last is not None and last > happened:
            return True
        named = (test for test in passing if test.after == event.kind and test.on is not None)
        return any(test.on is not None and test.on.first >= happened for test in named)

    def is_mended(self, check: Record, passing: list[ElectricalTest]) -> bool:
        """Whether the piece was repaired since this check, and a test that names the repair passed after that."""
        repairs = [event for event in self.all(Event) if event.kind in ("repaired", "patched")]
        answered = [event for event in repairs if self._is_answered(event, passing, None)]
        return any(event.on is not None and event.on.first >= check.latest(self.today) for event in answered)


def last_sound_air_test(history: History) -> date | None:
    """The last day on which both hands passed the air test and no defect was named; None where there is none."""
    days = [
        air_test.on.first for air_test in history.all(AirTest)
        if air_test.on and not has_defect(air_test) and (air_test.left, air_test.right) == ("passed", "passed")
    ]  # fmt: skip
    return max(days, default=None)


def has_defect(check: AirTest | Inspection) -> bool:
    """Whether the check named a defect or failed a hand."""
    if isinstance(check, AirTest) and "failed" in (check.left, check.right):
        return True
    return bool(check.defects)
