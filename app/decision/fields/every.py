"""Every declared field, for whoever asks by key alone."""

from __future__ import annotations

from app.decision.fields import circuits, people, pieces, site
from app.decision.fields.field import Field
from app.decision.fields.records import OF_ALL, SORTS

DECLARED: tuple[Field, ...] = tuple(
    field
    for fields in (
        pieces.FIELDS, circuits.FIELDS, people.FIELDS, site.FIELDS, OF_ALL, *(sort.fields for sort in SORTS.values()),
    )
    for field in fields.values()
)  # fmt: skip
