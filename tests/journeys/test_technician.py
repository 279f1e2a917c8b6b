"""A technician before a job: the kit asked about, checked, refused, mended, issued; at night without the keeper."""

from __future__ import annotations

from tests.journeys.conftest import Crib

KIT = ("G001", "P001", "D001", "U001", "B001", "K001")
ASK = ("check", "--system", "BUS-198", "--task", "isolate-and-prove-dead", "--person", "P03", "--kit")


def checks(crib: Crib) -> None:
    crib.does("log", "air-test", "G001", "left=passed", "right=passed", "inflation=1.2", "--by", "P03")
    crib.does("log", "inspection", "G001", "clearance_mm=50", "--by", "P03")
    crib.does("log", "inspection", "P001", "U001", "B001", "K001", "--by", "P03")
    crib.does("log", "inspection", "D001", "caps=present", "--by", "P03")
    crib.does("log", "self-test", "D001", "result=passed", "--by", "P03")
    crib.does("log", "self-test", "U001", "result=passed", "--by", "P03")


def test_from_refused_to_issued_by_what_to_change(quarry_lane: Crib) -> None:
    crib = quarry_lane
    first = crib.asks(*ASK, *KIT)
    assert first["decision"] == "refused"
    assert {one["change"] for one in first["changes"]} <= {
        "check",
        "add-check",
        "swap",
        "confirm",
        "add",
        "remove",
    } or first["changes"]
    assert "No piece, label or bag G0001" in crib.types(*ASK, "G0001", *KIT[1:]).err
    checks(crib)
    assert crib.asks(*ASK, *KIT)["decision"] == "may-be-issued"
    # The week ends after the authorisation does: said before anything goes out.
    late = crib.asks(*ASK[:-3], "--person", "P11", "--until", "2026-03-06", "--kit", *KIT)
    assert late["decision"] == "refused"
    assert any(one["rule"] == "person-authorised" for one in late["findings"])
    issued = crib.asks(
        "issue", *ASK[1:-1], "--from", "2026-03-02", "--until", "2026-03-02", "--kit", *KIT, "--by", "P01"
    )
    assert issued["decision"] == "may-be-issued"
    crib.judged_the_same(issued["entry"])
    # Checks end with the return: the same kit again is refused, once on record however often it is asked for.
    crib.does("return", *KIT, "--by", "P01")
    again = ("issue", *ASK[1:-1], "--from", "2026-03-02", "--until", "2026-03-02", "--kit", *KIT, "--by", "P01")
    refused = crib.asks(*again)
    assert refused["decision"] == "refused"
    crib.judged_the_same(refused["entry"])
    assert crib.asks(*again)["entry"] is None
    crib.does("verify")


def test_a_hole_found_in_the_air_test(quarry_lane: Crib) -> None:
    crib = quarry_lane
    checks(crib)
    crib.does("hand-over", "G014", "--to", "P03", "--by", "P01")
    said = crib.does("log", "air-test", "G014", "left=failed", "right=passed", "defects=hole", "--by", "P03")
    assert "G014 is now on hold" in said
    kit = ("G014", *KIT[1:])
    found = crib.asks(*ASK, *kit)
    assert any(one["rule"] == "not-held" and one["subject"] == "G014" for one in found["findings"])
    # No second test makes a hole good.
    crib.does("log", "air-test", "G014", "left=passed", "right=passed", "inflation=1.2", "--by", "P03")
    assert crib.asks(*ASK, *kit)["decision"] == "refused"
    assert "cannot be released" in crib.fails("release", "G014", "--by", "P01")
    crib.does("return", "G014", "--by", "P01")
    crib.does("withdraw", "G014", "--reason", "a hole in the palm", "--by", "P01")
    assert "withdrawn for good" in crib.fails("log", "inspection", "G014", "--by", "P01")
    crib.does("verify")


def test_at_night_without_the_keeper(quarry_lane: Crib) -> None:
    crib = quarry_lane
    crib.at("2026-03-03T07:30")
    assert "No person P99" in crib.fails("taken-without-issue", "G003", "P003", "--person", "P99", "--by", "P01")
    crib.does("taken-without-issue", "G003", "P003", "--person", "P06", "--on", "2026-03-02", "--by", "P01")
    assert crib.asks("show", "G003")["out"]["person"] == "P06"
    crib.does("return", "G003", "P003", "--by", "P01")
    assert crib.asks("show", "G003")["status"] == "on-hold"
    assert "cannot be released" in crib.fails("release", "G003", "--by", "P01")
    crib.does("log", "air-test", "G003", "left=passed", "right=passed", "inflation=1.2", "--by", "P06")
    crib.does("log", "inspection", "P003", "--by", "P06")
    crib.does("release", "G003", "P003", "--by", "P01")
    assert crib.asks("show", "G003")["status"] in ("ready", "due-soon")
    crib.does("verify")


def test_never_backwards_and_not_what_is_kept_for_another(quarry_lane: Crib) -> None:
    crib = quarry_lane
    checks(crib)
    days = ("--from", "2026-03-01", "--until", "2026-03-02")
    assert "is before today" in crib.fails("issue", *ASK[1:-1], *days, "--kit", *KIT, "--by", "P01")
    crib.does("reserve", "G001", "--person", "P05", "--from", "2026-03-02", "--until", "2026-03-04", "--by", "P01")
    days = ("--from", "2026-03-02", "--until", "2026-03-02")
    kept = crib.fails("issue", *ASK[1:-1], *days, "--kit", *KIT, "--by", "P01")
    assert "reserved for P05 from 2026-03-02 to 2026-03-04" in kept
    entry = next(one["entry"] for one in crib.asks("history", "G001") if one["content"].get("what") == "reservation")
    crib.does("correct", entry, "--reason", "P05 is ill", "--by", "P01")
    assert crib.asks("issue", *ASK[1:-1], *days, "--kit", *KIT, "--by", "P01")["decision"] == "may-be-issued"
    crib.does("verify")
