"""Show one piece's card, or the history of anything the register knows."""

from __future__ import annotations

from datetime import date

from msgspec.structs import replace

from app.decision.domain.electrical_test import Judgement, judge
from app.decision.domain.entries import Name
from app.decision.domain.errors import BadInput
from app.decision.domain.limits import RuleSet, SiteRules
from app.decision.domain.piece import Piece
from app.decision.domain.record import ElectricalTest
from app.decision.fields.reading import nearest
from app.decision.judging.answers import DueQuestion
from app.decision.judging.catalogues import catalogues, rule_sets_of
from app.register.engine import Connection
from app.register.reads import lines, names, out, pieces
from app.register.reads.card import Card
from app.register.reads.given import Given, given_out
from app.register.reads.lines import Line
from app.register.reads.out import Decided
from app.register.reads.site_rules import depot_rules
from app.usecases.desk import Desk
from app.usecases.entering import codes_of
from app.usecases.every_hold import every_hold
from app.usecases.list_shelf import list_shelf

_WORST_FIRST = ("failed", "does-not-count", "passed")


def show_piece(desk: Desk, written: str) -> Card:
    """The card of one piece; BadInput where the code means none, or several."""
    codes = desk.ask(lambda connection: codes_of(connection, [written]))
    if len(codes) != 1:
        raise BadInput("entry.one-piece", thing=written)
    code = codes[0]
    rows = list_shelf(desk, DueQuestion(desk.today(), None, (code,))).rows

    def read(connection: Connection) -> Card:
        kept = pieces.pieces(connection, [code])[code]
        if not rows:
            raise BadInput("kind.not-yet", thing=code, kind=kept.piece.kind)
        depot = depot_rules(connection)
        rules = (depot.site, rule_sets_of(depot))
        return Card(
            kept.piece, rows[0], out.out_now(connection, [code]).get(code),
            tuple(names.labels_of(connection, code)), tuple(lines.lines_about(connection, code)),
            given_out(connection, code), _newest_test(kept.piece, *rules),
            tuple(every_hold(kept.piece, desk.today(), *rules)),
        )  # fmt: skip

    return desk.ask(read)


def _newest_test(piece: Piece, site: SiteRules, rule_sets: tuple[RuleSet, ...]) -> Judgement | None:
    """The newest electrical test that stands, judged under every set of the site; of one day the one entered last."""
    tests = [record for record in piece.records if isinstance(record, ElectricalTest)]
    if not tests:
        return None
    newest = max(reversed(tests), key=lambda test: date.min if test.on is None else test.on.first)
    house = catalogues().house
    # Of several sets the worst result is told, as it is where a test is logged.
    judgements = [judge(newest, piece, rule_set, house, site) for rule_set in rule_sets]
    # What its own figures say is told beside a laboratory's word.
    judgements = [
        _with_figures(judgement, judge(replace(newest, result=None), piece, one_set, house, site))
        for judgement, one_set in zip(judgements, rule_sets, strict=True)
    ]
    return min(judgements, key=lambda judgement: _WORST_FIRST.index(judgement.result), default=None)


def _with_figures(judgement: Judgement, by_figures: Judgement) -> Judgement:
    if judgement.result != "failed" or by_figures.result != "failed" or by_figures.reasons == judgement.reasons:
        return judgement
    return replace(judgement, reasons=(*by_figures.reasons, *judgement.reasons))


def show_given(desk: Desk, subject: str) -> dict[Name, Given]:
    """The decisions a piece went out by; {} for a subject that is no piece."""
    return desk.ask(lambda connection: given_out(connection, subject))


def show_history(desk: Desk, written: str) -> tuple[str, list[Line]]:
    """Every line about a piece, person, system, site rule, bag or crib; BadInput where nothing is entered about it."""

    def read(connection: Connection) -> tuple[str, list[Line]]:
        subject = names.piece_meant(connection, written) or names.bag_named(connection, written)[0]
        entered = lines.lines_about(connection, subject)
        if not entered:
            near = names.nearest_code(connection, written) or nearest(written, lines.subjects(connection))
            raise BadInput("history.nothing", thing=written, nearest=near)
        return subject, entered

    return desk.ask(read)


def decision_named(desk: Desk, written: str) -> Decided | None:
    """The decision of BOOK:NUMBER as it was taken; None where what is written names none."""
    book, _, number = written.rpartition(":")
    if not book or not number.isdigit() or len(number) > 15:
        return None
    return desk.ask(lambda connection: out.decision(connection, Name(book, int(number))))
