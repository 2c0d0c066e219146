"""Plays what is told of pieces' mitres at a sled, and compares what comes off the saw with pieces
constructed here (shapely).

    python play_mitres.py < CASES.json

{"cases": [{"name", "pattern", "grid" (see mitre_pieces.openings), "thickness", "depth", "clearance",
  "kerf", "base", "blade" (diameter), "least" (shortest part held by itself), "correction",
  "lap_width", "rough" (what ends that are not cut are longer), "text": what `pare` prints, "json": what it
  answers, "mutations": [name, ...],
  "stops": {setting: {sticks: [mm, ...]}} and "table": {name: [L, [[J, S, S'], ...]]}, worked out before, "figures":
  {setting: {label: mm}} likewise}, ...]}

Prints {"cases": [{"name", "faults": [text, ...], "json_off", "text_off", "pieces", "settings", "reaches",
"mutants": {name: {"json": what gave it away, or null, "text": likewise}}}, ...]}.
"""

import copy
import json
import math
import sys

import numpy
from shapely import affinity, distance, points, union_all
from shapely.geometry import box

import figures  # noqa: F401  (its patterns)
from mitre_mutants import MUTANTS
from mitre_orders import Unclear, from_json
from mitre_pieces import span, stops_of, wanted
from mitre_saw import Saw, Stick, Unsafe, components, merged, parts, reach, shifted
from mitre_sheet import from_text

HAND_KERF = 1.0
JSON_OFF = 1e-6
TEXT_OFF = 0.03
TEXT_STEP_OFF = 0.02  # a step is told to 0.005; each stick adds that, and tan J / 2 of it across


class Wrong(Exception):
    """What comes off the saw is not what is drawn."""


def vertices(shape):
    found = []
    for part in parts(shape):
        found.extend(part.exterior.coords)
    return numpy.array(found)


def apart(corners, others):
    """The farthest that a corner lies from its nearest among others."""
    if not len(corners) or not len(others):
        return 0.0
    ways = numpy.hypot(*(corners[:, None, :] - others[None, :, :]).transpose(2, 0, 1))
    return float(ways.min(axis=1).max())


def off(found, meant, t, dust, window=None):
    """How far two solids differ: area over thickness, corners that are meant, corners found beside
    what is meant, faces. A window looks only at u
    below it."""
    one, other = merged(found, dust), merged(meant, dust)
    if window is not None:
        clip = box(-1e3, -1, window, t + 1)
        one, other = ([(a, b, s.intersection(clip)) for a, b, s in x] for x in (one, other))
        one, other = merged(one, dust), merged(other, dust)
    if len(one) != len(other):
        return math.inf
    worst = 0.0
    for (a0, a1, a), (b0, b1, b) in zip(one, other):
        worst = max(worst, abs(a0 - b0), abs(a1 - b1))
        # What rounded stops do to the walls of several laps adds up.
        laps = max(1, len(parts(b)) - 1)
        worst = max(worst, a.symmetric_difference(b).area / t / laps)
        corners = vertices(a)
        worst = max(worst, apart(vertices(b.simplify(1e-7)), corners))
        worst = max(worst, float(distance(points(corners), b.boundary).max(initial=0.0)))
    return worst


def plan(solid):
    """As it was before its laps, which go half through from either face."""
    return union_all([shape for _, _, shape in solid]).simplify(1e-9)


def mirrored(solid, length):
    """Looked at from the other end; only for comparing both alike."""
    return [
        (a, b, affinity.translate(affinity.scale(s, -1, 1, origin=(0, 0)), length, 0))
        for a, b, s in solid
    ]


