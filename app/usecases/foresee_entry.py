"""What an entry about a piece would say, and how the piece would then stand: the act itself, and nothing is kept."""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct
from msgspec.structs import replace

from app.decision.domain.electrical_test import Note
from app.decision.domain.facts import Facts
from app.decision.domain.record import ElectricalTest
from app.decision.fields.reading import Table
from app.decision.judging.answers import Saved
from app.decision.judging.catalogues import facts_on, rule_sets_of
from app.decision.judging.status import Status, status_of
from app.register.engine import Connection
from app.register.reads import pieces
from app.register.reads.pieces import Kept
from app.register.reads.site_rules import depot_rules
from app.usecases.desk import NOBODY_YET, Desk
from app.usecases.entering import codes_of
from app.usecases.log_electrical_test import limit_used, log_electrical_test


class Foreseen(Struct, frozen=True):
    """What an entry would do. `result` and `told` as in Saved; `status`: the piece's after it."""

    result: str
    told: tuple[Note, ...]
    status: Status


class _After(Struct, frozen=True):
    """The piece and what it is judged under, once the entry is there."""

    kept: Kept
    facts: Facts


def foresee_entry(desk: Desk, code: str, act: Callable[[Desk], Saved]) -> Foreseen:
    """What this act about this piece would do; BadInput as the act gives it."""
    saved, after = _foreseen(desk, code, act)
    return Foreseen(saved.result, saved.told, status_of(after.facts, after.kept.piece))


def foresee_test(desk: Desk, code: str, table: Table) -> Foreseen:
    """The same of an electrical test, with the least limit it is held against."""
    saved, after = _foreseen(desk, code, lambda trial: log_electrical_test(trial, NOBODY_YET, code, table))
    record = next(entry.record for entry in after.kept.entries if entry.name == saved.entries[0])
    assert isinstance(record, ElectricalTest)
    told = (*saved.told, *limit_used(after.kept, record, after.facts.rule_sets))
    return Foreseen(saved.result, told, status_of(after.facts, after.kept.piece))


def _foreseen(desk: Desk, code: str, act: Callable[[Desk], Saved]) -> tuple[Saved, _After]:
    def after(connection: Connection) -> _After:
        own = codes_of(connection, [code])[0]
        kept = pieces.pieces(connection, [own])[own]
        return _After(kept, replace(_facts(desk, connection), pieces=(kept.piece,)))

    return desk.foresee(act, after)


def _facts(desk: Desk, connection: Connection) -> Facts:
    depot = depot_rules(connection)
    return facts_on(desk.today(), depot.site, rule_sets_of(depot))
