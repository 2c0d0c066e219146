"""Checks drawings of frames' members by a calculation of its own (ezdxf reads them, shapely puts the
members together).

    python check_frame_parts.py < DESCRIPTION.json

The description is {"frames": [{"file": path, "inside": [[x, y], ...], counter-clockwise, "widths": [number
for each edge], "joint": null or {"length", "play", "haunch"}, "groove", "rebate": how far they go into the
members or 0, "mortise_depth": number, "strips": [[[from, to], ...] for each edge] or null}, ...]}; mm. A
level edge of a joint is a rail. Strips' mortises are told along each edge, counter-clockwise.

Members stand in the file from the lowest up, in the order of the edges, inner edge up. Put back to their
edges:
- mitred ones fill just what lies between the inside and the lines of their outer edges, none over another;
- of tenoned ones what is between shoulders does; stiles run through; each tenon is half of what the groove
  leaves wide and as long as told, with a haunch beside it, and lies in a mortise deeper by the play;
- mortises for strips are where they are told, lines of rebate and groove as deep as told.
Exits 0 if so; else 1, with the reason on stderr after "refused: ".
"""

import json
import math
import sys

import ezdxf
import shapely
from shapely import affinity
from shapely.geometry import Polygon, box

sys.dont_write_bytecode = True  # nothing compiled beside the sources
from check_strips import Refusal  # noqa: E402
from read_dxf import polyline  # noqa: E402

LENGTH = 1e-5  # mm; a file has six decimals
AREA = 1e-2  # mm^2, of a metre of edge


def ensure(truth, text):
    if not truth:
        raise Refusal(text)


def near(found, wanted, text):
    ensure(abs(found - wanted) < LENGTH, f"{text}: {found}, not {wanted}")


class Member:
    """A member in a frame of its own: inner edge on y 0, the inner corner at its left in 0."""

    def __init__(self, outline, lines, joint, before):
        low_x, low_y, high_x, high_y = outline.bounds
        around = box(low_x, low_y, high_x, high_y).buffer(LENGTH)
        own = [line for line in lines if around.contains(shapely.LineString(line["vertices"]))]
        on = lambda name: [line["vertices"] for line in own if line["layer"] == name]
        self.count = len(own)
        shoulders = on("SHOULDERS")
        if shoulders:
            left = min(x for line in shoulders for x, _ in line)
        elif joint:
            left = low_x + before
        else:
            left = min(x for x, y in outline.exterior.coords if high_y - y < LENGTH)
        move = lambda shape: affinity.translate(shape, -left, -high_y)
        self.solid = move(outline)
        self.pockets = [move(Polygon(ring)) for ring in on("MORTISES")]
        self.lines = {
            name: [move(shapely.LineString(line)) for line in on(name)]
            for name in ("SHOULDERS", "BACK-SHOULDERS", "REBATES", "GROOVES")
        }

    def body(self):
        """What lies between the shoulders at the front."""
        xs = [x for line in self.lines["SHOULDERS"] for x, _ in line.coords]
        if not xs:
            return self.solid
        _, low, _, _ = self.solid.bounds
        return self.solid.intersection(box(min(xs), low, max(xs), 0))


def placed(shape, edge):
    (x, y), (to_x, to_y) = edge
    turned = affinity.rotate(
        shape, math.atan2(to_y - y, to_x - x), origin=(0, 0), use_radians=True
    )
    return affinity.translate(turned, x, y)


def outside(inside, widths):
    """What lies within the lines of all outer edges."""
    found = box(-1e5, -1e5, 1e5, 1e5)
    for (x, y), (to_x, to_y), width in zip(inside, inside[1:] + inside[:1], widths):
        edge = ((x, y), (to_x, to_y))
        found = found.intersection(placed(box(-1e6, -width, 1e6, 1e6), edge))
    return found


def check_members(frame, members, edges):
    bodies = [placed(member.body(), edge) for member, edge in zip(members, edges)]
    for at, one in enumerate(bodies):
        for other in bodies[at + 1 :]:
            ensure(one.intersection(other).area < AREA, "members lie over each other")
    inside = Polygon(frame["inside"])
    wanted = outside(frame["inside"], frame["widths"]).difference(inside)
    off = shapely.union_all(bodies).symmetric_difference(wanted).area
    ensure(off < AREA, f"members leave {off} mm2 open, or cover it besides")


def check_recess(frame, member):
    for name, deep in (("REBATES", frame["rebate"]), ("GROOVES", frame["groove"])):
        lines = member.lines[name]
        ensure(len(lines) == (deep > 0), f"{len(lines)} lines on {name}")
        for line in lines:
            for _, y in line.coords:
                near(y, -deep, name)


def check_strips(frame, member, at):
    """Takes the mortises for strips off the member's."""
    if frame["strips"] is None:
        return
    for from_x, to_x in frame["strips"][at]:
        wanted = box(from_x, -frame["mortise_depth"], to_x, 0)
        off = [pocket.symmetric_difference(wanted).area for pocket in member.pockets]
        best = min(range(len(off)), key=off.__getitem__, default=None)
        ensure(best is not None and off[best] < AREA, f"no mortise from {from_x} to {to_x}")
        del member.pockets[best]


