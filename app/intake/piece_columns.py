"""Which columns a kind of kit has, and how each column's cells are read.

Fields of a piece are declared in `decision/fields`, which kind has them in `decision/kinds`; what stands here are the
columns that hold a part of one, or a record. Names of columns are those of `headings`; what comes out are keys of a
piece. A column may be shared by kinds that read
it differently ("category" is letters on gloves, CAT III on meters); `column_for` says how, or that the kind has none.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.decision.fields.field import Field, Sort
from app.decision.fields.pieces import FIELDS
from app.decision.fields.sorts import (
    AMPERES,
    CALORIES,
    FUSE,
    LENGTH,
    MARKS,
    METRES,
    MONTHS,
    TEXT,
    VOLTAGE_MARK,
    VOLTS,
    YES_NO,
)
from app.decision.fields.word_tables import word_map, word_set
from app.decision.kinds import kinds
from app.decision.rulesets.house import HOUSE_POLICY
from app.intake import cells, mark_cells
from app.intake.cells import CellFault, Reading, measured, one_of, plain_value, text_of
from app.intake.day_cells import day
from app.intake.faults import shown
from app.intake.headings import column_of

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from decimal import Decimal

    from app.intake.table_file import Cell

    Parser = Callable[[Cell, Reading], object]

_ALL = kinds().values()
GLOVES = frozenset(kind.key for kind in _ALL if kind.is_worn_on_hands)
RUBBER = frozenset(kind.key for kind in _ALL if kind.is_classed)
CHAIN = frozenset(kind.key for kind in _ALL if kind.is_instrument or kind.is_chain_part)
TOOLS = frozenset(kind.key for kind in _ALL if "voltage_mark" in kind.fields)
TESTED = RUBBER | TOOLS
CALIBRATED = frozenset(
    kind.key
    for kind in _ALL
    if kind.is_instrument or kind.has_self_test or "calibration-in-date" in HOUSE_POLICY.covers[kind.key]
)
#: the parts of a test that a sheet gives a column each
FIGURES = ("test_v", "kind_of_current", "frequency_hz", "dwell_s", "left_ma", "right_ma")
_PAPER = ("occasion", "certificate", "laboratory", "method")
# Columns that are a part of a field, or hold two fields in one cell.
_PARTS = {
    "voltage_mark_ac": "voltage_mark", "voltage_mark_dc": "voltage_mark", "fuse_v": "fuse", "fuse_ac_only": "fuse",
    "fuse_kind": "fuse", "max_input": "max_input_ac_v", "threshold": "threshold_ac_v", "output": "output_ac_v",
}  # fmt: skip


def _with(key: str) -> frozenset[str]:
    return frozenset(kind.key for kind in _ALL if key in kind.fields)


_OF: dict[str, frozenset[str]] = {
    **{column_of(field): _with(field.key) for field in FIELDS.values()},
    **{column: _with(key) for column, key in _PARTS.items()},
    **dict.fromkeys((*FIGURES, *_PAPER, "tested_on", "previous_on", "previous_result"), TESTED),
    "calibrated_on": CALIBRATED,
    # Volts beside a class are compared with it.
    "voltage_mark": TESTED,
}
_EVERY_KIND = frozenset(
    {"crib", "custody", "status", "status_on", "result", "calibration_result", "inspected_on", "quantity", "batch"}
)

# Neither dates nor codes nor results are ever taken from the row above.
NEVER_FILLED = frozenset(
    {
        "code",
        "serial",
        "first_issue",
        "tested_on",
        "result",
        "previous_on",
        "previous_result",
        "tested_or_calibrated_on",
        "calibrated_on",
        "calibration_result",
        "inspected_on",
        "status",
        "status_on",
        "custody",
        "quantity",
        *FIGURES,
        *_PAPER,
    }
)
DATES = frozenset(
    {
        "first_issue",
        "tested_on",
        "previous_on",
        "tested_or_calibrated_on",
        "calibrated_on",
        "inspected_on",
        "status_on",
    }
)


def column_for(kind: str, column: str, cell: Cell) -> str | None:
    """How this kind reads a column; None where it has no such thing."""
    if column == "mark":
        column = "class_system" if kind in RUBBER else "marks" if kind in CHAIN else "voltage_mark"
    elif column == "category":
        column = "categories" if kind in _OF["categories"] else "marks"
    elif column in ("rating", "class"):
        column = _rating_for(kind, column, cell)
    elif column == "tested_or_calibrated_on":
        column = {(True, False): "tested_on", (False, True): "calibrated_on"}.get(
            (kind in TESTED, kind in CALIBRATED), ""
        )
    if column in _EVERY_KIND or kind in _OF.get(column, ()):
        return column
    return None


def _rating_for(kind: str, column: str, cell: Cell) -> str:
    if kind in RUBBER:
        return "class"
    if kind in _OF["cut_for_class"]:
        return "cut_for_class"
    if kind in CHAIN:
        # "Class II" on a meter is its own insulation, so a class column is read only where it says CAT.
        return "marks" if column == "rating" or "cat" in text_of(cell).lower() else ""
    if column == "rating":
        return "voltage_mark" if kind in TOOLS else "arc_rating_cal" if kind in _OF["arc_rating_cal"] else ""
    return ""


# --- how cells are read ---

_SYSTEMS = (("gb", ("gb", "gb/t", "gb/t 17622")), ("jp", ("jp", "jis", "jis t 8112", "japan")))
_IEC_WORDS = word_set(
    "iec | astm | en | us | ansi | eu | astm/iec | iec/en | iec/astm | en/iec | as/nzs | d120 | 60903"
)
_FUSES = word_map("""
hbc: hbc | hrc | high breaking capacity | ceramic hbc | ceramic
glass: glass
blown: blown
unknown: unknown
""")
_CURRENTS = word_map("ac: ac | a.c | ~ | a\ndc: dc | d.c | d")
_OCCASIONS = word_map("""
in-service: in-service | in service | retest | periodic | routine | 6 monthly | six monthly | repeat
acceptance: acceptance | new | first | initial | on receipt
not-stated: not-stated | not stated
""")
NEVER_ISSUED = word_set("""
never | new | unused | not issued | not yet issued | never issued | never used | not used | not yet used
| not in use yet | not yet
""")
NOT_TESTED = word_set("never | not tested | untested | none | no | new | not yet | no test | never tested")


def class_system(cell: Cell) -> str:
    """Class system "iec", "gb" or "jp" from a standard's name. Raises CellFault for any other."""
    text = cells.word(cell)
    for system, names in _SYSTEMS:
        if text in names or text.startswith((f"{names[0]} ", f"{names[0]}/")):
            return system
    if text in _IEC_WORDS or text.split(" ")[0] in _IEC_WORDS:
        return "iec"
    raise CellFault("sheet.word-unknown", {"found": shown(text), "expected": "IEC, EN, ASTM, GB, JP"})


