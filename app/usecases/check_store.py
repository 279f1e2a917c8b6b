"""Check a kit of the register: the same judgement as before an issue, and nothing is written."""

from __future__ import annotations

from msgspec.structs import replace

from app.decision.domain.errors import BadInput
from app.decision.domain.register import Depot, Register
from app.decision.judging.answers import KitAnswer, KitQuestion, OpenIssue
from app.decision.judging.catalogues import catalogues
from app.register.engine import Connection
from app.register.reads import pieces
from app.register.reads.due import candidates
from app.register.reads.out import open_issues
from app.register.reads.register import depot_without_kit
from app.usecases.check_kit import changes_of, check_kit
from app.usecases.desk import Desk
from app.usecases.entering import codes_of

# How many pieces of each kind are looked at for what to change; the nearest due come first.
MOST_OF_EACH = 40


def check_store(desk: Desk, question: KitQuestion) -> KitAnswer:
    """Decide, and look on the shelf for what would turn a refusal."""

    def read(connection: Connection) -> KitAnswer:
        meant = kit_meant(connection, question)
        register = register_for(connection, meant)
        answer = check_kit(register, meant, with_changes=False)
        return answer if answer.verdict.may_be_issued else refusal(connection, register, answer)

    return desk.ask(read)


def kit_meant(connection: Connection, question: KitQuestion) -> KitQuestion:
    """The question with the pieces' own codes for labels and bags; a piece named twice stays twice, and is named."""
    kit = [code for written in question.kit for code in codes_of(connection, [written])]
    return replace(
        question, kit=tuple(kit),
        with_leads=tuple(
            (_code(connection, meter), _code(connection, leads)) for meter, leads in question.with_leads
        ),
    )  # fmt: skip


def _code(connection: Connection, written: str) -> str:
    meant = codes_of(connection, [written])
    if len(meant) != 1:
        raise BadInput("entry.one-piece", thing=written)
    return meant[0]


def register_for(connection: Connection, question: KitQuestion) -> Register:
    """What the question is about, and nothing else of the register."""
    depot: Depot = depot_without_kit(connection)
    kept = pieces.pieces(connection, question.kit)
    return Register(
        depot, {code: shelved.piece for code, shelved in kept.items()}, {c: shelved.crib for c, shelved in kept.items()}
    )


def refusal(connection: Connection, register: Register, answer: KitAnswer) -> KitAnswer:
    """The refusal with what to change, sought among the pieces that could be offered.

    Where a reading contradicts the system's figures, with what is out on them.
    """
    codes = candidates(connection, catalogues().kinds, answer.question.until, MOST_OF_EACH)
    shelf = pieces.pieces(connection, codes)
    offered = {**{code: shelved.piece for code, shelved in shelf.items()}, **register.pieces}
    return KitAnswer(
        answer.question, answer.system, answer.facts, answer.verdict,
        changes_of(replace(register, pieces=offered), answer.facts, answer.verdict), _out_on_it(connection, answer),
    )  # fmt: skip


def _out_on_it(connection: Connection, answer: KitAnswer) -> tuple[OpenIssue, ...]:
    doubted = [stop.subject for stop in answer.verdict.stops if stop.rule == "data-agrees-with-reading"]
    return open_issues(connection, answer.question.system, doubted) if doubted else ()
