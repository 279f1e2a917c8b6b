"""Every finding a rule can come to: outcome, cause and remedy, and what it shows, each written down by hand.

Cause and remedy are read from the rules (sections 1 and 3 to 8) and from what the two lists are there for: what a
person can do about it is what puts it right, and another piece only where nothing can be done about this one.
"""

from __future__ import annotations

import ast
import inspect
from collections.abc import Iterator
from typing import Any, NamedTuple

import pytest

from app.decision.domain.finding import Finding
from app.decision.judging.catalogues import catalogues
from tests.build import (
    Table,
    air_test,
    answers,
    calibration,
    detector,
    electrical_test,
    event,
    gloves,
    look,
    plain,
    protectors,
    proving_unit,
    self_test,
)  # fmt: skip

RULES = catalogues().rules


class Question(NamedTuple):
    """What `answers` is asked with."""

    pieces: tuple[Table, ...]
    changes: dict[str, Any]


class Row(NamedTuple):
    """A finding: `why` is outcome and key (the rule's own name left out), `right` cause and remedy."""

    rule: str
    why: str
    right: str
    shows: str
    asked: Question


def of(*pieces: Table, **changes: Any) -> Question:
    return Question(pieces, changes)


SHORT = "falls-short another-piece"
UNKNOWN = "unknown state-property"
JOB = "unknown job-or-system"
PRINT = "not-seen-in-print confirm-figure"
FIGURES = {"evidence": "figures", "test_v": 20_000, "dwell_s": 60}
AC_FIGURES = {**FIGURES, "test_v": 5000, "kind_of_current": "ac"}
AC = {"supply": "ac-single-phase", "maker_max_v": 230}
UNDER_EN: Table = {
    "rule_sets": ["en-60903-2003"],
    "site": {"dielectric_exempt_00_0": {"approved_by": "P7", "reason": "x"}},
}
APPROVED = {
    "clearance_table": "astm-f496",
    "approvals": [{"key": "clearance_table", "approved_by": "P9", "reason": "x"}],
}
BARE = {"without_protectors": True, "dexterity_stated_by": "P9"}
NOMINAL = {"nominal_v": 355}
SHIELD = {"code": "S1", "kind": "arc-face-shield"}
METER = plain("M1", "multimeter", marks=[["III", 1000]])


def mended(**more: Any) -> Table:
    return gloves(records=[event("repaired", on="2025-12-01", **more)])


def blanket(*sides: int) -> Table:
    trimmed = event("repaired", on="2025-12-01", repair="trimmed", remaining_mm=list(sides))
    return plain("K1", "insulating-blanket", records=[trimmed])


