# SPDX-License-Identifier: BSD-3-Clause
"""A drawing as PNG: size, the same bytes twice, and that what is drawn is there."""

import struct
import zlib

import numpy as np

from ringwright.antenna.charts.svg import circle, page, text
from ringwright.sheet.picture import png_of


def dots(png):
    """(height, width, channels) of an 8-bit PNG without interlace (W3C PNG, 3rd ed., sec. 9 for the filters)."""
    assert png.startswith(b"\x89PNG\r\n\x1a\n")
    at, data, head = 8, b"", b""
    while at < len(png):
        (length,), kind = struct.unpack(">I", png[at : at + 4]), png[at + 4 : at + 8]
        body, at = png[at + 8 : at + 8 + length], at + 12 + length
        head = body if kind == b"IHDR" else head
        data += body if kind == b"IDAT" else b""
    width, height, depth, colour = struct.unpack(">IIBB", head[:10])
    assert (depth, head[12]) == (8, 0)
    channels = {2: 3, 6: 4}[colour]
    raw = np.frombuffer(zlib.decompress(data), dtype=np.uint8).reshape(height, 1 + width * channels)
    rows = np.zeros((height, width, channels), dtype=int)
    for number in range(height):
        line = raw[number, 1:].reshape(width, channels).astype(int)
        above = rows[number - 1] if number else np.zeros((width, channels), dtype=int)
        kind = raw[number, 0]
        if kind == 2:
            rows[number] = (line + above) % 256
            continue
        left = np.zeros(channels, dtype=int)
        for column in range(width):
            up = above[column]
            corner = above[column - 1] if column else np.zeros(channels, dtype=int)
            guess = {0: 0, 1: left, 3: (left + up) // 2, 4: _paeth(left, up, corner=corner)}[int(kind)]
            left = rows[number, column] = (line[column] + guess) % 256
    return rows


def _paeth(left, up, *, corner):
    whole = left + up - corner
    off = np.abs(np.stack([whole - left, whole - up, whole - corner]))
    return np.where((off[0] <= off[1]) & (off[0] <= off[2]), left, np.where(off[1] <= off[2], up, corner))


def test_a_picture_has_the_drawings_size_words_and_inks_and_the_same_bytes():
    drawn = page(
        60.0,
        40.0,
        "a",
        content=[circle(30.0, 20.0, 10.0, stroke="none", fill="#D55E00"), text("Wm", 2.0, 14.0)],
    )
    png = png_of(drawn)
    assert png == png_of(drawn)
    found = dots(png)[..., :3]
    # Two dots a unit.
    assert found.shape[:2] == (80, 120)
    orange = np.abs(found - np.array([0xD5, 0x5E, 0x00])).sum(axis=-1) < 12
    # A circle of radius 10 in the middle, less the dots that its edge only touches.
    assert 0.94 < orange.sum() / 4.0 / (np.pi * 100.0) < 1.01
    middle = np.argwhere(orange).mean(axis=0)
    assert np.abs(middle - [39.5, 59.5]).max() < 0.6
    assert (found[:32, :40].sum(axis=-1) < 200).sum() > 20  # letters, in a font that is there