def check_tenons(frame, members, edges):
    joint, groove, rebate = frame["joint"], frame["groove"], frame["rebate"]
    level = [abs(to[1] - of[1]) < LENGTH for of, to in edges]
    for at, (rail, edge) in enumerate(zip(members, edges)):
        if not level[at]:
            left = 2 + 2 * (joint["haunch"] > 0)
            ensure(len(rail.pockets) == left, f"{len(rail.pockets)} mortises for tenons")
            continue
        ensure(not rail.pockets, "mortises in a rail that no strip goes into")
        inner = math.dist(*edge)
        width = frame["widths"][at]
        half = (width - groove) / 2
        for sign, start, stile_at in ((-1, 0, at - 1), (1, inner, (at + 1) % 4)):
            stile = members[stile_at]
            out = lambda a, b, top, low: box(
                min(start + sign * a, start + sign * b), -low, max(start + sign * a, start + sign * b), -top
            )
            tenon = out(0, joint["length"], groove, groove + half)
            haunch = out(0, joint["haunch"], groove + half, width)
            back = out(0, rebate, rebate, width)
            beyond = rail.solid.intersection(out(0, 1e4, -1, 1e4))
            off = beyond.symmetric_difference(shapely.union_all([tenon, haunch, back])).area
            ensure(off < AREA, f"tenon and haunch are off by {off} mm2")
            room = [placed(pocket, edges[stile_at]) for pocket in stile.pockets]
            band = placed(box(-1e4, -rebate, 1e4, 0), edges[stile_at])
            stays = placed(beyond, edge).difference(shapely.union_all([*room, band]).buffer(LENGTH))
            ensure(stays.area < AREA, f"{stays.area} mm2 of a tenon have no mortise")
            ensure(
                placed(beyond, edge).difference(placed(stile.solid, edges[stile_at])).area < AREA,
                "a tenon comes out of its stile",
            )
            play = out(joint["length"], joint["length"] + joint["play"], groove, groove + half)
            open_ = placed(play, edge).difference(shapely.union_all(room)).area
            ensure(open_ < AREA, "no play before the mortise's floor")
            deeper = out(joint["length"] + joint["play"], joint["length"] + 1e3, groove, groove + half)
            ensure(
                placed(deeper, edge).intersection(shapely.union_all(room)).area < AREA,
                "a mortise is too deep",
            )
        check_shoulders(rail, inner, rebate, groove, width)


def check_shoulders(rail, inner, rebate, groove, width):
    """Front shoulders at the stiles' inner faces, those at the back a rebate farther out."""
    for name, out in (("SHOULDERS", 0), ("BACK-SHOULDERS", rebate)):
        lines = rail.lines[name]
        # A rebate wider than the tenon ends in the outline itself.
        inside_outline = name == "SHOULDERS" or 0 < rebate < groove + (width - groove) / 2
        ensure(bool(lines) == inside_outline, f"{len(lines)} on {name}")
        for line in lines:
            (x, y), (to_x, to_y) = line.coords
            near(x, to_x, name)
            near(min(abs(x + out), abs(x - inner - out)), 0, name)
            ensure(max(y, to_y) <= LENGTH - max(out, groove), f"{name} reaches too high")
            ensure(min(y, to_y) >= -width - LENGTH, f"{name} reaches too low")


def check(frame):
    lines = [polyline(entity) for entity in ezdxf.readfile(frame["file"]).modelspace()]
    outlines = [Polygon(line["vertices"]) for line in lines if line["layer"] == "OUTLINES"]
    others = [line for line in lines if line["layer"] != "OUTLINES"]
    outlines.sort(key=lambda outline: outline.bounds[1])
    inside = frame["inside"]
    edges = list(zip(inside, inside[1:] + inside[:1]))
    ensure(len(outlines) == len(edges), f"{len(outlines)} members for {len(edges)} edges")
    members = [
        Member(outline, others, frame["joint"], frame["widths"][at - 1])
        for at, outline in enumerate(outlines)
    ]
    ensure(sum(member.count for member in members) == len(others), "lines beside the members")
    check_members(frame, members, edges)
    for at, member in enumerate(members):
        check_recess(frame, member)
        check_strips(frame, member, at)
    if frame["joint"]:
        check_tenons(frame, members, edges)
    elif frame["strips"] is not None:
        ensure(not any(member.pockets for member in members), "mortises that nobody told of")


def main():
    try:
        for frame in json.load(sys.stdin)["frames"]:
            try:
                check(frame)
            except Refusal as refusal:
                raise Refusal(f"{frame['file']}: {refusal}") from None
    except Refusal as refusal:
        print(f"refused: {refusal}", file=sys.stderr)
        sys.exit(1)


if __name__ == "__main__":
    main()
