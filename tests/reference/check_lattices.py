"""Checks lattices as solids by a calculation of its own (shapely): strips cut into slabs.

    python check_lattices.py < DESCRIPTION.json

The description, mm and radians: {"lattices": [{"name": text, "thickness": number,
    "depth": number, "clearance": number,
    "hollow": false, or true where front and back strips may stay apart beside a middle one,
    "strips": [{"start": [x, y], "end": [x, y],
                "notches": [{"centre": u, "width": along the strip, "depth": number,
                             "face": "front" or "back", "angle": counter-clockwise from the
                             strip's direction}, ...]}, ...]}, ...]}

Every strip is a prism of its band, less one prism for each notch: the band of a mate that crosses
at the notch's angle. z runs from the front face (0) to the back. Between any two depths at which
something changes, per lattice:
- strips do not overlap (by more than a press fit's share where the clearance is negative);
- where the bands of two strips overlap, wood fills all of it but for gaps no wider than the
  clearance, at every level; with "hollow", not at levels between front and back strip where no
  third strip lies;
- what is cut away lies in the bands of other strips, but for half the clearance at each wall.
Exits 0 if so; else 1, with the reason on stderr after "refused: ".
"""

import json
import math
import sys

import shapely
from shapely import STRtree
from shapely.geometry import Polygon

AREA = 1e-6  # mm^2
LENGTH = 1e-6  # mm


class Refusal(Exception):
    """The strips do not go together."""


def along(strip):
    """Unit vector from the datum end, and the length."""
    (x0, y0), (x1, y1) = strip["start"], strip["end"]
    length = math.hypot(x1 - x0, y1 - y0)
    return ((x1 - x0) / length, (y1 - y0) / length), length


def band(centre, direction, half_length, half_width):
    """A rectangle about a point, long along a direction."""
    (x, y), (ux, uy) = centre, direction
    corners = [(-1, -1), (1, -1), (1, 1), (-1, 1)]
    return Polygon(
        [
            (
                x + a * half_length * ux - b * half_width * uy,
                y + a * half_length * uy + b * half_width * ux,
            )
            for a, b in corners
        ]
    )


class Strip:
    """A strip and the prisms that its notches take from it."""

    def __init__(self, strip, thickness, depth):
        (ux, uy), length = along(strip)
        (x0, y0), (x1, y1) = strip["start"], strip["end"]
        self.body = band(((x0 + x1) / 2, (y0 + y1) / 2), (ux, uy), length / 2, thickness / 2)
        self.slots = []
        for notch in strip["notches"]:
            u, angle = notch["centre"], notch["angle"]
            cosine, sine = math.cos(angle), math.sin(angle)
            mate = (ux * cosine - uy * sine, uy * cosine + ux * sine)
            centre = (x0 + u * ux, y0 + u * uy)
            width = notch["width"] * sine
            slot = band(centre, mate, 4 * thickness / sine + 4 * width, width / 2)
            if notch["face"] == "front":
                levels = (0.0, notch["depth"])
            else:
                levels = (depth - notch["depth"], depth)
            self.slots.append((levels, slot))

    def levels(self):
        return [level for levels, _ in self.slots for level in levels]

    def slab(self, z):
        """What is there at a depth."""
        cut = [slot for (low, high), slot in self.slots if low < z < high]
        return self.body.difference(shapely.union_all(cut)) if cut else self.body


def crossings(strips):
    """Pairs of strips whose bands overlap, and where."""
    bodies = [strip.body for strip in strips]
    tree = STRtree(bodies)
    for i, body in enumerate(bodies):
        for j in tree.query(body):
            if i < j:
                common = body.intersection(bodies[j])
                if common.area > AREA:
                    yield i, int(j), common


def check(lattice):
    depth, clearance = lattice["depth"], lattice["clearance"]
    strips = [Strip(s, lattice["thickness"], depth) for s in lattice["strips"]]
    levels = sorted({0.0, depth, *(z for strip in strips for z in strip.levels())})
    slabs = [(a, b) for a, b in zip(levels, levels[1:]) if b - a > 1e-9]
    nodes = list(crossings(strips))
    if not nodes:
        raise Refusal("no strip crosses another")
    met = [set() for _ in strips]
    for i, j, _ in nodes:
        met[i].add(j)
        met[j].add(i)
    slack = max(0.0, clearance) / 2 + LENGTH
    mates = [shapely.union_all([strips[k].body for k in others]) for others in met]
    rooms = [union.buffer(slack, join_style="mitre") for union in mates]
    thirds = [
        [k for k in met[i] & met[j] if strips[k].body.intersects(common)] for i, j, common in nodes
    ]
    for low, high in slabs:
        z = (low + high) / 2
        there = [strip.slab(z) for strip in strips]
        for i, strip in enumerate(strips):
            cut = strip.body.difference(there[i])
            if cut.difference(rooms[i]).area > AREA:
                raise Refusal(f"strip {i}, z {z:.3f}: a cut beside its mates")
        for (i, j, common), third in zip(nodes, thirds):
            where = f"strips {i} and {j}, z {z:.3f}"
            both = there[i].intersection(there[j])
            pressed = both.buffer(-max(0.0, -clearance) / 2 - LENGTH)
            if not pressed.is_empty:
                raise Refusal(f"{where}: wood in wood, {both.area:.6f} mm^2")
            around = [there[k] for k in (i, j, *third)]
            empty = common.difference(shapely.union_all(around))
            gap = empty.buffer(-max(0.0, clearance) / 2 - LENGTH)
            if gap.is_empty:
                continue
            # Front and back strip of three keep a fifth of the depth or more.
            if lattice["hollow"] and third and depth * 0.2 < z < depth * 0.8:
                continue
            raise Refusal(f"{where}: a gap of {empty.area:.6f} mm^2")


def main():
    try:
        for lattice in json.load(sys.stdin)["lattices"]:
            try:
                check(lattice)
            except Refusal as refusal:
                raise Refusal(f"{lattice['name']}: {refusal}") from None
    except Refusal as refusal:
        print(f"refused: {refusal}", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
