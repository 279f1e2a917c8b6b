"""Faults of the program's own, planted in a process under test: each must be found, or the tests that look would be idle."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import AbstractContextManager, suppress
from sqlite3 import Connection as Raw
from unittest import mock

from msgspec.structs import replace

from app.decision.judging.answers import KitAnswer
from app.register import engine
from app.register import unit as units
from app.register.columns import Stored
from app.register.driver import begin, commit
from app.register.engine import Connection
from app.register.reads.pieces import Kept
from app.register.sqlite import WRITING
from app.register.writes.statuses import put_out
from app.usecases import issue_kit as issuing
from app.usecases.check_kit import check_kit


def _early_commit() -> None:
    """Lines go in by themselves, and the rows after them by themselves."""
    kept = units.Shape.insert

    def insert(into: units.Shape, connection: Connection, rows: Sequence[tuple[Stored, ...]]) -> None:
        kept(into, connection, rows)
        commit(connection)
        begin(connection, WRITING)

    mock.patch.object(units.Shape, "insert", insert).start()


def _no_sync() -> None:
    """Nothing waits for the disk."""
    kept = engine.prepare

    def prepare(connection: Raw, *, is_durable: bool = True) -> None:
        kept(connection, is_durable=is_durable and False)

    mock.patch.object(engine, "prepare", prepare).start()


def _silent() -> None:
    """Says it is done whatever the register said."""

    def in_words(path: object) -> AbstractContextManager[None]:
        del path
        return suppress(Exception)

    mock.patch.object(engine, "in_words", in_words).start()


def _no_guard() -> None:
    """Issues whatever is asked for, out or not."""

    def not_out(unit: units.Unit, found: Iterable[Kept]) -> None:
        del unit, found

    def out_anyway(connection: Connection, rows: Sequence[Mapping[str, Stored]]) -> None:
        for row in rows:
            connection.exec_driver_sql("DELETE FROM out_now WHERE piece = ?", (row["piece"],))
        put_out(connection, rows)

    def blindly(*asked: object, **how: object) -> KitAnswer:
        answer = check_kit(*asked, **how)  # type: ignore[arg-type]
        return replace(answer, verdict=replace(answer.verdict, decision="may-be-issued"))

    for name, instead in (("not_out", not_out), ("put_out", out_anyway), ("check_kit", blindly)):
        mock.patch.object(issuing, name, instead).start()


FAULTS: dict[str, Callable[[], None]] = {
    "early-commit": _early_commit, "no-sync": _no_sync, "silent": _silent, "no-guard": _no_guard,
}  # fmt: skip


def plant(fault: str) -> None:
    """Plant one for the rest of this process."""
    FAULTS[fault]()
