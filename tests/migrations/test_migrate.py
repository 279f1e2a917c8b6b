"""A register of an older form becomes one of the next, whole, or stands as it stood."""

from __future__ import annotations

import sqlite3
from collections import Counter
from collections.abc import Iterator
from contextlib import closing, contextmanager
from functools import cache
from pathlib import Path
from unittest import mock

import pytest

from app.decision.domain.errors import BadInput, StoreTrouble
from app.register import engine
from app.register import migrate as migrations
from app.register.engine import look_at, make_engine, open_store
from app.register.marks import SCHEMA
from app.register.migrate import create, expected_fingerprint, fingerprint, migrate
from tests.faults.checks import contents, copied, on_memory, parsed
from tests.faults.conftest import forks, made, place, woken
from tests.faults.disk import lay
from tests.faults.shim import Kill, Shim, Sort
from tests.faults.test_power_cut import picked
from tests.migrations import revisions
from tests.migrations.revisions import NEXT, planted

__all__ = ["forks", "made", "place", "woken"]
# What a fresh register is like does not change within a run, and building one is most of an unhindered migration.
_expected = cache(expected_fingerprint)


@pytest.fixture
def next_version(monkeypatch: pytest.MonkeyPatch) -> None:
    """The program as it would be with the planted revision."""
    monkeypatch.setattr(engine, "SCHEMA", NEXT)
    monkeypatch.setattr(migrations, "SCHEMA", NEXT)


def rows(path: Path) -> dict[str, list[tuple[object, ...]]]:
    """Rows by table, without columns that are not known, which is how a new column comes into being."""
    return {
        table: sorted((tuple(one for one in row if one is not None) for row in there), key=repr)
        for table, there in contents(path).items()
        if table not in ("", "pragma", "alembic_version")
    }


def form(path: Path) -> str:
    """Fingerprint of a file as it stands."""
    made_engine = make_engine(path)
    try:
        with made_engine.connect() as connection:
            return fingerprint(connection)
    finally:
        made_engine.dispose()


@pytest.mark.parametrize("body", [revisions.ADDS, revisions.REBUILDS])
def test_an_older_register_becomes_one_of_the_next_form(body: str, made: Path, place: Path, next_version: None) -> None:
    """I1 I3 I4: every row is there, guards and tables are those of a fresh register, and a copy of before lies beside."""
    path, scripts = copied(made, place / "old"), planted(place, body)
    before = rows(path)
    assert look_at(path) == SCHEMA
    copy = migrate(path, scripts)
    assert look_at(path) == NEXT
    assert rows(path) == before
    assert form(path) == expected_fingerprint(scripts)
    assert copy is not None
    assert contents(copy) == contents(made)
    store = open_store(path)
    store.close()


@pytest.mark.parametrize(
    ("body", "why"),
    [
        (revisions.LOSES_ROWS, "rows: record"),
        (revisions.DROPS_A_GUARD, "tables or guards"),
        (revisions.LEAVES_ONE_OUT, "tables or guards"),
        (revisions.BREAKS_A_REFERENCE, "references: 1"),
        (revisions.BREAKS_THE_CHAIN, "journal"),
    ],
)
def test_a_revision_that_spoils_something_is_refused(
    body: str, why: str, made: Path, place: Path, next_version: None
) -> None:
    """I2 I3 I8: with what it would spoil, and the file stands as it stood."""
    path, scripts = copied(made, place / "old"), planted(place, body)
    with pytest.raises(StoreTrouble) as refused:
        migrate(path, scripts)
    assert refused.value.key == "store.migration-refused"
    assert str(refused.value.values["reason"]).startswith(why)
    assert path.read_bytes() == made.read_bytes()


def test_a_revision_that_fails_halfway_changes_nothing(made: Path, place: Path, next_version: None) -> None:
    """I2 I8."""
    path, scripts = copied(made, place / "old"), planted(place, revisions.FAILS_HALFWAY)
    with pytest.raises(StoreTrouble):
        migrate(path, scripts)
    assert path.read_bytes() == made.read_bytes()


