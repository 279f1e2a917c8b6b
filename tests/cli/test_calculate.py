from __future__ import annotations

import json

import pytest

from app.cli.program import run


def said(capsys: pytest.CaptureFixture[str], *argv: str) -> tuple[int, str, str]:
    status = run(["calculate", *argv])
    out = capsys.readouterr()
    return status, out.out, out.err


def test_a_due_day(capsys: pytest.CaptureFixture[str]) -> None:
    keys = ("test_on=2016-01-01", "first_issue=2016-10-01")
    assert said(capsys, "retest-due", *keys) == (0, "retest-due: 2017-01-01\n", "")


def test_the_energy_of_an_arc_says_method_assumed_time_and_multiplier_and_that_it_is_advice(
    capsys: pytest.CaptureFixture[str],
) -> None:
    keys = ("method=max-power", "system_v=250", "fault_current_a=4000", "distance_mm=457.2")
    status, out, _ = said(capsys, "arc-energy", *keys)
    assert status == 0
    assert out.startswith("arc-energy: 4.784 cal/cm2\n")
    assert "Method max-power, clearing time 2 s (assumed), open air, no multiplier." in out
    assert "never lowers the protection against shock" in out
    _, out, _ = said(capsys, "arc-energy", *keys, "clearing_s=0.2", "enclosure_factor=3")
    assert "clearing time 0.2 s (as stated), multiplier 3." in out
    _, out, _ = said(capsys, "bond-ok", "ohm=0.09", "current_a=0.25")
    assert out == "bond-ok: yes\n"


def test_everything_that_can_be_worked_out_is_listed_with_its_keys(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = said(capsys)
    assert status == 0
    assert "leakage-limit-ma: class, length_mm" in out
    run(["calculate", "--json"])
    assert "test_on" in json.loads(capsys.readouterr().out)["retest-due"]


@pytest.mark.parametrize(
    ("argv", "told"),
    [
        (("arc-enrgy",), 'Did you mean "arc-energy"?'),
        (("test_on=2026-01-15",), "no calculation is named"),
        (("retest-due", "tested=2026-01-15"), 'Did you mean "test_on"?'),
        (("retest-due", "test_on=15/01/26"), "should be a day"),
        (("class-limit-v", "class=0", "rule_set=gb-17622"), "No limit is known"),
        (("retest-due", "rule_set=us-telecom-268", "test_on=2026-01-15"), "A figure is missing: material"),
    ],
)
def test_wrong_input_is_named(argv: tuple[str, ...], told: str, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = said(capsys, *argv)
    assert (status, out) == (2, "")
    assert told in err
