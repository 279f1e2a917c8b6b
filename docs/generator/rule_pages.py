"""The pages of docs/rules, put together from the catalogues; a changed declaration changes its page.

An index, a page for each set and each rule, house policy, and the list to confirm in print. Nothing is typed by hand.
"""

from __future__ import annotations

import importlib
import inspect
import json
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

from app.decision.case.case import read_cases
from app.decision.domain.limits import RuleSet, SiteRules
from app.decision.domain.rule import Rule
from app.decision.judging import judge
from app.decision.judging.catalogues import Catalogues
from app.outputs.paper import scene_svg
from app.words.catalogue import CATALOGUE
from app.words.saying import listed, say
from app.words.vocabulary import CLASS_SYSTEMS, RULES
from docs.generator.blocks import Block, Grid, Heading, Line, Link, Listing, Page, Paragraph, comment, render
from docs.generator.edge_days import drawn
from docs.generator.figure_rows import LETTERS, every_figure, house_figures, legend
from docs.generator.house_page import confirm_page, house_page, unseen
from docs.generator.page_parts import CONFIRM, HOUSE, INDEX, rule_file, set_file, set_picture
from docs.generator.page_words import RENEWAL_WORDS
from docs.generator.rule_page import Cases, askers, rule_module, rule_page
from docs.generator.rule_says import HANDED_ON, Source
from docs.generator.set_gaps import has_dc
from docs.generator.set_page import set_page
from docs.generator.sources_page import SOURCES, sources_page

_GLOVES = "rubber-gloves"


HERE = Path(__file__).parent
PAGES = HERE.parent / "rules"
CASES = HERE.parents[1] / "tests" / "decision" / "rulesets" / "cases"


PROSE: dict[str, str] = json.loads((HERE / "words.json").read_text(encoding="utf-8"))


def written(known: Catalogues) -> dict[str, str]:
    """File name -> text of every page and picture, from the declarations and the worked cases of the checkout."""
    with CATALOGUE.spoken(PROSE):
        pages = build(known, sources(known.rules), cases_in(CASES))
        return {**pages, SOURCES: render(sources_page(known))}


def sources(rules: Mapping[str, Rule]) -> dict[str, Source]:
    """The source text of every rule, with that of what runs them and of what they hand on."""
    running = inspect.getsource(judge)
    return {
        key: Source(
            inspect.getsource(sys.modules[rule_module(rule)]), running,
            inspect.getsource(importlib.import_module(HANDED_ON[key])) if key in HANDED_ON else "",
        )
        for key, rule in rules.items()
    }  # fmt: skip


def cases_in(folder: Path) -> Cases:
    """The worked cases of a folder: file -> rule -> ids of the cases that expect an answer of it."""
    cases: dict[str, dict[str, tuple[str, ...]]] = {}
    for file in sorted(folder.glob("*.toml")):
        by_rule = cases.setdefault(file.name, {})
        for case in read_cases(file.read_text(encoding="utf-8"), str(file)):
            for rule in dict.fromkeys(expected.rule for expected in case.expected):
                by_rule[rule] = (*by_rule.get(rule, ()), case.id)
    return cases


def build(known: Catalogues, sources: Mapping[str, Source], cases: Cases) -> dict[str, str]:
    """File name -> text of every page and picture. `sources`: rule -> its source text."""
    pages: dict[str, Page] = {
        INDEX: _index(known),
        HOUSE: house_page(known),
        CONFIRM: confirm_page(known),
        **{set_file(key): set_page(one, known.kinds, known.house) for key, one in known.rule_sets.items()},
        **{rule_file(key): rule_page(one, known, sources[key], cases) for key, one in known.rules.items()},
    }
    written = {name: render(page) for name, page in pages.items()}
    return {**written, **dict(_pictures(known))}


