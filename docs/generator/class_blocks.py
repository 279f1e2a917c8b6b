"""The tables of a set by class: volts, leakage current by length, and volts without protectors."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from app.decision.domain.electrical_test import SOAK_ALLOWANCE_UA, TABLE_MHZ
from app.decision.domain.limits import ClassTable, HousePolicy, Limit, RuleSet
from app.decision.domain.piece import Piece
from app.decision.rules.protectors_worn import allowed_mv
from app.outputs.documents.figure_words import class_words, figure, kind_words, value_words
from app.words.saying import number, say
from app.words.vocabulary import CURRENTS, KINDS
from docs.generator.blocks import Block, Grid, Heading, Line, Listing, Paragraph
from docs.generator.figure_rows import by_clause, usual_letter

_COLUMNS = ("use/ac", "use/dc", "retest/ac", "retest/dc", "withstand/ac")
_GLOVES = "rubber-gloves"


def volts(rule_set: RuleSet, house: HousePolicy) -> Iterator[Block]:
    """One table for all kinds that read the same figures, one more for each kind with figures of its own."""
    by_prefix: dict[str, dict[str, ClassTable]] = {}
    for kind, table in rule_set.tables.items():
        if table.classes:
            by_prefix.setdefault(table.prefix, {})[kind] = table
    if not by_prefix:
        yield Heading(say("pages.class.heading", {}))
        yield Paragraph(say("pages.class.none", {}))
    for prefix, tables in by_prefix.items():
        yield Heading(say("pages.class.heading-of" if prefix else "pages.class.heading", {"kinds": kind_words(tables)}))
        grid, points = _class_table(rule_set, prefix, tables)
        yield grid
        if not prefix:
            points += [*_read_by(rule_set, tables), *_test_points(rule_set, house)]
        yield Listing(tuple(points))


def _test_points(rule_set: RuleSet, house: HousePolicy) -> Iterator[str]:
    if any(key.startswith("withstand/") for key in rule_set.limits):
        yield say("pages.class.withstand", {})
    yield _dwell(house)


def _dwell(house: HousePolicy) -> str:
    seconds = {name: house.value(f"test-dwell/{name}") for name in ("acceptance", "matting")}
    return say("pages.class.dwell", {"service": house.value("test-dwell/in-service"), **seconds})


def _class_table(rule_set: RuleSet, prefix: str, tables: Mapping[str, ClassTable]) -> tuple[Grid, list[str]]:
    """The table, and where each of its columns stands."""
    classes = tuple(dict.fromkeys(one for table in tables.values() for one in table.classes))
    columns = {name: _column(rule_set, f"{prefix}{name}", classes) for name in (*_COLUMNS, "current")}
    used = {name: column for name, column in columns.items() if column}
    heads = {
        "use/ac": say("pages.head.use-ac", {}), "use/dc": say("pages.head.use-dc", {}),
        "retest/ac": say("pages.head.retest-ac", {}), "retest/dc": say("pages.head.retest-dc", {}),
        "withstand/ac": say("pages.head.withstand", {}), "current": say("pages.head.current", {}),
    }  # fmt: skip
    rows = tuple((one, *(_cell(column, one) for column in used.values())) for one in classes)
    points = [
        say("pages.class.column", {"column": heads[name], "clause": clause, "letters": letters})
        for name, column in used.items()
        for clause, letters in by_clause(column.values())
    ]
    for name in used:
        silent = [kind for kind, table in tables.items() if name in table.not_printed]
        if silent:
            points.append(say("pages.class.not-for", {"column": heads[name], "kinds": kind_words(silent)}))
    return _by_class(tuple(heads[name] for name in used), rows), points


def _by_class(heads: tuple[str, ...], rows: tuple[tuple[Line, ...], ...]) -> Grid:
    return Grid((say("pages.head.class", {}), *heads), rows, frozenset(range(1, len(heads) + 1)))


def _column(rule_set: RuleSet, name: str, keys: Iterable[str]) -> dict[str, Limit]:
    return {one: rule_set.limits[f"{name}/{one}"] for one in keys if f"{name}/{one}" in rule_set.limits}


def _cell(column: Mapping[str, Limit], key: str) -> str:
    """A figure; its letter stands beside it where most of the column carry another."""
    limit = column.get(key)
    if limit is None:
        return say("figure-of.dash", {})
    is_usual = limit.confidence == usual_letter(column.values())
    return figure(limit) if is_usual else f"{figure(limit)} ({limit.confidence})"


def _read_by(rule_set: RuleSet, tables: Mapping[str, ClassTable]) -> Iterator[str]:
    by_classes: dict[tuple[str, ...], list[str]] = {}
    for kind, table in tables.items():
        by_classes.setdefault(table.classes, []).append(kind)
    for classes, kinds in by_classes.items():
        yield say("pages.class.read-by", {"kinds": kind_words(kinds), "classes": class_words(classes)})
    for kind in tables:
        limit = rule_set.leaning(kind)
        if limit is not None:
            values = {"kinds": KINDS[kind], "clause": limit.clause, "letter": limit.confidence}
            yield say("pages.class.leans", values)


def currents(rule_set: RuleSet) -> Iterator[Block]:
    """Leakage by class and length; what is by class alone stands with the kind's own volts."""
    limits = {key: one for key, one in rule_set.limits.items() if key.startswith("current/") and key.count("/") == 2}
    if not limits:
        return
    parts = [key.split("/") for key in limits]
    classes = tuple(dict.fromkeys(part[1] for part in parts))
    lengths = sorted({part[2] for part in parts}, key=int)
    heads = tuple(say("pages.head.of-length", {"length": one}) for one in lengths)
    by_place = {f"{one}/{length}": limits.get(f"current/{one}/{length}") for one in classes for length in lengths}
    column = {place: limit for place, limit in by_place.items() if limit is not None}
    yield Heading(say("pages.current.heading", {}))
    rows = tuple((one, *(_cell(column, f"{one}/{length}") for length in lengths)) for one in classes)
    yield _by_class(heads, rows)
    kinds = [kind for kind, table in rule_set.tables.items() if table.current == "length"]
    points = [
        *(say("pages.current.column", {"clause": a, "letters": b}) for a, b in by_clause(column.values())),
        say("pages.current.judged", {"kinds": kind_words(kinds)}),
    ]
    if rule_set.scales_with_frequency:
        points.append(say("pages.current.us", {"hz": TABLE_MHZ / 1000, "soak": SOAK_ALLOWANCE_UA}))
    yield Listing(tuple(points))