ROWS = [
    Row("air-test-done", "met done", "", "measured required unit", of(gloves(records=[air_test(inflation=1.5)]))),
    Row("air-test-done", "not-met over-inflated", SHORT, "measured required unit",
        of(gloves(records=[air_test(inflation=1.51)]))),
    Row("air-test-done", "not-met defect", "defect another-piece", "defects",
        of(gloves(records=[air_test(inflation=1.2, defects=["hole"])]))),
    Row("air-test-done", "not-met one-hand", "not-done-today air-test", "",
        of(gloves(records=[air_test(inflation=1.2, right=None)]))),
    Row("air-test-done", "not-met not-today", "not-done-today air-test", "", of(gloves(records=[]))),
    Row("air-test-done", "cannot-tell inflation-unknown", "unknown air-test", "", of(gloves(records=[air_test()]))),
    Row("air-test-done", "cannot-tell type-unknown", UNKNOWN, "measured required unit",
        of(gloves(type=None, records=[air_test(inflation=1.3)]))),
    Row("altitude-within-mark", "met within", "", "measured required unit", of(detector())),
    Row("altitude-within-mark", "not-met above", SHORT, "measured required unit advice",
        of(detector(max_altitude_m=2000), site={"altitude_m": 3000})),
    Row("altitude-within-mark", "caution step-down-advice", "", "category marked_v rated_v advice_v altitude_m",
        of(detector(max_altitude_m=2000), site={"altitude_m": 3000})),
    Row("altitude-within-mark", "caution site-not-stated", "", "required unit", of(detector(), site={"altitude_m": None})),
    Row("arc-rating", "met not-asked", "", "", of(SHIELD)),
    Row("arc-rating", "caution energy-not-stated", "", "", of(SHIELD)),
    Row("arc-rating", "not-met no-shield", "missing-from-kit add-piece", "measured unit",
        of(job={"incident_energy_cal": 8.5})),
    Row("arc-rating", "cannot-tell unknown", UNKNOWN, "required unit", of(SHIELD, job={"incident_energy_cal": 8.5})),
    Row("arc-rating", "not-met short", SHORT, "measured required unit",
        of({**SHIELD, "arc_rating_cal": 8}, job={"incident_energy_cal": 8.5})),
    Row("arc-rating", "met reaches", "", "measured required unit",
        of({**SHIELD, "arc_rating_cal": 12, "hood": True}, job={"incident_energy_cal": 8.5})),
    Row("arc-rating", "not-met hood", SHORT, "measured required unit",
        of({**SHIELD, "arc_rating_cal": 20, "hood": False}, job={"incident_energy_cal": 12.5})),
    Row("arc-rating", "cannot-tell hood", UNKNOWN, "measured required unit",
        of({**SHIELD, "arc_rating_cal": 20}, job={"incident_energy_cal": 12.5})),
    Row("arc-rating", "not-met balaclava", SHORT, "measured required unit",
        of({**SHIELD, "arc_rating_cal": 12, "hood": False, "balaclava": False}, job={"incident_energy_cal": 8.5})),
    Row("arc-rating", "cannot-tell balaclava", UNKNOWN, "measured required unit",
        of({**SHIELD, "arc_rating_cal": 12}, job={"incident_energy_cal": 8.5})),
    Row("arc-rating", "caution beyond", "", "measured required unit",
        of({**SHIELD, "arc_rating_cal": 65, "hood": True}, job={"incident_energy_cal": 41})),
    Row("at-hand", "met here", "", "", of(gloves())),
    Row("at-hand", "not-met out", "out take-back", "since",
        of(gloves(records=[{"what": "issue", "on": "2026-03-01"}]))),
    Row("at-hand", "not-met elsewhere", "elsewhere take-back", "holder", of(gloves(custody="V7"))),
    Row("calibration-in-date", "met in-date", "", "until done_on due_on use_until",
        of({**METER, "records": [calibration()]})),
    Row("calibration-in-date", "caution due-soon", "", "done_on due_on use_until",
        of({**METER, "records": [calibration(on="2025-03-03")]})),
    Row("calibration-in-date", "not-met overdue", "run-out calibration",
        "measured required done_on due_on use_until", of({**METER, "records": [calibration(on="2025-03-02")]})),
    Row("calibration-in-date", "not-met failed", "failed calibration", "",
        of({**METER, "records": [calibration(), calibration(on="2026-02-01", result="failed")]})),
    Row("calibration-in-date", "not-met failed", "failed calibration", "",
        of({**METER, "records": [calibration(result="failed")]})),
    Row("calibration-in-date", "not-met none", "no-record calibration", "", of({**METER, "records": []})),
    Row("chain-complete", "met complete", "", "", of(detector())),
    Row("chain-complete", "not-met no-leads", "missing-from-kit add-piece", "", of(METER)),
    Row("chain-complete", "cannot-tell leads-unknown", UNKNOWN, "", of(detector(fixed_leads=None))),
    Row("chain-complete", "cannot-tell chain.say-which", UNKNOWN, "parts",
        of(METER, {**METER, "code": "M2"}, plain("W1", "test-leads"))),
    Row("chain-complete", "cannot-tell chain.leads-without-instrument", UNKNOWN, "parts",
        of(detector(), plain("W1", "test-leads"))),
    Row("chain-stands-voltage", "met reaches", "", "circuit category offers member measured required unit", of(detector())),
    Row("chain-stands-voltage", "not-met short", SHORT,
        "circuit category offers member shortfall_v measured required unit", of(detector(marks=[["III", 600]]))),
    Row("chain-stands-voltage", "not-met nothing", SHORT,
        "circuit category offers member shortfall_v measured required unit", of(detector(marks=[["II", 1000]]))),
    Row("chain-stands-voltage", "cannot-tell mark-unknown", UNKNOWN, "circuit category offers member required unit",
        of(detector(marks=None))),
    Row("chain-stands-voltage", "cannot-tell category-unknown", JOB, "circuit", of(detector(), circuit=AC)),
    Row("chain-stands-voltage", "cannot-tell stands.voltage-unknown", JOB, "circuit", of(detector(), circuit=NOMINAL)),
    Row("chain-stands-voltage", "cannot-tell chain.say-which", UNKNOWN, "parts",
        of(METER, {**METER, "code": "M2"}, plain("W1", "test-leads", marks=[["III", 1000]]))),
    Row("circuit-in-scope", "met class-a", "", "measured unit", of(circuit={"maker_max_v": 60})),
    Row("circuit-in-scope", "met class-b", "", "measured unit", of(circuit={"maker_max_v": 60.001})),
    Row("circuit-in-scope", "not-met above", "falls-short job-or-system", "measured unit supply",
        of(circuit={"maker_max_v": 1501})),
    Row("circuit-in-scope", "cannot-tell class-a-assumed", JOB, "measured unit",
        of(circuit={"cells": {"series": 14, "chemistry": "nmc"}})),
    Row("circuit-in-scope", "cannot-tell stands.voltage-unknown", JOB, "circuit", of(circuit=NOMINAL)),
    Row("class-known", "met known", "", "measured", of(gloves())),
    Row("class-known", "cannot-tell no-system", UNKNOWN, "", of(gloves(class_system=None))),
    Row("class-known", "cannot-tell other-system", UNKNOWN, "system set", of(gloves(class_system="jp"))),
    Row("class-known", "cannot-tell no-class", UNKNOWN, "", of(gloves(insulation_class=None))),
    Row("class-known", "cannot-tell not-in-table", UNKNOWN, "insulation_class",
        of({**gloves(insulation_class="00"), "kind": "rubber-sleeves"})),
    Row("class-known", "cannot-tell limit-not-seen-in-print", PRINT, "limit", of({**gloves(), "kind": "line-hose"})),
    Row("cuff-clearance", "met reaches", "", "how measured required unit", of(gloves(), protectors())),
    Row("cuff-clearance", "met no-protectors", "", "", of(gloves(), job={"without_protectors": True})),
    Row("cuff-clearance", "not-met short", SHORT, "how measured required unit", of(gloves(), protectors(length_mm=321))),
    Row("cuff-clearance", "not-met covered", SHORT, "how past measured required unit",
        of(gloves(), protectors(length_mm=346))),
    Row("cuff-clearance", "cannot-tell class-unknown", UNKNOWN, "", of(gloves(insulation_class=None), protectors())),
    Row("cuff-clearance", "cannot-tell not-measured", UNKNOWN, "required unit", of(gloves(length_mm=None), protectors())),
    Row("cuff-clearance", "cannot-tell limit-not-seen-in-print", PRINT, "limit how measured required unit",
        of(gloves(), protectors(length_mm=330), site=APPROVED)),
    Row("data-agrees-with-reading", "met agrees", "", "measured required unit",
        of(circuit={"maker_max_v": 800, "reading_v": 800})),
    Row("data-agrees-with-reading", "met no-reading", "", "", of(circuit={"maker_max_v": 800})),
    Row("data-agrees-with-reading", "cannot-tell contradicts", JOB, "measured required unit",
        of(circuit={"maker_max_v": 800, "reading_v": 801})),
    Row("electrical-test-counts", "met counts", "", "measured", of(gloves())),
    Row("electrical-test-counts", "met electrical-test.not-asked", "", "", of({**gloves(), "kind": "line-hose"})),
    Row("electrical-test-counts", "met electrical-test.exempted", "", "", of(gloves(records=[]), **UNDER_EN)),
    Row("electrical-test-counts", "not-met none", "no-record electrical-test", "", of(gloves(records=[]))),
    Row("electrical-test-counts", "not-met test.certificate-not-seen", "certificate-not-seen see-certificate", "day",
        of(gloves(records=[electrical_test(evidence="sheet-only")]))),
    Row("electrical-test-counts", "not-met test.dwell-short", "falls-short electrical-test",
        "day measured_s required_s", of(gloves(records=[electrical_test(**{**FIGURES, "dwell_s": 59})]))),
    Row("electrical-test-counts", "not-met test.no-day", "falls-short electrical-test", "day",
        of(gloves(records=[electrical_test(on=None)]))),
    Row("electrical-test-counts", "caution test.dwell-long", "", "measured_s limit_s",
        of(gloves(records=[electrical_test(**{**FIGURES, "dwell_s": 181})]))),
    Row("electrical-test-counts", "caution test.certificate-not-seen", "", "day",
        of(gloves(records=[electrical_test(), electrical_test(on="2026-02-01", evidence="sheet-only")]))),
    Row("electrical-test-counts", "cannot-tell limit-not-seen-in-print", PRINT, "limit",
        of({**gloves(records=[electrical_test(**AC_FIGURES)]), "kind": "rubber-sleeves"}, rule_sets=["iec-60903-2014"])),
    Row("electrical-test-in-date", "met in-date", "", "until measured required tested_on due_on why use_until", of(gloves())),
    Row("electrical-test-in-date", "caution due-soon", "", "tested_on due_on why use_until",
        of(gloves(records=[electrical_test(on="2025-09-03")]))),
    Row("electrical-test-in-date", "not-met overdue", "run-out electrical-test",
        "measured required tested_on due_on why use_until", of(gloves(records=[electrical_test(on="2025-09-02")]))),
    Row("electrical-test-in-date", "not-met failed", "failed electrical-test", "day",
        of(gloves(records=[electrical_test(result="failed")]))),
    Row("electrical-test-in-date", "not-met none", "no-record electrical-test", "", of(gloves(records=[]))),
    Row("electrical-test-in-date", "not-met none-counts", "no-record electrical-test", "",
        of(gloves(records=[electrical_test(evidence="sheet-only")]))),
    Row("electrical-test-in-date", "cannot-tell no-material", UNKNOWN, "",
        of(gloves(), rule_sets=["us-telecom-268"])),
    Row("electrical-test-in-date", "met electrical-test.not-asked", "", "", of({**gloves(), "kind": "line-hose"})),
    Row("electrical-test-in-date", "met exempt", "", "until done_on due_on use_until",
        of(gloves(records=[air_test(inflation=1.2)]), **UNDER_EN)),
    Row("electrical-test-in-date", "not-met exempt-unchecked", "no-record air-test", "required",
        of(gloves(records=[]), **UNDER_EN)),
    Row("electrical-test-in-date", "not-met exempt-overdue", "run-out air-test", "done_on due_on use_until",
        of(gloves(records=[air_test(on="2025-03-02", inflation=1.2)]), **UNDER_EN)),
    Row("electrical-test-in-date", "cannot-tell limit-not-seen-in-print", PRINT, "limit tested_on due_on why use_until",
        of({**gloves(), "kind": "rubber-sleeves"}, rule_sets=["en-60903-2003"])),
    Row("fuse-fit", "met none", "", "", of(detector())),
    Row("fuse-fit", "met fits", "", "circuit measured required unit",
        of(detector(fuse={"kind": "hbc", "v": 1000, "ac_only": False}))),
    Row("fuse-fit", "not-met kind", SHORT, "kind", of(detector(fuse={"kind": "glass"}))),
    Row("fuse-fit", "cannot-tell kind-unknown", UNKNOWN, "kind", of(detector(fuse={"v": 1000}))),
    Row("fuse-fit", "not-met ac-only", SHORT, "circuit", of(detector(fuse={"kind": "hbc", "v": 1000, "ac_only": True}))),
    Row("fuse-fit", "cannot-tell not-stated", UNKNOWN, "circuit required unit", of(detector(fuse={"kind": "hbc"}))),
    Row("fuse-fit", "not-met short", SHORT, "circuit shortfall_v measured required unit",
        of(detector(fuse={"kind": "hbc", "v": 600, "ac_only": False}))),
    Row("fuse-fit", "cannot-tell stands.voltage-unknown", JOB, "circuit",
        of(detector(fuse={"kind": "hbc", "v": 600, "ac_only": False}), circuit=NOMINAL)),
    Row("glove-fits-wearer", "met fits", "", "person measured required unit", of(gloves())),
    Row("glove-fits-wearer", "met near", "", "person measured required unit", of(gloves(size=11))),
    Row("glove-fits-wearer", "caution one-off", "", "person measured required unit", of(gloves(size=11))),
    Row("glove-fits-wearer", "not-met off", SHORT, "person measured required unit", of(gloves(size=11.5))),
    Row("glove-fits-wearer", "cannot-tell no-size", UNKNOWN, "person", of(gloves(size=None))),
    Row("glove-fits-wearer", "cannot-tell no-sizes", JOB, "person", of(gloves(), person={"glove_sizes": None})),
    Row("hands-belong-together", "met pair", "", "", of(gloves())),
    Row("hands-belong-together", "not-met single", SHORT, "hand", of(gloves(hand="left"))),
    Row("input-stands-voltage", "met reaches", "", "circuit current measured required unit", of(detector())),
    Row("input-stands-voltage", "not-met short", SHORT, "circuit current shortfall_v measured required unit",
        of(detector(max_input_dc_v=600))),
    Row("input-stands-voltage", "cannot-tell not-stated", UNKNOWN, "circuit current required unit",
        of(detector(max_input_dc_v=None), circuit={"supply": "earthed-dc", "category": "III", "maker_max_v": 400})),
    Row("input-stands-voltage", "cannot-tell stands.voltage-unknown", JOB, "circuit", of(detector(), circuit=NOMINAL)),
    Row("inspected", "met done", "", "", of(detector())),
    Row("inspected", "met by-air-test", "", "", of(gloves())),
    Row("inspected", "not-met not-today", "not-done-today inspection", "", of(detector(records=[]))),
    Row("inspected", "not-met defect", "defect another-piece", "defects", of(detector(records=[look(defects=["cut"])]))),
    Row("inspected", "not-met current-jack", "falls-short inspection", "", of({**METER, "records": [look(jack="current")]})),
    Row("inspection-in-date", "met in-date", "", "until done_on due_on use_until", of(plain("H1", "rescue-hook"))),
    Row("inspection-in-date", "caution due-soon", "", "done_on due_on use_until",
        of(plain("H1", "rescue-hook", records=[look(on="2025-03-03")]))),
    Row("inspection-in-date", "not-met none", "no-record inspection", "", of(plain("H1", "rescue-hook", records=[]))),
    Row("inspection-in-date", "not-met overdue", "run-out inspection", "measured required done_on due_on use_until",
        of(plain("H1", "rescue-hook", records=[look(on="2025-03-02")]))),
    Row("inspection-in-date", "met in-date", "", "done_on due_on use_until", of(plain("T1", "insulated-tool"))),
    Row("inspection-in-date", "met not-refused", "", "", of(plain("T1", "insulated-tool", records=[]))),
    Row("inspection-in-date", "caution none", "", "", of(plain("T1", "insulated-tool", records=[]))),
    Row("inspection-in-date", "caution overdue", "", "done_on due_on use_until",
        of(plain("T1", "insulated-tool", records=[look(on="2025-03-02")]))),
    Row("instrument-suits-task", "met detector", "", "", of(detector())),
    Row("instrument-suits-task", "caution threshold", "", "", of(detector(threshold_dc_v=61))),
    Row("instrument-suits-task", "met not-asked", "", "", of(METER, job={"task": "measure-only"})),
    Row("instrument-suits-task", "not-met other", SHORT, "what", of(plain("C1", "clamp-meter"))),
    Row("instrument-suits-task", "not-met multimeter", SHORT, "", of(METER)),
    Row("instrument-suits-task", "met multimeter-named", "", "",
        of(METER, circuit={"maker_max_v": 400, "maker_names_multimeter": True})),
    Row("instrument-suits-task", "caution multimeter", "", "",
        of(METER, circuit={"maker_max_v": 400, "maker_names_multimeter": True})),
    Row("insulation-class-stands-voltage", "met reaches", "",
        "circuit current insulation_class measured required unit", of(gloves())),
    Row("insulation-class-stands-voltage", "not-met short", SHORT,
        "circuit current insulation_class shortfall_v measured required unit", of(gloves(insulation_class="00"))),
    Row("insulation-class-stands-voltage", "cannot-tell class-unknown", UNKNOWN, "circuit required unit",
        of(gloves(insulation_class=None))),
    Row("insulation-class-stands-voltage", "cannot-tell no-limit", UNKNOWN, "current set circuit required unit",
        of({**gloves(insulation_class="3"), "kind": "dielectric-footwear"})),
    Row("insulation-class-stands-voltage", "caution no-dc-test", "", "", of(gloves(records=[]))),
    Row("insulation-class-stands-voltage", "not-met no-dc-test", "no-record electrical-test", "",
        of({**gloves(records=[]), "kind": "dielectric-footwear"})),
    Row("insulation-class-stands-voltage", "cannot-tell limit-not-seen-in-print", PRINT,
        "limit circuit current insulation_class measured required unit", of({**gloves(), "kind": "line-hose"})),
    Row("insulation-class-stands-voltage", "cannot-tell stands.voltage-unknown", JOB, "circuit",
        of(gloves(), circuit=NOMINAL)),
    Row("no-open-event", "met none", "", "", of(gloves())),
    Row("no-open-event", "not-met open", "on-hold electrical-test", "event day",
        of(gloves(records=[electrical_test(), event("dropped", on="2026-02-01")]))),
    Row("no-open-event", "not-met not-released", "on-hold release", "event day",
        of(detector(records=[event("dropped", on="2026-02-01")]))),
    Row("no-piece-twice", "met once", "", "", of()),
    Row("no-piece-twice", "not-met twice", "falls-short another-piece", "piece", of(detector(), detector())),
    Row("not-held", "met free", "", "", of(gloves())),
    Row("not-held", "not-met held", "on-hold release", "why since",
        of(detector(records=[{"what": "hold", "on": "2026-02-01", "why": "recall"}]))),
    Row("not-held", "not-met released-without-evidence", "on-hold release", "why since",
        of(detector(records=[{"what": "hold", "on": "2026-02-01", "why": "lead"},
                             {"what": "release", "on": "2026-02-02", "by": "P9"}]))),
    Row("not-held", "not-met defect", "defect release", "defects since", of(detector(records=[look(defects=["cut"])]))),
    Row("not-held", "not-met failed", "failed electrical-test", "why since",
        of(gloves(records=[electrical_test(result="failed")]))),
    Row("not-withdrawn", "met in-service", "", "", of(gloves())),
    Row("not-withdrawn", "not-met withdrawn", "withdrawn another-piece", "since",
        of(gloves(records=[{"what": "withdrawal", "on": "2026-02-01"}]))),
    Row("not-withdrawn", "not-met breakdown", "withdrawn another-piece", "",
        of(gloves(records=[electrical_test(breakdown=True)]))),
    Row("not-withdrawn", "not-met lost", "lost another-piece", "", of(gloves(lost=True))),
    Row("person-authorised", "met until", "", "until required person use_until", of()),
    Row("person-authorised", "met authorised", "", "required person", of(person={"valid_until": None}, level="finding")),
    Row("person-authorised", "cannot-tell nobody", JOB, "", of(person=None)),
    Row("person-authorised", "cannot-tell no-end", JOB, "person", of(person={"valid_until": None})),
    Row("person-authorised", "not-met scope", "falls-short job-or-system", "measured required person",
        of(person={"scopes": ["live"]})),
    Row("person-authorised", "not-met ended", "run-out job-or-system", "measured required person use_until",
        of(person={"valid_until": "2026-03-01"})),
    Row("place-dry", "met dry", "", "", of()),
    Row("place-dry", "not-met wet", "falls-short job-or-system", "place", of(job={"place": "wet"})),
    Row("protector-fits-class", "met fits", "", "measured required unit", of(protectors(leather_mm=0.8), gloves())),
    Row("protector-fits-class", "met fits", "", "measured", of(protectors(), gloves())),
    Row("protector-fits-class", "not-met thin", SHORT, "measured required unit", of(protectors(leather_mm=0.5), gloves())),
    Row("protector-fits-class", "not-met thick", SHORT, "measured required unit", of(protectors(leather_mm=1.3), gloves())),
    Row("protector-fits-class", "not-met leather-not-allowed", SHORT, "leather",
        of(protectors(leather="sheep", cut_for_class="1"), gloves(insulation_class="1"))),
    Row("protector-fits-class", "cannot-tell leather-unlisted", UNKNOWN, "leather",
        of(protectors(leather="snake"), gloves())),
    Row("protector-fits-class", "cannot-tell cut-unknown", UNKNOWN, "", of(protectors(cut_for_class=None), gloves())),
    Row("protector-fits-class", "not-met other-class", SHORT, "measured required",
        of(protectors(cut_for_class="1"), gloves())),
    Row("protector-fits-class", "cannot-tell glove-class-unknown", UNKNOWN, "",
        of(protectors(), gloves(insulation_class=None))),
    Row("protector-fits-class", "not-met too-few", "missing-from-kit add-piece", "insulation_class",
        of(protectors(), gloves(), gloves("G2"))),
    Row("protectors-worn", "met in-kit", "", "measured required", of(gloves(), protectors())),
    Row("protectors-worn", "not-met missing", "missing-from-kit add-piece", "measured required", of(gloves())),
    Row("protectors-worn", "met own-protection", "", "",
        of({**gloves(), "kind": "composite-gloves"}, rule_sets=["iec-60903-2014"], site={"confirmed_in_print": "all"})),
    Row("protectors-worn", "cannot-tell limit-not-seen-in-print", PRINT, "limit",
        of({**gloves(), "kind": "composite-gloves"}, rule_sets=["iec-60903-2014"])),
    Row("protectors-worn", "not-met dexterity-not-stated", "falls-short job-or-system", "",
        of(gloves(), job={"without_protectors": True})),
    Row("protectors-worn", "not-met damage-risk-not-stated", "falls-short job-or-system", "",
        of(gloves(insulation_class="1"), job=BARE)),
    Row("protectors-worn", "cannot-tell class-unknown", UNKNOWN, "", of(gloves(insulation_class=None), job=BARE)),
    Row("protectors-worn", "cannot-tell no-limit", UNKNOWN, "circuit required unit",
        of(gloves(insulation_class="00"), rule_sets=["us-telecom-268"], job=BARE)),
    Row("protectors-worn", "not-met bare-short", SHORT, "circuit measured required unit", of(gloves(), job=BARE)),
    Row("protectors-worn", "met bare-reaches", "", "circuit measured required unit",
        of(gloves(), job=BARE, circuit={"maker_max_v": 400})),
    Row("protectors-worn", "caution held-afterwards", "", "", of(gloves(), job=BARE)),
    Row("protectors-worn", "cannot-tell stands.voltage-unknown", JOB, "circuit", of(gloves(), job=BARE, circuit=NOMINAL)),
    Row("proving-unit-fits", "met fits", "", "current instrument measured required unit", of(proving_unit(), detector())),
    Row("proving-unit-fits", "met fits", "", "", of(proving_unit(), job={"circuits": []})),
    Row("proving-unit-fits", "not-met below-threshold", SHORT, "current instrument measured required unit",
        of(proving_unit(output_dc_v=12), detector())),
    Row("proving-unit-fits", "cannot-tell threshold-unknown", UNKNOWN, "current instrument measured unit",
        of(proving_unit(), detector(threshold_dc_v=None))),
    Row("proving-unit-fits", "not-met other-current", SHORT, "current", of(proving_unit(output_dc_v=None), detector())),
    Row("proving-unit-fits", "cannot-tell output-unknown", UNKNOWN, "current", of(plain("U1", "proving-unit"), detector())),
    Row("repair-allowed", "met none", "", "", of(gloves())),
    Row("repair-allowed", "met allowed", "", "repair place day",
        of(mended(repair="patched", place="cuff"), site={"confirmed_in_print": "all"})),
    Row("repair-allowed", "met allowed", "", "repair place day measured required unit", of(blanket(560, 560))),
    Row("repair-allowed", "not-met too-small", SHORT, "repair place day measured required unit", of(blanket(559, 560))),
    Row("repair-allowed", "cannot-tell size-unknown", UNKNOWN, "repair place day required unit", of(blanket(560))),
    Row("repair-allowed", "not-met not-there", SHORT, "repair place day", of(mended(repair="patched", place="palm"))),
    Row("repair-allowed", "not-met not-this-way", SHORT, "repair place day", of(mended(repair="trimmed", place="cuff"))),
    Row("repair-allowed", "cannot-tell unknown", UNKNOWN, "repair place day", of(mended(place="cuff"))),
    Row("repair-allowed", "cannot-tell no-clause", UNKNOWN, "repair place day set",
        of({**mended(repair="patched"), "kind": "dielectric-footwear"})),
    Row("repair-allowed", "cannot-tell limit-not-seen-in-print", PRINT, "limit repair place day",
        of(mended(repair="patched", place="cuff"))),
    Row("second-person-present", "met not-asked", "", "", of()),
    Row("second-person-present", "met present", "", "person", of(job={"task": "measure-only"}, second={"code": "P2"})),
    Row("second-person-present", "not-met missing", "missing-from-kit job-or-system", "task",
        of(job={"task": "measure-only"})),
    Row("second-person-present", "not-met same", "falls-short job-or-system", "person", of(second={"code": "P1"})),
    Row("second-person-present", "not-met no-own-gloves", "missing-from-kit add-piece", "person",
        of(gloves(), protectors(), job={"task": "work-in-open-live-pack"}, second={"code": "P2"})),
    Row("self-test-done", "met done", "", "", of(detector())),
    Row("self-test-done", "not-met not-today", "not-done-today self-test", "", of(detector(records=[]))),
    Row("self-test-done", "not-met failed", "failed another-piece", "", of(detector(records=[self_test(result="failed")]))),
    Row("task-roles-filled", "met filled", "", "task", of()),
    Row("task-roles-filled", "not-met missing", "missing-from-kit add-piece", "roles task", of(gloves(), protectors())),
    Row("task-roles-filled", "cannot-tell no-task", JOB, "", of(level="finding", job={"task": None})),
    Row("tip-exposure", "met short", "", "measured required unit", of(detector())),
    Row("tip-exposure", "met no-tip", "", "", of(METER)),
    Row("tip-exposure", "cannot-tell not-stated", UNKNOWN, "required unit", of(detector(tip_mm=None))),
    Row("tip-exposure", "not-met long", SHORT, "measured required unit", of(detector(tip_mm=4.5))),
    Row("tip-exposure", "caution over-preferred", "", "measured unit", of(detector(tip_mm=3))),
    Row("voltage-mark-stands-voltage", "met reaches", "", "circuit current measured required unit",
        of(plain("H1", "rescue-hook", voltage_mark={"dc_v": 1500}))),
    Row("voltage-mark-stands-voltage", "not-met short", SHORT, "circuit current shortfall_v measured required unit",
        of(plain("H1", "rescue-hook", voltage_mark={"dc_v": 750}))),
    Row("voltage-mark-stands-voltage", "cannot-tell no-mark", UNKNOWN, "circuit current required unit",
        of(plain("H1", "rescue-hook"))),
    Row("voltage-mark-stands-voltage", "cannot-tell stands.voltage-unknown", JOB, "circuit",
        of(plain("H1", "rescue-hook"), circuit=NOMINAL)),
    Row("working-voltage-known", "met known", "", "measured unit origin", of()),
    Row("working-voltage-known", "caution unknown-lithium", "", "",
        of(circuit={"cells": {"series": 100, "chemistry": "unknown-lithium"}})),
    Row("working-voltage-known", "cannot-tell nominal-only", JOB, "measured unit", of(circuit=NOMINAL)),
    Row("working-voltage-known", "cannot-tell reading-only", JOB, "measured unit", of(circuit={"reading_v": 300})),
    Row("working-voltage-known", "cannot-tell reading-range", JOB, "measured unit fewest most highest_v",
        of(circuit={"reading_v": 300, "cells": {"chemistry": "nmc", "max_v": 4.2}})),
    Row("working-voltage-known", "cannot-tell nothing", JOB, "", of(circuit={})),
]  # fmt: skip


