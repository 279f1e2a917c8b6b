"""Sentences of the window's due place."""

from __future__ import annotations

SENTENCES: dict[str, str] = {
    "due.question": "What needs doing, and by when?",
}
