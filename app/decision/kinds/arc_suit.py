"""A suit against an electric arc: its rating, how often it was laundered, inspected once a year."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="arc-suit",
    role=None,
    fields=frozenset({"arc_rating_cal", "expires_on", "inspect_months", "laundered"}),
    names="arc suit | arc flash suit | arc flash coat | arc coat | arc jacket | arc coverall | flash suit",
)
