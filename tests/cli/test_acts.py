"""Commands are declared whole: every one has its texts, its options, and a use case that takes what is given."""

from __future__ import annotations

import argparse
import inspect
import json
from pathlib import Path

import pytest

from app.cli.acts import ACTS
from app.cli.arguments import OWN_FILE, Parser, command_of
from app.cli.help_texts import about, option
from app.cli.program import COMMANDS
from app.words.catalogue import CATALOGUE
from tests.conftest import Cli


def actions_of(name: str) -> list[argparse.Action]:
    parser = Parser(prog=name)
    parser.add_argument("--json", action="store_true")
    command_of(name).add_arguments(parser)
    return parser._actions


def test_every_command_is_declared_once() -> None:
    assert len(COMMANDS) == len(set(COMMANDS))
    assert set(COMMANDS) == OWN_FILE | set(ACTS)
    assert not OWN_FILE & set(ACTS)


@pytest.mark.parametrize("name", COMMANDS)
def test_help_shows_what_the_command_and_each_of_its_options_is_for(
    name: str, cli: Cli, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        cli(name, "--help")
    shown = capsys.readouterr().out.split()
    together = "".join(shown)
    assert ended.value.code == 0
    assert about(name).replace(" ", "") in together
    for action in actions_of(name):
        assert option(name, action.dest).replace(" ", "") in together
        assert all(word in together for word in action.option_strings)


@pytest.mark.parametrize("name", ACTS)
def test_the_use_case_takes_what_its_command_gives(name: str) -> None:
    act = ACTS[name]
    taken = inspect.signature(act.call()).parameters
    assert list(taken)[:2] == ["desk", "by"]
    assert set(list(taken)[2:]) == {given.name for given in act.given if given.reads}


def test_no_help_text_is_idle() -> None:
    used = {f"help/{name}" for name in COMMANDS}
    for name in COMMANDS:
        for action in actions_of(name):
            own = f"help/{name}/{action.dest}"
            used.add(own if own in CATALOGUE else f"help/option/{action.dest}")
    texts = {key for key in CATALOGUE if key.startswith("help/") and not key.startswith("help/listed/")}
    assert texts == used


def test_one_act_is_entered_as_its_declaration_says(cli: Cli, tmp_path: Path) -> None:
    store = f"{tmp_path}/crib.cuffdate"
    assert cli("add", "person", "P01", "--store", store, "--by", "P01").status == 0
    assert cli("add", "crib", "Bus hall", "--store", store, "--by", "P01").status == 0
    assert cli("add", "piece", "G1", "kind=rubber-gloves", "class=0", "--store", store, "--by", "P01").status == 0
    assert cli("hold", "G1", "--why", "wet", "--store", store, "--by", "P01").status == 0
    entered = json.loads(cli("history", "G1", "--store", store, "--json").out)
    assert "wet" in json.dumps(entered)
