"""The tables several sets share, each built anew under a set's own keys, clauses and edition.

Sources: 1910.137, IEC 60903, IEC 61111, EN 50321-1. A column that a text does not print itself keeps
the source it was seen in, so that the finding says so.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from msgspec.structs import replace

from app.decision.domain.errors import ProgramFault
from app.decision.domain.limits import ClassTable, Limit

Row = Mapping[str, tuple[int, str]]
Pen = Callable[[str, int, str, str, str], Limit]
CLASSES = ("00", "0", "1", "2", "3", "4")
WITHOUT_00 = CLASSES[1:]
# IEC 60903 says that composite gloves bring mechanical protection of their own; that nothing is worn over them is from
# memory, so it waits for a confirmation in print.
OWN_PROTECTION = "composite gloves are worn without protectors over them"
IEC_TABLE = "class table of the IEC 60903 family"
EN_BOOTS = "EN 50321-1:2018"
USE_AC = {"00": 500, "0": 1_000, "1": 7_500, "2": 17_000, "3": 26_500, "4": 36_000}
USE_DC = {"00": 750, "0": 1_500, "1": 11_250, "2": 25_500, "3": 39_750, "4": 54_000}
PROOF_AC = {"00": 2_500, "0": 5_000, "1": 10_000, "2": 20_000, "3": 30_000, "4": 40_000}
PROOF_DC = {"00": 10_000, "0": 20_000, "1": 40_000, "2": 50_000, "3": 60_000, "4": 70_000}
WITHSTAND_AC = {"00": 5_000, "0": 10_000, "1": 20_000, "2": 30_000, "3": 40_000, "4": 50_000}
# class -> length in mm -> mA at the table's frequency
CURRENT_US = {
    "00": {280: 8, 360: 12}, "0": {280: 8, 360: 12, 410: 14, 460: 16}, "1": {360: 14, 410: 16, 460: 18},
    "2": {360: 16, 410: 18, 460: 20}, "3": {360: 18, 410: 20, 460: 22}, "4": {410: 22, 460: 24},
}  # fmt: skip
CURRENT_IEC = {
    "00": {280: 12, 360: 14}, "0": {280: 12, 360: 14, 410: 16, 460: 18}, "1": {360: 16, 410: 18, 460: 20},
    "2": {360: 18, 410: 20, 460: 22}, "3": {360: 20, 410: 22, 460: 24}, "4": {410: 24, 460: 26},
}  # fmt: skip
_BOOTS_SILENT = frozenset({"use/dc/3", "use/dc/4", "retest/dc"})
# Boots; an overboot of class 0 or 1 may pass more, but the register does not tell the two apart.
CURRENT_BOOTS = {"00": 3, "0": 5, "1": 10, "2": 18, "3": 20, "4": 24}


class Columns:
    """Writes limits of one set: every key begins with the set's, every limit carries its edition."""

    def __init__(self, set_key: str, edition: str) -> None:
        self.set_key = set_key
        self.edition = edition

    def limit(self, key: str, value: int, unit: str, clause: str, confidence: str) -> Limit:
        """A figure of this text under its own key, with clause, letter A, B, S or M, and the edition read."""
        return Limit(f"{self.set_key}/{key}", value, unit, clause, confidence, self.edition)

    def volts(
        self, name: str, table: Mapping[str, int], clause: str, confidence: str, other: Mapping[str, str] | None = None
    ) -> list[Limit]:
        """A column of volts by class; `other`: the letter of classes that differ from `confidence`."""
        letters = other or {}
        return [
            self.limit(f"{name}/{class_key}", volts * 1000, "mV", clause, letters.get(class_key, confidence))
            for class_key, volts in table.items()
        ]

    def currents(
        self, table: Mapping[str, Mapping[int, int]], clause: str, confidence: str, other: Mapping[str, str]
    ) -> list[Limit]:
        """The AC currents by class and length, mA in, uA kept."""
        return [
            self.limit(f"current/{class_key}/{length}", ma * 1000, "uA", clause, other.get(class_key, confidence))
            for class_key, row in table.items()
            for length, ma in row.items()
        ]

    def leaning(self, kind: str, words: str) -> Limit:
        """That the shared class table holds for this kind: a statement, from memory, to be confirmed."""
        return self.limit(f"{kind}/class-table", 0, "statement", words, "M")

    def footwear(self) -> list[Limit]:
        """EN 50321-1: classes and volts (S), currents (T); DC up to class 2."""
        name = "dielectric-footwear"
        low_dc = {class_key: USE_DC[class_key] for class_key in ("00", "0", "1", "2")}
        return [
            *self.volts(f"{name}/use/ac", USE_AC, EN_BOOTS, "S"),
            *self.volts(f"{name}/use/dc", low_dc, EN_BOOTS, "S"),
            *self.volts(f"{name}/retest/ac", PROOF_AC, f"{EN_BOOTS}, proof voltage", "T"),
            *self.volts(f"{name}/withstand/ac", WITHSTAND_AC, f"{EN_BOOTS}, withstand voltage, caution only", "T"),
            *(
                self.limit(f"{name}/current/{class_key}", ma * 1000, "uA", f"{EN_BOOTS}, leakage current", "T")
                for class_key, ma in CURRENT_BOOTS.items()
            ),
        ]


def by_key(set_key: str, *parts: Iterable[Limit]) -> dict[str, Limit]:
    """Limits by the rest of their key. Raises ProgramFault for one that stands twice: the second would hide the first.

    >>> limit = Limit("s/use/ac/0", 1, "mV", "clause", "S")
    >>> list(by_key("s", [limit]))
    ['use/ac/0']
    """
    limits: dict[str, Limit] = {}
    for part in parts:
        for limit in part:
            name = limit.key.removeprefix(f"{set_key}/")
            if name in limits:
                raise ProgramFault("catalogue.limit-twice", thing=limit.key, name=set_key)
            limits[name] = limit
    return limits


def shared_tables(leaning: Iterable[str]) -> dict[str, ClassTable]:
    """How the kinds of the common class system read their figures; `leaning`: kinds whose table is from memory."""
    tables = {
        "rubber-gloves": ClassTable(CLASSES, current="length"),
        "composite-gloves": ClassTable(CLASSES, current="length"),
        "rubber-sleeves": ClassTable(WITHOUT_00),
        "insulating-blanket": ClassTable(WITHOUT_00),
        "line-hose": ClassTable(WITHOUT_00, not_printed=frozenset({"retest/dc"})),
        "insulating-cover": ClassTable(WITHOUT_00, not_printed=frozenset({"retest/dc"})),
        "insulating-matting": ClassTable(WITHOUT_00, not_printed=frozenset({"retest/dc"}), acceptance_dwell="matting"),
        "dielectric-footwear": ClassTable(
            CLASSES, prefix="dielectric-footwear/", current="class", not_printed=_BOOTS_SILENT
        ),
    }
    return {
        kind: replace(table, leans_on=f"{kind}/class-table") if kind in leaning else table
        for kind, table in tables.items()
    }
