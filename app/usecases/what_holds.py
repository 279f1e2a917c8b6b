"""What holds a piece, what would clear it, and whether that has been entered by now."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from app.domain.calendar import Day
from app.domain.finding import Finding
from app.domain.record import Release
from app.judging.catalogues import rule_sets_of
from app.store.engine import Connection
from app.store.reads import pieces
from app.store.reads.site_rules import depot_rules
from app.usecases.desk import Desk
from app.usecases.entering import codes_of, judged_kind
from app.usecases.release_piece import open_on, why_of


class Holding(Struct, frozen=True):
    """One thing that is open on the piece; `clears`: the word under which stands what clears it."""

    finding: Finding
    clears: str


class Held(Struct, frozen=True):
    """`open_now`: what holds the piece, () for nothing; `missing`: what would still hold it after a release now.

    Whose look-over or correction it was is asked only by the release itself, which knows who releases.
    """

    code: str
    open_now: tuple[Holding, ...]
    missing: tuple[Holding, ...]


def what_holds(desk: Desk, code: str) -> Held:
    """BadInput for a code nobody knows and for a kind this version does not judge."""
    today, now = desk.today(), desk.now()

    def read(connection: Connection) -> Held:
        own = codes_of(connection, [code])[0]
        kept = pieces.pieces(connection, [own])[own]
        judged_kind(kept)
        depot = depot_rules(connection)
        rules = (depot.site, rule_sets_of(depot))
        released = replace(kept.piece, records=(*kept.piece.records, Release(on=Day.of(today), at=now, by=own)))

        def named(found: list[Finding]) -> tuple[Holding, ...]:
            return tuple(Holding(one, why_of(one, kept)) for one in found)

        return Held(
            own, named(open_on(kept.piece, today, *rules)), named(open_on(released, today, *rules))
        )  # fmt: skip

    return desk.ask(read)
