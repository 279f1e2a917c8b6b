"""Washington State, WAC 296-45-255, electrical workers, as adopted practice: six months from the test, always.

Sources: WAC 296-307-38018, WAC 296-45-255. Rubber goods are not used unless tested within six months, so sleeves,
blankets, line hose and covers too; the tables are those of 1910.137, seen in another chapter of the same code. Of
repairs nothing was seen.
"""

from __future__ import annotations

from app.decision.domain.limits import Clause, RuleSet, TestInterval
from app.decision.rulesets.class_tables import Columns, by_key
from app.decision.rulesets.covers import covers
from app.decision.rulesets.us_tables import SPEAKS_OF, TABLES, us_bare, us_clauses, us_limits

KEY = "us-wa-electrical"
EDITION = "WAC 296-45-255"
_TABLES = "WAC 296-307-38018, Tables 1 to 4"
_PEN = Columns(KEY, EDITION)
_RUBBER = (
    "rubber-gloves", "composite-gloves", "rubber-sleeves", "insulating-blanket", "line-hose", "insulating-cover",
)  # fmt: skip

SET = RuleSet(
    key=KEY,
    title="US Washington State, electrical workers (adopted practice)",
    edition=EDITION,
    class_system="iec",
    covers=covers(),
    intervals={kind: (TestInterval(6, 6, 6, EDITION, "P", f"{KEY}/interval/{kind}"),) for kind in _RUBBER},
    limits=by_key(
        KEY,
        us_limits(
            _PEN,
            use="1910.137(c)(2)(i), Table I-4",
            retest=_TABLES,
            retest_dc=_TABLES,
            current=_TABLES,
        ),
        us_bare(_PEN),
    ),
    current_table="us",
    tables=TABLES,
    clauses={
        **{rule: clause for rule, clause in us_clauses().items() if rule != "repair-allowed"},
        "electrical-test-counts": Clause(EDITION, "P"),
        "electrical-test-in-date": Clause(EDITION, "P"),
        "air-test-done": Clause(f"{EDITION}, before each use; taken as each working day by house policy", "P"),
    },
    speaks_of=SPEAKS_OF,
    scales_with_frequency=True,
    offers={"figures_required": (False,)},
)
