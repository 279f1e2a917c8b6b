"""What somebody typed into a field as a value: days and figures, or the sentence why it is none. No toolkit here.

Days: ISO always, and the local form; two-digit years are 20xx. Where strokes or dashes can be read day first and month
first, it is asked, whatever the desktop's language: a retest day that is half a year late lets kit out. Figures: a
comma or a point before the decimals; thousands marks are refused, because 1,500 is one and a half to one reader and
fifteen hundred to the next.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date, timedelta
from decimal import Decimal

from app.decision.domain.errors import BadInput

_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
_LOCAL = re.compile(r"(\d{1,2})([./\- ])(\d{1,2})\2(\d{2}|\d{4})")
_FIGURE = re.compile(r"-?\d{1,9}(?:([.,])(\d{1,6}))?")
MONTHS = 12
_NEAR: Mapping[str, int] = {"today": 0, "yesterday": -1, "tomorrow": 1}


def day_typed(text: str, today: date) -> date | None:
    """The day somebody typed, None for nothing; BadInput (typed.*) says why it is none.

    >>> day_typed("1.3.26", date(2026, 3, 2)), day_typed("2026-03-01", date(2026, 3, 2))
    (datetime.date(2026, 3, 1), datetime.date(2026, 3, 1))
    """
    written = text.strip()
    if not written:
        return None
    if written.casefold() in _NEAR:
        return today + timedelta(days=_NEAR[written.casefold()])
    if match := _ISO.fullmatch(written):
        return _day(written, int(match[1]), int(match[2]), int(match[3]))
    if match := _LOCAL.fullmatch(written):
        first, second, year = int(match[1]), int(match[3]), int(match[4])
        year += 2000 if year < 100 else 0
        # Points are written day first everywhere.
        if match[2] == "." or first == second or first > MONTHS:
            return _day(written, year, second, first)
        if second > MONTHS:
            return _day(written, year, first, second)
        raise BadInput(
            "typed.two-ways", thing=written, day_first=date(year, second, first).isoformat(),
            month_first=date(year, first, second).isoformat(),
        )  # fmt: skip
    raise BadInput("typed.not-a-day", thing=written)


def _day(written: str, year: int, month: int, day: int) -> date:
    try:
        return date(year, month, day)
    except ValueError as fault:
        raise BadInput("typed.no-such-day", thing=written) from fault


def figure_typed(text: str, decimals: int = 0) -> Decimal | None:
    """The figure somebody typed, None for nothing; BadInput (typed.*) for a thousands mark or too many decimals.

    >>> figure_typed("9,5", 1), figure_typed("1500")
    (Decimal('9.5'), Decimal('1500'))
    """
    written = text.strip()
    if not written:
        return None
    match = _FIGURE.fullmatch(written)
    if match is None:
        raise BadInput("typed.not-a-figure", thing=written)
    places = match[2] or ""
    if len(places) == 3 and not written.startswith(("0", "-0")):
        raise BadInput("typed.thousands", thing=written, plain=re.sub(r"[.,]", "", written))
    if len(places) > decimals:
        raise BadInput("typed.too-fine" if decimals else "typed.whole", thing=written, decimals=str(decimals))
    return Decimal(written.replace(",", "."))


def words_typed(text: str, most: int = 200) -> str:
    """Words without what a terminal or a file would obey instead of show; rubbish pasted is refused, not trimmed."""
    written = " ".join(text.split())
    if not written.isprintable():
        raise BadInput("typed.not-printable", thing=written.encode("ascii", "backslashreplace").decode()[:40])
    if len(written) > most:
        raise BadInput("typed.too-long", thing=f"{written[:40]}...", most=str(most))
    return written
