"""The figures of the shipped patterns, constructed here cell by cell: axes from coordinates worked out in
this file, bands about them, what others cut off. Millimetres, radians; corners counter-clockwise, the first
one the pattern's.

A figure is a list of bars (`mitre_pieces.Bar`), each piece of a cell one of them, and who laps whom: pairs
(notched from the front, notched from the back). `FIGURES` has those that `mitre_pieces` does not; whoever
imports this file finds them among `mitre_pieces.PATTERNS` as well."""

import math

from shapely import affinity
from shapely.geometry import LineString, Point, Polygon

from mitre_pieces import PATTERNS, Bar, _band, _beside, _incentre, _leaves, _to, _unit

TURN = 2 * math.pi


class Figure:
    """A cell with what is in it so far."""

    def __init__(self, corners, thickness):
        self.corners, self.t = corners, thickness
        self.cell = Polygon(corners)
        count = len(corners)
        self.middle = tuple(sum(c[k] for c in corners) / count for k in (0, 1))
        self.bars, self.laps = [], []

    def at(self, x, y):
        """Fractions along the walls from the first corner; of a triangle of base and height."""
        (ox, oy), (ux, uy), last = self.corners[0], self.corners[1], self.corners[-1]
        if len(self.corners) == 3:
            return (x * ux, y * last[1])
        return (ox + x * (ux - ox) + y * (last[0] - ox), oy + x * (uy - oy) + y * (last[1] - oy))

    def turned(self, p, step, steps):
        angle = TURN * step / steps
        x, y = p[0] - self.middle[0], p[1] - self.middle[1]
        c, s = math.cos(angle), math.sin(angle)
        return (self.middle[0] + c * x - s * y, self.middle[1] + s * x + c * y)

    def bar(self, name, p, q):
        """A band as far as the cell goes."""
        self.bars.append(Bar(name, p, q, _band(p, q, self.t).intersection(self.cell)))
        return self.bars[-1]

    def horned(self, name, p, q, before, beyond):
        """A bar cut square so many thicknesses before p and beyond q."""
        way = _unit(_to(p, q))
        start = (p[0] - before * self.t * way[0], p[1] - before * self.t * way[1])
        end = (q[0] + beyond * self.t * way[0], q[1] + beyond * self.t * way[1])
        shape = LineString([start, end]).buffer(self.t / 2, cap_style="flat")
        self.bars.append(Bar(name, start, end, shape.intersection(self.cell)))
        return self.bars[-1]

    def ring(self, name, p, q, steps):
        """As many bars about the middle."""
        turned = self.turned
        return [self.bar(name, turned(p, k, steps), turned(q, k, steps)) for k in range(steps)]

    def against(self, bar, *mates):
        """What lies behind a mate, seen from the bar's middle, goes with the mate itself."""
        middle = Point((bar.start[0] + bar.end[0]) / 2, (bar.start[1] + bar.end[1]) / 2)
        for mate in mates:
            left = bar.shape.difference(_band(mate.start, mate.end, self.t))
            parts = getattr(left, "geoms", [left])
            bar.shape = min(parts, key=lambda part: part.distance(middle))

    def meet(self, p, *bars):
        """Ends that meet at a point: each keeps what is nearer to its own direction than to others'."""
        ways = []
        for bar in bars:
            at_start = math.dist(bar.start, p) < math.dist(bar.end, p)
            own, far = (bar.start, bar.end) if at_start else (bar.end, bar.start)
            assert math.dist(own, p) < 1e-9, (bar.name, p)
            ways.append(_to(own, far))
        for bar, way in zip(bars, ways):
            others = [(other - way) % TURN for other in ways if other != way]
            left, right = min(others) / 2, (TURN - max(others)) / 2
            bar.shape = bar.shape.intersection(_beside(p, _unit(way + left), False))
            bar.shape = bar.shape.intersection(_beside(p, _unit(way - right), True))

    def lap(self, front, *backs):
        """`front` is notched from the front, the others from the back."""
        self.laps += [(front, back) for back in backs]


