"""Which rules a set asks of which kind: the same demands under every set, so that they stand once."""

from __future__ import annotations

GOODS = (
    "class-known",
    "insulation-class-stands-voltage",
    "electrical-test-counts",
    "electrical-test-in-date",
    "no-open-event",
    "repair-allowed",
)
GLOVES = (*GOODS, "air-test-done", "protectors-worn")
OTHER_GOODS = (
    "rubber-sleeves",
    "insulating-blanket",
    "line-hose",
    "insulating-cover",
    "insulating-matting",
    "dielectric-footwear",
)


def covers() -> dict[str, tuple[str, ...]]:
    """Kind -> rules for a set of the common class system."""
    return {"rubber-gloves": GLOVES, "composite-gloves": GLOVES, **dict.fromkeys(OTHER_GOODS, GOODS)}
