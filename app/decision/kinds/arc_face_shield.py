"""A face shield against an electric arc: as good as the weaker of fabric and window."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="arc-face-shield",
    role="face-shield",
    fields=frozenset({"arc_rating_cal", "hood", "balaclava", "fabric_rating_cal", "window_rating_cal"}),
)