def _meet(p, u, q, v):
    """Where a line from p along u meets one from q along v."""
    area = u[0] * v[1] - u[1] * v[0]
    along = ((q[0] - p[0]) * v[1] - (q[1] - p[1]) * v[0]) / area
    return (p[0] + along * u[0], p[1] + along * u[1])


# Squares, and what holds in oblongs and rhombs too.


def _grid(f, xs, ys):
    """Uprights and level bars, the level ones notched from the front."""
    posts = [f.bar("post", f.at(x, 0), f.at(x, 1)) for x in xs]
    rails = [f.bar("rail", f.at(0, y), f.at(1, y)) for y in ys]
    for rail in rails:
        f.lap(rail, *posts)
    return posts, rails


def _upright_cross(f):
    _grid(f, [1 / 2], [1 / 2])


def _double_lines(f):
    _grid(f, [0.3], [0.3])


def _well_curb(f):
    return _grid(f, [1 / 3, 2 / 3], [1 / 3, 2 / 3])


def _well_curb_locks(f):
    (left, right), (low, high) = _well_curb(f)
    crossings = [(1, 1, left, low), (2, 1, right, low), (2, 2, right, high), (1, 2, left, high)]
    for corner, (x, y, post, rail) in zip(f.corners, crossings):
        f.against(f.bar("lock", corner, f.at(x / 3, y / 3)), post, rail)


def _horned_well_curb(f):
    low, high = 1 / 3, 2 / 3
    posts = [f.horned("post", f.at(x, low), f.at(x, high), 2, 2) for x in (low, high)]
    rails = [f.horned("rail", f.at(low, y), f.at(high, y), 2, 2) for y in (low, high)]
    for rail in rails:
        f.lap(rail, *posts)
    for corner, (x, y) in zip(f.corners, [(0, 0), (1, 0), (1, 1), (0, 1)]):
        lock = f.bar("lock", corner, f.at((1 + x) / 3, (1 + y) / 3))
        f.against(lock, posts[x], rails[y])


def _horned_crossings(f):
    """Parts in one cell: quarters of a square about each of its corners."""
    locks = []
    for x, y in [(0, 0), (1, 0), (1, 1), (0, 1)]:
        u, v = 0.3 + 0.4 * x, 0.3 + 0.4 * y
        post = f.horned("post", f.at(u, y), f.at(u, v), 0, 2)
        rail = f.horned("rail", f.at(x, v), f.at(u, v), 0, 2)
        f.lap(rail, post)
        locks.append(f.bar("lock", f.at(u, v), f.at(0.5, 0.5)))
        f.against(locks[-1], post, rail)
    f.meet(f.at(0.5, 0.5), *locks)


def _turned_slats(f):
    for name, x in (("middle-slat", 2), ("slat", 1), ("slat", 3)):
        f.bar(name, f.at(x / 4, 0), f.at(x / 4, 1))


def _diagonals(f):
    sw, se, ne, nw = f.corners
    rising, falling = f.bar("rising", sw, ne), f.bar("falling", nw, se)
    f.lap(falling, rising)
    return rising, falling


def _eight_spokes(f):
    both = _diagonals(f)
    for spoke in f.ring("spoke", f.at(0.5, 0), f.middle, 4):
        f.against(spoke, *both)


def _four_leaf(f):
    """A quarter between the diagonals' sides is half a square of hemp leaf, its right angle at the middle."""
    _diagonals(f)
    s, root = f.corners[2][0], math.sqrt(2)
    # Legs of the quarter; in a square of hemp leaf half a diagonal's thickness, slanted, less.
    other = s / root - f.t + f.t / root
    _, hinge, lock = PATTERNS["square-hemp-leaf"](
        [(0, 0), (other, 0), (other, other), (0, other)], f.t
    )
    corner, inner = (other, 0), (s / 2, s / 2 - f.t / root)

    def laid(shape):
        """Legs that run left and up run down to the right and to the left."""
        shape = affinity.translate(shape, -corner[0], -corner[1])
        return affinity.translate(affinity.rotate(shape, 135, origin=(0, 0)), *inner)

    def mirrored(shape):
        """The other hinge, in the half's own axis x + y = side."""
        return affinity.affine_transform(shape, [0, -1, -1, 0, other, other])

    for name, bar, moved in (
        ("leaf", hinge, laid),
        ("leaf", hinge, lambda shape: laid(mirrored(shape))),
        ("spoke", lock, laid),
    ):
        for k in range(4):
            ends = [moved(Point(p)) for p in (bar.start, bar.end)]
            ends = [f.turned((end.x, end.y), k, 4) for end in ends]
            shape = affinity.rotate(moved(bar.shape), 90 * k, origin=f.middle)
            f.bars.append(Bar(name, *ends, shape))


