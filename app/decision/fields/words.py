"""The words of the format: everything a key may say, whether the program judges it yet or not."""

from __future__ import annotations

CLASSES = ("00", "0", "1", "2", "3", "4")
CLASS_SYSTEMS = ("iec", "gb", "jp")
CATEGORIES = ("II", "III", "IV", "I", "O")
RULE_SETS = (
    "us-osha-137", "us-nfpa-70e", "us-telecom-268", "us-wa-electrical", "iec-60903-2014", "en-60903-2003", "de-dguv",
    "as-nzs", "jp-351", "gb-17622",
)  # fmt: skip
SCOPES = ("isolate", "live")
ROLES = ("keeper", "technician", "officer")
CHEMISTRIES = ("nmc", "nca", "lco", "lmo", "lfp", "lto", "nimh", "lead-acid", "unknown-lithium")
EVENTS = ("suspect", "repaired", "patched", "used-without-protectors", "dropped", "wet")
EVIDENCE = ("figures", "stated-pass", "sheet-only")
DEFECTS = (
    "hole", "tear", "puncture", "cut", "ozone-cutting", "embedded-object", "swelling", "softening", "hardening",
    "sticky", "inelastic", "other", "inner-colour-visible", "cracked", "no-finger-guard", "mark-worn", "loose-sleeve",
    "exposed-metal", "damp", "dirty",
)  # fmt: skip
RULES = (
    "not-held", "at-hand", "not-withdrawn", "class-known", "insulation-class-stands-voltage",
    "voltage-mark-stands-voltage", "electrical-test-counts", "electrical-test-in-date", "no-open-event",
    "air-test-done", "inspected", "protectors-worn", "protector-fits-class", "cuff-clearance", "glove-fits-wearer",
    "chain-stands-voltage", "chain-complete", "input-stands-voltage", "tip-exposure", "fuse-fit",
    "altitude-within-mark", "calibration-in-date", "self-test-done", "proving-unit-fits", "task-roles-filled",
    "person-authorised", "second-person-present", "working-voltage-known", "circuit-in-scope",
    "data-agrees-with-reading", "arc-rating", "repair-allowed", "inspection-in-date", "instrument-suits-task",
    "no-piece-twice", "hands-belong-together", "place-dry",
)  # fmt: skip
CALCULATIONS = (
    "retest-due", "impulse-v", "chain-offers", "working-voltage", "required-voltage", "altitude-factor",
    "clearance-step-down", "leakage-limit-ma", "class-limit-v", "retest-test-v", "inverter-rms", "voltage-class",
    "isolation-ohm", "bond-ok", "arc-energy", "arc-boundary", "arc-category", "clearance-mm", "keep-record-until",
)  # fmt: skip
CONFIDENCE = ("P", "S", "T", "M", "D", "H")
LEVELS = ("calculation", "finding", "decision", "entry")
