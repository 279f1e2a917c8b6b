"""The demo depot: its sheets come out alike each time, its files can be read, and its kits do what is told of them.

The pieces are built here from `shelf_pieces.py`, what the keeper meant, and not from the sheet the keeper wrote: so the
sheets, the reader and the judge are held against the meaning and not against one another.
"""

from __future__ import annotations

import os
import re
import runpy
import shutil
import subprocess
import sys
import tomllib
import zipfile
from collections import Counter
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace

from app.decision.case.case import read_case
from app.decision.case.pieces import read_piece, read_record
from app.decision.case.site import read_site
from app.decision.case.world import read_circuit, read_person
from app.decision.domain.electrical_test import judge as judge_test
from app.decision.domain.finding import Outcome
from app.decision.domain.piece import Piece
from app.decision.domain.record import ElectricalTest, Hold
from app.decision.domain.verdict import Verdict
from app.decision.judging.catalogues import catalogues
from app.decision.judging.judge import judge
from app.decision.judging.worked_cases import facts_of
from app.intake.register_sheet import read_register_sheet

Table = dict[str, Any]

DEMO = Path(__file__).parents[2] / "demo_data"
DAY = date(2026, 3, 2)
MADE = ("shelf.xlsx", "shelf.csv", "checks.toml")


def toml(name: str) -> Table:
    return tomllib.loads((DEMO / name).read_text(encoding="utf-8"))


MEANT = runpy.run_path(str(DEMO / "shelf_pieces.py"))
DEPOT, CHECKS, EXPECTED = toml("depot.toml"), toml("checks.toml")["records"], toml("expected.toml")
BAD = {row["code"] for row in EXPECTED["wrong_rows"]} | {EXPECTED["doubled_code"]["code"]}

# ---------------------------------------------------------------- the pieces as they were meant

LABS = {"N": "Northgate Test House", "F": "Fellside Dielectrics", "T": "Tarn Row Laboratory"}
EVIDENCE = {"figures": "figures", "stated": "stated-pass", "bare": "sheet-only"}
TEST_V = {"00": 2500, "0": 5000, "1": 10_000, "2": 20_000}
TABLES = {
    "rubber-gloves": "GLOVES", "leather-protectors": "PROTECTORS", "multimeter": "MULTIMETERS",
    "two-pole-detector": "DETECTORS", "test-leads": "LEADS", "tip-or-clip": "TIPS", "proving-unit": "PROVING_UNITS",
    "insulated-tool": "TOOLS", "arc-face-shield": "SHIELDS", "rescue-hook": "HOOKS", "barrier-set": "BARRIER_SETS",
    "lock-off-set": "LOCK_OFF_SETS",
}  # fmt: skip


def number(text: str) -> float:
    return float(text.replace(",", "."))


def truth(text: str) -> bool:
    return {"yes": True, "no": False}[text]


def day(text: str) -> date | str:
    """A day as a date; months and weeks stay words."""
    return date.fromisoformat(text) if len(text) == 10 else text


def marks(text: str) -> list[list[Any]]:
    return [[category, int(volts)] for category, volts in re.findall(r"CAT (II|III|IV) (\d+) ?V", text)]


def volt_mark(text: str) -> Table:
    """Both ways the keeper writes it: the kind of current before the volts, or behind them."""
    before, behind = re.findall(r"(AC|DC) (\d+) V", text), re.findall(r"(\d+) V (AC|DC)", text)
    pairs = before if text.startswith(("AC", "DC")) else [(current, volts) for volts, current in behind]
    return {f"{current.lower()}_v": int(volts) for current, volts in pairs}


FIELDS: dict[str, tuple[str, Any]] = {
    "class": ("class", str), "type": ("type", str), "letters": ("categories", str.split), "length": ("length_mm", number),
    "size": ("size", number), "dc": ("dc_tested", truth), "cut": ("cut_for_class", str), "thick": ("leather_mm", number),
    "leather": ("leather", str), "marks": ("marks", marks), "marks_off": ("marks_cap_off", marks),
    "fixed": ("fixed_leads", truth), "input_ac": ("max_input_ac_v", int), "input_dc": ("max_input_dc_v", int),
    "amps": ("current_a", number), "tip": ("tip_mm", number), "caps": ("caps", str), "altitude": ("max_altitude_m", int),
    "shows_dc": ("threshold_dc_v", int), "shows_ac": ("threshold_ac_v", int), "gives_dc": ("output_dc_v", int),
    "gives_ac": ("output_ac_v", int), "mark": ("voltage_mark", volt_mark), "arc": ("arc_rating_cal", int),
    "hood": ("hood", truth), "balaclava": ("balaclava", truth), "fabric": ("fabric_rating_cal", int),
    "window": ("window_rating_cal", int),
}  # fmt: skip


