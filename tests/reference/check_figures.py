"""Compares the pieces of cells with constructions of its own (`figures.py`).

    python check_figures.py < DESCRIPTION.json

The description, mm: {"cells": [{"pattern": name, "thickness": number, "corners": [[x, y], ...],
    "pieces": [{"name": text, "outline": [[x, y], ...]}, ...],
    "laps": [[index notched from the front, index notched from the back], ...]}, ...]}
Names of copies are those of what they are copies of, with a number behind.

Per cell: each piece is one of the construction's, of its name, with the same corners; none is left over;
the same pieces lap each other, the same one in front. Exits 0 if so and prints, as JSON, {"lengths":
{pattern: {name: [length over points as constructed, ...]}}} of each pattern's last cell; else 1, with the
reason on stderr after "refused: ".
"""

import json
import math
import re
import sys

from shapely.geometry import Polygon

from figures import figure

LENGTH = 1e-6  # mm


def base(name):
    return re.sub(r"-\d+$", "", name)


def corners(shape):
    """Without points that are their neighbours, or lie on the line between them."""
    ring = list(shape.exterior.coords)[:-1]
    ring = [p for at, p in enumerate(ring) if math.dist(p, ring[at - 1]) > LENGTH]
    kept = []
    for at, (x, y) in enumerate(ring):
        (px, py), (qx, qy) = ring[at - 1], ring[(at + 1) % len(ring)]
        area = (qx - px) * (y - py) - (qy - py) * (x - px)
        if abs(area) > LENGTH * math.hypot(qx - px, qy - py):
            kept.append((x, y))
    return kept


def farthest(found, meant):
    """How far the farthest corner of one polygon lies from all of the other's."""
    def way(one, other):
        return max(min(math.dist(p, q) for q in other) for p in one)

    return max(way(found, meant), way(meant, found))


def check(cell):
    where = f"{cell['pattern']}, {cell['thickness']}"
    made = figure(cell["pattern"], [tuple(p) for p in cell["corners"]], cell["thickness"])
    left = list(made.bars)
    partners = []
    for piece in cell["pieces"]:
        ring = corners(Polygon(piece["outline"]))
        named = [bar for bar in left if bar.name == base(piece["name"])]
        best = min(named, key=lambda bar: farthest(ring, corners(bar.shape)), default=None)
        if best is None:
            sys.exit(f"refused: {where}: {piece['name']} is none of the figure's")
        off = farthest(ring, corners(best.shape))
        if off > LENGTH:
            sys.exit(f"refused: {where}: {piece['name']} is {off} mm off")
        left.remove(best)
        partners.append(best)
    if left:
        sys.exit(f"refused: {where}: {left[0].name} is missing")
    found = {(id(partners[front]), id(partners[back])) for front, back in cell["laps"]}
    meant = {(id(front), id(back)) for front, back in made.laps}
    if found != meant:
        sys.exit(f"refused: {where}: {len(found)} laps, {len(found ^ meant)} of them differ")
    return made.bars


def length(bar):
    """Over points, along the axis."""
    (px, py), (qx, qy) = bar.start, bar.end
    size = math.dist(bar.start, bar.end)
    reach = [((x - px) * (qx - px) + (y - py) * (qy - py)) / size for x, y in corners(bar.shape)]
    return max(reach) - min(reach)


if __name__ == "__main__":
    lengths = {}
    for cell in json.load(sys.stdin)["cells"]:
        own = {}
        for bar in check(cell):
            own.setdefault(bar.name, []).append(length(bar))
        lengths[cell["pattern"]] = own
    print(json.dumps({"lengths": lengths}))
