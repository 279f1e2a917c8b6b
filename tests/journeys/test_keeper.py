"""A keeper's days: a register from nothing, kit taken in, tested, issued, taken back, held, put right - with mistakes."""

from __future__ import annotations

import csv
import io
import shutil
from pathlib import Path

from tests.journeys.conftest import DEMO, Crib

FIGURES = ("test_v=5000", "kind_of_current=ac", "frequency_hz=60", "dwell_s=60")
KIT = ("G001", "P001", "D001", "U001", "B001", "K001")
JOB = ("--system", "BUS-198", "--task", "isolate-and-prove-dead", "--person", "P03")


def test_a_register_from_nothing(crib: Crib) -> None:
    said = crib.types("due")
    assert said.status == 2
    assert "There is no register" in said.err
    assert not crib.store.exists()
    said = crib.types("add", "person", "P02", "--by", "P01")
    assert said.status == 2
    assert "enters themselves" in said.err
    assert "add person P01 --by P01" in said.err
    # An act that came to nothing leaves no empty register behind.
    assert list(crib.folder.iterdir()) == []
    crib.does("add", "person", "P01", "--by", "P01", "role_words=crib keeper")
    assert 'Did you mean "P01"' in crib.fails("add", "person", "P03", "--by", "P1")
    crib.does("add", "person", "P03", "--by", "P01", "scopes=isolate", "valid_until=2026-12-31", "glove_sizes=10")
    crib.does("add", "system", "VN-96", "--by", "P01", "name=Delivery van")
    crib.does(
        "add", "circuit", "VN-96.traction", "--by", "P01", "supply=isolated-dc", "cells.series=96",
        "cells.chemistry=nmc", "cells.max_v=4.2",
    )  # fmt: skip
    assert "size" in crib.fails("add", "piece", "G101", "--by", "P01", "kind=rubber-gloves", "sise=9.5")
    crib.does(
        "add", "piece", "G101", "--by", "P01", "kind=rubber-gloves", "class=0", "class_system=iec", "type=I",
        "length_mm=360", "size=10", "first_issue=never",
    )  # fmt: skip
    assert "in the register already" in crib.fails("add", "piece", "g101", "--by", "P01", "kind=rubber-gloves")
    assert crib.asks("show", "G101")["status"] == "not-tested"
    crib.does("verify")


def test_the_sheet_is_loaded_whole_or_not_at_all(crib: Crib, tmp_path: Path) -> None:
    sheet = tmp_path / "shelf.xlsx"
    shutil.copy(DEMO / "shelf.xlsx", sheet)
    crib.does("load", str(DEMO / "depot.toml"), "--by", "P01")
    dry = crib.asks("load", str(sheet), "--by", "P01", "--dry-run")
    assert dry["loaded"] == 0
    assert len(dry["bad"]) >= 3
    before = crib.store.read_bytes()
    said = crib.types("load", str(sheet), "--by", "P01")
    assert said.status == 3
    assert "Nothing was loaded" in said.out
    assert crib.store.read_bytes() == before
    loaded = crib.asks("load", str(sheet), "--by", "P01", "--leave-out-bad-rows")
    assert loaded["loaded"] == dry["good"] > 130
    left = [Path(name) for name in loaded["left_out"]]
    texts = [io.StringIO(name.read_text(encoding="utf-8")) for name in left]
    rows = [row for text in texts for row in list(csv.reader(text))[1:]]
    assert sum("G017" in row for row in rows) == 2
    assert all(row[-1] for row in rows)
    again = crib.asks("load", str(sheet), "--by", "P01", "--leave-out-bad-rows")
    assert again["loaded"] == 0
    assert any("in the register already" in one["says"] for one in again["bad"])
    crib.does("verify")