def _braced_diagonals(f):
    rising, falling = _diagonals(f)
    braces = f.ring("brace", f.at(0, 0.25), f.at(0.25, 0), 4)
    f.lap(rising, braces[0], braces[2])
    f.lap(falling, braces[1], braces[3])


def _nested(f):
    """A square on the middles of the walls, counter-clockwise from the south wall."""
    south = f.at(0.5, 0)
    bars = f.ring("bar", south, f.at(1, 0.5), 4)
    for k in range(4):
        f.meet(f.turned(south, k, 4), bars[k - 1], bars[k])
    return bars


def _nested_diagonals(f):
    bars = _nested(f)
    rising, falling = _diagonals(f)
    f.lap(rising, bars[1], bars[3])
    f.lap(falling, bars[0], bars[2])


def _nested_cross(f):
    bars = _nested(f)
    # A corner inside the square lies t / sqrt 2 from the wall.
    s, off = f.corners[2][0], f.t / math.sqrt(2)
    post = f.bar("post", (s / 2, off), (s / 2, s - off))
    rail = f.bar("rail", (off, s / 2), (s - off, s / 2))
    for bar in (post, rail):
        f.against(bar, *bars)
    f.lap(rail, post)


def _locked(f, bars, side):
    """Locks from all corners square onto a ring's bars; `side` lies on the last one."""
    for k, lock in enumerate(f.ring("lock", f.corners[0], side, len(f.corners))):
        f.against(lock, bars[k - 1])


def _nested_locks(f):
    _locked(f, _nested(f), f.at(0.25, 0.25))


def _loose_ring(f, p, steps):
    """Bars from p to where a step of the turn brings it, mitred with each other."""
    bars = f.ring("bar", p, f.turned(p, 1, steps), steps)
    for k in range(steps):
        f.meet(f.turned(p, k, steps), bars[k - 1], bars[k])
    return bars


def _point_locks(f):
    _locked(f, _loose_ring(f, f.at(0.5, 0.25), 4), f.at(0.375, 0.375))


def _spoked_ring(f, p, outside):
    """A ring with a lock from outside at each of its corners."""
    steps = len(f.corners)
    bars = f.ring("bar", p, f.turned(p, 1, steps), steps)
    locks = f.ring("lock", outside, p, steps)
    for k in range(steps):
        f.meet(f.turned(p, k, steps), bars[k - 1], bars[k], locks[k])


def _octagons(f):
    _spoked_ring(f, f.at(0.35, 0.35), f.corners[0])


def _held_square(f):
    """What lies inside the square's outer edge is no lock's; each is what is left toward its corner."""
    points = [f.at(x, y) for x, y in [(0.3, 0.3), (0.7, 0.3), (0.7, 0.7), (0.3, 0.7)]]
    bars = [f.bar("bar", p, q) for p, q in zip(points, points[1:] + points[:1])]
    for k, p in enumerate(points):
        f.meet(p, bars[k - 1], bars[k])
    outer = Polygon(points).buffer(f.t / 2, join_style="mitre", mitre_limit=100)
    for corner in f.corners:
        over = min(outer.exterior.coords, key=lambda p: math.dist(p, corner))
        lock = f.bar("lock", corner, over)
        left = lock.shape.difference(outer)
        lock.shape = min(getattr(left, "geoms", [left]), key=lambda part: part.distance(Point(corner)))


