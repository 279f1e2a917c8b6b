"""The demo's register: the sheet's pieces, and two years of entries played through the commands a keeper uses."""

from __future__ import annotations

import contextlib
import io
import tomllib
from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from msgspec.structs import replace

from app.cli.arguments import command_of, parsed
from app.compose import new_desk, open_desk, put_in_place, read_rows, read_text
from app.decision.case.writing import record_keys
from app.decision.domain.calendar import Day
from app.decision.domain.piece import Piece
from app.decision.domain.record import AnyRecord, Calibration, ElectricalTest, Hold, Inspection, Withdrawal
from app.intake.depot_file import read_checks
from app.intake.register_sheet import SheetRow
from app.register.reads.lines import heads, last_entry
from app.usecases.hold_piece import hold_piece
from app.usecases.load_register import close_to_entries, load_checks, load_depot, load_sheet
from app.usecases.log_check import log_check
from app.usecases.log_electrical_test import log_electrical_test
from app.usecases.withdraw_piece import withdraw_piece

if TYPE_CHECKING:
    from app.usecases.desk import Desk

FIRST = datetime(2024, 3, 4, 7, 0, tzinfo=UTC)
KEEPER = "P01"
_LOGGED = {Inspection: "inspection", Calibration: "calibration"}


class _Clock:
    def __init__(self) -> None:
        self.moment = FIRST

    def __call__(self) -> datetime:
        """Each question takes an instant, so that acts of one minute keep their order."""
        self.moment += timedelta(milliseconds=1)
        return self.moment


class _Act(NamedTuple):
    at: datetime
    order: int
    by: str
    command: tuple[str, ...] = ()
    piece: str = ""
    record: AnyRecord | None = None


def build(folder: Path, path: Path) -> int:
    """Build the demo register from the demo's files and put it at `path` whole; answers how many entries it has."""
    document = tomllib.loads(read_text(folder / "depot.toml"))
    day: date = document["site"]["demo_day"]
    rows = read_rows(folder / "shelf.xlsx", day).good
    clock = _Clock()
    with put_in_place(path) as beside:
        desk = new_desk(beside, clock)
        try:
            load_depot(desk, KEEPER, document)
            load_sheet(desk, KEEPER, [replace(row, piece=_at_first(row.piece)) for row in rows])
            zone = desk.zone()
            for act in sorted([*_history(folder), *_of_sheet(rows)], key=lambda act: (act.at, act.order)):
                clock.moment = max(act.at.replace(tzinfo=zone), clock.moment)
                _play(desk, act)
            clock.moment = datetime.combine(day, time(8, 0), tzinfo=zone)
            load_checks(desk, KEEPER, _checks(folder))
            close_to_entries(desk, KEEPER, day)
            return sum(head.number for head in desk.ask(_heads()).values())
        finally:
            desk.store.close()


def _heads() -> Any:  # noqa: ANN401  # a question of the store
    return heads


def _checks(folder: Path) -> Any:  # noqa: ANN401
    return read_checks(read_text(folder / "checks.toml"), "checks.toml")


def _at_first(piece: Piece) -> Piece:
    """The piece as it was when the register began: no records yet, and not lost or issued before it was."""
    first = piece.first_issue
    is_later = isinstance(first, Day) and first.last >= FIRST.date()
    return replace(piece, records=(), is_lost=False, first_issue="never" if is_later else first)


def _history(folder: Path) -> Iterator[_Act]:
    acts = tomllib.loads(read_text(folder / "history.toml"))["acts"]
    for order, act in enumerate(acts):
        yield _Act(act["at"], order, act["by"], tuple(act["command"]))


def _of_sheet(rows: tuple[SheetRow, ...]) -> Iterator[_Act]:
    """The sheet's own records, each entered at noon three days after it happened, or at the end where it has no day."""
    for order, row in enumerate(rows):
        for record in row.piece.records:
            entered = date(2026, 2, 27) if record.on is None else record.on.last
            is_test = isinstance(record, ElectricalTest)
            at = datetime.combine(entered + timedelta(days=3 if is_test else 0), time(12, 0))
            yield _Act(min(at, datetime(2026, 3, 1, 12)), order, KEEPER, (), row.piece.code, record)


def _play(desk: Desk, act: _Act) -> None:
    if act.command:
        _command(desk, act)
    elif isinstance(act.record, ElectricalTest):
        log_electrical_test(desk, act.by, act.piece, _keys(act.record))
    elif isinstance(act.record, Hold):
        # A lost piece was noticed at the stocktake of that day, which is an entry of its own.
        if act.record.why != "lost":
            hold_piece(desk, act.by, [act.piece], act.record.why)
    elif isinstance(act.record, Withdrawal):
        withdraw_piece(desk, act.by, [act.piece], "the sheet calls it withdrawn")
    elif act.record is not None:
        log_check(desk, act.by, _LOGGED[type(act.record)], act.piece, _keys(act.record))


def _keys(record: AnyRecord) -> dict[str, object]:
    return {key: value for key, value in record_keys(record).items() if key != "what"}


def _command(desk: Desk, act: _Act) -> None:
    words = [word.replace("{last}", _last(desk)) for word in act.command]
    args = parsed(words[0], [*words[1:], "--store", str(desk.store.path), "--by", act.by])
    args.desk = desk
    with contextlib.redirect_stdout(io.StringIO()):
        command_of(words[0]).run(args)


def _last(desk: Desk) -> str:
    return str(desk.ask(lambda connection: last_entry(connection, KEEPER)))


def is_demo(path: Path) -> bool:
    """Whether a register is a demo's, and may be built anew."""
    desk, _ = open_desk(path)
    try:
        return desk.demo_day is not None
    finally:
        desk.store.close()
