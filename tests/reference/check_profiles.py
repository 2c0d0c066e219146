"""Checks drawings of slanted lattices' strips by a calculation of its own (shapely).

    python check_profiles.py < DESCRIPTION.json

The description is a list of {"files": [path, ...], "kerf_mm": number, "thickness": number,
"clearance": number, "depth": number, "strips": [{"line": [[x, y], [x, y]], "notches":
[{"mate": [[x, y], [x, y]], "face": "front" or "back", "depth": number}, ...]}, ...],
"square_cuts": [{"angle_deg", "notch_mm", "slot_mm", "gap_mm", "floor_gap_mm"}, ...]}; lines are
centre lines as seen from the front, mm.

Every strip and every mate is a band about its line. Where a mate with its clearance overlaps a
strip is a parallelogram; seen from the strip's side it is as long as a slot that is cut square must
be. The strip's side less all these slots must be among the files' contours, vertex by vertex. At
every level across the strip's thickness the slot is longer than the mate by the gap that is told,
at the strip's two sides all of it at one end, at one side the near, at the other the far one.
Exits 0 if so; else 1, with the reason on stderr after "refused: ".
"""

import json
import math
import sys

import numpy
import shapely
from shapely import affinity
from shapely.geometry import LineString, Polygon, box

sys.dont_write_bytecode = True  # nothing compiled beside the sources
import check_strips  # noqa: E402
from check_strips import Refusal  # noqa: E402

LENGTH = 1e-6  # mm
GRID = 1e-8  # mm, to which slots of one node are snapped


def local(line, strip):
    """A line in a strip's frame: u along it from its datum end, v to the left."""
    (x, y), (to_x, to_y) = strip
    turn = math.atan2(to_y - y, to_x - x)
    moved = affinity.translate(LineString(line), -x, -y)
    return affinity.rotate(moved, -turn, origin=(0, 0), use_radians=True)


def band(line, width):
    """A band about a line that runs far beyond its ends."""
    (x, y), (to_x, to_y) = line.coords
    long = LineString([(x - (to_x - x), y - (to_y - y)), (to_x + to_x - x, to_y + to_y - y)])
    return long.buffer(width / 2, cap_style="flat")


def chord(shape, v):
    """Where a shape is, from u to u, at the level v."""
    low, _, high, _ = shape.bounds
    line = shape.intersection(LineString([(low - 1, v), (high + 1, v)]))
    return line.bounds[0], line.bounds[2]


def check_gap(where, job, room, angle):
    """Checks what a slot as long as the parallelogram leaves open; gives slot and chord."""
    start, _, end, _ = room.bounds
    told = [cut for cut in job["square_cuts"] if abs(cut["angle_deg"] - angle) < 1e-6]
    gap = told[0]["gap_mm"] if told else 0.0
    half = job["thickness"] / 2
    ends = []
    for v in (-half + LENGTH, -half / 2, 0.0, half / 3, half - LENGTH):
        near, far = chord(room, v)
        open_there = (end - start) - (far - near)
        if abs(open_there - gap) > LENGTH * 10:
            raise Refusal(f"{where}: {open_there} mm open, {gap} told")
        ends.append((near - start, end - far))
    lower, upper = ends[0], ends[-1]
    all_at_one_end = min(lower) < 1e-5 and min(upper) < 1e-5
    if not all_at_one_end or (gap > 1e-3 and (lower[0] < upper[0]) == (lower[1] < upper[1])):
        raise Refusal(f"{where}: the gap lies otherwise at the strip's sides: {ends}")
    if told:
        near, far = chord(room, 0.0)
        for key, found in (("slot_mm", end - start), ("notch_mm", far - near)):
            if abs(told[0][key] - found) > LENGTH * 10:
                raise Refusal(f"{where}: {key} is {told[0][key]}, not {found}")
    elif abs(angle - 90) > 1e-6:
        raise Refusal(f"{where}: nothing is told of notches at {angle} deg")
    return start, end


def check_floors(where, job, slots, deepest):
    """Checks that no mate stands higher above a floor than is told."""
    for start, end, face, depth, angle in slots:
        shared = [
            other[3]
            for other in slots
            if other[2] == face and abs(other[0] + other[1] - start - end) < LENGTH
        ]
        below = max(shared) - depth
        deepest[round(angle, 6)] = max(deepest.get(round(angle, 6), 0.0), below)


def profile(where, job, strip, deepest):
    """A strip's side profile: u along it, from the back face (0) to the front face."""
    length = numpy.hypot(*numpy.subtract(*strip["line"]))
    body = box(-1e6, -job["thickness"] / 2, 1e6, job["thickness"] / 2)
    slots = []
    for at, notch in enumerate(strip["notches"]):
        mate = local(notch["mate"], strip["line"])
        room = band(mate, job["thickness"] + job["clearance"]).intersection(body)
        (x, y), (to_x, to_y) = mate.coords
        angle = math.degrees(math.atan2(abs(to_y - y), abs(to_x - x)))
        start, end = check_gap(f"{where}, notch {at}", job, room, angle)
        slots.append((start, end, notch["face"], notch["depth"], angle))
    check_floors(where, job, slots, deepest)
    side = box(0, 0, length, job["depth"])
    cut = []
    for start, end, face, depth, _ in slots:
        low, high = (0, depth) if face == "back" else (job["depth"] - depth, job["depth"])
        cut.append(box(start, low, end, high))
    cut = shapely.union_all([shapely.set_precision(slot, GRID) for slot in cut])
    left = side.difference(cut).simplify(0)
    if left.geom_type != "Polygon":
        raise Refusal(f"{where}: the notches cut it in two")
    ring = numpy.array(left.exterior.coords)[:-1]
    keep = [
        i
        for i in range(len(ring))
        if Polygon([ring[i - 1], ring[i], ring[(i + 1) % len(ring)]]).area > 1e-7
    ]
    return ring[keep].tolist()


def check(job, name):
    """Raises Refusal where the drawings are not as the head of this file says."""
    deepest = {}
    parts = [
        {
            "name": f"strip {at}",
            "count": 1,
            "outline": profile(f"{name}, strip {at}", job, strip, deepest),
        }
        for at, strip in enumerate(job["strips"])
    ]
    check_strips.check({"files": job["files"], "kerf_mm": job["kerf_mm"], "parts": parts})
    for cut in job["square_cuts"]:
        found = deepest.get(round(cut["angle_deg"], 6))
        if found is None or abs(found - cut["floor_gap_mm"]) > LENGTH:
            raise Refusal(f"{name}: floor gap {cut['floor_gap_mm']} told, {found} found")


if __name__ == "__main__":
    try:
        for at, described in enumerate(json.load(sys.stdin)):
            check(described, f"job {at}")
    except Refusal as refusal:
        sys.exit(f"refused: {refusal}")
