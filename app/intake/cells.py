"""Cell -> value: one function per sort of value, each raising CellFault(key, values) for what cannot be read.

Decimal comma and decimal point are both taken; a number that could carry a thousands mark is refused, for 1,000 is
one volt or a thousand of them. A number without a unit takes the unit of its heading (`Reading.unit`); where neither
says it and guessing could be wrong, the fault asks.
"""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from msgspec import Struct, field

from app.decision.fields.word_tables import word_set
from app.intake.day_cells import DayOrder
from app.intake.faults import CellFault, shown

if TYPE_CHECKING:
    from collections.abc import Mapping

    from app.intake.table_file import Cell

__all__ = ["CellFault", "Reading"]

BLANKS = word_set("n/a | na | n.a. | nil | . | not applicable") | {""}
UNKNOWNS = word_set("""
? | ?? | unknown | not known | n/k | nk | tbc | tbd | illegible | unreadable | unsure
""")
YES = frozenset({"yes", "y", "true", "1", "x", "\u2713", "\u2714", "ja", "fitted", "fixed"})
NO = frozenset({"no", "n", "false", "0", "\u2717", "\u2718", "nein", "none", "loose"})
PASSED = word_set("pass | passed | p | ok | okay | good | satisfactory | yes | y | \u2713 | \u2714 | sound")
FAILED = word_set("""
fail | failed | fails | f | not ok | nok | bad | rejected | reject | unsatisfactory | no | n | \u2717 | \u2718
| failed test | did not pass
""")
CLASSES = ("00", "0", "1", "2", "3", "4")
# Label colours of the classes: secondary texts, confidence S.
COLOURS = {"beige": "00", "red": "0", "white": "1", "yellow": "2", "green": "3", "orange": "4"}


def _units(names: str, size: int) -> dict[str, Decimal]:
    return dict.fromkeys(names.split(), Decimal(size))


VOLTS = {"v": Decimal(1), "volt": Decimal(1), "volts": Decimal(1), "kv": Decimal(1000), "mv": Decimal("0.001")}
LENGTHS = {
    "mm": Decimal(1),
    "cm": Decimal(10),
    "m": Decimal(1000),
    "in": Decimal("25.4"),
    "inch": Decimal("25.4"),
    "inches": Decimal("25.4"),
    '"': Decimal("25.4"),
    "\u201d": Decimal("25.4"),
    "''": Decimal("25.4"),
}
MILLIAMPERES = {"ma": Decimal(1), "a": Decimal(1000)} | dict.fromkeys(("\u00b5a", "\u03bca", "ua"), Decimal("0.001"))
AMPERES = {"a": Decimal(1), "ma": Decimal("0.001"), "amp": Decimal(1), "amps": Decimal(1)}
SECONDS = _units("s sec secs second seconds", 1) | _units("min mins minute minutes", 60)
HERTZ = {"hz": Decimal(1), "khz": Decimal(1000)}
METRES = {"m": Decimal(1), "km": Decimal(1000), "ft": Decimal("0.3048"), "metres": Decimal(1), "meters": Decimal(1)}
MONTHS = _units("month months mo mth mths m", 1) | _units("year years y yr yrs", 12)
CALORIES = {"cal": Decimal(1), "cal/cm2": Decimal(1), "cal/cm\u00b2": Decimal(1), "cal/cm^2": Decimal(1)}
# Nominal glove lengths in inches and in mm are names of the same glove: 1910.137 Table I-1 (14 in is the 360 mm glove).
INCH_NAMES = {Decimal(11): 280, Decimal("10.5"): 280, Decimal(14): 360, Decimal(16): 410, Decimal(18): 460}
# Reading guards, not limits of any rule: outside them the cell holds another quantity (palm girths run 8 to 12 in,
# GB/T 17622), and a bare 14 or 36 is as likely inches or centimetres as millimetres.
_SIZE_GUARD = (4, 16)
_BARE_MM_FROM = 100
_BARE_VOLTS_FROM = 1000

_THOUSANDS = re.compile(r"[1-9]\d{0,2}(?:[.,'\u2019 ]\d{3})+(?:[.,]\d+)?")
_NUMBER = re.compile(r"\d+(?:[.,]\d+)?|[.,]\d+")
_QUANTITY = re.compile(r"(?P<n>[\d.,'\u2019][\d.,'\u2019 ]*?)\s*(?P<unit>[^\d\s.,][^\d]*\d?)?")
_FRACTIONS = {"\u00bd": ".5", "\u00bc": ".25", "\u00be": ".75"}
_CLASS = re.compile(r"(?:class|cls|cl|c)?[\s.:\-]*(?P<c>[0o]{1,2}|[1-4])(?P<rest>[\s,;(/\-].*)?")
_TYPE = re.compile(r"(?:type|ty|t)?[\s.:\-]*(?P<t>ii|i|2|1)")


