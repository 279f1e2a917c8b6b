"""One change of those that turn a refusal."""

from __future__ import annotations

from msgspec import Struct

from app.decision.domain.finding import Finding

# A whole kit put together in the morning: seven pieces, each with its checks.
MOST_CHANGES = 24


class Change(Struct, frozen=True):
    """One change. `change`: check, confirm, swap, add, remove; enter: only an entry helps; none: nothing does.

    `about` is the finding it is made for, where that is to be said; `other` the piece to take.
    """

    change: str
    subject: str
    key: str
    kind: str = ""
    other: str = ""
    about: Finding | None = None