def electrical_test(row: dict[str, str]) -> Table:
    failed = row["code"] in EXPECTED["states"]["failed"]
    test: Table = {"what": "electrical-test", "on": day(row["test"]), "evidence": EVIDENCE[row["evidence"]]}
    test["result"] = "failed" if failed else "passed"
    if row["lab"]:
        test |= {"laboratory": LABS[row["lab"]], "certificate": "on file", "method": "EN 60903"}
    if row["evidence"] == "figures":
        # The readings themselves are invented by make_shelf.py; here any that the class and length allow.
        test |= {"test_v": TEST_V[row["class"]], "kind_of_current": "ac", "frequency_hz": 60, "dwell_s": 60}
        test |= {"left_ma": 7, "right_ma": 17.8 if failed else 7}
    return test


def with_state(table: Table, state: dict[str, str]) -> Table:
    """What the keeper wrote of a piece that does not simply hang in the crib."""
    since = day(state["since"])
    more = {
        "held": [{"what": "hold", "on": since}], "lost": [{"what": "hold", "on": since}],
        "withdrawn": [{"what": "withdrawal", "on": since}],
    }.get(state["state"], [])  # fmt: skip
    table["records"] += more
    if state["with"]:
        table["custody"] = state["with"]
    if state["state"] == "lost":
        table["lost"] = True
    return table


def meant(kind: str, row: dict[str, str]) -> Table:
    """One piece in the keys of a worked case."""
    table: Table = {"code": row["code"], "kind": kind, "custody": "crib", "records": []}
    table |= {FIELDS[key][0]: FIELDS[key][1](text) for key, text in row.items() if text and key in FIELDS}
    if row.get("fuse_v"):
        table["fuse"] = {"v": int(row["fuse_v"]), "ac_only": truth(row["fuse_ac"]), "kind": row["fuse_kind"].lower()}
    if kind == "test-leads" and table.get("caps") == "unknown":
        # Leads of which nobody says anything have caps in an unknown state as well: the word adds nothing.
        del table["caps"]
    if kind == "rubber-gloves":
        first = {"": "unknown", "not known": "unknown", "new": "never"}.get(row["first"], row["first"])
        table |= {"class_system": "iec", "first_issue": first if first in ("never", "unknown") else day(first)}
        table["records"] += [electrical_test(row)] if row["test"] else []
    if row.get("calibrated"):
        table["records"].append({"what": "calibration", "on": day(row["calibrated"]), "result": "passed"})
    if row.get("look"):
        table["records"].append({"what": "inspection", "on": day(row["look"]), "defects": []})
    return table


def shelf() -> dict[str, Table]:
    """Every piece that was meant to be readable, by code."""
    states = {row["code"]: row for row in MEANT["rows"](MEANT["STATES"])}
    found = {}
    for kind, name in TABLES.items():
        for row in MEANT["rows"](MEANT[name]):
            if row["code"] not in BAD:
                table = meant(kind, row)
                found[row["code"]] = with_state(table, states[row["code"]]) if row["code"] in states else table
    return found


SHELF = shelf()


# ---------------------------------------------------------------- the writer


def run_writer(folder: Path, *more: str, seed: str = "0") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, str(folder / "make_shelf.py"), *more], capture_output=True, text=True, check=False,
        cwd=folder.parent, env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONWARNINGS": "error"}, encoding="utf-8",
    )  # fmt: skip


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    """The demo data in a folder of their own, without the three files that are made."""
    folder = tmp_path / "demo_data"
    shutil.copytree(DEMO, folder, ignore=shutil.ignore_patterns("__pycache__", *MADE))
    return folder


