"""29 CFR 1910.137, in the text of 2014, as adopted practice: the shipped set.

Sources: facts T1 to T5, 2.1 to 2.4. The text prints no use voltage for DC, so DC volts come from the class table of
the IEC family and carry that source. Work by qualified people on installations in vehicles is outside 1910.331 to .335,
so nothing of this is shown as what the law asks of them.
"""

from __future__ import annotations

from app.domain.limits import Limit, RuleSet, TestInterval

EDITION = "1910.137, text of 2014"
IEC_TABLE = "class table of the IEC 60903 family (1910.137 prints no DC use voltage)"
USE_AC = "1910.137(c)(2)(i), Table I-4"
RETEST_AC = "1910.137(c)(2)(viii), Table I-4"
RETEST_DC = "1910.137, Table I-2 and Table I-4"
CURRENT = "1910.137(a)(2)(ii), Table I-1"
DWELL = "1910.137, Table I-4 footnote"
INTERVAL = "1910.137(c)(2)(viii), Table I-5 and footnote"

GLOVES = (
    "class-known",
    "insulation-class-stands-voltage",
    "electrical-test-counts",
    "electrical-test-in-date",
    "no-open-event",
    "air-test-done",
    "repair-allowed",
    "protectors-worn",
)


def _limit(key: str, value: int, unit: str, clause: str, confidence: str) -> Limit:
    return Limit(key, value, unit, clause, confidence, EDITION)


def _volts(kind: str, table: dict[str, tuple[int, str]], clause: str) -> dict[str, Limit]:
    return {
        f"{kind}/{name}": _limit(f"us-osha-137/{kind}/{name}", volts * 1000, "mV", clause, confidence)
        for name, (volts, confidence) in table.items()
    }


def _currents(table: dict[str, dict[int, tuple[int, str]]]) -> dict[str, Limit]:
    return {
        f"current/{name}/{length}": _limit(f"us-osha-137/current/{name}/{length}", ma * 1000, "uA", CURRENT, letter)
        for name, row in table.items()
        for length, (ma, letter) in row.items()
    }


_LIMITS = (
    _volts(
        "use/ac",
        {"00": (500, "S"), "0": (1000, "S"), "1": (7500, "S"), "2": (17000, "S"), "3": (26500, "S"), "4": (36000, "S")},
        USE_AC,
    )
    | _volts(
        "use/dc",
        {
            "00": (750, "T"),
            "0": (1500, "T"),
            "1": (11250, "T"),
            "2": (25500, "T"),
            "3": (39750, "T"),
            "4": (54000, "T"),
        },
        IEC_TABLE,
    )
    | _volts(
        "retest/ac",
        {
            "00": (2500, "M"),
            "0": (5000, "P"),
            "1": (10000, "P"),
            "2": (20000, "P"),
            "3": (30000, "P"),
            "4": (40000, "P"),
        },
        RETEST_AC,
    )
    | _volts(
        "retest/dc",
        {
            "00": (10000, "M"),
            "0": (20000, "P"),
            "1": (40000, "P"),
            "2": (50000, "P"),
            "3": (60000, "P"),
            "4": (70000, "P"),
        },
        RETEST_DC,
    )
    | _volts(
        "withstand/ac",
        {
            "00": (5000, "T"),
            "0": (10000, "T"),
            "1": (20000, "T"),
            "2": (30000, "T"),
            "3": (40000, "T"),
            "4": (50000, "T"),
        },
        "withstand column of the IEC 60903 family, caution only",
    )
    | _currents(
        {
            "00": {280: (8, "M"), 360: (12, "M")},
            "0": {280: (8, "P"), 360: (12, "P"), 410: (14, "P"), 460: (16, "P")},
            "1": {360: (14, "M"), 410: (16, "M"), 460: (18, "M")},
            "2": {360: (16, "M"), 410: (18, "M"), 460: (20, "M")},
            "3": {360: (18, "M"), 410: (20, "M"), 460: (22, "M")},
            "4": {410: (22, "M"), 460: (24, "M")},
        }
    )
    | {"test-dwell/most": _limit("us-osha-137/test-dwell/most", 180, "s", DWELL, "M")}
    | {"phase-to-earth": _limit("us-osha-137/phase-to-earth", 0, "footnote", "1910.137 Table I-4 footnote", "M")}
    | {"repair-place": _limit("us-osha-137/repair-place", 0, "place", "1910.137(c)(2)(x)", "M")}
    # One reading for use without protectors: class 00 only up to these, classes 1 to 4 one class above the need.
    | _volts("bare/ac", {"00": (250, "S")}, "1910.137(c)(2)(vii)(B)")
    | _volts("bare/dc", {"00": (375, "S")}, "1910.137(c)(2)(vii)(B)")
)

SET = RuleSet(
    key="us-osha-137",
    title="US 1910.137 (adopted practice)",
    edition=EDITION,
    class_system="iec",
    covers={"rubber-gloves": GLOVES},
    intervals={"rubber-gloves": TestInterval(12, 6, "capped", INTERVAL, "S")},
    limits=_LIMITS,
    current_table="us",
    scales_with_frequency=True,
    offers={"figures_required": (False,), "without_protectors_reading": ("us-osha-137",)},
)
