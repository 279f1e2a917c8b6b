"""The printed figures the demands compare with, each with its source and confidence letter.

Letters: P seen in primary text, S in secondary text, T in a trade handout, M from memory (counts for a piece only once
confirmed in print), D derived, H house policy. Volts are millivolts where the name ends in _mv.
"""

from __future__ import annotations

CLASSES = ("00", "0", "1", "2", "3", "4")

# Maximum use volts by class, table T1: AC confidence S, DC (IEC family) T/S.
CLASS_AC_MV = dict(zip(CLASSES, (500_000, 1_000_000, 7_500_000, 17_000_000, 26_500_000, 36_000_000), strict=True))
CLASS_DC_MV = dict(zip(CLASSES, (750_000, 1_500_000, 11_250_000, 25_500_000, 39_750_000, 54_000_000), strict=True))
# Footwear prints DC for classes 00 to 2 alone, table T9: S.
FOOTWEAR_DC_MV = {c: CLASS_DC_MV[c] for c in ("00", "0", "1", "2")}
# GB/T 17622-2008, table T18: S; gloves alone, no class 00, no DC.
GB_AC_MV = {"0": 380_000, "1": 3_000_000, "2": 10_000_000, "3": 20_000_000, "4": 35_000_000}

# Retest volts, table T1. US in-service (OSHA Table I-4 via state law): P for 0 to 4, M for 00.
# IEC AC proof: T; the IEC family prints no DC retest (2.8: dropped from the normative part). GB and JP: none seen by class.
RETEST_AC_V = dict(zip(CLASSES, (2_500, 5_000, 10_000, 20_000, 30_000, 40_000), strict=True))
RETEST_DC_V = dict(zip(CLASSES, (10_000, 20_000, 40_000, 50_000, 60_000, 70_000), strict=True))

# Proof-test current in mA at 60 Hz by glove length in mm, table T2 (OSHA Table I-1): class 0 P, class 00 M,
# classes 1 to 4 values P with the column placement M. No entry: no limit printed.
LEAKAGE_US_MA = {
    "00": {280: 8, 360: 12},
    "0": {280: 8, 360: 12, 410: 14, 460: 16},
    "1": {360: 14, 410: 16, 460: 18},
    "2": {360: 16, 410: 18, 460: 20},
    "3": {360: 18, 410: 20, 460: 22},
    "4": {410: 22, 460: 24},
}
# The same of IEC and GB, table T2b: class 0 S for GB and M for IEC, the rest M; the column 460 holds for longer gloves.
LEAKAGE_IEC_MA = {
    "00": {280: 12, 360: 14},
    "0": {280: 12, 360: 14, 410: 16, 460: 18},
    "1": {360: 16, 410: 18, 460: 20},
    "2": {360: 18, 410: 20, 460: 22},
    "3": {360: 20, 410: 22, 460: 24},
    "4": {410: 24, 460: 26},
}
LEAKAGE_LAST_COLUMN_MM = 460
# Footwear EN 50321-1, table T9: T; the brackets for overboots are not taken.
LEAKAGE_FOOTWEAR_MA = {"00": 3, "0": 5, "1": 10, "2": 18, "3": 20, "4": 24}
SOAK_EXTRA_MA = 2  # P, acceptance only, US table
DWELL_S = 60  # H (the footnote itself is M)
ACCEPTANCE_DWELL_S = 180  # P
ACCEPTANCE_DWELL_MATTING_S = 60  # P

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
MONTHS_MATTING = 12  # T, IEC 61111, classes 1 to 4
MONTHS_BY_MATERIAL = {"natural": (12, 9), "synthetic": (18, 15)}  # P, WAC 296-32-22550: new, else
MONTHS_CALIBRATION, MONTHS_LOOK = 12, 12  # H
TRIMMED_BLANKET_MM = 560  # S, 1910.137(c)(2)(x) for classes 1 to 4; H for class 0
BARE_TELECOM_MV = 250_000  # P, WAC 296-32-22550: class 0 below 250 V only
ARC_FACE_CAL, ARC_HOOD_CAL = 1.2, 12.0  # S, NFPA 70E Table 130.5(G)

# Keys of the figures of confidence M, as this judge names them; see READINGS.md. `name` is that of the rule set.
M_LIMITS = frozenset(
    {
        ("us", "line-hose"),
        ("us", "insulating-cover"),
        ("us", "insulating-matting"),
        ("iec", "line-hose"),
        ("iec", "insulating-cover"),
        ("iec", "rubber-sleeves"),
        ("iec", "insulating-blanket"),
    }
)


def phase_to_earth_key(name: str) -> str:
    """Key of the footnote that lets phase to earth stand for phase to phase."""
    return f"{name}/phase-to-earth"


def glove_repair_key(name: str) -> str:
    """Key of the limit of glove repairs to the cuff."""
    return f"{name}/glove-repair-place"


def goods_key(name: str, tables: str, kind: str) -> str | None:
    """Key of the class and test volts of a kind where the whole row is of confidence M, else None."""
    return f"{name}/volts/{kind}" if (tables, kind) in M_LIMITS else None


def matting_dc_key(name: str) -> str:
    """Key of the DC volts of mats, of confidence M in every class."""
    return f"{name}/matting-dc-v"


def retest_key(name: str, tables: str, kind_of_current: str, glove_class: str) -> str | None:
    """Key of the retest voltage where it is of confidence M, else None."""
    return f"{name}/retest-{kind_of_current}-v/{glove_class}" if tables == "us" and glove_class == "00" else None


def leakage_key(name: str, tables: str, glove_class: str) -> str | None:
    """Key of the current limit of gloves where it is of confidence M, else None."""
    return None if glove_class == "0" and tables in {"us", "gb"} else f"{name}/leakage-ma/{glove_class}"


def shelf_key(name: str) -> str | None:
    """Key of the months on the shelf where they are of confidence M, else None."""
    return f"{name}/months-on-shelf" if name == "us-nfpa-70e" else None


def interval_key(name: str, tables: str, kind: str) -> str | None:
    """Key of the interval of a kind where it is of confidence M, else None.

    Under us-telecom-268 the months are printed by material; that they hold of other goods than rubber gloves is M.
    """
    if name == "us-telecom-268" and kind != "rubber-gloves":
        return f"{name}/interval/{kind}"
    return f"{name}/months/{kind}" if tables == "iec" and kind in {"rubber-sleeves", "insulating-blanket"} else None


def own_protection_key(name: str) -> str:
    """Key of the statement that nothing is worn over composite gloves, of confidence M wherever it is made."""
    return f"{name}/composite-gloves/own-protection"


def astm_clearance_key(glove_class: str) -> str:
    """Key of the ASTM F496 clearance, of confidence M in every class."""
    return f"clearance/astm-f496/{glove_class}"