def _folded_hemp_leaf(f):
    """The hemp leaf with its hinges mitred on the axis of their half; the lock is what they leave of a band from
    the right-angled corner."""
    first, _, last, _ = f.corners
    diagonal = f.bar("diagonal", first, last)
    off = f.t / math.sqrt(2)  # from a sharp corner, along the wall, to the diagonal's side
    for right in f.corners[1::2]:
        low, high = [
            tuple(c + off / math.dist(sharp, right) * (r - c) for c, r in zip(sharp, right)) for sharp in (first, last)
        ]
        centre = _incentre([low, right, high])
        hinges = [f.bar("hinge", p, centre) for p in (low, high)]
        for hinge in hinges:
            f.against(hinge, diagonal)
        f.meet(centre, *hinges)
        lock = f.bar("lock", right, centre)
        behind = f.cell
        for p in (low, high):
            ux, uy = _unit(_to(p, centre))
            outer = math.copysign(f.t / 2, ux * (right[1] - p[1]) - uy * (right[0] - p[0]))
            halves = [_beside((p[0] - uy * outer, p[1] + ux * outer), (ux, uy), left) for left in (True, False)]
            behind = behind.intersection(max(halves, key=lambda half: half.distance(Point(right))))
        left = lock.shape.difference(behind)
        lock.shape = min(getattr(left, "geoms", [left]), key=lambda part: part.distance(Point(right)))


def _star_spokes(f):
    _spoked_ring(f, f.at(0.5, 0.3), f.at(0.5, 0))


def _corner_square(f):
    p = f.at(0.4, 0.4)
    f.meet(
        p,
        f.bar("post", f.at(0.4, 0), p),
        f.bar("rail", f.at(0, 0.4), p),
        f.bar("lock", f.corners[2], p),
    )


def _crossing_squares(f, ends=()):
    posts = f.ring("post", f.at(0.3, 0), f.at(0.3, 0.3), 4)
    rails = f.ring("rail", f.at(0, 0.3), f.at(0.3, 0.3), 4)
    for k in range(4):
        corner = f.turned(f.at(0.3, 0.3), k, 4)
        f.meet(corner, posts[k], rails[k], *(ends[k % 2 : k % 2 + 1] if ends else ()))


def _locked_squares(f):
    rising = f.bar("rising", f.at(0.3, 0.3), f.at(0.7, 0.7))
    falling = f.bar("falling", f.at(0.3, 0.7), f.at(0.7, 0.3))
    f.lap(falling, rising)
    _crossing_squares(f, (rising, falling))


def _star(f, steep):
    """From every corner two bars, so steep to its walls."""
    steps, side = len(f.corners), f.corners[1][0]
    tip = (side / 2, side / 2 * math.tan(math.radians(steep)))
    first = f.ring("bar", f.corners[0], tip, steps)
    second = f.ring("bar", f.corners[1], tip, steps)
    for k in range(steps):
        f.meet(f.turned(tip, k, steps), first[k], second[k])
        f.meet(f.corners[k], first[k], second[k - 1])


def _four_point_star(f):
    _star(f, 22.5)


# Triangles.


def _corner_bars(f, share=1 / 3, name="bar"):
    """Across each corner, so far from it along both walls."""
    return f.ring(name, f.at(share / 2, share), f.at(share, 0), 3)


def _double_hexagons(f):
    _corner_bars(f, 1 / 5, "inner-bar")
    _corner_bars(f, 2 / 5, "outer-bar")


def _crossed_parallels(f):
    one, two, three = _corner_bars(f, 4 / 5)
    f.lap(two, one)
    f.lap(three, one, two)


def _three_way_star(f):
    one = f.bar("bar", f.at(1 / 3, 2 / 3), f.at(2 / 3, 0))
    two = f.bar("bar", f.at(1 / 3, 0), f.at(2 / 3, 2 / 3))
    three = f.bar("bar", f.at(1 / 6, 1 / 3), f.at(5 / 6, 1 / 3))
    f.lap(two, one)
    f.lap(three, one, two)


def _hemp(f):
    bars = f.ring("leaf", f.corners[0], f.middle, 3)
    f.meet(f.middle, *bars)
    return bars


def _hemp_hexagons(f):
    for leaf, bar in zip(_hemp(f), _corner_bars(f)):
        f.lap(leaf, bar)


