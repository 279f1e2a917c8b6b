"""Reading circuits, people, jobs and site rules."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from app.decision.case.pieces import millivolts
from app.decision.domain import former
from app.decision.domain.errors import BadInput
from app.decision.domain.limits import Approval, SiteRules
from app.decision.domain.piece import Person
from app.decision.domain.voltage import SUPPLIES, Cells, Circuit
from app.decision.fields import words
from app.decision.fields.reading import (
    Reader,
    Table,
    Unreadable,
    as_table,
    as_tables,
    exact_day,
    one_of,
    read_table,
    require,
    scaled,
    some_of,
    text,
    whole,
    words_of,
    yes_no,
)

_CELLS: Mapping[str, Reader] = {
    "series": whole,
    "modules": whole,
    "series_each": whole,
    "chemistry": one_of(*words.CHEMISTRIES),
    "max_v": millivolts,
}


def _cells(value: object) -> Cells:
    if not isinstance(value, Mapping):
        raise Unreadable("not-a-table-value")
    read: dict[str, Any] = read_table(value, _CELLS, {"max_v": "max_mv"}, "cells")
    require(read, ("chemistry",), "cells")
    modules, each, series = read.get("modules"), read.get("series_each"), read.get("series")
    if modules is not None and each is not None:
        if series is not None and series != modules * each:
            raise Unreadable("cells-contradict")
        series = modules * each
    if series == 0 or read.get("max_mv") == 0:
        raise Unreadable("out-of-range")
    return Cells(series, read["chemistry"], read.get("max_mv"))


CIRCUIT: Mapping[str, Reader] = {
    "key": text,
    "name": text,
    "supply": one_of(*SUPPLIES),
    "category": one_of("II", "III", "IV"),
    "cells": _cells,
    "plate_max_v": millivolts,
    "maker_max_v": millivolts,
    "boosted_v": millivolts,
    "nominal_v": millivolts,
    "reading_v": millivolts,
    "phase_to_earth_v": millivolts,
    "phase_to_earth_confirmed_by": text,
    "maker_names_multimeter": yes_no,
}
CIRCUIT_NAMES = {
    key: key.removesuffix("_v") + "_mv"
    for key in ("plate_max_v", "maker_max_v", "boosted_v", "nominal_v", "reading_v", "phase_to_earth_v")
}


def read_circuit(table: Table, place: str) -> Circuit:
    """One circuit; a voltage of nothing is not a voltage."""
    require(table, ("key", "supply"), place)
    read: dict[str, Any] = read_table(table, CIRCUIT, CIRCUIT_NAMES, f"{place} {table['key']}".strip())
    read.pop("name", None)
    for name in ("plate_max_mv", "maker_max_mv", "boosted_mv"):
        if read.get(name) == 0:
            raise BadInput("case.out-of-range", place=f"{place} {table['key']}".strip(), thing=name)
    return Circuit(**read)


PERSON: Mapping[str, Reader] = {
    "code": text,
    "role_words": text,
    "scopes": words_of(*words.SCOPES),
    "valid_until": exact_day,
    "glove_sizes": lambda value: tuple(scaled(2, most=20)(size) for size in _list(value)),
}


def _list(value: object) -> list[object]:
    if not isinstance(value, list):
        raise Unreadable("not-a-list")
    return value


def read_person(table: Table, place: str) -> Person:
    """One person; `code` may be left out only in a worked case that asks about scopes alone."""
    read: dict[str, Any] = read_table(table, PERSON, {"glove_sizes": "glove_sizes_c"}, place)
    read.pop("role_words", None)
    return Person(**{"code": "", **read})


def _approval_or_yes(value: object) -> Approval | None:
    if value is False:
        return None
    if isinstance(value, Mapping):
        return read_approval({"key": "dielectric_exempt_00_0", **value}, "dielectric_exempt_00_0")
    raise Unreadable("not-an-approval")


def read_approval(table: Table, place: str) -> Approval:
    """Who approved what, and why: all three are needed."""
    require(table, ("key", "approved_by", "reason"), place)
    read: dict[str, Any] = read_table(table, {"key": text, "approved_by": text, "reason": text}, {}, place)
    return Approval(**read)


def _confirmed(value: object) -> frozenset[str] | None:
    if value == "all":
        return None
    return frozenset(former.FIGURES.get(figure, figure) for figure in words_of()(value))


SITE: Mapping[str, Reader] = {
    "name": text,
    "demo_day": exact_day,
    "timezone": text,
    "margin_percent": scaled(2, most=50),
    "warning_days": whole,
    "tip_profile": one_of("gs38", "iec"),
    "altitude_m": scaled(0, least=-500, most=20_000),
    "clearance_table": one_of("cautious", "astm-f496"),
    "figures_required": yes_no,
    "dielectric_exempt_00_0": _approval_or_yes,
    "without_protectors_reading": one_of("stricter", "us-osha-137"),
    "second_person_isolate": yes_no,
    "second_person_measure": yes_no,
    "confirmed_in_print": _confirmed,
    "approvals": lambda value: tuple(
        read_approval(item, "site approvals") for item in as_tables(value, "site", "approvals")
    ),
    "labs": words_of(),
    "rule_sets": some_of(*words.RULE_SETS),
}
_SITE_NAMES = {"margin_percent": "margin_bp"}
_NOT_RULES = ("demo_day", "timezone", "rule_sets")


def read_site(value: object, place: str) -> SiteRules:
    """Site rules; what is not named stays as shipped."""
    read: dict[str, Any] = read_table(as_table(value, place, "site"), SITE, _SITE_NAMES, place)
    for key in _NOT_RULES:
        read.pop(key, None)
    return SiteRules(**read)
