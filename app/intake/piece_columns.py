"""Which columns a kind of kit has, and how each column's cells are read.

Names of columns are those of `headings`; what comes out are keys of a piece. A column may be shared by kinds that read
it differently ("category" is letters on gloves, CAT III on meters); `column_for` says how, or that the kind has none.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.decision.fields.word_tables import word_map, word_set
from app.intake import cells, mark_cells
from app.intake.cells import CellFault, Reading, measured, one_of, plain_value, text_of
from app.intake.day_cells import day
from app.intake.faults import shown

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from decimal import Decimal

    from app.intake.table_file import Cell

GLOVES = frozenset({"rubber-gloves", "composite-gloves"})
RUBBER = GLOVES | {
    "rubber-sleeves",
    "insulating-blanket",
    "insulating-matting",
    "dielectric-footwear",
    "line-hose",
    "insulating-cover",
}
INSTRUMENTS = frozenset({"multimeter", "two-pole-detector", "clamp-meter", "insulation-tester"})
CHAIN = INSTRUMENTS | {"test-leads", "tip-or-clip"}
TOOLS = frozenset({"insulated-tool", "torque-tool", "rescue-hook"})
TESTED = RUBBER | TOOLS
CALIBRATED = INSTRUMENTS | {"torque-tool", "proving-unit"}
HANDS = GLOVES | {"leather-protectors"}

_FIGURES = (
    "test_v",
    "kind_of_current",
    "frequency_hz",
    "dwell_s",
    "left_ma",
    "right_ma",
    "occasion",
    "certificate",
    "lab",
    "method",
)
_OF: dict[str, frozenset[str]] = (
    dict.fromkeys(("class", "class_system", "type", "dc_tested", "material", "first_issue", "voltage_mark"), RUBBER)
    | dict.fromkeys(("voltage_mark_ac", "voltage_mark_dc"), TOOLS)
    | dict.fromkeys((*_FIGURES, "tested_on", "previous_on", "previous_result"), TESTED)
    | dict.fromkeys(("marks", "marks_cap_off", "current_a", "tip_mm", "caps", "fuse"), CHAIN)
    | dict.fromkeys(("fuse_v", "fuse_ac_only", "fuse_kind"), CHAIN)
    | dict.fromkeys(("fixed_leads", "max_input", "max_input_ac", "max_input_dc"), INSTRUMENTS)
    | dict.fromkeys(("threshold", "threshold_ac", "threshold_dc"), INSTRUMENTS)
    | dict.fromkeys(("leather_mm", "leather", "cut_for_class"), frozenset({"leather-protectors"}))
    | dict.fromkeys(
        ("arc_rating_cal", "hood", "balaclava", "fabric_rating_cal", "window_rating_cal"),
        frozenset({"arc-face-shield"}),
    )
    | dict.fromkeys(("output", "output_ac", "output_dc"), frozenset({"proving-unit"}))
    | dict.fromkeys(("calibrated_on",), CALIBRATED)
    | {
        "categories": GLOVES | {"rubber-sleeves"},
        "length_mm": HANDS,
        "size": HANDS,
        "max_altitude_m": CHAIN | {"proving-unit"},
        "maker_interval_months": TESTED | CALIBRATED,
    }
)
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
        *_FIGURES,
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
        column = "categories" if kind in GLOVES or kind == "rubber-sleeves" else "marks"
    elif column in ("rating", "class"):
        column = _rating_for(kind, column, cell)
    elif column == "tested_or_calibrated_on":
        column = {(True, False): "tested_on", (False, True): "calibrated_on"}.get(
            (kind in TESTED, kind in CALIBRATED), ""
        )
    if column == "voltage_mark" and kind in TOOLS:
        return column
    if column in _EVERY_KIND or kind in _OF.get(column, ()):
        return column
    return None


def _rating_for(kind: str, column: str, cell: Cell) -> str:
    if kind in RUBBER:
        return "class"
    if kind == "leather-protectors":
        return "cut_for_class"
    if kind in CHAIN:
        # "Class II" on a meter is its own insulation, so a class column is read only where it says CAT.
        return "marks" if column == "rating" or "cat" in text_of(cell).lower() else ""
    if column == "rating":
        return "voltage_mark" if kind in TOOLS else "arc_rating_cal" if kind == "arc-face-shield" else ""
    return ""


# --- how cells are read ---

_SYSTEMS = (("gb", ("gb", "gb/t", "gb/t 17622")), ("jp", ("jp", "jis", "jis t 8112", "japan")))
_IEC_WORDS = word_set(
    "iec | astm | en | us | ansi | eu | astm/iec | iec/en | iec/astm | en/iec | as/nzs | d120 | 60903"
)
_MATERIALS = word_map("""
natural: natural | natural rubber | latex | natural latex | nr
synthetic: synthetic | synthetic rubber | epdm | neoprene
""")
_CAPS = word_map("""
present: present | yes | y | fitted | on | both | \u2713 | 2
missing: missing | no | n | none | lost | off | one missing | \u2717 | 0 | 1
unknown: unknown
""")
_FUSES = word_map("""
hbc: hbc | hrc | high breaking capacity | ceramic hbc | ceramic
glass: glass
blown: blown
unknown: unknown
""")
_LEATHERS = word_map("""
goat: goat | goatskin
cow: cow | cowhide
deer: deer | deerskin
pig: pig | pigskin
horse: horse | horsehide
sheep: sheep | sheepskin | cape
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


