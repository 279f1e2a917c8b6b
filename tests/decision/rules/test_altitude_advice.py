"""Above the marked altitude a piece is refused; what its rating comes down to rides along as advice and frees nothing."""

from __future__ import annotations

from typing import Any

import pytest

from app.decision.domain.finding import Finding, Outcome
from app.decision.judging.judge import ask
from app.words.saying import say_finding
from tests import build

ADVICE = "altitude-within-mark.step-down-advice"


def found(altitude_m: int | None = 2500, **piece: Any) -> list[Finding]:
    site = {} if altitude_m is None else {"altitude_m": altitude_m}
    case = build.world(pieces=[build.detector(**piece)], site=site)
    return list(ask(build.facts(case), {"altitude-within-mark"}))


def advice(findings: list[Finding]) -> list[tuple[object, ...]]:
    names = ("category", "marked_v", "rated_v", "advice_v", "altitude_m")
    return [tuple(one.values[name] for name in names) for one in findings if one.key == ADVICE]


@pytest.mark.parametrize(
    ("marks", "altitude_m", "wanted"),
    [
        ([["III", 1000], ["IV", 600]], 2500, [("III", 1000, 8000, 6000, 2500), ("IV", 600, 8000, 6000, 2500)]),
        ([["III", 1000]], 2001, [("III", 1000, 8000, 6000, 2001)]),
        ([["III", 1000]], 4000, [("III", 1000, 8000, 6000, 4000)]),
        ([["III", 1000]], 4001, [("III", 1000, 8000, 4000, 4001)]),
        ([["IV", 1000]], 5000, [("IV", 1000, 12_000, 8000, 5000)]),
        ([["III", 600]], 3000, [("III", 600, 6000, 4000, 3000)]),
        ([["II", 1000]], 3000, [("II", 1000, 6000, 4000, 3000)]),
        ([["III", 300]], 3000, [("III", 300, 4000, 2500, 3000)]),
        ([["IV", 150]], 3000, [("IV", 150, 4000, 2500, 3000)]),
        ([["III", 1000], ["III", 1000]], 2500, [("III", 1000, 8000, 6000, 2500)]),
        # Nothing that can be named: no lower impulse, no printed row, inferred rows, old categories.
        ([["II", 300]], 2500, []),
        ([["II", 150]], 2500, []),
        ([["III", 750]], 2500, []),
        ([["III", 1500]], 2500, []),
        ([["III", 1250]], 2500, []),
        ([["IV", 100]], 2500, []),
        ([["I", 600]], 2500, []),
        ([], 2500, []),
    ],
)
def test_what_is_left_of_a_mark(marks: list[Any], altitude_m: int, wanted: list[tuple[object, ...]]) -> None:
    findings = found(altitude_m, marks=marks)
    assert advice(findings) == wanted
    refused, *others = findings
    assert (refused.outcome, refused.key) == (Outcome.NOT_MET, "altitude-within-mark.above")
    assert (refused.measured, refused.required) == (altitude_m, 2000)
    assert all(one.outcome is Outcome.CAUTION and one.subject == "D1" for one in others)
    assert refused.values.get("advice") == min((int(str(one[3])) for one in wanted), default=None)


@pytest.mark.parametrize(
    ("altitude_m", "piece"),
    [(2000, {}), (140, {}), (None, {}), (3000, {"max_altitude_m": 3000}), (20_000, {"max_altitude_m": 20_000})],
)
def test_within_its_mark_there_is_no_advice(altitude_m: int | None, piece: dict[str, Any]) -> None:
    findings = found(altitude_m, **piece)
    assert findings[0].outcome is Outcome.MET
    assert advice(findings) == []
    assert "advice" not in findings[0].values


def test_where_air_takes_nothing_away_there_is_no_advice() -> None:
    refused, *others = found(1800, max_altitude_m=1500)
    assert refused.outcome is Outcome.NOT_MET
    assert others == []


def test_a_higher_mark_is_not_flattered() -> None:
    """8 mm are taken as those of 2,000 m although the maker names 3,000."""
    assert advice(found(4500, max_altitude_m=3000, marks=[["III", 1000]])) == [("III", 1000, 8000, 4000, 4500)]


@pytest.mark.parametrize(
    ("caps", "wanted"),
    [("present", [("III", 1000, 8000, 6000, 2500)]), ("missing", [("II", 1000, 6000, 4000, 2500)]),
     ("unknown", [("II", 1000, 6000, 4000, 2500)])],
)  # fmt: skip
def test_the_marks_as_the_caps_are(caps: str, wanted: list[tuple[object, ...]]) -> None:
    records = [build.look(caps=caps)] if caps != "unknown" else [build.look()]
    leads = {
        "code": "W1", "kind": "test-leads", "marks": [["III", 1000]], "marks_cap_off": [["II", 1000]], "records": records,
        **({"caps": "missing"} if caps == "missing" else {}),
    }  # fmt: skip
    case = build.world(pieces=[leads], site={"altitude_m": 2500})
    assert advice(list(ask(build.facts(case), {"altitude-within-mark"}))) == wanted


def test_a_piece_without_marks_is_refused_without_advice() -> None:
    case = build.world(pieces=[build.proving_unit()], site={"altitude_m": 2500})
    (refused,) = ask(build.facts(case), {"altitude-within-mark"})
    assert refused.outcome is Outcome.NOT_MET
    assert "advice" not in refused.values


def test_the_whole_kit_stays_refused_and_the_sentence_says_so() -> None:
    case = build.world(site={"altitude_m": 2500})
    verdict = build.verdict(case)
    assert verdict.decision == "refused"
    assert build.stops(case) == {"altitude-within-mark"}
    said = [say_finding(one) for one in verdict.cautions if one.key == ADVICE]
    assert said[0] == (
        "Advice only, D1 stays refused: its marking CAT III 1,000 V is for an impulse of 8,000 V. At 2,500 m 6,000 V would "
        "be left, by clearances not yet checked against the printed standard."
    )
    assert {one.basis.confidence for one in verdict.cautions if one.key == ADVICE} == {"M"}
