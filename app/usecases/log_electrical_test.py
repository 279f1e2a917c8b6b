"""Log an electrical test: always recorded, judged at once; a failed one holds the piece, a breakdown retires it."""

from __future__ import annotations

from app.decision.case.pieces import read_record
from app.decision.domain.calendar import Day
from app.decision.domain.electrical_test import Judgement, Note, current_limit_ua, judge
from app.decision.domain.entries import Name
from app.decision.domain.finding import Cause
from app.decision.domain.limits import RuleSet, SiteRules
from app.decision.domain.record import ElectricalTest, Hold, Withdrawal
from app.decision.fields.reading import Table
from app.decision.judging.answers import Saved
from app.decision.judging.catalogues import catalogues
from app.decision.judging.offered import suits
from app.register.reads.pieces import Kept
from app.register.unit import Unit
from app.usecases.books import of_pieces
from app.usecases.desk import Desk
from app.usecases.entering import enter, judged_kind, on_day, one_piece

_WORST_FIRST = ("failed", "does-not-count", "passed")


def log_electrical_test(desk: Desk, by: str, piece: str, table: Table) -> Saved:
    """One test of one piece in the keys of a worked case; answers which of the three results it has, and why."""
    with desk.write(by, books=of_pieces([piece])) as unit:
        kept = one_piece(unit, piece)
        return enter_test(desk, unit, kept, table)


def enter_test(desk: Desk, unit: Unit, kept: Kept, table: Table) -> Saved:
    """The same inside a unit. Without evidence named it is figures where figures are given, else a stated pass."""
    test = read_test(desk, kept, table)
    site, rule_sets = desk.rules(unit)
    judgement = judged(kept, test, site, rule_sets)
    name = enter(unit, kept, test)
    unseen = [
        Note("saved.test-waits", {"piece": kept.piece.code, "limit": limit.key}, Cause.NOT_IN_PRINT)
        for limit in judgement.unconfirmed
    ]
    told = [*said_of(kept.piece.code, judgement), *unseen, *follow_from(desk, unit, kept, judgement, name)]
    return Saved(tuple(unit.names), tuple(told), judgement.result)


def read_test(desk: Desk, kept: Kept, table: Table) -> ElectricalTest:
    """The test as it would be entered; BadInput for kit without a class, an unknown key, a day ahead."""
    judged_kind(kept)
    code, known = kept.piece.code, catalogues()
    record = read_record({"what": "electrical-test", **_with_evidence(table)}, code)
    assert isinstance(record, ElectricalTest)
    suits(record, code, known.kinds[kept.piece.kind], known.house)
    test = on_day(desk, record)
    assert isinstance(test, ElectricalTest)
    return test


def limit_used(kept: Kept, test: ElectricalTest, rule_sets: tuple[RuleSet, ...]) -> list[Note]:
    """The least current limit the test is held against, at its own frequency; [] where none is printed for it."""
    limits = [limit for rule_set in rule_sets if (limit := current_limit_ua(test, kept.piece, rule_set)) is not None]
    if not limits or test.frequency_mhz is None:
        return []
    return [Note("test.limit-used", {"limit_ua": min(limits), "frequency_hz": test.frequency_mhz / 1000})]


def said_of(code: str, judgement: Judgement) -> list[Note]:
    """Why the test has the result it has, and its cautions."""
    day = str(judgement.test.on or "")
    notes = (*judgement.reasons, *judgement.cautions)
    return [Note(note.key, {"subject": code, "day": day, **note.values}) for note in notes]


def follow_from(desk: Desk, unit: Unit, kept: Kept, judgement: Judgement, name: Name) -> list[Note]:
    """Enter what follows from the test of that name: a failed one holds, a breakdown withdraws for good."""
    records, told = follows(desk, kept.piece.code, judgement)
    for record in records:
        enter(unit, kept, record, of=name)
    return told


def follows(desk: Desk, code: str, judgement: Judgement) -> tuple[list[Hold | Withdrawal], list[Note]]:
    """What would be entered beside the test, and what is said of it."""
    if judgement.result != "failed":
        return [], []
    test = judgement.test
    # A failure with no day is taken to be of today: it speaks against the piece.
    today = Day.of(desk.today())
    on = test.on or today
    # Held from now on where the paper says no hour of today: a certificate of today that names it may still clear it.
    at = desk.now() if test.at is None and on == today else test.at
    records: list[Hold | Withdrawal] = [Hold(on=on, at=at, why="failed")]
    told = [Note("saved.held", {"piece": code}, Cause.ON_HOLD)]
    if test.breakdown:
        records.append(Withdrawal(on=on, at=at))
        told.append(Note("saved.retired", {"piece": code}, Cause.WITHDRAWN))
    return records, told


def _with_evidence(table: Table) -> dict[str, object]:
    """What the test rests on: figures where figures are given; a stated pass only with laboratory and method.

    A bare "passed" is worth what a bare date on a sheet is: nothing until somebody has seen the certificate.
    """
    if any(key in table for key in ("test_v", "dwell_s", "left_ma", "right_ma")):
        return {"evidence": "figures", **table}
    is_stated = any(key in table for key in ("laboratory", "lab")) and ("method" in table or "certificate" in table)
    if table.get("result") == "passed" and not is_stated:
        return {**table, "evidence": "sheet-only"}
    return {"evidence": "stated-pass", **table}


def judged(kept: Kept, test: ElectricalTest, site: SiteRules, rule_sets: tuple[RuleSet, ...]) -> Judgement:
    """The test judged under every set; the worst result stands."""
    house = catalogues().house
    judgements = [judge(test, kept.piece, rule_set, house, site) for rule_set in rule_sets]
    return min(judgements, key=lambda judgement: _WORST_FIRST.index(judgement.result))
