"""Checks panels of pieces by a calculation of its own (shapely).

    python check_pieces.py < DESCRIPTION.json

The description, mm: {"panels": [{"name": text, "thickness": number,
    "outline": [[x, y], ...],
    "strips": [[[x, y], ...], ...],
    "cells": [{"outline": [[x, y], ...],
               "pieces": [{"name": text, "outline": [[x, y], ...]}, ...],
               "touching": [[index, index], ...],    pairs that share a whole facet
               "laps": [[index, index, x, y], ...]   pairs that cross, and where; may be said
                                                      from both sides
              }, ...],
    "gaps": boolean,                                  some strips at the edge are not there
    "left_out": integer,
    "cut_cells": [{"outline": [[x, y], ...], "pieces": as above, "laps": [[index, index], ...],
                   "before": [[[x, y], ...], ...]    pieces of a whole cell, laid there
                  }, ...]}, ...]}
Openings of cut cells are told as if they were whole. Strips may reach over the panel's outline.

Strips and cells fill the panel's outline without a gap. Per panel:
- every polygon is valid, turns counter-clockwise and is convex, but for pieces, which may be hollow
  where the two facets of an end meet: what they lack of their hull is a triangle at an end;
- each piece has two parallel long sides a thickness apart, and two facets at most at an end;
- pieces stay in their cell; pieces overlap neither each other nor a strip, but for laps, whose
  common area is the rhombus t^2 / sin A about the point named;
- every facet lies, with its full length, on a wall, on a side of another piece or on its facet;
- pieces that touch have that facet in common with both its ends;
- areas of strips, pieces (laps once) and of what stays open add up to the panel's area;
- of each piece `before` the panel holds just a piece of a cut cell; those of which it holds
  something else are `left_out` in all, and each of them is shorter than two thicknesses or has
  lost one of its long sides. Where there are gaps, cells without pieces tell of none `before`,
  and areas need not add up.
Exits 0 if so; else 1, with the reason on stderr after "refused: ".
"""

import json
import math
import sys

import numpy
import shapely
from shapely.geometry import LineString, Point
from shapely.geometry.polygon import Polygon

OVERLAP = 1e-9  # mm^2
LENGTH = 1e-6  # mm
AREA = 1e-6  # mm^2


class Refusal(Exception):
    """The pieces do not fit."""


def polygon(where, outline, hollow=False):
    """A valid, counter-clockwise polygon, convex unless it may be hollow."""
    shape = Polygon(outline)
    if not shape.is_valid or shape.area <= 0:
        raise Refusal(f"{where}: not a polygon: {shapely.is_valid_reason(shape)}")
    if not shape.exterior.is_ccw:
        raise Refusal(f"{where}: turns clockwise")
    if not hollow and abs(shape.convex_hull.area - shape.area) > OVERLAP:
        raise Refusal(f"{where}: not convex")
    return shape


def edges(shape):
    """All edges as pairs of points."""
    ring = numpy.array(shape.exterior.coords)
    return list(zip(ring[:-1], ring[1:]))


def direction(edge):
    way = edge[1] - edge[0]
    return way / numpy.hypot(*way)


def split(where, shape, thickness):
    """Edges of a piece as (long sides, facets). The long sides are the two that run against each
    other a thickness apart; where there are several such pairs, the longest."""
    found = []
    all_edges = edges(shape)
    for i, one in enumerate(all_edges):
        for j in range(i):
            other = all_edges[j]
            u, v = direction(one), direction(other)
            apart = abs(u[0] * (other[0] - one[0])[1] - u[1] * (other[0] - one[0])[0])
            against = u @ v < 0 and abs(u[0] * v[1] - u[1] * v[0]) < 1e-7
            if against and abs(apart - thickness) < LENGTH:
                length = sum(numpy.hypot(*(e[1] - e[0])) for e in (one, other))
                found.append((length, i, j))
    if not found:
        raise Refusal(f"{where}: no two long sides {thickness} mm apart")
    _, i, j = max(found)
    if len(all_edges) - 2 > 4 or max(i - j, len(all_edges) - i + j) - 1 > 2:
        raise Refusal(f"{where}: more than two facets at an end")
    rest = [edge for k, edge in enumerate(all_edges) if k not in (i, j)]
    for k, edge in enumerate(all_edges):
        before = all_edges[k - 1]
        u, v = direction(before), direction(edge)
        if u[0] * v[1] - u[1] * v[0] < -1e-9 and (k in (i, j) or (k - 1) % len(all_edges) in (i, j)):
            raise Refusal(f"{where}: not convex where a long side ends")
    return [all_edges[i], all_edges[j]], rest


