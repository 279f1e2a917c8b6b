"""One change of a cure."""

from __future__ import annotations

from msgspec import Struct

from app.decision.domain.finding import Finding

MOST_CHANGES = 12


class Change(Struct, frozen=True):
    """One change. `change`: check, confirm, swap, add, remove, or none where nothing of kit or checks helps.

    `about` is the finding a "none" speaks of; `other` the piece to take.
    """

    change: str
    subject: str
    key: str
    kind: str = ""
    other: str = ""
    about: Finding | None = None
