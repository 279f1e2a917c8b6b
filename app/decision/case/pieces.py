"""Reading pieces and their records."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from app.decision.domain import former
from app.decision.domain.errors import BadInput
from app.decision.domain.piece import Piece
from app.decision.domain.record import AnyRecord
from app.decision.fields.field import Field
from app.decision.fields.pieces import FIELDS
from app.decision.fields.reading import Reader, Table, as_tables, nearest, one_of, read_table, require
from app.decision.fields.records import OF_ALL, SORTS
from app.decision.kinds import kinds


def read_fields(table: Table, fields: Mapping[str, Field], place: str, **more: Reader) -> dict[str, Any]:
    """Read a table of these fields, and of `more` keys by readers of their own, under our names; raises BadInput."""
    readers = {key: field.sort.read for key, field in fields.items()} | more
    return read_table(table, readers, {key: field.name for key, field in fields.items()}, place)


def read_piece(table: Table, place: str) -> Piece:
    """One piece with its records; BadInput names key and place."""
    require(table, ("code", "kind"), place)
    here = f"{place} {table['code']}".strip()
    read = read_fields(table, FIELDS, here, kind=one_of(*kinds()), records=lambda value: value)
    records = as_tables(read.pop("records", []), here, "records")
    read["records"] = tuple(read_record(record, here) for record in records)
    return Piece(**read)


def read_record(table: Table, place: str) -> AnyRecord:
    """One record; only an electrical test may be without a day (then it does not count)."""
    require(table, ("what",), place)
    what = former.RECORDS.get(str(table["what"]), str(table["what"]))
    if what not in SORTS:
        raise BadInput("case.unknown-word", place=place, thing=f"what = {what}", nearest=nearest(what, SORTS))
    sort = SORTS[what]
    require(table, sort.needed, f"{place} {what}")
    table = {former.FIELDS.get(key, key): value for key, value in table.items()}
    read = read_fields(table, {**OF_ALL, **sort.fields}, f"{place} {what}")
    read.pop("what")
    record: AnyRecord = sort.make(**read)
    return record