def lies_on(edge, other):
    """Whether an edge lies on another with its full length."""
    (ax, ay), (bx, by) = other
    dx, dy = bx - ax, by - ay
    for x, y in edge:
        along = ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)
        along = min(max(along, 0.0), 1.0)
        if math.hypot(x - ax - along * dx, y - ay - along * dy) >= LENGTH:
            return False
    return True


def same_edge(one, other):
    """Whether two edges have both ends in common, opposite ways round."""
    return all(math.dist(p, q) < LENGTH for p, q in zip(one, other[::-1]))


def check_lap(where, one, other, lap, thickness):
    """The common part of two pieces that cross must be the whole rhombus."""
    (a, _), (b, _) = one["split"], other["split"]
    u, v = direction(a[0]), direction(b[0])
    whole = thickness**2 / abs(u[0] * v[1] - u[1] * v[0])
    common = one["shape"].intersection(other["shape"])
    if abs(common.area - whole) > OVERLAP:
        raise Refusal(f"{where}: a lap of {common.area} mm2, not {whole}")
    if common.centroid.distance(Point(lap)) > LENGTH:
        raise Refusal(f"{where}: the lap is not about {lap}")


def check_cell(where, cell, thickness):
    """Checks one cell; gives its area, and the area that its pieces cover."""
    opening = polygon(f"{where}, opening", cell["outline"])
    pieces = []
    for piece in cell["pieces"]:
        at = f"{where}, {piece['name']}"
        shape = polygon(at, piece["outline"], hollow=True)
        outside = shape.difference(opening).area
        if outside > OVERLAP:
            raise Refusal(f"{at}: {outside} mm2 outside its cell")
        pieces.append({"name": at, "shape": shape, "split": split(at, shape, thickness)})
    laps = {}
    for one, other, *at in cell["laps"]:
        laps.setdefault(frozenset((one, other)), []).append(at)
    touching = {frozenset(pair) for pair in cell["touching"]}
    covered = sum(piece["shape"].area for piece in pieces)
    for i, one in enumerate(pieces):
        for j in range(i):
            other = pieces[j]
            common = one["shape"].intersection(other["shape"]).area
            pair = frozenset((i, j))
            if pair in laps:
                for lap in laps[pair]:
                    check_lap(one["name"], one, other, lap, thickness)
                covered -= common
            elif common > OVERLAP:
                raise Refusal(f"{one['name']}: overlaps {other['name']} by {common} mm2")
            shared = any(
                same_edge(e, f) for e in one["split"][1] for f in other["split"][1]
            )
            if (pair in touching) != shared:
                raise Refusal(f"{one['name']}, {other['name']}: whole facet shared: {shared}")
    walls = edges(opening)
    for i, piece in enumerate(pieces):
        sides = [e for j, o in enumerate(pieces) if j != i for e in o["split"][0]]
        facets = [e for j, o in enumerate(pieces) if j != i for e in o["split"][1]]
        for facet in piece["split"][1]:
            on_line = any(lies_on(facet, edge) for edge in walls + sides)
            if not on_line and not any(same_edge(facet, other) for other in facets):
                raise Refusal(f"{piece['name']}: the facet {facet} touches nothing along its length")
    union = shapely.union_all([piece["shape"] for piece in pieces]).area
    if abs(union - covered) > AREA:
        raise Refusal(f"{where}: pieces cover {union} mm2, not {covered}")
    return opening, pieces, covered


