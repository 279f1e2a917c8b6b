"""The command rule-pages: all pages or none, nothing of somebody else written over."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from app.cli import program, rule_pages
from app.decision.domain.errors import BadInput
from tests.house.test_rule_pages import CASES, PAGES


def test_the_command_writes_what_is_kept_and_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    into = tmp_path / "pages"
    assert program.run(["rule-pages", "--into", str(into), "--cases", str(CASES), "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert said["written"] == sorted(PAGES)
    assert {one.name: one.read_text(encoding="utf-8") for one in into.iterdir()} == PAGES
    assert program.run(["rule-pages", "--into", str(into)]) == 0
    assert f"{len(PAGES)} pages" in capsys.readouterr().out
    assert [one.name for one in tmp_path.iterdir()] == ["pages"]


def test_pages_no_longer_declared_go_and_what_is_somebody_elses_stays(tmp_path: Path) -> None:
    pages = {"README.md": PAGES["README.md"], "set-gone.md": PAGES["set-jp-351.md"]}
    assert rule_pages.put(tmp_path / "into", pages) == []
    (tmp_path / "into" / "reviewed.md").write_text("by a second reader", encoding="utf-8")
    (tmp_path / "into" / "notes").mkdir()
    (tmp_path / "into" / "notes" / "one.txt").write_text("kept", encoding="utf-8")
    assert rule_pages.put(tmp_path / "into", {"README.md": PAGES["README.md"]}) == ["set-gone.md"]
    assert sorted(one.name for one in (tmp_path / "into").iterdir()) == ["README.md", "notes", "reviewed.md"]
    assert (tmp_path / "into" / "notes" / "one.txt").read_text(encoding="utf-8") == "kept"


def test_a_file_of_somebody_else_is_never_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "README.md").write_text("# My own\n", encoding="utf-8")
    assert program.run(["rule-pages", "--into", str(tmp_path)]) == 2
    said = capsys.readouterr().err
    assert "README.md" in said
    assert "Nothing has been written" in said
    assert [one.name for one in tmp_path.iterdir()] == ["README.md"]
    assert (tmp_path / "README.md").read_text(encoding="utf-8") == "# My own\n"
    (tmp_path / "README.md").unlink()
    (tmp_path / "README.md").mkdir()
    with pytest.raises(BadInput, match="not-ours"):
        rule_pages.put(tmp_path, PAGES)


def test_a_file_in_the_place_of_the_folder_and_no_cases_are_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x", encoding="utf-8")
    with pytest.raises(BadInput, match="not-a-folder"):
        rule_pages.put(tmp_path / "file", PAGES)
    with pytest.raises(BadInput, match="not-written"):
        rule_pages.put(tmp_path / "file" / "below", PAGES)
    with pytest.raises(BadInput, match="no-cases"):
        rule_pages.cases_in(tmp_path)


@pytest.mark.parametrize("fails_at", ["write_text", "rename"])
def test_a_disk_that_fails_leaves_the_pages_as_they_stood(
    fails_at: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    into = tmp_path / "into"
    rule_pages.put(into, {"README.md": PAGES["README.md"]})
    real, calls = getattr(Path, fails_at), [0]

    def fails(self: Path, *args: object, **more: object) -> object:
        # The folder that stands is moved aside first; what fails is putting the new one in its place.
        if self.name not in (into.name, "old"):
            calls[0] += 1
            raise OSError(28, "No space left on device")
        return real(self, *args, **more)

    monkeypatch.setattr(Path, fails_at, fails)
    with pytest.raises(BadInput, match="not-written"):
        rule_pages.put(into, PAGES)
    monkeypatch.undo()
    assert calls[0] == 1
    assert {one.name: one.read_text(encoding="utf-8") for one in into.iterdir()} == {"README.md": PAGES["README.md"]}
    assert [one.name for one in tmp_path.iterdir()] == ["into"]
