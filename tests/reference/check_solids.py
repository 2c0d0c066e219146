"""Checks panels of strips and pieces as solids, slab by slab, by a calculation of its own (shapely).

    python check_solids.py < DESCRIPTION.json

The description, mm and radians: {"panels": [{"name": text,
    "strips": [{"name": text, "start": [x, y], "end": [x, y], "thickness": t, "front": z, "depth": d,
                "notches": [LAP, ...]}, ...],
    "pieces": [{"name": text, "parts": [[[x, y], ...], ...],   outlines that make up one piece
                "axis": [[x, y], [x, y]], "reversed": boolean, "thickness": t, "front": z, "depth": d,
                "notches": [LAP, ...]}, ...]}, ...]}
LAP: {"centre": number, "width": number, "angle": number, "depth": number, "face": "front"|"back"}.

A strip's laps are measured from its start, a piece's from its extreme point where its axis begins, or
where it ends if it is told the other way round. z goes from the front to the back. Per panel:
- the parts of a piece make up one outline without a hole;
- no two bodies have a volume in common;
- where two bodies and no third one cross as seen from the front, every bit of depth that both have belongs to one of them:
  no lap is deeper or wider than its mate asks for, and none is missing;
- a body's laps lie over its own outline, and take nothing of it where nothing crosses it.
Exits 0 if so; else 1, with the reason on stderr after "refused: ".
"""

import json
import math
import sys

import shapely
from shapely.geometry import Polygon
from shapely.strtree import STRtree

VOLUME = 1e-6  # mm^3
AREA = 1e-6  # mm^2


class Refusal(Exception):
    """The bodies do not go together."""


def slot(origin, way, thickness, lap):
    """What a lap takes away, seen from the front: the mate's band across the body."""
    along = (way[0] * math.cos(lap["angle"]) - way[1] * math.sin(lap["angle"]),
             way[0] * math.sin(lap["angle"]) + way[1] * math.cos(lap["angle"]))
    middle = (origin[0] + way[0] * lap["centre"], origin[1] + way[1] * lap["centre"])
    half = lap["width"] * math.sin(lap["angle"]) / 2
    left = (-along[1], along[0])
    reach = 4 * thickness / math.sin(lap["angle"]) + 4 * half
    return Polygon([(middle[0] + a * reach * along[0] + b * half * left[0],
                     middle[1] + a * reach * along[1] + b * half * left[1])
                    for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))])


class Body:
    """An outline with slots of some depth in it."""

    def __init__(self, told, outline, origin, way):
        self.name = told["name"]
        self.outline = outline
        self.z = (told["front"], told["front"] + told["depth"])
        self.slots = []
        for lap in told["notches"]:
            ring = slot(origin, way, told["thickness"], lap)
            if not ring.intersection(outline).area > AREA:
                raise Refusal(f"{self.name}: a lap lies beside it")
            deep = lap["depth"]
            part = (self.z[0], self.z[0] + deep) if lap["face"] == "front" else (self.z[1] - deep, self.z[1])
            self.slots.append((ring, part))

    def levels(self):
        return {*self.z, *(z for _, part in self.slots for z in part)}

    def at(self, z):
        """Its section at a height."""
        if not self.z[0] < z < self.z[1]:
            return Polygon()
        cut = [ring for ring, part in self.slots if part[0] < z < part[1]]
        return self.outline.difference(shapely.union_all(cut)) if cut else self.outline


def strip(told):
    (x, y), (u, v) = told["start"], told["end"]
    length = math.hypot(u - x, v - y)
    way = ((u - x) / length, (v - y) / length)
    half = told["thickness"] / 2
    ring = [(x + s * half * way[1], y - s * half * way[0]) for s in (1, -1)]
    far = [(u + s * half * way[1], v - s * half * way[0]) for s in (-1, 1)]
    return Body(told, Polygon([ring[0], far[1], far[0], ring[1]]), (x, y), way)


def piece(told):
    outline = shapely.union_all([Polygon(part) for part in told["parts"]], grid_size=1e-9)
    if outline.geom_type != "Polygon" or outline.interiors:
        raise Refusal(f"{told['name']}: its parts do not make up one outline")
    (x, y), (u, v) = told["axis"]
    length = math.hypot(u - x, v - y)
    way = ((u - x) / length, (v - y) / length)
    if told["reversed"]:
        way = (-way[0], -way[1])
    first = min((p - x) * way[0] + (q - y) * way[1] for p, q in outline.exterior.coords)
    return Body(told, outline, (x + first * way[0], y + first * way[1]), way)


def check(panel):
    bodies = [strip(told) for told in panel["strips"]] + [piece(told) for told in panel["pieces"]]
    tree = STRtree([body.outline for body in bodies])
    for at, body in enumerate(bodies):
        near = [bodies[other].outline for other in tree.query(body.outline) if other != at]
        if body.slots:
            taken = shapely.union_all([ring for ring, _ in body.slots]).intersection(body.outline)
            beside = taken.difference(shapely.union_all(near)).area
            if beside > AREA:
                raise Refusal(f"{body.name} loses {beside:.6f} mm2 beside what crosses it")
        for other in sorted(tree.query(body.outline)):
            if other <= at:
                continue
            mate = bodies[other]
            crossing = body.outline.intersection(mate.outline)
            if crossing.area <= AREA:
                continue
            # Layers of more than two bodies leave a hollow where only some of them are.
            third = any(
                crossing.intersection(bodies[k].outline).area > AREA
                for k in tree.query(crossing)
                if k not in (at, other)
            )
            levels = sorted(body.levels() | mate.levels())
            for low, high in zip(levels, levels[1:]):
                z = (low + high) / 2
                one, two = body.at(z), mate.at(z)
                common = one.intersection(two).area * (high - low)
                if common > VOLUME:
                    raise Refusal(f"{body.name} and {mate.name} have {common:.6f} mm3 in common at z {z:.3f}")
                both = max(body.z[0], mate.z[0]) < z < min(body.z[1], mate.z[1])
                empty = crossing.difference(one.union(two)).area * (high - low)
                if both and empty > VOLUME and not third:
                    raise Refusal(f"{body.name} and {mate.name} leave {empty:.6f} mm3 empty at z {z:.3f}")


def main():
    try:
        for panel in json.load(sys.stdin)["panels"]:
            try:
                check(panel)
            except Refusal as reason:
                raise Refusal(f"{panel['name']}: {reason}") from None
    except Refusal as reason:
        print(f"refused: {reason}", file=sys.stderr)
        sys.exit(1)


if __name__ == "__main__":
    main()
