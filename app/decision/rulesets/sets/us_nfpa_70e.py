"""NFPA 70E, 130.7(C)(7), as adopted practice: the clocks of 1910.137, stricter without protectors.

Source: NFPA 70E, 130.7(C)(7). Only new kit gets the twelve months - a footnote from memory, so until it is confirmed
kit never issued lasts as long as kit in use - and kit once issued is never new again. The letter of the table changes
by edition and is not named. Test voltages and currents are those printed in 1910.137. Of repairs nothing was seen.
"""

from __future__ import annotations

from app.decision.domain.limits import Clause, RuleSet
from app.decision.rulesets.class_tables import Columns, by_key
from app.decision.rulesets.covers import covers
from app.decision.rulesets.us_tables import SPEAKS_OF, TABLES, us_clauses, us_intervals, us_limits

KEY = "us-nfpa-70e"
EDITION = "NFPA 70E, editions from 2018"
_CLAUSE = "NFPA 70E, 130.7(C)(7)"
_PEN = Columns(KEY, EDITION)

SET = RuleSet(
    key=KEY,
    title="US NFPA 70E (adopted practice)",
    edition=EDITION,
    class_system="iec",
    covers=covers(),
    intervals=us_intervals(KEY, f"{_CLAUSE}, test intervals", "S", shelf="shelf-months"),
    limits=by_key(
        KEY,
        us_limits(
            _PEN,
            use=f"{_CLAUSE}, maximum use voltage",
            retest="1910.137(c)(2)(viii), Table I-4",
            retest_dc="1910.137(c)(2)(viii), Table I-4",
            current="1910.137(a)(2)(ii), Table I-1",
        ),
        [
            _PEN.limit("bare/ac/00", 250_000, "mV", _CLAUSE, "S"),
            _PEN.limit("shelf-months", 0, "statement", f"{_CLAUSE}, footnote: twelve months for new kit alone", "M"),
        ],
    ),
    current_table="us",
    tables=TABLES,
    clauses={
        **{rule: clause for rule, clause in us_clauses().items() if rule != "repair-allowed"},
        "insulation-class-stands-voltage": Clause(_CLAUSE, "S"),
        "electrical-test-in-date": Clause(_CLAUSE, "S"),
        "protectors-worn": Clause(_CLAUSE, "S"),
    },
    speaks_of=SPEAKS_OF,
    scales_with_frequency=True,
    offers={"figures_required": (False,)},
)
