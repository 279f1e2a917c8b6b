"""Sentences of the window's shelf place."""

from __future__ import annotations

SENTENCES: dict[str, str] = {
    "shelf.question": "What is there, and may it be used?",
}
