"""Pieces of the shipped patterns, constructed here from the openings of a grid: a band along an
axis, cut by walls and by the planes in which it meets its neighbours. Millimetres, radians.

A piece is a solid: a list of slabs (z0, z1, polygon), z from the front face to the back, the
polygon as the front shows it, axis along u, one long side on v = 0 and the other on v = t.
"""

import math

from shapely import affinity, union_all
from shapely.geometry import Polygon

FAR = 1e4


def _unit(angle):
    return (math.cos(angle), math.sin(angle))


def _beside(p, direction, left):
    """All that lies to the left (or right) of a line."""
    dx, dy = direction
    nx, ny = (-dy, dx) if left else (dy, -dx)
    a = (p[0] - FAR * dx, p[1] - FAR * dy)
    b = (p[0] + FAR * dx, p[1] + FAR * dy)
    return Polygon([a, b, (b[0] + FAR * nx, b[1] + FAR * ny), (a[0] + FAR * nx, a[1] + FAR * ny)])


def _band(p, q, width):
    """What lies within half a width of the line through two points."""
    length = math.dist(p, q)
    d = ((q[0] - p[0]) / length, (q[1] - p[1]) / length)
    n = (-d[1] * width / 2, d[0] * width / 2)
    a = (p[0] - FAR * d[0], p[1] - FAR * d[1])
    b = (q[0] + FAR * d[0], q[1] + FAR * d[1])
    return Polygon(
        [
            (a[0] - n[0], a[1] - n[1]),
            (b[0] - n[0], b[1] - n[1]),
            (b[0] + n[0], b[1] + n[1]),
            (a[0] + n[0], a[1] + n[1]),
        ]
    )


def _to(p, q):
    return math.atan2(q[1] - p[1], q[0] - p[0])


def _middle(p, q):
    return ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)


def _sector(centre, toward, half):
    """What is seen from a centre within half an angle of a direction."""
    right = _beside(centre, _unit(toward - half), True)
    left = _beside(centre, _unit(toward + half), False)
    return right.intersection(left)


def _incentre(corners):
    """Weighted by the opposite sides."""
    sides = [math.dist(corners[(i + 1) % 3], corners[(i + 2) % 3]) for i in range(3)]
    total = sum(sides)
    return tuple(sum(s * c[k] for s, c in zip(sides, corners)) / total for k in (0, 1))


class Bar:
    """A piece in its cell."""

    def __init__(self, name, start, end, shape, copies=1):
        self.name, self.start, self.end, self.shape, self.copies = name, start, end, shape, copies
        self.laps = []  # (mate's start, mate's end, "front" or "back") each

    def solid(self, thickness, depth, lap_width):
        turn = -_to(self.start, self.end)

        def laid(shape):
            shape = affinity.translate(shape, -self.start[0], -self.start[1])
            shape = affinity.rotate(shape, turn, origin=(0, 0), use_radians=True)
            return affinity.translate(shape, 0, thickness / 2)

        if not self.laps:
            return [(0.0, depth, laid(self.shape))]

        def half(face):
            shape = self.shape
            for mate_start, mate_end, at in self.laps:
                if at == face:
                    shape = shape.difference(_band(mate_start, mate_end, lap_width))
            return laid(shape)

        return [(0.0, depth / 2, half("front")), (depth / 2, depth, half("back"))]


def _rectangle(w, h):
    return [(0, 0), (w, 0), (w, h), (0, h)]


def _triangle(inradius):
    """Equal sides, base down."""
    side = 2 * math.sqrt(3) * inradius
    return [(0, 0), (side, 0), (side / 2, side * math.sqrt(3) / 2)]


def _rhomb(apart, acute):
    side = apart / math.sin(acute)
    x, y = side * math.cos(acute), side * math.sin(acute)
    return [(0, 0), (side, 0), (side + x, y), (x, y)]


def _diagonal(corners, t, name="diagonal", ends=(0, 2)):
    p, q = (corners[k] for k in ends)
    return Bar(name, p, q, _band(p, q, t).intersection(Polygon(corners)))


def _single_diagonal(corners, t):
    """In every other cell the other one; in a rhomb that is another piece, and of how many there
    are nothing is said here."""
    one, other = _diagonal(corners, t), _diagonal(corners, t, ends=(1, 3))
    if abs(math.dist(one.start, one.end) - math.dist(other.start, other.end)) < 1e-9:
        return [one]
    one.copies = other.copies = 0
    return [one, other]


