"""Germany: DGUV Regel 103-011, annex 4, on goods of the EN family: six months for gloves, twelve for clothing.

Source: DGUV Regel 103-011, annex 4. The periods are recommended ones; visual before every use. Sleeves are counted as
insulating clothing; of blankets and mats the rule was not seen to speak, so they keep the EN family's own.
"""

from __future__ import annotations

from app.decision.domain.limits import Clause, RuleSet, TestInterval
from app.decision.rulesets.class_tables import Columns, by_key
from app.decision.rulesets.covers import covers
from app.decision.rulesets.iec_tables import TABLES, clock, iec_limits, mat_clock

KEY = "de-dguv"
EDITION = "DGUV Regel 103-011, annex 4"
_GLOVES = TestInterval(6, 6, 6, EDITION, "P")
_SLEEVES = TestInterval(12, 12, 12, f"{EDITION}, insulating clothing (sleeves counted as such by house policy)", "S")
_BLANKETS = TestInterval(12, 12, 12, "IEC 61112, in-service advice", "M")

SET = RuleSet(
    key=KEY,
    title="Germany, DGUV 103-011",
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
    limits=by_key(KEY, iec_limits(Columns(KEY, EDITION), "EN 60903, leakage current")),
    current_table="iec",
    tables=TABLES,
    clauses={
        "electrical-test-counts": Clause(EDITION, "P"),
        "electrical-test-in-date": Clause(EDITION, "P"),
    },
    speaks_of=("rubber-gloves", "composite-gloves", "rubber-sleeves"),
    longest_is_open=True,
)
