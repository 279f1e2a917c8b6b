r"""Figures and days as the pictures write them.

>>> volts(914_760)
'914.76\xa0V'
>>> volts(25_500_000)
'25,500\xa0V'
>>> volts(41_760)
'41.76\xa0V'
"""

from __future__ import annotations

from collections.abc import Mapping

from app.words.picture_sentences import SENTENCES

Texts = Mapping[str, str]


def volts(mv: int, texts: Texts = SENTENCES) -> str:
    """Millivolts in full, as volts: nothing rounded, no trailing noughts."""
    whole, rest = divmod(abs(mv), 1000)
    digits = f"{whole:,}".replace(",", texts["number.group"])
    if rest:
        digits += texts["number.decimal"] + f"{rest:03d}".rstrip("0")
    return texts["number.volts"].format(number=("\u2212" if mv < 0 else "") + digits)
