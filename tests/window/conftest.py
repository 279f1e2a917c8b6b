"""The window off any screen, with settings of its own, closed again after every test."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from tests.drive import Drive, fixed_clock
from tests.fakes import FixedClock, stocked


@pytest.fixture(autouse=True)
def own_settings(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path_factory.mktemp("settings")
    monkeypatch.setenv("XDG_CONFIG_HOME", str(folder))
    monkeypatch.setenv("XDG_STATE_HOME", str(folder))


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> FixedClock:
    return fixed_clock(monkeypatch, FixedClock())


@pytest.fixture
def drives() -> Iterator[Callable[[Path | None], Drive]]:
    """Makes windows; all of them are closed at the end."""
    made: list[Drive] = []

    def make(path: Path | None) -> Drive:
        made.append(Drive(path))
        return made[-1]

    yield make
    for one in made:
        one.close()


@pytest.fixture
def register(tmp_path: Path, clock: FixedClock) -> Path:
    """The good world in a register: keeper P0, technician P1, officer P9, a bus, six pieces whose kit may be issued."""
    path = tmp_path / "crib.cuffdate"
    stocked(path, clock).store.close()
    return path


@pytest.fixture
def drive(register: Path, drives: Callable[[Path | None], Drive]) -> Drive:
    return drives(register)
