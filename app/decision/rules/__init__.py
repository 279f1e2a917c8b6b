"""One demand per file: a pure function from facts to findings, declared as RULE. Rules never import each other.

A module docstring says: met when; cannot tell; source. What a rule measures stands in its findings.
"""
