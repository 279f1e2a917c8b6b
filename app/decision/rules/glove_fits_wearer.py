"""The gloves fit who wears them: within one size of a size on the person's list; off by up to one is a caution.

With a second person each pair goes to the wearer it fits best, so that both have one. Cannot tell when a size is not
known. Source: house policy.

>>> asked(RULE, gloves(size=10), person={"glove_sizes": [9, 10]})
met fits: 10 in, required 9, 10 in
>>> asked(RULE, gloves(size=11.5), person={"glove_sizes": [9, 10]})
not-met off: 11.5 in, required 9, 10 in
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import permutations

from app.decision.domain.facts import Facts
from app.decision.domain.finding import Finding, Remedy, Renewal
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Person, Piece
from app.decision.domain.rule import PieceRule

_FAR = 10_000


def check(facts: Facts, piece: Piece, rule_set: RuleSet) -> Iterable[Finding]:
    """One finding per pair of gloves."""
    del rule_set
    demand = RULE.demand(piece.code)
    wearer = _wearer(facts, piece)
    if wearer is None or not wearer.glove_sizes_c:
        return [
            demand.cannot_tell("glove-fits-wearer.no-sizes", remedy=Remedy.JOB, person=wearer.code if wearer else "")
        ]
    if piece.size_c is None:
        return [demand.cannot_tell("glove-fits-wearer.no-size", person=wearer.code)]
    off = _off(piece, wearer)
    sizes = ", ".join(f"{size / 100:g}" for size in wearer.glove_sizes_c)
    values: dict[str, object] = {
        "person": wearer.code, "measured": piece.size_c / 100, "required": sizes, "unit": "in",
    }  # fmt: skip
    if off > facts.house.value("glove-size-step"):
        return [demand.not_met("glove-fits-wearer.off", **values)]
    if off:
        return [demand.met("glove-fits-wearer.near", **values), demand.caution("glove-fits-wearer.one-off", **values)]
    return [demand.met("glove-fits-wearer.fits", **values)]


def _off(piece: Piece, wearer: Person) -> int:
    if piece.size_c is None or not wearer.glove_sizes_c:
        return _FAR
    return min(abs(piece.size_c - size) for size in wearer.glove_sizes_c)


def _cost(facts: Facts, piece: Piece, wearer: Person) -> int:
    """How badly a pair suits a wearer; a pair in somebody else's keeping suits nobody else."""
    elsewhere = facts.history(piece).places() - {"crib", wearer.code}
    return _FAR if elsewhere else _off(piece, wearer)


def _wearer(facts: Facts, piece: Piece) -> Person | None:
    """Who gets this pair when pairs are shared out so that the worst fit is as good as can be."""
    wearers = _wearing(facts)
    gloves = facts.of_role("gloves")
    if len(wearers) < 2 or len(gloves) < 2:
        return min(wearers, key=lambda wearer: _cost(facts, piece, wearer), default=None)
    shared = min(
        permutations(range(len(gloves)), len(wearers)),
        key=lambda order: sorted(
            (_cost(facts, gloves[index], wearer) for index, wearer in zip(order, wearers, strict=True)), reverse=True
        ),
    )
    for index, wearer in zip(shared, wearers, strict=True):
        if gloves[index] is piece:
            return wearer
    return min(wearers, key=lambda wearer: _cost(facts, piece, wearer), default=None)


def _wearing(facts: Facts) -> tuple[Person, ...]:
    """The second person wears gloves of the kit only where the task says they bring their own pair into it."""
    task = facts.job.task
    if task is not None and not task.second_has_own_gloves:
        return facts.wearers[:1]
    return facts.wearers


RULE = PieceRule("glove-fits-wearer", Renewal.EACH_ISSUE, "house policy", check)
