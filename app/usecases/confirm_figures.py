"""Tick off figures nobody had seen in the standard itself: by name, on a day, against a document; or take one back."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from app.decision.domain import former
from app.decision.domain.electrical_test import Note
from app.decision.domain.entries import Name
from app.decision.domain.errors import BadInput
from app.decision.fields.reading import nearest
from app.decision.judging.answers import Saved
from app.decision.judging.catalogues import catalogues, rule_sets_of
from app.decision.judging.figures_known import FigureKnown, every_figure, figures_of
from app.register.canonical import canonical
from app.register.journal import SITE_BOOK
from app.register.reads import register, site_rules
from app.register.reads.site_rules import OF_A_FIGURE, Confirmation
from app.register.unit import Unit
from app.usecases.books import the_site
from app.usecases.desk import Desk


def confirm_figures(desk: Desk, by: str, figures: Iterable[str], document: str | None, on: date | None = None) -> Saved:
    """Enter that `by` saw these figures in this document, on this day or today; all of them or none.

    BadInput for a figure nobody knows or that needs no confirmation, for no document, and where all of it stands so.
    """
    with desk.write(by, books=the_site) as unit:
        stand = put_confirmations(unit, by, figures, document, _day(desk, on))
        if stand and not unit.names:
            entries = tuple(f"{SITE_BOOK}:{confirmation.entry}" for confirmation in stand)
            raise BadInput(
                "entry.stands", thing=", ".join(confirmation.figure for confirmation in stand), entry=entries
            )
        told = [
            Note("saved.figure-stands", {"figure": confirmation.figure, "entry": f"{SITE_BOOK}:{confirmation.entry}"})
            for confirmation in stand
        ]
        return Saved(tuple(unit.names), (*told, _left(unit)))


def put_confirmations(
    unit: Unit, by: str, figures: Iterable[str], document: str | None, on: date
) -> list[Confirmation]:  # fmt: skip
    """Write each confirmation in a row of its own; answers those that stood so already and were left."""
    wanted = _named(figures)
    if not wanted:
        raise BadInput("rules.no-figure", thing="rules confirm")
    known = every_figure()
    for figure in wanted:
        _is_waiting(known, figure)
    if document is None or not document.strip():
        raise BadInput("rules.confirm-document", thing=", ".join(wanted))
    there = unit.read(site_rules.confirmations)
    stand: list[Confirmation] = []
    for figure in wanted:
        last = there.get(figure)
        # The day is not asked: seen again in the same document by the same person is the same confirmation.
        if last is not None and (last.by, last.document) == (by, document.strip()):
            stand.append(last)
            continue
        _put(unit, figure, {"value": canonical(on.isoformat()), "approved_by": by, "reason": document.strip()})
    return stand


def withdraw_confirmations(desk: Desk, by: str, figures: Iterable[str], reason: str | None) -> Saved:
    """Take confirmations back: the figures wait to be seen in print again. BadInput where one is not confirmed."""
    with desk.write(by, books=the_site) as unit:
        there = unit.read(site_rules.confirmations)
        wanted = _named(figures)
        if not wanted:
            raise BadInput("rules.no-figure", thing="rules unconfirm")
        for figure in wanted:
            if figure not in there:
                _is_waiting(every_figure(), figure)
                raise BadInput("rules.not-confirmed", thing=figure)
        if reason is None or not reason.strip():
            raise BadInput("rules.unconfirm-reason", thing=", ".join(wanted))
        for figure in wanted:
            _put(unit, figure, {"reason": reason.strip()})
        told = (Note("saved.unconfirmed", {"figure": figure}) for figure in wanted)
        return Saved(tuple(unit.names), tuple(told))


def _named(figures: Iterable[str]) -> list[str]:
    return list(dict.fromkeys(former.FIGURES.get(figure, figure) for figure in figures))


def figures_now(
    desk: Desk, sets: Iterable[str] = (), *, unseen: bool = False
) -> tuple[tuple[FigureKnown, ...], Mapping[str, Confirmation], tuple[str, ...]]:
    """The figures of these sets, or of the site's, with house policy; who confirmed which; and the sets' titles.

    `unseen`: only the confirm-in-print list, figures from memory that nobody has confirmed.
    """
    confirmed = desk.ask(site_rules.confirmations)
    depot = desk.ask(site_rules.depot_rules)
    known, chosen = catalogues().rule_sets, list(dict.fromkeys(sets))
    for key in chosen:
        if key not in known:
            raise BadInput("rules.unknown-set", thing=key, nearest=nearest(key, known), known=tuple(known))
    rule_sets = tuple(known[key] for key in chosen) or rule_sets_of(depot)
    figures = figures_of(rule_sets)
    if unseen:
        figures = _waiting(figures, confirmed)
    zone = desk.zone()
    return figures, {
        key: seen if seen.on is not None else _with_day(seen, seen.at.astimezone(zone).date())
        for key, seen in confirmed.items()
    }, tuple(rule_set.title for rule_set in rule_sets)  # fmt: skip


def _with_day(confirmation: Confirmation, day: date) -> Confirmation:
    return Confirmation(
        confirmation.figure, confirmation.by, day, confirmation.document, confirmation.entry, confirmation.at
    )


def _waiting(figures: Iterable[FigureKnown], confirmed: Mapping[str, Confirmation]) -> tuple[FigureKnown, ...]:
    return tuple(figure for figure in figures if figure.is_from_memory and figure.key not in confirmed)


def _day(desk: Desk, on: date | None) -> date:
    today = desk.today()
    if on is not None and on > today:
        raise BadInput("entry.ahead", thing=str(on), today=str(today))
    return on or today


def _is_waiting(known: Mapping[str, FigureKnown], key: str) -> None:
    """BadInput for a figure that stands nowhere, or one whose letter says where it was seen."""
    if key not in known:
        raise BadInput("rules.unknown-figure", thing=key, nearest=nearest(key, known))
    if not known[key].is_from_memory:
        raise BadInput("rules.figure-seen", thing=key, letter=known[key].figure.confidence)


def _put(unit: Unit, figure: str, content: Mapping[str, object]) -> Name:
    key = f"{OF_A_FIGURE}{figure}"
    revision = unit.read(lambda connection: register.newest_revision(connection, "site_rule", key=key)) + 1
    # The line is about the figure, so that its history is found under the key the list shows.
    return unit.add(SITE_BOOK, "site_rule", figure, {"key": key, "revision": revision, **content})


def _left(unit: Unit) -> Note:
    rule_sets = rule_sets_of(unit.read(site_rules.depot_rules))
    left = _waiting(figures_of(rule_sets), unit.read(site_rules.confirmations))
    return Note("saved.figures-left", {"count": len(left)})
