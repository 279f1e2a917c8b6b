"""The runner of worked cases: what it waits for, what it reports, and that no case passes by expecting nothing."""

from __future__ import annotations

from typing import Any

import pytest

from app.decision.case.case import read_cases
from app.decision.judging.worked_cases import CaseResult, run_case

HEAD = "[[case]]\nid='a'\nsource='built for a test'\nconfidence='H'\non=2026-03-02\n"
GLOVES = "[[case.pieces]]\ncode='G1'\nkind='rubber-gloves'\nclass='0'\nclass_system='iec'\nlength_mm=360\nfirst_issue=2025-06-01\n"
TEST = "[[case.pieces.records]]\nwhat='electrical-test'\non=2026-01-15\nresult='passed'\n"
ENTRY = "[case.entry]\nwhat='electrical-test'\npiece='G1'\non=2026-02-20\nevidence='figures'\nkind_of_current='dc'\ndwell_s=60\n"


def run(level: str, *parts: str) -> CaseResult:
    (case,) = read_cases(HEAD + f"level='{level}'\n" + "".join(parts), "mine.toml")
    return run_case(case)


def finding(rule: str, outcome: str, **more: str) -> str:
    lines = "".join(f"{key}={value}\n" for key, value in more.items())
    return f"[[case.expect.findings]]\nrule='{rule}'\noutcome='{outcome}'\n{lines}"


@pytest.mark.parametrize(
    ("level", "parts", "why"),
    [
        ("entry", ["[case.entry]\nwhat='isolation-record'\n[case.expect]\nresult='void'\n"], "entry isolation-record"),
        ("entry", ["[case.entry]\nwhat='look'\n[case.expect]\nentry='accepted'\n"], "unknown-entry look"),
    ],
)  # fmt: skip
def test_what_does_not_exist_yet_is_waited_for_by_name(level: str, parts: list[str], why: str) -> None:
    result = run(level, *parts)
    assert (result.state, result.why, result.found) == ("waiting", why, {})


