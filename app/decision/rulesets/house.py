"""House policy: what no law settles. One declaration, labelled "house policy" wherever it is shown.

Where a figure leans on a text, its clause says so; the confidence letter is then the text's, else H.
"""

from __future__ import annotations

from app.decision.domain.finding import HOUSE
from app.decision.domain.limits import HousePolicy, Limit

EVERY_PIECE = ("not-held", "not-withdrawn", "at-hand", "inspected")
# Gloves have no-open-event from their rule set; for all other kit a house rule says the same.
OTHER_KIT = (*EVERY_PIECE, "no-open-event")
WORN_GLOVES = (*EVERY_PIECE, "glove-fits-wearer", "cuff-clearance", "hands-belong-together")
YEARLY = (*EVERY_PIECE, "inspection-in-date")
_INSTRUMENT = ("altitude-within-mark", "tip-exposure", "fuse-fit", "instrument-suits-task")


def _limit(key: str, value: int, unit: str, clause: str = HOUSE, confidence: str = "H") -> Limit:
    return Limit(f"house/{key}", value, unit, clause, confidence)


_HANDBOOK = "US military handbook, Table 3; the larger of two readings"
_F496 = "ASTM F496"
_SLIDES = "training slides before 2014, in inches; the largest of the readings"
_F696 = "ASTM F696, section 4"
_GS38 = "GS38 (4th ed.), paragraph 9"
_IEC_TIP = "IEC 61010-031"

LIMITS = {
    limit.key.removeprefix("house/"): limit
    for limit in (
        _limit("test-dwell/in-service", 60, "s"),
        _limit("test-dwell/acceptance", 180, "s", "1910.137(a)(2)(i)(B)", "P"),
        _limit("test-dwell/most", 180, "s"),
        _limit("test-dwell/matting", 60, "s", "1910.137(a)(2)(i)(B), matting", "P"),
        _limit("inflation/I", 150, "0.01"),
        _limit("inflation/II", 125, "0.01"),
        _limit("calibration-months", 12, "months"),
        _limit("inspection-months", 12, "months"),
        _limit("derived-clearance-allowance", 15_000, "um"),
        _limit("glove-size-step", 100, "0.01 in"),
        _limit("altitude-if-silent", 2000, "m", "IEC 61243-3 scope; makers' sheets for meters", "S"),
        _limit("tip/gs38", 4_000, "um", _GS38, "S"),
        _limit("tip/gs38-preferred", 2_000, "um", _GS38, "S"),
        _limit("tip/iec-III-IV", 4_000, "um", _IEC_TIP, "S"),
        _limit("tip/iec-other", 19_000, "um", _IEC_TIP, "S"),
        _limit("clearance/cautious/00", 25_000, "um"),
        _limit("clearance/cautious/0", 25_000, "um", _HANDBOOK, "S"),
        _limit("clearance/cautious/1", 25_000, "um", _HANDBOOK, "S"),
        _limit("clearance/cautious/2", 51_000, "um", _SLIDES, "S"),
        _limit("clearance/cautious/3", 76_000, "um", _SLIDES, "S"),
        _limit("clearance/cautious/4", 102_000, "um", _SLIDES, "S"),
        _limit("clearance/astm-f496/00", 13_000, "um", _F496, "M"),
        _limit("clearance/astm-f496/0", 13_000, "um", _F496, "M"),
        _limit("clearance/astm-f496/1", 25_000, "um", _F496, "M"),
        _limit("clearance/astm-f496/2", 51_000, "um", _F496, "M"),
        _limit("clearance/astm-f496/3", 76_000, "um", _F496, "M"),
        _limit("clearance/astm-f496/4", 102_000, "um", _F496, "M"),
        _limit("leather/00/least", 400, "um", _F696, "P"),
        _limit("leather/00/most", 1_200, "um", _F696, "P"),
        _limit("leather/0/least", 580, "um", _F696, "P"),
        _limit("leather/0/most", 1_200, "um", _F696, "P"),
        _limit("leather/general/least", 1_000, "um", _F696, "P"),
        _limit("leather/general/most", 1_600, "um", _F696, "P"),
        _limit("arc/least", 1_200, "mcal/cm2", "NFPA 70E, Table 130.5(G)", "S"),
        _limit("arc/hood-above", 12_000, "mcal/cm2", "NFPA 70E, Table 130.5(G)", "S"),
        _limit("arc/no-live-work-above", 40_000, "mcal/cm2", "NFPA 70E, arc categories", "S"),
    )
}

HOUSE_POLICY = HousePolicy(
    covers={
        "rubber-gloves": WORN_GLOVES,
        "composite-gloves": WORN_GLOVES,
        "rubber-sleeves": EVERY_PIECE,
        "insulating-blanket": EVERY_PIECE,
        "line-hose": EVERY_PIECE,
        "insulating-cover": EVERY_PIECE,
        "insulating-matting": YEARLY,
        "dielectric-footwear": YEARLY,
        "leather-protectors": (*OTHER_KIT, "protector-fits-class"),
        "multimeter": (*OTHER_KIT, *_INSTRUMENT, "calibration-in-date"),
        "clamp-meter": (*OTHER_KIT, *_INSTRUMENT, "calibration-in-date"),
        "insulation-tester": (*OTHER_KIT, *_INSTRUMENT, "calibration-in-date"),
        "two-pole-detector": (*OTHER_KIT, *_INSTRUMENT, "self-test-done"),
        "test-leads": (*OTHER_KIT, "altitude-within-mark", "tip-exposure", "fuse-fit"),
        "tip-or-clip": (*OTHER_KIT, "altitude-within-mark", "tip-exposure", "fuse-fit"),
        "proving-unit": (*OTHER_KIT, "self-test-done", "proving-unit-fits", "altitude-within-mark"),
        "torque-tool": (*OTHER_KIT, "voltage-mark-stands-voltage", "inspection-in-date", "calibration-in-date"),
        "insulated-tool": (*OTHER_KIT, "voltage-mark-stands-voltage", "inspection-in-date"),
        "arc-face-shield": OTHER_KIT,
        "rescue-hook": (*OTHER_KIT, "voltage-mark-stands-voltage", "inspection-in-date"),
        "barrier-set": OTHER_KIT,
        "lock-off-set": OTHER_KIT,
        "arc-suit": (*OTHER_KIT, "inspection-in-date"),
        "dated-item": (*OTHER_KIT, "inspection-in-date"),
    },
    kit=(
        "no-piece-twice",
        "task-roles-filled",
        "chain-complete",
        "chain-stands-voltage",
        "input-stands-voltage",
        "person-authorised",
        "second-person-present",
        "place-dry",
        "arc-rating",
    ),
    circuit=("working-voltage-known", "circuit-in-scope", "data-agrees-with-reading"),
    limits=LIMITS,
    margin_bp={"cells": 1000, "boosted": 1000, "plate": 0, "maker": 0},
    edition="1",
    shipped={
        "tip_profile": "gs38",
        "clearance_table": "cautious",
        "figures_required": True,
        "without_protectors_reading": "stricter",
        "second_person_measure": True,
        "dielectric_exempt_00_0": None,
    },
    offers={"tip_profile": ("iec",), "clearance_table": ("astm-f496",), "second_person_measure": (False,)},
)
