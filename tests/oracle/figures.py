"""The printed figures the demands compare with, each with its source and confidence letter.

Letters: P seen in primary text, S in secondary text, T in a trade handout, M from memory (counts for a piece only once
confirmed in print), D derived, H house policy. Volts are millivolts where the name ends in _mv.
"""

from __future__ import annotations

CLASSES = ("00", "0", "1", "2", "3", "4")

# Maximum use volts by class, table T1: AC confidence S, DC (IEC family) T/S.
CLASS_AC_MV = dict(zip(CLASSES, (500_000, 1_000_000, 7_500_000, 17_000_000, 26_500_000, 36_000_000), strict=True))
CLASS_DC_MV = dict(zip(CLASSES, (750_000, 1_500_000, 11_250_000, 25_500_000, 39_750_000, 54_000_000), strict=True))

# In-service retest volts, table T1 (OSHA Table I-4 via state law): P for 0 to 4, M for 00.
RETEST_V = {
    "ac": dict(zip(CLASSES, (2_500, 5_000, 10_000, 20_000, 30_000, 40_000), strict=True)),
    "dc": dict(zip(CLASSES, (10_000, 20_000, 40_000, 50_000, 60_000, 70_000), strict=True)),
}

# Proof-test current in mA at 60 Hz by glove length in mm, table T2 (OSHA Table I-1): class 0 P, class 00 M,
# classes 1 to 4 values P with the column placement M. No entry: no limit printed.
LEAKAGE_MA = {
    "00": {280: 8, 360: 12},
    "0": {280: 8, 360: 12, 410: 14, 460: 16},
    "1": {360: 14, 410: 16, 460: 18},
    "2": {360: 16, 410: 18, 460: 20},
    "3": {360: 18, 410: 20, 460: 22},
    "4": {410: 22, 460: 24},
}
SOAK_EXTRA_MA = 2  # P, acceptance only
DWELL_S = 60  # H (the footnote itself is M)
ACCEPTANCE_DWELL_S = 180  # P

# Cuff clearance in mm, table T6: shipped column (S; class 00 is house policy) and the ASTM F496 reading (M).
CLEARANCE_MM = dict(zip(CLASSES, (25, 25, 25, 51, 76, 102), strict=True))
CLEARANCE_ASTM_MM = dict(zip(CLASSES, (13, 13, 25, 51, 76, 102), strict=True))
CUFF_SLACK_MM = 15  # H, glove length - protector length - 15

# Leather of the hand in mm by class, ASTM F696 section 4: P.
LEATHER_MM = {"00": (0.40, 1.20), "0": (0.58, 1.20)}
LEATHER_GENERAL_MM = (1.00, 1.60)
LEATHERS = frozenset({"goat", "cow", "deer", "pig", "horse"})
LEATHERS_LOW_CLASSES = frozenset({"sheep", "cape"})

# Inflation of the air test, table T13: house policy.
INFLATION = {"I": 1.5, "II": 1.25}

# Largest cell volts by chemistry: S; unknown lithium is house policy.
CELL_MAX_MV = {
    "nmc": 4200,
    "nca": 4200,
    "lco": 4200,
    "lmo": 4200,
    "lfp": 3650,
    "lto": 2850,
    "nimh": 1600,
    "unknown-lithium": 4450,
}

CLASS_A_DC_MV, CLASS_A_AC_MV = 60_000, 30_000  # S
SCOPE_DC_MV, SCOPE_AC_MV = 1_500_000, 1_000_000  # S
INVERTER_PER_10000 = 8165  # D, r.m.s. over DC link
SILENT_ALTITUDE_M = 2000  # S, P
TIP_MM = 4  # S
TIP_OPEN_MM = 19  # S, profile iec below category III
MONTHS_IN_SERVICE, MONTHS_ON_SHELF = 6, 12  # S, OSHA Table I-5
MONTHS_CALIBRATION, MONTHS_LOOK = 12, 12  # H
ARC_FACE_CAL, ARC_HOOD_CAL = 1.2, 12.0  # S, NFPA 70E Table 130.5(G)

# Keys of the figures of confidence M, as this judge names them; see READINGS.md.
PHASE_TO_EARTH = "us-osha-137/phase-to-earth"
GLOVE_REPAIR_PLACE = "us-osha-137/glove-repair-place"


def retest_key(kind_of_current: str, glove_class: str) -> str | None:
    """Key of the retest voltage where it is of confidence M, else None."""
    return f"us-osha-137/retest-{kind_of_current}-v/{glove_class}" if glove_class == "00" else None


def leakage_key(glove_class: str) -> str | None:
    """Key of the current limit where it is of confidence M, else None."""
    return f"us-osha-137/leakage-ma/{glove_class}" if glove_class != "0" else None


def astm_clearance_key(glove_class: str) -> str:
    """Key of the ASTM F496 clearance, of confidence M in every class."""
    return f"clearance/astm-f496/{glove_class}"