@pytest.mark.parametrize(
    ("level", "parts", "why"),
    [
        ("finding", ["rule_sets=['jp-351']\n", GLOVES, finding("class-known", "met")], "rule-set jp-351"),
        ("finding", ["[[case.pieces]]\ncode='F1'\nkind='dielectric-footwear'\n", finding("inspected", "met")],
         "kind dielectric-footwear"),
        ("finding", ["site={dielectric_exempt_00_0={approved_by='P9',reason='annex'}}\n", GLOVES,
                     finding("class-known", "met")], "offered-reading dielectric_exempt_00_0"),
        ("calculation", ["ask={what='arc-energy'}\nexpect={value=1}\n"], "calculation arc-energy"),
        ("calculation", ["ask={what='class-limit-v',rule_set='as-nzs'}\nexpect={value=1}\n"], "rule-set as-nzs"),
    ],
)  # fmt: skip
def test_a_program_that_knows_less_waits(
    level: str, parts: list[str], why: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    from msgspec.structs import replace

    from app.decision.judging.catalogues import catalogues

    known = catalogues()
    less = replace(
        known,
        kinds={key: known.kinds[key] for key in ("rubber-gloves",)},
        rule_sets={key: known.rule_sets[key] for key in ("us-osha-137",)},
    )
    monkeypatch.setattr("app.decision.judging.worked_cases.catalogues", lambda: less)
    monkeypatch.setattr("app.decision.judging.worked_cases.calculations", _without_arc)
    result = run(level, *parts)
    assert (result.state, result.why, result.found) == ("waiting", why, {})


def _without_arc() -> Any:
    from app.decision.judging.catalogues import calculations

    return {key: one for key, one in calculations().items() if not key.startswith("arc-")}


def test_a_rule_of_a_later_version_is_waited_for(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("app.decision.judging.worked_cases.catalogues", lambda: _without_rule("class-known"))
    result = run("finding", GLOVES, finding("class-known", "met"))
    assert (result.state, result.why) == ("waiting", "rule class-known")


def _without_rule(name: str) -> Any:
    from msgspec.structs import replace

    from app.decision.judging.catalogues import catalogues

    known = catalogues()
    return replace(known, rules={key: rule for key, rule in known.rules.items() if key != name})


def test_another_rule_set_does_not_hold_up_a_calculation() -> None:
    result = run("calculation", "rule_sets=['jp-351']\nask={what='voltage-class',v=60}\nexpect={value='A'}\n")
    assert result.state == "passed"


@pytest.mark.parametrize(
    ("expect", "why"),
    [
        (finding("class-known", "met"), ""),
        (finding("class-known", "met", subject="'G1'"), ""),
        (finding("class-known", "not-met"), "class-known: met"),
        (finding("class-known", "met", subject="'G2'"), "class-known: no finding"),
        (finding("electrical-test-in-date", "met", good_until="2026-07-14"), ""),
        (finding("electrical-test-in-date", "met", good_until="2026-07-15"),
         "electrical-test-in-date: good until 2026-07-14"),
        (finding("class-known", "met", good_until="2026-07-14"), "class-known: good until None"),
        (finding("class-known", "met", caution="true"), "class-known: no caution"),
        (finding("class-known", "met") + finding("no-open-event", "not-met"), "no-open-event: met"),
        ("[case.expect]\ncaution=true\n" + finding("class-known", "met"), "a caution was expected"),
        ("[case.expect]\ndecision='refused'\n" + finding("class-known", "met"), "decision None"),
        ("[case.expect]\n", "nothing is expected at this level"),
        ("[case.expect]\nfindings=[]\n", "nothing is expected at this level"),
        ("[case.expect]\nvalue=7\n", "nothing is expected at this level"),
        ("[case.expect]\nerror=true\n", "nothing is expected at this level"),
    ],
)  # fmt: skip
def test_findings_expected(expect: str, why: str) -> None:
    result = run("finding", GLOVES, TEST, expect)
    assert (result.state, result.why) == ("failed" if why else "passed", why)


def test_a_rule_that_makes_no_demand_is_met() -> None:
    barrier = "[[case.pieces]]\ncode='B1'\nkind='barrier-set'\n"
    assert run("finding", barrier, finding("electrical-test-in-date", "met")).state == "passed"


@pytest.mark.parametrize(
    ("expect", "why"),
    [
        ("decision='refused'", ""),
        ("decision='may-be-issued'", "decision refused"),
        ("caution=true", "nothing is expected at this level"),
        ("decision='refused'\ncaution=true", ""),
        ("result='refused'", "nothing is expected at this level"),
    ],
)
def test_a_decision_expected(expect: str, why: str) -> None:
    job = "[case.job]\ntask='isolate-and-prove-dead'\ncircuits=[]\n"
    result = run("decision", job, GLOVES, TEST, f"[case.expect]\n{expect}\n")
    assert (result.state, result.why) == ("failed" if why else "passed", why)
    assert result.found["decision"] == "refused"


@pytest.mark.parametrize(
    ("entry", "expect", "why"),
    [
        ("test_v=20000", "entry='accepted'\nresult='passed'", ""),
        ("test_v=20000", "result='failed'", "result passed"),
        ("test_v=20000", "entry='refused'", "entry accepted"),
        ("test_v=19999", "entry='accepted'\nresult='does-not-count'", ""),
        ("test_v=20000\nbreakdown=true", "entry='accepted'\nresult='failed'", ""),
        ("test_v=20000", "entry='accepted'\ncaution=true", "a caution was expected"),
        ("test_v=20000", "caution=true", "nothing is expected at this level"),
    ],
)
def test_an_entry_expected(entry: str, expect: str, why: str) -> None:
    result = run("entry", ENTRY, entry, "\n", GLOVES, f"[case.expect]\n{expect}\n")
    assert (result.state, result.why) == ("failed" if why else "passed", why)


def test_an_entry_with_a_caution() -> None:
    long = ENTRY.replace("dwell_s=60", "dwell_s=181")
    expect = "[case.expect]\nentry='accepted-with-caution'\ncaution=true\nresult='passed'\n"
    assert run("entry", long, "test_v=20000\n", GLOVES, expect).state == "passed"


@pytest.mark.parametrize(("day", "entry"), [("2026-03-02", "accepted"), ("2026-03-03", "refused")])
def test_a_test_dated_after_today_is_refused_at_the_door(day: str, entry: str) -> None:
    result = run("entry", ENTRY.replace("2026-02-20", day), GLOVES, f"[case.expect]\nentry='{entry}'\n")
    assert result.state == "passed"


def test_an_entry_for_a_piece_that_is_not_there_fails_with_the_reason() -> None:
    result = run("entry", ENTRY.replace("'G1'", "'G7'"), GLOVES, "[case.expect]\nentry='accepted'\n")
    assert (result.state, result.found) == ("failed", {"error": True})
    assert "entry.unknown-piece" in result.why
    assert "G7" in result.why


def test_an_error_expected_is_an_error_found() -> None:
    ask = "ask={what='class-limit-v',class='0',class_system='gb'}\n"
    assert run("calculation", ask, "expect={error=true}\n").state == "passed"
    assert run("calculation", ask, "expect={value=1500}\n").state == "failed"
    fine = "ask={what='class-limit-v',class='0'}\n"
    result = run("calculation", fine, "expect={error=true}\n")
    assert (result.state, result.why) == ("failed", "an error was expected")


@pytest.mark.parametrize(
    ("expect", "why"),
    [
        ("value=1500", ""),
        ("value=1500.0,unit='V'", ""),
        ("value=1500,unit='mV'", "unit V"),
        ("value=1499", "value differs"),
        ("value=1499,within=1", ""),
        ("value=1498.9,within=1", "value differs"),
        ("value='1500'", "value differs"),
        ("value=true", "value differs"),
        ("value=1500,caution=true", "a caution was expected"),
        ("unit='V'", "nothing is expected at this level"),
    ],
)
def test_a_value_expected(expect: str, why: str) -> None:
    result = run("calculation", "ask={what='class-limit-v',class='0'}\n", f"expect={{{expect}}}\n")
    assert (result.state, result.why) == ("failed" if why else "passed", why)


def test_an_unknown_key_of_an_ask_is_told() -> None:
    result = run("calculation", "ask={what='class-limit-v',clas='0'}\n", "expect={value=1500}\n")
    assert result.state == "failed"
    assert "unknown-key" in result.why
