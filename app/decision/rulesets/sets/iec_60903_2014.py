"""IEC 60903:2014 with its neighbours for sleeves, blankets, mats and footwear.

Source: IEC 60903:2014. In-service advice is informative: six months in use, twelve in stock. The edition
no longer asks for a field for inspection dates and dropped the DC tests from its normative part.
"""

from __future__ import annotations

from app.decision.domain.limits import Clause, RuleSet, TestInterval
from app.decision.rulesets.class_tables import Columns, by_key
from app.decision.rulesets.covers import covers
from app.decision.rulesets.iec_tables import TABLES, clock, iec_limits, mat_clock

KEY = "iec-60903-2014"
EDITION = "IEC 60903:2014"
_GLOVES = TestInterval(
    12, 6, "capped", f"{EDITION}, in-service advice; that the first issue starts a period is inferred", "T"
)
_SLEEVES = TestInterval(12, 12, "capped", "IEC 60984, in-service advice", "M")
_BLANKETS = TestInterval(12, 12, "capped", "IEC 61112, in-service advice", "M")

SET = RuleSet(
    key=KEY,
    title="IEC 60903:2014",
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
    limits=by_key(KEY, iec_limits(Columns(KEY, EDITION), f"{EDITION}, leakage current")),
    current_table="iec",
    tables=TABLES,
    clauses={
        "insulation-class-stands-voltage": Clause(EDITION, "S"),
        "electrical-test-counts": Clause(f"{EDITION}, in-service advice", "T"),
        "electrical-test-in-date": Clause(f"{EDITION}, in-service advice", "T"),
    },
    speaks_of=("rubber-gloves", "composite-gloves"),
    longest_is_open=True,
)
