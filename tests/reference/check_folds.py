"""Bends strips that are laid straight, and compares them with the legs that they are to become.

    python check_folds.py < DESCRIPTION.json

The description, mm: {"strips": [{"name": text, "thickness": number, "skin": number,
    "outline": [[x, y], ...],                  # of the straight strip, its V's cut: axis on y = 0, left end at x = 0
    "folds": [{"at": x, "inner": "left" or "right", "outer": [from one end, from the other]}, ...],
    "legs": [{"outline": [[x, y], ...], "axis": [[x, y], [x, y]]}, ...]}, ...]}, legs in the order along the strip,
with their axes in that direction, each mitred at its ends where it meets the next one.

Per strip: cut square at every V's point into legs, and turned about these points as far as its V's walls let it,
its legs do not overlap; together they fill what the mitred legs fill, but for the outer corner at each bend,
where a skin s that turns by b leaves s^2 tan(b / 2), and has room to go round; where the V lies along the
outer side is as told. Exits 0 if so and prints, as JSON, {"strips": count, "bends": count}; else 1, with the reason
on stderr after "refused: ".
"""

import json
import math
import sys

from shapely import affinity
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

AREA = 1e-8  # mm2
LENGTH = 1e-7  # mm


def point_of(ring, at, inner, half):
    """The V's point: the corner at x off both sides, and the walls' ends at the inner side on either hand."""
    side = half if inner == "left" else -half
    here = [k for k, (x, y) in enumerate(ring) if abs(x - at) < LENGTH and abs(abs(y) - half) > LENGTH]
    assert len(here) == 1, f"no point of a V at {at}"
    k = here[0]
    ends = [ring[k - 1], ring[(k + 1) % len(ring)]]
    assert all(abs(y - side) < LENGTH for _, y in ends), f"the V at {at} is not cut from the {inner} side"
    return ring[k], sorted(ends)


def straight(strip):
    """Whether the legs, one after the other, lie as the strip is drawn: the first leg's motion to its frame."""
    first = strip["legs"][0]
    (ax, ay), (bx, by) = first["axis"]
    long = math.hypot(bx - ax, by - ay)
    u, v = (bx - ax) / long, (by - ay) / long

    def along(p):
        return (p[0] - ax) * u + (p[1] - ay) * v

    start = min(along(p) for p in first["outline"])
    return lambda p: (along(p) - start, (p[1] - ay) * u - (p[0] - ax) * v)


def check(strip):
    half, skin = strip["thickness"] / 2, strip["skin"]
    ring = [tuple(p) for p in strip["outline"]]
    whole = Polygon(ring)
    assert whole.is_valid and whole.exterior.is_ccw, "no simple outline"
    long = max(x for x, _ in ring)
    cuts = [0, *(fold["at"] for fold in strip["folds"]), long]
    legs = [whole.intersection(box(a, -2 * half, b, 2 * half)) for a, b in zip(cuts, cuts[1:])]
    missing, round_corners = 0, []
    for k, fold in reversed(list(enumerate(strip["folds"]))):
        point, ((left, _), (right, _)) = point_of(ring, fold["at"], fold["inner"], half)
        deep = abs((half if fold["inner"] == "left" else -half) - point[1])
        assert abs(2 * half - deep - skin) < LENGTH, f"a skin of {2 * half - deep}"
        halves = [math.atan2(point[0] - left, deep), math.atan2(right - point[0], deep)]
        assert abs(halves[0] - halves[1]) < 1e-9, "walls not alike"
        bend = sum(halves)
        turn = bend if fold["inner"] == "left" else -bend
        legs[k + 1:] = [affinity.rotate(leg, turn, point, use_radians=True) for leg in legs[k + 1:]]
        round_corners = [affinity.rotate(c, turn, point, use_radians=True) for c in round_corners]
        missing += skin**2 * math.tan(bend / 2)
        away = -1 if fold["inner"] == "left" else 1
        fan = [point]
        fan += [
            (point[0] - away * skin * math.sin(a), point[1] + away * skin * math.cos(a))
            for a in (turn * step / 64 for step in range(65))
        ]
        round_corners.append(Polygon(fan))
        outer = [x for x, y in ring if abs(y + (half if fold["inner"] == "left" else -half)) < LENGTH]
        told = [fold["at"] - min(outer), max(outer) - fold["at"]]
        assert all(abs(a - b) < LENGTH for a, b in zip(told, fold["outer"])), f"outer side {told}"
    for k, leg in enumerate(legs):
        for other in legs[:k]:
            assert leg.intersection(other).area < AREA, "legs overlap"
    place = straight(strip)
    mitred = [Polygon([place(p) for p in leg["outline"]]) for leg in strip["legs"]]
    wanted, bent = unary_union([leg.buffer(0) for leg in mitred]), unary_union([leg.buffer(0) for leg in legs])
    beyond, lacks = bent.difference(wanted).area, wanted.difference(bent).area
    assert beyond < AREA, f"{beyond} mm2 stand out of the legs"
    assert abs(lacks - missing) < AREA, f"{lacks} mm2 lack, the corners are {missing}"
    for corner in round_corners:
        assert corner.difference(wanted.buffer(LENGTH)).area < AREA, "no room for the skin"


def main():
    strips = json.load(sys.stdin)["strips"]
    for strip in strips:
        try:
            check(strip)
        except AssertionError as reason:
            sys.exit(f"refused: {strip['name']}: {reason}")
    print(json.dumps({"strips": len(strips), "bends": sum(len(strip["folds"]) for strip in strips)}))


main()
