"""Shared fixtures: the command line in process and as a process, and the switch for the long proofs."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

from app.cli.program import run

ROOT = Path(__file__).parent.parent

# Single files, then folders, by how long they take; everything else comes after them.
LONGEST = {
    name: place
    for place, name in enumerate(
        ("test_agreement.py", "test_agreement_second_half.py", "faults", "properties", "ui", "journeys", "store")
    )
}


class Said(NamedTuple):
    """Exit status and what was printed."""

    status: int
    out: str
    err: str


Cli = Callable[..., Said]


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--long", action="store_true", help="run the long proofs as well")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    # Files go to the workers one by one: what takes longest begins first, or one worker ends long after the other.
    items.sort(key=lambda item: LONGEST.get(item.path.parent.name, LONGEST.get(item.path.name, len(LONGEST))))
    if config.getoption("--long"):
        return
    left_out = [item for item in items if item.get_closest_marker("long")]
    if left_out:
        config.hook.pytest_deselected(items=left_out)
        items[:] = [item for item in items if not item.get_closest_marker("long")]


@pytest.fixture
def cli(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Cli:
    """Run a command in this process, from the top of the checkout."""
    monkeypatch.chdir(ROOT)

    def call(*argv: str) -> Said:
        capsys.readouterr()
        status = run(argv)
        printed = capsys.readouterr()
        return Said(status, printed.out, printed.err)

    return call


@pytest.fixture
def process() -> Cli:
    """Run a command as a process of its own."""

    def call(*argv: str) -> Said:
        done = subprocess.run(
            [sys.executable, "-m", "app", *argv], cwd=ROOT, capture_output=True, text=True, check=False,
            env={**os.environ, "PYTHONWARNINGS": "error"}, encoding="utf-8",
        )  # fmt: skip
        return Said(done.returncode, done.stdout, done.stderr)

    return call
