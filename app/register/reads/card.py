"""One piece with all that is shown of it."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from msgspec import Struct

from app.decision.domain.electrical_test import Judgement
from app.decision.domain.entries import Name
from app.decision.domain.finding import Finding
from app.decision.domain.piece import Piece
from app.decision.judging.answers import DueRow
from app.register.reads.given import Given
from app.register.reads.lines import Line
from app.register.reads.out import Out


class Card(Struct, frozen=True):
    """One piece as somebody looks at it: standing, where it is out, labels that mean it, everything entered.

    `given`: the decisions it went out by; `test`: its newest electrical test, judged; `holds`: all that holds it now.
    """

    piece: Piece
    row: DueRow
    out: Out | None
    labels: tuple[str, ...]
    lines: tuple[Line, ...]
    given: Mapping[Name, Given] = MappingProxyType({})
    test: Judgement | None = None
    holds: tuple[Finding, ...] = ()