def _measure(units: Mapping[str, Decimal], default: str = "") -> Callable[[Cell, Reading], object]:
    return lambda cell, reading: plain_value(measured(cell, units, reading.unit or default))


def _one_current(current: str) -> Callable[[Cell, Reading], object]:
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


PARSERS: dict[str, Callable[[Cell, Reading], object]] = {
    "class": lambda cell, _: cells.insulation_class(cell),
    "cut_for_class": _plain_class,
    "class_system": lambda cell, _: class_system(cell),
    "type": lambda cell, _: cells.rubber_type(cell),
    "categories": lambda cell, _: cells.glove_categories(cell),
    "length_mm": lambda cell, reading: cells.length_mm(cell, reading.unit),
    "size": lambda cell, _: cells.size(cell),
    "material": lambda cell, _: one_of(cell, _MATERIALS),
    "marks": lambda cell, _: mark_cells.category_marks(cell),
    "marks_cap_off": lambda cell, _: mark_cells.category_marks(cell),
    "voltage_mark": lambda cell, reading: mark_cells.volts_by_current(cell, reading.current, reading.unit),
    "max_input": lambda cell, reading: mark_cells.volts_by_current(cell, reading.current, reading.unit),
    "threshold": lambda cell, reading: mark_cells.volts_by_current(cell, reading.current, reading.unit),
    "output": lambda cell, reading: mark_cells.volts_by_current(cell, reading.current, reading.unit),
    "caps": lambda cell, _: one_of(cell, _CAPS),
    "fuse": lambda cell, _: mark_cells.fuse(cell),
    "leather": lambda cell, _: one_of(cell, _LEATHERS),
    "kind_of_current": lambda cell, _: one_of(cell, _CURRENTS),
    "occasion": lambda cell, _: one_of(cell, _OCCASIONS),
    "test_v": lambda cell, reading: cells.proof_volts(cell, reading.unit),
    "current_a": _measure(cells.AMPERES, "a"),
    "tip_mm": _measure(cells.LENGTHS),
    "leather_mm": _measure(cells.LENGTHS),
    "max_altitude_m": _measure(cells.METRES),
    "maker_interval_months": _measure(cells.MONTHS),
    "frequency_hz": _measure(cells.HERTZ, "hz"),
    "dwell_s": _measure(cells.SECONDS),
    "left_ma": _measure(cells.MILLIAMPERES),
    "right_ma": _measure(cells.MILLIAMPERES),
    "first_issue": first_issue,
    "tested_on": _test_day,
    "previous_on": _test_day,
    "calibrated_on": _test_day,
    "inspected_on": _test_day,
    "status_on": lambda cell, reading: day(cell, reading.order),
    "result": lambda cell, _: cells.result(cell),
    "previous_result": lambda cell, _: cells.result(cell),
    "calibration_result": lambda cell, _: cells.result(cell),
    "certificate": _text,
    "method": _text,
    "crib": _text,
    "fuse_kind": lambda cell, _: one_of(cell, _FUSES),
    "fuse_v": lambda cell, reading: mark_cells.one_voltage(cell, reading.unit),
    "lab": _text,
    "batch": _text,
    "custody": _text,
    "quantity": _quantity,
}
PARSERS |= dict.fromkeys(
    ("dc_tested", "fixed_leads", "hood", "balaclava", "fuse_ac_only"), lambda cell, _: cells.yes_no(cell)
)
PARSERS |= dict.fromkeys(("arc_rating_cal", "fabric_rating_cal", "window_rating_cal"), _measure(cells.CALORIES, "cal"))
PARSERS |= {
    f"{name}_{kind}": _one_current(kind)
    for name in ("voltage_mark", "max_input", "threshold", "output")
    for kind in ("ac", "dc")
}
