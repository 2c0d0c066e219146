"""Leaves of a panel as built against its cells, by shapely.

Reads {"openings_x": [mm], "openings_y": [mm], "thickness": mm, "overhang": mm,
"cells": [{"column": n, "row": n, "pieces": [[[x, y], ...], ...]}, ...]}. Prints for each cell
[too long across, too long up, off the middle, pieces in each other]: the box round its pieces against the
clear opening, whose walls are added up from the openings here; millimetres and square millimetres.
"""

import json
import sys

from shapely.geometry import Polygon
from shapely.ops import unary_union


def walls(openings, thickness, overhang):
    """Low and high wall of every bay; the first strip's middle lies one overhang from the origin."""
    at = overhang - thickness / 2
    for opening in openings:
        low = at + thickness
        yield low, low + opening
        at = low + opening


panel = json.load(sys.stdin)
across, up = (
    list(walls(panel[key], panel["thickness"], panel["overhang"]))
    for key in ("openings_x", "openings_y")
)
found = []
for cell in panel["cells"]:
    pieces = [Polygon(ring) for ring in cell["pieces"]]
    whole = unary_union(pieces)
    left, bottom, right, top = whole.bounds
    (west, east), (south, north) = across[cell["column"] - 1], up[cell["row"] - 1]
    off = max(abs((left + right) - (west + east)), abs((bottom + top) - (south + north))) / 2
    twice = sum(piece.area for piece in pieces) - whole.area
    found.append([(right - left) - (east - west), (top - bottom) - (north - south), off, twice])
json.dump(found, sys.stdout)
