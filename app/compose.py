"""Finds files and puts a register together from them: the only room that reads files, the clock or the environment."""

from __future__ import annotations

import os
import tomllib
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from datetime import UTC, date, datetime, tzinfo
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from msgspec import Struct
from msgspec.structs import replace

from app.decision.domain.errors import BadInput
from app.words.saying import listed, say, say_in_two
from app.words.vocabulary import FIELDS

# What reads sheets, judges and knows zones is loaded where it is used: a window is painted from here too.
if TYPE_CHECKING:
    from app.decision.domain.piece import Piece
    from app.decision.domain.record import AnyRecord
    from app.decision.domain.register import Check, Depot, Register
    from app.intake.faults import Fault
    from app.intake.register_sheet import RegisterSheet, SheetRow
    from app.register.glance import Glance
    from app.usecases.begin_register import Beginning
    from app.usecases.desk import Desk

T = TypeVar("T")
MOST_MEGABYTES = 20


class Opened(Struct, frozen=True):
    """A register with what could not be used of the sheet it came from."""

    register: Register
    sheet: RegisterSheet
    faults: tuple[str, ...]


def open_register(
    sheet: Path, depot: Path | None, checks: Path | None, seen: Iterable[str], on: date, encoding: str | None = None
) -> Opened:
    """Read sheet, depot and checks and put them together; BadInput names the file, the place and the next step."""
    from app.decision.domain.register import Depot, Register
    from app.intake.depot_file import read_checks
    from app.intake.register_sheet import read_register_sheet
    from app.usecases.check_kit import certificates_seen

    read = read_register_sheet(sheet, on=on, encoding=encoding)
    _refuse_whole(sheet, read)
    known = Depot() if depot is None else _depot(depot)
    pieces = {row.code: row.piece for row in read.rows}
    bad = {code: (row_words(place.sheet, place.row), _why(read, code)) for code, place in read.bad_codes.items()}
    cribs = {row.code: row.crib for row in read.rows}
    register = Register(known, pieces, cribs, bad)
    if checks is not None:
        register = _with_checks(register, read_checks(read_text(checks), str(checks)), str(checks), on)
    return Opened(certificates_seen(register, seen), read, tuple(fault_line(fault) for fault in read.faults))


class BadRow(Struct, frozen=True):
    """A row that cannot: where, its code where one could be read, and why in a sentence."""

    sheet: str
    row: int | None
    code: str
    says: str

    def values(self) -> dict[str, object]:
        """The same as plain values."""
        return {"sheet": self.sheet, "row": self.row, "code": self.code, "says": self.says}


class SheetRows(Struct, frozen=True):
    """A sheet ready to be loaded. `headings` tells of the doubtful ones, `every_heading` of all."""

    good: tuple[SheetRow, ...]
    bad: tuple[BadRow, ...]
    headings: tuple[str, ...]
    every_heading: tuple[str, ...] = ()


def read_rows(path: Path, on: date, encoding: str | None = None) -> SheetRows:
    """The rows of a sheet, good and bad; BadInput for a file that is no sheet at all."""
    from app.intake.register_sheet import read_register_sheet

    read = read_register_sheet(path, on=on, encoding=encoding)
    _refuse_whole(path, read)
    codes = {(place.sheet, place.row): code for code, place in read.bad_codes.items()}
    bad = tuple(
        BadRow(
            fault.place.sheet, fault.place.row, codes.get((fault.place.sheet, fault.place.row), ""), fault_line(fault)
        )
        for fault in read.faults
    )
    return SheetRows(read.rows, bad, heading_lines(read, spelt_out=False), heading_lines(read, spelt_out=True))


def write_left_out(path: Path, bad: Iterable[BadRow], encoding: str | None = None) -> tuple[Path, ...]:
    """The rows left out as they stand, reasons in a last column, in a CSV beside the sheet they come from.

    One for each sheet of a workbook, under its own headings, so that it can be put right and loaded; nothing that is
    there is replaced.
    """
    from app.intake.left_out import left_out_rows
    from app.outputs.paper.csv_table import render_rows

    whys: dict[tuple[str, int], list[str]] = {}
    for row in bad:
        if row.row is not None:
            whys.setdefault((row.sheet, row.row), []).append(row.says)
    written: list[Path] = []
    for name, rows in left_out_rows(path, set(whys), encoding).items():
        target = _free(path, name if len({sheet for sheet, _ in whys}) > 1 else "")
        heads = (*rows[0], say("load.column.why", {}))
        cells = [(*row, " ".join(whys[name, number])) for number, row in rows[1]]
        write_file(target, render_rows(heads, cells))
        written.append(target)
    return tuple(written)


def _free(path: Path, sheet: str) -> Path:
    plain = "".join(letter if letter.isalnum() else "-" for letter in sheet)
    stem = f"{path.stem}.left-out{f'-{plain}' if plain else ''}"
    number, target = 1, path.with_name(f"{stem}.csv")
    while target.exists():
        number += 1
        target = path.with_name(f"{stem}-{number}.csv")
    return target


