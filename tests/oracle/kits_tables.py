"""Figures the kit generator aims its edges at, and the month arithmetic it aims days with.

The generator needs the limits only to place a kit one unit below, on and above them; it never judges.
The figures are copied from the printed tables named beside them, not from the program, so that a wrong
figure in the program shows up as a disagreement.
"""

from __future__ import annotations

import calendar
from datetime import date, timedelta
from typing import Final

#: Highest use voltage by class, volts. DC column of the IEC family (T/S), AC column (S): class table T1.
MAX_DC_V: Final = {"00": 750, "0": 1500, "1": 11250, "2": 25500, "3": 39750}
MAX_AC_V: Final = {"00": 500, "0": 1000, "1": 7500, "2": 17000, "3": 26500}

#: GB/T 17622-2008, AC alone: table T18 (S).
MAX_GB_AC_V: Final = {"0": 380, "1": 3000, "2": 10000, "3": 20000}

#: Voltage of the electrical test by class, volts: table T1 (P for classes 0 to 4, M for class 00).
RETEST_AC_V: Final = {"00": 2500, "0": 5000, "1": 10000, "2": 20000, "3": 30000}
RETEST_DC_V: Final = {"00": 10000, "0": 20000, "1": 40000, "2": 50000, "3": 60000}

#: Highest current at 60 Hz in mA by class and glove length in mm: 1910.137 Table I-1, T2 (P for class 0, M else).
LEAKAGE_MA: Final = {
    "00": {280: 8, 360: 12},
    "0": {280: 8, 360: 12, 410: 14, 460: 16},
    "1": {360: 14, 410: 16, 460: 18},
    "2": {360: 16, 410: 18, 460: 20},
    "3": {360: 18, 410: 20, 460: 22},
}

#: The same of IEC and GB: table T2b (class 0 S for GB, M else); the last column holds for longer gloves.
LEAKAGE_IEC_MA: Final = {
    "00": {280: 12, 360: 14},
    "0": {280: 12, 360: 14, 410: 16, 460: 18},
    "1": {360: 16, 410: 18, 460: 20},
    "2": {360: 18, 410: 20, 460: 22},
    "3": {360: 20, 410: 22, 460: 24},
}

#: Boots of EN 50321-1 in mA: table T9 (T).
LEAKAGE_BOOTS_MA: Final = {"00": 3, "0": 5, "1": 10, "2": 18, "3": 20}

#: Trimmed blanket, mm each way: 1910.137(c)(2)(x) (S), class 0 by house policy.
TRIMMED_MM: Final = 560

#: Rubber cuff past protector cuff in mm: the larger reading of T6 (S), and the ASTM F496 reading (M).
CLEARANCE_MM: Final = {"00": 25, "0": 25, "1": 25, "2": 51, "3": 76}
CLEARANCE_F496_MM: Final = {"00": 13, "0": 13, "1": 25, "2": 51, "3": 76}

#: Hand leather in hundredths of a millimetre, thinnest and thickest: ASTM F696 section 4, T7 (P).
LEATHER_HUNDREDTHS: Final = {"00": (40, 120), "0": (58, 120), "1": (100, 160), "2": (100, 160), "3": (100, 160)}

#: Highest cell voltage in mV where the card states none (S; the unknown lithium is house policy).
CELL_MAX_MV: Final = {
    "nmc": 4200, "nca": 4200, "lco": 4200, "lmo": 4200, "lfp": 3650, "lto": 2850, "nimh": 1600,
    "unknown-lithium": 4450,
}  # fmt: skip


def add_months(day: date, months: int) -> date:
    """Same day `months` later, clamped to the end of a shorter month."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return date(year, month + 1, min(day.day, calendar.monthrange(year, month + 1)[1]))


def landing_on(due: date, months: int) -> list[date]:
    """Every day whose `months`-later day is `due`: none, one, or up to four where a month end is clamped."""
    year, month = divmod(due.year * 12 + due.month - 1 - months, 12)
    last = calendar.monthrange(year, month + 1)[1]
    if due.day > last:
        return []
    due_is_month_end = (due + timedelta(days=1)).day == 1
    days = range(due.day, last + 1) if due_is_month_end else (due.day,)
    return [date(year, month + 1, day) for day in days]
