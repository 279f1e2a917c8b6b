"""A stocked register, made once and copied for each test, and its desk."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from app.decision.domain.errors import CuffdateError
from app.usecases.desk import Desk
from tests.fakes import FixedClock, desk_on, stocked
from tests.faults.checks import verified


@pytest.fixture(scope="session")
def template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("register") / "stocked.cuffdate"
    stocked(path).store.close()
    return path


@pytest.fixture
def clock() -> FixedClock:
    return FixedClock()


@pytest.fixture
def path(template: Path, tmp_path: Path) -> Path:
    return Path(shutil.copy(template, tmp_path / "r.cuffdate"))


@pytest.fixture
def desk(path: Path, clock: FixedClock) -> Iterator[Desk]:
    opened = desk_on(path, clock)
    yield opened
    assert verified(opened) == ()
    opened.store.close()


Refused = Callable[[Callable[[], object]], CuffdateError]


@pytest.fixture
def refused(desk: Desk) -> Refused:
    """An act that must be turned down and must leave every book as it was; answers the error."""

    def act(does: Callable[[], object]) -> CuffdateError:
        before = desk.anchors()
        with pytest.raises(CuffdateError) as told:
            does()
        assert desk.anchors() == before
        return told.value

    return act