def _leaf_spokes(f):
    leaves = _hemp(f)
    # Sides of two leaves at 120 degrees cross t / 2 / sin 60 below the centre.
    low = (f.middle[0], f.middle[1] - f.t / math.sqrt(3))
    for k, spoke in enumerate(f.ring("spoke", f.at(0.5, 0), low, 3)):
        f.against(spoke, leaves[k], leaves[(k + 1) % 3])


def _central(f):
    """A triangle upside down, from the left wall; the bar that crosses the first corner is the first."""
    low = f.at(0.5, 0)
    bars = f.ring("bar", f.at(0.25, 0.5), low, 3)
    for k in range(3):
        f.meet(f.turned(low, k, 3), bars[k], bars[(k + 1) % 3])
    return bars


def _square_on(f, bars, side):
    for lock, bar in zip(f.ring("lock", f.corners[0], side, 3), bars):
        f.against(lock, bar)


def _triangle_locks(f):
    _square_on(f, _central(f), f.at(0.375, 0.25))


def _inner_leaves(f, bars, name):
    """From the corners inside a central triangle, t above each wall's middle."""
    leaves = f.ring(name, (f.middle[0], f.t), f.middle, 3)
    for k, leaf in enumerate(leaves):
        f.against(leaf, bars[k], bars[(k + 1) % 3])
    f.meet(f.middle, *leaves)


def _triangle_leaves(f):
    _inner_leaves(f, _central(f), "leaf")


def _fine_hemp_leaf(f):
    bars = _central(f)
    # What a bar leaves before a corner is a triangle whose height is half the cell's, less t / 2.
    height = f.corners[2][1] / 2 - f.t / 2
    side = height * 2 / math.sqrt(3)
    for k in range(3):
        small = [f.turned(p, k, 3) for p in [(0, 0), (side, 0), (side / 2, height)]]
        f.bars += _leaves(small, f.t, ["leaf", "side-leaf", "side-leaf"])
    _inner_leaves(f, bars, "inner-leaf")


def _floating_triangle(f):
    # Inverted, six tenths as large as a central one; its corner lies 0.6 inradii below the middle.
    inradius = f.corners[2][1] / 3
    low = (f.middle[0], f.middle[1] - 0.6 * inradius)
    left = f.turned(low, 2, 3)
    bars = f.ring("bar", left, low, 3)
    for k in range(3):
        f.meet(f.turned(low, k, 3), bars[k], bars[(k + 1) % 3])
    _square_on(f, bars, ((left[0] + low[0]) / 2, (left[1] + low[1]) / 2))


def _spoked_triangle(f):
    (mx, my), (x, y) = f.middle, f.corners[0]
    _spoked_ring(f, (mx + 0.4 * (x - mx), my + 0.4 * (y - my)), f.corners[0])


def _three_point_star(f):
    _star(f, 15)


def _triangle_whirl(f):
    # 15 degrees off the base from the left, 135 from the right end of it: 15 off the right wall.
    side = f.corners[1][0]
    end = _meet((0, 0), _unit(math.radians(15)), (side, 0), _unit(math.radians(135)))
    bars = f.ring("bar", f.corners[0], end, 3)
    for k in range(3):
        f.against(bars[k], bars[(k + 1) % 3])


# Triangles whose top differs from the other corners.


def _top_ring(f):
    return f.bar("bar", f.at(0.25, 0.5), f.at(0.75, 0.5))


def _hexagon_wheel(f):
    f.against(f.bar("post", f.at(0.5, 0), f.at(0.5, 0.5)), _top_ring(f))


def _three_to(f, steep):
    """Bars from the base's corners, so steep to it, and a lock from the top."""
    left, right, top = f.corners
    p = (right[0] / 2, right[0] / 2 * math.tan(math.radians(steep)))
    f.meet(p, f.bar("bar", left, p), f.bar("bar", right, p), f.bar("lock", top, p))


def _hexagon_star(f):
    _three_to(f, 45)


def _hexagon_flower(f):
    _three_to(f, 15)


def _hexagon_star_ring(f):
    leaves = _hemp(f)
    leaves[2].name = "top-leaf"
    f.lap(leaves[2], f.bar("ring", f.at(1 / 3, 2 / 3), f.at(2 / 3, 2 / 3)))


