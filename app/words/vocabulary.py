"""The trade's words for the keys of the program, as the catalogue has them: "kind/rubber-gloves" and so on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from app.words.catalogue import CATALOGUE

TABLES = (
    "kind", "role", "task", "status", "origin", "supply", "repair", "event", "figure", "outcome", "current", "system",
    "letter", "rule", "clears", "defect", "reason", "result", "property", "fuse", "check-of-day", "place", "figure-of",
    "hand", "how", "due-of", "was-due-of", "field", "sort", "answer", "caps", "scope", "jack", "material",
    "unit-name", "colour",
)  # fmt: skip


class Words(Mapping[str, str]):
    """The words of one table, in the language in use."""

    def __init__(self, table: str) -> None:
        self._start = f"{table}/"

    def __getitem__(self, key: str) -> str:
        """The word; KeyError where there is none."""
        return str(CATALOGUE[self._start + key])

    def __iter__(self) -> Iterator[str]:
        """Every key, in the order of the catalogue."""
        return (key.removeprefix(self._start) for key in CATALOGUE if key.startswith(self._start))

    def __len__(self) -> int:
        """How many there are."""
        return sum(1 for _ in self)


EVERYTHING: Mapping[str, Words] = {table: Words(table) for table in TABLES}
KINDS, ROLES, TASKS = EVERYTHING["kind"], EVERYTHING["role"], EVERYTHING["task"]
STATUSES, ORIGINS, SUPPLIES = EVERYTHING["status"], EVERYTHING["origin"], EVERYTHING["supply"]
REPAIRS, EVENTS, FIGURES = EVERYTHING["repair"], EVERYTHING["event"], EVERYTHING["figure"]
OUTCOMES, CURRENTS, CLASS_SYSTEMS = EVERYTHING["outcome"], EVERYTHING["current"], EVERYTHING["system"]
CONFIDENCE, RULES, DEFECTS = EVERYTHING["letter"], EVERYTHING["rule"], EVERYTHING["defect"]
HOLD_REASONS, RESULTS = EVERYTHING["reason"], EVERYTHING["result"]
PROPERTIES, FUSES, CHECKS_OF_A_DAY = EVERYTHING["property"], EVERYTHING["fuse"], EVERYTHING["check-of-day"]
PLACES, FIELDS, UNIT_NAMES = EVERYTHING["place"], EVERYTHING["field"], EVERYTHING["unit-name"]
