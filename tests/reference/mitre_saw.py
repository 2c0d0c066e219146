"""A table saw with a sled that does what it is told with long sticks, nothing else.

A stick is a list of slabs (z0, z1, polygon): z from its front face to its back, the polygon as the
front shows it, u from its left end, v from one side to the other. Millimetres.
"""

import math
from dataclasses import dataclass, field

from shapely import affinity
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

BARE = 1.0  # a thinner bridge of wood holds nothing without a batten
CLEAR = 1e-9


class Unsafe(Exception):
    """Something that must not be done, or a part that lies loose beside the blade."""


def parts(shape):
    return [part for part in getattr(shape, "geoms", [shape]) if part.area > 0]


@dataclass
class Stick:
    length: float
    thickness: float
    depth: float
    slabs: list = None
    kerfs: list = field(default_factory=list)  # of facets, all through
    flipped: bool = None  # whether v = t lies on the fence

    def __post_init__(self):
        self.slabs = [(0.0, self.depth, box(0, 0, self.length, self.thickness))]

    def bounds(self):
        all_of_it = [shape.bounds for _, _, shape in self.slabs if not shape.is_empty]
        return min(b[0] for b in all_of_it), max(b[2] for b in all_of_it)

    def take(self, region, low, high):
        """Takes a region away between two depths."""
        left = []
        for z0, z1, shape in self.slabs:
            inner = [z for z in (low, high) if z0 + CLEAR < z < z1 - CLEAR]
            edges = [z0, *inner, z1]
            for a, b in zip(edges, edges[1:]):
                inside = low - CLEAR <= a and b <= high + CLEAR
                left.append((a, b, shape.difference(region) if inside else shape))
        self.slabs = [slab for slab in left if not slab[2].is_empty]

    def saw_off(self, at, hand_kerf):
        """A square cut by hand; gives the part beyond it, keeps what is left of it."""
        beyond = box(at, -1, self.length + 1, self.thickness + 1)
        cut = box(at - hand_kerf, -1, self.length + 1, self.thickness + 1)
        off = [(a, b, shape.intersection(beyond)) for a, b, shape in self.slabs]
        self.take(cut, 0, self.depth)
        self.kerfs = []
        return [slab for slab in off if not slab[2].is_empty]


def components(slabs, dust, bare=False):
    """Parts that hang together, each a list of slabs. Slabs on each other are joined where they
    overlap; `bare`: thin ones join nothing and are not looked at."""
    nodes = []
    for z0, z1, shape in slabs:
        if not bare or z1 - z0 >= BARE:
            nodes.extend((z0, z1, part) for part in parts(shape) if part.area > dust)
    root = list(range(len(nodes)))
    spans = [part.bounds for _, _, part in nodes]

    def find(k):
        while root[k] != k:
            root[k] = root[root[k]]
            k = root[k]
        return k

    for i, (a0, a1, a) in enumerate(nodes):
        for j in range(i):
            b0, b1, b = nodes[j]
            touch = abs(a0 - b1) < CLEAR or abs(b0 - a1) < CLEAR
            if not touch or find(i) == find(j):
                continue
            (al, _, ar, _), (bl, _, br, _) = spans[i], spans[j]
            if ar < bl or br < al:
                continue
            if a.intersection(b).area > dust:
                root[find(i)] = find(j)
    found = {}
    for k, node in enumerate(nodes):
        found.setdefault(find(k), []).append(node)
    return list(found.values())


def reach(component):
    bounds = [shape.bounds for _, _, shape in component]
    return min(b[0] for b in bounds), max(b[2] for b in bounds)


