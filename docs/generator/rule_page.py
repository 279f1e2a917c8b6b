"""The page of one rule: what it asks, who asks it of what, on which clause, and every sentence it can answer with."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from fnmatch import fnmatchcase

from app.decision.domain.finding import Outcome
from app.decision.domain.rule import Rule
from app.decision.judging.catalogues import Catalogues
from app.outputs.documents.figure_words import of_limit
from app.words.saying import say
from app.words.vocabulary import OUTCOMES, RULES
from docs.generator.blocks import Block, Code, Grid, Heading, Inline, Line, Link, Listing, Page, Paragraph
from docs.generator.figure_rows import legend, some_kinds
from docs.generator.page_parts import HOUSE, about, by_clause, cautions, figure_grid, set_file
from docs.generator.page_words import RENEWAL_WORDS
from docs.generator.rule_says import Source, house_keys, outcomes, shown
from docs.generator.sources_page import cited

# file of worked cases -> rule -> ids
Cases = Mapping[str, Mapping[str, tuple[str, ...]]]


def rule_page(rule: Rule, known: Catalogues, source: Source, cases: Cases) -> Page:
    """Everything somebody asks of a demand."""
    words, source_words = _parted(about(sys.modules[rule_module(rule)]))
    first, *rest = words
    blocks: tuple[Block, ...] = (
        Paragraph(first, is_strong=True),
        *cautions(),
        *(Paragraph(text) for text in rest),
        Listing((
            say("pages.rule.renewal", {"renewal": RENEWAL_WORDS[rule.renewal.value]}),
            *_source(rule.source, source_words),
        )),
        *_asked(rule.key, known),
        *_figures(known, source),
        *_says(rule.key, source),
        *_cases(rule.key, cases),
        Paragraph(legend(_letters(rule.key, known, source))),
    )  # fmt: skip
    return Page(RULES[rule.key], blocks, say("pages.marker", {}))


def _parted(words: tuple[str, ...]) -> tuple[list[str], str]:
    """What the rule says of itself, and the source it names at the end."""
    last, mark, source = words[-1].partition("Source: ")
    kept = [*words[:-1], *([last.strip()] if last.strip() else [])]
    return (kept, source) if mark else ([*words], "")


def _source(short: str, full: str) -> Iterator[str]:
    """Where the demand comes from; in one line where the full one begins with the short one."""
    if not full.startswith(short):
        yield say("pages.rule.source", {"source": short})
    if full:
        yield say("pages.rule.source", {"source": full.removesuffix(".")})


def rule_module(rule: Rule) -> str:
    """The module a rule is declared in."""
    check = getattr(rule, "check", None)
    assert check is not None
    return str(check.__module__)


def askers(key: str, known: Catalogues) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Who asks a rule, "" for house policy or a set's key, with the kinds; () where it is not asked by kind."""
    house = tuple(kind for kind, rules in known.house.covers.items() if key in rules)
    found = [("", house)] if house or key in (*known.house.kit, *known.house.circuit) else []
    for name, rule_set in known.rule_sets.items():
        kinds = tuple(kind for kind, rules in rule_set.covers.items() if key in rules)
        if kinds:
            found.append((name, kinds))
    return tuple(found)


def _asked(key: str, known: Catalogues) -> Iterator[Block]:
    yield Heading(say("pages.rule.asked", {}))
    if key in known.house.kit:
        yield Paragraph(say("pages.rule.asked-kit", {}))
    if key in known.house.circuit:
        yield Paragraph(say("pages.rule.asked-circuit", {}))
    rows: list[tuple[Line, ...]] = []
    for name, kinds in askers(key, known):
        if not kinds:
            continue
        who: Inline = Link(say("pages.house.title", {}), HOUSE)
        covered = known.rule_sets[name].covers if name else known.house.covers
        clause, letter = say("pages.asks.house", {}), "H"
        if name:
            who = Link(known.rule_sets[name].title, set_file(name))
            rows += [
                (who, some_kinds(some, covered), cited(basis.clause), basis.confidence)
                for basis, some in by_clause(known.rule_sets[name], key, kinds)
            ]
            continue
        rows.append((who, some_kinds(kinds, covered), clause, letter))
    if rows:
        heads = (
            say("pages.head.who", {}), say("pages.head.of-kinds", {}), say("pages.head.clause", {}),
            say("pages.head.letter", {}),
        )  # fmt: skip
        yield Grid(heads, tuple(rows))
    elif not askers(key, known):
        yield Paragraph(say("pages.rule.asked-nobody", {}))


def _house_limits(known: Catalogues, source: Source) -> tuple[str, ...]:
    patterns = house_keys(source)
    return tuple(key for key in known.house.limits if any(fnmatchcase(key, one) for one in patterns))


def _figures(known: Catalogues, source: Source) -> Iterator[Block]:
    keys = _house_limits(known, source)
    if keys:
        yield Heading(say("pages.rule.figures", {}))
        yield figure_grid(tuple(of_limit(known.house.limits[key]) for key in keys))


def _says(key: str, source: Source) -> Iterator[Block]:
    found = outcomes(key, source)
    alone = (
        (frozenset({Outcome.MET}), say("pages.rule.outcome-met", {})),
        (frozenset({Outcome.NOT_MET}), say("pages.rule.outcome-not-met", {})),
        (frozenset({Outcome.CANNOT_TELL}), say("pages.rule.outcome-cannot-tell", {})),
        (frozenset({Outcome.CAUTION}), say("pages.rule.outcome-caution", {})),
    )
    mixed = {of: _several(of) for of in found.values() if len(of) > 1}
    yield Heading(say("pages.rule.says", {}))
    for outcome, heading in (*alone, *mixed.items()):
        said = [shown(one, key) for one, of in found.items() if of == outcome]
        if said:
            yield Heading(heading, 3)
            yield Listing(tuple(dict.fromkeys(said)))


def _several(outcome: frozenset[Outcome]) -> str:
    words = " / ".join(OUTCOMES[one.value] for one in Outcome if one in outcome)
    return say("pages.rule.outcome-several", {"outcomes": words}).capitalize()


def _cases(key: str, cases: Cases) -> Iterator[Block]:
    yield Heading(say("pages.rule.cases", {}))
    found = {file: by_rule[key] for file, by_rule in cases.items() if key in by_rule}
    if not found:
        yield Paragraph(say("pages.rule.cases-none", {}))
        return
    yield Paragraph(say("pages.rule.cases-about", {"count": sum(map(len, found.values()))}))
    yield Listing(tuple((Code(file), f": {', '.join(ids)}") for file, ids in found.items()))


def _letters(key: str, known: Catalogues, source: Source) -> list[str]:
    """Every letter that stands on the page."""
    said = [known.house.limits[one].confidence for one in _house_limits(known, source)]
    said += [
        basis.confidence
        for name, kinds in askers(key, known)
        if name
        for basis, _ in by_clause(known.rule_sets[name], key, kinds)
    ]
    return [*said, "H"]
