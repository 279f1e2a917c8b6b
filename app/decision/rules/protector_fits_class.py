"""A protector fits: cut for the class of a pair of gloves in the kit, of leather the standard allows for that class.

Not met when it is cut for another class, when a class of glove has fewer protectors than pairs (those that do not say
what they are cut for taken in), or when a stated thickness lies outside the range. Cannot tell when "cut for" is not
known. Source: ASTM F696, section 4.

>>> asked(RULE, protectors(cut_for_class="0", leather_mm=0.8), gloves())
met fits: 0.8 mm, required 0.58 mm
>>> asked(RULE, protectors(cut_for_class="1"), gloves())
not-met other-class: 1, required 0
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Basis, Cause, Demand, Finding, Outcome, Remedy, Renewal
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.rule import PieceRule

_ONLY_LOW_CLASSES = frozenset({"sheep", "cape"})
_GRAINS = frozenset({"goat", "cow", "deer", "pig", "horse"}) | _ONLY_LOW_CLASSES


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per protector."""
    del rule_set
    demand = RULE.demand(piece.code, Basis("ASTM F696, section 4", "P", "house"))
    if piece.cut_for_class is None:
        return [demand.cannot_tell("protector-fits-class.cut-unknown")]
    gloves = Counter(facts.class_in_force(glove) for glove in facts.pairs_under_protectors())
    protectors = Counter(protector.cut_for_class for protector in facts.of_role("protectors"))
    if gloves and piece.cut_for_class not in gloves and None not in gloves:
        classes = ", ".join(sorted(str(name) for name in gloves))
        return [demand.not_met("protector-fits-class.other-class", measured=piece.cut_for_class, required=classes)]
    leather = _leather(facts, piece, demand)
    if leather.outcome is not Outcome.NOT_MET and gloves and piece.cut_for_class not in gloves:
        return [demand.cannot_tell("protector-fits-class.glove-class-unknown")]
    short = sorted(name for name, pairs in gloves.items() if name is not None and protectors[name] < pairs)
    # One that does not say what it is cut for may be the one that is lacking: then nobody can tell, and it says so.
    lacking_pairs = sum(gloves[name] - protectors[name] for name in short)
    # A protector over and above the pairs of its class stands where one of another class is lacking.
    is_spare = protectors[piece.cut_for_class] > gloves[piece.cut_for_class]
    if lacking_pairs > protectors[None] and (is_spare or piece.cut_for_class in short):
        lacking = piece.cut_for_class if piece.cut_for_class in short else short[0]
        return [
            demand.not_met(
                "protector-fits-class.too-few", cause=Cause.MISSING, remedy=Remedy.ADD_PIECE, insulation_class=lacking
            )
        ]
    return [leather]


def _leather(facts: Facts, piece: Piece, demand: Demand) -> Finding:
    row = piece.cut_for_class if piece.cut_for_class in ("00", "0") else "general"
    least, most = (facts.house.limits[f"leather/{row}/{end}"] for end in ("least", "most"))
    demand = demand.on(least.basis("house"))
    if piece.leather in _ONLY_LOW_CLASSES and row == "general":
        return demand.not_met("protector-fits-class.leather-not-allowed", leather=piece.leather)
    if piece.leather is not None and piece.leather not in _GRAINS:
        return demand.cannot_tell("protector-fits-class.leather-unlisted", leather=piece.leather)
    if piece.leather_um is None:
        return demand.met("protector-fits-class.fits", measured=piece.cut_for_class)
    values: dict[str, object] = {"measured": piece.leather_um / 1000, "unit": "mm"}
    if piece.leather_um < least.value:
        return demand.not_met("protector-fits-class.thin", required=least.value / 1000, **values)
    if piece.leather_um > most.value:
        return demand.not_met("protector-fits-class.thick", required=most.value / 1000, **values)
    return demand.met("protector-fits-class.fits", required=least.value / 1000, **values)


RULE = PieceRule("protector-fits-class", Renewal.EACH_ISSUE, "ASTM F696, section 4", check)
