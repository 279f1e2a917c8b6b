"""What a rule is declared with: its key, what it is about, how it is renewed, and the pure function that answers."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from msgspec import Struct

from app.decision.domain.facts import Facts
from app.decision.domain.finding import HOUSE_BASIS, Basis, Demand, Finding, Renewal
from app.decision.domain.limits import RuleSet
from app.decision.domain.piece import Piece
from app.decision.domain.voltage import Circuit


class Rule(Struct, frozen=True):
    """One demand. `source` is where it comes from, for the record and for docs."""

    key: str
    renewal: Renewal
    source: str

    def demand(self, subject: str, basis: Basis = HOUSE_BASIS) -> Demand:
        """A pen for findings of this rule."""
        return Demand(self.key, subject, basis)


class PieceRule(Rule, frozen=True):
    """Asked of each piece whose kind the set or house policy covers, once per set."""

    check: Callable[[Facts, Piece, RuleSet], Iterable[Finding]]


class CircuitRule(Rule, frozen=True):
    """Asked of each circuit to be touched."""

    check: Callable[[Facts, Circuit], Iterable[Finding]]


class KitRule(Rule, frozen=True):
    """Asked once of the kit, the people and the place together."""

    check: Callable[[Facts], Iterable[Finding]]
