"""Under its --help a command lists the words it takes, from where they are declared."""

from __future__ import annotations

import pytest

from app.cli.allowed import words_of
from app.cli.program import COMMANDS
from app.decision.fields.words import DEFECTS, EVENTS, SCOPES
from app.decision.judging.catalogues import catalogues
from app.usecases.hold_piece import WHY
from tests.conftest import Cli


@pytest.mark.parametrize(
    ("command", "words"),
    [
        ("log", (*EVENTS, *DEFECTS, "failed")), ("return", DEFECTS), ("hold", WHY), ("repair", ("patched", "cuff")),
        ("check", tuple(catalogues().tasks)), ("issue", tuple(catalogues().tasks)),
        ("add", (*catalogues().kinds, *SCOPES)), ("rules", ("margin_percent", "rule_sets")),
    ],
)  # fmt: skip
def test_the_words_a_command_takes_are_listed_whole(
    command: str, words: tuple[str, ...], cli: Cli, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit):
        cli(command, "--help")
    listed = capsys.readouterr().out.replace(",", " ").split()
    assert set(words) <= set(listed)


def test_no_list_is_of_a_command_there_is_not_and_none_names_what_may_not_be_set() -> None:
    assert {name for name in COMMANDS if words_of(name)} == {
        "check", "issue", "log", "return", "hold", "repair", "add", "rules",
    }  # fmt: skip
    assert "demo_day" not in words_of("rules")
    assert words_of("no such") == ""
