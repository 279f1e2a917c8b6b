"""What a verification found."""

from __future__ import annotations

from typing import Any

from app.register.verify import Verified
from app.words.saying import say


def lines(found: Verified) -> list[str]:
    """Whole or damaged, every damage named, and the anchors somebody may have on paper."""
    anchors = [say("verify.book", {"book": book, "anchor": anchor}) for book, anchor in found.anchors.items()]
    if not found.damage:
        return [say("verify.whole", {"lines": found.lines, "books": len(found.anchors)}), *anchors]
    named = [say(one.key, {"table": one.table, "place": one.place}) for one in found.damage]
    return [say("verify.damaged", {"count": len(named)}), *named, *anchors, say("verify.next", {})]


def as_values(found: Verified) -> dict[str, Any]:
    """The same as plain values."""
    return {
        "whole": not found.damage,
        "lines": found.lines,
        "anchors": found.anchors,
        "damage": [
            {
                "table": one.table, "place": one.place, "key": one.key,
                "says": say(one.key, {"table": one.table, "place": one.place}),
            }
            for one in found.damage
        ],
    }  # fmt: skip