class Play:
    """One job on one saw."""

    def __init__(self, case, job, told_to, **opts):
        self.case, self.job, self.told_to = case, job, told_to
        self.opts = opts
        self.t, self.depth = case["thickness"], case["depth"]
        self.dust = 1e-6 if told_to == JSON_OFF else 0.05
        self.wanted = wanted(case)
        self.worst, self.pieces = 0.0, 0

    def saw(self):
        return Saw(
            kerf=self.opts.get("kerf", self.case["kerf"]),
            thickness=self.t,
            depth=self.depth,
            least=self.case["least"],
            correction=self.case.get("correction", 0.0),
            batten=self.job.batten and self.opts.get("batten", True),
            retape=self.opts.get("retape", False),
            dust=self.dust,
            read=1e-6 if self.told_to == JSON_OFF else 0.05,
            sliver=self.dust if self.told_to == JSON_OFF else 0.2,
        )

    def run(self):
        made = {}
        for kind in self.job.kinds.values():
            if kind.at_once * kind.blocks < kind.count:
                raise Wrong(f"sticks {kind.number}: {kind.blocks} blocks of {kind.at_once}")
            if self.job.pieces[kind.number] != kind.count * kind.in_each:
                raise Wrong(f"sticks {kind.number}: {self.job.pieces[kind.number]} pieces")
            orders = [order for order in self.job.orders if order.sticks == kind.number]
            if not orders:
                raise Wrong(f"nothing is done with sticks {kind.number}")
            # The stick at the fence and the one farthest from it: steps add up to the last one.
            for position in sorted({0, kind.at_once - 1}):
                piece = self.one(kind, orders, position)
            made[piece.name, piece.length] = kind.count * kind.in_each
            if piece.count and made[piece.name, piece.length] - kind.spare != piece.count:
                raise Wrong(f"{kind.count} x {kind.in_each} - {kind.spare} of {piece.count} {piece.name}")
        return self.worst

    def one(self, kind, orders, position):
        stick = Stick(kind.length, self.t, self.depth)
        allowed = self.told_to
        if self.told_to != JSON_OFF and not any(order.board for order in orders):
            allowed += position * TEXT_STEP_OFF
        self.allowed = allowed
        saw = self.saw()
        if self.job.in_rows:
            for order in orders:
                saw.row(stick, order, position)
            return self.compared(self.in_row(kind, saw.parted(stick), stick), allowed)
        found = []
        done = 0
        for _ in range(kind.in_each):
            for order in orders:
                if order.does == "end":
                    saw.end(stick, order, position, kind.ends == ["A"])
                else:
                    done += 1
                    last = stick.bounds()[1]
                    found.append(stick.saw_off(last - order.from_point, HAND_KERF))
        if saw.crumbs == 0 and any(order.off_cut for order in orders if order.does == "end"):
            raise Wrong("no wedge of wood comes off, as it is told")
        if done != kind.in_each:
            raise Wrong(f"{done} pieces are sawn off")
        piece = self.compared(self.on_end(kind, found), allowed)
        first, last = stick.bounds()
        if self.told_to == JSON_OFF and last - first < self.case["least"] - 1e-6:
            raise Wrong(f"the stick's rest, {last - first}, is shorter than may be held")
        return piece

    def compared(self, best, allowed):
        """The wanted piece that fits best, if it does."""
        worst, piece, count = best
        if worst > allowed:
            raise Wrong(f"{piece.name} is {worst:.7f} off")
        if allowed == self.told_to:
            self.worst = max(self.worst, worst)
        self.pieces += count
        return piece

    def candidates(self, kind):
        named = [piece for piece in self.wanted if piece.name == kind.name]
        if not named:
            raise Wrong(f"no piece is called {kind.name}")
        return named

    def in_row(self, kind, found, stick):
        """How far the pieces of a parted row are off, at best."""
        results = []
        for piece in self.candidates(kind):
            try:
                if len(kind.ends) == 2:
                    results.append((self.whole(kind, found, stick, piece), piece, kind.in_each))
                else:
                    results.append((self.half_done(kind, found, stick, piece), piece, kind.in_each))
            except Wrong:
                if piece is self.candidates(kind)[-1] and not results:
                    raise
        return min(results, key=lambda result: result[0])

    def whole(self, kind, found, stick, piece):
        worst, count = 0.0, 0
        area = max(s.area for _, _, s in piece.solid)
        for part in found:
            first, last = reach(part)
            largest = max(s.area for _, _, s in part)
            grip = first < 1.0 or last > stick.length - 1.0
            if grip or largest < 0.3 * area:
                continue
            solid = shifted(part, -first)
            worst = max(worst, self.best(solid, piece))
            count += 1
        if count != kind.in_each:
            raise Wrong(f"{count} pieces in a stick of {kind.in_each}")
        return worst

    def best(self, solid, piece):
        """How far a part is off the piece, as it lies best."""
        least = math.inf
        for way in piece.ways:
            if abs(span(way)[1] - reach(solid)[1]) < 0.5:
                least = min(least, off(solid, way, self.t, self.dust))
            if least < self.told_to:
                break
        return least

    def margin(self, way, to_right):
        """How far back an end's facets reach."""
        shape = plan(way)
        first, _, last, _ = shape.bounds
        middle = (first + last) / 2
        if to_right:
            return max(last - u for u, _ in vertices(shape) if u > middle)
        return max(u - first for u, _ in vertices(shape) if u < middle)

    def half_done(self, kind, found, stick, piece):
        """Pieces with one end cut: looked at from that end, up to the facets of the other."""
        cut_b = kind.ends == ["B"]
        worst, count = 0.0, 0
        rough = piece.length + self.case["rough"]
        for part in found:
            first, last = reach(part)
            here = []
            for from_right in (False, True):
                solid = shifted(part, -first)
                if from_right:
                    solid = mirrored(solid, last - first)
                ways = []
                for at, way in enumerate(piece.ways):
                    reversed_way = at >= 2
                    cut_end_right = cut_b != reversed_way
                    if cut_end_right != from_right:
                        continue
                    seen = mirrored(way, piece.length) if from_right else way
                    window = piece.length - self.margin(seen, True) - 0.01
                    clip = box(-1, -1, window, self.t + 1)
                    if max(s.intersection(clip).area for _, _, s in solid) < self.t:
                        continue
                    ways.append(off(solid, seen, self.t, self.dust, window))
                if ways:
                    here.append(min(ways))
            # A grip's own square end, and a rough end, are no cut ends.
            grip = first < 1.0 or last > stick.length - 1.0
            cut = [off_here for off_here in here if off_here < (self.allowed if grip else 0.5)]
            if not cut:
                continue
            needed = rough if len(cut) == 1 else 2 * rough + HAND_KERF
            if last - first < needed - len(cut) * self.told_to:
                if grip:
                    continue  # the grip that a row's last cuts part off has an end like a piece
                raise Wrong(f"{last - first} is too short for {len(cut)} x {rough}")
            if len(cut) == 2:
                self.parted_midway(kind, piece, last - first)
            count += len(cut)
            worst = max([worst, *cut])
        if count < kind.in_each:
            raise Wrong(f"{count} ends in a stick of {kind.in_each}")
        return worst

    def parted_midway(self, kind, piece, long):
        """A hand saw parts two pieces at their rough ends as it is told, and leaves both long enough."""
        rough, told_to = self.case["rough"], self.told_to
        if kind.from_point is None or told_to == JSON_OFF and kind.between is None:
            raise Wrong(f"where the rough ends of sticks {kind.number} are parted is not told")
        if self.told_to == JSON_OFF and abs(2 * piece.length + kind.between - long) > told_to:
            raise Wrong(f"{kind.between} between rough ends, not {long - 2 * piece.length}")
        if abs(kind.from_point - long / 2) > told_to:
            raise Wrong(f"sawn {kind.from_point} from the point, not midway of {long}")
        if kind.from_point - HAND_KERF / 2 < piece.length + rough - told_to:
            raise Wrong(f"sawn {kind.from_point} from the point, too short for {rough}")

    def on_end(self, kind, found):
        results = []
        for piece in self.candidates(kind):
            worst = 0.0
            for off_stick in found:
                whole = [part for part in components(off_stick, self.dust)]
                if len(whole) != 1:
                    raise Wrong(f"{len(whole)} parts sawn off at once")
                first, last = reach(whole[0])
                solid = mirrored(shifted(whole[0], -first), last - first)
                if last - first < piece.length + self.case["rough"] - self.told_to:
                    worst = math.inf
                    continue
                tried = []
                for at, way in enumerate(piece.ways):
                    if (kind.ends == ["B"]) == (at >= 2):
                        continue
                    seen = mirrored([(0.0, self.depth, plan(way))], piece.length)
                    window = piece.length - self.margin(seen, True) - 0.01
                    tried.append(off(solid, seen, self.t, self.dust, window))
                worst = max(worst, min(tried))
            results.append((worst, piece, len(found)))
        return min(results, key=lambda result: result[0])


