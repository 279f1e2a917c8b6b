"""The upright volt axis of the headroom picture: even from 0, or logarithmic where the figures lie decades apart."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import floor, log10

DECADE = 10
_LIFT = 1.12
_STEPS = (1, 2, 5)


@dataclass(frozen=True, slots=True)
class VoltScale:
    """From `low_mv` at the y of `bottom` to `high_mv` at the y of `top`, both in px."""

    low_mv: float
    high_mv: float
    top: float
    bottom: float
    is_log: bool

    def y(self, mv: float) -> float:
        """The y of a figure; figures under the axis stand at its foot."""
        if mv <= self.low_mv:
            return self.bottom
        return self.bottom - self._part(mv) * (self.bottom - self.top)

    def _part(self, mv: float) -> float:
        """How far up the axis a figure lies, 0 to 1."""
        if self.is_log:
            return log10(mv / self.low_mv) / log10(self.high_mv / self.low_mv)
        return mv / self.high_mv

    def ticks(self, gap: float = 26.0) -> tuple[int, ...]:
        """Round figures in mV to write at the axis, at least `gap` px apart, lowest first."""
        kept: list[int] = []
        for mv in self._round_figures(gap):
            if not kept or self.y(kept[-1]) - self.y(mv) >= gap:
                kept.append(mv)
        return tuple(kept)

    def _round_figures(self, gap: float) -> Iterable[int]:
        if not self.is_log:
            step = _round_step(self.high_mv * gap / (self.bottom - self.top))
            return range(0, floor(self.high_mv) + 1, step)
        first, last = floor(log10(self.low_mv)), floor(log10(self.high_mv))
        tens = (10**power for power in range(max(0, first), last + 1))
        return [ten * step for ten in tens for step in _STEPS if self.low_mv <= ten * step <= self.high_mv]


def _round_step(least_mv: float) -> int:
    """The smallest of 1, 2, 5, 10, 20 ... mV that is not under `least_mv`."""
    ten = 1
    while True:
        for step in _STEPS:
            if ten * step >= least_mv:
                return ten * step
        ten *= 10


def volt_scale(figures_mv: Iterable[int], top: float, bottom: float) -> VoltScale:
    """An axis that holds every figure with some air above. Logarithmic when the largest is ten times the least or more.

    Figures of 0 stand at the foot and do not call for a logarithmic axis; no figure at all gives one of 1,000 V.
    """
    known = [mv for mv in figures_mv if mv > 0] or [1_000_000]
    low, high = min(known), max(known)
    if high < DECADE * low:
        return VoltScale(0.0, high * _LIFT, top, bottom, is_log=False)
    return VoltScale(low / 2.5, high * 1.5, top, bottom, is_log=True)
