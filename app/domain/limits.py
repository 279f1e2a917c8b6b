"""Law and standards as data: limits, test intervals, rule sets; house policy and site rules beside them."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Literal

from msgspec import Struct, field

from app.domain.finding import Basis


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
    T + never), a number is T + that many months.
    """

    __test__ = False

    never: int
    reused: int
    between: int | Literal["capped"]
    clause: str
    confidence: str


class RuleSet(Struct, frozen=True):
    """What one law or standard says, and which rules it switches on for which kind. Declarations only.

    `covers`: kind -> rule keys. `intervals`: kind -> TestInterval, None where the set asks no test on a schedule.
    `limits`: key -> Limit; a key that is not there is missing, never a default. `offers`: site rule -> values it may
    be loosened to.
    """

    key: str
    title: str
    edition: str
    class_system: str
    covers: Mapping[str, tuple[str, ...]]
    intervals: Mapping[str, TestInterval | None]
    limits: Mapping[str, Limit]
    current_table: str
    scales_with_frequency: bool = False
    offers: Mapping[str, tuple[object, ...]] = field(default_factory=dict)

    def limit(self, *parts: str) -> Limit | None:
        """The figure under the joined key, or None where the set prints none."""
        return self.limits.get("/".join(parts))


class HousePolicy(Struct, frozen=True):
    """What no law settles, declared once and labelled "house policy" wherever it is shown.

    `covers`: kind -> rule keys; `kit`, `circuit`: rules asked once per kit, once per circuit.
    """

    covers: Mapping[str, tuple[str, ...]]
    kit: tuple[str, ...]
    circuit: tuple[str, ...]
    limits: Mapping[str, Limit]
    margin_bp: Mapping[str, int]
    edition: str

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
    approvals_taken_as_given: bool = False

    def counts_as_seen(self, limit: Limit) -> bool:
        """Whether a figure may carry a "met": seen in print, or confirmed by an officer."""
        return limit.confidence != "M" or self.confirmed_in_print is None or limit.key in self.confirmed_in_print

    def takes_looser(self, key: str) -> bool:
        """Whether a looser value of `key` stands: somebody approved it (worked cases of level finding: as given)."""
        return self.approvals_taken_as_given or self.approver(key) is not None

    def approver(self, key: str) -> Approval | None:
        """Who approved the looser value of `key`, if anybody."""
        return next((approval for approval in self.approvals if approval.key == key), None)