def figures_wrong(case, job):
    """What is told beside the steps, worked out again."""
    faults, travels = [], []
    for number, told in job.figures.items():
        orders = [o for o in job.orders if o.setting == number]
        height = orders[0].height
        angle = orders[0].seat.cut()
        acute = min(angle, math.pi - angle)
        radius = case["blade"] / 2
        chord = math.sqrt(radius**2 - (radius - height) ** 2)
        widest = max(o.at_once for o in orders) * case["thickness"]
        meant = {
            "blade over the base": height,
            "blade over the table": case["base"] + height,
            "half chord": chord,
            "travel of the sled": widest / math.sin(acute) + case["kerf"] / math.tan(acute) + 2 * chord,
            "kerf along the fence": case["kerf"] / math.sin(acute),
            "step of a block": case["thickness"] / math.tan(acute),
            "between": math.degrees(acute),
            "cut": math.degrees(angle),
        }
        travels.append(meant["travel of the sled"])
        exact = "cut" in told
        for label, value in told.items():
            if label in meant and abs(meant[label] - value) > (1e-6 if exact else 0.0055):
                faults.append(f"setting {number}, {label}: {value}, not {meant[label]}")
    once = [
        ("travel", job.travel, max(travels)),
        ("width of battens", job.batten_width, case["thickness"]),
        ("kerf", job.kerf, case["kerf"]),
        *zip(("thickness", "depth"), job.section or (), (case["thickness"], case["depth"])),
    ]
    for label, value, meant in once:
        if value is not None and abs(value - meant) > 0.0055:
            faults.append(f"{label}: {value}, not {meant}")
    for kind in job.kinds.values():
        if (kind.between is not None) and (len(kind.ends) == 2 or kind.in_each < 3):
            faults.append(f"sticks {kind.number}: no rough ends meet")
    return faults


