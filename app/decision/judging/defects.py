"""Which defects of the list can be found on which sort of kit, so that nobody has to read past the rest.

Nothing is decided here: any defect holds the piece, whatever it is found on. Source: the fixed list of the air test and
what is looked for on leads (house policy; 1910.137(c)(2)(ii), (iii) for rubber goods).
"""

from __future__ import annotations

from app.decision.domain.declarations import Kind

_RUBBER = (
    "hole", "tear", "puncture", "cut", "ozone-cutting", "embedded-object", "swelling", "softening", "hardening",
    "sticky", "inelastic", "other",
)  # fmt: skip
_LEADS = (
    "inner-colour-visible", "cracked", "no-finger-guard", "mark-worn", "exposed-metal", "loose-sleeve", "cut", "damp",
    "dirty", "other",
)  # fmt: skip
_OTHERS = (
    "hole", "tear", "puncture", "cut", "embedded-object", "cracked", "mark-worn", "loose-sleeve", "exposed-metal",
    "hardening", "damp", "dirty", "other",
)  # fmt: skip


def of_air_test() -> tuple[str, ...]:
    """The fixed list of the air test."""
    return _RUBBER


def of_inspection(kind: Kind) -> tuple[str, ...]:
    """What can be found at an inspection of this kind, the likeliest first."""
    if kind.is_classed:
        return (*_RUBBER[:-1], "damp", "dirty", "other")
    return _LEADS if kind.is_instrument or kind.is_chain_part or kind.has_self_test else _OTHERS
