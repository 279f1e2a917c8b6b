"""29 CFR 1910.268(f), telecommunications, as adopted practice: intervals by material, no patched goods, own pair.

Sources: WAC 296-32-22550 as the state's copy, letter of 1984-10-04 for the range. Counted from the
test: from test or from issue is not stated. Without protectors only class 0 and below 250 V.
"""

from __future__ import annotations

from app.decision.domain.limits import Clause, Repairs, RuleSet, TestInterval
from app.decision.rulesets.class_tables import Columns, by_key
from app.decision.rulesets.covers import covers
from app.decision.rulesets.us_tables import TABLES, us_clauses, us_limits

KEY = "us-telecom-268"
EDITION = "1910.268(f); WAC 296-32-22550"
_CLAUSE = "WAC 296-32-22550"
# "Below 250 V" in whole millivolts.
_BELOW_250_V = 249_999
_BELOW = f"{_CLAUSE}, below 250 V; of what current is not stated"
_PEN = Columns(KEY, EDITION)
_GLOVES_AND_GOODS = ("rubber-gloves", "composite-gloves", "rubber-sleeves", "insulating-blanket")
_NO_PATCH = Repairs((), ("patched",))


def _clocks(kind: str) -> tuple[TestInterval, ...]:
    """The text gives its months by material; that they hold of other goods than gloves is from memory."""
    is_of_gloves = kind == "rubber-gloves"
    clause, letter = (_CLAUSE, "P") if is_of_gloves else (f"{_CLAUSE}, held of this kind as of gloves", "M")
    return (
        TestInterval(12, 9, 12, clause, letter, f"{KEY}/interval/{kind}/natural", material="natural"),
        TestInterval(18, 15, 18, clause, letter, f"{KEY}/interval/{kind}/synthetic", material="synthetic"),
    )


SET = RuleSet(
    key=KEY,
    title="US 1910.268 telecommunications (adopted practice)",
    edition=EDITION,
    class_system="iec",
    covers=covers(),
    intervals={kind: _clocks(kind) for kind in _GLOVES_AND_GOODS},
    limits=by_key(
        KEY,
        us_limits(
            _PEN,
            use="1910.137(c)(2)(i), Table I-4",
            retest="1910.137(c)(2)(viii), Table I-4",
            retest_dc="1910.137(c)(2)(viii), Table I-4",
            current="1910.137(a)(2)(ii), Table I-1",
        ),
        [
            _PEN.limit("bare/ac/0", _BELOW_250_V, "mV", _BELOW, "P"),
            _PEN.limit("bare/dc/0", _BELOW_250_V, "mV", _BELOW, "P"),
        ],
    ),
    current_table="us",
    tables=TABLES,
    clauses={
        **us_clauses(),
        "electrical-test-in-date": Clause(_CLAUSE, "P"),
        "repair-allowed": Clause(f"{_CLAUSE} (5)", "P"),
        "protectors-worn": Clause(_CLAUSE, "P"),
    },
    repairs=dict.fromkeys(covers(), _NO_PATCH),
    speaks_of=("rubber-gloves",),
    scales_with_frequency=True,
    bare_only=("0",),
    offers={"figures_required": (False,)},
)
