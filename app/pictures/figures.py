r"""Figures and days as the pictures write them.

>>> volts(914_760)
'914.76\xa0V'
>>> volts(25_500_000)
'25,500\xa0V'
>>> short_volts(41_760)
'41.8\xa0V'
>>> spare_volts(41_760)
'41.7\xa0V'
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


def short_volts(mv: int, texts: Texts = SENTENCES) -> str:
    """A shortfall in volts, rounded up to a tenth: never told smaller than it is, and never as nothing."""
    return volts(mv if mv < 100 else -(-mv // 100) * 100, texts)


def spare_volts(mv: int, texts: Texts = SENTENCES) -> str:
    """What is to spare in volts, rounded down to a tenth: never told larger than it is."""
    return volts(mv if mv < 100 else mv // 100 * 100, texts)
