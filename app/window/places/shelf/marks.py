"""What the marks of a piece are called, with unit and decimals: for the form that asks and the card that says them."""

from __future__ import annotations

from collections.abc import Mapping

from app.decision.domain.piece import FirstIssue, Piece
from app.outputs.documents.field_words import field_line, fields_of, first_issue_said

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
# Said elsewhere on the card.
_ELSEWHERE = frozenset({"custody", "label", "first_issue"})


def marks_words(piece: Piece, first: FirstIssue) -> list[str]:
    """What is printed on a piece or known of it, a line each with its unit.

    `first`: the first hand-over ever as the clock counts it, which may be another than the one stated.
    """
    lines = [field_line(key, value) for key, value in fields_of(piece) if key not in _ELSEWHERE]
    return [*lines, field_line("first_issue", first_issue_said(first))]
