"""Canonical JSON: the one text of a value, which hashes and digests are taken of."""

from __future__ import annotations

import msgspec

_ENCODE = msgspec.json.Encoder(order="sorted").encode


def canonical(value: object) -> str:
    """Canonical JSON: keys sorted, no blanks, UTF-8 as it is; integers only where a figure is meant."""
    return _ENCODE(value).decode("utf-8")