class Reading(Struct, frozen=True):
    """What a column says of its cells: unit and kind of current in the heading, order of day and month."""

    unit: str = ""
    current: str = ""
    order: DayOrder = field(default_factory=DayOrder)


def text_of(cell: Cell) -> str:
    """The cell as one line of text; whole numbers without a decimal point."""
    if cell is None:
        return ""
    if isinstance(cell, str):
        return " ".join(cell.split())
    return cell.isoformat() if isinstance(cell, date) else repr(cell)


def is_blank(cell: Cell) -> bool:
    """Nothing is stated: empty, dashes, n/a."""
    if not isinstance(cell, str):
        return cell is None
    plain = cell.strip().lower()
    return plain in BLANKS or not plain.strip("-\u2013\u2014 ")


def is_unknown(cell: Cell) -> bool:
    """It is stated that nobody knows."""
    return isinstance(cell, str) and cell.strip().lower() in UNKNOWNS


def word(cell: Cell) -> str:
    """The cell in lower case on one line, without a final full stop."""
    return text_of(cell).lower().rstrip(".")


def number(text: str) -> Decimal:
    """A number without a sign. Raises CellFault for thousands marks and for anything else."""
    if _THOUSANDS.fullmatch(text):
        raise CellFault("sheet.thousands", {"found": shown(text)})
    if not _NUMBER.fullmatch(text) or not text.isascii():
        raise CellFault("sheet.number-unreadable", {"found": shown(text)})
    return Decimal(text.replace(",", "."))


def plain_value(value: Decimal) -> int | float:
    """A whole number as int, else float: as the same value written in TOML would be read."""
    return int(value) if value == value.to_integral_value() else float(value)


def measured(cell: Cell, units: Mapping[str, Decimal], default: str) -> Decimal:
    """A number times its unit, from the cell or else `default`. Raises CellFault when there is no unit."""
    if isinstance(cell, date):
        raise CellFault("sheet.number-is-date", {"found": str(cell)})
    text = text_of(cell)
    match = _QUANTITY.fullmatch(text)
    if match is None:
        raise CellFault("sheet.number-unreadable", {"found": shown(text)})
    value = number(match["n"].strip())
    unit = (match["unit"] or "").strip().lower().rstrip(".") or default
    if unit not in units:
        key = "sheet.unit-unknown" if unit else "sheet.unit-missing"
        raise CellFault(key, {"found": shown(text), "expected": _first_units(units)})
    return value * units[unit]


def _first_units(units: Mapping[str, Decimal]) -> str:
    by_size: dict[Decimal, str] = {}
    for unit, size in units.items():
        by_size.setdefault(size, unit)
    spelled = {"kv": "kV", "v": "V", "mv": "mV", "ma": "mA", "a": "A", "hz": "Hz", "khz": "kHz"}
    return ", ".join(spelled.get(unit, unit) for unit in by_size.values())


def one_of(cell: Cell, words: Mapping[str, str]) -> str:
    """The value a word stands for. Raises CellFault naming the words that are read."""
    plain = word(cell)
    if plain not in words:
        expected = ", ".join(dict.fromkeys(words.values()))
        raise CellFault("sheet.word-unknown", {"found": shown(plain), "expected": expected})
    return words[plain]


def yes_no(cell: Cell) -> bool:
    """Yes or no. Raises CellFault for any other word."""
    return one_of(cell, _YES_NO) == "yes"


_YES_NO = dict.fromkeys(sorted(YES), "yes") | dict.fromkeys(sorted(NO), "no")


def result(cell: Cell) -> str:
    """Whether "passed" or "failed". Raises CellFault for any other word: an unknown result is not a pass."""
    plain = word(cell)
    if plain in PASSED:
        return "passed"
    if plain in FAILED:
        return "failed"
    raise CellFault("sheet.result-unknown", {"found": shown(plain)})


