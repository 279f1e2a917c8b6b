"""Issue a kit: judged again inside the write, from the entries and never from a list; a refusal is recorded too."""

from __future__ import annotations

from app import __version__
from app.decision.domain.entries import Name
from app.decision.domain.errors import BadInput
from app.decision.domain.record import Issue
from app.decision.domain.register import Register
from app.decision.judging.answers import KitAnswer, KitQuestion
from app.register.engine import Connection
from app.register.proof import answer_of, proof_of, reasons
from app.register.reads import out, pieces
from app.register.reads.pieces import Kept
from app.register.unit import Unit
from app.register.writes.statuses import put_out
from app.usecases.books import of_pieces
from app.usecases.check_kit import check_kit
from app.usecases.check_store import kit_meant, refusal, register_for
from app.usecases.desk import Desk
from app.usecases.entering import enter, on_day
from app.usecases.hand_over import not_out
from app.usecases.reserve_pieces import not_kept_for_another


def issue_kit(desk: Desk, by: str, question: KitQuestion) -> tuple[KitAnswer, Name | None]:
    """Issue it where it may be; answers the decision and the name of its entry.

    A refusal is an answer and is recorded once per person, kit and day until something changes (then the entry is
    None). BadInput for a first day before today, a piece that is out, and one reserved for somebody else.
    """
    return decide(desk, by, question, may_issue=True)


def decide(desk: Desk, by: str, question: KitQuestion, *, may_issue: bool) -> tuple[KitAnswer, Name | None]:
    """The same; without `may_issue` only a refusal is entered, and BadInput says that the kit may go out now."""
    with desk.write(by, books=of_pieces(question.kit)) as unit:
        today = desk.today()
        if question.on < today:
            raise BadInput("issue.before-today", thing=str(question.on), today=str(today))
        register, meant = unit.read(lambda connection: _kit(connection, question))
        kept = unit.read(lambda connection: pieces.pieces(connection, meant.kit))
        _not_the_same(unit, meant, kept)
        not_out(unit, kept.values())
        for piece_kept in kept.values():
            not_kept_for_another(piece_kept, (meant.person, meant.second), meant.on, meant.until)
        answer = check_kit(register, meant, with_changes=False)
        if not answer.verdict.may_be_issued:
            answer = unit.read(lambda connection: refusal(connection, register, answer))
            return answer, _refuse(unit, answer, kept)
        if not may_issue:
            raise BadInput("issue.now-allowed", thing=", ".join(meant.kit))
        return answer, _issue(desk, unit, answer, kept)


def _not_the_same(unit: Unit, question: KitQuestion, kept: dict[str, Kept]) -> None:
    """BadInput where this very kit is out with this person by one entry: a second press, and no reason to fetch it."""
    away = unit.read(lambda connection: out.out_now(connection, kept))
    entries = {gone.entry for gone in away.values()}
    if (
        len(away) == len(kept) > 0
        and len(entries) == 1
        and {gone.person for gone in away.values()} == {question.person}
    ):
        raise BadInput("issue.same", thing=question.person, person=question.person, entry=str(entries.pop()))


def _kit(connection: Connection, question: KitQuestion) -> tuple[Register, KitQuestion]:
    meant = kit_meant(connection, question)
    return register_for(connection, meant), meant


def _issue(desk: Desk, unit: Unit, answer: KitAnswer, kept: dict[str, Kept]) -> Name:
    name = _decide(unit, answer, kept)
    question = answer.question
    record = on_day(desk, Issue())
    for piece_kept in kept.values():
        enter(unit, piece_kept, record, of=name)
    unit.flush()
    put_out(
        unit.connection,
        [
            {
                "piece": code, "book": name.book, "entry": name.number, "person": question.person,
                "until_day": question.until.isoformat(),
            }
            for code in kept
        ],
    )  # fmt: skip
    return name


def _decide(unit: Unit, answer: KitAnswer, kept: dict[str, Kept]) -> Name:
    question = answer.question
    book = next(iter(kept.values())).crib
    row = {
        "decision": answer.verdict.decision, "person": question.person, "second": question.second,
        "system": question.system, "circuits": tuple(circuit.key for circuit in answer.facts.job.circuits),
        "task": question.task, "on_day": question.on, "until_day": question.until, "kit": tuple(kept),
        "program": __version__, "proof": proof_of(answer),
    }  # fmt: skip
    return unit.add(book, "decision", question.person, row)


def _refuse(unit: Unit, answer: KitAnswer, kept: dict[str, Kept]) -> Name | None:
    """Record the refusal, unless there is no kit or the same was refused today for the same reasons."""
    question = answer.question
    if not kept:
        return None
    before = unit.read(lambda connection: out.refusals_of(connection, question.person, question.on))
    same = [earlier for earlier in before if sorted(earlier.kit) == sorted(kept) and earlier.system == question.system]
    if same and reasons(same[-1].proof.answer) == reasons(answer_of(answer)):
        return None
    return _decide(unit, answer, kept)
