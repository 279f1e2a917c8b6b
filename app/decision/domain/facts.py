"""Everything a decision is made from, gathered once: job, people, kit, site, sets, and what follows from them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from typing import TypeVar

from msgspec import Struct, field
from msgspec.structs import replace

from app.decision.domain.declarations import Kind, Task
from app.decision.domain.electrical_test import Tested, tested
from app.decision.domain.finding import Demand, Finding
from app.decision.domain.history import History
from app.decision.domain.limits import HousePolicy, Limit, RuleSet, SiteRules
from app.decision.domain.piece import Person, Piece
from app.decision.domain.voltage import Circuit, Required, Stress, required, stresses

T = TypeVar("T")


class Job(Struct, frozen=True, kw_only=True):
    """What is going to be done. `with_leads`: which loose leads belong to which instrument (METER, LEADS)."""

    task: Task | None = None
    circuits: tuple[Circuit, ...] = ()
    without_protectors: bool = False
    dexterity_stated_by: str | None = None
    low_damage_risk_stated_by: str | None = None
    incident_energy_mcal: int | None = None
    place: str | None = None
    with_leads: tuple[tuple[str, str], ...] = ()


class Chains(Struct, frozen=True):
    """The chains of a kit, and loose parts nobody can assign (`unassigned`, with the reason's key)."""

    chains: tuple[tuple[Piece, ...], ...]
    unassigned: tuple[Piece, ...] = ()
    why: str = ""

    def is_open(self, chain: tuple[Piece, ...]) -> bool:
        """Whether loose parts that nobody can assign may belong to this chain: one without leads of its own."""
        has_leads = chain[0].fixed_leads is True or any(piece.kind == "test-leads" for piece in chain)
        return bool(self.unassigned) and not has_leads


class Facts(Struct, frozen=True, kw_only=True):
    """One question put to the rules. `rest_in_order`: what is not written is in order (worked cases of level finding).

    Histories and judged tests are worked out once per piece; the memo is not part of the value.
    """

    on: date
    until: date
    job: Job
    pieces: tuple[Piece, ...]
    kinds: Mapping[str, Kind]
    house: HousePolicy
    rule_sets: tuple[RuleSet, ...]
    site: SiteRules = field(default_factory=SiteRules)
    person: Person | None = None
    second: Person | None = None
    rest_in_order: bool = False
    _memo: dict[tuple[str, int, str], object] = field(default_factory=dict)
    _chains: dict[str, Chains] = field(default_factory=dict)

    def kind(self, piece: Piece) -> Kind:
        """The declaration of the piece's kind."""
        return self.kinds[piece.kind]

    def history(self, piece: Piece) -> History:
        """The piece's records as they stand on the first day."""
        return self._once("history", piece, "", lambda: History.of(piece, self.on))

    def tested(self, piece: Piece, rule_set: RuleSet) -> Tested:
        """The piece's electrical tests judged under one set."""
        return self._once(
            "tested", piece, rule_set.key, lambda: tested(self.history(piece), rule_set, self.house, self.site)
        )

    def _once(self, what: str, piece: Piece, more: str, make: Callable[[], T]) -> T:
        # Keyed by identity: hashing a piece with its records costs more than the answer.
        key = (what, id(piece), more)
        if key not in self._memo:
            self._memo[key] = make()
        return self._memo[key]  # type: ignore[return-value]  # the key's first word fixes the type

    def of_role(self, role: str) -> list[Piece]:
        """Pieces that can fill a role."""
        return [piece for piece in self.pieces if self.kind(piece).role == role]

    def wants_protectors(self, glove: Piece) -> bool:
        """Whether this pair is worn under protectors: always, unless it brings its own and every set says that will do.

        Protectors over and above the other pairs' are taken to be for it.
        """
        if not self.kind(glove).has_own_protection:
            return True
        texts = [self.own_protection(glove, rule_set) for rule_set in self.rule_sets]
        if any(text is None or not self.site.counts_as_seen(text) for text in texts):
            return True
        others = [pair for pair in self.of_role("gloves") if not self.kind(pair).has_own_protection]
        return len(self.of_role("protectors")) > len(others)

    def class_in_force(self, glove: Piece) -> str | None:
        """The glove's class as a number the tables can be asked for: only one of a system some chosen set judges."""
        systems = {rule_set.class_system for rule_set in self.rule_sets}
        return glove.insulation_class if glove.class_system in systems else None

    def own_protection(self, glove: Piece, rule_set: RuleSet) -> Limit | None:
        """The figure by which a set lets this pair be worn without protectors; None where it does not."""
        return rule_set.limit(glove.kind, "own-protection") if self.kind(glove).has_own_protection else None

    def pairs_under_protectors(self) -> list[Piece]:
        """The pairs of gloves in the kit that are worn under protectors."""
        return [glove for glove in self.of_role("gloves") if self.wants_protectors(glove)]

    def asks_protectors(self) -> bool:
        """Whether the kit has to hold protectors: not on a job without them, nor where every pair brings its own."""
        if self.job.without_protectors:
            return False
        return not self.of_role("gloves") or bool(self.pairs_under_protectors())

    def margins(self) -> Mapping[str, int]:
        """Margin in basis points per origin; a lower one than house policy counts only with its approver."""
        wanted = self.site.margin_bp
        shipped = self.house.margin_bp
        if wanted is None:
            return shipped
        if self.site.takes_looser("margin_percent"):
            return dict.fromkeys(shipped, wanted)
        return {origin: max(wanted, margin) for origin, margin in shipped.items()}

    def tip_profile(self) -> str:
        """The instrument profile in force: iec is the looser one and stands only where somebody approved it."""
        return self.site.tip_profile if self.site.takes_looser("tip_profile") else "gs38"

    def required(self, circuit: Circuit) -> Required | None:
        """What kit must stand on this circuit; None where no working voltage is known."""
        return required(circuit, self.margins())

    def stresses(self, circuit: Circuit) -> tuple[Stress, ...]:
        """Kinds of current and levels of this circuit; empty where no working voltage is known."""
        needed = self.required(circuit)
        if needed is None:
            return ()
        if circuit.phase_to_earth_mv is not None and not self._takes_phase_to_earth():
            return stresses(replace(circuit, phase_to_earth_mv=None), needed)
        return stresses(circuit, needed)

    def by_stress(self, demand: Demand, ask: Callable[[Circuit, Stress], Finding]) -> list[Finding]:
        """What `ask` finds of each circuit and kind of current; `demand` cannot tell where no voltage is known."""
        findings: list[Finding] = []
        for circuit in self.job.circuits:
            stresses_here = self.stresses(circuit)
            findings += [ask(circuit, stress) for stress in stresses_here] or [demand.voltage_unknown(circuit.key)]
        return findings

    def _takes_phase_to_earth(self) -> bool:
        """The footnote's conditions are from memory, so the looser voltage waits for a confirmation in print."""
        footnotes = [rule_set.limit("phase-to-earth") for rule_set in self.rule_sets]
        return all(limit is not None and self.site.counts_as_seen(limit) for limit in footnotes)

    def chains(self) -> Chains:
        """Which instrument goes with which leads and tips."""
        if "chains" not in self._chains:
            self._chains["chains"] = chains_of(self.pieces, self.kinds, self.job.with_leads)
        return self._chains["chains"]

    @property
    def wearers(self) -> tuple[Person, ...]:
        """Who will wear gloves: the person, and the second one where there is one."""
        return tuple(person for person in (self.person, self.second) if person is not None)

    def with_pieces(self, pieces: tuple[Piece, ...]) -> Facts:
        """The same question about another kit."""
        return replace(self, pieces=pieces, _memo={}, _chains={})


def chains_of(
    pieces: tuple[Piece, ...], kinds: Mapping[str, Kind], with_leads: tuple[tuple[str, str], ...] = ()
) -> Chains:
    """Chains of a kit: an instrument with fixed leads is one of its own, loose parts belong to the one without.

    With two instruments that want loose leads, or none, nobody can tell until `with_leads` says which.
    """
    instruments = [piece for piece in pieces if kinds[piece.kind].is_instrument]
    parts = [piece for piece in pieces if kinds[piece.kind].is_chain_part]
    fixed = [piece for piece in instruments if piece.fixed_leads is True]
    open_ended = [piece for piece in instruments if piece.fixed_leads is not True]
    own = tuple((piece,) for piece in fixed)
    if not parts:
        return Chains(own + tuple((piece,) for piece in open_ended))
    if not open_ended:
        return Chains(own, tuple(parts), "chain.leads-without-instrument")
    if len(open_ended) == 1:
        return Chains((*own, (open_ended[0], *parts)))
    return _said_which(own, open_ended, parts, with_leads)


def _said_which(
    own: tuple[tuple[Piece, ...], ...],
    open_ended: list[Piece],
    parts: list[Piece],
    with_leads: tuple[tuple[str, str], ...],
) -> Chains:
    belongs = {leads: meter for meter, leads in with_leads}
    chains = tuple((meter, *(part for part in parts if belongs.get(part.code) == meter.code)) for meter in open_ended)
    loose = tuple(part for part in parts if belongs.get(part.code) not in {meter.code for meter in open_ended})
    return Chains(own + chains, loose, "chain.say-which" if loose else "")


def chain_name(chain: tuple[Piece, ...]) -> str:
    """How a chain is named: the codes of its members joined."""
    return "+".join(piece.code for piece in chain)
