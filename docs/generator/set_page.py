"""The page of one rule set: dates first, then volts and currents by class, then the rest down to each figure."""

from __future__ import annotations

import importlib
from collections.abc import Iterable, Iterator, Mapping

from app.decision.domain.declarations import Kind
from app.decision.domain.limits import HousePolicy, RuleSet
from app.decision.rulesets import sets
from app.outputs.documents.figure_words import (
    Named,
    between_words,
    class_words,
    figure,
    kind_words,
    never_words,
    reused_words,
)
from app.words.saying import listed, say
from app.words.vocabulary import KINDS, RULES
from docs.generator.blocks import Block, Drawing, Grid, Heading, Line, Link, Listing, Page, Paragraph
from docs.generator.class_blocks import bare, currents, volts
from docs.generator.edge_days import clocks, edges, issue_words
from docs.generator.figure_rows import counted, every_figure, legend, some_kinds
from docs.generator.page_parts import (
    about,
    by_clause,
    cautions,
    figure_grid,
    looser_grid,
    rule_file,
    set_picture,
)
from docs.generator.page_words import REPAIR_WORDS
from docs.generator.set_gaps import cannot_serve
from docs.generator.sources_page import cited


def set_page(rule_set: RuleSet, kinds: Mapping[str, Kind], house: HousePolicy) -> Page:
    """Everything a set holds, in the order in which somebody at the bench asks for it."""
    figures = every_figure(rule_set)
    letters = [one.letter for one in figures] + [one.confidence for one in rule_set.clauses.values()]
    blocks: tuple[Block, ...] = (
        *cautions(rule_set),
        *_in_short(rule_set, figures),
        Heading(say("pages.set.cannot", {})),
        Listing(cannot_serve(rule_set, kinds)),
        *_clocks(rule_set),
        *_edge_days(rule_set),
        *volts(rule_set, house),
        *currents(rule_set),
        *bare(rule_set),
        *_repairs(rule_set),
        *_asks(rule_set),
        *_looser(rule_set),
        *_unseen(figures),
        *_others(rule_set),
        Heading(say("pages.all.heading", {})),
        Paragraph(say("pages.all.about", {})),
        figure_grid(figures),
        Paragraph(legend([*letters, "H"])),
    )
    return Page(rule_set.title, blocks, say("pages.marker", {}))


def _in_short(rule_set: RuleSet, figures: tuple[Named, ...]) -> Iterator[Block]:
    by = counted(one.letter for one in figures)
    said = [say("pages.set.figures-by", {"count": count, "letter": letter}) for letter, count in by]
    points = [
        say("pages.set.edition", {"edition": rule_set.edition}),
        say("pages.set.system", {"system": rule_set.class_system}),
        say("pages.set.covers", {"kinds": kind_words(rule_set.covers)}),
        say("pages.set.figures", {"count": len(figures), "by": listed(said)}),
    ]
    unseen = sum(one.letter == "M" for one in figures)
    if unseen:
        points.append(say("pages.set.unseen", {"count": unseen}))
    if rule_set.scales_with_frequency:
        points.append(say("pages.set.frequency", {}))
    if rule_set.longest_is_open:
        points.append(say("pages.set.open", {}))
    if rule_set.bare_only:
        points.append(say("pages.set.bare-only", {"classes": class_words(rule_set.bare_only)}))
    yield Heading(say("pages.set.in-short", {}))
    yield Listing(tuple(points))
    yield Heading(say("pages.set.what", {}))
    module = importlib.import_module(f"{sets.__name__}.{rule_set.key.replace('-', '_')}")
    yield from (Paragraph(text) for text in about(module))


def _clocks(rule_set: RuleSet) -> Iterator[Block]:
    yield Heading(say("pages.set.clocks", {}))
    found = clocks(rule_set)
    if found:
        yield Paragraph(say("pages.set.clocks-about", {}))
        rows = tuple(
            (
                one.letter, kind_words(one.kinds), one.only, never_words(one.interval),
                between_words(one.interval), reused_words(one.interval), cited(one.interval.clause),
                one.interval.confidence,
            )
            for one in found
        )  # fmt: skip
        heads = (
            say("pages.head.clock", {}), say("pages.head.kind", {}), say("pages.head.only", {}),
            say("pages.head.never", {}), say("pages.head.between", {}), say("pages.head.reused", {}),
            say("pages.head.clause", {}), say("pages.head.letter", {}),
        )  # fmt: skip
        yield Grid(heads, rows)
    asked_by_class = (one for one in found if one.interval.classes)
    points = [
        say("pages.set.no-clock-class", {"kinds": kind_words(one.kinds), "classes": class_words(one.interval.classes)})
        for one in asked_by_class
    ]
    silent = [kind for kind in rule_set.covers if not rule_set.intervals.get(kind)]
    if silent:
        points.append(say("pages.set.no-clock", {"kinds": kind_words(silent)}))
    if points:
        yield Listing(tuple(points))


