"""Judge an electrical test before it is entered: which of the three results it would be, and how the piece would stand.

Nothing is written, so it may be asked while a form is filled in, and in the demo register too.
"""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct
from msgspec.structs import replace

from app.decision.domain.case.reading import Table
from app.decision.domain.electrical_test import Note
from app.decision.domain.facts import Facts, Job
from app.decision.domain.finding import Cause
from app.decision.domain.limits import RuleSet, SiteRules
from app.decision.domain.record import AnyRecord
from app.decision.judging.catalogues import catalogues, rule_sets_of
from app.decision.judging.status import Status, status_of
from app.register.engine import Connection
from app.register.reads import pieces
from app.register.reads.pieces import Kept
from app.register.reads.site_rules import depot_rules
from app.usecases.desk import Desk
from app.usecases.entering import codes_of, in_service, judged_kind
from app.usecases.log_electrical_test import follows, judged, limit_used, read_test, said_of

Rules = tuple[SiteRules, tuple[RuleSet, ...]]


class Foreseen(Struct, frozen=True):
    """What an entry would do. `result` as in Saved; `told`: why, and what follows; `standing`: the piece's after it."""

    result: str
    told: tuple[Note, ...]
    status: Status


def judge_test(desk: Desk, code: str, table: Table) -> Foreseen:
    """The test of one piece in the keys of a worked case; BadInput as the entry itself would give."""

    def read(kept: Kept, rules: Rules) -> Foreseen:
        test = read_test(desk, kept, table)
        found = judged(kept, test, *rules)
        records, told = follows(desk, kept.piece.code, found)
        unseen = [
            Note("limit-not-seen-in-print", {"subject": code, "limit": one.key}, Cause.NOT_IN_PRINT)
            for one in found.unconfirmed
        ]
        notes = (*said_of(kept.piece.code, found), *unseen, *limit_used(kept, test, rules[1]), *told)
        return Foreseen(found.result, notes, stands_with(desk, kept, (test, *records), rules))

    return foresee(desk, code, read)


def foresee(desk: Desk, code: str, read: Callable[[Kept, Rules], Foreseen]) -> Foreseen:
    """Read one piece and the rules in one transaction; BadInput where nothing can be entered about the piece."""

    def of_one(connection: Connection) -> Foreseen:
        own = codes_of(connection, [code])[0]
        kept = pieces.pieces(connection, [own])[own]
        judged_kind(kept)
        in_service(kept)
        depot = depot_rules(connection)
        return read(kept, (depot.site, rule_sets_of(depot)))

    return desk.ask(of_one)


def stands_with(desk: Desk, kept: Kept, more: tuple[AnyRecord, ...], rules: Rules) -> Status:
    """How the piece would stand today with these records as well."""
    piece = replace(kept.piece, records=(*kept.piece.records, *more))
    known, today, (site, rule_sets) = catalogues(), desk.today(), rules
    facts = Facts(
        on=today, until=today, job=Job(), pieces=(piece,), kinds=known.kinds, house=known.house,
        rule_sets=rule_sets, site=site,
    )  # fmt: skip
    return status_of(facts, piece)
