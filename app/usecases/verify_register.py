"""Verify the register: every line, row, derived standing and guard is what it must be, or is named."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from app.decision.judging.catalogues import rule_sets_of
from app.register.derived import digest_kept, rules_digest
from app.register.engine import Connection
from app.register.migrate import expected_fingerprint, fingerprint
from app.register.reads import pieces, register
from app.register.reads.lines import heads
from app.register.reads.out import out_kept, out_worked_out
from app.register.reads.statuses import statuses_kept
from app.register.verify import Damage, Verified, verify
from app.register.writes.statuses import status_row
from app.usecases.desk import Desk


def verify_register(desk: Desk) -> Verified:
    """Look at everything and write nothing."""
    damage = tuple(_damage(desk))
    heads_kept = desk.ask(heads)
    return Verified(
        sum(head.number for head in heads_kept.values()), {b: h.anchor for b, h in heads_kept.items()}, damage
    )


def _damage(desk: Desk) -> Iterator[Damage]:
    written = list(verify(desk.store.ask))
    yield from written
    if desk.ask(fingerprint) != expected_fingerprint():
        yield Damage("schema", "", "verify.schema")
    # What is derived is worth holding against rows only that are themselves whole.
    if not written:
        yield from _derived(desk)


def _derived(desk: Desk) -> Iterator[Damage]:
    depot = desk.ask(lambda connection: register.depot_without_kit(connection, (), ()))
    rule_sets = rule_sets_of(depot)
    if desk.ask(digest_kept) != rules_digest(depot.site, rule_sets):
        yield Damage("derived", "rules-digest", "verify.derived")
    newest, statuses = desk.ask(pieces.newest_pieces), desk.ask(statuses_kept)
    codes = [code for code, _, _ in newest]
    for code in sorted(set(codes) ^ set(statuses)):
        yield Damage("status", code, "verify.derived")
    named = {code: (revision, crib) for code, revision, crib in newest}
    there = [code for code in codes if code in statuses]
    for first in range(0, len(there), pieces.MOST_AT_ONCE):
        some = there[first : first + pieces.MOST_AT_ONCE]
        shelved = desk.ask(_some(some))
        for code in some:
            kept = shelved.get(code)
            if (
                kept is None
                or (kept.revision, kept.crib) != named[code]
                or (status_row(kept, depot.site, rule_sets) != statuses[code])
            ):
                yield Damage("status", code, "verify.derived")
    are, must = desk.ask(out_kept), desk.ask(out_worked_out)
    for code in sorted(set(are) | set(must)):
        if are.get(code) != must.get(code):
            yield Damage("out_now", code, "verify.derived")


def _some(codes: list[str]) -> Callable[[Connection], dict[str, pieces.Kept]]:
    return lambda connection: pieces.pieces(connection, codes)
