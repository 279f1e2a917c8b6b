"""Words of the pages about rules that are no sentences."""

from __future__ import annotations

FIGURE_WORDS: dict[str, str] = {
    "use/ac/*": "maximum use voltage AC, class {0}", "use/dc/*": "maximum use voltage DC, class {0}",
    "retest/ac/*": "retest voltage AC, class {0}", "retest/dc/*": "retest voltage DC, class {0}",
    "withstand/ac/*": "withstand voltage AC, class {0}", "current/*/*": "leakage current, class {0}, length {1} mm",
    "current/*": "leakage current, class {0}", "class-table": "that the class table holds",
    "own-protection": "that it is worn without protectors over it", "shelf-months": "the longer months of kit never issued",
    "bare/ac/*": "voltage AC without protectors, class {0}", "bare/dc/*": "voltage DC without protectors, class {0}",
    "test-dwell/most": "most time at voltage in a retest", "phase-to-earth": "that the voltage to earth may be taken, on the footnote's conditions",
    "repair-place": "where a glove may be mended", "trim-least": "side that must remain of a trimmed blanket",
    "dielectric-exempt/months": "air test that stands for the electrical test, classes 00 and 0: good for",
    "keep-record/years": "records kept for", "interval/*": "retest clock, {0}", "interval/*/*": "retest clock, {0}, {1} rubber",
    "test-dwell/in-service": "least time at voltage, in service", "test-dwell/acceptance": "least time at voltage, acceptance",
    "test-dwell/matting": "least time at voltage, acceptance of matting",
    "inflation/*": "air test, most blown up, Type {0}", "calibration-months": "calibration good for",
    "look-over-months": "yearly look-over good for",
    "derived-clearance-allowance": "taken off a cuff clearance worked out from lengths", "glove-size-step": "one glove size",
    "altitude-if-silent": "altitude taken where the maker says nothing", "tip/gs38": "most bare tip, GS38",
    "tip/gs38-preferred": "preferred bare tip, GS38", "tip/iec-III-IV": "most bare tip, IEC, CAT III and IV",
    "tip/iec-other": "most bare tip, IEC, other categories",
    "clearance/cautious/*": "cuff clearance, larger of two readings, class {0}",
    "clearance/astm-f496/*": "cuff clearance, ASTM F496, class {0}", "leather/general/least": "leather, least, classes 1 to 4",
    "leather/general/most": "leather, most, classes 1 to 4", "leather/*/least": "leather, least, class {0}",
    "leather/*/most": "leather, most, class {0}", "arc/least": "incident energy from which a face shield is asked",
    "arc/hood-above": "incident energy above which a hood is asked",
    "arc/no-live-work-above": "incident energy above which no live work is done",
}  # fmt: skip
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
