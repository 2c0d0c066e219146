"""How far two pictures of a page differ: same_picture.py FIRST.png SECOND.png

Prints {"differs": mean difference of their pixels as a share of black against white, 1 where their sizes
differ}. PNG by its standard (ISO/IEC 15948), true colour with 8 bits, not interlaced.
"""

import json
import struct
import sys
import zlib

import numpy


def pixels(path):
    with open(path, "rb") as file:
        data = file.read()
    assert data[:8] == b"\x89PNG\r\n\x1a\n", path
    at, packed, head = 8, b"", None
    while at < len(data):
        length, kind = struct.unpack(">I4s", data[at : at + 8])
        body = data[at + 8 : at + 8 + length]
        if kind == b"IHDR":
            head = struct.unpack(">IIBBBBB", body)
        elif kind == b"IDAT":
            packed += body
        at += 12 + length
    width, height, depth, colours, *_, interlaced = head
    assert (depth, colours, interlaced) == (8, 2, 0), head
    return unfiltered(zlib.decompress(packed), width, height)


def unfiltered(data, width, height):
    """Rows of bytes, each taken back from what its filter made of it."""
    wide = 3 * width
    above = [0] * wide
    rows = []
    for row in range(height):
        way, *line = data[row * (wide + 1) : (row + 1) * (wide + 1)]
        for at in range(wide):
            left = line[at - 3] if at >= 3 else 0
            up, corner = above[at], above[at - 3] if at >= 3 else 0
            near = left + up - corner
            paeth = min((left, up, corner), key=lambda one: abs(near - one))
            line[at] = (line[at] + (0, left, up, (left + up) // 2, paeth)[way]) % 256
        rows.append(line)
        above = line
    return numpy.array(rows, dtype=float)


def main():
    first, second = (pixels(path) for path in sys.argv[1:3])
    same_size = first.shape == second.shape
    differs = float(numpy.abs(first - second).mean() / 255) if same_size else 1.0
    print(json.dumps({"differs": differs}))


main()
