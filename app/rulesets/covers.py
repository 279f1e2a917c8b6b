"""Which rules a set asks of which kind: the same demands under every set, so that they stand once.

Composite gloves bring their own mechanical protection (facts T10): whether protectors are asked over them is the set's
to say.
"""

from __future__ import annotations

GOODS = (
    "class-known",
    "insulation-class-stands-voltage",
    "electrical-test-counts",
    "electrical-test-in-date",
    "no-open-event",
    "repair-allowed",
)
BARE_GLOVES = (*GOODS, "air-test-done")
GLOVES = (*BARE_GLOVES, "protectors-worn")
OTHER_GOODS = (
    "rubber-sleeves",
    "insulating-blanket",
    "line-hose",
    "insulating-cover",
    "insulating-matting",
    "dielectric-footwear",
)


def covers(*, protectors_over_composite: bool) -> dict[str, tuple[str, ...]]:
    """Kind -> rules for a set of the common class system."""
    composite = GLOVES if protectors_over_composite else BARE_GLOVES
    return {"rubber-gloves": GLOVES, "composite-gloves": composite, **dict.fromkeys(OTHER_GOODS, GOODS)}
