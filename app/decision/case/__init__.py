"""The worked-case format: the one reader of pieces, records, people, circuits and site rules, whoever wrote them.

A worked case, the depot file, the day's checks and a register sheet all end as these tables, so that a key means the
same thing everywhere. Unknown keys are an error naming the key and the nearest known one.
"""
