"""The trade's words for the keys of the program."""

from __future__ import annotations

KINDS: dict[str, str] = {
    "rubber-gloves": "rubber insulating gloves", "composite-gloves": "composite gloves",
    "leather-protectors": "leather protectors", "rubber-sleeves": "rubber sleeves",
    "insulating-blanket": "insulating blanket", "insulating-matting": "insulating matting",
    "dielectric-footwear": "dielectric footwear", "line-hose": "line hose", "insulating-cover": "insulating cover",
    "arc-face-shield": "arc face shield", "insulated-tool": "insulated tool", "torque-tool": "torque tool",
    "multimeter": "multimeter", "two-pole-detector": "two-pole voltage detector", "clamp-meter": "clamp meter",
    "insulation-tester": "insulation tester", "test-leads": "test leads", "tip-or-clip": "tip or clip",
    "proving-unit": "proving unit", "rescue-hook": "rescue hook", "barrier-set": "barrier set",
    "lock-off-set": "lock-off set",
}  # fmt: skip
ROLES: dict[str, str] = {
    "gloves": "insulating gloves", "protectors": "protectors", "chain": "an instrument with its leads",
    "proving-unit": "a proving unit", "barrier-set": "a barrier set", "lock-off": "a lock-off set",
    "insulated-tools": "insulated tools", "face-shield": "an arc face shield", "rescue-hook": "a rescue hook",
}  # fmt: skip
TASKS: dict[str, str] = {
    "isolate-and-prove-dead": "isolate and prove dead", "work-in-open-live-pack": "work in an open live pack",
    "measure-only": "measure only",
}  # fmt: skip
STANDINGS: dict[str, str] = {
    "ready": "ready", "check-due-today": "check due today", "due-soon": "due soon", "overdue": "overdue",
    "not-tested": "not tested", "certificate-not-seen": "certificate not seen", "cannot-tell": "cannot tell",
    "held": "held", "out": "out", "away": "away", "lost": "lost", "withdrawn": "withdrawn",
}  # fmt: skip
ORIGINS: dict[str, str] = {
    "cells": "from the cells", "plate": "from the data plate", "maker": "the maker's maximum",
    "boosted": "the boosted bus",
}  # fmt: skip
SUPPLIES: dict[str, str] = {
    "isolated-dc": "isolated DC", "earthed-dc": "earthed DC", "ac-single-phase": "AC, single phase",
    "ac-three-phase": "AC, three phases", "inverter-output": "inverter output",
}  # fmt: skip
# What decides a due day stands as key/months, so that no clock is given another's months.
LIMITS_THAT_DECIDE: dict[str, str] = {
    "from-test": "{months} months from the last test", "from-first-issue": "{months} months from the first issue",
    "from-test-issued-later": "{months} months from the last test, although issued later",
    "first-issue-unknown": "the first issue is not known, so {months} months from the last test",
    "never-issued": "never issued, so {months} months from the last test",
    "new-from-test": "{months} months from the test made when new",
    "maker-interval": "the maker's own interval, which is shorter: {months} months",
    "calibration": "{months} months from the calibration",
    "exempted": "exempted from the electrical test, so {months} months from the last air test",
    "look-over": "{months} months from the yearly look-over",
}  # fmt: skip


def limit_said(decides: str) -> str:
    """What decides a due day, in words; "" where nothing does.

    >>> limit_said("from-test/9")
    '9 months from the last test'
    """
    key, _, months = decides.partition("/")
    words = LIMITS_THAT_DECIDE.get(key, "").format(months=months)
    return words.replace("1 months", "1 month") if months == "1" else words


