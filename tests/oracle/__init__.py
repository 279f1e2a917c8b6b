"""A second, independent judge of worked cases.

Written from the written rules, the worked-case format and the tables of figures alone, without sight of the program
it is held against. `judge(case)` takes the plain dict of one `[[case]]` table (level "decision" or "finding") as a
TOML reader returns it. Where the rules leave a point open, READINGS.md beside this file says which reading was taken.
"""

from __future__ import annotations

from .verdict import RULES_IN_SCOPE, judge
from .world import KINDS_IN_SCOPE, RULE_SET, OutOfScope

__all__ = ["KINDS_IN_SCOPE", "RULES_IN_SCOPE", "RULE_SET", "OutOfScope", "judge"]
