"""What a code means that somebody typed or scanned: a piece, a label already on a piece, or a bag of pieces."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from typing import NamedTuple

from sqlalchemy import bindparam, select
from sqlalchemy.engine import Connection

from app.register.driver import Row
from app.register.statements import Question
from app.register.tables import ALIAS, BAG, STATUS

_AT_ONCE = 400
_OF_CODE = Question(select(STATUS.c.piece).where(STATUS.c.folded == bindparam("folded")))
_OF_CODES = Question(select(STATUS.c.folded, STATUS.c.piece).where(STATUS.c.folded.in_(bindparam("folded"))))
_CRIBS_OF = Question(select(STATUS.c.folded, STATUS.c.crib).where(STATUS.c.folded.in_(bindparam("folded"))))
_EVERY_LABEL = Question(select(ALIAS.c.label, ALIAS.c.revision, ALIAS.c.piece).order_by(ALIAS.c.entry))
_EVERY_BAG = Question(select(BAG.c.code, BAG.c.revision, BAG.c.pieces).order_by(BAG.c.entry))


def pieces_meant(connection: Connection, written: str) -> tuple[str, ...]:
    """The codes of the pieces meant, () where nothing of that name is known. A piece's own code comes first.

    Capitals do not matter, for a piece, a label or a bag: scanners and eyes take G1 and g1 for one label.
    """
    code = piece_meant(connection, written)
    if code is not None:
        return (code,)
    bag = _bags(connection).get(written.casefold())
    return () if bag is None else tuple(json.loads(bag.means))


def piece_meant(connection: Connection, written: str) -> str | None:
    """The one piece of that code or label; None where there is none."""
    folded = written.casefold()
    row = _OF_CODE.first(connection, folded=folded)
    if row is not None:
        return str(row[0])
    label = _labels(connection).get(folded)
    return None if label is None else label.means


class _Named(NamedTuple):
    """A label or bag as it stands: as first written, its newest revision, and what that means."""

    written: str
    revision: int
    means: str


def _labels(connection: Connection) -> dict[str, _Named]:
    return _newest(_EVERY_LABEL.rows(connection))


def _bags(connection: Connection) -> dict[str, _Named]:
    return _newest(_EVERY_BAG.rows(connection))


def _newest(rows: Iterable[Row]) -> dict[str, _Named]:
    """Folded name -> as it stands. Folded here: the database folds ASCII only, and these tables are small.

    All of them stand in the site's book, so that the last entered is the newest, in whatever capitals.
    """
    newest: dict[str, _Named] = {}
    for written, revision, means in rows:
        folded = str(written).casefold()
        before = newest.get(folded)
        if before is None:
            newest[folded] = _Named(str(written), int(revision), str(means))
        else:
            newest[folded] = _Named(before.written, max(before.revision, int(revision)), str(means))
    return newest


def bag_named(connection: Connection, code: str) -> tuple[str, int]:
    """A bag's code as it was first written and its newest revision; the code itself and 0 where there is none."""
    bag = _bags(connection).get(code.casefold())
    return (code, 0) if bag is None else (bag.written, bag.revision)


def alias_revision(connection: Connection, label: str) -> int:
    """The newest revision of a label, 0 where there is none."""
    alias = _labels(connection).get(label.casefold())
    return 0 if alias is None else alias.revision


def nearest_code(connection: Connection, written: str) -> str:
    """The known piece most like what was written, "" where none is."""
    start = written[:1].casefold()
    asked = select(STATUS.c.piece).where(STATUS.c.folded >= start).order_by(STATUS.c.folded).limit(2000)
    close = get_close_matches(written, list(connection.execute(asked).scalars()), n=1, cutoff=0.4)
    return close[0] if close else ""


def taken_codes(connection: Connection, codes: Iterable[str]) -> dict[str, str]:
    """Which of these codes mean something already: code -> the piece it means, or the bag."""
    wanted: dict[str, list[str]] = {}
    for code in codes:
        wanted.setdefault(code.casefold(), []).append(code)
    folded, taken = list(wanted), dict[str, str]()
    for start in range(0, len(folded), _AT_ONCE):
        rows = _OF_CODES.rows(connection, folded=folded[start : start + _AT_ONCE])
        taken.update({str(key): str(piece) for key, piece in rows})
    taken = {
        **{key: bag.written for key, bag in _bags(connection).items()},
        **{key: label.means for key, label in _labels(connection).items()}, **taken,
    }  # fmt: skip
    return {code: taken[key] for key, written in wanted.items() if key in taken for code in written}


def cribs_of(connection: Connection, written: Iterable[str]) -> set[str]:
    """The cribs of the pieces meant by codes, labels and bags; what means nothing has none."""
    asked = {code.casefold() for code in written}
    kept: dict[str, str] = dict(_cribs(connection, asked))
    others = asked - set(kept)
    if others:
        labels, bags = _labels(connection), _bags(connection)
        meant = {labels[label].means for label in others & set(labels)}
        meant.update(code for bag in others & set(bags) for code in json.loads(bags[bag].means))
        kept.update(_cribs(connection, {code.casefold() for code in meant}))
    return set(kept.values())


def _cribs(connection: Connection, folded: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Folded code and crib of those that are pieces."""
    every = list(folded)
    for start in range(0, len(every), _AT_ONCE):
        for code, crib in _CRIBS_OF.rows(connection, folded=every[start : start + _AT_ONCE]):
            yield str(code), str(crib)


def labels_of(connection: Connection, code: str) -> list[str]:
    """The labels that mean this piece."""
    return sorted(label.written for label in _labels(connection).values() if label.means == code)
