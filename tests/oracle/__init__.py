"""A second, independent judge of worked cases.

Written from the written rules, the worked-case format and the tables of figures alone, without sight of the program
it is held against. `judge(case)` takes the plain dict of one `[[case]]` table (level "decision" or "finding") as a
TOML reader returns it. Where the rules leave a point open, READINGS.md beside this file says which reading was taken.
"""

from __future__ import annotations

from .sets import DEFAULT_SET, KINDS_IN_SCOPE, SETS
from .verdict import RULES_IN_SCOPE, judge
from .world import OutOfScope

__all__ = ["DEFAULT_SET", "KINDS_IN_SCOPE", "RULES_IN_SCOPE", "SETS", "OutOfScope", "judge"]
