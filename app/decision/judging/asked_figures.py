"""Figures of a calculation as they are asked: above zero, kept as written, and missing ones named."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from decimal import Decimal

from app.decision.domain.errors import BadInput
from app.decision.fields.reading import Unreadable

# What lies outside is a slip of the unit, and would leave the range in which the formulae can be worked out.
_SMALLEST, _LARGEST = Decimal("1e-9"), Decimal("1e9")


def number(value: object) -> Decimal:
    """A finite number as written."""
    if isinstance(value, bool) or not isinstance(value, (int, float, Decimal)):
        raise Unreadable("not-a-number")
    figure = Decimal(str(value)) if isinstance(value, float) else Decimal(value)
    if not figure.is_finite():
        raise Unreadable("not-a-number")
    return figure


def between(least: Decimal | int, most: Decimal | int) -> Callable[[object], Decimal]:
    """A number from `least` to `most`, both included."""

    def read(value: object) -> Decimal:
        figure = number(value)
        if not least <= figure <= most:
            raise Unreadable("out-of-range")
        return figure

    return read


positive = between(_SMALLEST, _LARGEST)


def figure_of(ask: Mapping[str, object], key: str) -> Decimal:
    """The figure under `key`; BadInput where it is not stated."""
    figure = ask.get(key)
    if not isinstance(figure, Decimal):
        raise BadInput("calculation.figure-missing", thing=key)
    return figure


def maybe(ask: Mapping[str, object], key: str) -> Decimal | None:
    """The figure under `key`, None where it is not stated."""
    figure = ask.get(key)
    return figure if isinstance(figure, Decimal) else None
