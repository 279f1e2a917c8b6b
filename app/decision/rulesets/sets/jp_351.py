"""Japan: Ordinance on Industrial Safety and Health, articles 351 and 352: six months, and a look each day.

Source: articles 348, 351 and 352. Kit has types and not classes, and no use voltage by class was seen, so the set can
say when a pair is due and never that it stands a voltage: nothing is issued under it on a DC traction battery.
"""

from __future__ import annotations

from app.decision.domain.limits import ClassTable, Clause, RuleSet, TestInterval
from app.decision.rulesets.class_tables import Columns, by_key
from app.decision.rulesets.covers import GLOVES

KEY = "jp-351"
EDITION = "Ordinance on Industrial Safety and Health, articles 351, 352"
_ARTICLE = "article 351"

SET = RuleSet(
    key=KEY,
    title="Japan, article 351",
    edition=EDITION,
    class_system="jp",
    covers={"rubber-gloves": GLOVES},
    intervals={"rubber-gloves": (TestInterval(6, 6, 6, _ARTICLE, "S", f"{KEY}/interval/rubber-gloves"),)},
    limits=by_key(KEY, [Columns(KEY, EDITION).limit("keep-record/years", 3, "years", _ARTICLE, "S")]),
    current_table="",
    tables={"rubber-gloves": ClassTable(())},
    clauses={
        "electrical-test-counts": Clause(_ARTICLE, "S"),
        "electrical-test-in-date": Clause(_ARTICLE, "S"),
        "no-open-event": Clause("article 352 (damage and dryness)", "S"),
    },
    notices=("set.no-dc-limits",),
)
