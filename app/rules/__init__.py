"""One demand per file, each a pure function from facts to findings. Each module declares RULE. Rules never import each other.

A module docstring says: met when; cannot tell; source. What a rule measures stands in its findings.
"""