def test_a_day_at_the_counter(quarry_lane: Crib) -> None:
    crib = quarry_lane
    crib.at("2026-03-02T08:00")
    crib.does("load", str(DEMO / "checks.toml"), "--by", "P03")
    crib.does("bag", "BAG-BUS", *KIT, "--by", "P01")
    crib.does("alias", "QL-0001", "G001", "--by", "P01")
    assert "already means G001" in crib.fails("alias", "QL-0001", "G002", "--by", "P01")
    days = ("--from", "2026-03-02", "--until", "2026-03-06")
    out = crib.does("issue", *JOB, *days, "--kit", "BAG-BUS", "--by", "P01")
    assert "MAY BE ISSUED" in out
    # Enter pressed twice: the kit is out, and nothing is written again.
    assert "P03 has this kit already" in crib.fails("issue", *JOB, *days, "--kit", "BAG-BUS", "--by", "P01")
    assert crib.asks("show", "QL-0001")["status"] == "out"
    assert "is out with P03" in crib.fails("hand-over", "G001", "--to", "P05", "--by", "P01")
    back = crib.does("return", "BAG-BUS", "--by", "P01", "--defect", "D001:cracked")
    assert "D001 is now on hold" in back
    assert "is not out" in crib.fails("return", "G001", "--by", "P01")
    # What was loose when it came back stays in the crib until it is mended and looked over.
    assert "cannot be released" in crib.fails("release", "D001", "--by", "P01")
    said = crib.types("issue", *JOB, *days, "--kit", "BAG-BUS", "--by", "P01")
    assert said.status == 3
    assert "D001" in said.out
    crib.does("log", "inspection", "D001", "caps=present", "--by", "P05")
    assert "the part replaced" in crib.fails("release", "D001", "--by", "P01")
    crib.does("repair", "D001", "repair=new housing", "--by", "P05")
    crib.does("log", "inspection", "D001", "caps=present", "--by", "P05")
    assert "nobody else has inspected it since" in crib.fails("release", "D001", "--by", "P01")
    crib.does("log", "inspection", "D001", "caps=present", "--by", "P01")
    crib.does("release", "D001", "--by", "P01")
    assert "no hold that a release would lift" in crib.fails("release", "D001", "--by", "P01")
    issued = crib.asks("history", "P03")
    assert [one["content"]["decision"] for one in issued if one["kind"] == "decision"] == ["may-be-issued", "refused"]
    for one in issued:
        if one["kind"] == "decision":
            crib.judged_the_same(one["entry"])
    crib.does("verify")


def test_a_test_that_fails_one_that_does_not_count_and_a_slip_of_the_pen(quarry_lane: Crib) -> None:
    crib = quarry_lane
    assert "is in the future" in crib.fails(
        "log", "electrical-test", "G026", "on=2026-03-03", "result=passed", "--by", "P01"
    )
    assert "takes no air test" in crib.fails("log", "air-test", "D001", "left=passed", "right=passed", "--by", "P01")
    short = crib.asks("log", "electrical-test", "G026", "on=2026-02-27", *FIGURES[:3], "dwell_s=30", "left_ma=7",
                      "right_ma=7", "--by", "P01")  # fmt: skip
    assert short.get("result") == "does-not-count", short
    assert crib.asks("show", "G026")["due_on"] == "2026-03-22"
    words = ("log", "electrical-test", "G026", "on=2026-02-28", *FIGURES, "left_ma=17", "right_ma=7", "--by", "P01")
    failed = crib.asks(*words)
    assert failed["result"] == "failed"
    assert crib.asks("show", "G026")["status"] == "on-hold"
    assert "in the register already" in crib.fails(*words)
    # It was 7, not 17: put right, and held until somebody else has looked.
    crib.does("correct", failed["entry"], "--by", "P01", "--reason", "7 was read as 17", "--set", "left_ma=7")
    assert "struck before" in crib.fails("correct", failed["entry"], "--by", "P01", "--reason", "again")
    assert "Somebody else" in crib.fails("release", "G026", "--by", "P01")
    crib.does("release", "G026", "--by", "P09")
    card = crib.asks("show", "G026")
    assert (card["status"], card["due_on"]) == ("inspect-today", "2026-08-28")
    crib.does("verify")


def test_stock_is_taken_and_a_lost_piece_is_found(quarry_lane: Crib) -> None:
    crib = quarry_lane
    here = [one["piece"] for one in crib.asks("due") if one["place"] == "Bus hall crib" and not one["holder"]]
    gone = [one["piece"] for one in crib.asks("due") if one["status"] in ("lost", "withdrawn")]
    scanned = [code for code in here if code not in gone and code != "X014"]
    out = crib.does("stocktake", "--crib", "Bus hall crib", "--mark-lost", *scanned, "--by", "P01")
    assert "Missing: X014." in out
    assert crib.asks("show", "X014")["status"] == "lost"
    found = crib.does("stocktake", "--crib", "Bus hall crib", *scanned, "X014", "--by", "P01")
    assert "X014 was lost and is found" in found
    assert crib.asks("show", "X014")["status"] == "on-hold"
    assert "cannot be released" in crib.fails("release", "X014", "--by", "P01")
    crib.does("log", "inspection", "X014", "--by", "P01")
    crib.does("release", "X014", "--by", "P01")
    assert crib.asks("show", "X014")["status"] == "ready"
    crib.does("transfer", "X014", "--to", "Workshop crib", "--by", "P01")
    assert "is already in Workshop crib" in crib.fails("transfer", "X014", "--to", "Workshop crib", "--by", "P01")
    assert 'Did you mean "Workshop crib"' in crib.fails("transfer", "X014", "--to", "Worksop crib", "--by", "P01")
    crib.does("verify")