@pytest.mark.parametrize("row", ROWS, ids=[f"{row.rule} {row.why}" for row in ROWS])
def test_a_finding_says_why_what_puts_it_right_and_its_figures(row: Row) -> None:
    outcome, _, key = row.why.partition(" ")
    findings = answers(RULES[row.rule], *row.asked.pieces, **row.asked.changes)
    (finding,) = [one for one in findings if (one.outcome.value, named(row.rule, one.key)) == (outcome, key)][:1]
    assert f"{finding.cause.value} {finding.remedy.value}" == (row.right or "none none")
    assert shown(finding) == set(row.shows.split())


def named(rule: str, key: str) -> str:
    return key.removeprefix(f"{rule}.")


def shown(finding: Finding) -> set[str]:
    """The names of what is not empty: figures, unit, last good day, values of the sentence."""
    figures = {"measured": finding.measured, "required": finding.required, "unit": finding.unit}
    days = {"until": finding.good_until}
    return {name for name, value in {**figures, **days}.items() if value is not None} | set(finding.values)


def keys_written(rule: str) -> Iterator[str]:
    """Every sentence's key that stands in the rule's file, by its end."""
    module = inspect.getmodule(RULES[rule].check)  # type: ignore[attr-defined]  # each shape of a rule has one
    assert module is not None
    for node in ast.walk(ast.parse(inspect.getsource(module))):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value.startswith(f"{rule}."):
            yield named(rule, node.value)


@pytest.mark.parametrize("rule", sorted(RULES))
def test_no_finding_of_a_rule_is_left_out(rule: str) -> None:
    tried = {row.why.partition(" ")[2] for row in ROWS if row.rule == rule}
    # Of a key put together only its beginning stands in the file.
    written = {key for key in keys_written(rule) if not key.endswith("-")}
    assert written <= tried
    assert tried
