"""What the US sets share: the tables of 1910.137 and its copies, repairs, and the clocks of Table I-5.

Sources: 1910.137 and its letters. 1910.137 prints no use voltage for DC, so DC volts come from the class
table of the IEC family and carry that source. It says nothing of footwear: boots are held to EN 50321-1.
"""

from __future__ import annotations

from app.decision.domain.limits import Clause, Limit, Repairs, TestInterval
from app.decision.rulesets.class_tables import (
    CURRENT_US,
    IEC_TABLE,
    PROOF_AC,
    PROOF_DC,
    USE_AC,
    USE_DC,
    WITHSTAND_AC,
    Columns,
    shared_tables,
)

# The list of (c)(2) and Table I-5: gloves, sleeves, blankets, line hose and covers; neither mats nor boots.
SPEAKS_OF = ("rubber-gloves", "rubber-sleeves", "insulating-blanket", "line-hose", "insulating-cover")
DWELL = "1910.137, Table I-4 footnote"
REPAIR = "1910.137(c)(2)(x)"
BARE = "1910.137(c)(2)(vii)(A) to (C)"
LEANING = {
    "line-hose": "ASTM D1050: classes and volts as of gloves",
    "insulating-cover": "ASTM D1049: classes and volts as of gloves",
    "insulating-matting": "ASTM D178: classes and volts as of gloves",
}
TABLES = shared_tables(LEANING)
# Columns of Table I-1 as they stand; the text has them for classes 0 to 4, the placing of 1 to 4 is from memory.
_PLACED = {"00": "M", "1": "M", "2": "M", "3": "M", "4": "M"}
REPAIRS = {
    "rubber-gloves": Repairs(("patched", "liquid-compound"), ("trimmed", "cut-shorter"), place="repair-place"),
    "composite-gloves": Repairs(("patched", "liquid-compound"), ("trimmed", "cut-shorter"), place="repair-place"),
    "rubber-sleeves": Repairs(("patched", "liquid-compound"), ("trimmed", "cut-shorter")),
    "insulating-blanket": Repairs(("patched", "trimmed"), ("cut-shorter",), least="trim-least"),
    "line-hose": Repairs(("cut-shorter",), ("trimmed",)),
}


def us_limits(pen: Columns, *, use: str, retest: str, retest_dc: str, current: str) -> list[Limit]:
    """Every figure of the US tables under a set's own clauses."""
    return [
        *pen.volts("use/ac", USE_AC, use, "S"),
        *pen.volts("use/dc", USE_DC, f"{IEC_TABLE} (in the US text no DC use voltage was seen)", "T"),
        *pen.volts("retest/ac", PROOF_AC, retest, "P", {"00": "M"}),
        *pen.volts("retest/dc", PROOF_DC, retest_dc, "P", {"00": "M"}),
        *pen.volts("withstand/ac", WITHSTAND_AC, "withstand column of the IEC 60903 family, caution only", "T"),
        *pen.currents(CURRENT_US, current, "P", _PLACED),
        pen.limit("test-dwell/most", 180, "s", DWELL, "M"),
        pen.limit("phase-to-earth", 0, "statement", "1910.137 Table I-4 footnote", "M"),
        *(pen.leaning(kind, words) for kind, words in LEANING.items()),
        *pen.footwear(),
    ]


def us_repairs(pen: Columns) -> list[Limit]:
    """Where a glove may be mended (from memory), and what must remain of a trimmed blanket."""
    return [
        pen.limit("repair-place", 0, "statement", f"{REPAIR}: gloves only between wrist and cuff edge", "M"),
        pen.limit("trim-least", 560, "mm", f"{REPAIR}, classes 1 to 4; class 0 held to the same by house policy", "S"),
    ]


def us_bare(pen: Columns) -> list[Limit]:
    """Class 00 without protectors: the voltages 1910.137 prints."""
    return [pen.limit("bare/ac/00", 250_000, "mV", BARE, "S"), pen.limit("bare/dc/00", 375_000, "mV", BARE, "S")]


def us_clauses() -> dict[str, Clause]:
    """Where each demand stands in 1910.137."""
    return {
        "class-known": Clause("1910.137(a)(1)(ii)", "P"),
        "insulation-class-stands-voltage": Clause("1910.137(c)(2)(i), Table I-4", "S"),
        "electrical-test-counts": Clause("1910.137(c)(2)(viii)", "S"),
        "electrical-test-in-date": Clause("1910.137(c)(2)(viii), Table I-5", "S"),
        "no-open-event": Clause("1910.137 Table I-5; (c)(2)(xi)", "S"),
        "air-test-done": Clause("1910.137(c)(2)(ii)", "P"),
        "repair-allowed": Clause(REPAIR, "S"),
        "protectors-worn": Clause("1910.137(c)(2)(vii)", "S"),
    }


def us_intervals(set_key: str, clause: str, confidence: str, shelf: str = "") -> dict[str, tuple[TestInterval, ...]]:
    """Table I-5: gloves 6 (12 never issued), sleeves and blankets 12, the rest on suspicion and after repair.

    `shelf`: key of the figure that gives the twelve months of gloves, where that is from memory.
    """

    def clock(kind: str, never: int, reused: int) -> tuple[TestInterval, ...]:
        key = f"{set_key}/interval/{kind}"
        wording = clause if kind in SPEAKS_OF else f"{clause}; house policy holds this kind to it"
        return (TestInterval(never, reused, "capped", wording, confidence, key, shelf=shelf),)

    return {
        "rubber-gloves": clock("rubber-gloves", 12, 6),
        "composite-gloves": clock("composite-gloves", 12, 6),
        "rubber-sleeves": clock("rubber-sleeves", 12, 12),
        "insulating-blanket": clock("insulating-blanket", 12, 12),
    }