def bare(rule_set: RuleSet) -> Iterator[Block]:
    """Without protectors: what the rule itself works out of this set's figures, and what the set prints of its own."""
    if not any("protectors-worn" in rules for rules in rule_set.covers.values()):
        return
    yield Heading(say("pages.bare.heading", {}))
    classes = rule_set.tables[_GLOVES].classes
    if not classes:
        yield Paragraph(say("pages.bare.none", {}))
        return
    yield Paragraph(say("pages.bare.about", {}))
    heads = [say("pages.head.bare-ac", {}), say("pages.head.bare-dc", {})]
    columns = [("ac", False), ("dc", False)]
    if "without_protectors_reading" in rule_set.offers:
        heads += [say("pages.head.bare-us-ac", {}), say("pages.head.bare-us-dc", {})]
        columns += [("ac", True), ("dc", True)]
    rows = tuple((one, *(_bare_volts(rule_set, one, *column) for column in columns)) for one in classes)
    yield _by_class(tuple(heads), rows)
    printed = {key: one for key, one in rule_set.limits.items() if key.startswith("bare/")}
    points = [_printed(key, one) for key, one in printed.items()] or [say("pages.bare.own-none", {})]
    if rule_set.bare_only:
        points.append(say("pages.set.bare-only", {"classes": class_words(rule_set.bare_only)}))
    yield Listing(tuple(points))


def _bare_volts(rule_set: RuleSet, one: str, current: str, us_text_alone: bool) -> str:  # noqa: FBT001
    gloves = Piece(code="", kind=_GLOVES, insulation_class=one, class_system=rule_set.class_system)
    allowed = allowed_mv(gloves, current, rule_set, us_text_alone=us_text_alone)
    return say("figure-of.dash", {}) if allowed is None else number(allowed / 1000, 3)


def _printed(key: str, limit: Limit) -> str:
    _, current, one = key.split("/")
    return say("pages.bare.printed", {
        "classes": class_words((one,)), "current": CURRENTS[current], "value": value_words(limit),
        "clause": limit.clause, "letter": limit.confidence,
    })  # fmt: skip
