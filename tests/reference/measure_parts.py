"""Measures the finished parts of drawings (ezdxf reads them, shapely takes the kerf off).

    python measure_parts.py < REQUEST.json

The request: {"files": [path, ...], "kerf_mm": number, "level_mm": number} and, for finished
outlines that a cutter keeps outside of, "cutter_mm": its diameter and
"mates": [{"size": [length, height], "boxes": [[x, y, x, y], ...]}, ...]. Prints
{"parts": [...], "apart_mm": least distance of two finished parts of a file or null}; each part, its
coordinates from the lower left corner of its own box, mm:
    {"file": path, "at": [x, y] of that corner on the sheet, "size": [length, height], "area": mm2,
     "openings": [[from, to], ...]      along x, of what is cut away at the level above its box,
     "holes": [[x, y, length, height], ...]   middle and size of each hole's box,
     "marks": [[[x, y], ...], ...],     strokes on it
     "bridges": [[[x, y], [x, y]], ...]  strokes of layer BRIDGES that touch its outline
     "unseated": mm or null             how far a box of the mates of this size sticks out of what
                                        the cutter clears, at the best of the mates given}
"""

import json
import sys

import ezdxf
import shapely
from shapely import affinity
from shapely.geometry import LineString, Polygon, box

sys.dont_write_bytecode = True  # nothing compiled beside the sources
from read_dxf import polyline  # noqa: E402


def moved_in(ring, by):
    """The ring's polygon, every side moved inward (outward where negative)."""
    if by == 0:
        return Polygon(ring)
    return Polygon(ring).buffer(-by, join_style="mitre", mitre_limit=50)


def lines(path):
    found = {"LETTERS": [], "BRIDGES": [], "OPENINGS": [], "OUTLINES": []}
    for entity in ezdxf.readfile(path).modelspace():
        line = polyline(entity)
        found.setdefault(line["layer"], []).append(line["vertices"])
    return found


def openings(solid, level):
    low_x, low_y, high_x, _ = solid.bounds
    line = LineString([(low_x, low_y + level), (high_x, low_y + level)])
    free = shapely.get_parts(line.difference(solid))
    spans = [(piece.bounds[0] - low_x, piece.bounds[2] - low_x) for piece in free]
    return sorted(span for span in spans if span[1] - span[0] > 1e-6)


def unseated(solid, asked):
    """How far the mates of a part stick out of what a disc outside of it sweeps."""
    if "mates" not in asked:
        return None
    x, y, right, top = solid.bounds
    radius = asked["cutter_mm"] / 2
    around = box(x - 20, y - 20, right + 20, top + 20)
    # Arcs of many chords: what the buffer itself loses stays below a micrometre.
    middles = around.difference(solid.buffer(radius, quad_segs=400))
    cut = middles.buffer(radius, quad_segs=400)
    best = None
    for mates in asked["mates"]:
        if max(abs(mates["size"][0] - right + x), abs(mates["size"][1] - top + y)) > 1e-5:
            continue
        out = 0
        for a, b, c, d in mates["boxes"]:
            rest = box(x + a, y + b, x + c, y + d).difference(cut)
            corners = shapely.get_coordinates(rest)
            far = [cut.distance(shapely.Point(corner)) for corner in corners]
            out = max([out, *far])
        best = out if best is None else min(best, out)
    return best


def part(path, ring, layers, asked):
    kerf, level = asked["kerf_mm"], asked["level_mm"]
    outer = moved_in(ring, kerf / 2)
    inside = [moved_in(hole, -kerf / 2) for hole in layers["OPENINGS"]]
    holes = [hole for hole in inside if outer.contains(hole)]
    solid = outer.difference(shapely.union_all(holes)) if holes else outer
    x, y, right, top = solid.bounds
    boxes = [affinity.translate(hole, -x, -y).bounds for hole in holes]
    marks = [mark for mark in layers["LETTERS"] if outer.covers(LineString(mark))]
    described = {
        "file": path,
        "at": [x, y],
        "size": [right - x, top - y],
        "area": solid.area,
        "openings": openings(solid, level),
        "holes": [[(a + c) / 2, (b + d) / 2, c - a, d - b] for a, b, c, d in boxes],
        "marks": [[[p[0] - x, p[1] - y] for p in mark] for mark in marks],
        "bridges": [
            [[p[0] - x, p[1] - y] for p in bridge]
            for bridge in layers["BRIDGES"]
            if outer.exterior.distance(LineString(bridge).interpolate(0.5, normalized=True)) < 1e-6
        ],
        "unseated": unseated(solid, asked),
    }
    return described, solid


def main():
    asked = json.load(sys.stdin)
    described, apart = [], None
    for path in asked["files"]:
        layers = lines(path)
        made = [
            part(path, ring, layers, asked)
            for ring in layers["OUTLINES"]
        ]
        described += [told for told, _ in made]
        solids = [solid for _, solid in made]
        for at, solid in enumerate(solids):
            for other in solids[at + 1 :]:
                gap = solid.distance(other)
                apart = gap if apart is None else min(apart, gap)
    json.dump({"parts": described, "apart_mm": apart}, sys.stdout)


main()
