"""What keepers call a kind of kit -> the kind's key; the names stand with each kind.

The whole name must be understood: words for size, colour, class and the like are set aside, and what is left must be
a known name. So "glove bag" is no pair of gloves and a non-contact tester no two-pole detector.
"""

from __future__ import annotations

import difflib
import re
from functools import lru_cache

from app.decision.fields.word_tables import word_set
from app.decision.kinds import kinds
from app.intake.faults import CellFault, shown

_TOOLS = word_set("""
adjustable | bar | cable | combination | crimper | cross | cutter | drive | driver | ended | extension | flat |
hammer | handle | hex | key | kit | knife | long | nose | nut | nutdriver | open | plier | ratchet | ring | roll |
saw | screwdriver | set | side | slotted | snip | socket | spanner | star | stripper | t | tool | tweezer | wrench
""")
_TOOL_WORDS = frozenset({"vde", "insulated", "insulating", "iec60900", "1000v"})
_ASIDE = word_set("""
a | an | and | arc | astm | beige | black | blue | cat | cl | class | crib | cuff | cut | dielectric | digital |
duty | electrical | electrician | en | ev | green | hand | heavy | high | hv | i | iec | ii | iii | insulated |
insulating | insulation | iv | kit | left | long | lv | new | no | of | old | orange | pair | pc | pcs | pr | rated
| red | right | rms | s | set | short | size | spare | the | true | type | vde | voltage | white | workshop | yellow
""")
_CLASS = re.compile(r"\b(?:class|cls|cl)[\s.\-]*(00|[0-4])\b")
_MEASURES = re.compile(r"\b\d+(?:[.,/]\d+)?\s*(?:mm|cm|m|in|inch|v|kv|vac|vdc|a|ma|cal|hz|\")?(?=\s|$)")
_SPLIT = re.compile(r"[^a-z0-9.,\"/]+")


def class_in(text: str) -> str | None:
    """The insulation class that a description names, as in "HV gloves class 0"; None where it names none."""
    match = _CLASS.search(text.lower())
    return match[1] if match else None


def _stem(token: str) -> str:
    if token in ("pliers", "snips", "tweezers"):
        return token[:-1]
    return token[:-1] if len(token) > 3 and token.endswith("s") and not token.endswith("ss") else token


def _tokens(text: str) -> list[str]:
    plain = text.lower().replace("\u2019", "'").replace("'s", "").replace("-", " ")
    plain = _MEASURES.sub(" ", _CLASS.sub(" ", plain)) if not plain.strip().startswith("2 pole") else plain
    return [_stem(t.strip('.,"/')) for t in _SPLIT.split(plain) if t.strip('.,"/')]


_LOOKUP = {
    " ".join(_stem(t) for t in name.split()): kind.key
    for kind in kinds().values()
    for name in (*word_set(kind.names), kind.key.replace("-", " "))
}
_INSULATED_ONLY = frozenset(("tool", "tool kit", "toolkit", "tool roll", "tool set", "hand tool"))


def kind_of(text: str) -> str:
    """The kind that a keeper's name for a thing means. Raises CellFault naming the nearest kind."""
    kind = known_kind(text)
    if kind is None:
        raise CellFault("sheet.kind-unknown", {"found": shown(text), "expected": nearest(text)})
    return kind


@lru_cache(maxsize=4096)
def known_kind(text: str) -> str | None:
    """The kind that a keeper's name for a thing means, None where it means none."""
    tokens = _tokens(text)
    says_insulated = bool(_TOOL_WORDS & set(tokens)) or re.search(r"\b1000\s?v\b", text.lower()) is not None
    for name in _readings(tokens):
        kind = _LOOKUP.get(name)
        if kind and (kind != "insulated-tool" or says_insulated):
            return kind
    left = [t for t in tokens if t not in _ASIDE and t not in _TOOL_WORDS]
    if says_insulated and left and set(left) <= _TOOLS:
        return "insulated-tool"
    return None


def _readings(tokens: list[str]) -> list[str]:
    """The name as written, then without the words set aside, those at the ends first."""
    trimmed = list(tokens)
    while trimmed and trimmed[0] in _ASIDE:
        trimmed.pop(0)
    while trimmed and trimmed[-1] in _ASIDE:
        trimmed.pop()
    bare = [t for t in tokens if t not in _ASIDE]
    return [" ".join(tokens), " ".join(trimmed), " ".join(bare)]


def nearest(text: str) -> str:
    """The kind whose name is nearest to `text`, for the sentence that asks."""
    plain = " ".join(_tokens(text)) or text.lower()
    names = list(_LOOKUP)
    for word_ in (plain, *plain.split()):
        if close := difflib.get_close_matches(word_, names, n=1, cutoff=0.55):
            return _LOOKUP[close[0]]
    return max(kinds(), key=lambda kind: difflib.SequenceMatcher(None, plain, kind).ratio())