def counts_wrong(case, job):
    """Facets and cuts, counted again; the skin, from the blade's height."""
    faults = []
    meant = wanted(case)
    exact = "cut" in job.figures[1]
    for order in job.orders:
        if order.does == "cut" and not order.lap:
            skin = case["depth"] - (order.height - case["correction"])
            if abs(skin - job.skin) > (1e-6 if exact else 0.0105):
                faults.append(f"a skin of {job.skin}, not {skin}")
    cuts = 0
    for order in job.orders:
        kind = job.kinds[order.sticks]
        if order.does == "cut":
            cuts += len(order.stops) * kind.blocks
        elif order.does == "end":
            cuts += kind.in_each * kind.blocks
    if cuts != job.counted[1]:
        faults.append(f"{job.counted[1]} cuts, not {cuts}")
    if any(not piece.count for piece in meant):
        return faults
    facets = {}
    for piece in meant:
        ends = [len(end) for end in stops_of(piece, case["thickness"])]
        facets[piece.name] = facets.get(piece.name, 0) + sum(ends) * piece.count
    total = sum(facets.values())
    if job.counted[0] + job.counted[2] != total:
        faults.append(f"{job.counted[0]} + {job.counted[2]} facets, not {total}")
    return faults


def paring_wrong(case, answer):
    """The guides' shoulders: S of every facet that is told."""
    faults = []
    meant = wanted(case)
    for told in answer["pieces"]:
        if not told["made"]:
            continue
        same = [
            piece
            for piece in meant
            if piece.name == told["name"] and abs(piece.length - told["length_over_points_mm"]) < 1e-6
        ]
        if len(same) != 1:
            faults.append(f"{told['name']}, {told['length_over_points_mm']}: no such piece")
            continue
        for end, own in zip(told["ends"], stops_of(same[0], case["thickness"])):
            figures = sorted((round(f["jig_angle_deg"], 6), f["shoulder_mm"]) for f in end["facets"])
            for (angle, stop), (own_angle, s, _) in zip(figures, own):
                if abs(angle - own_angle) > 1e-6 or abs(stop - s) > 1e-6:
                    faults.append(f"{told['name']}: {angle} at {stop}, not {own_angle} at {s}")
    return faults