REPAIRS: dict[str, str] = {
    "patched": "patched", "liquid-compound": "mended with liquid compound", "trimmed": "trimmed",
    "cut-shorter": "cut shorter",
}  # fmt: skip
EVENTS: dict[str, str] = {
    "suspect": "found suspect", "repaired": "repaired", "patched": "patched",
    "used-without-protectors": "used without protectors", "dropped": "dropped", "wet": "wet",
}  # fmt: skip
FIGURES: dict[str, str] = {
    "test-voltage": "the test voltage", "dwell": "the time at voltage", "kind-of-current": "AC or DC",
    "frequency": "the frequency", "current-of-each-hand": "the current of each hand",
    "current-of-its-hand": "the current of its own hand",
}  # fmt: skip
DEFECTS: dict[str, str] = {
    "hole": "hole", "tear": "tear", "puncture": "puncture", "cut": "cut", "ozone-cutting": "ozone cutting",
    "embedded-object": "embedded object", "swelling": "swelling", "softening": "softening", "hardening": "hardening",
    "sticky": "sticky", "inelastic": "inelastic", "other": "other",
    "inner-colour-visible": "inner colour visible", "cracked": "cracked", "no-finger-guard": "no finger guard",
    "mark-worn": "mark worn", "loose-sleeve": "loose sleeve", "exposed-metal": "exposed metal", "damp": "damp",
    "dirty": "dirty",
}  # fmt: skip
OUTCOMES: dict[str, str] = {"met": "met", "not-met": "not met", "cannot-tell": "cannot tell", "caution": "caution"}
CURRENTS: dict[str, str] = {"dc": "DC", "ac": "AC"}
CLASS_SYSTEMS: dict[str, str] = {"iec": "IEC/ASTM", "gb": "GB", "jp": "JP"}
CONFIDENCE: dict[str, str] = {
    "P": "seen in the text, or in a law that copies it", "S": "seen in a secondary text", "T": "seen only in a trade handout",
    "M": "from memory, not seen in print", "H": "house policy", "D": "derived",
}  # fmt: skip
RULES: dict[str, str] = {
    "not-held": "Not held", "at-hand": "At hand", "not-withdrawn": "In service", "class-known": "Class known",
    "insulation-class-stands-voltage": "Class stands the voltage", "voltage-mark-stands-voltage": "Mark stands the voltage",
    "electrical-test-counts": "Electrical test counts", "electrical-test-in-date": "Electrical test in date",
    "no-open-event": "No open event", "air-test-done": "Air test today", "looked-over": "Looked over today",
    "protectors-worn": "Protectors worn", "protector-fits-class": "Protector fits the class",
    "cuff-clearance": "Cuff clearance", "glove-fits-wearer": "Gloves fit the wearer",
    "chain-stands-voltage": "Chain stands the voltage", "chain-complete": "Chain complete",
    "input-stands-voltage": "Input stands the voltage", "tip-exposure": "Tip exposure", "fuse-fit": "Fuse",
    "altitude-within-mark": "Altitude", "calibration-in-date": "Calibration in date",
    "self-test-done": "Self-test today", "proving-unit-fits": "Proving unit fits", "task-roles-filled": "Kit complete",
    "person-authorised": "Person authorised", "second-person-present": "Second person",
    "working-voltage-known": "Working voltage known", "circuit-in-scope": "Circuit in scope",
    "data-agrees-with-reading": "Data agree with the reading", "arc-rating": "Arc rating",
    "repair-allowed": "Repair allowed", "look-over-in-date": "Yearly look-over in date",
    "instrument-suits-task": "Instrument suits the task", "no-piece-twice": "No piece twice",
    "hands-belong-together": "Hands belong together", "place-dry": "Dry place",
}  # fmt: skip
HOLD_REASONS: dict[str, str] = {
    **EVENTS, "no-protectors": "used without protectors", "repair": "repaired", "failed": "a failed test",
    "defect": "a defect found", "lead": "a bad lead", "cap": "a bad cap", "mark": "a worn mark", "recall": "recalled",
    "clock-doubt": "the clock in doubt", "taken-without-issue": "taken without issue", "lost": "missing at a stocktake",
    "correction": "an entry corrected",
}  # fmt: skip
RESULTS: dict[str, str] = {"passed": "passed", "failed": "failed"}
# IEC 60903, letters of special properties (T). R is not a mechanical one, though one list of workwear counts it so.
PROPERTIES: dict[str, str] = {
    "A": "acid",
    "H": "oil",
    "Z": "ozone",
    "R": "acid, oil and ozone, not mechanical",
    "C": "very low temperature",
}
FUSES: dict[str, str] = {
    "hbc": "HBC", "hrc": "HRC", "glass": "glass", "blown": "blown", "unknown": "not known which",
}  # fmt: skip
CHECKS_OF_A_DAY: dict[str, str] = {
    "air-test-done": "air test",
    "looked-over": "look-over",
    "self-test-done": "self-test",
}
HOLDS_CLEARED_BY: dict[str, str] = {
    **dict.fromkeys(("suspect", "dropped", "wet", "no-protectors", "repair"), "a passing electrical test that names it"),
    **dict.fromkeys(("repaired", "patched", "used-without-protectors"), "a passing electrical test that names it"),
    "look": "a clean look-over after it, then a release",
    "failed": "a later passing electrical test", "recall": "an officer's release", "clock-doubt": "an officer's release",
    "defect": "for gloves a repair and the test that names it; for leads and meters the part replaced (entered with repair) and a clean look-over by somebody else",
    **dict.fromkeys(("lead", "cap", "mark"), "the part replaced (entered with repair), and a clean look-over by somebody else"),
    **dict.fromkeys(("taken-without-issue", "lost"), "a clean look-over (gloves: air test), then a release"),
    "correction": "a clean look-over (gloves: air test) and a release by somebody other than who made the correction",
}  # fmt: skip
EVERYTHING: dict[str, dict[str, str]] = {
    "kind": KINDS, "role": ROLES, "task": TASKS, "standing": STANDINGS, "origin": ORIGINS, "supply": SUPPLIES,
    "repair": REPAIRS, "event": EVENTS, "figure": FIGURES, "outcome": OUTCOMES, "current": CURRENTS,
    "system": CLASS_SYSTEMS, "letter": CONFIDENCE, "rule": RULES, "clears": HOLDS_CLEARED_BY, "defect": DEFECTS,
    "reason": HOLD_REASONS, "result": RESULTS,
}  # fmt: skip
