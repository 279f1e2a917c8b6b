"""What the marks of a piece are called, with unit and decimals: for the form that asks and the card that says them."""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.domain.piece import FirstIssue, Piece
from app.outputs.documents.history import marks_said
from app.outputs.documents.mark_words import first_issue_said
from app.words.saying import say
from app.words.vocabulary import CLASS_SYSTEMS

CAL = "cal/cm\u00b2"
# key of a worked case -> its words, unit and decimals.
FIGURES: Mapping[str, tuple[str, str, int]] = {
    "size": ("shelf.add.size", "", 2), "length_mm": ("shelf.add.length_mm", "mm", 0),
    "leather_mm": ("shelf.add.leather_mm", "mm", 2), "tip_mm": ("shelf.add.tip_mm", "mm", 1),
    "current_a": ("shelf.add.current_a", "A", 3), "max_input_ac_v": ("shelf.add.max_input_ac_v", "V", 0),
    "max_input_dc_v": ("shelf.add.max_input_dc_v", "V", 0), "max_altitude_m": ("shelf.add.max_altitude_m", "m", 0),
    "threshold_ac_v": ("shelf.add.threshold_ac_v", "V", 1), "threshold_dc_v": ("shelf.add.threshold_dc_v", "V", 1),
    "output_ac_v": ("shelf.add.output_ac_v", "V", 1), "output_dc_v": ("shelf.add.output_dc_v", "V", 1),
    "arc_rating_cal": ("shelf.add.arc_rating_cal", CAL, 2),
    "window_rating_cal": ("shelf.add.window_rating_cal", CAL, 2),
    "fabric_rating_cal": ("shelf.add.fabric_rating_cal", CAL, 2),
    "maker_interval_months": ("shelf.add.maker_interval_months", "months", 0),
}  # fmt: skip
YES_NO: Mapping[str, str] = {
    "hood": "shelf.add.hood", "balaclava": "shelf.add.balaclava", "dc_tested": "shelf.add.dc_tested",
}  # fmt: skip
TEXTS: Mapping[str, str] = {
    "label": "shelf.add.label", "batch": "shelf.add.batch", "leather": "shelf.add.leather",
    "marks": "shelf.add.marks", "marks_cap_off": "shelf.add.marks_cap_off", "categories": "shelf.add.categories",
}  # fmt: skip
CHOICES: Mapping[str, str] = {
    "class": "shelf.add.class", "class_system": "shelf.add.class_system", "type": "shelf.add.type",
    "hand": "shelf.add.hand", "material": "shelf.add.material", "first_issue": "shelf.add.first_issue",
    "cut_for_class": "shelf.add.cut_for_class", "fixed_leads": "shelf.add.fixed_leads", "caps": "shelf.add.caps",
}  # fmt: skip
# On the card a mark stands beside its value: no example and no question there.
_SHORT: Mapping[str, str] = {
    "marks": "shelf.mark.marks", "categories": "shelf.mark.categories", "dc_tested": "shelf.mark.dc_tested",
    "hood": "shelf.mark.hood", "balaclava": "shelf.mark.balaclava", "fixed_leads": "shelf.mark.fixed_leads",
    "voltage_mark": "shelf.mark.voltage_mark", "fuse": "shelf.add.fuse_kind",
}  # fmt: skip
# Said elsewhere on the card.
_ELSEWHERE = frozenset({"custody", "label", "first_issue"})


def marks_words(piece: Piece, first: FirstIssue) -> list[str]:
    """What is printed on a piece or known of it, a line each with its unit.

    `first`: the first hand-over ever as the clock counts it, which may be another than the one stated.
    """
    lines = []
    for spoken, value in marks_said(piece):
        key = spoken.replace(" ", "_")
        if key in _ELSEWHERE:
            continue
        name, unit = _name_of(key)
        shown = CLASS_SYSTEMS.get(value, value) if key == "class_system" else value
        lines.append(f"{name or spoken}: {shown} {unit}".rstrip())
    lines.append(f"{say(CHOICES['first_issue'], {})}: {first_issue_said(first)}")
    return lines


def _name_of(key: str) -> tuple[str, str]:
    if key in FIGURES:
        words, unit, _ = FIGURES[key]
        return say(words, {}), unit
    found = _SHORT.get(key) or CHOICES.get(key) or TEXTS.get(key) or YES_NO.get(key)
    return ("" if found is None else say(found, {})), ""
