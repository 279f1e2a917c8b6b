"""What a piece may be used for, as far as its marks alone say: the figure, whose it is, and never more than that."""

from __future__ import annotations

from collections.abc import Iterator

from app.decision.domain.chain import CATEGORIES, offers
from app.decision.domain.facts import Facts
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.words.saying import say


def build(piece: Piece, facts: Facts) -> tuple[str, ...]:
    """One sentence a figure; "not shown as fit" where a mark is missing. `facts` bring kinds, sets and site."""
    kind = facts.kinds.get(piece.kind)
    if kind is None:
        return (say("usable.kind-not-judged", {"piece": piece.code}),)
    if kind.is_classed:
        return tuple(_by_class(piece, rule_set, facts) for rule_set in facts.rule_sets)
    if kind.is_instrument or kind.is_chain_part:
        return tuple(_by_marks(piece))
    if "voltage_mark" in kind.fields:
        return (_by_voltage_mark(piece),)
    return (say("usable.no-figure", {"kind": piece.kind}),)


def _by_class(piece: Piece, rule_set: RuleSet, facts: Facts) -> str:
    values: dict[str, object] = {"class": piece.insulation_class, "set": rule_set.title}
    if piece.insulation_class is None or piece.class_system != rule_set.class_system:
        return say("usable.class-unknown", values)
    ac = rule_set.class_limit(piece.kind, piece.insulation_class, "use", "ac")
    dc = rule_set.class_limit(piece.kind, piece.insulation_class, "use", "dc")
    if ac is None or dc is None:
        return say("usable.no-limit", values)
    figures = (ac, dc, rule_set.leaning(piece.kind))
    if any(figure is not None and not facts.site.counts_as_seen(figure) for figure in figures):
        return say("usable.not-in-print", values)
    if facts.kinds[piece.kind].wants_dc_test and piece.dc_tested is not True:
        return say("usable.class-ac", {**values, "ac_v": ac.value / 1000})
    return say("usable.class", {**values, "ac_v": ac.value / 1000, "dc_v": dc.value / 1000})


def _by_marks(piece: Piece) -> Iterator[str]:
    if not piece.marks:
        yield say("usable.no-marks", {})
        return
    for category in CATEGORIES:
        mv = offers(piece.marks, category)
        if mv:
            yield say("usable.category", {"category": category, "v": mv / 1000})
    if piece.marks_cap_off:
        yield say("usable.caps", {})


def _by_voltage_mark(piece: Piece) -> str:
    mark = piece.voltage_mark
    if mark is None or (mark.ac_mv is None and mark.dc_mv is None):
        return say("usable.no-voltage-mark", {})
    ac = "-" if mark.ac_mv is None else say("usable.volts", {"v": mark.ac_mv / 1000})
    dc = "-" if mark.dc_mv is None else say("usable.volts", {"v": mark.dc_mv / 1000})
    return say("usable.voltage-mark", {"ac": ac, "dc": dc})
