"""What would clear a hold for a reason, by the kinds of what is held. Nothing is read and nothing written."""

from __future__ import annotations

from collections.abc import Iterable

from app.decision.judging.catalogues import catalogues
from app.decision.rules.not_held import cleared_by


def what_clears(why: str, kinds: Iterable[str]) -> tuple[str, ...]:
    """The words under which stands what clears it, each once; kinds not judged yet have none."""
    known = catalogues().kinds
    words = {cleared_by(why, is_classed=known[kind].is_classed): None for kind in kinds if kind in known}
    return tuple(words)
