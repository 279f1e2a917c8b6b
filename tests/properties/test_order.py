"""Order of pieces and records does not matter; an issue holds only met findings and lasts as long as the job."""

from __future__ import annotations

from copy import deepcopy

from hypothesis import given
from hypothesis import strategies as st

from app.decision.domain.finding import Finding, Outcome
from tests.properties.drawn import Key, Table, by_rule, by_subject, decide, facts, kits, proven, said


def _key(one: Finding) -> Key | None:
    """Two pairs that suit two people equally well may be shared out either way; loose parts are named by the first."""
    return by_rule(one) if one.rule in ("glove-fits-wearer", "chain-complete") else by_subject(one)


@given(kits(most=5), st.data())
@proven
def test_order_of_pieces_and_records_does_not_matter(case: Table, data: st.DataObject) -> None:
    other = deepcopy(case)
    other["pieces"] = data.draw(st.permutations(other["pieces"]))
    for piece in other["pieces"]:
        piece["records"] = data.draw(st.permutations(piece["records"]))
    one, two = decide(case), decide(other)
    assert one.decision == two.decision
    assert one.use_until == two.use_until or not one.may_be_issued
    assert said(one, _key) == said(two, _key)


@given(kits(most=5), st.data())
@proven
def test_order_of_circuits_and_approvals_does_not_matter(case: Table, data: st.DataObject) -> None:
    other = deepcopy(case)
    other["job"]["circuits"] = data.draw(st.permutations(other["job"]["circuits"]))
    if "approvals" in other["site"]:
        other["site"]["approvals"] = data.draw(st.permutations(other["site"]["approvals"]))
    one, two = decide(case), decide(other)
    assert one.decision == two.decision
    assert said(one, by_subject) == said(two, by_subject)


@given(kits())
@proven
def test_an_issue_holds_only_met_findings_and_lasts_as_long_as_the_job(case: Table) -> None:
    verdict = decide(case)
    asked = facts(case)
    subjects = {code for one in verdict.findings for code in one.subject.split("+")}
    assert {piece.code for piece in asked.pieces} <= subjects
    if verdict.may_be_issued:
        assert verdict.stops == ()
        assert {one.outcome for one in verdict.findings} == {Outcome.MET}
        assert {one.outcome for one in verdict.cautions} <= {Outcome.CAUTION}
        assert verdict.use_until is not None
        assert verdict.use_until >= verdict.until
        assert all(one.good_until is None or one.good_until >= verdict.until for one in verdict.findings)
    else:
        assert verdict.stops
        assert all(
            one.outcome in (Outcome.NOT_MET, Outcome.CANNOT_TELL)
            or (one.good_until is not None and one.good_until < verdict.until)
            for one in verdict.stops
        )


@given(kits())
@proven
def test_a_refusal_of_one_day_more_is_the_day_after_use_until(case: Table) -> None:
    """The last day given is the last one: the same kit for a job that ends a day later is refused."""
    verdict = decide(case)
    if verdict.may_be_issued and verdict.use_until is not None:
        case["until"] = verdict.use_until
        assert decide(case).may_be_issued
        case["until"] = verdict.use_until.fromordinal(verdict.use_until.toordinal() + 1)
        assert not decide(case).may_be_issued