def _edge_days(rule_set: RuleSet) -> Iterator[Block]:
    yield Heading(say("pages.edge.heading", {}))
    found = [edge for clock in clocks(rule_set) for edge in edges(clock)]
    if not found:
        yield Paragraph(say("pages.edge.no-clock", {}))
        return
    yield Paragraph(say("pages.edge.about", {}))
    heads = (
        say("pages.head.number", {}), say("pages.head.situation", {}), say("pages.head.tested", {}),
        say("pages.head.first-issue", {}), say("pages.head.last-good", {}), say("pages.head.due", {}),
        say("pages.head.decides", {}),
    )  # fmt: skip
    yield Grid(heads, tuple(
        (
            one.number, one.situation, str(one.tested), issue_words(one.first_issue), str(one.last_good),
            str(one.due_on), one.decides,
        )
        for one in found
    ))  # fmt: skip
    yield Drawing(say("pages.edge.title", {"set": rule_set.title}), set_picture(rule_set.key))


def _repairs(rule_set: RuleSet) -> Iterator[Block]:
    yield Heading(say("pages.repairs.heading", {}))
    if not rule_set.repairs:
        yield Paragraph(say("pages.repairs.none", {}))
        return
    basis = rule_set.basis("repair-allowed", next(iter(rule_set.repairs)))
    yield Paragraph(say("pages.repairs.clause", {"clause": basis.clause, "letter": basis.confidence}))
    heads = (
        say("pages.head.kind", {}), say("pages.head.allowed", {}), say("pages.head.refused", {}),
        say("pages.head.where", {}), say("pages.head.must-remain", {}),
    )  # fmt: skip
    yield Grid(heads, tuple(_repair(rule_set, kind) for kind in rule_set.repairs))


def _repair(rule_set: RuleSet, kind: str) -> tuple[Line, ...]:
    text = rule_set.repairs[kind]
    place, least = rule_set.limits.get(text.place), rule_set.limits.get(text.least)
    ways = [
        ", ".join(REPAIR_WORDS[one] for one in part) or say("pages.none", {}) for part in (text.allowed, text.refused)
    ]
    where = say("figure-of.dash", {}) if not text.allowed else say("pages.repairs.anywhere", {})
    remains = say("figure-of.dash", {})
    if place is not None:
        where = say("pages.clause-and-letter", {"clause": place.clause, "letter": place.confidence})
    if least is not None:
        side = say("pages.repairs.remain", {"mm": figure(least)})
        stands = say("pages.clause-and-letter", {"clause": least.clause, "letter": least.confidence})
        remains = f"{side}; {stands}"
    return KINDS[kind], *ways, where, remains


def _asks(rule_set: RuleSet) -> Iterator[Block]:
    yield Heading(say("pages.asks.heading", {}))
    yield Paragraph(say("pages.asks.about", {}))
    rules = dict.fromkeys(rule for asked in rule_set.covers.values() for rule in asked)
    heads = (
        say("pages.head.rule", {}), say("pages.head.of-kinds", {}), say("pages.head.clause", {}),
        say("pages.head.letter", {}),
    )  # fmt: skip
    rows = []
    for rule in rules:
        kinds = [kind for kind, asked in rule_set.covers.items() if rule in asked]
        rows += [
            (
                Link(RULES[rule], rule_file(rule)),
                some_kinds(some, rule_set.covers),
                cited(basis.clause),
                basis.confidence,
            )
            for basis, some in by_clause(rule_set, rule, kinds)
        ]
    yield Grid(heads, tuple(rows))


def _looser(rule_set: RuleSet) -> Iterator[Block]:
    yield Heading(say("pages.looser.heading", {}))
    if not rule_set.offers:
        yield Paragraph(say("pages.looser.none", {}))
        return
    yield Paragraph(say("pages.looser.about", {}))
    yield looser_grid(rule_set.offers)


def _unseen(figures: Iterable[Named]) -> Iterator[Block]:
    unseen = tuple(one for one in figures if one.letter == "M")
    yield Heading(say("pages.unseen.heading", {}))
    if not unseen:
        yield Paragraph(say("pages.unseen.none", {}))
        return
    yield Paragraph(say("pages.unseen.about", {}))
    yield figure_grid(unseen, letters=False)


def _others(rule_set: RuleSet) -> Iterator[Block]:
    """What stands in no table above."""
    shown = ("use/", "retest/", "withstand/", "current/", "bare/")
    own = tuple(table.prefix for table in rule_set.tables.values() if table.prefix)
    placed = {one for text in rule_set.repairs.values() for one in (text.place, text.least)}
    placed |= {table.leans_on for table in rule_set.tables.values()}
    left = [
        one for key, one in rule_set.limits.items() if not key.startswith((*shown, *own)) and key not in placed
    ]  # fmt: skip
    if left:
        yield Heading(say("pages.other.heading", {}))
        keys = {one.key for one in left}
        yield figure_grid(tuple(one for one in every_figure(rule_set) if one.key in keys))
