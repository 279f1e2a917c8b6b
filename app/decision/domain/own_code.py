"""Codes of our own labels: digits and letters that lie alike on QWERTY, QWERTZ and AZERTY, and a check symbol.

A label is "CD", five symbols and a check symbol after ISO 7064, hybrid system MOD n+1,n with the 30 symbols below. One
wrong symbol is always noticed; two neighbours the wrong way round are, but for a few pairs in some places.

>>> own_code(1), own_code(123456)
('CD00001N', 'CD04I568')
>>> is_whole("CD00001N"), is_whole("CD00001P")
(True, False)
"""

from __future__ import annotations

# No A, M, Q, W, Y, Z: those lie elsewhere on a French or German keyboard, and a scanner types like a keyboard.
SYMBOLS = "0123456789BCDEFGHIJKLNOPRSTUVX"
START = "CD"
PLACES = 5
MOST = len(SYMBOLS) ** PLACES


def own_code(number: int) -> str:
    """The label of a running number, 0 to 24,299,999."""
    if not 0 <= number < MOST:
        raise ValueError(number)
    symbols = ""
    for _ in range(PLACES):
        number, place = divmod(number, len(SYMBOLS))
        symbols = SYMBOLS[place] + symbols
    return f"{START}{symbols}{_check(START + symbols)}"


def is_own(written: str) -> bool:
    """Whether this has the form of one of our labels, whatever its check symbol."""
    code = written.upper()
    return len(code) == len(START) + PLACES + 1 and code.startswith(START) and all(symbol in SYMBOLS for symbol in code)


def is_whole(written: str) -> bool:
    """Whether one of our labels was read as it was printed."""
    code = written.upper()
    return is_own(code) and _check(code[:-1]) == code[-1]


def _check(code: str) -> str:
    """ISO 7064 hybrid system: the product of the places so far, in turns modulo n and n + 1."""
    size = len(SYMBOLS)
    product = size
    for symbol in code:
        total = (product + SYMBOLS.index(symbol)) % size or size
        product = total * 2 % (size + 1)
    return SYMBOLS[(size + 1 - product) % size]