def mutant(name, case, job, told_to):
    change, opts = MUTANTS[name]
    job = copy.deepcopy(job)
    change(job, case)
    if "kerf" in opts:
        opts = {"kerf": case["kerf"] + opts["kerf"]}
    try:
        Play(case, job, told_to, **opts).run()
    except (Wrong, Unsafe) as why:
        return str(why)
    return None


def table_wrong(case):
    """Lengths, S and S' that were worked out before: {name: [L, [[J, S, S'], ...]]}."""
    faults = []
    meant = {piece.name: piece for piece in wanted(case)}
    for name, (length, rows) in case.get("table", {}).items():
        piece = meant[name]
        own = [row for end in stops_of(piece, case["thickness"]) for row in end]
        if abs(piece.length - length) > 1e-4:
            faults.append(f"{name}: {piece.length} over points, not {length}")
        for row in rows:
            if not any(max(abs(a - b) for a, b in zip(row, one)) < 1e-4 for one in own):
                faults.append(f"{name}: no facet with {row} in {own}")
    return faults


def expected_stops(case, job):
    faults = []
    for setting, kinds in case.get("stops", {}).items():
        for sticks, meant in kinds.items():
            found = [
                o.stops
                for o in job.orders
                if o.setting == int(setting) and o.sticks == int(sticks) and o.does == "cut"
            ]
            if len(found) != 1 or len(found[0]) != len(meant):
                faults.append(f"setting {setting}, sticks {sticks}: {found}")
            elif max(abs(a - b) for a, b in zip(found[0], meant)) > 1e-4:
                faults.append(f"setting {setting}, sticks {sticks}: {found[0]}, not {meant}")
    for setting, figures in case.get("figures", {}).items():
        for label, value in figures.items():
            found = job.figures[int(setting)][label]
            if abs(found - value) > 0.005:
                faults.append(f"setting {setting}, {label}: {found}, not {value}")
    return faults


def check(case):
    told = {"name": case["name"], "faults": [], "mutants": {}}
    answer = case["json"]
    told["faults"] += paring_wrong(case, answer) + table_wrong(case)
    jobs = {}
    for source, tolerance in (("json", JSON_OFF), ("text", TEXT_OFF)):
        try:
            job = from_json(answer["mitres"]) if source == "json" else from_text(case["text"])
            jobs[source] = job
            wrong = figures_wrong(case, job) + counts_wrong(case, job)
            told["faults"] += [f"{source}: {fault}" for fault in wrong]
            play = Play(case, job, tolerance)
            told[f"{source}_off"] = play.run()
            told["pieces"] = play.pieces
        except (Unclear, Unsafe, Wrong) as why:
            told["faults"].append(f"{source}: {type(why).__name__}: {why}")
    if "json" in jobs:
        job = jobs["json"]
        told["faults"] += expected_stops(case, job)
        told["settings"] = len(job.figures)
        reaches = {s["fence"]["reach"]["by"] for s in answer["mitres"]["settings"]}
        told["reaches"] = sorted(reaches | {answer["mitres"]["stop"]})
    if not told["faults"]:
        for name in case.get("mutations", []):
            told["mutants"][name] = {
                "json": mutant(name, case, jobs["json"], JSON_OFF),
                "text": mutant(name, case, jobs["text"], TEXT_OFF),
            }
    return told


if __name__ == "__main__":
    print(json.dumps({"cases": [check(case) for case in json.load(sys.stdin)["cases"]]}))
