"""Checks drawings of strips against the strips that are meant, by a calculation of its own.

    python check_strips.py < DESCRIPTION.json

The description: {"files": [path, ...], "kerf_mm": number,
                  "parts": [{"name": text, "count": integer, "outline": [[x, y], ...]}, ...]}
with each finished outline in a frame of its own, mm. A part's count holds for all files together.
A list of descriptions is checked one after the other.

Each contour of layer OUTLINES is where the middle of the kerf runs, so drawn in by half the kerf
it must be one of the outlines, shifted but not turned, vertex by vertex to TOLERANCE. All parts
must be there in their counts and nothing else, and the contours of a file keep a kerf apart.
Exits 0 if so; else 1, with the reason on stderr after "refused: ".
"""

import json
import sys

import ezdxf
import numpy
import shapely
from shapely.geometry.polygon import Polygon, orient

sys.dont_write_bytecode = True  # nothing compiled beside the sources
from read_dxf import polyline  # noqa: E402

LAYER = "OUTLINES"
TOLERANCE = 1e-6  # mm


class Refusal(Exception):
    """The drawings are not of the parts described."""


def contours(path):
    """All closed contours of the layer in a file, as valid polygons."""
    found = []
    for entity in ezdxf.readfile(path).modelspace():
        if entity.dxf.layer != LAYER:
            continue
        line = polyline(entity)
        if line is None or not line["closed"]:
            raise Refusal(f"{path}: a {entity.dxftype()} of {LAYER} is no closed polyline")
        polygon = Polygon(line["vertices"])
        if not polygon.is_valid:
            raise Refusal(f"{path}: a contour is not simple: {shapely.is_valid_reason(polygon)}")
        found.append(polygon)
    return found


def vertices(polygon):
    """Vertices counter-clockwise, shifted so that the lower left of their bounds is the origin."""
    ring = numpy.array(orient(polygon).exterior.coords)[:-1]
    return ring - ring.min(axis=0)


def finished(contour, kerf):
    """What stays of the part inside a contour when half the kerf is burnt away."""
    if kerf == 0:
        return contour
    return contour.buffer(-kerf / 2, join_style="mitre", mitre_limit=10)


def deviation(one, other):
    """Greatest distance in x or y between like vertices, from the best common start vertex, mm."""
    if len(one) != len(other):
        return numpy.inf
    start = numpy.abs(other - one[0]).max(axis=1).argmin()
    return numpy.abs(numpy.roll(other, -start, axis=0) - one).max()


def check_apart(path, polygons, kerf):
    """Refuses contours that overlap or come closer than a kerf."""
    tree = shapely.STRtree(polygons)
    near, far = tree.query(polygons, predicate="dwithin", distance=kerf + TOLERANCE)
    for one, other in zip(near, far):
        if one >= other:
            continue
        gap = polygons[one].distance(polygons[other])
        overlap = polygons[one].intersection(polygons[other]).area
        if gap < kerf - TOLERANCE or overlap > TOLERANCE**2:
            at = polygons[one].representative_point().coords[0]
            raise Refusal(f"{path}: contours {gap} mm apart, kerf {kerf} mm, near {at}")


def check(description):
    """Raises Refusal where the files do not hold what the description says."""
    kerf = description["kerf_mm"]
    parts = [(part["name"], vertices(Polygon(part["outline"]))) for part in description["parts"]]
    missing = [part["count"] for part in description["parts"]]
    for path in description["files"]:
        polygons = contours(path)
        check_apart(path, polygons, kerf)
        for contour in polygons:
            strip = finished(contour, kerf)
            where = f"{path}: the contour at {contour.bounds[:2]}"
            if strip.geom_type != "Polygon" or strip.is_empty or strip.interiors:
                raise Refusal(f"{where} does not stay one piece")
            misses = [deviation(vertices(strip), outline) for _, outline in parts]
            fitting = [i for i, miss in enumerate(misses) if miss <= TOLERANCE]
            if not fitting:
                raise Refusal(
                    f"{where} is no part; vertex deviations, mm: "
                    + ", ".join(f"{name} {miss:.9g}" for (name, _), miss in zip(parts, misses))
                )
            # Parts of equal outline cannot be told apart: take one that is still missing.
            part = next((i for i in fitting if missing[i] > 0), None)
            if part is None:
                raise Refusal(f"{where} is one {parts[fitting[0]][0]} too many")
            missing[part] -= 1
    lacking = [f"{count} {name}" for (name, _), count in zip(parts, missing) if count]
    if lacking:
        raise Refusal("missing: " + ", ".join(lacking))


if __name__ == "__main__":
    try:
        described = json.load(sys.stdin)
        for description in described if isinstance(described, list) else [described]:
            check(description)
    except Refusal as refusal:
        sys.exit(f"refused: {refusal}")