def test_a_newer_register_is_refused_as_it_is(made: Path, place: Path) -> None:
    """I8: both versions named."""
    path = copied(made, place / "old")
    migrate(path, planted(place, revisions.ADDS))
    before = path.read_bytes()
    for ask in (look_at, open_store, migrate):
        with pytest.raises(BadInput) as refused:
            ask(path)
        assert refused.value.key == "store.newer"
        assert (refused.value.values["found"], refused.value.values["known"]) == (str(NEXT), str(SCHEMA))
    assert path.read_bytes() == before


def test_an_older_register_is_not_opened_as_it_is(made: Path, place: Path, next_version: None) -> None:
    """I8."""
    path = copied(made, place)
    with pytest.raises(StoreTrouble) as refused:
        open_store(path)
    assert refused.value.key == "store.older"
    assert (refused.value.values["found"], refused.value.values["known"]) == (str(SCHEMA), str(NEXT))
    assert path.read_bytes() == made.read_bytes()


def test_a_register_in_use_is_not_migrated(made: Path, place: Path) -> None:
    """I8."""
    path, scripts = copied(made, place / "old"), planted(place, revisions.ADDS)
    store = open_store(path)
    try:
        with pytest.raises(StoreTrouble) as refused:
            migrate(path, scripts)
    finally:
        store.close()
    assert refused.value.key == "store.in-use"
    assert path.read_bytes() == made.read_bytes()


def test_a_register_is_made_once(made: Path, place: Path) -> None:
    """I8: what stands at the name already is left alone, and no half-made register stays behind."""
    path = copied(made, place)
    with pytest.raises(BadInput) as refused:
        create(path)
    assert refused.value.key == "store.exists"
    with pytest.raises(BadInput) as no_folder:
        create(place / "none" / "r.cuffdate")
    assert no_folder.value.key == "store.no-folder"
    assert path.read_bytes() == made.read_bytes()
    assert [one.name for one in place.iterdir()] == ["r.cuffdate"]


# Killed, and the power gone, at any moment of it


