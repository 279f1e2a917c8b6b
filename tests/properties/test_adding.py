"""Adding a chain member, a rule set or a piece."""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy
from random import Random

from hypothesis import assume, given
from hypothesis import strategies as st
from msgspec.structs import replace

from app.decision.domain.finding import Finding
from app.decision.domain.limits import Limit, RuleSet, TestInterval
from app.decision.judging.judge import judge
from app.decision.rulesets.sets.us_osha_137 import SET
from tests.oracle.kits import kit
from tests.properties.drawn import Key, Table, by_rule, by_subject, decide, drawn_kits, facts, improved, kits, proven

CHAIN = ("chain-stands-voltage", "chain-complete", "input-stands-voltage")
VOLTS = (300, 600, 690, 1000, 1500)

#: What says that a role or a part of a chain is missing, or a share of a role: a pair of protectors for each pair of
#: gloves, gloves for the second person, gloves of the class a protector is cut for.
MISSING = frozenset(
    {
        "task-roles-filled.missing", "protectors-worn.missing", "second-person-present.no-own-gloves",
        "arc-rating.no-shield", "protector-fits-class.too-few", "protector-fits-class.other-class",
        "chain-complete.no-leads", "chain-complete.leads-unknown", "chain.leads-without-instrument", "chain.say-which",
    }
)  # fmt: skip


@st.composite
def chain_members(draw: st.DrawFn, case: Table) -> Table:
    """Leads, a tip or a clip of any quality, looked over today or not."""
    marks = st.lists(st.tuples(st.sampled_from(("II", "III", "IV")), st.sampled_from(VOLTS)), max_size=2)
    piece: Table = {
        "code": "X1",
        "kind": draw(st.sampled_from(("test-leads", "tip-or-clip"))),
        "marks": [list(pair) for pair in draw(marks)],
        "tip_mm": draw(st.sampled_from((1, 2, 4, 5, 19))),
        "caps": draw(st.sampled_from(("present", "missing", "unknown"))),
        "records": [],
    }
    if draw(st.booleans()):
        piece["records"].append({"what": "inspection", "on": case["on"], "defects": [], "caps": "present"})
    return piece


def _by_chain(one: Finding) -> Key | None:
    """A chain keeps its instrument when it gets another member; which rule holds for all chains is compared."""
    return by_rule(one) if one.rule in CHAIN else by_subject(one)


@given(kits(most=1), st.data())
@proven
def test_adding_a_chain_member_never_improves(case: Table, data: st.DataObject) -> None:
    before = decide(case)
    assume(all(one.rule != "chain-complete" for one in before.stops))
    more = deepcopy(case)
    more["pieces"].insert(data.draw(st.integers(0, len(more["pieces"]))), data.draw(chain_members(case)))
    assert improved(before, decide(more), _by_chain) == []


@given(kits(most=2), drawn_kits(), st.data())
@proven
def test_adding_a_piece_never_turns_a_refusal_into_an_issue(case: Table, other: Table, data: st.DataObject) -> None:
    before = decide(case)
    piece = deepcopy(data.draw(st.sampled_from(other["pieces"])))
    shift = case["on"] - other["on"]
    for record in piece["records"]:
        if not isinstance(record["on"], str):
            record["on"] += shift
    piece["code"] = "X1"
    more = deepcopy(case)
    more["pieces"].append(piece)
    after = decide(more)
    if after.may_be_issued and not before.may_be_issued:
        assert {one.key for one in before.stops} <= MISSING
    assert [one for one in improved(before, after, _unless_shared(before.stops)) if one != "decision"] == []


def _unless_shared(stops: tuple[Finding, ...]) -> Callable[[Finding], Key | None]:
    """What one piece alone is asked; a demand that named something missing is left out."""
    missing = {one.rule for one in stops if one.key in MISSING}

    def key(one: Finding) -> Key | None:
        shared = one.rule in CHAIN or one.rule in missing or one.rule == "glove-fits-wearer"
        return None if shared else by_subject(one)

    return key


@given(kits(most=2), st.data())
@proven
def test_adding_a_piece_that_is_there_already_never_issues(case: Table, data: st.DataObject) -> None:
    more = deepcopy(case)
    more["pieces"].append(deepcopy(data.draw(st.sampled_from(case["pieces"]))))
    assert not decide(more).may_be_issued


def _another_set(seed: int, key: str) -> RuleSet:
    """A set with other figures, some stricter and some looser, some missing, and another clock."""
    dice = Random(seed)

    def changed(limit: Limit) -> Limit:
        return replace(limit, value=limit.value * dice.choice((50, 90, 100, 100, 150)) // 100)

    # What a kind or a repair leans on is held against the set at start-up, so it is never missing.
    limits = {
        name: changed(limit)
        for name, limit in SET.limits.items()
        if limit.unit in ("statement", "mm") or dice.random() < 0.95
    }
    clock = TestInterval(dice.choice((6, 12, 18)), dice.choice((1, 3, 6, 9)), dice.choice(("capped", 6, 12)), "", "H")
    return replace(SET, key=key, limits=limits, intervals={"rubber-gloves": dice.choice(((clock,), (clock,), ()))})


@given(kits(most=2), st.integers(0, 10_000))
@proven
def test_adding_a_rule_set_never_improves(case: Table, seed: int) -> None:
    asked = replace(facts(case), rule_sets=(SET,))
    for sets in ((SET, _another_set(seed, "another")), (_another_set(seed, "another"), SET)):
        both = judge(replace(asked, rule_sets=sets, _memo={}, _chains={}))
        # House policy asks under the first set, so finding by finding only a set added behind it is compared.
        assert [one for one in improved(judge(asked), both, by_subject) if sets[0] is SET or one == "decision"] == []


@given(kits(most=2), st.integers(0, 10_000), st.integers(0, 10_000))
@proven
def test_a_third_rule_set_never_improves(case: Table, seed: int, other: int) -> None:
    one, two = _another_set(seed, "one"), _another_set(other, "two")
    asked = facts(case)
    before = judge(replace(asked, rule_sets=(SET, one), _memo={}, _chains={}))
    assert improved(before, judge(replace(asked, rule_sets=(SET, one, two), _memo={}, _chains={})), by_subject) == []


def test_a_stricter_set_refuses_what_the_shipped_one_issues() -> None:
    """The property above is not empty: a set may be stricter, and then it decides."""
    gloves = ("rubber-gloves", "composite-gloves")
    strict = replace(SET, key="strict", intervals=dict.fromkeys(gloves, (TestInterval(0, 0, 0, "", "H"),)))
    issued = 0
    for number in range(60):
        asked = replace(facts(kit(9, number)), rule_sets=(SET,))
        if judge(asked).may_be_issued:
            issued += 1
            both = judge(replace(asked, rule_sets=(SET, strict), _memo={}, _chains={}))
            assert {one.rule for one in both.stops} == {"electrical-test-in-date"}
    assert issued > 10
