"""What the IEC and EN sets share: class, proof and current tables of IEC 60903 and its neighbours.

Sources: IEC 60903:2014, IEC 60984, IEC 61111, IEC 61112. Currents are from memory, so a test judged by figures waits
for a confirmation in print. No retest voltage for DC is printed: DC proof is only suggested at production. No clause on
repairs was seen.
"""

from __future__ import annotations

from msgspec.structs import replace

from app.decision.domain.limits import Limit, TestInterval
from app.decision.rulesets.class_tables import (
    CURRENT_IEC,
    IEC_TABLE,
    OWN_PROTECTION,
    PROOF_AC,
    USE_AC,
    USE_DC,
    WITHSTAND_AC,
    Columns,
    shared_tables,
)
from app.decision.rulesets.class_tables import WITHOUT_00 as MAT_CLASSES

MATS = "IEC 61111:2009, user guidance"
LEANING = {
    "rubber-sleeves": "IEC 60984: classes, volts and tests as of gloves",
    "insulating-blanket": "IEC 61112: classes, volts and tests as of gloves",
    "line-hose": "class table of line hose (ASTM D1050, or the standard marked on it): as of gloves",
    "insulating-cover": "class table of covers (ASTM D1049, or the standard marked on it): as of gloves",
}
_NO_DC = frozenset({"retest/dc"})
_COMMON = shared_tables(LEANING)
TABLES = {
    **{kind: replace(table, not_printed=table.not_printed | _NO_DC) for kind, table in _COMMON.items()},
    "insulating-matting": replace(
        _COMMON["insulating-matting"], prefix="insulating-matting/", not_printed=_NO_DC
    ),
}  # fmt: skip


def _without_00(table: dict[str, int]) -> dict[str, int]:
    return {name: table[name] for name in MAT_CLASSES}


def iec_limits(pen: Columns, current: str) -> list[Limit]:
    """Every figure of the IEC family under a set's own keys; `current`: where its leakage limits stand."""
    mats = "insulating-matting"
    return [
        *pen.volts("use/ac", USE_AC, IEC_TABLE, "S"),
        *pen.volts("use/dc", USE_DC, IEC_TABLE, "T"),
        *pen.volts("retest/ac", PROOF_AC, f"{IEC_TABLE}, proof voltage", "T"),
        *pen.volts("withstand/ac", WITHSTAND_AC, f"{IEC_TABLE}, withstand voltage, caution only", "T"),
        *pen.currents(CURRENT_IEC, current, "M", {}),
        *(pen.leaning(kind, words) for kind, words in LEANING.items()),
        pen.limit("composite-gloves/own-protection", 0, "statement", f"{pen.edition}: {OWN_PROTECTION}", "M"),
        *pen.footwear(),
        *pen.volts(f"{mats}/use/ac", _without_00(USE_AC), MATS, "T"),
        *pen.volts(f"{mats}/use/dc", _without_00(USE_DC), MATS, "M"),
        *pen.volts(f"{mats}/retest/ac", _without_00(PROOF_AC), f"{MATS}, proof voltage", "T"),
        *pen.volts(f"{mats}/withstand/ac", _without_00(WITHSTAND_AC), f"{MATS}, withstand voltage, caution only", "T"),
    ]


def clock(set_key: str, kind: str, interval: TestInterval) -> tuple[TestInterval, ...]:
    """One kind's clock under the set's permanent key."""
    return (replace(interval, key=f"{set_key}/interval/{kind}"),)


def mat_clock(set_key: str) -> tuple[TestInterval, ...]:
    """Mats of classes 1 to 4, twelve months, stored ones too; class 0 is looked at only (IEC 61111)."""
    asked = TestInterval(12, 12, 12, MATS, "T", classes=("1", "2", "3", "4"))
    return clock(set_key, "insulating-matting", asked)
