"""Rule sets and house policy: declarations only. Each set is one file with SET; house policy is HOUSE in house.py.

A figure stands here with its clause, edition and confidence letter, and nowhere else in the program.
"""
