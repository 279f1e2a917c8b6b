"""Record a refusal that somebody has seen on the screen; nothing is issued by it, whatever has changed meanwhile."""

from __future__ import annotations

from app.decision.domain.entries import Name
from app.decision.judging.answers import KitAnswer, KitQuestion
from app.usecases.desk import Desk
from app.usecases.issue_kit import decide


def record_refusal(desk: Desk, by: str, question: KitQuestion) -> tuple[KitAnswer, Name | None]:
    """Judge again and enter the refusal, once per person, kit and day until something changes.

    BadInput where the kit may be issued by now.
    """
    return decide(desk, by, question, may_issue=False)
