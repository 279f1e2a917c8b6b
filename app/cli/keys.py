"""KEY=VALUE pairs of a command line, read as a worked case writes them."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable

from app.decision.domain import former
from app.decision.domain.errors import BadInput
from app.decision.fields.every import DECLARED
from app.intake.mark_cells import marks_of

_SORTS = {field.key: field.sort.name for field in DECLARED}
_LISTS = {key for key, sort in _SORTS.items() if sort in ("list", "numbers", "sizes", "figures")} | {"rule_sets"}
# Words even where they look like numbers or days: a certificate 0815 keeps its nought.
_WORDS = {key for key, sort in _SORTS.items() if sort in ("text", "choice")} | {
    *former.FIELDS, "name", "role_words", "timezone",
}  # fmt: skip


def table_of(pairs: Iterable[str]) -> dict[str, object]:
    """KEY=VALUE pairs as a table; cells.series=198 goes into a table of its own."""
    table: dict[str, object] = {}
    for pair in pairs:
        key, mark, written = pair.partition("=")
        if not mark or not key:
            raise BadInput("key.no-value", thing=pair)
        *outer, last = key.split(".")
        inner = table
        for name in outer:
            below = inner.setdefault(name, {})
            if not isinstance(below, dict):
                raise BadInput("piece.key-twice", thing=name)
            inner = below
        if last in inner:
            raise BadInput("piece.key-twice", thing=key)
        inner[last] = value_of(last, written)
    return table


def value_of(key: str, written: str) -> object:
    """A value as TOML would read it, or the words themselves; "none" takes a value out.

    >>> value_of("size", "9.5"), value_of("certificate", "0815"), value_of("defects", "hole, tear")
    (9.5, '0815', ['hole', 'tear'])
    >>> value_of("marks", "CAT III 1000 V, IV:600") == value_of("marks", "CAT III 1000V/CAT IV 600V")
    True
    >>> value_of("marks", "CAT III 1000 V, IV:600")
    [['III', 1000], ['IV', 600]]
    """
    if _SORTS.get(key) == "marks" and not written.startswith("["):
        return marks_of(written)
    if key == "glove_sizes" and re.fullmatch(r"\d{1,2},5", written):
        raise BadInput("key.decimal-comma", thing=written)
    if key in _LISTS and not written.startswith("[") and written != "all":
        return [_plain(part.strip()) for part in written.split(",") if part.strip()]
    return written if key in _WORDS else _plain(written)


def _plain(written: str) -> object:
    try:
        return tomllib.loads(f"value = {written}")["value"]
    except tomllib.TOMLDecodeError:
        return written
