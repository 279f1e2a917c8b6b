"""Marks printed on meters, leads and tools: measurement categories with volts, volts AC and DC, fuses."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from app.decision.domain.errors import BadInput
from app.intake.cells import number, plain_value, text_of
from app.intake.faults import CellFault, shown

if TYPE_CHECKING:
    from app.intake.table_file import Cell

CATEGORIES = {"I": "I", "II": "II", "III": "III", "IV": "IV", "1": "I", "2": "II", "3": "III", "4": "IV"}
_MARK = re.compile(
    r"""(?P<cat>CAT(?:EGORY)?[.\s:\-]*(?:(?P<roman>[A-Z]+)|(?P<digit>\d+)))
      | (?P<bare>\b(?:IV|I{1,4})\b)
      | (?P<n>\d+(?:[.,'\u2019]\d+)*)\s*(?P<unit>KV|V(?:OLTS?)?\b|(?![A-Z0-9]))
      | (?P<both>\(?\b(?:AC\s*[/+&]\s*DC|DC\s*[/+&]\s*AC)\b\)?)
      | (?P<sep>[/,;&+()\s\-:\n]|\bAND\b|\bOR\b)""",
    re.VERBOSE,
)
_VOLTS = re.compile(
    r"""(?P<n>\d+(?:[.,'\u2019]\d+)*)\s*(?P<unit>(?:KV|V(?:OLTS?)?)(?=[AD]\.?C|[^A-Z]|$)|(?=[AD]\.?C)|(?![A-Z0-9]))
      | (?P<kind>A\.?C\.?(?![A-Z])|D\.?C\.?(?![A-Z])|~|\u2393|\u23d3)
      | (?P<sep>[/,;&+()\s\-:\n]|\bAND\b|\bMAX\b\.?|\bR\.?M\.?S\b\.?)""",
    re.VERBOSE,
)
_KINDS = {"A": "ac", "~": "ac", "D": "dc", "\u2393": "dc", "\u23d3": "dc"}
_FUSE_KINDS = {"HBC": "hbc", "HRC": "hbc", "GLASS": "glass", "BLOWN": "blown"}


def _volts(match: re.Match[str]) -> int | float:
    value = number(match["n"])
    return plain_value(value * 1000 if match["unit"] == "KV" else value)


def _unreadable(key: str, text: str) -> CellFault:
    return CellFault(key, {"found": shown(text)})


def category_marks(cell: Cell) -> list[list[object]]:
    """[["III", 1000], ["IV", 600]] from "CAT III 1000V/CAT IV 600V", "CATIII 1000 V", "1000V CAT III".

    Raises CellFault: a category that does not exist, a category without volts, two volts for one category.
    """
    text = text_of(cell)
    tokens = _mark_tokens(text)
    sorts = "".join("c" if isinstance(token, str) else "v" for token in tokens)
    half = len(sorts) // 2
    if sorts == "cv" * half and half:
        pairs = [[tokens[i], tokens[i + 1]] for i in range(0, len(tokens), 2)]
    elif sorts == "vc" * half and half:
        pairs = [[tokens[i + 1], tokens[i]] for i in range(0, len(tokens), 2)]
    else:
        raise _unreadable("sheet.category-without-volts" if set(sorts) <= {"c"} else "sheet.mark-unreadable", text)
    if len({pair[0] for pair in pairs}) != len(pairs):
        raise _unreadable("sheet.category-twice", text)
    return [list(pair) for pair in pairs]


def marks_of(written: str) -> list[list[object]]:
    """CAT III 1000 V, CAT IV 600 V as a worked case writes it, read as a cell of a sheet is; BadInput otherwise."""
    try:
        return category_marks(written)
    except CellFault as fault:
        raise BadInput("case.not-marks", thing=written) from fault


def _mark_tokens(text: str) -> list[str | int | float]:
    """Categories as str and volts as numbers, in the order written."""
    tokens: list[str | int | float] = []
    upper = text.upper()
    at = 0
    while at < len(upper):
        match = _MARK.match(upper, at)
        if match is None or match.end() == at:
            raise _unreadable("sheet.mark-unreadable", text)
        at = match.end()
        if match["cat"] or match["bare"]:
            name = match["roman"] or match["digit"] or match["bare"]
            if name not in CATEGORIES:
                expected = "CAT II, CAT III, CAT IV"
                raise CellFault("sheet.category-unknown", {"found": shown(match[0]), "expected": expected})
            tokens.append(CATEGORIES[name])
        elif match["n"]:
            tokens.append(_volts(match))
    return tokens


def volts_by_current(cell: Cell, default: str = "", unit: str = "") -> dict[str, int | float]:
    """{"ac": volts, "dc": volts}, those that are written, from "1000 V AC / 1500 V DC".

    `default` is "ac", "dc" or "acdc" where the heading says it; `unit` "kv" where the heading does. Raises CellFault
    when neither cell nor heading tells AC from DC: one printed number never stands for both.
    """
    text = text_of(cell)
    volts, kinds, order = _volt_tokens(text, unit)
    if not volts:
        raise _unreadable("sheet.volts-unreadable", text)
    if not kinds and default and len(volts) == 1:
        return {kind: volts[0] for kind in ("ac", "dc") if kind in default}
    if not kinds:
        raise _unreadable("sheet.volts-current-missing", text)
    if len(set(kinds)) != len(kinds) or (default in ("ac", "dc") and kinds != [default]):
        raise _unreadable("sheet.volts-unreadable", text)
    if len(volts) == 1:
        return dict.fromkeys(kinds, volts[0])
    if order not in ("vkvk", "kvkv", "vvkk"):
        raise _unreadable("sheet.volts-unreadable", text)
    return dict(zip(kinds, volts, strict=True))


def _volt_tokens(text: str, unit: str) -> tuple[list[int | float], list[str], str]:
    volts: list[int | float] = []
    kinds: list[str] = []
    order = ""
    upper = text.upper()
    at = 0
    while at < len(upper):
        match = _VOLTS.match(upper, at)
        if match is None or match.end() == at:
            raise _unreadable("sheet.volts-unreadable", text)
        at = match.end()
        if match["n"]:
            value = _volts(match)
            volts.append(value * 1000 if unit == "kv" and not match["unit"] else value)
            order += "v"
        elif match["kind"]:
            kinds.append(_KINDS[match["kind"][0]])
            order += "k"
    return volts, kinds, order


def all_volts(cell: Cell) -> set[int | float]:
    """Every number of volts in the cell, whatever the current; for comparing with a class. Raises CellFault."""
    return set(_volt_tokens(text_of(cell), "")[0])


def fuse(cell: Cell) -> dict[str, object]:
    """{"v", "kind"} and "ac_only" where the fuse says AC or DC, from "1000 V AC/DC HBC, 440 mA"."""
    text = text_of(cell)
    upper = text.upper()
    kind = next((kind for name, kind in _FUSE_KINDS.items() if re.search(rf"\b{name}\b", upper)), None)
    volts = re.findall(r"(\d+(?:[.,'\u2019]\d+)*)\s*(K?V)(?![A-Z])", re.sub(r"(?<=V)\s*(?=[AD]\.?C)", " ", upper))
    if kind is None or len(volts) != 1:
        raise _unreadable("sheet.fuse-unreadable", text)
    value = number(volts[0][0])
    found: dict[str, object] = {"v": plain_value(value * 1000 if volts[0][1] == "KV" else value), "kind": kind}
    if re.search(r"\bD\.?C\b", upper):
        found["ac_only"] = False
    elif re.search(r"\bA\.?C\b", upper):
        found["ac_only"] = True
    return found


def one_voltage(cell: Cell, unit: str) -> int | float:
    """One number of volts, such as "1000" below "Fuse V". Raises CellFault for none or several."""
    volts = _volt_tokens(text_of(cell), unit)[0]
    if len(volts) != 1:
        raise _unreadable("sheet.volts-unreadable", text_of(cell))
    return volts[0]
