"""An insulated hand tool, marked with the double triangle and its volts."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="insulated-tool",
    role="insulated-tools",
    fields=frozenset({"voltage_mark", "maker_interval_months"}),
    names="insulated tool | tool | tool kit | toolkit | tool roll | tool set | hand tool",
)
