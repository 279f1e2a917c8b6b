"""Impulse voltage of a measurement category (1.2/50 us, volts peak), and the one a printed mark stands for.

Source: IEC 60664-1 and IEC 61010; rows of 150 to 1,000 V two or three sources agree (S); rows up to 100 V and of 1,250
and 1,500 V DC are inferred from the overvoltage table.

>>> rated_v(Mark("III", 1_000_000)), rated_v(Mark("III", 1_500_000)), rated_v(Mark("I", 600_000))
(8000, None, None)

"""

from __future__ import annotations

from app.decision.domain.chain import CATEGORIES, Mark

# Upper bound of volts to earth: impulse for CAT II, III, IV, and whether the row is inferred.
ROWS: tuple[tuple[int, tuple[int, int, int], bool], ...] = (
    (50, (500, 800, 1_500), True),
    (100, (800, 1_500, 2_500), True),
    (150, (1_500, 2_500, 4_000), False),
    (300, (2_500, 4_000, 6_000), False),
    (600, (4_000, 6_000, 8_000), False),
    (1_000, (6_000, 8_000, 12_000), False),
    (1_250, (6_000, 8_000, 12_000), True),
    (1_500, (8_000, 10_000, 15_000), True),
)


def rated_v(mark: Mark) -> int | None:
    """Volts of impulse that a mark stands for, where its volts are those of a printed row.

    A thing is credited with its marking alone: volts between rows, inferred rows and old categories answer None.
    """
    if mark.category not in CATEGORIES:
        return None
    column = CATEGORIES.index(mark.category)
    return next((row[column] for volts, row, inferred in ROWS if volts * 1000 == mark.mv and not inferred), None)
