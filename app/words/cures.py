"""Sentences of cures: the least change of kit or checks that turns a refusal into an issue."""

from __future__ import annotations

SENTENCES: dict[str, str] = {
    "cure.air-test": "Air-test {piece}: each hand, right side out and turned, and look it over.",
    "cure.look-over": "Look {piece} over today.",
    "cure.look-over-caps": "Look {piece} over today, its tip caps too, and enter that they are present and fit.",
    "cure.self-test": "Run the self-test of {piece} today.",
    "cure.certificate": "Look at the certificate of {piece} and confirm that it was seen.",
    "cure.swap": "Take {other} ({kind:kind}) instead of {piece}.",
    "cure.add": "Add {other} ({kind:kind}).",
    "cure.remove": "Leave {piece} out.",
    "cure.outside": "No change of kit or checks cures this: {says}",
    "cure.nothing-on-shelf": "Nothing on this shelf puts this right: {says}",
    "cure.take-back": "{piece} is out by the entries: take it back, then check it again.",
    "cure.not-found": "No change of at most {most} pieces and checks from this shelf was found.",
}
