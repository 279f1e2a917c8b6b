"""A reader of PNG written from the specification (ISO/IEC 15948), to see what was really painted."""

from __future__ import annotations

import struct
import zlib
from dataclasses import dataclass


@dataclass(frozen=True)
class Picture:
    """Width, height and rows of (red, green, blue) per px."""

    width: int
    height: int
    rows: tuple[tuple[tuple[int, int, int], ...], ...]


def decode(data: bytes) -> Picture:
    """8-bit RGB or RGBA without interlace; AssertionError for anything else, or when a checksum is wrong."""
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    place, packed, head = 8, b"", b""
    while place < len(data):
        length, kind = struct.unpack_from(">I4s", data, place)
        body = data[place + 8 : place + 8 + length]
        assert zlib.crc32(kind + body) == struct.unpack_from(">I", data, place + 8 + length)[0]
        head = body if kind == b"IHDR" else head
        packed += body if kind == b"IDAT" else b""
        place += 12 + length
    width, height, depth, colour, _, _, interlace = struct.unpack(">IIBBBBB", head)
    assert (depth, interlace) == (8, 0)
    size = {2: 3, 6: 4}[colour]
    raw = zlib.decompress(packed)
    before = bytearray(width * size)
    rows = []
    for row in range(height):
        start = row * (width * size + 1)
        before = _unfiltered(raw[start], bytearray(raw[start + 1 : start + 1 + width * size]), before, size)
        rows.append(tuple((before[at], before[at + 1], before[at + 2]) for at in range(0, width * size, size)))
    return Picture(width, height, tuple(rows))


def _unfiltered(kind: int, line: bytearray, above: bytearray, size: int) -> bytearray:
    for place in range(len(line)):
        left = line[place - size] if place >= size else 0
        corner = above[place - size] if place >= size else 0
        up = above[place]
        guess = (0, left, up, (left + up) // 2, _paeth(left, up, corner))[kind]
        line[place] = (line[place] + guess) & 255
    return line


def _paeth(left: int, up: int, corner: int) -> int:
    guess = left + up - corner
    return min((abs(guess - left), 0, left), (abs(guess - up), 1, up), (abs(guess - corner), 2, corner))[2]
