"""One demand per file: a pure function from facts to findings, declared as RULE. Rules never import each other.

A module docstring says: met when; cannot tell; source. What a rule measures stands in its findings. Then an example it
takes and one it does not: the good world of tests/build.py with one thing said otherwise, in the words of worked cases,
and each finding in a line (outcome, why, figure, last good day). `python -m pytest tests/decision/domain` runs them.
"""