def unpacked(path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as book:
        return {name: book.read(name) for name in book.namelist()}


def test_the_three_files_come_out_alike_each_time(copied: Path) -> None:
    made = []
    for seed in ("1", "2"):
        done = run_writer(copied, seed=seed)
        assert (done.returncode, done.stderr) == (0, ""), done.stdout
        made.append({name: (copied / name).read_bytes() for name in MADE})
    assert made[0] == made[1]
    for name in ("shelf.csv", "checks.toml"):
        assert made[0][name] == (DEMO / name).read_bytes(), name
    assert unpacked(copied / "shelf.xlsx") == unpacked(DEMO / "shelf.xlsx")


@pytest.mark.parametrize(
    ("name", "was", "spoilt"),
    [
        ("shelf.csv", "2026-01-12", "2026-01-13"),
        ("checks.toml", 'piece = "G001"', 'piece = "G999"'),
        ("expected.toml", "due_on = 2026-02-18 ", "due_on = 2026-02-19 "),
        ("expected.toml", "row = 62", "row = 61"),
        ("depot.toml", "max_v = 4.20", "max_v = 4.25"),
    ],
)
def test_its_check_finds_what_was_spoilt(name: str, was: str, spoilt: str, copied: Path) -> None:
    assert run_writer(copied).returncode == 0
    text = (copied / name).read_text(encoding="utf-8")
    assert was in text
    (copied / name).write_text(text.replace(was, spoilt, 1), encoding="utf-8", newline="\n")
    assert run_writer(copied, "--check").returncode == 1


# ---------------------------------------------------------------- the files


def test_the_depot_passes_the_readers() -> None:
    site = read_site(DEPOT["site"], "site")
    assert site.figures_required is False
    assert site.approver("figures_required") is not None
    people = {read_person(table, "").code for table in DEPOT["people"]}
    assert len(people) == len(DEPOT["people"]) == 12
    assert all(set(system) == {"code", "name", "circuits"} for system in DEPOT["systems"])
    assert all(read_circuit(circuit, "").key for system in DEPOT["systems"] for circuit in system["circuits"])
    assert set(DEPOT) == {"site", "people", "systems"}
    assert DEPOT["site"]["demo_day"] == EXPECTED["demo_day"] == DAY


def test_the_checks_pass_the_readers() -> None:
    for table in CHECKS:
        record = read_record({key: value for key, value in table.items() if key != "piece"}, table["piece"])
        assert record.on is not None
        assert (record.on.first, record.on.last) == (DAY, DAY)
        assert table["piece"] in SHELF


def plain(piece: Piece) -> tuple[Piece, Counter[str]]:
    """A piece and its records, without what only the sheet holds: readings, certificates, batches, words for a hold."""
    records: Counter[str] = Counter()
    for record in piece.records:
        if isinstance(record, ElectricalTest):
            records[repr((record.on, record.result, record.evidence, record.lab, record.test_v))] += 1
        else:
            records[repr(replace(record, why="") if isinstance(record, Hold) else record)] += 1
    # Loose leads of which nobody says anything have caps in an unknown state, so saying so means the same.
    caps = piece.caps or ("unknown" if piece.kind == "test-leads" else None)
    return replace(piece, records=(), caps=caps, batch=""), records


@pytest.mark.parametrize("name", ["shelf.xlsx", "shelf.csv"])
def test_a_sheet_says_what_was_meant(name: str) -> None:
    sheet = read_register_sheet(DEMO / name, on=DAY)
    assert set(sheet.bad_codes) == BAD
    read = {row.code: read_piece(row.fields, "") for row in sheet.rows}
    assert set(read) == set(SHELF)
    for code, piece in read.items():
        assert plain(piece) == plain(read_piece(SHELF[code], "")), code
        # A pair's batch begins with its type and class; nothing else on the sheet has one.
        gloves = f"{piece.type}{piece.insulation_class}-" if piece.kind == "rubber-gloves" else ""
        assert bool(piece.batch) == bool(gloves), code
        assert piece.batch.startswith(gloves), code


def test_bad_rows_stand_where_they_are_told() -> None:
    book, flat = (read_register_sheet(DEMO / name, on=DAY) for name in ("shelf.xlsx", "shelf.csv"))
    told = [(row["code"], row["sheet"], row["row"], row["csv_line"]) for row in EXPECTED["wrong_rows"]]
    twice = EXPECTED["doubled_code"]
    told += [(twice["code"], twice["sheet"], *pair) for pair in zip(twice["rows"], twice["csv_lines"], strict=True)]
    assert Counter((one.thing, one.place.sheet, one.place.row) for one in book.faults) == Counter(
        (code, sheet, row) for code, sheet, row, _ in told
    )
    assert Counter((one.thing, one.place.row) for one in flat.faults) == Counter(
        (code, line) for code, _, _, line in told
    )


def test_the_tests_written_down_with_figures_are_judged_as_told() -> None:
    """Every test with figures passes but the failed one; the figures of classes 1 and 2 nobody has seen in print."""
    known = catalogues()
    site, rule_set = read_site(DEPOT["site"], ""), known.rule_sets["us-osha-137"]
    found: dict[str, set[str]] = {}
    for row in read_register_sheet(DEMO / "shelf.xlsx", on=DAY).rows:
        piece = read_piece(row.fields, "")
        for test in piece.records:
            if isinstance(test, ElectricalTest) and test.evidence == "figures":
                judged = judge_test(test, piece, rule_set, known.house, site)
                found.setdefault("not seen in print" if judged.unconfirmed else judged.result, set()).add(piece.code)
    assert set(found) == {"passed", "failed", "not seen in print"}
    assert found["failed"] == set(EXPECTED["states"]["failed"])
    assert found["not seen in print"] == set(EXPECTED["gloves"]["others"]["limit_not_seen_in_print"])


# ---------------------------------------------------------------- the kits


def verdict_of(kit: Table, codes: list[str]) -> Verdict:
    """The decision on these pieces for the kit's job, from what was meant and not from the sheet."""
    pieces = []
    for code in codes:
        today = [{k: v for k, v in one.items() if k != "piece"} for one in CHECKS if one["piece"] == code]
        pieces.append({**SHELF[code], "records": SHELF[code]["records"] + today})
    people = {one["code"]: one for one in DEPOT["people"]}
    system = next(one for one in DEPOT["systems"] if one["code"] == kit["system"])
    circuits = [one for one in system["circuits"] if one["key"] == kit["circuit"]]
    table = {
        "id": kit["id"], "source": "demo", "confidence": "D", "level": "decision", "on": kit["on"], "until": kit["until"],
        "site": {key: value for key, value in DEPOT["site"].items() if key not in ("demo_day", "timezone")},
        "job": {"task": kit["task"], "circuits": circuits}, "person": people[kit["person"]], "pieces": pieces,
        "rule_sets": [EXPECTED["rule_set"]], "expect": {},
    }  # fmt: skip
    if "second" in kit:
        table["second"] = people[kit["second"]]
    return judge(facts_of(read_case(table)))


def parts(kit: Table) -> list[str]:
    return [*kit["pieces"], *kit.get("second_pieces", [])]


@pytest.mark.parametrize("kit", EXPECTED["may_be_issued"], ids=lambda kit: kit["id"])
def test_a_complete_kit_may_be_issued(kit: Table) -> None:
    verdict = verdict_of(kit, parts(kit))
    assert (verdict.decision, verdict.stops) == ("may-be-issued", ())


@pytest.mark.parametrize("kit", EXPECTED["may_be_issued"], ids=lambda kit: kit["id"])
def test_a_complete_kit_has_nothing_to_spare(kit: Table) -> None:
    """Without any one piece it is refused, but for the second of two insulated tools."""
    spare = {"X001", "X002"}
    for code in parts(kit):
        rest = [one for one in parts(kit) if one != code]
        assert (verdict_of(kit, rest).decision == "may-be-issued") == (code in spare), code


@pytest.mark.parametrize("kit", EXPECTED["refused"], ids=lambda kit: kit["id"])
def test_a_refused_kit_is_refused_for_what_is_told(kit: Table) -> None:
    verdict = verdict_of(kit, parts(kit))
    assert verdict.decision == "refused"
    for told in kit["findings"]:
        assert any(
            one.rule == told["rule"] and told.get("subject", one.subject) == one.subject
            and told.get("outcome", one.outcome.value) == one.outcome.value
            for one in verdict.findings
        ), told  # fmt: skip
    if kit["only"]:
        stops = {one.rule for one in verdict.findings if one.outcome in (Outcome.NOT_MET, Outcome.CANNOT_TELL)}
        assert stops == {told["rule"] for told in kit["findings"] if "outcome" in told}


@pytest.mark.parametrize(
    "kit", [kit for kit in EXPECTED["refused"] if "cured_by" in kit], ids=lambda kit: str(kit["id"])
)
def test_a_kit_that_can_be_cured_is_cured_from_the_shelf(kit: Table) -> None:
    verdict = verdict_of(kit, kit["cured_by"])
    assert (verdict.decision, verdict.stops) == ("may-be-issued", ())
