"""Law and standards as data: limits, test intervals, rule sets; house policy and site rules beside them."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, time
from typing import Literal, Protocol

from msgspec import Struct, field

from app.decision.domain.finding import HOUSE_BASIS, Basis


class Figure(Protocol):
    """What the confirm-in-print list can tick off: anything with a permanent key and a confidence letter."""

    @property
    def key(self) -> str:
        """The permanent key."""
        ...

    @property
    def confidence(self) -> str:
        """P, S, T, M or H."""
        ...


class Limit(Struct, frozen=True):
    """One figure of a rule set or of house policy.

    `key` is permanent and is what the confirm-in-print list ticks off; `value` is an integer in `unit`
    (mV, uA, um, s, months, 0.01 of a ratio); `confidence` is P, S, T, M or H.
    """

    key: str
    value: int
    unit: str
    clause: str
    confidence: str
    edition: str = ""
    in_force_since: date | None = None

    def basis(self, rule_set: str) -> Basis:
        """What a finding built on this figure rests on."""
        return Basis(self.clause, self.confidence, rule_set)


class TestInterval(Struct, frozen=True):
    """The retest clock of one kind in months, counted from the last passing electrical test T and the first issue F.

    `never`: F never. `reused`: T on or after F, or F unknown. `between`: T before F; "capped" is min(F + reused,
    T + never), a number is T + that many months. `classes`, `material`: the only ones it is asked of, where the set
    says so. `key` is permanent and is what the confirm-in-print list ticks off. `shelf`: key of the figure that has to
    be confirmed before kit never issued may last longer than kit in use.
    """

    __test__ = False

    never: int
    reused: int
    between: int | Literal["capped"]
    clause: str
    confidence: str
    key: str = ""
    classes: tuple[str, ...] = ()
    material: str | None = None
    shelf: str = ""


class ClassTable(Struct, frozen=True):
    """How one kind reads a set's figures by class.

    `classes`: those the kind comes in. `prefix`: its own figures stand under it. `leans_on`: key of the figure that
    says the shared table holds for this kind at all. `not_printed`: what the set prints no figure of, as "retest/dc".
    `current`: whether a test's current is held against a limit by class and length, by class, or not at all.
    `acceptance_dwell`: the house figure for the time at voltage of an acceptance test.
    """

    classes: tuple[str, ...]
    prefix: str = ""
    leans_on: str = ""
    not_printed: frozenset[str] = frozenset()
    current: Literal["length", "class"] | None = None
    acceptance_dwell: str = "acceptance"


class Repairs(Struct, frozen=True):
    """How one kind may be mended under a set. What is in neither list nobody can tell.

    `place`: key of the figure that says where, "" where anywhere will do. `least`: key of the side (mm) that must
    remain of a trimmed piece.
    """

    allowed: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()
    place: str = ""
    least: str = ""


class Clause(Struct, frozen=True):
    """Where a demand stands in a set, with its confidence letter."""

    clause: str
    confidence: str


class RuleSet(Struct, frozen=True):
    """What one law or standard says, and which rules it switches on for which kind. Declarations only.

    `covers`: kind -> rule keys. `intervals`: kind -> its clocks, () where the set asks no test on a schedule.
    `limits`: key -> Limit; a key that is not there is missing, never a default. `tables`: kind -> how it reads them.
    `clauses`: rule -> where it stands, for the kinds the text `speaks_of`; the rest is asked as house policy. `offers`:
    site rule -> values it may be loosened to. `notices`: sentences to say when the set is chosen. `longest_is_open`:
    the last length column of the current table holds for longer gloves too. `bare_only`: the only classes the set
    speaks of without protectors, () where it leaves that to the shared readings.
    """

    key: str
    title: str
    edition: str
    class_system: str
    covers: Mapping[str, tuple[str, ...]]
    intervals: Mapping[str, tuple[TestInterval, ...]]
    limits: Mapping[str, Limit]
    current_table: str
    tables: Mapping[str, ClassTable]
    clauses: Mapping[str, Clause] = field(default_factory=dict)
    speaks_of: tuple[str, ...] = ("rubber-gloves",)
    repairs: Mapping[str, Repairs] = field(default_factory=dict)
    scales_with_frequency: bool = False
    longest_is_open: bool = False
    bare_only: tuple[str, ...] = ()
    offers: Mapping[str, tuple[object, ...]] = field(default_factory=dict)
    notices: tuple[str, ...] = ()

    def limit(self, *parts: str) -> Limit | None:
        """The figure under the joined key, or None where the set prints none."""
        return self.limits.get("/".join(parts))

    def class_limit(self, kind: str, insulation_class: str | None, *what: str) -> Limit | None:
        """The figure of `what` ("use", "ac") for a kind and class, or None where none is printed."""
        table = self.tables.get(kind)
        if table is None or insulation_class not in table.classes or "/".join(what) in table.not_printed:
            return None
        if "/".join((*what, insulation_class)) in table.not_printed:
            return None
        return self.limits.get(table.prefix + "/".join((*what, insulation_class)))

    def leaning(self, kind: str) -> Limit | None:
        """The figure that says the shared class table holds for this kind; None where nothing needs saying."""
        table = self.tables.get(kind)
        return None if table is None or not table.leans_on else self.limits[table.leans_on]

    def basis(self, rule: str, kind: str) -> Basis:
        """What a demand of this set on this kind rests on where no single figure says so.

        House policy where the text was not seen to say it, or not of this kind: it is then held to the same.
        """
        clause = self.clauses.get(rule) if kind in self.speaks_of else None
        return Basis(clause.clause, clause.confidence, self.key) if clause else Basis(*_HOUSE, self.key)

    def allows(self, site_rule: str, value: object) -> bool:
        """Whether the set offers this looser value."""
        return value in self.offers.get(site_rule, ())


_HOUSE = (HOUSE_BASIS.clause, HOUSE_BASIS.confidence)


class HousePolicy(Struct, frozen=True):
    """What no law settles, declared once and labelled "house policy" wherever it is shown.

    `covers`: kind -> rule keys; `kit`, `circuit`: rules asked once per kit, once per circuit. `shipped`: the site
    rules that can be made looser, as shipped; `offers`: the looser values house policy itself offers.
    """

    covers: Mapping[str, tuple[str, ...]]
    kit: tuple[str, ...]
    circuit: tuple[str, ...]
    limits: Mapping[str, Limit]
    margin_bp: Mapping[str, int]
    edition: str
    shipped: Mapping[str, object] = field(default_factory=dict)
    offers: Mapping[str, tuple[object, ...]] = field(default_factory=dict)

    def value(self, key: str) -> int:
        """A house figure; KeyError is a fault of ours, house policy has no holes."""
        return self.limits[key].value


class Approval(Struct, frozen=True):
    """Who allowed a looser site rule, and why."""

    key: str
    approved_by: str
    reason: str


class SiteRules(Struct, frozen=True):
    """The site's changes to house policy and its open points. Anything left out is as shipped.

    `margin_bp` overrides every origin when set; `approvals_taken_as_given` is for worked cases alone.
    `confirmed_in_print` None means every figure counts as confirmed.
    """

    name: str = ""
    margin_bp: int | None = None
    warning_days: int = 30
    tip_profile: Literal["gs38", "iec"] = "gs38"
    altitude_m: int | None = None
    clearance_table: str = "cautious"
    figures_required: bool = True
    dielectric_exempt_00_0: Approval | None = None
    without_protectors_reading: str = "stricter"
    second_person_isolate: bool = False
    second_person_measure: bool = True
    known_source_instead_of_proving_unit: bool = False
    confirmed_in_print: frozenset[str] | None = frozenset()
    approvals: tuple[Approval, ...] = ()
    labs: tuple[str, ...] = ()
    technicians_issue: bool = True
    day_begins: time = time(0)
    job_days: int = 7
    ceiling_mv: int = 1_000_000
    works_alone: bool = False
    place: str | None = None
    incident_energy_mcal: int | None = None
    cutting: bool = False
    approvals_taken_as_given: bool = False

    def counts_as_seen(self, figure: Figure) -> bool:
        """Whether a figure may carry a "met": seen in print, or confirmed by an officer."""
        return figure.confidence != "M" or self.confirmed_in_print is None or figure.key in self.confirmed_in_print

    def takes_looser(self, key: str) -> bool:
        """Whether a looser value of `key` stands: somebody approved it (worked cases of level finding: as given)."""
        return self.approvals_taken_as_given or self.approver(key) is not None

    def approver(self, key: str) -> Approval | None:
        """Who approved the looser value of `key`, if anybody."""
        return next((approval for approval in self.approvals if approval.key == key), None)
