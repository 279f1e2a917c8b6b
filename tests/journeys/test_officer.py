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
    assert {row["Status"] for row in rows} <= {
        "overdue",
        "on hold",
        "not tested",
        "cannot tell",
        "certificate not seen",
    }
    assert "G029" in {row["Piece"] for row in rows if row["Status"] == "overdue"}
    crib.at("2026-03-02T08:00")
    crib.does("load", str(DEMO / "checks.toml"), "--by", "P03")
    assert crib.asks(*ASK)["decision"] == "may-be-issued"
    assert "not a site rule" in crib.fails("rules", "set", "margin=60", "--by", "P09")
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
    assert crib.asks("show", "G001")["status"] == "on-hold"
    crib.does("release", "G001", "--by", "P09")
    assert crib.asks("show", "G001")["status"] != "on-hold"
    crib.does("verify")


PAIR = (
    "kind=rubber-gloves", "class=1", "class_system=iec", "type=I", "length_mm=360", "size=9", "first_issue=2025-06-01",
)  # fmt: skip
LEATHER = ("kind=leather-protectors", "cut_for_class=1", "length_mm=310")
TEST = (
    "on=2026-02-20", "test_v=10000", "kind_of_current=ac", "frequency_hz=60", "dwell_s=60", "left_ma=7", "right_ma=7.1",
)  # fmt: skip
AIR_TEST = ("left=passed", "right=passed", "inflation=1.2")
FIGURE, LISTED = "us-osha-137/current/1/360", ("rules", "figures", "--unseen")
COPY = ("--document", "29 CFR 1910.137, Table I-1, own copy")


def test_a_figure_is_seen_in_print_and_ticked_off(quarry_lane: Crib) -> None:
    crib = quarry_lane
    crib.at("2026-03-02T08:00")
    crib.does("load", str(DEMO / "checks.toml"), "--by", "P03")
    crib.does("add", "piece", "G900", *PAIR, "--crib", "Bus hall crib", "--by", "P01")
    crib.does("add", "piece", "P900", *LEATHER, "--crib", "Bus hall crib", "--by", "P01")
    crib.does("log", "electrical-test", "G900", *TEST, "--by", "P01")
    crib.does("log", "air-test", "G900", *AIR_TEST, "--by", "P03")
    crib.does("log", "inspection", "P900", "defects=", "--by", "P03")
    ask = (*ASK[1 : ASK.index("--kit") + 1], "G900", "P900", *KIT[2:])
    waits = crib.asks("check", *ask)
    assert waits["decision"] == "refused"
    assert FIGURE in crib.types("check", *ask).out
    row = next(line for line in crib.does(*LISTED).splitlines() if line.startswith(f"{FIGURE} "))
    assert "14 mA" in row
    assert "class 1, length 360 mm" in row
    # Typed wrongly first.
    assert f'Did you mean "{FIGURE}"?' in crib.fails(
        "rules", "confirm", FIGURE.replace("current", "curent"), *COPY, "--by", "P09"
    )
    assert "none is named" in crib.fails("rules", "confirm", FIGURE, "--by", "P09")
    assert "P99" in crib.fails("rules", "confirm", FIGURE, *COPY, "--by", "P99")
    assert "its letter is P" in crib.fails("rules", "confirm", "us-osha-137/current/0/360", *COPY, "--by", "P09")
    crib.does("rules", "confirm", FIGURE, "us-osha-137/current/1/410", *COPY, "--by", "P09")
    assert "has this value already" in crib.fails("rules", "confirm", FIGURE, *COPY, "--by", "P09")
    crib.does("rules", "confirm", "us-osha-137/current/1/460", "--document", "a later edition", "--by", "P01")
    assert FIGURE not in crib.does(*LISTED)
    said = {one["figure"]: one["confirmed"] for one in crib.asks("rules", "figures") if one["confirmed"]}
    assert {key: (one["by"], one["on"]) for key, one in said.items()} == {
        FIGURE: ("P09", "2026-03-02"), "us-osha-137/current/1/410": ("P09", "2026-03-02"),
        "us-osha-137/current/1/460": ("P01", "2026-03-02"),
    }  # fmt: skip
    issued = crib.asks("issue", *ask, "--from", "2026-03-02", "--until", "2026-03-02", "--by", "P01")
    assert issued["decision"] == "may-be-issued"
    crib.judged_the_same(issued["entry"])
    assert "not confirmed" in crib.fails(
        "rules", "unconfirm", "us-osha-137/repair-place", "--by", "P09", "--reason", "so"
    )
    crib.does("rules", "unconfirm", FIGURE, "--by", "P09", "--reason", "it was a draft")
    assert FIGURE in crib.does(*LISTED)
    crib.judged_the_same(issued["entry"])
    assert "Whole: " in crib.does("verify")


def test_a_looser_reading_and_a_set_without_dc(quarry_lane: Crib) -> None:
    crib = quarry_lane
    crib.at("2026-03-02T08:00")
    shown = crib.does("rules", "show")
    assert "without_protectors_reading = us-osha-137: offered by US 1910.137 (adopted practice)." in shown
    assert "Nothing else may be looser." in " ".join(shown.split())
    reading = "without_protectors_reading=us-osha-137"
    why = ("--approved-by", "P09", "--reason", "the US text alone")
    assert "nobody is named" in crib.fails("rules", "set", reading, "--by", "P09")
    crib.does("rules", "set", reading, *why, "--by", "P09")
    row = next(
        line for line in crib.does("rules", "show").splitlines() if line.startswith("without_protectors_reading ")
    )
    assert row.split()[1:3] == ["us-osha-137", "P09"]
    taken = crib.fails("rules", "set", "rule_sets=en-60903-2003", "--by", "P09")
    # The depot file's own looser rule is named first; it is in force by P09's approval too.
    assert "figures_required" in taken
    assert "EN 60903:2003" in taken
    put_back = ("without_protectors_reading=shipped", "figures_required=shipped")
    crib.does("rules", "set", "rule_sets=en-60903-2003", *put_back, "--by", "P09")
    crib.does("rules", "set", "dielectric_exempt_00_0=approved", *why, "--by", "P09")
    assert "approved" in crib.does("rules", "show")
    assert "none of the chosen rule sets offers that" in crib.fails("rules", "set", reading, *why, "--by", "P09")
    said = crib.does("rules", "set", "rule_sets=jp-351", "dielectric_exempt_00_0=shipped", "--by", "P09")
    assert "Japan, article 351: no limits for DC were seen" in said
    assert "Japan, article 351: no limits for DC were seen" in crib.does("rules", "show")
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
