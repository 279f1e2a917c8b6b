"""Figures of the tables of insulating goods, typed in again from the tables themselves, against rule set and house policy.

Confidence letters as there: P primary text, S secondary text, T trade handout, M from memory.
"""

from __future__ import annotations

from app.decision.domain.limits import Limit
from app.decision.rulesets.house import HOUSE_POLICY
from app.decision.rulesets.sets.us_osha_137 import SET

# T1. Columns: most use AC V, most use DC V, AC proof V (new), AC in-service retest V, DC proof and retest V,
# IEC AC proof V, IEC AC withstand V.
CLASSES = """
00    500    750   2500   2500  10000   2500   5000
0    1000   1500   5000   5000  20000   5000  10000
1    7500  11250  10000  10000  40000  10000  20000
2   17000  25500  20000  20000  50000  20000  30000
3   26500  39750  30000  30000  60000  30000  40000
4   36000  54000  40000  40000  70000  40000  50000
"""
AC_USE, DC_USE, AC_PROOF, AC_RETEST, DC_RETEST, IEC_PROOF, WITHSTAND = range(7)

# T2, 1910.137 Table I-1: highest current in mA at 60 Hz by glove length of 280, 360, 410 and 460 mm; "-" is not printed.
CURRENTS = """
00   8  12   -   -
0    8  12  14  16
1    -  14  16  18
2    -  16  18  20
3    -  18  20  22
4    -   -  22  24
"""
LENGTHS = (280, 360, 410, 460)

# T6. Columns: ASTM F496 in mm, the default to be shipped in mm.
CLEARANCES = """
00   13   25
0    13   25
1    25   25
2    51   51
3    76   76
4   102  102
"""

# Confidence by column of T1 and T2: the letter of class 00, of class 0, and of classes 1 to 4.
LETTERS = {
    "use/ac": "SSS",
    "use/dc": "TTT",
    "retest/ac": "MPP",
    "retest/dc": "MPP",
    "withstand/ac": "TTT",
    # Values of classes 1 to 4 are P, but which length each stands under is from memory.
    "current": "MPM",
}
# "Not listed" in the handbook, so the default of class 00 is nobody's text but house policy.
CLEARANCE_LETTERS = {"astm-f496": "MMM", "cautious": "HSS"}


def rows(table: str) -> dict[str, list[int | None]]:
    """Class -> figures."""
    found = {}
    for line in table.strip().splitlines():
        name, *figures = line.split()
        found[name] = [None if figure == "-" else int(figure) for figure in figures]
    return found


def letter(letters: str, name: str) -> str:
    return letters[min(("00", "0").index(name) if name in ("00", "0") else 2, 2)]


def under(limits: dict[str, Limit], start: str) -> dict[str, Limit]:
    """Every limit whose key begins so, by the rest of its key."""
    return {key.removeprefix(f"{start}/"): limit for key, limit in limits.items() if key.startswith(f"{start}/")}


def told(limits: dict[str, Limit]) -> dict[str, tuple[int, str, str]]:
    return {key: (limit.value, limit.unit, limit.confidence) for key, limit in limits.items()}


def test_the_tables_here_are_whole() -> None:
    assert [len(rows(table)) for table in (CLASSES, CURRENTS, CLEARANCES)] == [6, 6, 6]
    assert {len(row) for row in rows(CLASSES).values()} == {7}
    assert {len(row) for row in rows(CURRENTS).values()} == {4}


def test_the_tables_agree_with_what_is_said_beside_them() -> None:
    """DC use is 1.5 times AC; a retest equals the proof value; the US and the IEC family prove alike on AC."""
    for row in rows(CLASSES).values():
        ac, dc, proof, retest, iec = (row[column] for column in (AC_USE, DC_USE, AC_PROOF, AC_RETEST, IEC_PROOF))
        assert ac is not None
        assert dc == ac * 3 // 2
        assert proof == retest == iec


def test_t1_use_retest_and_withstand_volts() -> None:
    columns = {
        "use/ac": AC_USE, "use/dc": DC_USE, "retest/ac": AC_RETEST, "retest/dc": DC_RETEST, "withstand/ac": WITHSTAND,
    }  # fmt: skip
    for kind, column in columns.items():
        wanted = {
            name: ((row[column] or 0) * 1000, "mV", letter(LETTERS[kind], name)) for name, row in rows(CLASSES).items()
        }
        assert told(under(dict(SET.limits), kind)) == wanted, kind


def test_t2_currents_where_one_is_printed_and_nowhere_else() -> None:
    wanted = {}
    for name, row in rows(CURRENTS).items():
        for length, ma in zip(LENGTHS, row, strict=True):
            if ma is not None:
                wanted[f"{name}/{length}"] = (ma * 1000, "uA", letter(LETTERS["current"], name))
    assert len(wanted) == 17
    assert told(under(dict(SET.limits), "current")) == wanted


def test_t6_clearances() -> None:
    for column, table in enumerate(("astm-f496", "cautious")):
        wanted = {
            name: ((row[column] or 0) * 1000, "um", letter(CLEARANCE_LETTERS[table], name))
            for name, row in rows(CLEARANCES).items()
        }
        assert told(under(dict(HOUSE_POLICY.limits), f"clearance/{table}")) == wanted, table


def test_the_shipped_clearance_is_never_below_the_other() -> None:
    for name, (astm, shipped) in rows(CLEARANCES).items():
        assert astm is not None
        assert shipped is not None
        assert shipped >= astm, name


def test_t5_and_2_4_the_clock_of_gloves() -> None:
    (interval,) = SET.intervals["rubber-gloves"]
    assert (interval.never, interval.reused, interval.between, interval.confidence) == (12, 6, "capped", "S")


def test_no_other_figure_of_the_set_is_unaccounted_for() -> None:
    """What the set holds besides T1, T2 and T9: the upper dwell (T3), bare use of class 00 (T8), the side of a trimmed
    blanket (2.2), and statements that are no figures."""
    tables = ("use/", "retest/", "withstand/", "current/", "dielectric-footwear/")
    rest = {key: limit.value for key, limit in SET.limits.items() if not key.startswith(tables)}
    assert rest == {
        "test-dwell/most": 180,
        "bare/ac/00": 250_000,
        "bare/dc/00": 375_000,
        "phase-to-earth": 0,
        "repair-place": 0,
        "trim-least": 560,
        "line-hose/class-table": 0,
        "insulating-cover/class-table": 0,
        "insulating-matting/class-table": 0,
    }
