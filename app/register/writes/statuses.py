"""What is derived: the standing of every piece, and what is out now. Never journaled; verify works it out again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from msgspec.structs import replace
from sqlalchemy import bindparam, delete, insert, update
from sqlalchemy.engine import Connection

from app.decision.domain.electrical_test import Note
from app.decision.domain.entries import AnyEntry
from app.decision.domain.facts import Facts
from app.decision.domain.limits import RuleSet, SiteRules
from app.decision.domain.piece import Piece
from app.decision.judging.catalogues import catalogues, facts_on
from app.decision.judging.status import checked, lasting, moves_the_day_alone
from app.decision.kinds import kinds
from app.register.canonical import canonical
from app.register.columns import Stored
from app.register.derived import rules_digest
from app.register.reads.pieces import MOST_AT_ONCE, Kept, all_codes, pieces
from app.register.statements import Change, upsert
from app.register.tables import DERIVED, OUT_NOW, STATUS

_PUT = upsert(STATUS, "piece", tuple(STATUS.columns.keys()))
_PUT_CHECKED = Change(
    update(STATUS)
    .where(STATUS.c.piece == bindparam("code"))
    .values(checked_on=bindparam("checked"), unchecked=bindparam("why_unchecked"))
)
_PUT_DIGEST = upsert(DERIVED, "key", ("key", "value"))
_PUT_OUT = Change(insert(OUT_NOW).inline())
_TAKE_BACK = Change(delete(OUT_NOW).where(OUT_NOW.c.piece == bindparam("code")))
StatusRow = tuple[Stored, ...]


def status_row(kept: Kept, site: SiteRules, rule_sets: Sequence[RuleSet]) -> StatusRow:
    """What lasts of one piece's standing.

    Judged on the last day any entry may speak of, so that no later day makes another of it: a day known only as a
    month then counts against the piece from the month's end.
    """
    piece = kept.piece
    head = (piece.code, piece.code.casefold(), kept.revision, kept.crib, piece.kind)
    if piece.kind not in catalogues().kinds:
        note = _noted(Note("kind.not-yet", {"thing": piece.code, "kind": piece.kind}))
        return (*head, "cannot-tell", note, None, "", None, None, None, "", "crib")
    lasts = lasting(_facts(piece, site, rule_sets), piece)
    return (
        *head, lasts.state, _noted(lasts.why), _iso(lasts.due_on), lasts.decides, _iso(lasts.counted_from),
        *_checks(lasts.checked_on, lasts.unchecked), lasts.holder, lasts.place,
    )  # fmt: skip


def put_checked(
    connection: Connection, kept: Kept, record: AnyEntry, site: SiteRules, rule_sets: Sequence[RuleSet]
) -> bool:
    """Put what a check just entered changes of its piece's standing, where that is the day's part alone.

    `kept`: the piece as it was read before the check. False, and nothing is put, where more may have changed and the
    standing has to be worked out again.
    """
    piece = replace(kept.piece, records=(*kept.piece.records, record))
    facts = _facts(piece, site, rule_sets)
    if not moves_the_day_alone(record, facts, kept.piece, kept.state):
        return False
    _PUT_CHECKED.each(connection, [(*_checks(*checked(facts, piece)), piece.code)])
    return True


def _facts(piece: Piece, site: SiteRules, rule_sets: Sequence[RuleSet]) -> Facts:
    return facts_on(last_day(piece), site, rule_sets, piece)


def _checks(checked_on: date | None, unchecked: Note | None) -> tuple[Stored, Stored]:
    return _iso(checked_on), None if unchecked is None else _noted(unchecked)


def last_day(piece: Piece) -> date:
    """The last day any record or the first issue may be of."""
    days = [record.on.last for record in piece.records if record.on is not None]
    if not isinstance(piece.first_issue, str):
        days.append(piece.first_issue.last)
    return max(days, default=date(1970, 1, 1))


def _noted(note: Note) -> str:
    return canonical([note.key, {key: _plain(value) for key, value in note.values.items()}])


def _plain(value: object) -> object:
    return value.isoformat() if isinstance(value, date) else value


def _iso(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def put_statuses(connection: Connection, rows: Iterable[StatusRow]) -> None:
    """Put these standings in the place of what stood there."""
    _PUT.each(connection, list(rows))


def stand_anew(connection: Connection, codes: Iterable[str], site: SiteRules, rule_sets: Sequence[RuleSet]) -> None:
    """Work these pieces' standings out again from their entries."""
    wanted = list(dict.fromkeys(codes))
    for start in range(0, len(wanted), MOST_AT_ONCE):
        kept = pieces(connection, wanted[start : start + MOST_AT_ONCE])
        put_statuses(connection, [status_row(piece_kept, site, rule_sets) for piece_kept in kept.values()])


def stand_all(connection: Connection, site: SiteRules, rule_sets: Sequence[RuleSet]) -> None:
    """Every piece's standing, and the digest they then hold for."""
    stand_anew(connection, all_codes(connection), site, rule_sets)
    keep_digest(connection, rules_digest(site, rule_sets))


def new_piece(piece: Piece, crib: str, revision: int) -> StatusRow:
    """A stand-in until the standing is worked out, so that the piece can be read at all."""
    assert piece.kind in kinds()
    note = _noted(Note("status.undated", {}))
    return (
        piece.code, piece.code.casefold(), revision, crib, piece.kind, "cannot-tell", note, None, "", None, None, None,
        "", "crib",
    )  # fmt: skip


def keep_digest(connection: Connection, digest: str) -> None:
    """Keep what the standings were worked out under."""
    _PUT_DIGEST.each(connection, [("rules-digest", digest)])


def put_out(connection: Connection, rows: Sequence[Mapping[str, Stored]]) -> None:
    """These pieces are out now; one that is out already is refused by its key."""
    _PUT_OUT.each(connection, [tuple(row[column.name] for column in OUT_NOW.columns) for row in rows])


def take_back(connection: Connection, codes: Iterable[str]) -> None:
    """These pieces are no longer out."""
    _TAKE_BACK.each(connection, [(code,) for code in codes])
