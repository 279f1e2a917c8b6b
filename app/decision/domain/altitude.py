"""Thin air asks wider gaps: the factor on clearances by altitude, and what a rating comes down to up there.

Factors: IEC 60664-1:2020, Table A.2 (S); bands are steps up to the next height of the table, inclusive. The factor
multiplies the clearance that is asked and scales no volts. Stepping down is advice: divide the clearance of the rated
impulse by the factor and take the highest preferred impulse that still fits. Clearances: 8 mm S, the others from
memory (M). A piece above its marked altitude stays refused whatever comes out here.

>>> factor(2000), factor(2001), factor(20_001)
(100, 114, None)
>>> step_down(8000, 3000), step_down(8000, 5000), step_down(2500, 3000)
(6000, 4000, None)
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

Metres = int | Decimal
# Up to so many metres: factor in 0.01.
FACTORS: tuple[tuple[int, int], ...] = (
    (2_000, 100), (3_000, 114), (4_000, 129), (5_000, 148), (6_000, 170), (7_000, 195), (8_000, 225), (9_000, 262),
    (10_000, 302), (15_000, 667), (20_000, 1_450),
)  # fmt: skip
ONE = 100
# Preferred impulse in volts: clearance in um, lowest first.
CLEARANCES_UM: Mapping[int, int] = {2_500: 1_500, 4_000: 3_000, 6_000: 5_500, 8_000: 8_000, 12_000: 14_000}
# The only clearance seen in a secondary text (S); every other one is from memory (M).
SEEN_V = frozenset({8_000})


def factor(altitude_m: Metres) -> int | None:
    """Factor on clearances in 0.01; 100 at 2,000 m and below, None above 20,000 m."""
    return next((hundredths for height, hundredths in FACTORS if altitude_m <= height), None)


def step_down(rated_v: int, altitude_m: Metres) -> int | None:
    """Preferred impulse in volts that the clearance of `rated_v` still serves at this altitude.

    None where nothing can be said: no preferred impulse, above the table of factors, or none low enough. Compared in
    whole numbers, so that no rounding decides.
    """
    hundredths, clearance = factor(altitude_m), CLEARANCES_UM.get(rated_v)
    if hundredths is None or clearance is None:
        return None
    fitting = [volts for volts, um in CLEARANCES_UM.items() if um * hundredths <= clearance * ONE]
    return max(fitting, default=None)
