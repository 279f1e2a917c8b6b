"""A reader of PNG written from the specification (ISO/IEC 15948), to see what was really painted."""

from __future__ import annotations

import struct
import zlib
from dataclasses import dataclass
from itertools import accumulate


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
        rows.append(tuple(zip(before[0::size], before[1::size], before[2::size], strict=True)))
    return Picture(width, height, tuple(rows))


def _unfiltered(kind: int, line: bytearray, above: bytearray, size: int) -> bytearray:
    """One branch for each filter, as the loop over every byte of a picture is what reading it costs."""
    if kind == 1:
        for channel in range(size):
            line[channel::size] = bytes(total & 255 for total in accumulate(line[channel::size]))
    elif kind == 2:
        line = bytearray((one + up) & 255 for one, up in zip(line, above, strict=True))
    elif kind == 3:
        for place, up in enumerate(above):
            line[place] = (line[place] + ((line[place - size] if place >= size else 0) + up) // 2) & 255
    elif kind == 4:
        for channel in range(size):
            line[channel::size] = _paeth(line[channel::size], above[channel::size])
    else:
        assert kind == 0
    return line


def _paeth(line: bytearray, above: bytearray) -> bytearray:
    """One channel: to each byte whichever of left, up and corner is nearest to left + up - corner, in this order."""
    left = corner = 0
    for place, up in enumerate(above):
        if left == up == corner:
            guess = left
        else:
            # The distances of the guess from the three, with what cancels out left out.
            to_left, to_up, to_corner = abs(up - corner), abs(left - corner), abs(left + up - 2 * corner)
            guess = left if to_left <= to_up and to_left <= to_corner else up if to_up <= to_corner else corner
        line[place] = left = (line[place] + guess) & 255
        corner = up
    return line