def _pictures(known: Catalogues) -> Iterator[tuple[str, str]]:
    for key, rule_set in known.rule_sets.items():
        scene = drawn(rule_set)
        if scene is not None:
            yield set_picture(key), f"{comment(say('pages.marker', {}))}\n{scene_svg.render(scene)}"


def _index(known: Catalogues) -> Page:
    sets = known.rule_sets.values()
    figures = [one for rule_set in sets for one in every_figure(rule_set)] + [*house_figures(known.house)]
    count = {"count": len(figures), "sets": len(known.rule_sets), "unseen": len(unseen(figures))}
    blocks: tuple[Block, ...] = (
        Paragraph(say("pages.index.about", {})),
        Paragraph(f"{say('pages.read-own-copy', {})} {say('pages.defer', {})}"),
        Paragraph(say("pages.us", {}), is_strong=True),
        Heading(say("pages.index.sets", {})),
        _sets(known),
        Listing((say("pages.index.count", count), legend(one.letter for one in figures))),
        Heading(say("pages.index.more", {})),
        Listing(
            (
                Link(say("pages.house.title", {}), HOUSE),
                Link(say("pages.confirm.title", {}), CONFIRM),
                Link(say("pages.index.sources", {}), SOURCES),
            )
        ),
        Heading(say("pages.index.rules", {})),
        _rules(known),
    )
    return Page(say("pages.index.title", {}), blocks, say("pages.marker", {}))


def _sets(known: Catalogues) -> Grid:
    letters = [one for one in LETTERS if one not in "HD"]
    heads = (
        say("pages.head.set", {}), say("pages.head.edition", {}), say("pages.head.system", {}),
        say("pages.head.gloves", {}), say("pages.head.dc", {}), say("pages.head.kinds", {}),
        say("pages.head.figures", {}), *letters, say("pages.head.unseen", {}),
    )  # fmt: skip
    rows = tuple(_set_row(one, letters) for one in known.rule_sets.values())
    return Grid(heads, rows, frozenset(range(5, 8 + len(letters))))


def _set_row(rule_set: RuleSet, letters: list[str]) -> tuple[Line, ...]:
    figures = every_figure(rule_set)
    by_letter = {letter: sum(one.letter == letter for one in figures) for letter in letters}
    return (
        Link(rule_set.title, set_file(rule_set.key)), rule_set.edition, CLASS_SYSTEMS[rule_set.class_system],
        _gloves(rule_set), say("pages.yes" if has_dc(rule_set) else "pages.no", {}), str(len(rule_set.covers)),
        str(len(figures)), *(str(count) for count in by_letter.values()), str(len(unseen(figures))),
    )  # fmt: skip


def _gloves(rule_set: RuleSet) -> str:
    """When gloves fall due, never issued and in use: what people choose a set by."""
    said = []
    for one in rule_set.intervals.get(_GLOVES, ()):
        values = {"never": one.never, "reused": one.reused, "material": one.material}
        waits = bool(one.shelf) and not SiteRules().counts_as_seen(rule_set.limits[one.shelf])
        key = "pages.index.months-of" if one.material else "pages.index.months"
        said.append(say("pages.index.months-waiting" if waits else key, values))
    return listed(said) or say("pages.none", {})


def _rules(known: Catalogues) -> Grid:
    heads = (say("pages.head.rule", {}), say("pages.head.renewed", {}), say("pages.head.asked-by", {}))
    return Grid(heads, tuple(
        (Link(RULES[key], rule_file(key)), RENEWAL_WORDS[rule.renewal.value], _asked_by(key, known))
        for key, rule in known.rules.items()
    ))  # fmt: skip


def _asked_by(key: str, known: Catalogues) -> str:
    names = [name for name, _ in askers(key, known)]
    said = [say("pages.index.house-and", {})] if "" in names else []
    count = sum(bool(name) for name in names)
    if count:
        said.append(say("pages.index.sets-count", {"count": count}))
    return listed(said) or say("pages.index.nobody", {})
