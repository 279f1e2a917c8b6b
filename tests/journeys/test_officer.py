"""A safety officer: overdue list, site rules, a recall, the record, and a byte somebody changed."""

from __future__ import annotations

import csv
import io
import sqlite3

from tests.journeys.conftest import DEMO, Crib

KIT = ("G001", "P001", "D001", "U001", "B001", "K001")
ASK = ("check", "--system", "BUS-198", "--task", "isolate-and-prove-dead", "--person", "P03", "--kit", *KIT)


def test_lists_and_rules(quarry_lane: Crib) -> None:
    crib = quarry_lane
    rows = list(csv.DictReader(io.StringIO(crib.types("due", "--within", "0", "--format", "csv").out)))
    assert {row["Standing"] for row in rows} <= {"overdue", "held", "not tested", "cannot tell", "certificate not seen"}
    assert "G029" in {row["Piece"] for row in rows if row["Standing"] == "overdue"}
    crib.at("2026-03-02T08:00")
    crib.does("load", str(DEMO / "checks.toml"), "--by", "P03")
    assert crib.asks(*ASK)["decision"] == "may-be-issued"
    assert "no site rule" in crib.fails("rules", "set", "margin=60", "--by", "P09")
    assert "margin_percent" in crib.fails("rules", "set", "margin_percent=60", "--by", "P09")
    assert "nobody is named" in crib.fails("rules", "set", "margin_percent=5", "--by", "P09")
    crib.does("rules", "set", "margin_percent=25", "--by", "P09")
    tighter = crib.asks(*ASK)
    assert tighter["required"][0]["required_v"] == 1039.5
    assert tighter["decision"] == "refused"
    crib.does(
        "rules", "set", "margin_percent=5", "--by", "P09", "--approved-by", "P09", "--reason", "trial of a quarter"
    )
    looser = crib.asks(*ASK)
    assert any("trial of a quarter" in one["says"] for one in looser["cautions"])
    crib.does("rules", "set", "margin_percent=shipped", "--by", "P09")
    assert crib.asks(*ASK)["required"][0]["required_v"] == 914.76
    crib.does("verify")


def test_a_recall_names_what_is_out(quarry_lane: Crib) -> None:
    crib = quarry_lane
    crib.at("2026-03-02T08:00")
    crib.does("load", str(DEMO / "checks.toml"), "--by", "P03")
    issued = crib.asks("issue", *ASK[1:], "--from", "2026-03-02", "--until", "2026-03-02", "--by", "P01")
    assert issued["decision"] == "may-be-issued"
    crib.judged_the_same(issued["entry"])
    assert "Nothing says what is recalled" in crib.fails("recall", "--by", "P09")
    assert "No piece in service fits" in crib.fails("recall", "--by", "P09", "--label", "no such words")
    words = crib.does(
        "recall", "--by", "P09", "--lab", "Northgate Test House", "--since", "2026-01-01", "--reason", "a notice"
    )
    assert "G001 is out with P03: fetch it back." in words
    crib.does("return", *KIT, "--by", "P01")
    assert crib.asks("show", "G001")["standing"] == "held"
    crib.does("release", "G001", "--by", "P09")
    assert crib.asks("show", "G001")["standing"] != "held"
    crib.does("verify")


def test_somebody_changed_a_figure(quarry_lane: Crib) -> None:
    crib = quarry_lane
    assert "Whole: " in crib.does("verify")
    with sqlite3.connect(crib.store) as behind:
        behind.execute("DROP TRIGGER record_no_update")
        behind.execute("UPDATE record SET left_ua = left_ua - 1 WHERE piece = 'G001' AND left_ua IS NOT NULL")
    behind.close()
    said = crib.types("verify")
    assert said.status == 3
    assert "record Bus hall crib:" in said.out
    assert "The tables or their guards" in said.out
