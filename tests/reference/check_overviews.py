"""Checks what is told of panels at a glance against the panels put together (shapely).

    python check_overviews.py < DESCRIPTION.json

The description, mm, radians: {"panels": [{"name": text, "thickness": t, "depth": d, "piece_depth": d, "clearance": c,
    "overhang": o, "inner": null or [[x, y], ...], "region": [[x, y], ...], "let_in": l,
    "members": null or [bottom, right, top, left], mitred,
    "solid": null or {"thickness", "mortise": [depth, height], "mortises": [[from, to], ...]}, "flush": null or [x, y],
    "strips": [{"start": [x, y], "end": [x, y], "keeps": number of its layer from the front,
                "flush": [[inner corner, inner corner] of a rail that it is cut flush with, ...]}, ...],
    "laps": [[front, back], ...], "pieces": [[[x, y], ...], ...],
    "told": the JSON answer}, ...]}

"inner": the frame's inner outline, null without a frame; "let_in": how far strips come into mortises;
"flush": how far beyond the region's edges an opening has the ends cut off; else it follows from the
strips. "laps" are pairs of
indices of strips. Per panel:
- strips of a family and length are as many as told, and as long once trimmed;
- all wood put together lies in the rectangle that is told; an upright panel is finished as told;
- what is trimmed is told from the end and from the last node;
- laps and nodes that stay are counted;
- the members' wood has the volume told, and its weight;
- the wood that stays, layer by layer, has the volume told, and the weight by the density told.
Exits 0 if so; else 1, with the reason on stderr after "refused: ".
"""

import json
import math
import sys

import numpy
import shapely
from shapely.geometry import LineString, Point, Polygon

LENGTH = 1e-6  # mm
SHARE = 1e-7  # of a volume


class Refusal(Exception):
    """It is not right."""


def near(what, told, found, tolerance=LENGTH):
    if told is None or abs(told - found) > tolerance:
        raise Refusal(f"{what}: told {told}, found {found}")


def unit(v):
    return v / numpy.linalg.norm(v)


def cross(a, b):
    return a[0] * b[1] - a[1] * b[0]


class Strip:
    def __init__(self, told):
        self.start, self.end = (numpy.array(told[key], dtype=float) for key in ("start", "end"))
        self.along = unit(self.end - self.start)
        self.left = numpy.array([-self.along[1], self.along[0]])
        self.length = numpy.linalg.norm(self.end - self.start)
        self.layer = told["keeps"]
        self.flush = told["flush"]

    def band(self, low, high, width):
        a, b = self.start + self.along * low, self.start + self.along * high
        side = self.left * width / 2
        return Polygon([a - side, b - side, b + side, a + side])

    def cut(self, outline, thickness):
        """Where it is cut off, and what stays, by the outline's edges that are not along it."""
        line = LineString([self.start, self.end])
        kept = line.intersection(outline.buffer(LENGTH / 10, join_style="mitre"))
        ends = sorted(numpy.dot(numpy.array(p) - self.start, self.along) for p in kept.coords)
        stays = self.band(0, self.length, thickness)
        ring = list(outline.exterior.coords)
        for p, q in zip(ring, ring[1:]):
            edge = unit(numpy.array(q) - numpy.array(p))
            if abs(edge[0] * self.along[1] - edge[1] * self.along[0]) > 1e-7:
                inward = numpy.array([-edge[1], edge[0]])
                a, b = numpy.array(p) - edge * 1e5, numpy.array(q) + edge * 1e5
                stays = stays.intersection(Polygon([a, b, b + inward * 1e5, a + inward * 1e5]))
        return (ends[0], ends[1]), stays


def moved(region, beyond):
    """A region's edges moved out: upright ones by the first figure, all others by the second."""
    found = shapely.box(-1e4, -1e4, 1e4, 1e4)
    ring = [numpy.array(p) for p in region.exterior.coords]
    for p, q in zip(ring, ring[1:]):
        edge = unit(q - p)
        inward = numpy.array([-edge[1], edge[0]])
        out = inward * beyond[0 if abs(edge[0]) < 1e-9 else 1]
        a, b = p - edge * 1e5 - out, q + edge * 1e5 - out
        found = found.intersection(Polygon([a, b, b + inward * 1e5, a + inward * 1e5]))
    return shapely.geometry.polygon.orient(found)


def flush(region, strips, thickness):
    """How far beyond a region ends are cut off: with the outer faces of strips that lie along its edge.
    A region with slanted edges keeps half a strip where every edge has one."""
    ring = [numpy.array(p) for p in region.exterior.coords]
    kinds = {"upright": set(), "level": set(), "slanted": set()}
    for p, q in zip(ring, ring[1:]):
        edge = unit(q - p)
        kind = "upright" if abs(edge[0]) < 1e-9 else "level" if abs(edge[1]) < 1e-9 else "slanted"
        kinds[kind].add(any(
            max(abs(cross(edge, strip.start - p)), abs(cross(edge, strip.end - p))) < 1e-6
            for strip in strips
        ))
    half = thickness / 2
    if kinds["slanted"]:
        return [half if all(kinds["upright"] | kinds["level"] | kinds["slanted"]) else 0] * 2
    return [half if True in kinds[kind] else 0 for kind in ("upright", "level")]


