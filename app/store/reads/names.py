"""What a code means that somebody typed or scanned: a piece, a label already on a piece, or a bag of pieces."""

from __future__ import annotations

import json
from collections.abc import Iterable
from difflib import get_close_matches

from sqlalchemy.engine import Connection

from app.store.driver import first

_AT_ONCE = 400
_NEWEST_LABEL = (
    "SELECT a.piece FROM alias AS a WHERE a.label = ? AND a.revision = "
    "(SELECT max(b.revision) FROM alias AS b WHERE b.label = a.label)"
)
_NEWEST_BAG = "SELECT pieces FROM bag WHERE code = ? ORDER BY revision DESC LIMIT 1"


def pieces_meant(connection: Connection, written: str) -> tuple[str, ...]:
    """The codes of the pieces meant, () where nothing of that name is known. A piece's own code comes first.

    Capitals do not matter for a piece: scanners and eyes take G1 and g1 for one label.
    """
    code = piece_meant(connection, written)
    if code is not None:
        return (code,)
    row = first(connection, _NEWEST_BAG, (written,))
    return () if row is None else tuple(json.loads(row[0]))


def piece_meant(connection: Connection, written: str) -> str | None:
    """The one piece of that code or label; None where there is none."""
    row = first(connection, "SELECT piece FROM standing WHERE folded = ?", (written.casefold(),))
    if row is None:
        row = first(connection, _NEWEST_LABEL, (written,))
    return None if row is None else str(row[0])


def bag_revision(connection: Connection, code: str) -> int:
    """The newest revision of a bag, 0 where there is none."""
    return _number(connection, "SELECT max(revision) FROM bag WHERE code = ?", code)


def alias_revision(connection: Connection, label: str) -> int:
    """The newest revision of a label, 0 where there is none."""
    return _number(connection, "SELECT max(revision) FROM alias WHERE label = ?", label)


def _number(connection: Connection, statement: str, code: str) -> int:
    row = first(connection, statement, (code,))
    return 0 if row is None or row[0] is None else int(row[0])


def nearest_code(connection: Connection, written: str) -> str:
    """The known piece most like what was written, "" where none is."""
    start = written[:1]
    rows = connection.exec_driver_sql(
        "SELECT piece FROM standing WHERE folded >= ? ORDER BY folded LIMIT 2000", (start.casefold(),)
    )
    close = get_close_matches(written, [str(row[0]) for row in rows], n=1, cutoff=0.4)
    return close[0] if close else ""


def taken_codes(connection: Connection, codes: Iterable[str]) -> dict[str, str]:
    """Which of these codes mean something already: code -> the piece it means."""
    wanted = {code.casefold(): code for code in codes}
    folded = list(wanted)
    found: dict[str, str] = {}
    for start in range(0, len(folded), _AT_ONCE):
        some = folded[start : start + _AT_ONCE]
        marks = ", ".join("?" * len(some))
        rows = connection.exec_driver_sql(
            f"SELECT folded, piece FROM standing WHERE folded IN ({marks}) "
            f"UNION ALL SELECT lower(label), piece FROM alias WHERE lower(label) IN ({marks})",
            (*some, *some),
        )
        found.update({wanted[str(key)]: str(piece) for key, piece in rows if str(key) in wanted})
    return found


def labels_of(connection: Connection, code: str) -> list[str]:
    """The labels that mean this piece."""
    rows = connection.exec_driver_sql(
        "SELECT a.label FROM alias AS a WHERE a.piece = ? AND a.revision = "
        "(SELECT max(b.revision) FROM alias AS b WHERE b.label = a.label) ORDER BY a.label",
        (code,),
    )
    return [str(row[0]) for row in rows]