def _square_hemp_leaf(corners, t):
    s = corners[2][0]
    diagonal = _diagonal(corners, t)
    # One half: under the diagonal's lower side, y = x - t / cos 45.
    low, right, high = (t * math.sqrt(2) / 2, 0), (s, 0), (s, s - t * math.sqrt(2) / 2)
    half = Polygon([low, right, high])
    centre = _incentre([low, right, high])
    hinge = _band(low, centre, t)
    lock = _band(right, centre, t)
    # The hinges meet on the half's own axis, x + y = s; hinge and lock have their facet in
    # common, 67.5 degrees to the hinge: straight up, from where their sides meet.
    side_of_hinge = _to(low, centre)
    hx, hy = low[0] + t / 2 * math.sin(side_of_hinge), low[1] - t / 2 * math.cos(side_of_hinge)
    lx, ly = s - t / 2 * math.sqrt(0.5), -t / 2 * math.sqrt(0.5)  # the lock's lower left side
    # hy + (x - hx) tan = ly + (lx - x)
    slope = math.tan(side_of_hinge)
    x = (ly + lx - hy + hx * slope) / (1 + slope)
    under_axis = _beside((s, 0), _unit(math.radians(135)), True)
    before = _beside((x, 0), (0, 1), True)
    hinge = hinge.intersection(half).intersection(under_axis).intersection(before)
    behind = _beside((x, 0), (0, 1), False)
    below = _beside((0, s - x), (1, 0), False)
    lock = lock.intersection(half).intersection(behind).intersection(below)
    return [
        diagonal,
        Bar("hinge", low, centre, hinge, 4),
        Bar("lock", right, centre, lock, 2),
    ]


def _leaves(corners, t, names):
    """Pieces from the corners of a triangle to its incentre, planes half-way between them."""
    centre = _incentre(corners)
    ways = [_to(centre, corner) for corner in corners]
    bars = []
    for at, corner in enumerate(corners):
        shape = _band(corner, centre, t).intersection(Polygon(corners))
        for other in (ways[at - 1], ways[at - 2]):
            off = (other - ways[at] + math.pi) % (2 * math.pi) - math.pi
            plane = ways[at] + off / 2
            shape = shape.intersection(_beside(centre, _unit(plane), off < 0))
        bars.append(Bar(names[at], corner, centre, shape))
    return bars


def _triangular_hemp_leaf(corners, t):
    return _leaves(corners, t, ["leaf"] * 3)


def _diamond_hemp_leaf(corners, t):
    diagonal = _diagonal(corners, t, ends=(1, 3))
    sw, se, _, nw = corners
    # The triangle under the diagonal's near side: both walls shortened alike.
    acute = _to(sw, nw)
    off = t / 2 / math.sin((math.pi - acute) / 2)
    share = 1 - off / math.dist(sw, se)
    triangle = [sw, (se[0] * share, se[1] * share), (nw[0] * share, nw[1] * share)]
    leaf, low, high = _leaves(triangle, t, ["leaf", "side-leaf", "side-leaf"])
    for bar in (leaf, low, high):
        bar.copies = 2
    return [diagonal, leaf, low, high]


def _crossed(corners, t):
    rising = _diagonal(corners, t, "rising", (0, 2))
    falling = _diagonal(corners, t, "falling", (3, 1))
    rising.laps = [(falling.start, falling.end, "back")]
    falling.laps = [(rising.start, rising.end, "front")]
    return [falling, rising]


def _in_ring(points, cell, t, names):
    """Bars from point to point, planes half-way between neighbours."""
    bars = []
    count = len(points)
    for at, (p, q) in enumerate(zip(points, points[1:] + points[:1])):
        shape = _band(p, q, t).intersection(Polygon(cell))
        before, after = points[at - 1], points[(at + 2) % count]
        for end, own, other in ((p, q, before), (q, p, after)):
            mine, its = _unit(_to(end, own)), _unit(_to(end, other))
            plane = (mine[0] + its[0], mine[1] + its[1])
            left = plane[0] * mine[1] - plane[1] * mine[0] > 0
            size = math.hypot(*plane)
            plane = (plane[0] / size, plane[1] / size)
            shape = shape.intersection(_beside(end, plane, left))
        bars.append(Bar(names[at], p, q, shape))
    return bars


def _nested(corners, t):
    middles = [_middle(p, q) for p, q in zip(corners, corners[1:] + corners[:1])]
    return _in_ring(middles, corners, t, ["bar", "bar-2", "bar-3", "bar-4"])


def _central_triangle(corners, t):
    base, right, left = (_middle(p, q) for p, q in zip(corners, corners[1:] + corners[:1]))
    return _in_ring([base, right, left], corners, t, ["bar", "bar-2", "bar-3"])


def _corner_brace(corners, t):
    w, h = corners[2]
    p, q = (0, h / 4), (w / 4, 0)
    shape = _band(p, q, t).intersection(Polygon(corners))
    return [Bar("brace", p, q, shape, 4)]


def _wall_spokes(corners, t):
    centre = _incentre(corners)
    base = _middle(corners[0], corners[1])
    shape = _band(base, centre, t).intersection(Polygon(corners))
    shape = shape.intersection(_sector(centre, _to(centre, base), math.radians(60)))
    return [Bar("spoke", base, centre, shape, 3)]


PATTERNS = {
    "square-hemp-leaf": _square_hemp_leaf,
    "triangular-hemp-leaf": _triangular_hemp_leaf,
    "diamond-hemp-leaf": _diamond_hemp_leaf,
    "crossed-diagonals": _crossed,
    "single-diagonal": _single_diagonal,
    "nested-square": _nested,
    "central-triangle": _central_triangle,
    "corner-brace": _corner_brace,
    "wall-spokes": _wall_spokes,
}


