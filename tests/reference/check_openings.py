"""Checks panels for openings against polygons (shapely).

    python check_openings.py < DESCRIPTION.json

The description, mm: {"openings": [{"name": text,
    "hole": {"widths": [bottom, middle, top], "heights": [left, middle, right],
             "corners": [[x, y], ...]} or null,
    "play": p, "widths": [lower rail, right stile, upper rail, left stile] or null, "let_in": l,
    "thickness": t, "region": [x0, y0, x1, y1],
    "strips": [{"start": [x, y], "end": [x, y], "notches": [centre, ...], "family": name}, ...],
    "size": JSON of the sizes, "tenons": JSON of the tenons or null,
    "mortises": {rail's name: [[near, far], ...]} or null}, ...]}

"corners" are the hole's as it was made up, counter-clockwise from the lower left, the lower two level: the
tape's figures come from them. Per opening:
- the largest upright rectangle goes into the hole, and one longer or higher by 0.02 does not;
- region, margins, members and play add up to it;
- trimmed strips end where they should, members meet without overlap or gap, tenons lie in their mortises
  and strips' ends in theirs;
- the finished size is that of the assembled panel.
Exits 0 if so; else 1, with the reason on stderr after "refused: ".
"""

import json
import sys

from shapely import affinity
from shapely.geometry import LineString, Polygon, box
from shapely.ops import unary_union

NEAR = 1e-6


class Refusal(Exception):
    """It is not right."""


def same(a, b, what):
    if abs(a - b) > NEAR:
        raise Refusal(f"{what}: {a} for {b}")


def fits(hole, width, height):
    """Where the lower left corner of a rectangle may lie: four shifted holes have to meet."""
    places = hole.buffer(NEAR, join_style="mitre")
    for x in (0, width):
        for y in (0, height):
            places = places.intersection(affinity.translate(hole.buffer(NEAR, join_style="mitre"), -x, -y))
    return not places.is_empty


def check_hole(case):
    hole = Polygon(case["hole"]["corners"])
    width, height = case["size"]["opening"]["opening_mm"]
    if not fits(hole, width - 2e-5, height - 2e-5):
        raise Refusal(f"{width} by {height} does not go into the hole")
    if fits(hole, width + 0.02, height) or fits(hole, width, height + 0.02):
        raise Refusal("a larger rectangle goes into the hole")


def trimmed(strip, trim, thickness):
    line = LineString([strip["start"], strip["end"]])
    a = line.interpolate(trim["from_end_mm"])
    b = line.interpolate(line.length - trim["from_end_mm"])
    last = line.interpolate(strip["notches"][-1])
    same(last.distance(b), trim["from_last_notch_mm"], "from the last notch")
    return LineString([a, b]).buffer(thickness / 2, cap_style="flat")


def check_members(case, inside):
    """The members' polygons from the cut lengths, tenons in mortises; the members without tenons."""
    low, right, high, left = case["widths"]
    tenons = case["tenons"]
    x0, y0, x1, y1 = inside.bounds
    rails = {"bottom rail": (y0, -1, low), "top rail": (y1, 1, high)}
    stiles = {"left stile": (x0, -1, left), "right stile": (x1, 1, right)}
    mortises, bodies = [], []
    for stile in tenons["stiles"]:
        x, out, width = stiles[stile["name"]]
        base = y0 - low
        bodies.append(box(*sorted((x, x + out * width))[:1], base, max(x, x + out * width), base + stile["cut_length_mm"]))
        for near, far in (stile["lower_mortise_mm"], stile["upper_mortise_mm"]):
            ends = sorted((x, x + out * tenons["mortise_depth_mm"]))
            mortises.append(box(ends[0], base + near, ends[1], base + far))
    for rail in tenons["rails"]:
        y, out, width = rails[rail["name"]]
        ends = sorted((y, y + out * width))
        bodies.append(box(x0, ends[0], x0 + rail["between_shoulders_mm"], ends[1]))
        edge = y + out * rail["from_inner_edge_mm"]
        band = sorted((edge, edge + out * rail["tenon_width_mm"]))
        over = rail["cut_length_mm"] - rail["between_shoulders_mm"]
        same(over, 2 * tenons["length_mm"], "tenons")
        same(
            rail["from_inner_edge_mm"] + rail["tenon_width_mm"] + rail["haunch_width_mm"],
            width,
            "tenon and haunch",
        )
        for tenon in (
            box(x0 - over / 2, band[0], x0, band[1]),
            box(x1, band[0], x1 + over / 2, band[1]),
        ):
            if not any(mortise.buffer(NEAR).contains(tenon) for mortise in mortises):
                raise Refusal(f"a tenon of the {rail['name']} has no mortise")
    for at, body in enumerate(bodies):
        for other in bodies[at + 1 :]:
            if body.intersection(other).area > NEAR:
                raise Refusal("members overlap")
    return bodies


def check(case):
    size = case["size"]
    if case["hole"]:
        check_hole(case)
    beside, above = size["margin_mm"]
    x0, y0, x1, y1 = case["region"]
    inside = box(x0 - beside, y0 - above, x1 + beside, y1 + above)
    width, height = size["inside_mm"]
    same(x1 - x0 + 2 * beside, width, "inside width")
    same(y1 - y0 + 2 * above, height, "inside height")
    trims = {trim["family"]: trim for trim in size["trims"]}
    # A figure for all strips of a family is told only where it holds for all.
    told = [strip for strip in case["strips"] if "from_end_mm" in trims[strip["family"]]]
    strips = [(trimmed(strip, trims[strip["family"]], case["thickness"]), strip) for strip in told]
    if case["tenons"]:
        whole = unary_union(check_members(case, inside))
        same(whole.area + inside.area, box(*whole.bounds).area, "members leave a gap")
    else:
        whole = unary_union([strip for strip, _ in strips])
    bounds = whole.bounds
    same(bounds[2] - bounds[0], size["finished_mm"][0], "finished width")
    same(bounds[3] - bounds[1], size["finished_mm"][1], "finished height")
    for strip, told in strips:
        upright = told["start"][0] == told["end"][0]
        low, high = (strip.bounds[1], strip.bounds[3]) if upright else (strip.bounds[0], strip.bounds[2])
        edges = (inside.bounds[1], inside.bounds[3]) if upright else (inside.bounds[0], inside.bounds[2])
        same(edges[0] - low, case["let_in"], "let in at the datum end")
        same(high - edges[1], case["let_in"], "let in at the other end")
        if case["mortises"]:
            across = (strip.bounds[0], strip.bounds[2]) if upright else (strip.bounds[1], strip.bounds[3])
            start = inside.bounds[0] if upright else inside.bounds[1]
            for name in ("bottom rail", "top rail") if upright else ("left stile", "right stile"):
                if not any(
                    near - NEAR <= across[0] - start and across[1] - start <= far + NEAR
                    for near, far in case["mortises"][name]
                ):
                    raise Refusal(f"a strip has no mortise in the {name}")
    if case["hole"]:
        opening = size["opening"]["opening_mm"]
        for at in (0, 1):
            same(size["finished_mm"][at] + 2 * case["play"], opening[at], "play and panel")


def main():
    for case in json.load(sys.stdin)["openings"]:
        try:
            check(case)
        except Refusal as refusal:
            print(f"refused: {case['name']}: {refusal}", file=sys.stderr)
            return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
