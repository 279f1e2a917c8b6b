"""Class known: the mark says a class, in the class system this rule set judges.

Cannot tell when the class or the system is missing, illegible, not one its kind comes in, or another system's: a class
number means nothing without its system; nor while it is only remembered that the table holds for this kind. Never not
met: whether a known class reaches is asked elsewhere.
Source: 1910.137(a)(1)(ii); class tables of the sets.

>>> asked(RULE, gloves(insulation_class="0", class_system="iec"))
met known: 0
>>> asked(RULE, gloves(insulation_class="0", class_system=None))
cannot-tell no-system
"""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Finding, Renewal
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.rule import PieceRule


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per piece and set."""
    demand = RULE.demand(piece.code, rule_set.basis(RULE.key, piece.kind))
    if piece.class_system is None:
        return [demand.cannot_tell("class-known.no-system")]
    if piece.class_system != rule_set.class_system:
        return [demand.cannot_tell("class-known.other-system", system=piece.class_system, set=rule_set.title)]
    if piece.insulation_class is None:
        return [demand.cannot_tell("class-known.no-class")]
    if rule_set.class_limit(piece.kind, piece.insulation_class, "use", "ac") is None:
        return [demand.cannot_tell("class-known.not-in-table", insulation_class=piece.insulation_class)]
    leaning = rule_set.leaning(piece.kind)
    if leaning is not None and not facts.site.counts_as_seen(leaning):
        return [demand.on(leaning.basis(rule_set.key)).not_in_print(leaning.key)]
    return [demand.met("class-known.known", measured=piece.insulation_class)]


RULE = PieceRule("class-known", Renewal.EACH_ISSUE, "1910.137(a)(1)(ii); class tables of the sets", check)
