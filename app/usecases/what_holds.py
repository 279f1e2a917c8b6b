"""What holds a piece, what would clear it, and whether that has been entered by now."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from app.decision.domain.calendar import Day
from app.decision.domain.errors import BadInput
from app.decision.domain.finding import Finding
from app.decision.domain.history import History
from app.decision.domain.record import Release
from app.decision.judging.catalogues import rule_sets_of
from app.register.engine import Connection
from app.register.reads import pieces
from app.register.reads.site_rules import depot_rules
from app.usecases.desk import Desk
from app.usecases.entering import codes_of, judged_kind
from app.usecases.release_piece import open_on, why_of
from app.usecases.second_look import Asking, corrections_seen, parts_seen


class Holding(Struct, frozen=True):
    """One thing that is open on the piece; `clears`: the word under which stands what clears it."""

    finding: Finding
    clears: str


class Held(Struct, frozen=True):
    """`open_now`: what holds the piece, () for nothing; `missing`: what would still hold it after a release now.

    `refused`: why this person cannot release it, where somebody else has to have looked.
    """

    code: str
    open_now: tuple[Holding, ...]
    missing: tuple[Holding, ...]
    refused: BadInput | None = None


def what_holds(desk: Desk, code: str, by: str = "") -> Held:
    """`by`: who would release it. BadInput for a code nobody knows and for a kind this version does not judge."""
    today, now = desk.today(), desk.now()

    def read(connection: Connection) -> Held:
        own = codes_of(connection, [code])[0]
        kept = pieces.pieces(connection, [own])[own]
        judged_kind(kept)
        depot = depot_rules(connection)
        rules = (depot.site, rule_sets_of(depot))
        release = Release(on=Day.of(today), at=now, by=by)
        released = replace(kept.piece, records=(*kept.piece.records, release))

        def named(findings: list[Finding]) -> tuple[Holding, ...]:
            return tuple(Holding(finding, why_of(finding, kept)) for finding in findings)

        refused = None
        try:
            if by:
                asking, history = Asking(connection, by), History.of(released, today)
                corrections_seen(asking, kept, history)
                parts_seen(asking, kept, history, release)
        except BadInput as fault:
            refused = fault
        return Held(
            own, named(open_on(kept.piece, today, *rules)), named(open_on(released, today, *rules)), refused
        )  # fmt: skip

    return desk.ask(read)
