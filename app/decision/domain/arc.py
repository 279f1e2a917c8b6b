"""DC arc flash: how much energy an arc throws at a distance, and how far away it still burns.

Advice only, never an instruction to work live and never a reason to lower the protection against shock. Whoever shows
a figure says with it the method, the clearing time (2 s where nobody knows it) and the multiplier of the enclosure.
Units: V, A, ohm, s, W; distances in cm, gaps in mm; energy in cal/cm2. Source: NFPA 70E, Table 130.5(G), Annex D.5.

Largest power (NFPA 70E annex D.5; S): half the fault current burns, `0.01 V I t / D^2`.

>>> burst = largest_power_burst(250, arc_share(4000), 2)
>>> round(burst.energy(45.72), 3), round(burst.boundary(1.2), 2)
(4.784, 91.29)

Arc voltage after Stokes and Oppenlander (S, two sources); the energy spreads over a sphere. One transcription prints
95 V and 11.0 cal/cm2 for this arc in an enclosure of 1.5; its own formula gives what stands here.

>>> volts = arc_voltage(5000, 25)
>>> round(volts, 1), round(volts * 5000 / 1000)
(92.7, 463)
>>> round(open_air_burst(volts * 5000, 0.2).times(1.5).energy(45.5), 2)
1.28
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from math import pi, sqrt

from msgspec import Struct

Number = float | Decimal
# NFPA 70E annex D.5 (S). The exact constant of a sphere would be 0.00951, so the printed one is about 5 % high.
LARGEST_POWER_SHARE = 0.5
LARGEST_POWER_CONSTANT = 0.01
# NFPA 70E note (S): taken where no clearing device or time is known.
ASSUMED_CLEARING_S = Decimal(2)
# NFPA 70E note (S): an enclosure throws up to three times as much as open air.
MOST_ENCLOSURE_FACTOR = 3
# Stokes and Oppenlander (S): arc voltage = (20 + 0.534 per mm of gap) times current to the power of 0.12.
ELECTRODES_V = 20.0
GAP_V_PER_MM = 0.534
CURRENT_POWER = 0.12
JOULES_PER_CALORIE = 4.184
# NFPA 70E (S): least arc rating of categories 1 to 4 in 0.001 cal/cm2; above the last nobody works live.
RATINGS_MCAL: Mapping[int, int] = {1: 4_000, 2: 8_000, 3: 25_000, 4: 40_000}


class Box(Struct, frozen=True):
    """A box open to one side throws `k E / (a^2 + d^2)`: depth `a` in mm, `k` without unit."""

    depth_mm: float
    k: float


# Wilkins and Ammerman, from memory and not seen in print: confidence M. Whoever shows a figure from here says so.
BOXES: Mapping[str, Box] = {"panel": Box(100, 0.127), "switchgear": Box(400, 0.312)}


class Burst(Struct, frozen=True):
    """What an arc throws: `strength` / (`depth_cm`^2 + D^2) in cal/cm2 at D cm."""

    strength: float
    depth_cm: float = 0.0

    def times(self, factor: float) -> Burst:
        """The same with the multiplier of an enclosure."""
        return Burst(self.strength * factor, self.depth_cm)

    def energy(self, distance_cm: float) -> float:
        """Incident energy in cal/cm2; the distance is above zero."""
        return self.strength / (self.depth_cm**2 + distance_cm**2)

    def boundary(self, at_cal: float) -> float:
        """Distance in cm at which the energy has fallen to `at_cal`; 0 where it is lower everywhere outside the box.

        The root belongs to it: without it 91.3 cm would read 8,333.
        """
        return sqrt(max(self.strength / at_cal - self.depth_cm**2, 0.0))


def arc_share(fault_a: float) -> float:
    """Arc current in A of the largest power: half the current of a bolted fault."""
    return LARGEST_POWER_SHARE * fault_a


def largest_power_burst(system_v: float, arc_a: float, clearing_s: float) -> Burst:
    """Largest power in open air."""
    return Burst(LARGEST_POWER_CONSTANT * system_v * arc_a * clearing_s)


def open_air_burst(power_w: float, clearing_s: float) -> Burst:
    """The arc's energy over a sphere: P t / (4 pi D^2), in calories."""
    return Burst(power_w * clearing_s / (4 * pi * JOULES_PER_CALORIE))


def box_burst(power_w: float, clearing_s: float, box: Box) -> Burst:
    """The arc's energy out of a box; a and d in mm there, so 100 turns 1/mm2 into 1/cm2 and the depth into cm."""
    return Burst(box.k * power_w * clearing_s / JOULES_PER_CALORIE, box.depth_mm / 10)


def arc_voltage(arc_a: float, gap_mm: float) -> float:
    """Volts across an arc of `arc_a` amperes over a gap in mm."""
    return float((ELECTRODES_V + GAP_V_PER_MM * gap_mm) * arc_a**CURRENT_POWER)


def arc_current(system_v: float, source_ohm: float, gap_mm: float) -> float:
    """Amperes at which source and arc share the volts: the one root of `I R + arc_voltage(I) - V`.

    All above zero. The sum rises with I, is -V at 0 and above zero at V / R, so there is exactly one root and it lies
    between. Each step halves the bracket and keeps the root inside; floats end the halving after a finite number of
    steps, when no number lies between the ends.
    """
    low, high = 0.0, system_v / source_ohm
    while low < (middle := (low + high) / 2) < high:
        if middle * source_ohm + arc_voltage(middle, gap_mm) < system_v:
            low = middle
        else:
            high = middle
    return high


def category(energy_cal: Number, least_mcal: int) -> int | None:
    """Arc category that covers the energy: 0 below the least that counts, None above the highest category.

    >>> category(Decimal("1.2"), 1200), category(Decimal("8"), 1200), category(Decimal("40.1"), 1200)
    (1, 2, None)
    """
    mcal = energy_cal * 1000
    if mcal < least_mcal:
        return 0
    return next((number for number, rating in RATINGS_MCAL.items() if mcal <= rating), None)
