"""A face shield against an electric arc: as good as the weaker of fabric and window."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="arc-face-shield",
    role="face-shield",
    fields=frozenset({"arc_rating_cal", "hood", "balaclava", "fabric_rating_cal", "window_rating_cal"}),
    names="""
    face shield | faceshield | arc shield | arc face shield | visor | arc visor | arc flash visor | arc flash
    shield | arc flash face shield | arc hood | arc flash hood | face visor | arc rated face shield""",
)
