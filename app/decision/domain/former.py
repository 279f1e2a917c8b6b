"""Names keys had before, as inputs and old entries still say them; outputs say today's."""

from __future__ import annotations

from collections.abc import Mapping

#: sorts of records
RECORDS: Mapping[str, str] = {"look-over": "inspection"}
#: keys of a record
FIELDS: Mapping[str, str] = {"harmless": "notes", "lab": "laboratory"}
#: rules, in expectations and in the proof of an old decision
RULES: Mapping[str, str] = {"looked-over": "inspected", "look-over-in-date": "inspection-in-date"}
#: parts of a decision as it was stored
ANSWER: Mapping[str, str] = {"cure": "changes"}
#: figures, where somebody names them
FIGURES: Mapping[str, str] = {"house/look-over-months": "house/inspection-months"}
#: statuses of a piece
STATUSES: Mapping[str, str] = {"check-due-today": "inspect-today", "held": "on-hold"}
#: commands and their words
COMMANDS: Mapping[str, str] = {"pair-anew": "make-pair", "work-out": "calculate", **RECORDS}