def _refuse_whole(path: Path, read: RegisterSheet) -> None:
    whole_file = [fault for fault in read.faults if fault.place.row is None]
    if whole_file and not read.rows:
        fault = whole_file[0]
        # A fault of the file itself has the file's name where a sheet's would stand: said once is enough.
        place = "" if fault.place.sheet == path.name else fault.place.sheet
        raise BadInput(fault.key, file=str(path), place=place, **_values(fault))


def _values(fault: Fault) -> dict[str, str]:
    # A sentence's values go through the error as words; the place and thing have keyword names of their own.
    return {key: str(value) for key, value in fault.values.items() if key not in ("file", "place", "key")} | {
        "thing": fault.thing
    }


def fault_line(fault: Fault) -> str:
    """A row that cannot be used: the sentence of a sheet's fault names its place and the next step itself."""
    values = {"thing": fault.thing, "sheet": fault.place.sheet, "row": fault.place.row, **fault.values}
    return say(fault.key, values)


def heading_lines(sheet: RegisterSheet, *, spelt_out: bool) -> tuple[str, ...]:
    """How the headings were read: what was only likely and what was not used; `spelt_out` tells them all."""
    lines: list[str] = []
    for name in dict.fromkeys(column.sheet for column in sheet.columns):
        columns = [column for column in sheet.columns if column.sheet == name and column.heading]
        lines += [
            say("headings.read", {"sheet": name, "heading": column.heading, "field": FIELDS[column.field]})
            for column in columns
            if column.field and (spelt_out or column.how == "likely")
        ]
        unused = [say("headings.one", {"heading": column.heading}) for column in columns if column.field is None]
        if unused:
            lines.append(say("headings.unused", {"sheet": name, "headings": listed(unused)}))
    return tuple(lines)


def row_words(sheet: str, row: int | None) -> str:
    """Where a row is, in words."""
    if row is None:
        return say("in-sheet.sheet", {"sheet": sheet})
    return say("in-sheet.sheet-row" if sheet else "in-sheet.row", {"sheet": sheet, "row": row})


def _why(read: RegisterSheet, code: str) -> str:
    place = read.bad_codes[code]
    for fault in read.faults:
        if (fault.place.sheet, fault.place.row) == (place.sheet, place.row):
            values = {"thing": fault.thing, "sheet": place.sheet, "row": place.row, **fault.values}
            return say_in_two(fault.key, values)[0]
    return ""


def _depot(path: Path) -> Depot:
    from app.decision.judging.catalogues import catalogues, rule_sets_of
    from app.decision.judging.looser import hold_to_offers
    from app.intake.depot_file import read_depot

    depot = read_depot(read_text(path), str(path))
    hold_to_offers(depot.site, catalogues().house, rule_sets_of(depot), str(path))
    if depot.site.confirmed_in_print is None:
        raise BadInput("site.confirmed-all", file=str(path), place="site", thing="confirmed_in_print")
    if depot.site.confirmed_in_print and depot.site.approver("confirmed_in_print") is None:
        raise BadInput("site.confirmed-by-nobody", file=str(path), place="site", thing="confirmed_in_print")
    return depot


def _with_checks(register: Register, checks: tuple[Check, ...], file: str, on: date) -> Register:
    """Add the day's checks to their pieces; a check of a piece in a bad row is left with that row."""
    from app.decision.fields.reading import nearest

    added: dict[str, list[AnyRecord]] = {}
    for check in checks:
        if check.piece in register.bad:
            continue
        if check.piece not in register.pieces:
            raise BadInput(
                "checks.unknown-piece", file=file, thing=check.piece, nearest=nearest(check.piece, register.pieces)
            )
        if check.record.on is not None and check.record.on.first > on:
            # Judging a day, what happened later is absent: the same file serves for any day of the week.
            continue
        added.setdefault(check.piece, []).append(check.record)
    pieces: dict[str, Piece] = dict(register.pieces)
    for code, records in added.items():
        pieces[code] = replace(pieces[code], records=pieces[code].records + tuple(records))
    return replace(register, pieces=pieces)


def open_desk(path: Path, *, may_make: bool = False) -> tuple[Desk, tuple[str, ...]]:
    """A desk on the register at `path`, and what to tell about opening it.

    `may_make`: make one where there is none. An older register is copied and brought to this version first.
    """
    # Loaded only where a register is opened: the database library is the greater part of a start.
    from app.register import engine, migrate
    from app.usecases.desk import Desk

    told: list[str] = []
    if may_make and not path.exists():
        migrate.create(path)
        told.append(say("saved.made", {"file": str(path)}))
    elif engine.look_at(path) < engine.SCHEMA:
        copy = migrate.migrate(path)
        told.append(say("saved.migrated", {"file": str(copy)}))
    return Desk(engine.open_store(path), clock, local_zone()), tuple(told)


def new_desk(path: Path, tells: Callable[[], datetime], local: tzinfo = UTC) -> Desk:
    """A desk on a register made at `path`, with a clock of the caller's; what it writes is not yet sure to last.

    For a register that is moved into place whole when it is done.
    """
    from app.register import engine, migrate
    from app.usecases.desk import Desk

    migrate.create(path)
    return Desk(engine.open_store(path, is_durable=False), tells, local)


