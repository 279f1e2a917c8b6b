"""EN 60903:2003 with its neighbours: six months from the test, stored goods too.

Source: EN 60903:2003, annex E (two trade handouts). Annex E.5 lets classes 00 and 0 do with air and visual checks:
offered as a site rule with an approver, off as shipped. A pair with one doubtful glove is not used (E.2).
"""

from __future__ import annotations

from app.decision.domain.limits import Clause, RuleSet, TestInterval
from app.decision.rulesets.class_tables import Columns, by_key
from app.decision.rulesets.covers import covers
from app.decision.rulesets.iec_tables import TABLES, clock, iec_limits, mat_clock

KEY = "en-60903-2003"
EDITION = "EN 60903:2003"
_GLOVES = TestInterval(6, 6, 6, f"{EDITION}, annex E", "T")
_SLEEVES = TestInterval(12, 12, 12, "IEC 60984, in-service advice", "M")
_BLANKETS = TestInterval(12, 12, 12, "IEC 61112, in-service advice", "M")

SET = RuleSet(
    key=KEY,
    title="EN 60903:2003",
    edition=EDITION,
    class_system="iec",
    covers=covers(),
    intervals={
        "rubber-gloves": clock(KEY, "rubber-gloves", _GLOVES),
        "composite-gloves": clock(KEY, "composite-gloves", _GLOVES),
        "rubber-sleeves": clock(KEY, "rubber-sleeves", _SLEEVES),
        "insulating-blanket": clock(KEY, "insulating-blanket", _BLANKETS),
        "insulating-matting": mat_clock(KEY),
    },
    limits=by_key(
        KEY,
        iec_limits(Columns(KEY, EDITION), f"{EDITION}, leakage current"),
        [Columns(KEY, EDITION).limit("dielectric-exempt/months", 6, "months", f"{EDITION}, annex E.5", "T")],
    ),
    current_table="iec",
    tables=TABLES,
    clauses={
        "insulation-class-stands-voltage": Clause(EDITION, "S"),
        "electrical-test-counts": Clause(f"{EDITION}, annex E", "T"),
        "electrical-test-in-date": Clause(f"{EDITION}, annex E", "T"),
    },
    speaks_of=("rubber-gloves", "composite-gloves"),
    longest_is_open=True,
    offers={"dielectric_exempt_00_0": ("approved",)},
)
