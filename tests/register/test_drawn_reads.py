"""Whatever values are drawn for a record or a piece, the file gives back the same: nought, "no" and nothing apart."""

from __future__ import annotations

import types
from collections.abc import Iterator
from datetime import UTC, date, datetime, time
from itertools import count
from typing import Any, get_args, get_type_hints

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.decision.domain.calendar import Day
from app.decision.domain.chain import Fuse, Mark
from app.decision.domain.entries import AnyEntry, Name
from app.decision.domain.piece import Piece, VoltageMark
from app.register.engine import Store, open_store
from app.register.migrate import create
from app.register.reads.pieces import SORTS, pieces
from app.register.unit import Unit
from app.register.writes.rows import piece_row, record_row
from app.register.writes.statuses import new_piece, put_statuses

NUMBERS = count(1)
FIGURES = st.one_of(st.just(0), st.integers(0, 2**40))
WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
EXACT = st.dates(date(2000, 1, 1), date(2090, 12, 31)).map(Day.of)
VAGUE = st.one_of(
    st.dates(date(2000, 1, 1), date(2090, 12, 31)).map(lambda day: Day.parse(f"{day:%Y-%m}")),
    st.dates(date(2000, 1, 1), date(2090, 12, 31)).map(
        lambda day: Day.parse(f"{day.isocalendar().year}-W{day.isocalendar().week:02d}")
    ),
)
VALUES: dict[Any, st.SearchStrategy[Any]] = {
    int: FIGURES, str: WORDS, bool: st.booleans(), Day: st.one_of(EXACT, VAGUE), type(None): st.none(),
    time: st.times(), date: st.dates(date(2000, 1, 1), date(2090, 12, 31)),
    tuple[str, ...]: st.lists(WORDS, max_size=3).map(tuple), tuple[int, ...]: st.lists(FIGURES, max_size=3).map(tuple),
    tuple[Mark, ...]: st.lists(st.builds(Mark, WORDS, FIGURES), max_size=3).map(tuple),
    VoltageMark: st.builds(VoltageMark, st.none() | FIGURES, st.none() | FIGURES),
    Fuse: st.builds(Fuse, st.none() | FIGURES, st.none() | st.booleans(), st.none() | WORDS),
}  # fmt: skip


# What the file itself holds to a list of words, or this test gives its own value.
OWN: dict[str, st.SearchStrategy[Any]] = {
    "result": st.sampled_from([None, "passed", "failed"]), "code": st.just(""), "kind": st.just("rubber-gloves"),
    "first_issue": st.one_of(st.sampled_from(["never", "unknown"]), EXACT, VAGUE), "records": st.just(()),
}  # fmt: skip


def of_type(hint: Any) -> st.SearchStrategy[Any]:
    """Values of one field's type; a field of a type that is not drawn here fails."""
    if isinstance(hint, types.UnionType):
        return st.one_of([of_type(one) for one in get_args(hint)])
    return VALUES[hint]


def drawn(make: type[Any]) -> st.SearchStrategy[Any]:
    hints = get_type_hints(make)
    own = OWN if make is Piece else {"result": OWN["result"]}
    # The order of entry is the number of a row and no column of its own.
    names = [one.name for one in msgspec.structs.fields(make) if one.name != "entry"]
    return st.builds(make, **{name: own[name] if name in own else of_type(hints[name]) for name in names})


ENTRIES = {what: drawn(make) for what, make in SORTS.items()}


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    path = tmp_path_factory.mktemp("drawn") / "r.cuffdate"
    create(path)
    opened = open_store(path)
    yield opened
    opened.close()


def kept(store: Store, piece: Piece, records: list[AnyEntry]) -> tuple[Piece, list[AnyEntry]]:
    """The piece and its records as the file gives them back."""
    code = f"N{next(NUMBERS)}"
    named = msgspec.structs.replace(piece, code=code)
    with store.writing() as connection:
        unit = Unit(connection, "P0", datetime(2026, 3, 2, 8, tzinfo=UTC), ["main"])
        unit.add("main", "piece", code, piece_row(named, "main", 1))
        put_statuses(connection, [new_piece(named, "main", 1)])
        for record in records:
            unit.add("main", "record", code, record_row(code, record, of=Name("main", 1)))
        unit.flush()
    found = store.ask(lambda connection: pieces(connection, [code]))[code]
    return msgspec.structs.replace(found.registered, code=""), [entry.record for entry in found.entries]


@settings(max_examples=60, deadline=None, derandomize=True, database=None)
@given(piece=drawn(Piece))
def test_every_piece_comes_back(piece: Piece, store: Store) -> None:
    assert kept(store, piece, [])[0] == piece


@pytest.mark.parametrize("what", SORTS)
def test_every_record_comes_back(what: str, store: Store) -> None:
    @settings(max_examples=12, deadline=None, derandomize=True, database=None)
    @given(st.lists(ENTRIES[what], min_size=1, max_size=6))
    def comes_back(records: list[AnyEntry]) -> None:
        assert kept(store, Piece(code="", kind="rubber-gloves"), records)[1] == records

    comes_back()


def test_nought_no_and_nothing_stay_three_things(store: Store) -> None:
    values = [
        SORTS["electrical-test"](on=Day.of(date(2026, 3, 2)), left_ua=ua, soaked=soaked, lab=lab)  # type: ignore[call-arg]
        for ua in (0, None) for soaked in (True, False) for lab in ("", None)
    ]  # fmt: skip
    assert kept(store, Piece(code="", kind="rubber-gloves"), list(values))[1] == values
    for answer in (True, False, None):
        piece = Piece(code="", kind="rubber-gloves", dc_tested=answer, max_input_ac_mv=None if answer is None else 0)
        found = kept(store, piece, [])[0]
        assert (found.dc_tested, found.max_input_ac_mv) == (answer, None if answer is None else 0)
