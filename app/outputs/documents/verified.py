"""What a verification found."""

from __future__ import annotations

from typing import Any

from app.register.verify import Verified
from app.words.saying import say


def lines(verified: Verified) -> list[str]:
    """Whole or damaged, every damage named, and the anchors somebody may have on paper."""
    anchors = [say("verify.book", {"book": book, "anchor": anchor}) for book, anchor in verified.anchors.items()]
    if not verified.damage:
        return [say("verify.whole", {"count": verified.lines, "books": len(verified.anchors)}), *anchors]
    named = [say(damage.key, {"table": damage.table, "place": damage.place}) for damage in verified.damage]
    return [say("verify.damaged", {"count": len(named)}), *named, *anchors, say("verify.next", {})]


def as_values(verified: Verified) -> dict[str, Any]:
    """The same as plain values."""
    return {
        "whole": not verified.damage,
        "lines": verified.lines,
        "anchors": verified.anchors,
        "damage": [
            {
                "table": damage.table, "place": damage.place, "key": damage.key,
                "says": say(damage.key, {"table": damage.table, "place": damage.place}),
            }
            for damage in verified.damage
        ],
    }  # fmt: skip