def _hexagon_petals(f):
    low = f.at(0.5, 0)
    f.meet(low, f.bar("bar", low, f.at(0.25, 0.5)), f.bar("bar", low, f.at(0.75, 0.5)))


def _double_petals(f):
    top = f.corners[2]
    reach = top[1] * math.tan(math.radians(15))
    ends = [(top[0] - reach, 0), (top[0] + reach, 0)]
    f.meet(top, *(f.bar("bar", end, top) for end in ends))


# Rhombs.


def _rhomb_spokes(f):
    sw, se, ne, nw = f.corners
    diagonal = f.bar("diagonal", sw, ne)
    for corner in (se, nw):
        f.against(f.bar("spoke", corner, f.middle), diagonal)


def _rhomb_hexagons(f):
    f.bar("bar", f.at(0, 1 / 3), f.at(1 / 3, 0))
    f.bar("bar", f.at(1, 2 / 3), f.at(2 / 3, 1))


def _nested_rhomb(f):
    points = [f.at(x, y) for x, y in [(0.3, 0.3), (0.7, 0.3), (0.7, 0.7), (0.3, 0.7)]]
    bars = [f.bar("bar", points[k], points[(k + 1) % 4]) for k in range(4)]
    for k in range(4):
        name = ["long-lock", "short-lock"][k % 2]
        lock = f.bar(name, f.corners[k], points[k])
        f.meet(points[k], bars[k - 1], bars[k], lock)


FIGURES = {
    "upright-cross": _upright_cross,
    "double-lines": _double_lines,
    "horned-well-curb": _horned_well_curb,
    "horned-crossings": _horned_crossings,
    "turned-slats": _turned_slats,
    "well-curb": _well_curb,
    "well-curb-locks": _well_curb_locks,
    "eight-spokes": _eight_spokes,
    "four-leaf": _four_leaf,
    "braced-diagonals": _braced_diagonals,
    "nested-diagonals": _nested_diagonals,
    "nested-cross": _nested_cross,
    "nested-locks": _nested_locks,
    "point-locks": _point_locks,
    "star-spokes": _star_spokes,
    "octagons": _octagons,
    "held-square": _held_square,
    "folded-hemp-leaf": _folded_hemp_leaf,
    "corner-square": _corner_square,
    "crossing-squares": _crossing_squares,
    "locked-squares": _locked_squares,
    "four-point-star": _four_point_star,
    "leaf-spokes": _leaf_spokes,
    "fine-hemp-leaf": _fine_hemp_leaf,
    "hemp-hexagons": _hemp_hexagons,
    "corner-bars": _corner_bars,
    "double-hexagons": _double_hexagons,
    "crossed-parallels": _crossed_parallels,
    "three-way-star": _three_way_star,
    "triangle-locks": _triangle_locks,
    "triangle-leaves": _triangle_leaves,
    "floating-triangle": _floating_triangle,
    "spoked-triangle": _spoked_triangle,
    "three-point-star": _three_point_star,
    "triangle-whirl": _triangle_whirl,
    "hexagon-rings": _top_ring,
    "hexagon-wheel": _hexagon_wheel,
    "hexagon-star": _hexagon_star,
    "hexagon-star-ring": _hexagon_star_ring,
    "hexagon-flower": _hexagon_flower,
    "hexagon-petals": _hexagon_petals,
    "double-petals": _double_petals,
    "rhomb-spokes": _rhomb_spokes,
    "rhomb-hexagons": _rhomb_hexagons,
    "nested-rhomb": _nested_rhomb,
}


def _bars(name):
    """As `mitre_pieces` has its patterns: pieces of a cell, their laps with them, what lies below first."""

    def made(corners, thickness):
        built = figure(name, corners, thickness)
        for front, back in built.laps:
            front.laps.append((back.start, back.end, "front"))
            back.laps.append((front.start, front.end, "back"))
        notched = [front for front, _ in built.laps]
        return sorted(built.bars, key=lambda bar: -notched.count(bar))

    return made


def figure(name, corners, thickness):
    """The figure in a cell."""
    made = Figure(corners, thickness)
    FIGURES[name](made)
    return made


PATTERNS.update({name: _bars(name) for name in FIGURES})