def glance(path: Path, look: Callable[[Glance], T]) -> T | None:
    """What a first look finds in a register before the database library is loaded; None where there is none."""
    from app.register.glance import glance_at

    return glance_at(path, clock, look)


def look_where(path: Path) -> None:
    """BadInput where no register can be begun at `path`: the name is taken, or its folder is none or is closed."""
    if path.exists():
        raise BadInput("start.there-already", file=str(path), thing=path.name)
    # A folder that is not there yet is made, in the nearest one that is.
    folder = next((parent for parent in path.parents if parent.exists()), path.parent)
    if not folder.is_dir():
        raise BadInput("start.no-folder", file=str(path), thing=str(folder))
    if not os.access(folder, os.W_OK | os.X_OK):
        raise BadInput("start.folder-closed", file=str(path), thing=str(folder))


def begin(path: Path, beginning: Beginning) -> None:
    """Make a register at `path` with all it begins with, moved into place whole; BadInput where the name is taken."""
    from app.usecases.begin_register import begin_register

    look_where(path)
    with put_in_place(path) as beside:
        desk = new_desk(beside, clock, local_zone())
        try:
            begin_register(desk, beginning)
        finally:
            desk.store.close()


class DepotFile(Struct, frozen=True):
    """A depot file as its table, as it is entered, and as what was read from it."""

    document: Mapping[str, object]
    depot: Depot


def read_document(path: Path) -> DepotFile:
    """A depot file, looked through so that every mistake is named before anything is made."""
    from app.intake.depot_file import read_depot

    written = read_text(path)
    depot = read_depot(written, str(path))
    return DepotFile(tomllib.loads(written), depot)


def unmake(path: Path) -> None:
    """Take away a register that was made a moment ago and into which nothing was entered."""
    for file in (path, path.with_name(f"{path.name}.lock")):
        with suppress(OSError):
            file.unlink(missing_ok=True)


def database() -> tuple[str, str]:
    """The database's version, and what is wrong with it, "" where a register can be made in memory."""
    from app.register import engine, migrate

    try:
        return engine.version(), "" if migrate.expected_fingerprint() else say("self-check.no-tables", {})
    except Exception as fault:  # noqa: BLE001  # whatever stops it is what is asked for here
        return "", f"{type(fault).__name__}: {fault}"


def clock() -> datetime:
    """Now, aware."""
    return datetime.now(UTC)


def local_zone() -> tzinfo:
    """The zone of this machine, where a site names none."""
    from dateutil.tz import tzlocal

    return tzlocal()


def this_day() -> date:
    """Today where there is no register to ask for its site's zone."""
    return clock().astimezone(local_zone()).date()


def read_text(path: Path) -> str:
    """A text file in UTF-8, of a size somebody could have typed; BadInput says what is wrong with it."""
    if not path.exists():
        raise BadInput("file.not-found", file=str(path), thing=str(path))
    if not path.is_file():
        raise BadInput("file.not-readable", file=str(path), thing=str(path), reason=say("file.reason-no-file", {}))
    try:
        if path.stat().st_size > MOST_MEGABYTES * 1_000_000:
            raise BadInput("file.too-large", file=str(path), thing=str(path), most=str(MOST_MEGABYTES))
        return path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as fault:
        raise BadInput("file.not-text", file=str(path), thing=str(path)) from fault
    except OSError as fault:
        raise BadInput("file.not-readable", file=str(path), thing=str(path), reason=str(fault.strerror)) from fault


def write_file(path: Path, content: str | bytes) -> None:
    """Write beside the target and move it into place, so that nothing half written ever carries the name."""
    data = content.encode("utf-8") if isinstance(content, str) else content
    beside = path.with_name(f".{path.name}.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        beside.write_bytes(data)
        beside.replace(path)
    except OSError as fault:
        # Where the folder is none, there is nothing to clear away and trying fails in the same way.
        with suppress(OSError):
            beside.unlink(missing_ok=True)
        raise BadInput("file.not-written", file=str(path), thing=str(path), reason=str(fault.strerror)) from fault


@contextmanager
def put_in_place(path: Path) -> Iterator[Path]:
    """A name beside `path` to make something under; moved into place only when it is done."""
    beside = path.with_name(f".{path.name}.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        beside.unlink(missing_ok=True)
        yield beside
        with beside.open("rb+") as handle:
            os.fsync(handle.fileno())
        beside.replace(path)
    except OSError as fault:
        raise BadInput("file.not-written", file=str(path), thing=str(path), reason=str(fault.strerror)) from fault
    finally:
        for left in (beside, beside.with_name(f"{beside.name}.lock")):
            with suppress(OSError):
                left.unlink(missing_ok=True)


def demo_folder() -> Path:
    """Where the demo data lie: beside the program in a checkout, inside it when installed."""
    installed = Path(__file__).parent / "demo_data"
    return installed if installed.is_dir() else Path(__file__).parent.parent / "demo_data"
