"""Measures the finished parts of drawings (ezdxf reads them, shapely takes the kerf off).

    python measure_parts.py < REQUEST.json

The request: {"files": [path, ...], "kerf_mm": number, "level_mm": number}. Prints
{"parts": [...], "apart_mm": least distance of two finished parts of a file or null}; each part, its
coordinates from the lower left corner of its own box, mm:
    {"file": path, "at": [x, y] of that corner on the sheet, "size": [length, height], "area": mm2,
     "openings": [[from, to], ...]      along x, of what is cut away at the level above its box,
     "holes": [[x, y, length, height], ...]   middle and size of each hole's box,
     "marks": [[[x, y], ...], ...]      strokes on it}
"""

import json
import sys

import ezdxf
import shapely
from shapely import affinity
from shapely.geometry import LineString, Polygon

sys.dont_write_bytecode = True  # nothing compiled beside the sources
from read_dxf import polyline  # noqa: E402


def moved_in(ring, by):
    """The ring's polygon, every side moved inward (outward where negative)."""
    if by == 0:
        return Polygon(ring)
    return Polygon(ring).buffer(-by, join_style="mitre", mitre_limit=50)


def lines(path):
    found = {"MARK": [], "CUT_INNER": [], "CUT_OUTER": []}
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


def part(path, ring, layers, kerf, level):
    outer = moved_in(ring, kerf / 2)
    inside = [moved_in(hole, -kerf / 2) for hole in layers["CUT_INNER"]]
    holes = [hole for hole in inside if outer.contains(hole)]
    solid = outer.difference(shapely.union_all(holes)) if holes else outer
    x, y, right, top = solid.bounds
    boxes = [affinity.translate(hole, -x, -y).bounds for hole in holes]
    marks = [mark for mark in layers["MARK"] if outer.covers(LineString(mark))]
    described = {
        "file": path,
        "at": [x, y],
        "size": [right - x, top - y],
        "area": solid.area,
        "openings": openings(solid, level),
        "holes": [[(a + c) / 2, (b + d) / 2, c - a, d - b] for a, b, c, d in boxes],
        "marks": [[[p[0] - x, p[1] - y] for p in mark] for mark in marks],
    }
    return described, solid


def main():
    asked = json.load(sys.stdin)
    described, apart = [], None
    for path in asked["files"]:
        layers = lines(path)
        made = [
            part(path, ring, layers, asked["kerf_mm"], asked["level_mm"])
            for ring in layers["CUT_OUTER"]
        ]
        described += [told for told, _ in made]
        solids = [solid for _, solid in made]
        for at, solid in enumerate(solids):
            for other in solids[at + 1 :]:
                gap = solid.distance(other)
                apart = gap if apart is None else min(apart, gap)
    json.dump({"parts": described, "apart_mm": apart}, sys.stdout)


main()