@contextmanager
def known_as(version: int) -> Iterator[None]:
    """The program as a later version would be."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(engine, "SCHEMA", version)
        patch.setattr(migrations, "SCHEMA", version)
        yield


class Forms:
    """The two forms a register may have, and its rows, which are the same in both."""

    def __init__(self, made: Path, scripts: Path) -> None:
        self.scripts = scripts
        self.old, self.new = expected_fingerprint(), expected_fingerprint(scripts)
        self.rows, self.before = rows(made), contents(made)

    def wrong(self, path: Path) -> tuple[list[str], str]:
        """What does not hold after a migration that was cut short, and which form the register has."""
        found = list[str]()
        with known_as(NEXT):
            looked = look_at(path)
            try:
                open_store(path).close()
                opened = True
            except StoreTrouble as no:
                opened = False
                found += [] if no.key == "store.older" else [f"I7 {no}"]
        now = form(path)
        which = {self.old: "old", self.new: "new"}.get(now, "half")
        if opened != (which == "new") or (looked == NEXT) != (which == "new"):
            found.append(f"I3 {which}, looked {looked}, opened {opened}")
        if which == "half" or rows(path) != self.rows:
            found.append(f"I2 {which}")
        copies = sorted(path.parent.glob(f"{path.name}.before-migration-*"))
        found += [f"I3 {copy.name}" for copy in copies if contents(copy) != self.before]
        if which == "new" and not copies:
            found.append("I1 no copy")
        with known_as(NEXT), mock.patch.object(migrations, "expected_fingerprint", _expected):
            migrate(path, self.scripts)
        if form(path) != self.new or rows(path) != self.rows:
            found.append("I2 not brought to an end afterwards")
        return found, which


def killed(woken: Shim, made: Path, place: Path, body: str, step: int) -> tuple[list[str], Counter[str]]:
    """A migration killed before every call that changes something, or every so many."""
    scripts = planted(place, body)
    forms = Forms(made, scripts)
    sorts: tuple[Sort, ...] = ("write", "create", "truncate", "fsync", "unlink", "rename")
    path = copied(made, place / "whole")
    counts = woken.count(["migrate", str(path), str(scripts)], path.parent)
    wrong, seen = list[str](), Counter[str]()
    # The end of it is where the file itself is written: looked at closely whatever the step.
    total = sum(counts[sort] for sort in sorts)
    for nth in sorted({*range(1, total + 1, step), *range(total - 8, total + 1)}):
        path = copied(made, place / str(nth))
        ran = woken.run(["migrate", str(path), str(scripts)], path.parent, Kill(sorts, nth))
        assert ran.returncode == -9, ran.stderr
        found, which = forms.wrong(path)
        wrong += [f"{nth} of {total}: {one}" for one in found]
        seen[which] += 1
    return wrong, seen


@pytest.mark.parametrize(
    ("body", "step"),
    [
        (revisions.ADDS, 20),
        pytest.param(revisions.ADDS, 1, marks=pytest.mark.long),
        pytest.param(revisions.REBUILDS, 1, marks=pytest.mark.long),
    ],
)
def test_a_migration_killed_at_any_write_is_old_or_new(
    body: str, step: int, woken: Shim, made: Path, place: Path
) -> None:
    """I1 I2 I3."""
    wrong, seen = killed(woken, made, place, body, step)
    assert wrong == []
    assert min(seen["old"], seen["new"]) > 0


def power_cut(woken: Shim, made: Path, place: Path, body: str, most: int) -> tuple[list[str], Counter[str]]:
    """The power gone at any moment of a migration."""
    scripts = planted(place, body)
    forms, path = Forms(made, scripts), copied(made, place / "work")
    recording = woken.record(["migrate", str(path), str(scripts)], path.parent)
    assert parsed(recording.ran.stdout) == [{"done": [], "act": "file"}], recording.ran.stderr
    wrong, seen = list[str](), Counter[str]()
    for number, image in enumerate(picked(recording, 4, most)):
        with on_memory(place / str(number)) as folder:
            laid = lay(image, folder) / "r.cuffdate"
            found, which = forms.wrong(laid)
        if image.said and which != "new":
            found.append("I1 said to be done")
        wrong += [f"{image.cut} {image.how}: {one}" for one in found]
        seen[which] += 1
    return wrong, seen


def test_a_power_cut_within_a_migration_leaves_old_or_new(woken: Shim, made: Path, place: Path) -> None:
    """I1 I2 I3."""
    wrong, seen = power_cut(woken, made, place, revisions.ADDS, 10)
    assert wrong == []
    assert seen["half"] == 0


@pytest.mark.long
@pytest.mark.parametrize("body", [revisions.ADDS, revisions.REBUILDS])
def test_many_power_cuts_within_a_migration_leave_old_or_new(body: str, woken: Shim, made: Path, place: Path) -> None:
    """I1 I2 I3."""
    wrong, seen = power_cut(woken, made, place, body, 300)
    assert wrong == []
    assert min(seen["old"], seen["new"]) > 0


def test_copies_that_cannot_be_made_stop_a_migration(made: Path, place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """I1: no copy, no migration."""
    path, scripts = copied(made, place / "old"), planted(place, revisions.ADDS)
    from app.register import backup

    def full(path: Path) -> None:
        del path
        raise OSError(28, "no space left")

    monkeypatch.setattr(backup, "_sync", full)
    with pytest.raises(StoreTrouble) as refused:
        migrate(path, scripts)
    assert refused.value.key == "store.copy-failed"
    assert path.read_bytes() == made.read_bytes()
    assert [one.name for one in path.parent.iterdir() if one.suffix != ".lock"] == ["r.cuffdate"]


def test_an_unsound_register_is_not_migrated(made: Path, place: Path) -> None:
    """I1 I3: the copy of a damaged register is no copy to rely on."""
    path, scripts = copied(made, place / "old"), planted(place, revisions.ADDS)
    with closing(sqlite3.connect(path)) as raw:
        (page,) = raw.execute("SELECT rootpage FROM sqlite_master WHERE name = 'record_piece'").fetchone()
        (size,) = raw.execute("PRAGMA page_size").fetchone()
    content = bytearray(path.read_bytes())
    content[(page - 1) * size + 100 : page * size] = bytes(size - 100)
    path.write_bytes(content)
    with pytest.raises(StoreTrouble) as refused:
        migrate(path, scripts)
    assert refused.value.key in ("store.copy-unsound", "store.damaged")
    assert path.read_bytes() == bytes(content)
