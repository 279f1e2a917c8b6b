"""The page of house policy, and the list of everything that waits to be seen in print."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from app.decision.domain.declarations import Task
from app.decision.domain.limits import SiteRules
from app.decision.domain.voltage import (
    CELL_MAX_MV,
    CLASS_A_AC_MV,
    CLASS_A_DC_MV,
    INVERTER_RMS_BP,
    SCOPE_AC_MV,
    SCOPE_DC_MV,
)
from app.decision.judging.catalogues import Catalogues
from app.decision.judging.looser import MARGIN
from app.outputs.documents.figure_words import Named
from app.words.saying import listed, say
from app.words.vocabulary import ORIGINS, ROLES, RULES, TASKS
from docs.generator.blocks import Block, Code, Grid, Heading, Inline, Line, Link, Listing, Page, Paragraph
from docs.generator.figure_rows import every_figure, house_figures, legend, some_kinds
from docs.generator.page_parts import cautions, figure_grid, offered_words, rule_file, set_file
from docs.generator.page_words import SCOPE_WORDS, SITE_RULE_WORDS


def house_page(known: Catalogues) -> Page:
    """What no law settles, as shipped, and what of it a site may loosen."""
    house = known.house
    figures = house_figures(house)
    blocks: tuple[Block, ...] = (
        Paragraph(say("pages.house.about", {"edition": house.edition})),
        *cautions(),
        Heading(say("pages.house.margins", {})),
        Grid(
            (say("pages.head.origin", {}), say("pages.head.margin", {})),
            tuple(_margin(origin, bp) for origin, bp in house.margin_bp.items()),
            frozenset({1}),
        ),
        Heading(say("pages.house.volts", {})),
        Paragraph(say("pages.house.volts-about", _lines())),
        Grid(
            (say("pages.head.chemistry", {}), say("pages.head.cell-most", {})),
            tuple((_chemistry(one), say("pages.house.cell", {"v": mv / 1000})) for one, mv in CELL_MAX_MV.items()),
            frozenset({1}),
        ),
        Heading(say("pages.house.tasks", {})),
        _tasks(known.tasks.values()),
        Heading(say("pages.house.site", {})),
        Paragraph(say("pages.looser.about", {})),
        _site_rules(known),
        Heading(say("pages.house.figures", {})),
        figure_grid(figures),
        Heading(say("pages.house.circuit", {})),
        Listing(tuple(_rule_link(rule) for rule in house.circuit)),
        Heading(say("pages.house.kit", {})),
        Listing(tuple(_rule_link(rule) for rule in house.kit)),
        Heading(say("pages.house.kinds", {})),
        Grid((say("pages.head.rule", {}), say("pages.head.of-kinds", {})), tuple(_by_rule(known))),
        Paragraph(legend(one.letter for one in figures)),
    )  # fmt: skip
    return Page(say("pages.house.title", {}), blocks, say("pages.marker", {}))


def _chemistry(key: str) -> str:
    return key.replace("-", " ") if "-" in key else key.upper()


def _lines() -> dict[str, object]:
    """The lines of voltage class A and of scope, and the r.m.s. share of an inverter's link."""
    return {
        "a_dc": CLASS_A_DC_MV / 1000, "a_ac": CLASS_A_AC_MV / 1000, "scope_dc": SCOPE_DC_MV / 1000,
        "scope_ac": SCOPE_AC_MV / 1000, "share": INVERTER_RMS_BP / 10_000,
    }  # fmt: skip


def _margin(origin: str, basis_points: int) -> tuple[str, str]:
    return ORIGINS[origin], say("pages.house.percent", {"percent": basis_points / 100})


def _rule_link(rule: str) -> Link:
    return Link(RULES[rule], rule_file(rule))


def _by_rule(known: Catalogues) -> Iterator[tuple[Line, ...]]:
    covers = known.house.covers
    for rule in dict.fromkeys(one for rules in covers.values() for one in rules):
        kinds = [kind for kind, rules in covers.items() if rule in rules]
        yield _rule_link(rule), some_kinds(kinds, covers)


def _tasks(tasks: Iterable[Task]) -> Grid:
    heads = (
        say("pages.head.task", {}), say("pages.head.roles", {}), say("pages.head.scope", {}),
        say("pages.head.second", {}),
    )  # fmt: skip
    rows = tuple(
        (TASKS[task.key], listed(ROLES[role] for role in task.roles), SCOPE_WORDS[task.scope], _second(task))
        for task in tasks
    )
    return Grid(heads, rows)


def _second(task: Task) -> str:
    if task.second_person == "required":
        return say("pages.house.second-own" if task.second_has_own_gloves else "pages.house.second-required", {})
    is_on = getattr(SiteRules(), task.second_person)
    return say("pages.house.second-on" if is_on else "pages.house.second-off", {})


def _site_rules(known: Catalogues) -> Grid:
    """Each site rule that can be looser: as shipped, what it may become, and who offers that."""
    heads = (
        say("pages.head.site-rule", {}), say("pages.head.shipped", {}), say("pages.head.may-be", {}),
        say("pages.head.offered-by", {}), say("pages.head.key", {}),
    )  # fmt: skip
    rows: list[tuple[Line, ...]] = [
        (
            SITE_RULE_WORDS[MARGIN], say("pages.house.margin-shipped", {}), say("pages.house.margin-range", {}),
            say("pages.asks.house", {}), Code(MARGIN),
        )
    ]  # fmt: skip
    for key, shipped in known.house.shipped.items():
        by_sets = [one for one in known.rule_sets.values() if key in one.offers]
        offered = [*known.house.offers.get(key, ()), *(value for one in by_sets for value in one.offers[key])]
        who: list[Inline] = [say("pages.asks.house", {})] if key in known.house.offers else []
        for one in by_sets:
            who += [*([", "] if who else []), Link(one.title, set_file(one.key))]
        values = offered_words(dict.fromkeys(offered)) or say("pages.none", {})
        rows.append((SITE_RULE_WORDS[key], offered_words([shipped]), values, tuple(who), Code(key)))
    return Grid(heads, tuple(rows))


def confirm_page(known: Catalogues) -> Page:
    """Every figure from memory, set by set and house policy last: the list an officer works off with the documents."""
    parts: list[tuple[str, Inline, tuple[Named, ...]]] = [
        (one.title, Link(one.title, set_file(one.key)), unseen(every_figure(one))) for one in known.rule_sets.values()
    ]
    parts.append((say("pages.house.title", {}), "", unseen(house_figures(known.house))))
    count = sum(len(figures) for *_, figures in parts)
    blocks: list[Block] = [Paragraph(say("pages.confirm.about", {"count": count})), *cautions()]
    for title, _, figures in parts:
        if figures:
            blocks += [Heading(title), figure_grid(figures, letters=False)]
    if not count:
        blocks.append(Paragraph(say("pages.confirm.none", {})))
    return Page(say("pages.confirm.title", {}), tuple(blocks), say("pages.marker", {}))


def unseen(figures: Iterable[Named]) -> tuple[Named, ...]:
    """Those that are from memory."""
    return tuple(one for one in figures if one.letter == "M")
