"""Reading pieces and their records."""

from __future__ import annotations

from app.decision.domain import former
from app.decision.domain.errors import BadInput
from app.decision.domain.piece import Piece
from app.decision.domain.record import AnyRecord
from app.decision.fields.field import reader_of
from app.decision.fields.pieces import FIELDS
from app.decision.fields.reading import Table, as_tables, nearest, one_of, require
from app.decision.fields.records import OF_ALL, SORTS
from app.decision.kinds import kinds


def _kind(value: object) -> str:
    # Which kinds there are is asked with the first piece: a start that reads none has no use for them.
    return one_of(*kinds())(value)


# Built once: a sheet has many pieces.
_PIECE = reader_of(FIELDS, kind=_kind, records=lambda value: value)
_RECORDS = {what: reader_of({**OF_ALL, **sort.fields}) for what, sort in SORTS.items()}


def read_piece(table: Table, place: str) -> Piece:
    """One piece with its records; BadInput names key and place."""
    require(table, ("code", "kind"), place)
    here = f"{place} {table['code']}".strip()
    read = _PIECE(table, here)
    records = as_tables(read.pop("records", []), here, "records")
    read["records"] = tuple(read_record(record, here) for record in records)
    return Piece(**read)


def _named_today(table: Table, place: str) -> Table:
    """The keys of today; BadInput where a key stands beside its former name, because one of the two would be lost."""
    named: dict[str, object] = {}
    for key, value in table.items():
        today = former.FIELDS.get(key, key)
        if today in named:
            raise BadInput("piece.key-twice", place=place, thing=today)
        named[today] = value
    return named


def read_record(table: Table, place: str) -> AnyRecord:
    """One record; only an electrical test may be without a day (then it does not count)."""
    require(table, ("what",), place)
    what = former.RECORDS.get(str(table["what"]), str(table["what"]))
    if what not in SORTS:
        raise BadInput(
            "case.unknown-word", place=place, thing=f"what = {what}", nearest=nearest(what, SORTS), known=tuple(SORTS)
        )
    sort = SORTS[what]
    require(table, sort.needed, f"{place} {what}")
    read = _RECORDS[what](_named_today(table, f"{place} {what}"), f"{place} {what}")
    read.pop("what")
    record: AnyRecord = sort.make(**read)
    return record
