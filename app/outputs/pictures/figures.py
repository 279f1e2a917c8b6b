r"""Figures as the pictures write them.

>>> volts(914_760)
'914.76\xa0V'
>>> volts(25_500_000)
'25,500\xa0V'
"""

from __future__ import annotations

from app.words.saying import number, say


def volts(mv: int) -> str:
    """Millivolts in full, as volts: nothing rounded, no trailing noughts."""
    sign = "\u2212" if mv < 0 else ""
    return say("number.volts", {"number": sign + number(abs(mv) / 1000, 3)})
