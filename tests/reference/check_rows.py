"""Checks the rows of pieces that a router leaves of sticks by a calculation of its own (shapely).

    python check_rows.py < DESCRIPTION.json

The description, mm: {"rows": [{"name": text, "radius": of the cutter, "tolerance": number,
    "depth": of the sticks, "floor": depth of the mitres, "grip": of a stick at either end,
    "sticks": [[[x, y], ...], ...],
    "pieces": [{"outline": [[x, y], ...], "laps": [{"outline": [[x, y], ...], "depth": number}, ...]}, ...],
    "moves": [[[x, y, z], [x, y, z]], ...] at a feed}, ...]}

The cutter is a disc that goes along level moves; what it sweeps below the top is taken from the sticks.
Per row:
- what is left of the sticks above the mitres' floor has, for every piece, one part that is its outline:
  no point of either outline is farther from the other than the tolerance;
- each lap is swept at its depth, within its piece, just as far as its outline; nothing deeper, and
  nothing else, comes into a piece;
- nothing is swept below the mitres' floor, nor in the grips.
Moves down and up happen beside the sticks.
Exits 0 if so, with the number of pieces; else 1, with the reason on stderr after "refused: ".
"""

import json
import sys

import shapely
from shapely import STRtree
from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

LEVEL = 1e-9


class Refusal(Exception):
    """The pieces are not what is left."""


def swept(moves, radius):
    """What a disc sweeps; its round ends are clear of the wood, so that few segments will do."""
    ways = {tuple(sorted((tuple(a[:2]), tuple(b[:2])))) for a, b in moves}
    return unary_union([LineString(way).buffer(radius, quad_segs=4) for way in ways])


def distance(one, other):
    """The greatest distance of a point of either outline from the other outline."""
    far = lambda a, b: max(b.exterior.distance(shapely.Point(p)) for p in a.exterior.coords)
    return max(far(one, other), far(other, one))


def check(row):
    radius, tolerance, floor = row["radius"], row["tolerance"], -row["floor"]
    sticks = [Polygon(stick) for stick in row["sticks"]]
    wood = unary_union(sticks)
    low = [(a, b) for a, b in row["moves"] if min(a[2], b[2]) < -LEVEL]
    level = [(a, b) for a, b in low if abs(a[2] - b[2]) <= LEVEL and a[:2] != b[:2]]
    for a, b in low:
        if abs(a[2] - b[2]) > LEVEL:
            if a[:2] != b[:2]:
                raise Refusal(f"a slanted move {a} to {b}")
            if wood.distance(shapely.Point(a[:2])) < radius:
                raise Refusal(f"a plunge at {a[:2]}")
        if min(a[2], b[2]) < floor - tolerance:
            raise Refusal(f"{a} to {b} goes below the mitres' floor")
    whole = [(a, b) for a, b in level if a[2] <= floor + tolerance]
    left = wood.difference(swept(whole, radius))
    parts = list(left.geoms) if hasattr(left, "geoms") else [left]
    tree = STRtree(parts)
    for at, piece in enumerate(row["pieces"]):
        meant = Polygon(piece["outline"])
        inside = meant.representative_point()
        found = [parts[i] for i in tree.query(inside) if parts[i].contains(inside)]
        if len(found) != 1:
            raise Refusal(f"piece {at + 1} is not there")
        off = distance(found[0], meant)
        if off > tolerance:
            raise Refusal(f"piece {at + 1} is {off:.6f} off")
        core = meant.buffer(-tolerance)
        lap_moves = [(a, b) for a, b in level if a[2] > floor + tolerance]
        laps = [(Polygon(lap["outline"]), -lap["depth"]) for lap in piece["laps"]]
        near = [(a, b) for a, b in lap_moves if LineString([a[:2], b[:2]]).distance(core) < radius]
        for a, b in near:
            if not any(a[2] >= z - tolerance for _, z in laps):
                raise Refusal(f"{a} to {b} goes too deep into piece {at + 1}")
        cut = swept(near, radius).intersection(core) if near else Polygon()
        for lap, z in laps:
            deep = [(a, b) for a, b in near if a[2] <= z + tolerance]
            want = lap.buffer(-tolerance).intersection(core)
            if not swept(deep, radius).contains(want):
                raise Refusal(f"a lap of piece {at + 1} is not cut")
        rest = cut.difference(unary_union([lap.buffer(tolerance, join_style="mitre") for lap, _ in laps]))
        if rest.area > 1e-9:
            raise Refusal(f"piece {at + 1} is cut beside its laps")
    ends = [stick.bounds for stick in sticks]
    everywhere = swept(level, radius)
    for x0, y0, x1, y1 in ends:
        for grip in ((x0, x0 + row["grip"]), (x1 - row["grip"], x1)):
            box = shapely.box(grip[0], y0, grip[1], y1).buffer(-tolerance)
            if everywhere.intersects(box):
                raise Refusal("the tool comes into a grip")


def main():
    pieces = 0
    for row in json.load(sys.stdin)["rows"]:
        try:
            check(row)
        except Refusal as refusal:
            sys.exit(f"refused: {row['name']}: {refusal}")
        pieces += len(row["pieces"])
    print(pieces)


main()
