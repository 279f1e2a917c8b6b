"""Every source behind a figure, with its letters; the other pages lead here."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from msgspec import Struct

from app.decision.judging.catalogues import Catalogues
from app.words.saying import listed, say
from docs.generator.blocks import Block, Grid, Heading, Line, Link, Listing, Page, Paragraph
from docs.generator.figure_rows import LETTERS, legend

SOURCES = "../sources.md"


class Document(Struct, frozen=True):
    """One document: what it is, where it was seen, and how the clauses begin that rest on it."""

    key: str
    name: str
    sort: str
    seen: str
    clauses: tuple[str, ...]


@cache
def documents() -> tuple[Document, ...]:
    """The documents as they are written down."""
    table = tomllib.loads(Path(__file__).with_name("sources.toml").read_text(encoding="utf-8"))
    return tuple(Document(**{**entry, "clauses": tuple(entry["clauses"])}) for entry in table["document"])


def behind(clause: str) -> tuple[Document, ...]:
    """The documents a clause names; LookupError where none is written down."""
    found = tuple(one for one in documents() if any(begin in clause for begin in one.clauses))
    if not found:
        raise LookupError(clause)
    return found


def cited(clause: str) -> Line:
    """A clause that leads to the document it stands in."""
    return Link(clause, f"{SOURCES}#{_anchor(behind(clause)[0].name)}")


def _anchor(heading: str) -> str:
    """The place of a heading on its page, as Markdown readers make it."""
    kept = "".join(sign for sign in heading.lower() if sign.isalnum() or sign in " -_")
    return kept.replace(" ", "-")


def clauses_of(known: Catalogues) -> Iterator[tuple[str, str, str]]:
    """Every clause of a figure, a clock or a requirement with its letter and who names it."""
    for rule_set in known.rule_sets.values():
        yield from ((limit.clause, limit.confidence, rule_set.title) for limit in rule_set.limits.values())
        yield from ((basis.clause, basis.confidence, rule_set.title) for basis in rule_set.clauses.values())
        clocks = (clock for clocks in rule_set.intervals.values() for clock in clocks)
        yield from ((clock.clause, clock.confidence, rule_set.title) for clock in clocks)
    house = say("pages.house.title", {})
    yield from ((limit.clause, limit.confidence, house) for limit in known.house.limits.values())
    yield from ((part.strip(), "", house) for rule in known.rules.values() for part in rule.source.split(";"))


def sources_page(known: Catalogues) -> Page:
    """Document by document: what it is, where it was seen, which clauses are named and with which letters."""
    by_document: dict[str, dict[str, tuple[set[str], set[str]]]] = {}
    for clause, letter, who in clauses_of(known):
        letters, names = by_document.setdefault(behind(clause)[0].key, {}).setdefault(clause, (set(), set()))
        names.add(who)
        letters.update({letter} - {""})
    blocks: list[Block] = [Paragraph(say("pages.sources.about", {})), Paragraph(legend(LETTERS))]
    for document in documents():
        blocks += [
            Heading(document.name),
            Listing((
                say("pages.sources.sort", {"sort": document.sort}), say("pages.sources.seen", {"seen": document.seen}),
            )),
        ]  # fmt: skip
        rows = sorted(by_document.get(document.key, {}).items())
        if rows:
            heads = (say("pages.head.clause", {}), say("pages.head.letter", {}), say("pages.head.who", {}))
            blocks.append(Grid(heads, tuple(
                (clause, ", ".join(sorted(letters, key=LETTERS.index)), listed(sorted(names)))
                for clause, (letters, names) in rows
            )))  # fmt: skip
    return Page(say("pages.sources.title", {}), tuple(blocks), say("pages.marker", {}))
