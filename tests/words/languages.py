"""Catalogues of no language, to see what hangs on the words."""

from __future__ import annotations

import math

from app.words.catalogue import CATALOGUE

TAIL = " und noch ein paar Worte mehr, wie es andere Sprachen brauchen, die fuer dasselbe laengere Saetze haben" * 10
# How days and figures are written, and whose plurals are used, is no matter of length.
FORMS = ("locale", "form/day", "number.volts")


def longer(part: float = 0.4) -> dict[str, str]:
    """Every message with so much more letters, as another language may need."""
    return {
        key: text if key in FORMS else text + TAIL[: max(2, math.ceil(len(text) * part))]
        for key, text in CATALOGUE.texts().items()
    }
