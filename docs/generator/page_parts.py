"""What the pages of docs/rules share: names of their files, cautions, tables of figures and of looser values."""

from __future__ import annotations

import inspect
from collections.abc import Iterable, Iterator, Mapping
from types import ModuleType

from app.decision.domain.finding import Basis
from app.decision.domain.limits import RuleSet
from app.outputs.documents.figure_words import Named
from app.words.saying import listed, say
from docs.generator.blocks import Block, Code, Grid, Link, Paragraph
from docs.generator.page_words import SITE_RULE_WORDS, SITE_VALUE_WORDS
from docs.generator.sources_page import cited

_PAGE = "md"
INDEX, HOUSE, CONFIRM = (f"{name}.{_PAGE}" for name in ("README", "house-policy", "confirm-in-print"))


def set_file(key: str) -> str:
    """The file of a set's page."""
    return f"set-{key}.{_PAGE}"


def set_picture(key: str) -> str:
    """The file of a set's picture."""
    return f"set-{key}.svg"


def rule_file(key: str) -> str:
    """The file of a rule's page."""
    return f"rule-{key}.{_PAGE}"


def cautions(rule_set: RuleSet | None = None) -> Iterator[Block]:
    """What stands at the head of every page, with the way back."""
    if rule_set is not None and rule_set.key.startswith("us-"):
        yield Paragraph(say("pages.us", {}), is_strong=True)
    yield Paragraph(Link(say("pages.back", {}), INDEX))
    yield Paragraph(f"{say('pages.read-own-copy', {})} {say('pages.defer', {})}")


def about(module: ModuleType) -> tuple[str, ...]:
    """The paragraphs of a declaration's own words, without its examples; LookupError where there are none."""
    words = inspect.cleandoc(module.__doc__ or "").partition(">>>")[0].strip()
    if not words:
        raise LookupError(module.__name__)
    return tuple(" ".join(part.split()) for part in words.split("\n\n"))


def figure_grid(figures: Iterable[Named], *, letters: bool = True) -> Grid:
    """Figures with value, clause, letter and permanent key; without the letter where it is the same for all."""
    heads = [say("pages.head.figure", {}), say("pages.head.value", {}), say("pages.head.clause", {})]
    heads += [say("pages.head.letter", {})] if letters else []
    heads.append(say("pages.head.key", {}))
    rows = tuple(
        (one.words, one.value, cited(one.clause), *((one.letter,) if letters else ()), Code(one.key)) for one in figures
    )
    return Grid(tuple(heads), rows, frozenset({1}))


def looser_grid(offers: Mapping[str, tuple[object, ...]]) -> Grid:
    """Site rules with the looser values offered."""
    rows = tuple((SITE_RULE_WORDS[key], offered_words(values), Code(key)) for key, values in offers.items())
    return Grid((say("pages.head.site-rule", {}), say("pages.head.may-be", {}), say("pages.head.key", {})), rows)


def offered_words(values: Iterable[object]) -> str:
    """Values of a site rule in words."""
    return listed(SITE_VALUE_WORDS[str(one)] for one in values)


def by_clause(rule_set: RuleSet, rule: str, kinds: Iterable[str]) -> list[tuple[Basis, list[str]]]:
    """The kinds a set asks a rule of, by what it rests on: the text speaks of some, the rest are held to the same."""
    found: dict[Basis, list[str]] = {}
    for kind in kinds:
        found.setdefault(rule_set.basis(rule, kind), []).append(kind)
    return list(found.items())