def openings(grid, t):
    """Corners of each size of cell, and how many there are. `grid`: {"kind": "square", "x":
    pitches, "y": pitches}, {"kind": "triangular", "side", "cells"} or {"kind": "diamond", "pitch",
    "angle" in degrees, "cells"}."""
    if grid["kind"] == "square":
        found = {}
        for y in grid["y"]:
            for x in grid["x"]:
                found[(x - t, y - t)] = found.get((x - t, y - t), 0) + 1
        return [(_rectangle(*size), count) for size, count in found.items()]
    if grid["kind"] == "triangular":
        return [(_triangle(grid["side"] / 2 / math.sqrt(3) - t / 2), grid["cells"])]
    return [(_rhomb(grid["pitch"] - t, math.radians(grid["angle"])), grid["cells"])]


def turned(solid, thickness, depth):
    """A solid in the four ways in which it lies flat in a stick: turned half round about each
    axis. What shows on the front turns with it, so a mirror image is not among them unless the
    piece is one itself."""

    def each(flip_u, flip_v):
        slabs = []
        for z0, z1, shape in solid:
            if flip_u:
                shape = affinity.scale(shape, -1, 1, origin=(0, 0))
            if flip_v:
                shape = affinity.scale(shape, 1, -1, origin=(0, thickness / 2))
            # One mirroring in the plan alone has to be a turn over: front and back change.
            if flip_u != flip_v:
                z0, z1 = depth - z1, depth - z0
            slabs.append((z0, z1, shape))
        return slabs

    return [each(u, v) for u in (False, True) for v in (False, True)]


def span(solid):
    """Least and greatest u."""
    bounds = [shape.bounds for _, _, shape in solid if not shape.is_empty]
    return min(b[0] for b in bounds), max(b[2] for b in bounds)


def moved(solid, along):
    return [(z0, z1, affinity.translate(shape, along, 0)) for z0, z1, shape in solid]


def same_solid(one, other, thickness):
    for z in sorted({z for z0, z1, _ in one + other for z in (z0, z1)})[:-1]:
        a = next(shape for z0, z1, shape in one if z0 <= z < z1)
        b = next(shape for z0, z1, shape in other if z0 <= z < z1)
        if a.symmetric_difference(b).area > 1e-6 * thickness:
            return False
    return True


class Wanted:
    """Pieces that are one part; `count` of them, 0 where that is not known here."""

    def __init__(self, name, solid, thickness, depth):
        self.name, self.count = name, 0
        first, last = span(solid)
        self.solid = moved(solid, -first)
        self.length = last - first
        self.ways = []
        for way in turned(self.solid, thickness, depth):
            self.ways.append(moved(way, -span(way)[0]))


def wanted(case):
    """Distinct pieces of a panel, in the order of cells and pattern, with how many there are."""
    t, depth = case["thickness"], case["depth"]
    found = []
    for corners, cells in openings(case["grid"], t):
        for bar in PATTERNS[case["pattern"]](corners, t):
            solid = bar.solid(t, depth, case.get("lap_width", t + case["clearance"]))
            new = Wanted(bar.name, solid, t, depth)
            for known in found:
                if any(
                    abs(known.length - new.length) < 1e-7 and same_solid(known.solid, way, t)
                    for way in new.ways
                ):
                    break
            else:
                found.append(new)
                known = new
            known.count += bar.copies * cells
    return found


def stops_of(piece, thickness):
    """Per end (that of the axis' start first): the point's distance from the other one, S and S'
    of each of its facets, by drawing on each facet's edge to the fence. Sides: v = 0 is the right
    one of a piece that runs along u."""
    # Laps go half through, from either face: both halves together are the whole plan.
    shape = union_all([slab[2] for slab in piece.ways[0]])
    ring = list(shape.simplify(1e-9).exterior.coords)
    ends = [[], []]
    for (x0, y0), (x1, y1) in zip(ring, ring[1:]):
        if abs(y1 - y0) < 1e-9:
            continue
        lean = (x1 - x0) / (y1 - y0)
        ends[int((x0 + x1) / 2 > piece.length / 2)].append((x0 - y0 * lean, lean, (y0 + y1) / 2))
    found = []
    for far, facets in enumerate(ends):
        told = []
        for at_zero, lean, _ in facets:
            if not far:  # look at it with this end to the right
                at_zero, lean = piece.length - at_zero, -lean
            if abs(lean) < 1e-9:
                told.append((90.0, at_zero, at_zero))
                continue
            # The facet meets both sides of the band, drawn on: S on the side that it cuts into,
            # where it has come nearer the other end; S' on the other one.
            both = sorted([at_zero, at_zero + thickness * lean])
            told.append((math.degrees(math.atan(1 / abs(lean))), both[0], both[1]))
        found.append(sorted(told, key=lambda one: (round(one[0], 6), one[1])))
    return found
