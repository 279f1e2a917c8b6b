"""China: GB/T 17622-2008, with class names of its own: class 0 is 380 V here, and there is no class 00.

Source: GB/T 17622-2008. AC only: no DC limits, so nothing is issued under it on a DC traction battery.
No retest voltage was seen, so a test judged by figures does not count under it.
"""

from __future__ import annotations

from app.decision.domain.limits import ClassTable, Clause, RuleSet, TestInterval
from app.decision.rulesets.class_tables import CURRENT_IEC, OWN_PROTECTION, WITHOUT_00, Columns, by_key
from app.decision.rulesets.covers import GLOVES

KEY = "gb-17622"
EDITION = "GB/T 17622-2008"
_USE = {"0": 380, "1": 3_000, "2": 10_000, "3": 20_000, "4": 35_000}
_PEN = Columns(KEY, EDITION)
_GLOVES = ("rubber-gloves", "composite-gloves")

SET = RuleSet(
    key=KEY,
    title="China, GB/T 17622-2008",
    edition=EDITION,
    class_system="gb",
    covers={"rubber-gloves": GLOVES, "composite-gloves": GLOVES},
    intervals={kind: (TestInterval(12, 6, 6, EDITION, "T", f"{KEY}/interval/{kind}"),) for kind in _GLOVES},
    limits=by_key(
        KEY,
        _PEN.volts("use/ac", _USE, EDITION, "S"),
        [_PEN.limit("composite-gloves/own-protection", 0, "statement", f"{EDITION}: {OWN_PROTECTION}", "M")],
        _PEN.currents({name: CURRENT_IEC[name] for name in WITHOUT_00}, f"{EDITION}, leakage current", "M", {"0": "S"}),
    ),
    current_table="gb",
    tables={kind: ClassTable(WITHOUT_00, current="length") for kind in _GLOVES},
    clauses={
        "class-known": Clause(EDITION, "S"),
        "insulation-class-stands-voltage": Clause(EDITION, "S"),
        "electrical-test-counts": Clause(EDITION, "T"),
        "electrical-test-in-date": Clause(EDITION, "T"),
    },
    speaks_of=("rubber-gloves", "composite-gloves"),
    longest_is_open=True,
    notices=("set.no-dc-limits",),
)