def framed_outline(inner, let_in, flush):
    """Where a strip's ends are cut off: the frame's inner faces, each moved into the rail but those that
    it is flush with."""
    found = shapely.box(-1e4, -1e4, 1e4, 1e4)
    ring = [numpy.array(p) for p in shapely.geometry.polygon.orient(inner).exterior.coords]
    for p, q in zip(ring, ring[1:]):
        edge = unit(q - p)
        inward = numpy.array([-edge[1], edge[0]])
        is_flush = any(abs(numpy.dot(numpy.array(c) - p, inward)) < 1e-6
                       and abs(numpy.dot(numpy.array(d) - p, inward)) < 1e-6 for c, d in flush)
        a = p - edge * 1e5 - inward * (0 if is_flush else let_in)
        b = q + edge * 1e5 - inward * (0 if is_flush else let_in)
        found = found.intersection(Polygon([a, b, b + inward * 1e5, a + inward * 1e5]))
    return shapely.geometry.polygon.orient(found)


# Layers in which wood is added up: halves and thirds of the depth begin and end with one.
SIXTHS = 6


def layers_cut(own, mate, at_node):
    """The sixths of the depth, from the front, that a strip loses for a mate, told by their places from
    the front among the strips of their node. Two part in the middle. Of three the middle one keeps the
    middle third, and what lies before and behind it is its mates'; these two part in the middle."""
    if at_node == 2:
        return range(3) if own > mate else range(3, 6)
    return {
        (0, 1): range(2, 6), (0, 2): range(3, 6), (1, 0): range(2), (1, 2): range(4, 6),
        (2, 0): range(3), (2, 1): range(4),
    }[own, mate]


def mates_at(crossings, at):
    """The strips that meet at a place."""
    near = [(a, b) for a, b, other in crossings if numpy.linalg.norm(other - at) < 1e-4]
    return {strip for pair in near for strip in pair}


def rounded(pairs):
    """In an order that rounding does not change."""
    return sorted(tuple(round(float(part), 4) for part in pair) for pair in pairs)


def counted(told, key):
    return sum(kind[key] for kind in told)


