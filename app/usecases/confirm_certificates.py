"""Confirm in one act that the certificates of a named list of pieces were seen."""

from __future__ import annotations

from collections.abc import Collection

from app.decision.domain.entries import CertificateSeen
from app.decision.domain.errors import BadInput
from app.decision.domain.record import ElectricalTest
from app.decision.judging.answers import Saved
from app.usecases.books import of_pieces
from app.usecases.desk import Desk
from app.usecases.entering import enter, on_day, several


def confirm_certificates(desk: Desk, by: str, codes: Collection[str]) -> Saved:
    """Everything entered so far about their tests counts as seen; BadInput for a piece without a test."""
    with desk.write(by, books=of_pieces(codes)) as unit:
        for kept in several(unit, codes):
            if not any(isinstance(record, ElectricalTest) for record in kept.piece.records):
                raise BadInput("confirm.no-test", thing=kept.piece.code)
            enter(unit, kept, on_day(desk, CertificateSeen()))
        return Saved(tuple(unit.names))
