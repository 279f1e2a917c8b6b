"""29 CFR 1910.137, in the text of 2014, as adopted practice: the shipped set.

Sources: 1910.137 and its letters. Work by qualified people on installations in vehicles is outside 1910.331 to
.335, so nothing of this is shown as what the law asks of them.
"""

from __future__ import annotations

from app.decision.domain.limits import RuleSet
from app.decision.rulesets.class_tables import Columns, by_key
from app.decision.rulesets.covers import covers
from app.decision.rulesets.us_tables import (
    REPAIRS,
    SPEAKS_OF,
    TABLES,
    us_bare,
    us_clauses,
    us_intervals,
    us_limits,
    us_repairs,
)

KEY = "us-osha-137"
EDITION = "1910.137, text of 2014"
_PEN = Columns(KEY, EDITION)

SET = RuleSet(
    key=KEY,
    title="US 1910.137 (adopted practice)",
    edition=EDITION,
    class_system="iec",
    covers=covers(),
    intervals=us_intervals(
        KEY, "1910.137(c)(2)(viii), Table I-5 and footnote; that the first issue starts a period is inferred", "S"
    ),
    limits=by_key(
        KEY,
        us_limits(
            _PEN,
            use="1910.137(c)(2)(i), Table I-4",
            retest="1910.137(c)(2)(viii), Table I-4",
            retest_dc="1910.137(c)(2)(viii), Table I-4",
            current="1910.137(a)(2)(ii), Table I-1",
        ),
        us_repairs(_PEN),
        us_bare(_PEN),
    ),
    current_table="us",
    tables=TABLES,
    clauses=us_clauses(),
    repairs=REPAIRS,
    speaks_of=SPEAKS_OF,
    scales_with_frequency=True,
    offers={"figures_required": (False,), "without_protectors_reading": (KEY,)},
)
