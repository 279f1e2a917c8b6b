"""How a piece would stand after a check, an event, a repair or a hold. Nothing is written."""

from __future__ import annotations

from app.decision.domain.case.reading import Table
from app.decision.domain.electrical_test import Note
from app.decision.domain.finding import Cause
from app.decision.domain.record import Hold
from app.decision.judging.catalogues import catalogues
from app.decision.rules.not_held import cleared_by
from app.register.reads.pieces import Kept
from app.usecases.desk import Desk
from app.usecases.entering import on_day
from app.usecases.judge_test import Foreseen, Rules, foresee, stands_with
from app.usecases.log_check import read_check, told_of
from app.usecases.repair_piece import read_repair, told_of_repair


def foresee_check(desk: Desk, what: str, code: str, table: Table) -> Foreseen:
    """An air test, look-over, calibration, self-test or event of one piece, in the keys of a worked case."""

    def read(kept: Kept, rules: Rules) -> Foreseen:
        record = read_check(desk, what, kept, table)
        return Foreseen("", told_of(kept, record), stands_with(desk, kept, (record,), rules))  # type: ignore[arg-type]  # a check is a record

    return foresee(desk, code, read)


def foresee_repair(desk: Desk, code: str, table: Table) -> Foreseen:
    """A repair or a replaced part."""

    def read(kept: Kept, rules: Rules) -> Foreseen:
        event = read_repair(desk, kept, table)
        told = told_of_repair(kept, event, desk.today(), *rules)
        return Foreseen("", told, stands_with(desk, kept, (event,), rules))

    return foresee(desk, code, read)


def foresee_hold(desk: Desk, code: str, why: str) -> Foreseen:
    """A hold, and what would clear it."""

    def read(kept: Kept, rules: Rules) -> Foreseen:
        hold = on_day(desk, Hold(why=why))
        clears = cleared_by(why, is_classed=catalogues().kinds[kept.piece.kind].is_classed)
        told = (Note("saved.clears", {"why": clears}, Cause.ON_HOLD),)
        return Foreseen("", told, stands_with(desk, kept, (hold,), rules))  # type: ignore[arg-type]  # a hold is a record

    return foresee(desk, code, read)
