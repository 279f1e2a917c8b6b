"""The shelf as listed from kept standings, held against every piece judged from its entries on that very day."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from datetime import date, timedelta
from typing import Any

import pytest
from msgspec.structs import replace

from app.decision.case.pieces import read_piece
from app.decision.domain.errors import BadInput
from app.decision.domain.history import History
from app.decision.domain.piece import Piece
from app.decision.domain.record import Issue, Return
from app.decision.judging.answers import DueQuestion, DueRow
from app.intake.faults import Place
from app.intake.register_sheet import SheetRow
from app.register.reads.pieces import pieces
from app.register.writes.statuses import last_day, put_checked
from app.usecases.add_person import add_person
from app.usecases.desk import Desk
from app.usecases.list_shelf import list_shelf
from app.usecases.load_register import load_sheet
from app.usecases.log_check import log_check
from app.usecases.verify_register import verify_register
from tests.fakes import FixedClock, desk_on
from tests.oracle.kits import kit

KITS = 60
ORDER = ("ready", "inspect-today", "due-soon", "overdue", "out", "certificate-not-seen", "not-tested", "cannot-tell",
         "on-hold", "lost", "withdrawn")  # fmt: skip


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """Some hundreds of generated pieces, good and spoiled, loaded in one act years after their last record."""
    clock = FixedClock()
    clock.at(date(2040, 1, 1))
    opened = desk_on(tmp_path_factory.mktemp("shelf") / "r.cuffdate", clock)
    add_person(opened, "P0", {"code": "P0"})
    rows: list[SheetRow] = []
    for number in range(KITS):
        for table in kit(11, number)["pieces"]:
            for made in (table, _with_a_month(table, number)):
                piece = replace(read_piece(made, ""), code=f"{number}-{len(rows)}")
                if _is_out(piece):
                    continue
                rows.append(SheetRow(Place("kits", len(rows) + 2), piece.code, {}, piece, "main"))
    load_sheet(opened, "P0", rows)
    yield opened
    assert verify_register(opened).damage == ()
    opened.store.close()


def _is_out(piece: Piece) -> bool:
    """What is out by its own records is not added: who has it is an act of its own."""
    moves = [one for one in piece.records if isinstance(one, (Issue, Return))]
    open_now = History.of(piece, date(2040, 1, 1)).open_issue() is not None
    return open_now or (bool(moves) and isinstance(moves[-1], Issue))


def _with_a_month(table: dict[str, Any], number: int) -> dict[str, Any]:
    """The piece with one of its records known by month alone."""
    records = [dict(record) for record in table["records"]]
    dated = [record for record in records if isinstance(record.get("on"), date)]
    if dated:
        chosen = dated[number % len(dated)]
        chosen["on"] = f"{chosen['on']:%Y-%m}"
    return {**table, "records": records}


def last_days(desk: Desk) -> dict[str, date]:
    codes = [row.status.piece.code for row in list_shelf(desk, DueQuestion(date(2040, 1, 1), None, ())).rows]
    kept = desk.ask(lambda connection: pieces(connection, codes))
    return {code: last_day(one.piece) for code, one in kept.items()}


def said(row: DueRow) -> tuple[object, ...]:
    one = row.status
    # Why a check of the day is due is worded from the last day anything happened; what is asked is the same.
    why = "" if one.state == "inspect-today" else one.why.key
    return (
        one.state,
        one.due_on,
        one.use_until,
        why,
        one.holder,
        one.decides,
        one.counted_from,
        one.is_dated,
        row.crib,
    )


def both(desk: Desk, day: date, codes: tuple[str, ...]) -> Iterator[tuple[str, DueRow, DueRow]]:
    """Each of these pieces as listed from its standing, and as judged from its entries."""
    listed = {row.status.piece.code: row for row in list_shelf(desk, DueQuestion(day, None, ())).rows}
    judged = {row.status.piece.code: row for row in list_shelf(desk, DueQuestion(day, None, codes)).rows}
    assert set(judged) == set(codes)
    yield from ((code, listed[code], judged[code]) for code in codes)


def test_from_its_last_record_on_it_is_the_same_on_every_day(desk: Desk) -> None:
    last = last_days(desk)
    assert len(last) > 5 * KITS
    seen: set[str] = set()
    for day in sorted(set(last.values())):
        for later in (0, 1, 170, 370):
            on = day + timedelta(days=later)
            codes = tuple(code for code, ends in last.items() if ends == day)
            for code, listed, judged in both(desk, on, codes):
                assert said(listed) == said(judged), (code, on)
                seen.add(judged.status.state)
    assert seen >= {"ready", "inspect-today", "due-soon", "overdue", "on-hold", "cannot-tell", "not-tested"}


def test_before_that_it_is_never_less_strict(desk: Desk) -> None:
    """A kept standing knows records the day did not, so it may say more against a piece - a vague day's, most of all."""
    last = last_days(desk)
    asked: dict[date, list[str]] = {}
    for code, one in desk.ask(lambda connection: pieces(connection, last)).items():
        begins = max((record.on.first for record in one.piece.records if record.on is not None), default=last[code])
        for day in {begins, begins + (last[code] - begins) // 2, last[code] - timedelta(days=1)}:
            if begins <= day < last[code]:
                asked.setdefault(day, []).append(code)
    stricter = 0
    for day, codes in sorted(asked.items()):
        for code, listed, judged in both(desk, day, tuple(codes)):
            kept, told = ORDER.index(listed.status.state), ORDER.index(judged.status.state)
            assert kept >= told, (code, day, listed.status.state, judged.status.state)
            stricter += kept > told
    assert len(asked) > 20
    assert stricter > 2


CHECKS: tuple[tuple[str, dict[str, Any]], ...] = (
    ("air-test", {"left": "passed", "right": "passed", "inflation": 1.2}),
    ("air-test", {"left": "passed", "right": "failed"}),
    ("inspection", {"defects": []}),
    ("self-test", {"result": "passed"}),
    ("self-test", {"result": "failed"}),
)


def test_checks_entered_one_by_one_leave_what_is_worked_out_anew(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of most of them the day's part alone is put; `verify` then judges every piece from all its entries."""
    put: list[bool] = []

    def told(*given: Any) -> bool:
        put.append(put_checked(*given))
        return put[-1]

    monkeypatch.setattr("app.usecases.desk.put_checked", told)
    for number, (code, last) in enumerate(last_days(desk).items()):
        what, said_of_it = CHECKS[number % len(CHECKS)]
        # On the last day anything is known of, soon after it, and long after the piece is due.
        for later in (0, 3, 500):
            on = {"on": last + timedelta(days=later), "at": f"{6 + number % 9:02d}:00"}
            with suppress(BadInput):
                log_check(desk, "P0", what, code, {**on, **said_of_it})
    assert verify_register(desk).damage == ()
    assert put.count(True) > KITS
    assert put.count(False) > KITS
