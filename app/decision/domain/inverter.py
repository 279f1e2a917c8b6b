"""What an inverter puts out of its DC link, as r.m.s. volts.

Every pulse reaches the full link between two lines, so kit is chosen on the link, never on these figures. Source:
motor-control documentation (S); factors from their definitions (D): 0.6124, 0.7071, 0.7797, 0.8165.

>>> round(factor("sine-pwm", "line-to-line"), 4), round(factor("six-step", "line-to-line"), 4)
(0.6124, 0.8165)
"""

from __future__ import annotations

from collections.abc import Mapping
from math import pi, sqrt

# Line-to-line fundamental over the link, of the linear range at its end.
FUNDAMENTAL: Mapping[str, float] = {
    "sine-pwm": sqrt(3) / (2 * sqrt(2)),
    "svpwm": 1 / sqrt(2),
    "space-vector-pwm": 1 / sqrt(2),
    "six-step": sqrt(6) / pi,
}
# With all its harmonics; only for six steps is one printed.
TOTAL: Mapping[str, float] = {"six-step": sqrt(2 / 3)}
MODULATIONS = tuple(FUNDAMENTAL)
QUANTITIES = ("line-to-line", "line-to-neutral", "fundamental", "total", "phase-peak")


def factor(modulation: str, quantity: str) -> float | None:
    """Factor on the link; None where none is printed.

    line-to-line, line-to-neutral: with harmonics where they are printed, as the higher of the two, else the
    fundamental. fundamental, total: line to line. phase-peak: peak of the fundamental to neutral.
    """
    fundamental = FUNDAMENTAL[modulation]
    line = TOTAL.get(modulation, fundamental)
    return {
        "line-to-line": line,
        "line-to-neutral": line / sqrt(3),
        "fundamental": fundamental,
        "total": TOTAL.get(modulation),
        "phase-peak": fundamental * sqrt(2) / sqrt(3),
    }[quantity]
