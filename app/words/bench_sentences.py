"""Sentences of the window's bench place."""

from __future__ import annotations

SENTENCES: dict[str, str] = {
    "bench.question": "What was found on this piece?",
}