def insulation_class(cell: Cell) -> dict[str, object]:
    """{"class": "00" .. "4"}, with "type" where the same cell gives it; a colour beside it must be the class's own."""
    text = word(cell)
    match = _CLASS.fullmatch(text)
    # The letter O stands for nothing: whether a 0 was meant decides between volts.
    if match is None or "o" in match["c"]:
        raise CellFault("sheet.class-unreadable", {"found": shown(text), "expected": ", ".join(CLASSES)})
    value = match["c"]
    rest = (match["rest"] or "").strip(" ,;()/-")
    found: dict[str, object] = {"class": value}
    if rest in COLOURS and COLOURS[rest] == value:
        return found
    if rest:
        if not rest.startswith("t") or (kind := _TYPE.fullmatch(rest)) is None:
            raise CellFault("sheet.class-unreadable", {"found": shown(text), "expected": ", ".join(CLASSES)})
        found["type"] = _roman_type(kind["t"])
    return found


def rubber_type(cell: Cell) -> str:
    """Type "I" or "II"."""
    match = _TYPE.fullmatch(word(cell))
    if match is None:
        raise CellFault("sheet.word-unknown", {"found": shown(text_of(cell)), "expected": "I, II"})
    return _roman_type(match["t"])


def _roman_type(text: str) -> str:
    return "II" if text in ("ii", "2") else "I"


def glove_categories(cell: Cell) -> list[str]:
    """Letters of the glove's special properties, A H Z R C, in the order written."""
    letters = re.sub(r"[\s,;/+&.\-]|category|cat", "", word(cell)).upper()
    if not letters or set(letters) - set("AHZRC"):
        raise CellFault("sheet.word-unknown", {"found": shown(text_of(cell)), "expected": "A, H, Z, R, C"})
    return list(dict.fromkeys(letters))


def length_mm(cell: Cell, unit: str = "") -> int | float:
    """Length in mm from "360", "36 cm", "14 in"; a bare number under 100 has no unit and is asked about."""
    text = text_of(cell)
    plain = re.sub(r"^(?:length|l)[\s.:]*", "", text.lower())
    bare = _NUMBER.fullmatch(plain) is not None
    if bare and not unit and number(plain) >= _BARE_MM_FROM:
        unit = "mm"
    value = measured(plain if not isinstance(cell, date) else cell, LENGTHS, unit)
    inches = value / LENGTHS["in"]
    in_inches = (
        unit in ("in", "inch", "inches") if bare else plain.endswith(("in", "inch", "inches", '"', "\u201d", "''"))
    )
    if in_inches and inches in INCH_NAMES:
        return INCH_NAMES[inches]
    return plain_value(round(value, 1))


def size(cell: Cell) -> int | float:
    """Palm girth in inches: "10", "10,5", "9 1/2", "size 9\u00bd"."""
    if isinstance(cell, date):
        raise CellFault("sheet.number-is-date", {"found": str(cell)})
    plain = re.sub(r"^(?:size|sz)[\s.:]*|\s*(?:in|inch|inches|\")$", "", word(cell))
    for sign, decimals in _FRACTIONS.items():
        plain = re.sub(rf"^(\d+)\s?{sign}$", rf"\g<1>{decimals}", plain)
    if match := re.fullmatch(r"(\d{1,2})[\s\-]([13])/([24])", plain):
        value = Decimal(match[1]) + Decimal(match[2]) / Decimal(match[3])
    else:
        value = _size_number(plain)
    if not _SIZE_GUARD[0] <= value <= _SIZE_GUARD[1]:
        raise CellFault("sheet.size-unreadable", {"found": shown(text_of(cell))})
    return plain_value(value)


def _size_number(plain: str) -> Decimal:
    try:
        return number(plain)
    except CellFault as why:
        raise CellFault("sheet.size-unreadable", {"found": shown(plain)}) from why


def proof_volts(cell: Cell, unit: str = "") -> dict[str, object]:
    """{"test_v": volts}, with "kind_of_current" where the cell says AC or DC. Bare numbers from 1000 up are volts."""
    text = text_of(cell)
    kind = ""
    if match := re.fullmatch(r"(.*?)\s*\b(ac|dc|a\.c\.?|d\.c\.?)", text, re.IGNORECASE):
        text, kind = match[1], match[2].replace(".", "").lower()
    if not unit and _NUMBER.fullmatch(text) and number(text) >= _BARE_VOLTS_FROM:
        unit = "v"
    value = plain_value(measured(text if not isinstance(cell, date) else cell, VOLTS, unit))
    return {"test_v": value} | ({"kind_of_current": kind} if kind else {})
