"""Everything people read, as key -> sentence. `say` is the one place where a sentence is made.

English is complete here; another language is another file of the same keys beside it.
"""
