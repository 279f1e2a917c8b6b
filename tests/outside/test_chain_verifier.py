"""The journal's chain held by a verifier that knows only its description (the docstring of app/register/journal.py).

Nothing of the program is used between the marks: sqlite3 and hashlib alone.
"""

from __future__ import annotations

import hashlib
import shutil
import sqlite3
from pathlib import Path

import pytest

from app.usecases.correct_entry import correct_entry
from app.usecases.hold_piece import hold_piece
from app.usecases.issue_kit import issue_kit
from app.usecases.return_kit import return_kit
from tests.fakes import KIT, question, stocked

# ------------------------------------------------------------------ written from the description alone
BYTES = {
    "crib": 1, "person": 2, "system": 3, "circuit": 4, "site_rule": 5, "piece": 6, "record": 7, "decision": 8, "bag": 9,
    "alias": 10, "stocktake": 11,
}  # fmt: skip


def broken(file: Path) -> list[str]:
    """Names of lines that do not follow: a gap, a wrong forerunner, a hash its text does not give."""
    register = sqlite3.connect(file)
    lines = register.execute(
        "SELECT book, number, at, actor, kind, subject, revision, content, previous, hash FROM journal "
        "ORDER BY book, number"
    ).fetchall()
    register.close()
    last: dict[str, tuple[int, bytes]] = {}
    found = []
    for book, number, at, actor, kind, subject, revision, content, previous, digest in lines:
        before_number, before_hash = last.get(book, (0, b"\0" * 32))
        text = "\n".join((book, str(number), at, actor, kind, subject, str(revision), content))
        worked_out = hashlib.sha256(bytes([BYTES[kind]]) + previous + text.encode("utf-8")).digest()
        if number != before_number + 1 or previous != before_hash or digest != worked_out:
            found.append(f"{book}:{number}")
        last[book] = (number, digest)
    return found


# ------------------------------------------------------------------ held against the program


@pytest.fixture(scope="module")
def full(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("chain") / "r.cuffdate"
    desk = stocked(path)
    _, name = issue_kit(desk, "P0", question())
    return_kit(desk, "P0", KIT, {"D1": ("cracked",)})
    saved = hold_piece(desk, "P0", ["L1"], "suspect")
    correct_entry(desk, "P0", str(saved.entries[0]), "another pair, \u00e4\u2028 with a line\nfeed")
    desk.store.close()
    assert name is not None
    return path


@pytest.fixture
def register(full: Path, tmp_path: Path) -> Path:
    return Path(shutil.copy(full, tmp_path / "r.cuffdate"))


def test_a_register_full_of_acts_follows_from_its_description(register: Path) -> None:
    assert broken(register) == []


@pytest.mark.parametrize(
    ("column", "value"),
    [
        ("content", "'{}'"), ("actor", "'P9'"), ("at", "'2026-03-02T08:00:00.000000Z'"), ("subject", "'K1'"),
        ("hash", "zeroblob(32)"), ("previous", "zeroblob(32)"), ("revision", "revision + 1"), ("kind", "'bag'"),
    ],
)  # fmt: skip
def test_a_changed_line_does_not(column: str, value: str, register: Path) -> None:
    behind = sqlite3.connect(register)
    behind.execute("DROP TRIGGER journal_no_update")
    behind.execute(f"UPDATE journal SET {column} = {value} WHERE book = 'main' AND number = 9")
    behind.commit()
    behind.close()
    assert "main:9" in broken(register)


def test_a_line_taken_out_leaves_a_gap(register: Path) -> None:
    behind = sqlite3.connect(register)
    behind.execute("DROP TRIGGER journal_no_delete")
    behind.execute("DELETE FROM journal WHERE book = 'main' AND number = 9")
    behind.commit()
    behind.close()
    assert broken(register) == ["main:10"]


def test_one_sign_changed_anywhere_is_named(register: Path) -> None:
    """Every line in turn, one sign of its content changed and put back."""
    behind = sqlite3.connect(register)
    behind.execute("DROP TRIGGER journal_no_update")
    lines = behind.execute("SELECT book, number, content FROM journal").fetchall()
    assert len(lines) > 30
    change = "UPDATE journal SET content = ? WHERE book = ? AND number = ?"
    for at, (book, number, content) in enumerate(lines):
        place = (at * 7) % len(content)
        sign = "x" if content[place] != "x" else "y"
        behind.execute(change, (content[:place] + sign + content[place + 1 :], book, number))
        behind.commit()
        assert broken(register) == [f"{book}:{number}"]
        behind.execute(change, (content, book, number))
        behind.commit()
    behind.close()
    assert broken(register) == []


def test_two_books_do_not_stand_in_for_each_other(register: Path) -> None:
    behind = sqlite3.connect(register)
    behind.execute("DROP TRIGGER journal_no_update")
    behind.execute("PRAGMA foreign_keys = OFF")
    behind.execute("UPDATE journal SET book = 'other' WHERE book = 'main'")
    behind.commit()
    behind.close()
    assert "other:1" in broken(register)
