"""Questions in the drivers' own words, for what is asked before the database library is loaded.

The first list of a window needs no more than these, and to load the library would take it longer than all else
it does (tests/bench, "first rows on the shelf"). The words are those both databases understand; `?` stands where a
value goes, in whatever way the driver writes that. `tests/register/test_texts.py` holds each against the same question
put by the library, and `test_two_databases.py` there puts them to both.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.register.driver import Row, fetched

if TYPE_CHECKING:
    from sqlalchemy.engine import Connection

RULES_DIGEST = "SELECT value FROM derived WHERE key = 'rules-digest'"
CRIBS = "SELECT code FROM crib ORDER BY entry"
PIECES_COUNTED = "SELECT count(*) FROM status"
_NEWEST = "s.revision = (SELECT max(t.revision) FROM site_rule AS t WHERE t.key = s.key)"
SITE_RULES = (
    f"SELECT s.key, s.value, s.approved_by, s.reason, s.entry FROM site_rule AS s WHERE {_NEWEST} ORDER BY s.key"
)
CONFIRMED_FIGURES = (
    "SELECT s.key, s.value, s.approved_by, s.reason, s.entry, j.actor, j.at FROM site_rule AS s "
    "JOIN journal AS j ON j.book = s.book AND j.number = s.entry "
    f"WHERE s.key LIKE ? ESCAPE '~' AND {_NEWEST} ORDER BY s.key"
)
SHELF = (
    "SELECT s.piece, s.kind, s.crib, s.state, s.due_on, s.decides, s.counted_from, s.checked_on, s.unchecked, s.why, "
    "s.holder, s.place, p.label, p.insulation_class, p.size_c, o.person, o.until_day FROM status AS s "
    "JOIN piece AS p ON p.code = s.piece AND p.revision = s.revision "
    "LEFT JOIN out_now AS o ON o.piece = s.piece ORDER BY s.piece"
)
FIRST_OF_SHELF = f"{SHELF} LIMIT ?"


def asked(connection: Connection, text: str, *values: object) -> list[Row]:
    """Every row of one of these questions."""
    return fetched(connection, text if connection.dialect.name == "sqlite" else text.replace("?", "%s"), values)
