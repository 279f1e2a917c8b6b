"""What the fault tests share: the shim, the process that forks, and a register made once."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.faults import acts
from tests.faults.checks import on_memory
from tests.faults.forks import Forks, why_no_forks
from tests.faults.shim import Shim, why_not


@pytest.fixture
def place(tmp_path: Path) -> Iterator[Path]:
    """A folder in memory where there is one: no test here asks the real disk anything, and it would be slow."""
    with on_memory(tmp_path) as folder:
        yield folder


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A register of two cribs with a kit each; to be copied, never worked in."""
    path = tmp_path_factory.mktemp("made") / "made.cuffdate"
    acts.two_cribs(path)
    return path


@pytest.fixture(scope="session")
def forks() -> Iterator[Forks]:
    if why_no_forks():
        pytest.skip(why_no_forks())
    with Forks() as running:
        yield running


@pytest.fixture(scope="session")
def woken(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shim]:
    """The shim under acts that are forked and not started."""
    if why_not() or why_no_forks():
        pytest.skip(why_not() or why_no_forks())
    built = Shim.build(tmp_path_factory.mktemp("shim"))
    with Forks(built.preloaded) as running:
        yield Shim(built.preloaded, built.home, running.run)


@pytest.fixture(scope="session")
def shim(tmp_path_factory: pytest.TempPathFactory) -> Shim:
    return Shim.build(tmp_path_factory.mktemp("shim"))


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The watched folder, and where the programs run."""
    watched = tmp_path / "watched"
    watched.mkdir()
    monkeypatch.chdir(watched)
    return watched