def first_issue(cell: Cell, reading: Reading) -> object:
    """A day, month or week, "never", or "unknown" for what says no day; a date that is wrong raises CellFault."""
    if cells.word(cell) in NEVER_ISSUED:
        return "never"
    try:
        return day(cell, reading.order)
    except CellFault as why:
        if why.key == "sheet.date-unreadable" or (isinstance(cell, int) and 1900 < cell < 2100):
            return "unknown"
        raise


def _test_day(cell: Cell, reading: Reading) -> object:
    return None if cells.word(cell) in NOT_TESTED else day(cell, reading.order)


def _measure(units: Mapping[str, Decimal], default: str = "") -> Parser:
    return lambda cell, reading: plain_value(measured(cell, units, reading.unit or default))


def _one_current(current: str) -> Parser:
    return lambda cell, reading: mark_cells.volts_by_current(cell, current, reading.unit)[current]


def _plain_class(cell: Cell, _: Reading) -> object:
    return cells.insulation_class(cell)["class"]


def _text(cell: Cell, _: Reading) -> object:
    return text_of(cell)


def _quantity(cell: Cell, _: Reading) -> object:
    text = cells.word(cell)
    if text.split(" ")[0] not in ("1", "one", "pair", "set"):
        raise CellFault("sheet.quantity", {"found": shown(text)})
    return 1


def _volts(cell: Cell, reading: Reading) -> object:
    return mark_cells.volts_by_current(cell, reading.current, reading.unit)


def _marks(cell: Cell, _: Reading) -> object:
    return mark_cells.category_marks(cell)


def _yes_no(cell: Cell, _: Reading) -> object:
    return cells.yes_no(cell)


def _result(cell: Cell, _: Reading) -> object:
    return cells.result(cell)


def _word(words: Mapping[str, str]) -> Parser:
    return lambda cell, _: one_of(cell, words)


# --- by column ---

_BY_SORT: dict[Sort, Parser] = {
    YES_NO: _yes_no, MARKS: _marks, VOLTAGE_MARK: _volts, LENGTH: _measure(cells.LENGTHS), TEXT: _text,
    AMPERES: _measure(cells.AMPERES, "a"), CALORIES: _measure(cells.CALORIES, "cal"), METRES: _measure(cells.METRES),
    MONTHS: _measure(cells.MONTHS), FUSE: lambda cell, _: mark_cells.fuse(cell),
}  # fmt: skip
_OWN: dict[str, Parser] = {
    "class": lambda cell, _: cells.insulation_class(cell),
    "cut_for_class": _plain_class,
    "class_system": lambda cell, _: class_system(cell),
    "type": lambda cell, _: cells.rubber_type(cell),
    "categories": lambda cell, _: cells.glove_categories(cell),
    "length_mm": lambda cell, reading: cells.length_mm(cell, reading.unit),
    "size": lambda cell, _: cells.size(cell),
    "first_issue": first_issue,
}


def _declared(field: Field) -> Parser | None:
    """How the cells of a field's own column are read; None where a sheet has no column for it."""
    if field.key in _OWN:
        return _OWN[field.key]
    if field.sort is VOLTS:
        return _one_current("dc" if field.key.endswith("_dc_v") else "ac")
    if field.words:
        return _word(word_map(field.words))
    return _BY_SORT.get(field.sort)


PARSERS: dict[str, Parser] = {
    **{column_of(field): parser for field in FIELDS.values() if (parser := _declared(field)) is not None},
    **dict.fromkeys(("max_input", "threshold", "output"), _volts),
    **dict.fromkeys(("tested_on", "previous_on", "calibrated_on", "inspected_on"), _test_day),
    **dict.fromkeys(("result", "previous_result", "calibration_result"), _result),
    **dict.fromkeys(("certificate", "method", "crib", "laboratory", "custody"), _text),
    "voltage_mark_ac": _one_current("ac"),
    "voltage_mark_dc": _one_current("dc"),
    "fuse_v": lambda cell, reading: mark_cells.one_voltage(cell, reading.unit),
    "fuse_ac_only": _yes_no,
    "fuse_kind": _word(_FUSES),
    "kind_of_current": _word(_CURRENTS),
    "occasion": _word(_OCCASIONS),
    "test_v": lambda cell, reading: cells.proof_volts(cell, reading.unit),
    "frequency_hz": _measure(cells.HERTZ, "hz"),
    "dwell_s": _measure(cells.SECONDS),
    "left_ma": _measure(cells.MILLIAMPERES),
    "right_ma": _measure(cells.MILLIAMPERES),
    "status_on": lambda cell, reading: day(cell, reading.order),
    "quantity": _quantity,
}
