"""Sentences of the window's start place."""

from __future__ import annotations

SENTENCES: dict[str, str] = {}