@dataclass
class Saw:
    kerf: float
    thickness: float
    depth: float
    least: float  # shortest part that may be held by itself
    correction: float = 0.0  # what the blade stands higher than it cuts
    batten: bool = True  # taped on before the first mitre
    retape: bool = False  # moved to the upper face, whatever that is
    dust: float = 1e-6
    read: float = 1e-6  # how closely the sticks' lengths come out
    sliver: float = 1e-6  # the largest area that is swept away unannounced
    crumbs: int = 0  # small wedges of wood that came off
    batten_on: str = None  # the face that it is taped to

    def _place(self, stick, order, position):
        """How a stick lies: its u at x = 0 along the fence, and its v on the fence."""
        angle = order.seat.cut()
        lean = 0.0 if abs(math.cos(angle)) < 1e-12 else 1 / math.tan(angle)
        flipped = (order.face == "back") != order.seat.seen_from_above()
        corners = []
        for _, _, shape in stick.slabs:
            for part in parts(shape):
                corners.extend(part.exterior.coords)
        if order.board:
            y = position * self.thickness
            away = [self.thickness - v if flipped else v for _, v in corners]
            touching = min(u - (y + w) * lean for (u, _), w in zip(corners, away))
            return -touching, flipped, lean
        return position * order.step - min(u for u, _ in corners), flipped, lean

    def _kerf(self, dx, flipped, lean, near, position):
        """What the blade passes, in the stick's own frame; `near` is the kerf's left side at the
        fence."""
        wide = self.kerf * math.hypot(1.0, lean)
        corners = []
        for y in (-1.0, self.thickness + 1.0):
            left = near + (position * self.thickness + y) * lean - dx
            v = self.thickness - y if flipped else y
            corners.append(((left, v), (left + wide, v)))
        (a, b), (c, d) = corners
        return Polygon([a, b, d, c])

    def _cut(self, stick, region, back_down, height):
        deep = height - self.correction
        if back_down:
            stick.take(region, self.depth - deep, self.depth)
        else:
            stick.take(region, 0.0, deep)

    def row(self, stick, order, position):
        """All cuts of an order on one stick of a block, the one at the fence being 0."""
        if not order.lap:
            upper = "front" if order.face == "back" else "back"
            if self.batten_on is None or self.retape:
                self.batten_on = upper
            if self.batten and self.batten_on != upper:
                raise Unsafe("the batten lies under the stick")
        # No cut of a row takes what lies against the stop.
        dx, flipped, lean = self._place(stick, order, position)
        for stop in order.stops:
            for at in range(order.passes):
                region = self._kerf(dx, flipped, lean, stop + at * order.shift, position)
                self._cut(stick, region, order.face == "back", order.height)
                if not order.lap:
                    stick.kerfs.append(region)
        self.hold(stick, bare=not order.lap and not self.batten)

    def hold(self, stick, bare):
        """Clamps hold both ends of a stick; what does not hang together with them lies loose."""
        for part in components(stick.slabs, self.dust, bare):
            first, last = reach(part)
            clamped = first < 1.0 or last > stick.length - 1.0
            if not clamped and last - first < self.least:
                raise Unsafe(f"loose piece beside the blade, {first:.2f} to {last:.2f}")

    def end(self, stick, order, position, end_is_a):
        """One facet on the right end of one stick of a block."""
        if order.roll:
            flipped = not stick.flipped
        else:
            # Seen from the front the left side is v = t where end B is on the right, else v = 0.
            flipped = (order.side == "left") != end_is_a
        stick.flipped = flipped
        lies = "left" if flipped != end_is_a else "right"
        if order.side in ("left", "right") and order.side != lies:
            raise Unsafe(f"the {lies} side lies on the fence, not the {order.side} one")
        angle = order.seat.cut()
        lean = 0.0 if abs(math.cos(angle)) < 1e-12 else 1 / math.tan(angle)
        first, last = stick.bounds()
        if last - first < self.least - self.read:
            raise Unsafe(f"a stick of {last - first} is too short to be held")
        (stop,) = order.stops
        dx = position * order.step - last
        region = self._kerf(dx, flipped, lean, -stop, position)
        back_down = flipped != order.seat.seen_from_above()
        self._cut(stick, region, back_down, order.height)
        held = []
        for part in components(stick.slabs, self.dust):
            left, right = reach(part)
            if left < 1.0:
                held.extend(part)
                continue
            if max(shape.area for _, _, shape in part) <= self.sliver:
                continue
            self.crumbs += 1
            crumb = right - left <= 2 * self.thickness
            if not (crumb and order.off_cut):
                raise Unsafe(f"loose piece beside the blade, {left:.2f} to {right:.2f}")
        stick.slabs = held  # the rest is swept away

    def parted(self, stick):
        """What there is once the skins are knifed along the facets."""
        kerfs = unary_union(stick.kerfs) if stick.kerfs else Polygon()
        slabs = [(a, b, shape.difference(kerfs)) for a, b, shape in stick.slabs]
        return components(slabs, self.dust)


def merged(solid, dust):
    """Slabs of equal shape as one, from the front to the back."""
    solid = sorted(solid, key=lambda slab: slab[0])
    levels = []
    for z0, z1, shape in solid:
        if levels and abs(levels[-1][0] - z0) < CLEAR:
            levels[-1] = (z0, z1, levels[-1][2].union(shape))
        else:
            levels.append((z0, z1, shape))
    found = []
    for z0, z1, shape in levels:
        if found and found[-1][2].symmetric_difference(shape).area < dust:
            found[-1] = (found[-1][0], z1, found[-1][2])
        else:
            found.append((z0, z1, shape))
    return found


def shifted(solid, along):
    return [(a, b, affinity.translate(shape, along, 0)) for a, b, shape in solid]
