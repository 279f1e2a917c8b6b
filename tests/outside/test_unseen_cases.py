"""Cases written from the rules and facts alone before any was run; where they stand, they stand."""

from __future__ import annotations

from pathlib import Path

import pytest

from app.decision.case.case import read_cases
from app.decision.judging.worked_cases import run_case

FILES = sorted((Path(__file__).parent / "unseen").glob("*.toml"))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_they_come_out_as_written_or_wait_for_the_isolation_record(path: Path) -> None:
    cases = read_cases(path.read_text(encoding="utf-8"), path.name)
    results = [run_case(case) for case in cases]
    assert len(results) == 150
    assert [(one.id, one.why) for one in results if one.state == "failed"] == []
    assert {one.why for one in results if one.state == "waiting"} <= {"entry isolation-record"}
