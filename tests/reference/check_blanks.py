"""Checks drawings of lapped blanks by a calculation of its own (shapely).

    python check_blanks.py < DESCRIPTION.json

The description is a list of {"files": [path, ...], "kerf_mm", "thickness", "clearance", "depth",
"allowance": number, "kinds": [{"name": text, "count": integer, "made_like": [cell, piece]}, ...],
"told": [{"length_mm", "turned_over", "slots": [{"centre_mm", "slot_mm", "depth_mm", "face"}, ...]},
...], "square_cuts": [{"angle_deg", "notch_mm", "slot_mm", "gap_mm"}, ...], "cells": [{"pieces":
[{"name": text, "kind": index, "outline": [[x, y], ...], "axis": [[x, y], [x, y]],
"laps": [{"mate": index, "face": "front" or "back"}, ...]}, ...]}, ...]}; mm, as seen from the front.
Faces are those of the pattern in every cell, mirrored or not: what lies in front lies so everywhere.

Every piece and every mate is a band about its axis. Where a mate with its clearance overlaps a piece
is a parallelogram; the slot cut square for it is as long as that. So:
- the blanks in the files are boxes of the rough length less these slots, vertex by vertex, in the
  frame of the piece that their kind is made like: its first end at the left, its front face up;
- all pieces of a kind are its blank, plan and slots alike, turned end for end or over; as many as are
  told lie turned over;
- pared pieces put together as solids, half of the depth at a time, do not overlap, and beside each
  lap stays open what is told: slot less rhombus.
Exits 0 if so; else 1, with the reason on stderr after "refused: ".
"""

import json
import math
import sys

import shapely
from shapely import affinity
from shapely.geometry import Polygon, box

sys.dont_write_bytecode = True  # nothing compiled beside the sources
import check_strips  # noqa: E402
from check_profiles import band, local  # noqa: E402
from check_strips import Refusal  # noqa: E402

LENGTH = 1e-6  # mm
AREA = 1e-6  # mm^2


class Piece:
    """A piece in a frame of its own: x along its axis from its first end's extreme point."""

    def __init__(self, job, cell, piece):
        self.name = piece["name"]
        self.kind = piece["kind"]
        t, d, rough = job["thickness"], job["depth"], job["allowance"] / 2
        (x, y), (to_x, to_y) = self.axis = piece["axis"]
        self.turn = math.atan2(to_y - y, to_x - x)
        plan = affinity.translate(Polygon(piece["outline"]), -x, -y)
        plan = affinity.rotate(plan, -self.turn, origin=(0, 0), use_radians=True)
        self.start = plan.bounds[0]
        self.plan = affinity.translate(plan, -self.start)
        self.length = self.plan.bounds[2]
        body = box(-1e6, -t / 2, 1e6, t / 2)
        self.slots = []
        for lap in piece["laps"]:
            mate = local(cell["pieces"][lap["mate"]]["axis"], piece["axis"])
            room = band(mate, t + job["clearance"]).intersection(body)
            first, _, last, _ = room.bounds
            face = lap["face"]
            (ax, ay), (bx, by) = mate.coords
            angle = math.atan2(abs(by - ay), abs(bx - ax))
            self.slots.append((first - self.start, last - self.start, face, angle))
        side = box(0, 0, self.length + 2 * rough, d)
        for first, last, face, _ in self.slots:
            low, high = (0, d / 2) if face == "back" else (d / 2, d)
            side = side.difference(box(rough + first, low, rough + last, high))
        if side.geom_type != "Polygon":
            raise Refusal(f"{self.name}: cut in two")
        self.side = side
        self.depth = d

    def turned(self, end_for_end, over):
        """Plan and side as they are when the piece is turned in space."""
        plan, side = self.plan, self.side
        if end_for_end:
            plan = affinity.translate(affinity.scale(plan, -1, -1, origin=(0, 0)), self.length)
            side = affinity.translate(affinity.scale(side, -1, 1, origin=(0, 0)), side.bounds[2])
        if over:
            plan = affinity.scale(plan, 1, -1, origin=(0, 0))
            side = affinity.translate(affinity.scale(side, 1, -1, origin=(0, 0)), 0, self.depth)
        return plan, side

    def solid(self, face, thickness):
        """The plan, where it lies, of the half of the depth next to a face."""
        plan = self.plan
        for first, last, entered, _ in self.slots:
            if entered == face:
                plan = plan.difference(box(first, -thickness, last, thickness))
        plan = affinity.translate(plan, self.start)
        plan = affinity.rotate(plan, self.turn, origin=(0, 0), use_radians=True)
        return affinity.translate(plan, *self.axis[0])


