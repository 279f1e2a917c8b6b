"""Plain values as TOML: what a worked case is written in. Tables first by their keys, lists of tables as [[...]]."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from datetime import date, time
from decimal import Decimal

Table = Mapping[str, object]


def render(table: Table, path: str = "") -> str:
    """The text of a table; a value of None is left out, as nothing is known of it."""
    return "".join(f"{line}\n" for line in _lines(table, path))


def _lines(table: Table, path: str) -> Iterator[str]:
    below: list[tuple[str, object]] = []
    for key, value in table.items():
        if value is None:
            continue
        if _is_tables(value) or isinstance(value, Mapping):
            below.append((key, value))
        else:
            yield f"{key} = {_value(value)}"
    for key, value in below:
        here = f"{path}.{key}" if path else key
        if isinstance(value, Mapping):
            yield f"[{here}]"
            yield from _lines(value, here)
        elif isinstance(value, (list, tuple)):
            for part in value:
                yield f"[[{here}]]"
                yield from _lines(part, here)


def _is_tables(value: object) -> bool:
    return isinstance(value, (list, tuple)) and bool(value) and all(isinstance(part, Mapping) for part in value)


def _value(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (int, Decimal)):
        return str(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, time):
        return f'"{value.isoformat()}"'
    if isinstance(value, (list, tuple)):
        return f"[{', '.join(_value(part) for part in value)}]"
    # A JSON string is a TOML string as long as the characters a terminal obeys are escaped, and here they are.
    return json.dumps(str(value), ensure_ascii=False).replace("\x7f", "\\u007f")
