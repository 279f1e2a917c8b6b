"""A rescue hook to pull somebody clear; no product standard for low voltage was found, so its own mark is asked."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="rescue-hook",
    role="rescue-hook",
    fields=frozenset({"voltage_mark", "maker_interval_months"}),
    names="rescue hook | hook | rescue stick | rescue pole | body hook",
)