def ways(piece, like):
    """Whether a piece lies over, for each way to turn it that makes it the other one."""
    found = []
    for end_for_end in (False, True):
        for over in (False, True):
            plan, side = piece.turned(end_for_end, over)
            if plan.symmetric_difference(like.plan).area < AREA * 10 and (
                side.symmetric_difference(like.side).area < AREA * 10
            ):
                found.append(over)
    return found


def check_told(where, told, piece, allowance):
    """The figures that are told of a blank."""
    if abs(told["length_mm"] - piece.length - allowance) > LENGTH:
        raise Refusal(f"{where}: length {told['length_mm']}, not {piece.length + allowance}")
    slots = sorted(piece.slots)
    if len(slots) != len(told["slots"]):
        raise Refusal(f"{where}: {len(told['slots'])} slots told, not {len(slots)}")
    for (first, last, face, _), slot in zip(slots, told["slots"]):
        for key, value in (
            ("centre_mm", allowance / 2 + (first + last) / 2),
            ("slot_mm", last - first),
            ("depth_mm", piece.depth / 2),
        ):
            if abs(slot[key] - value) > LENGTH:
                raise Refusal(f"{where}: {key} {slot[key]} told, not {value}")
        if slot["face"] != face:
            raise Refusal(f"{where}: from the {slot['face']} told, not from the {face}")


def check_cuts(where, job, piece):
    """What is told of slanted laps."""
    t = job["thickness"]
    for first, last, _, angle in piece.slots:
        if abs(math.cos(angle)) < 1e-9:
            continue
        near = [
            cut for cut in job["square_cuts"] if abs(cut["angle_deg"] - math.degrees(angle)) < 1e-6
        ]
        if len(near) != 1:
            raise Refusal(f"{where}: {len(near)} told of laps at {math.degrees(angle)} deg")
        notch = (t + job["clearance"]) / math.sin(angle)
        for key, value in (
            ("notch_mm", notch),
            ("slot_mm", last - first),
            ("gap_mm", last - first - notch),
        ):
            if abs(near[0][key] - value) > LENGTH:
                raise Refusal(f"{where}: {key} {near[0][key]} told, not {value}")


def check_assembly(where, job, pieces):
    """Pieces as solids: no wood in wood, and as much open as is told."""
    t = job["thickness"]
    whole = shapely.union_all([piece.solid(None, t) for piece in pieces])
    for face in ("front", "back"):
        solids = [piece.solid(face, t) for piece in pieces]
        for i, one in enumerate(solids):
            for other in solids[:i]:
                common = one.intersection(other).area
                if common > AREA:
                    raise Refusal(f"{where}: {common} mm2 of wood in wood at the {face}")
        open_there = whole.area - shapely.union_all(solids).area
        # Clearance and slant, at the half that the slot enters.
        meant = sum(
            t * (last - first) - t * t / math.sin(angle)
            for piece in pieces
            for first, last, entered, angle in piece.slots
            if entered == face
        )
        if abs(open_there - meant) > AREA * 10:
            raise Refusal(f"{where}: {open_there} mm2 open at the {face}, not {meant}")


def check(job, name):
    """Raises Refusal where something is not as the head of this file says."""
    cells = [[Piece(job, cell, piece) for piece in cell["pieces"]] for cell in job["cells"]]
    parts = []
    for kind, told in zip(job["kinds"], job["told"], strict=True):
        cell, piece = kind["made_like"]
        like = cells[cell][piece]
        where = f"{name}, {kind['name']}"
        parts.append(
            {
                "name": kind["name"],
                "count": kind["count"],
                "outline": list(like.side.simplify(0).exterior.coords)[:-1],
            }
        )
        check_told(where, told, like, job["allowance"])
        check_cuts(where, job, like)
        copies = [piece for cell in cells for piece in cell if piece.kind == like.kind]
        found = [ways(copy, like) for copy in copies]
        if not all(found):
            raise Refusal(f"{where}: not all of it are one part")
        over = sum(all(way) for way in found)
        if len(copies) == kind["count"] and over != told["turned_over"]:
            raise Refusal(f"{where}: {over} turned over, {told['turned_over']} told")
    check_strips.check({"files": job["files"], "kerf_mm": job["kerf_mm"], "parts": parts})
    for at, pieces in enumerate(cells):
        check_assembly(f"{name}, cell {at}", job, pieces)


if __name__ == "__main__":
    try:
        for at, described in enumerate(json.load(sys.stdin)):
            check(described, f"job {at}")
    except Refusal as refusal:
        sys.exit(f"refused: {refusal}")
