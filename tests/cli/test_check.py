"""A technician's kit, from the sheet to the decision, with the mistakes people make on the way."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest

from tests.conftest import Cli

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "demo_data"
EXPECTED: dict[str, Any] = tomllib.loads((DEMO / "expected.toml").read_text(encoding="utf-8"))
FILES = ("--sheet", "demo_data/shelf.xlsx", "--depot", "demo_data/depot.toml", "--checks", "demo_data/checks.toml")
JOB = ("--system", "BUS-198", "--circuit", "traction", "--task", "isolate-and-prove-dead", "--person", "P03")
KIT = ("--kit", "G001", "P001", "D001", "U001", "B001", "K001")
DAY = ("--on", "2026-03-02")


def argv(kit: dict[str, Any], sheet: str = "shelf.xlsx") -> list[str]:
    """The command line of one kit of expected.toml."""
    second = ["--second", kit["second"]] if "second" in kit else []
    return [
        "check", "--sheet", f"demo_data/{sheet}", *FILES[2:], "--system", kit["system"], "--circuit", kit["circuit"],
        "--task", kit["task"], "--person", kit["person"], *second, "--on", str(kit["on"]), "--until", str(kit["until"]),
        "--kit", *kit["pieces"], *kit.get("second_pieces", []), "--json",
    ]  # fmt: skip


@pytest.mark.parametrize("sheet", ["shelf.xlsx", "shelf.csv"])
@pytest.mark.parametrize("kit", EXPECTED["may_be_issued"], ids=lambda kit: kit["id"])
def test_a_kit_in_order_may_be_issued(kit: dict[str, Any], sheet: str, cli: Cli) -> None:
    said = cli(*argv(kit, sheet))
    answer = json.loads(said.out)
    assert (said.status, answer["decision"]) == (0, "may-be-issued"), said.out
    assert answer["changes"] == []
    gloves = kit["pieces"][0]
    dates = [
        one["good_until"] for one in answer["findings"]
        if one["rule"] == "electrical-test-in-date" and one["subject"] == gloves
    ]  # fmt: skip
    assert dates == [str(kit["glove_test_good_until"])]


@pytest.mark.parametrize("kit", EXPECTED["refused"], ids=lambda kit: kit["id"])
def test_a_kit_with_a_fault_is_refused_for_that_fault(kit: dict[str, Any], cli: Cli) -> None:
    said = cli(*argv(kit))
    answer = json.loads(said.out)
    assert (said.status, answer["decision"]) == (3, "refused")
    for wanted in kit["findings"]:
        found = [
            one for one in answer["findings"]
            if one["rule"] == wanted["rule"] and wanted.get("subject") in (None, one["subject"])
            and one["outcome"] == wanted.get("outcome", one["outcome"])
        ]  # fmt: skip
        assert found, wanted
        if "measured_v" in wanted:
            assert any(
                (one["measured"], one["required"]) == (wanted["measured_v"], wanted["required_v"]) for one in found
            )
        if "good_until" in wanted:
            assert {one["good_until"] for one in found} == {str(wanted["good_until"])}
    assert answer["changes"]


def test_the_answer_has_just_these_parts(cli: Cli) -> None:
    answer = json.loads(cli("check", *FILES, *JOB, *DAY, *KIT, "--json").out)
    assert list(answer) == [
        "decision", "rule_sets", "on", "until", "required", "findings", "cautions", "renew_daily", "use_until", "changes",
    ]  # fmt: skip
    assert answer["required"] == [
        {
            "circuit": "traction", "supply": "isolated-dc", "working_v": 831.6, "origin": "cells",
            "margin_percent": 10.0, "required_v": 914.76, "category": "III", "voltage_class": "B",
        }
    ]  # fmt: skip
    shape = [
        "rule", "subject", "outcome", "measured", "required", "unit", "clause", "confidence", "rule_set", "key",
        "cause", "remedy", "says", "good_until",
    ]  # fmt: skip
    assert all(list(one) == shape for one in answer["findings"] + answer["cautions"])
    assert {"rule": "air-test-done", "subject": "G001"} in answer["renew_daily"]
    assert answer["use_until"] == "2026-07-11"


def test_the_decision_is_read_from_the_top(cli: Cli) -> None:
    said = cli("check", *FILES, *JOB, *DAY, "--kit", "G005", "P004", "N001", "L004", "U003", "B003", "K003")
    lines = said.out.splitlines()
    assert lines[0].startswith("REFUSED under")
    order = [lines.index(heading) for heading in ("Reasons", "What to change", "Cautions")]
    assert order == sorted(order)
    assert "(--met)" in said.out
    assert "(--sources)" in said.out
    assert "the authorised person decides" in " ".join(lines[-2:])


def test_a_decision_fits_one_screen_and_tells_the_rest_when_asked(cli: Cli) -> None:
    kit = ("G001", "P001", "D001", "U001", "B001", "K001")
    short = cli("check", *FILES, *JOB, *DAY, "--kit", *kit).out.splitlines()
    assert len(short) <= 24
    assert any(line.startswith("For 2026-03-02 only. First to expire: G001, last good day") for line in short)
    refused = cli("check", *FILES, *JOB, *DAY, "--kit", "G001").out.splitlines()
    assert len(refused) <= 28
    whole = cli("check", *FILES, *JOB, *DAY, "--kit", *kit, "--met", "--sources").out
    assert "1910.137(c)(2)(viii)" in whole
    assert "1910.137(c)(2)(viii)" not in " ".join(short)
    assert "G001 is at hand" in whole


def test_what_is_proposed_turns_the_refusal_once_it_is_done(cli: Cli) -> None:
    refused = ("G005", "P004", "N001", "L004", "U003", "B003", "K003")
    answer = json.loads(cli("check", *FILES, *JOB, *DAY, "--kit", *refused, "--json").out)
    assert {one["change"] for one in answer["changes"]} <= {"swap", "remove", "add"}
    assert {one["subject"] for one in answer["changes"]} == {"G005", "P004", "N001", "L004"}
    other = {one["subject"]: one["other"] for one in answer["changes"]}
    kit = [code for code in (other.get(code, code) for code in refused) if code]
    assert cli("check", *FILES, *JOB, *DAY, "--kit", *kit).status == 0


def test_one_piece_put_down_or_none_finds_the_whole_kit(cli: Cli) -> None:
    one = json.loads(cli("check", *FILES, *JOB, *DAY, "--kit", "G001", "--json").out)
    assert [change["subject"] for change in one["changes"]] == ["P001", "D001", "U001", "B001", "K001"]
    none = json.loads(cli("check", *FILES, *JOB, *DAY, "--json").out)
    assert [change["change"] for change in none["changes"]] == ["add"] * 6


def test_nothing_on_the_shelf_stands_the_container(cli: Cli) -> None:
    job = ("--system", "STORE-384", "--circuit", "battery", "--task", "isolate-and-prove-dead", "--person", "P05")
    said = cli("check", *FILES, *job, *DAY, "--kit", "G002", "P002", "D002", "U002", "B002", "K002")
    assert said.status == 3
    assert "41.76 V short" in said.out
    assert "No piece on this shelf, no check and no entry helps here" in said.out


def test_a_certificate_seen_makes_a_bare_date_count(cli: Cli) -> None:
    kit = ("--kit", "G010", "P001", "D001", "U001", "B001", "K001")
    before = json.loads(cli("check", *FILES, *JOB, *DAY, *kit, "--json").out)
    after = json.loads(cli("check", *FILES, *JOB, *DAY, *kit, "--certificate-seen", "G010", "--json").out)

    def outcome(answer: dict[str, Any]) -> str:
        return next(
            str(one["outcome"]) for one in answer["findings"]
            if one["rule"] == "electrical-test-counts" and one["subject"] == "G010"
        )  # fmt: skip

    assert (outcome(before), outcome(after)) == ("not-met", "met")


def test_the_day_after_the_checks_they_are_due_again(cli: Cli) -> None:
    said = cli("check", *FILES, *JOB, "--on", "2026-03-03", *KIT, "--json")
    rules = {one["rule"] for one in json.loads(said.out)["findings"] if one["outcome"] == "not-met"}
    assert said.status == 3
    assert rules == {"air-test-done", "inspected", "self-test-done"}


def test_a_picture_is_written_and_a_wrong_ending_is_not(cli: Cli, tmp_path: Path) -> None:
    svg, png = tmp_path / "kit.svg", tmp_path / "kit.png"
    assert cli("check", *FILES, *JOB, *DAY, *KIT, "--picture", str(svg), str(png)).status == 0
    assert svg.read_text(encoding="utf-8").startswith("<svg")
    assert png.read_bytes().startswith(b"\x89PNG")
    said = cli("check", *FILES, *JOB, *DAY, *KIT, "--picture", str(tmp_path / "kit.bmp"))
    assert said.status == 2
    assert ".svg or .png" in said.err
    assert not (tmp_path / "kit.bmp").exists()


WRONG = [
    ("unknown piece", [*JOB, *DAY, "--kit", "G001", "D0001"], "No piece D0001", "D00"),
    ("unknown person", [*JOB[:-1], "P33", *DAY, *KIT], "No person P33", "P03"),
    ("unknown system", ["--system", "BUS-189", *JOB[2:], *DAY, *KIT], "No system BUS-189", "BUS-198"),
    ("unknown circuit", [*JOB[:3], "tracton", *JOB[4:], *DAY, *KIT], "no circuit tracton", "traction"),
    ("unknown task", [*JOB[:5], "isolate", *JOB[6:], *DAY, *KIT], "no task isolate", "isolate-and-prove-dead"),
    ("until before on", [*JOB, *DAY, "--until", "2026-03-01", *KIT], "is before the first", "--until"),
    ("no day", [*JOB, "--on", "2.3.2026", *KIT], "Write it as 2026-03-01", "--help"),
    ("doubled code", [*JOB, *DAY, "--kit", "G017"], "row 17", "Correct that row"),
    ("future date", [*JOB, *DAY, "--kit", "G044"], "row 30", "Correct that row"),
    ("mistyped category", [*JOB, *DAY, "--kit", "L012"], "row 29", "Correct that row"),
    ("class and length", [*JOB, *DAY, "--kit", "G045"], "row 62", "Correct that row"),
    ("with without leads", [*JOB, *DAY, *KIT, "--with", "N001"], "does not say which leads", "METER:LEADS"),
]


@pytest.mark.parametrize(
    "put_down", [(), ("G001",), ("G005",), ("N001", "L004"), ("G005", "P004"), ("G005", "N001", "L004", "P004", "U003")]
)
def test_whatever_is_put_down_a_kit_of_the_shelf_is_named_that_may_go(put_down: tuple[str, ...], cli: Cli) -> None:
    """The changes are made as told, and the kit they lead to may be issued."""
    asked = ("--kit", *put_down) if put_down else ()
    changes = json.loads(cli("check", *FILES, *JOB, *DAY, *asked, "--json").out)["changes"]
    assert {one["change"] for one in changes} <= {"add", "swap", "remove"}, changes
    left = set(put_down) - {one["subject"] for one in changes if one["change"] in ("swap", "remove")}
    kit = sorted(left | {one["other"] for one in changes if one["change"] in ("add", "swap")})
    decided = json.loads(cli("check", *FILES, *JOB, *DAY, "--kit", *kit, "--json").out)
    assert decided["decision"] == "may-be-issued", (kit, decided["changes"])


@pytest.mark.parametrize(("words", "more", "said_so", "next_step"), WRONG, ids=[one[0] for one in WRONG])
def test_wrong_input_is_told_in_words(words: str, more: list[str], said_so: str, next_step: str, cli: Cli) -> None:
    del words
    said = cli("check", *FILES, *more)
    assert (said.status, said.out) == (2, "")
    assert said_so in said.err, said.err
    assert next_step in said.err, said.err
    as_json = cli("check", *FILES, *more, "--json")
    assert as_json.status == 2
    assert list(json.loads(as_json.out)) == ["error", "key", "says", "next", "file", "place", "thing"]
    assert all(json.loads(as_json.out)[key] for key in ("error", "key", "says", "next"))


SPOILED = [
    ("unknown key", "[site]\ntip_profil = 'gs38'\n", "tip_profil", "tip_profile"),
    ("unknown part", "[sight]\n", "sight", "site"),
    ("looser without approver", "[site]\ntip_profile = 'iec'\n", "tip_profile", "approvals"),
    ("margin without approver", "[site]\nmargin_percent = 5\n", "margin_percent", "approvals"),
    ("not TOML", "[site\n", "TOML", "Correct"),
    ("person twice", "[[people]]\ncode='P1'\n[[people]]\ncode='P1'\n", "P1", "own code"),
    ("cells contradict", ("[[systems]]\ncode='A'\n[[systems.circuits]]\nkey='t'\nsupply='isolated-dc'\n"
     "cells={series=90,modules=8,series_each=12,chemistry='nmc'}\n"), "cells", "Correct"),
    ("no such rule set", ("[site]\nrule_sets=['de-dguf']\n[[people]]\ncode='P03'\n[[systems]]\ncode='BUS-198'\n"
     "[[systems.circuits]]\nkey='traction'\nsupply='isolated-dc'\n"), "de-dguf", "de-dguv"),
]  # fmt: skip


@pytest.mark.parametrize(("words", "depot", "said_so", "next_step"), SPOILED, ids=[one[0] for one in SPOILED])
def test_a_spoiled_depot_file_is_told_in_words(
    words: str, depot: str, said_so: str, next_step: str, cli: Cli, tmp_path: Path
) -> None:
    del words
    file = tmp_path / "depot.toml"
    file.write_text(depot, encoding="utf-8")
    said = cli("check", *FILES[:2], "--depot", str(file), *JOB, *DAY, *KIT)
    assert (said.status, said.out) == (2, "")
    assert said_so in said.err, said.err
    assert next_step in said.err, said.err


@pytest.mark.parametrize("name", ["missing.csv", "folder", "empty.csv", "noise.csv", "noise.xlsx", "words.csv"])
def test_a_file_that_is_no_sheet_is_told_in_words(name: str, cli: Cli, tmp_path: Path) -> None:
    (tmp_path / "folder").mkdir()
    (tmp_path / "empty.csv").touch()
    (tmp_path / "noise.csv").write_bytes(bytes(range(256)) * 8)
    (tmp_path / "noise.xlsx").write_bytes(b"PK\x03\x04" + bytes(range(256)))
    (tmp_path / "words.csv").write_text("dear crib\nsee you on Monday\n", encoding="utf-8")
    said = cli("check", "--sheet", str(tmp_path / name), *FILES[2:4], *JOB, *DAY, *KIT, "--json")
    answer = json.loads(said.out)
    assert said.status == 2
    assert answer["error"]
    assert answer["next"]


def test_a_voltage_known_only_as_nominal_is_a_refusal_that_says_what_to_ask(cli: Cli) -> None:
    said = cli("check", *FILES, "--system", "TUG-355", *JOB[2:], *DAY, *KIT)
    assert said.status == 3
    assert "only a nominal voltage" in said.out
    assert "data plate" in said.out
