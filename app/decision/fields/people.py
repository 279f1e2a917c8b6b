"""The fields of a person, each declared once."""

from __future__ import annotations

from app.decision.fields import words
from app.decision.fields.field import Field, Sort, named
from app.decision.fields.reading import Unreadable, scaled
from app.decision.fields.sorts import DAY, TEXT, some


def _sizes(value: object) -> tuple[int, ...]:
    if not isinstance(value, list):
        raise Unreadable("not-a-list")
    return tuple(scaled(2, most=20)(size) for size in value)


FIELDS = named(
    (
        Field(key="code", sort=TEXT),
        Field(key="roles", sort=some(*words.ROLES)),
        Field(key="scopes", table="scope", sort=some(*words.SCOPES)),
        Field(key="valid_until", sort=DAY),
        Field(key="glove_sizes", sort=Sort("sizes", _sizes, 2), attribute="glove_sizes_c"),
    )
)
