"""The rule sets, each as what its law switches on, and the words for the kinds of kit they speak of."""

from __future__ import annotations

from typing import NamedTuple

DEFAULT_SET = "us-osha-137"

GLOVES = ("rubber-gloves", "composite-gloves")
SLEEVES_AND_BLANKETS = ("rubber-sleeves", "insulating-blanket")
HOSE_AND_COVERS = ("line-hose", "insulating-cover")
CLASSED = (*GLOVES, *SLEEVES_AND_BLANKETS, "insulating-matting", "dielectric-footwear", *HOSE_AND_COVERS)
PROVING_INSTRUMENTS = ("multimeter", "two-pole-detector")
INSTRUMENTS = (*PROVING_INSTRUMENTS, "clamp-meter", "insulation-tester")
CALIBRATED = ("multimeter", "clamp-meter", "insulation-tester", "torque-tool")
TOOLS = ("insulated-tool", "torque-tool")
MARKED_IN_VOLTS = (*TOOLS, "rescue-hook")
INSPECTED_YEARLY = ("insulating-matting", "dielectric-footwear", "rescue-hook")
LOOSE_MEMBERS = ("test-leads", "tip-or-clip")
KINDS_IN_SCOPE = frozenset(
    {
        *CLASSED,
        *INSTRUMENTS,
        *LOOSE_MEMBERS,
        *MARKED_IN_VOLTS,
        "leather-protectors",
        "arc-face-shield",
        "proving-unit",
        "barrier-set",
        "lock-off-set",
    }
)


class RuleSet(NamedTuple):
    """What one law or standard asks.

    `system` is the class system it judges; `tables` whose test volts and currents it prints ("us", "iec", or none);
    `clock` the interval of gloves (rules.md section 3); `goods_months` that of sleeves and blankets. `asks_mats`: an
    electrical test of mats of classes 1 to 4; `asks_hoses`: one of hoses and covers by date. `may_exempt`: its site may let classes 00 and 0 go without the
    electrical test. `may_waive_figures`: its site may let a stated pass count. `repairs`: whose list of repairs it has.
    `composite_own_protection`: it is said, from memory, to have nothing worn over composite gloves.
    """

    name: str
    system: str = "iec"
    tables: str = "iec"
    clock: str = "first-issue"
    goods_months: int = 12
    asks_mats: bool = False
    asks_hoses: bool = False
    may_exempt: bool = False
    may_waive_figures: bool = False
    repairs: str = "silent"
    composite_own_protection: bool = False


SETS = {
    s.name: s
    for s in (
        RuleSet(DEFAULT_SET, tables="us", may_waive_figures=True, repairs="listed"),
        RuleSet("us-nfpa-70e", tables="us", may_waive_figures=True),
        RuleSet("us-telecom-268", tables="us", clock="material", may_waive_figures=True, repairs="no-patches"),
        RuleSet(
            "us-wa-electrical", tables="us", clock="from-test", goods_months=6, asks_hoses=True, may_waive_figures=True
        ),
        RuleSet("iec-60903-2014", asks_mats=True, composite_own_protection=True),
        RuleSet("en-60903-2003", clock="from-test", asks_mats=True, may_exempt=True, composite_own_protection=True),
        RuleSet("de-dguv", clock="from-test", asks_mats=True, composite_own_protection=True),
        RuleSet("as-nzs", asks_mats=True, composite_own_protection=True),
        RuleSet("jp-351", system="jp", tables="none", clock="from-test", goods_months=6),
        RuleSet("gb-17622", system="gb", tables="gb", clock="unless-never", composite_own_protection=True),
    )
}
