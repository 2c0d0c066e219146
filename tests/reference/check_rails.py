"""Checks a frame's mortises against the trimmed strips by a calculation of its own (shapely).

    python check_rails.py < DESCRIPTION.json

The description, mm: {"frames": [{"name": text, "thickness": of the strips, "inner": [[x, y], ...],
    "depth": of the mortises, "clearance": number,
    "rails": [{"start": [x, y], "end": [x, y],
               "mortises": [{"edges": [near, far] from the start, "strips": [index, ...]}, ...],
               "flush": [index, ...]}, ...],
    "strips": [{"start": [x, y], "end": [x, y], "cuts": [u, u] from the start}, ...]}]}

"inner" is the frame's inner outline, counter-clockwise; it is its rails, in order. A strip is
trimmed parallel to the rail that it meets. Per frame:
- every strip end is in exactly one mortise, or flush with a rail;
- a trimmed strip lies in the inner outline and its mortises, and reaches the mortise's floor;
- the wood in a mortise takes all its length along the rail but half the clearance on both sides,
  seen along the strip.
Exits 0 if so; else 1, with the reason on stderr after "refused: ".
"""

import json
import math
import sys

import numpy
import shapely
from shapely.geometry import Polygon

AREA = 1e-6  # mm^2
LENGTH = 1e-6  # mm


class Refusal(Exception):
    """The strips do not fit."""


def unit(v):
    return v / numpy.linalg.norm(v)


def cross(a, b):
    return a[0] * b[1] - a[1] * b[0]


def meeting(p, u, q, v):
    """Where p + s u is on q + t v: s."""
    return cross(q - p, v) / cross(u, v)


def trimmed(strip, thickness, lines):
    """The strip between two lines, each a direction through its cut."""
    start, end = numpy.array(strip["start"]), numpy.array(strip["end"])
    along = unit(end - start)
    side = numpy.array([-along[1], along[0]]) * thickness / 2
    corners = []
    for cut, line in zip(strip["cuts"], lines):
        on = start + along * cut
        pair = [start + half + along * meeting(start + half, along, on, line) for half in (-side, side)]
        corners.append(pair)
    (a, b), (c, d) = corners
    return Polygon([a, c, d, b])


def check(frame):
    inner = Polygon(frame["inner"])
    depth, clearance = frame["depth"], frame["clearance"]
    middle = numpy.array(inner.centroid.coords[0])
    ends = {}  # (strip, 0 or 1) -> rail, mortise or None
    rails = []
    for number, rail in enumerate(frame["rails"]):
        start, end = numpy.array(rail["start"]), numpy.array(rail["end"])
        along = unit(end - start)
        out = numpy.array([along[1], -along[0]])
        if numpy.dot(out, start - middle) < 0:
            out = -out
        rails.append((start, along, out))
        homes = [(mortise["strips"], mortise) for mortise in rail["mortises"]]
        for strips, mortise in [*homes, (rail["flush"], None)]:
            for strip in strips:
                s = frame["strips"][strip]
                a, b = numpy.array(s["start"]), numpy.array(s["end"])
                # The end that stands out over the rail's inner face.
                which = int(numpy.dot(out, b - start) > numpy.dot(out, a - start))
                # A strip that ends in a corner may be flush with two rails.
                if mortise is not None and ends.get((strip, which), (0, None))[1] is not None:
                    raise Refusal(f"strip {strip} has two mortises at end {which}")
                ends.setdefault((strip, which), (number, mortise))
    for strip, s in enumerate(frame["strips"]):
        if not {(strip, 0), (strip, 1)} <= ends.keys():
            raise Refusal(f"strip {strip} has an end that meets no rail")
        lines = [rails[ends[strip, which][0]][1] for which in (0, 1)]
        wood = trimmed(s, frame["thickness"], lines)
        room = [inner]
        for which in (0, 1):
            number, mortise = ends[strip, which]
            if mortise is None:
                continue
            start, along, out = rails[number]
            near, far = mortise["edges"]
            corners = [start + along * near, start + along * far]
            hole = Polygon([*corners, *(c + out * depth for c in reversed(corners))])
            room.append(hole)
            let_in = wood.intersection(hole)
            points = numpy.array(let_in.exterior.coords) - start
            reach = points @ out
            if abs(reach.max() - depth) > LENGTH:
                raise Refusal(f"strip {strip} stands {reach.max():.6f} deep")
            if len(mortise["strips"]) == 1:
                a, b = numpy.array(s["start"]), numpy.array(s["end"])
                slack = clearance / 2 / abs(cross(along, unit(b - a)))
                spread = points @ along
                for found, wanted in ((spread.min() - slack, near), (spread.max() + slack, far)):
                    if abs(found - wanted) > LENGTH:
                        raise Refusal(f"strip {strip}: {found:.6f} along the rail, not {wanted:.6f}")
        outside = wood.difference(shapely.union_all(room).buffer(LENGTH))
        # At a corner of the frame a strip that is cut flush may stand into the other rail.
        corner = any(ends[strip, which][1] is None for which in (0, 1))
        if outside.area > AREA and not corner:
            raise Refusal(f"strip {strip} has no room for {outside.area:.6f} mm^2")


def main():
    try:
        for frame in json.load(sys.stdin)["frames"]:
            try:
                check(frame)
            except Refusal as refusal:
                raise Refusal(f"{frame['name']}: {refusal}") from None
    except Refusal as refusal:
        print(f"refused: {refusal}", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