def too_little(whole, part, thickness):
    """Whether what the panel holds of a piece cannot be held; of a mouth it may hold both points alone."""
    if part.geom_type != "Polygon":
        return all(too_little(whole, one, thickness) for one in part.geoms)
    sides, _ = split("before", whole, thickness)
    along = direction(sides[0])
    reach = [along @ numpy.array(p) for p in part.exterior.coords]
    if max(reach) - min(reach) < 2 * thickness + LENGTH:
        return True
    lines = [LineString(side).buffer(LENGTH, cap_style="flat") for side in sides]
    return any(part.boundary.intersection(line).length < 10 * LENGTH for line in lines)


def check_cut_cell(where, cell, thickness, outline):
    """Checks a cell that the panel's edge cuts; gives its pieces, their area and the number of
    those that are left out."""
    opening = polygon(f"{where}, opening", cell["outline"]).intersection(outline)
    pieces = []
    for piece in cell["pieces"]:
        shape = polygon(f"{where}, {piece['name']}", piece["outline"], hollow=True)
        outside = shape.difference(opening).area
        if outside > AREA:
            raise Refusal(f"{where}, {piece['name']}: {outside} mm2 outside its cell")
        pieces.append({"name": f"{where}, {piece['name']}", "shape": shape})
    covered = sum(piece["shape"].area for piece in pieces)
    laps = {frozenset(pair) for pair in cell["laps"]}
    for i, one in enumerate(pieces):
        for j in range(i):
            common = one["shape"].intersection(pieces[j]["shape"]).area
            if frozenset((i, j)) in laps:
                covered -= common
            elif common > OVERLAP:
                raise Refusal(f"{one['name']}: overlaps {pieces[j]['name']} by {common} mm2")
    missing, left_out = list(range(len(pieces))), 0
    for before in cell["before"]:
        whole = polygon(f"{where}, before", before, hollow=True)
        part = whole.intersection(outline)
        if part.area < AREA:
            continue
        same = [
            i for i in missing if pieces[i]["shape"].symmetric_difference(part).area < AREA
        ]
        if same:
            missing.remove(same[0])
        elif too_little(whole, part, thickness):
            left_out += 1
        else:
            raise Refusal(f"{where}: the piece {part.wkt} is missing")
    if missing:
        raise Refusal(f"{where}: {pieces[missing[0]]['name']} is no part of a whole piece")
    return opening, pieces, covered, left_out


def check_panel(panel):
    """Raises Refusal where the panel's polygons are not as the head of this file says."""
    name, thickness = panel["name"], panel["thickness"]
    outline = polygon(name, panel["outline"])
    strips = shapely.union_all([polygon(f"{name}, strip", strip) for strip in panel["strips"]])
    cells = [
        check_cell(f"{name}, cell {at}", cell, thickness) for at, cell in enumerate(panel["cells"])
    ]
    strips = strips.intersection(outline)
    left_out = 0
    for at, cell in enumerate(panel.get("cut_cells", [])):
        *checked, few = check_cut_cell(f"{name}, cut cell {at}", cell, thickness, outline)
        cells.append(checked)
        left_out += few
    gaps = panel.get("gaps", False)
    told = panel.get("left_out", 0)
    if left_out > told or (left_out < told and not gaps):
        raise Refusal(f"{name}: {left_out} pieces are left out, {told} told")
    openings = 0.0
    for at, (opening, pieces, _) in enumerate(cells):
        common = opening.intersection(strips).area
        if common > OVERLAP:
            raise Refusal(f"{name}, cell {at}: {common} mm2 of it are strip")
        for piece in pieces:
            common = piece["shape"].intersection(strips).area
            if common > OVERLAP:
                raise Refusal(f"{piece['name']}: overlaps the strips by {common} mm2")
        left = opening.difference(shapely.union_all([piece["shape"] for piece in pieces]))
        openings += left.area
    total = strips.area + sum(covered for _, _, covered in cells) + openings
    if not gaps and not abs(total - outline.area) <= AREA:
        raise Refusal(f"{name}: areas add up to {total} mm2, not {outline.area}")


if __name__ == "__main__":
    try:
        for panel in json.load(sys.stdin)["panels"]:
            check_panel(panel)
    except Refusal as refusal:
        sys.exit(f"refused: {refusal}")
