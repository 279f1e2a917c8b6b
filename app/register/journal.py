"""The journal: one line per row written, numbered without gaps in each book and chained by SHA-256.

hash = SHA-256(domain byte of the kind + previous hash + text), where the text is book, number, instant, actor, kind,
subject, schema revision and content joined by line feeds; the first seven hold no control characters, so no two lines
have one text. Before the first line of a book stands a hash of 32 zero bytes. What a chain proves, and what it does
not, stands in the guide to the register. The domain bytes are 1 to 11, for crib, person, system, circuit, site_rule,
piece, record, decision, bag, alias and stocktake, in this order.
"""

from __future__ import annotations

from hashlib import sha256

from msgspec import Struct

START = bytes(32)
SITE_BOOK = "site"
# One byte per kind of line: lines of two kinds can never have one hash, whatever their text.
DOMAIN: dict[str, bytes] = {
    "crib": b"\x01", "person": b"\x02", "system": b"\x03", "circuit": b"\x04", "site_rule": b"\x05", "piece": b"\x06",
    "record": b"\x07", "decision": b"\x08", "bag": b"\x09", "alias": b"\x0a", "stocktake": b"\x0b",
}  # fmt: skip


class Head(Struct, frozen=True):
    """The last line of a book: its number (0 for an empty book) and hash."""

    number: int
    hash: bytes

    @property
    def anchor(self) -> str:
        """Number and the first 12 hex digits: what a print carries so that a lost tail can be noticed."""
        return f"{self.number} {self.hash.hex()[:12]}"


def hash_of(previous: bytes, kind: str, text: str) -> bytes:
    """The hash of one line; `text` is `text_of` the line."""
    return sha256(DOMAIN[kind] + previous + text.encode("utf-8")).digest()


def text_of(book: str, number: int, at: str, actor: str, kind: str, subject: str, revision: int, content: str) -> str:  # noqa: PLR0913, PLR0917  # the fields of a line
    """What of a line is hashed."""
    return f"{book}\n{number}\n{at}\n{actor}\n{kind}\n{subject}\n{revision}\n{content}"
