"""Australia and New Zealand: AS/NZS IEC 60903:2020, as a test laboratory's notice quotes it.

Source: AS/NZS IEC 60903:2020. Tested within six months after issue, not issued unless tested within twelve months.
Figures by class are those of the IEC family; of mats no notice was seen, so they keep the IEC's own.
"""

from __future__ import annotations

from app.decision.domain.limits import Clause, RuleSet, TestInterval
from app.decision.rulesets.class_tables import Columns, by_key
from app.decision.rulesets.covers import covers
from app.decision.rulesets.iec_tables import TABLES, clock, iec_limits, mat_clock

KEY = "as-nzs"
EDITION = "AS/NZS IEC 60903:2020"
_GLOVES = TestInterval(12, 6, "capped", EDITION, "T")
_SLEEVES = TestInterval(12, 12, "capped", "IEC 60984, in-service advice", "M")
_BLANKETS = TestInterval(12, 12, "capped", "IEC 61112, in-service advice", "M")

SET = RuleSet(
    key=KEY,
    title="AS/NZS IEC 60903:2020",
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
        "insulation-class-stands-voltage": Clause(EDITION, "T"),
        "electrical-test-counts": Clause(EDITION, "T"),
        "electrical-test-in-date": Clause(EDITION, "T"),
    },
    speaks_of=("rubber-gloves", "composite-gloves"),
    longest_is_open=True,
)