def check(panel):
    told = panel["told"]
    thickness, depth = panel["thickness"], panel["depth"]
    strips = [Strip(strip) for strip in panel["strips"]]
    region = shapely.geometry.polygon.orient(Polygon(panel["region"]))
    framed = panel["inner"] is not None
    if framed:
        inner = shapely.geometry.polygon.orient(Polygon(panel["inner"]))
        outlines = [framed_outline(inner, panel["let_in"], strip.flush) for strip in strips]
    else:
        beyond = panel["flush"] or flush(region, strips, thickness)
        outlines = [moved(region, beyond)] * len(strips)
    cuts = [strip.cut(outline, thickness) for strip, outline in zip(strips, outlines)]
    if framed:
        # In a mortise: square through the middle of a slanted cut.
        cuts = [(ends, strip.band(*ends, thickness)) for strip, (ends, _) in zip(strips, cuts)]

    # Strips by kind.
    if counted(told["strips"], "count") != len(strips):
        raise Refusal("strips")
    lengths = sorted((s.length, b - a) for s, ((a, b), _) in zip(strips, cuts))
    kinds = sorted(
        (kind["length_mm"], kind["trimmed_mm"])
        for kind in told["strips"]
        for _ in range(kind["count"])
    )
    for (length, trimmed), (told_length, told_trimmed) in zip(lengths, kinds):
        near("length", told_length, length, 1e-5)
        near("trimmed", told_trimmed, trimmed, 1e-5)
    near("metres", told["metres"]["strips"], sum(s.length for s in strips) / 1e3, 1e-8)

    # Sizes.
    wood = [stays for _, stays in cuts]
    if panel["members"]:
        bottom, right, top, left = panel["members"]
        x0, y0, x1, y1 = inner.bounds
        wood.append(shapely.box(x0 - left, y0 - bottom, x1 + right, y1 + top))
    x0, y0, x1, y1 = shapely.union_all(wood).bounds
    near("over all, width", told["over_all_mm"][0], x1 - x0)
    near("over all, height", told["over_all_mm"][1], y1 - y0)
    if panel["finished"]:
        near("width", told["finished_mm"][0], x1 - x0)
        near("height", told["finished_mm"][1], y1 - y0)

    # The trim.
    crossings = []
    for front, back in panel["laps"]:
        a, b = strips[front], strips[back]
        turn = a.along[0] * b.along[1] - a.along[1] * b.along[0]
        way = b.start - a.start
        at = a.start + a.along * (way[0] * b.along[1] - way[1] * b.along[0]) / turn
        crossings.append((front, back, at))
    found = []
    for number, (strip, ((low, high), _)) in enumerate(zip(strips, cuts)):
        own = [numpy.dot(at - strip.start, strip.along)
               for front, back, at in crossings if number in (front, back)]
        own = [at for at in own if low - 1e-5 < at < high + 1e-5]
        found.append(rounded([(low, min(own) - low), (strip.length - high, high - max(own))]))
    places = [
        rounded((place["from_end_mm"], place["from_last_notch_mm"]) for place in kind["places"])
        for kind in told["trims"]
    ]
    for ends in found:
        if not any(numpy.allclose(ends, kind, rtol=0, atol=1e-3) for kind in places):
            raise Refusal(f"trims: {ends} of {places}")
    for kind in places:
        if not any(numpy.allclose(ends, kind, rtol=0, atol=1e-3) for ends in found):
            raise Refusal(f"trims: {kind} of none")
    every = numpy.array(found)
    hows = {place["ends"] for kind in told["trims"] for place in kind["places"]}
    if numpy.ptp(every[:, :, 0]) < 1e-3 and len(hows) == 1:
        near("trim", told["trim"]["from_end_mm"], every[0, 0, 0], 1e-3)
        alike = numpy.ptp(every[:, :, 1]) < 1e-3
        if alike != ("from_last_notch_mm" in told["trim"]):
            raise Refusal("trim from the notch, of all")
        if alike:
            near("trim from the notch", told["trim"]["from_last_notch_mm"], every[0, 0, 1], 1e-3)
    elif "trim" in told:
        raise Refusal("one trim for all")

    # Laps that stay.
    inside = [at for _, _, at in crossings if region.buffer(1e-4).contains(Point(at))]
    if told["joints"] != len(inside):
        raise Refusal(f"joints: told {told['joints']}, found {len(inside)}")
    if told["joints_trimmed_off"] != len(crossings) - len(inside):
        raise Refusal("joints trimmed off")
    places = {tuple(numpy.round(at, 3)) for at in inside}
    if told["nodes"] != len(places):
        raise Refusal(f"nodes: told {told['nodes']}, found {len(places)}")

    # Wood, layer by layer.
    volume = sum(Polygon(piece).area for piece in panel["pieces"]) * panel["piece_depth"]
    for number, (strip, (_, stays)) in enumerate(zip(strips, cuts)):
        own = [(front, back, at) for front, back, at in crossings if number in (front, back)]
        lost = {layer: [] for layer in range(SIXTHS)}
        for front, back, at in own:
            mate = back if number == front else front
            order = sorted(mates_at(crossings, at), key=lambda one: strips[one].layer)
            side = strips[mate].left * (thickness + panel["clearance"]) / 2
            a, b = (at + strips[mate].along * way for way in (-1e3, 1e3))
            slot = Polygon([a - side, b - side, b + side, a + side])
            for layer in layers_cut(order.index(number), order.index(mate), len(order)):
                lost[layer].append(slot)
        for slots in lost.values():
            volume += stays.difference(shapely.union_all(slots)).area * depth / SIXTHS
    near("volume", told["weight"]["volume_cm3"], volume / 1e3, SHARE * volume / 1e3)
    if "kg" in told["weight"]:
        density = told["weight"]["density"]["kg_per_m3"]
        near("weight", told["weight"]["kg"], volume * 1e-9 * density, 1e-8)
    frame = told["weight"].get("frame")
    if (frame is not None) != bool(panel["members"]):
        raise Refusal("weight of a frame")
    if frame:
        bottom, right, top, left = panel["members"]
        x0, y0, x1, y1 = inner.bounds
        outer = shapely.box(x0 - left, y0 - bottom, x1 + right, y1 + top)
        solid = panel["solid"]
        deep, high = solid["mortise"]
        volume = outer.difference(inner).area * solid["thickness"]
        volume -= sum(to - of for of, to in solid["mortises"]) * deep * high
        near("frame", frame["volume_cm3"], volume / 1e3, SHARE * volume / 1e3)
        if "kg" in frame:
            near("frame's weight", frame["kg"], volume * 1e-9 * frame["density"]["kg_per_m3"], 1e-8)
    if counted(told["pieces"], "count") != len(panel["pieces"]):
        raise Refusal("pieces")


def main():
    try:
        for panel in json.load(sys.stdin)["panels"]:
            try:
                check(panel)
            except Refusal as reason:
                raise Refusal(f"{panel['name']}: {reason}") from reason
    except Refusal as reason:
        print(f"refused: {reason}", file=sys.stderr)
        sys.exit(1)


main()
