"""A register an older program wrote opens, verifies, shows and judges as that program left it."""

from __future__ import annotations

import json
import lzma
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import select
from sqlalchemy.engine import Connection

from app.compose import open_desk
from app.decision.case.case import read_case
from app.decision.domain import former
from app.decision.domain.entries import Name
from app.decision.judging.worked_cases import run_case
from app.outputs.documents.decision import case_text, kept_values
from app.outputs.documents.history import build, card
from app.register.marks import SCHEMA
from app.register.reads import out
from app.register.reads.out import Decided
from app.register.tables import DECISION
from app.usecases.desk import Desk
from app.usecases.show_piece import show_given, show_history, show_piece
from app.usecases.verify_register import verify_register

STORED = Path(__file__).parent / "stored" / "demo-0.4.0.cuffdate.xz"


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    unpacked = tmp_path_factory.mktemp("stored") / "demo.cuffdate"
    unpacked.write_bytes(lzma.decompress(STORED.read_bytes()))
    return unpacked


@pytest.fixture(scope="module")
def desk(path: Path) -> Iterator[Desk]:
    opened = open_desk(path)[0]
    yield opened
    opened.store.close()


@pytest.fixture(scope="module")
def decisions(desk: Desk) -> list[Decided]:
    def every(connection: Connection) -> list[Decided]:
        names = connection.execute(select(DECISION.c.book, DECISION.c.entry)).fetchall()
        return [found for name in names if (found := out.decision(connection, Name(*name))) is not None]

    return desk.ask(every)


def raw_answers(desk: Desk) -> dict[Name, dict[str, object]]:
    """What the older program stored, as it stands in its column."""
    rows = desk.ask(lambda connection: connection.execute(DECISION.select()).fetchall())
    return {Name(row.book, row.entry): row.proof for row in rows}


def test_it_is_brought_to_the_newest_form_with_a_copy_beside_and_is_whole(desk: Desk, path: Path) -> None:
    assert desk.ask(lambda connection: connection.exec_driver_sql("PRAGMA user_version").scalar()) == SCHEMA
    assert len(list(path.parent.glob("*.before-migration-*"))) == 1
    found = verify_register(desk)
    assert (found.damage, found.lines) == ((), 1_788)


def test_every_decision_is_exported_and_judged_to_what_it_recorded(decisions: list[Decided]) -> None:
    assert len(decisions) == 70
    for decided in decisions:
        (case,) = tomllib.loads(case_text(decided.proof, "decision"))["case"]
        assert case["expect"]["decision"] == decided.decision
        result = run_case(read_case(case))
        assert (result.state, result.why) == ("passed", ""), decided.name


def test_the_export_says_what_the_stored_text_said(desk: Desk, decisions: list[Decided]) -> None:
    stored = raw_answers(desk)
    for decided in decisions:
        before = read_case(tomllib.loads(str(stored[decided.name]["case"]))["case"][0])
        after = read_case(tomllib.loads(case_text(decided.proof, "decision"))["case"][0])
        assert (after.pieces, after.job, after.person, after.second) == (
            before.pieces, before.job, before.person, before.second,
        )  # fmt: skip
        assert (after.site, after.on, after.until, after.rule_sets) == (
            before.site, before.on, before.until, before.rule_sets,
        )  # fmt: skip
        assert sorted(after.expected, key=repr) == sorted(before.expected, key=repr)


def test_every_decision_shows_with_its_sentences_and_the_names_of_today(decisions: list[Decided]) -> None:
    rules = set()
    for decided in decisions:
        values = kept_values(decided.proof.answer)
        assert values["decision"] == decided.decision
        assert all(finding["says"] for finding in values["findings"])
        rules |= {finding["rule"] for finding in values["findings"]}
        assert json.loads(json.dumps(values)) == values
    assert rules.isdisjoint(former.RULES)
    assert set(former.RULES.values()) & rules


@pytest.mark.parametrize("subject", ["G001", "P01", "decision"])
def test_histories_read_in_the_words_of_today(subject: str, desk: Desk, decisions: list[Decided]) -> None:
    code = decisions[0].person if subject == "decision" else subject
    written, lines = show_history(desk, code)
    document = build(written, lines, desk.zone(), show_given(desk, written))
    text = repr(document)
    assert len(lines) >= 1
    for word in ("look-over", "harmless", "looked-over"):
        assert word not in text


def test_a_card_reads_in_the_words_of_today(desk: Desk) -> None:
    text = repr(card(show_piece(desk, "G001"), desk.zone()))
    for word in ("look-over", "harmless", "looked-over"):
        assert word not in text
