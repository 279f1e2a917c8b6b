"""Catalogues of no language, to see what hangs on the words."""

from __future__ import annotations

import math
import re

from app.words.catalogue import CATALOGUE, Message

TAIL = " und noch ein paar Worte mehr, wie es andere Sprachen brauchen, die fuer dasselbe laengere Saetze haben" * 10
# How days and figures are written, and whose plurals are used, is no matter of length.
FORMS = ("locale", "form/day", "form/month", "number.volts")
# A letter of its own for each, so that what is still written in plain ones did not come from the catalogue.
_PLAIN = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
_MARKED = "áƀćđéƒǵĥíĵķĺḿńóṕɋŕśťúṽẃẍýžÁƁĆĐÉƑǴĤÍĴĶĹḾŃÓṔɊŔŚŤÚṼẂẌÝŽ"
_LETTERS = str.maketrans(_PLAIN, _MARKED)
# A value's place, a brace that is meant, and the pattern of a file dialog are no words.
_KEPT = re.compile(r"(\{\{|\}\}|\{[^{}]*\}|\(\*[^)]*\))")


def longer(part: float = 0.4) -> dict[str, str]:
    """Every message with so much more letters, as another language may need."""
    return {
        key: text if key in FORMS else text + TAIL[: max(2, math.ceil(len(text) * part))]
        for key, text in CATALOGUE.texts().items()
    }


def marked(text: str) -> str:
    """The text in letters no English word has, its values in their places."""
    return "".join(part if _KEPT.fullmatch(part) else part.translate(_LETTERS) for part in _KEPT.split(text))


def pseudo() -> dict[str, Message]:
    """The whole catalogue in letters of its own, with the numbers, lists and months of Greek."""
    own = {
        key: marked(message) if isinstance(message, str) else {count: marked(text) for count, text in message.items()}
        for key, message in CATALOGUE.items()
    }
    return {**own, "locale": "el", "form/day": "d MMMM y", "form/month": "LLLL y"}
