"""A crib at a terminal: commands on a real file, a clock that is set, and everything that was said."""

from __future__ import annotations

import json
import shutil
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from app import compose
from app.cli.program import run
from tests.conftest import ROOT, Said

DEMO = ROOT / "demo_data"


class Crib:
    """One register and whoever stands at it. Every command is said to it as it would be typed."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.folder = folder
        self.store = folder / "crib.cuffdate"
        self._capsys = capsys
        self.moment = datetime(2026, 3, 2, 7, 0, tzinfo=UTC)

    def now(self) -> datetime:
        self.moment += timedelta(seconds=1)
        return self.moment

    def at(self, written: str) -> None:
        self.moment = datetime.fromisoformat(written).replace(tzinfo=UTC)

    def types(self, *argv: str) -> Said:
        """A command, --store added."""
        self._capsys.readouterr()
        status = run([*argv, "--store", str(self.store)])
        printed = self._capsys.readouterr()
        return Said(status, printed.out, printed.err)

    def does(self, *argv: str) -> str:
        """A command that must succeed; answers what it said."""
        said = self.types(*argv)
        assert said.status == 0, f"{argv}\n{said.out}{said.err}"
        return said.out

    def fails(self, *argv: str, status: int = 2) -> str:
        """A command that must be turned down with words and a next step, and must leave the file as it was."""
        before = self.store.read_bytes()
        said = self.types(*argv)
        assert said.status == status, f"{argv}\n{said.out}{said.err}"
        assert "Next: " in said.err
        assert self.store.read_bytes() == before
        return said.err

    def asks(self, *argv: str) -> Any:
        """The JSON of a command, whatever its status."""
        return json.loads(self.types(*argv, "--json").out)

    def judged_the_same(self, entry: str) -> None:
        """The decision of an entry, exported as a worked case, comes out the same when it is judged again."""
        case = self.folder / f"{entry.replace(':', '-').replace(' ', '-')}.toml"
        case.write_text(self.does("show", entry), encoding="utf-8")
        self._capsys.readouterr()
        assert run(["judge", str(case)]) == 0, self._capsys.readouterr().out
        assert "1 passed, 0 failed, 0 waiting" in self._capsys.readouterr().out


@pytest.fixture
def crib(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Crib:
    """An empty folder and a set clock."""
    monkeypatch.chdir(ROOT)
    at_the_counter = Crib(tmp_path, capsys)
    monkeypatch.setattr(compose, "clock", at_the_counter.now)
    return at_the_counter


@pytest.fixture
def quarry_lane(crib: Crib) -> Crib:
    """The depot's register on the morning of the demo day, without its history."""
    crib.does("load", str(DEMO / "depot.toml"), "--by", "P01")
    # A copy: the rows left out are written beside the sheet.
    sheet = shutil.copy(DEMO / "shelf.xlsx", crib.folder)
    assert crib.types("load", str(sheet), "--by", "P01", "--leave-out-bad-rows").status == 3
    return crib
