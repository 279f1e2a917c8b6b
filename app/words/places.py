"""The places of the window by key, in the order of the rail. Plain, because the window paints before words are loaded."""

from __future__ import annotations

PLACES: dict[str, str] = {"counter": "Counter", "shelf": "Shelf", "bench": "Bench", "due": "Due"}
TITLE = "Cuffdate"
OPENING = "Opening ..."
