"""What of a text did not come from the catalogue, once what is no language has been taken out of it.

No language are: codes and everything with a figure or in capitals; what has to be typed as it is (commands, options, keys
and their words); files; clauses and titles of texts, which are where a figure stands; units; and what people typed.
"""

from __future__ import annotations

import ast
import csv
import re
import tomllib
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

from python_calamine import CalamineWorkbook

from app.cli.arguments import Parser, command_of
from app.cli.program import COMMANDS
from app.decision.fields import words as format_words
from app.decision.judging.catalogues import calculations
from app.decision.kinds import kinds
from app.decision.rules.repair_allowed import CUFF, WAYS
from app.decision.tasks import tasks
from app.usecases.hold_piece import WHY
from app.usecases.set_rule import RULES
from app.window.places.start.kit import ENCODINGS

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "demo_data"
UNITS = frozenset({"mA", "mm", "kV", "Hz", "cal", "min"})
# Names of things: the program's, its libraries', keys of the keyboard, a register's books.
NAMES = frozenset(
    {
        "Cuffdate", "cuffdate", "Python", "SQLAlchemy", "alembic", "portalocker", "resvg", "Babel", "SQLite", "Ctrl",
        "site", "main",
    }
)  # fmt: skip
# A unit behind its figure alone: elsewhere it is an English word.
_INCHES = re.compile(r"(?<=\d) in\b")
_WORD = re.compile(r"[A-Za-z][A-Za-z'’]*")
# With a figure in it, a slash, a colon, an underscore, a hyphen before it or a full stop inside: typed, or a file.
_TOKEN = re.compile(r"[\[({|]*--[a-z-]+|[\w.-]*(?:[0-9_/=\\\\]|\w[.:]\w)\S*")


def plain_words(text: str, typed: Iterable[str] = ()) -> list[str]:
    """The words in plain letters that are none of these; `typed`: what people typed besides the demo's."""
    # Long lines are broken for paper and terminal, and what is looked for with them.
    text = " ".join(text.split())
    for phrase in (*_known(), *sorted(set(typed), key=len, reverse=True)):
        if phrase in text:
            text = re.sub(rf"(?<![\w.-]){re.escape(phrase)}(?![\w-]|\.\w)", " ", text)
    text = _INCHES.sub(" ", text)
    return [
        word for word in _WORD.findall(_TOKEN.sub(" ", text))
        if not word.isupper() and len(word) > 1 and word not in UNITS and word not in NAMES
    ]  # fmt: skip


@cache
def _known() -> tuple[str, ...]:
    """What is no language anywhere, the longest first."""
    phrases = {phrase.strip(" ,;:.") for phrase in (*_keys(), *_sources(), *_demo())}
    return tuple(sorted(phrases - {""}, key=len, reverse=True))


def _choices() -> Iterator[str]:
    """What stands for a choice in the place of an option or word."""
    for name in COMMANDS:
        parser = Parser(prog=name)
        command_of(name).add_arguments(parser)
        for action in parser._actions:
            yield from map(str, action.choices or ())


#: what a command line takes as it is, named where somebody asks what it takes
TYPED = (
    *(word for words in vars(format_words).values() if isinstance(words, tuple) for word in map(str, words)),
    *COMMANDS, *calculations(), *(key for one in calculations().values() for key in one.takes), *RULES, *kinds(), *tasks(), *WHY, *WAYS, *CUFF, *_choices(),
)  # fmt: skip


def _keys() -> Iterator[str]:
    """What is typed as it is; of one word alone only where it has a hyphen, or it would hide words of the language."""
    for words in vars(format_words).values():
        if isinstance(words, tuple):
            yield from (word for word in map(str, words) if "-" in word)
    yield from (*ENCODINGS, "python-dateutil", "python-calamine")
    yield from (word for word in (*COMMANDS, *calculations(), *RULES, *kinds(), *tasks()) if "-" in word or "_" in word)


def _sources() -> Iterator[str]:
    """Clauses, titles and editions stand as their texts have them in every language: all that rules and sets quote."""
    for folder in ("rules", "rulesets"):
        for path in (ROOT / "app" / "decision" / folder).rglob("*.py"):
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Constant) and isinstance(node.value, str) and " " in node.value:
                    # Of several texts the first alone stands beside a reason.
                    yield from (node.value, *node.value.split(";"))


# Columns of the demo's sheet that hold names and people's own words.
_WRITTEN = ("Crib", "Marked to", "Batch", "Test house", "Certificate no.", "Tested to", "With", "Reason", "Description")


def headings() -> set[str]:
    """What the demo's keeper wrote above the columns, and on the sheets."""
    book = CalamineWorkbook.from_path(DEMO / "shelf.xlsx")
    rows = [row for name in book.sheet_names for row in book.get_sheet_by_name(name).to_python()[:5]]
    return {*book.sheet_names, *(str(cell) for row in rows for cell in row if isinstance(cell, str) and cell)}


def _demo() -> Iterator[str]:
    """What people of the demo typed: names, roles, labels, reasons, laboratories, certificates, cribs."""
    for name in ("depot.toml", "history.toml", "checks.toml"):
        yield from _texts(tomllib.loads((DEMO / name).read_text(encoding="utf-8")))
    with (DEMO / "shelf.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file, delimiter=";"))
    heads = rows[1]
    for head in _WRITTEN:
        at = heads.index(head)
        yield from (row[at] for row in rows[2:] if " " in row[at])


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        for inner in value.values():
            yield from _texts(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _texts(inner)
    elif isinstance(value, str):
        written = value.partition("=")[2] or value
        # One word alone is a key, or would hide a word of the language.
        if " " in written:
            yield written
