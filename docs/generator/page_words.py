"""Words of the pages about rules that are no sentences."""

from __future__ import annotations

REPAIR_WORDS: dict[str, str] = {
    "patched": "patched", "liquid-compound": "blemish mended with liquid compound", "trimmed": "trimmed",
    "cut-shorter": "cut shorter",
}  # fmt: skip
RENEWAL_WORDS: dict[str, str] = {
    "by-date": "by a date: it stays met until its last good day", "each-day": "each day",
    "each-issue": "at each issue",
}  # fmt: skip
SITE_RULE_WORDS: dict[str, str] = {
    "tip_profile": "profile for bare tips and proving dead", "clearance_table": "table of cuff clearances",
    "figures_required": "a certificate must state its figures",
    "without_protectors_reading": "reading without protectors",
    "second_person_measure": "a second person when measuring",
    "dielectric_exempt_00_0": "classes 00 and 0 without electrical test",
    "margin_percent": "margin over the working voltage",
}  # fmt: skip
SITE_VALUE_WORDS: dict[str, str] = {
    "gs38": "GS38", "iec": "IEC", "cautious": "larger of two readings", "astm-f496": "ASTM F496", "True": "yes",
    "False": "no", "None": "no", "approved": "yes, approved by name", "stricter": "the stricter of two",
    "us-osha-137": "the US text alone",
}  # fmt: skip
SCOPE_WORDS: dict[str, str] = {"isolate": "isolate", "live": "live work"}
# What stands in a sentence where the figure or name of the day will stand.
PLACE_WORDS: dict[str, str] = {
    "subject": "piece", "since": "day", "why": "reason", "defects": "defects", "holder": "person", "hand": "hand",
    "piece": "piece", "measured": "measured", "required": "required", "set": "rule set", "system": "class system",
    "insulation_class": "class", "circuit": "circuit", "current": "AC or DC", "shortfall_v": "missing",
    "done_on": "day done", "due_on": "due day", "use_until": "last good day", "tested_on": "day of the test", "day": "day",
    "measured_ua": "measured", "limit_ua": "limit", "frequency_hz": "frequency", "lab": "laboratory",
    "figure": "figure", "measured_v": "measured", "required_v": "required", "measured_s": "seconds measured",
    "required_s": "seconds required", "limit_s": "seconds", "limit_v": "limit", "event": "event", "repair": "repair",
    "place": "place", "person": "person", "how": "how it was found", "past": "length", "parts": "parts",
    "member": "member of the chain", "category": "category", "leather": "leather", "kind": "kind of fuse", "what": "kind of kit",
    "instrument": "instrument", "roles": "roles", "task": "task", "origin": "where it is known from", "fewest": "fewest",
    "most": "most", "highest_v": "at most", "limit": "figure", "rated_v": "impulse",
    "marked_v": "marked", "advice_v": "left", "altitude_m": "altitude",
}  # fmt: skip
PLACE_FORMS: dict[str, str] = {"volts": "volts {0}", "milliamps": "mA {0}", "limit": "limit that decides"}
# Words of one rule that read better than the general ones: a circuit or a person is the subject there.
SUBJECT_WORDS: dict[str, str] = {
    "circuit-in-scope": "circuit", "data-agrees-with-reading": "circuit", "working-voltage-known": "circuit",
    "person-authorised": "person", "chain-complete": "chain", "chain-stands-voltage": "chain",
    "input-stands-voltage": "instrument",
}  # fmt: skip
