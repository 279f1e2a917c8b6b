"""Making a register and bringing an older one to this version, by the revisions under `migrations`.

Before an older file is touched there is a verified copy beside it. All revisions run in one transaction that ends only
if tables, guards, counts, chain and references are what they must be; else the file stands as it stood.
"""

from __future__ import annotations

import os
from contextlib import suppress
from hashlib import sha256
from pathlib import Path

from sqlalchemy import Select, column, func, select, table
from sqlalchemy.engine import Connection, Engine

from app.decision.domain.errors import BadInput, StoreTrouble
from app.register import sqlite
from app.register.backup import copy_of, sync_folder
from app.register.driver import begin, commit, roll_back
from app.register.engine import SCHEMA, look_at, make_engine
from app.register.locks import FileLock
from app.register.trouble import in_words, trouble
from app.register.verify import chain_damage

# Worked out from the rest: what is lost of them is no loss.
_REVISION: Select[tuple[str]] = select(column("version_num")).select_from(table("alembic_version"))
_NOT_COUNTED = ("standing", "status", "derived", "alembic_version")


def migrations_folder() -> Path:
    """Where the revisions lie: inside the program when installed, beside it in a checkout."""
    installed = Path(__file__).parent.parent / "migrations"
    return installed if installed.is_dir() else Path(__file__).parents[2] / "migrations"


def create(path: Path, scripts: Path | None = None) -> None:
    """Make an empty register at `path`; BadInput where something stands there already.

    It is made under another name and moved into place whole.
    """
    if path.exists():
        raise BadInput("store.exists", file=str(path), thing=str(path))
    if not path.parent.is_dir():
        raise BadInput("store.no-folder", file=str(path), thing=str(path.parent))
    beside = path.with_name(f".{path.name}.{os.getpid()}.new")
    try:
        with in_words(path):
            engine = make_engine(beside)
            try:
                build(engine, scripts or migrations_folder())
            finally:
                engine.dispose()
        # A link, unlike a move, never replaces what somebody else made meanwhile.
        os.link(beside, path)
        sync_folder(path)
    except FileExistsError as fault:
        raise BadInput("store.exists", file=str(path), thing=str(path)) from fault
    except OSError as fault:
        raise trouble(fault, path) from fault
    finally:
        with suppress(OSError):
            beside.unlink(missing_ok=True)


def build(engine: Engine, scripts: Path) -> None:
    """All revisions on an empty database."""
    with engine.connect() as connection:
        sqlite.mark_as_ours(connection)
        begin(connection, sqlite.WRITING)
        _run(connection, scripts)
        commit(connection)


def migrate(path: Path, scripts: Path | None = None) -> Path | None:
    """Bring an older register to the newest revision; answers the copy made before, None where nothing was to do.

    StoreTrouble where it is in use, or where the result is not what it must be; the file then stands as it stood.
    """
    folder = scripts or migrations_folder()
    before = look_at(path) if scripts is None else None
    if before == SCHEMA:
        return None
    with FileLock(path, alone=True), in_words(path):
        copy = copy_of(path, "before-migration")
        engine = make_engine(path)
        try:
            with engine.connect() as connection:
                _migrate(connection, folder, path)
        finally:
            engine.dispose()
    return copy


def _migrate(connection: Connection, folder: Path, path: Path) -> None:
    sqlite.without_references(connection)
    begin(connection, sqlite.WRITING)
    try:
        counted = _counts(connection)
        _run(connection, folder)
        _hold_against(connection, folder, counted, path)
        commit(connection)
    except BaseException:
        roll_back(connection)
        raise


def _hold_against(connection: Connection, folder: Path, counted: dict[str, int], path: Path) -> None:
    why = _differs(connection, folder, counted)
    if why:
        raise StoreTrouble("store.migration-refused", file=str(path), thing=str(path), reason=why)


def _run(connection: Connection, scripts: Path) -> None:
    # Loaded only where the version differs: most starts never need it.
    from alembic import command
    from alembic.config import Config
    from alembic.script import ScriptDirectory

    settings = Config()
    settings.set_main_option("script_location", str(scripts))
    settings.attributes["connection"] = connection
    command.upgrade(settings, "head")
    head = ScriptDirectory.from_config(settings).get_current_head()
    sqlite.mark_version(connection, int(head or 0))


def _counts(connection: Connection) -> dict[str, int]:
    tables = [name for kind, name, _ in sqlite.schema(connection) if kind == "table" and name not in _NOT_COUNTED]
    return {name: int(connection.scalar(select(func.count()).select_from(table(name))) or 0) for name in tables}


def _differs(connection: Connection, scripts: Path, counted: dict[str, int]) -> str:
    """What is not as it must be after the revisions, in words for whoever looks after the program; "" if all is."""
    now = _counts(connection)
    lost = [f"{name} {count} -> {now.get(name, 0)}" for name, count in counted.items() if now.get(name, 0) != count]
    if lost:
        return f"rows: {', '.join(lost)}"
    if fingerprint(connection) != expected_fingerprint(scripts):
        return "tables or guards differ from those of a fresh register"
    broken = sqlite.broken_references(connection)
    if broken:
        return f"references: {len(broken)}"
    return next((f"journal: {damage.says}" for damage in chain_damage(lambda read: read(connection))), "")


def fingerprint(connection: Connection) -> str:
    """SHA-256 over every table, index and guard as the database has them, and the revision."""
    kept = [f"{kind} {name} {sql}" for kind, name, sql in sqlite.schema(connection)]
    kept += [str(tuple(row)) for row in connection.execute(_REVISION)]
    return sha256("\n".join(kept).encode()).hexdigest()


def expected_fingerprint(scripts: Path | None = None) -> str:
    """The fingerprint of a fresh register."""
    engine = make_engine(None)
    try:
        build(engine, scripts or migrations_folder())
        with engine.connect() as connection:
            return fingerprint(connection)
    finally:
        engine.dispose()
