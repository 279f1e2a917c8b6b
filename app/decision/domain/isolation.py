"""Insulation of a bus and bonding of its housings, as UN R100 asks of vehicles.

Source: UN R100 5.1.3.1, 5.1.3.2 and 5.1.2.2, read in a clause library (S); ISO 6469-4 has the same figures (S). These
bind whoever makes vehicles; in a workshop they tell what a reading means and replace no test.

>>> ohm_per_volt(is_ac_joined=True, is_ac_double_insulated=False)
500
>>> bond_holds(Decimal("0.099"), Decimal("0.2")), bond_holds(Decimal("0.1"), Decimal("0.2"))
(True, False)
"""

from __future__ import annotations

from decimal import Decimal

DC_OHM_PER_VOLT = 100
AC_OHM_PER_VOLT = 500
BOND_BELOW_MILLIOHM = 100
BOND_LEAST_MILLIAMPS = 200


def ohm_per_volt(*, is_ac_joined: bool, is_ac_double_insulated: bool) -> int:
    """Least insulation in ohm per volt of working voltage.

    DC alone 100; joined to AC 500, or 100 when every AC bus is double insulated or robustly protected.
    """
    return AC_OHM_PER_VOLT if is_ac_joined and not is_ac_double_insulated else DC_OHM_PER_VOLT


def holds(measured_ohm: Decimal, working_v: Decimal, per_volt: int) -> bool:
    """Whether a reading reaches: at or above the figure, compared unrounded."""
    return measured_ohm >= per_volt * working_v


def bond_current_counts(current_a: Decimal) -> bool:
    """Whether a bond was measured with enough current to say anything: 0.2 A or more."""
    return current_a * 1000 >= BOND_LEAST_MILLIAMPS


def bond_holds(ohm: Decimal, current_a: Decimal) -> bool:
    """Strictly below 0.1 ohm, measured with 0.2 A or more; less current shows nothing."""
    return ohm * 1000 < BOND_BELOW_MILLIOHM and bond_current_counts(current_a)
