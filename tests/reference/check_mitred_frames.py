"""Checks mitred frames against polygons worked out apart, and cuts their members on a saw (shapely).

    python check_mitred_frames.py < DESCRIPTION.json

The description, mm, radians: {"frames": [{"name": text, "inner": [[x, y], ...], "widths": [w, ...],
    "names": [what each member is called], "kerf": k, "powered": bool, "rough": r,
    "members": [{"inner_length": l, "outer_length": l, "mitres": [J, J],
                 "mortises": [[near edge, far edge], ...]}, ...], "depth": of the mortises, "web": w,
    "plan": the object "mitres" of the JSON answer, "steps": [sentence of the sheet, ...]}, ...]}

"inner" is the frame's inner outline, counter-clockwise, its edges in the members' order; "members"
are told as they run there. "rough": blanks are longer by it than told, at the end that is not
measured from. Per frame:
- both mitres at a corner make up the interior angle, all of them (n - 2) 180 degrees;
- members from inner length and mitres, laid at the inner outline, do not overlap, leave no gap
  in the ring to the outer outline, and have its lengths; mortises keep the web to both mitres;
- mitres that are off close as the JSON says;
- blanks cut as the JSON says, and again as the sentences say, become the members. A saw knows what a
  person knows: how far the fence is turned, which end goes away, where the stop is, what lies on
  the fence, on the stop and down. Kept is what lies at the stop.
Exits 0 if so; else 1, with the reason on stderr after "refused: ".
"""

import json
import math
import re
import sys

import numpy
import shapely
from shapely import affinity
from shapely.geometry import Polygon, box

ANGLE = math.radians(1e-9)
AREA = 1e-9  # mm^2
LENGTH = 1e-6  # mm
FAR = 1e5

# What a sentence rounds: half a hundredth of a millimetre of the stop, half a thousandth of a degree.
TOLD_STOP = 0.005
TOLD_ANGLE = math.radians(0.0005)


class Refusal(Exception):
    """It is not right."""


def unit(v):
    return v / numpy.linalg.norm(v)


def cross(a, b):
    return a[0] * b[1] - a[1] * b[0]


class Outline:
    """The frame from its inner corners and widths alone."""

    def __init__(self, frame):
        self.inner = [numpy.array(p, dtype=float) for p in frame["inner"]]
        self.count = len(self.inner)
        self.widths = frame["widths"]
        n = self.count
        self.along = [unit(self.inner[(i + 1) % n] - self.inner[i]) for i in range(n)]
        self.out = [numpy.array([d[1], -d[0]]) for d in self.along]
        self.outer = [self.meeting(i) for i in range(n)]

    def meeting(self, i):
        """Where the outer lines of the members before and after corner i meet."""
        normals = numpy.array([self.out[i - 1], self.out[i]])
        offsets = [
            numpy.dot(self.out[j], self.inner[j] + self.out[j] * self.widths[j]) for j in (i - 1, i)
        ]
        return numpy.linalg.solve(normals, offsets)

    def member(self, i):
        """Its corners along it from its inner corner, x that way, y from the inner edge outward,
        down: as it is seen from the front, inner edge up."""
        j = (i + 1) % self.count
        corners = [self.inner[i], self.inner[j], self.outer[j], self.outer[i]]
        return [
            (numpy.dot(p - self.inner[i], self.along[i]), -numpy.dot(p - self.inner[i], self.out[i]))
            for p in corners
        ]

    def ends(self, i):
        """What its ends are called, that where it begins first: seen from the front."""
        x, y = self.along[i]
        if abs(y) >= abs(x) - 1e-9:
            names = ["lower end", "upper end"]
            return names if y > 0 else names[::-1]
        names = ["left end", "right end"]
        return names if x > 0 else names[::-1]


def check_shape(frame, outline):
    n = outline.count
    members = frame["members"]
    total = 0.0
    laid = []
    for i, member in enumerate(members):
        j = (i + 1) % n
        corner = math.pi - math.atan2(
            cross(outline.along[i], outline.along[j]), numpy.dot(outline.along[i], outline.along[j])
        )
        both = member["mitres"][1] + members[j]["mitres"][0]
        if abs(both - corner) > ANGLE:
            raise Refusal(f"corner {j}: mitres make up {math.degrees(both)}, not {math.degrees(corner)}")
        total += sum(member["mitres"])
        length, width = member["inner_length"], outline.widths[i]
        near, far = (width / math.tan(mitre) for mitre in member["mitres"])
        if abs(length + near + far - member["outer_length"]) > AREA:
            raise Refusal(f"member {i}: outer length {member['outer_length']}")
        points = [(0, 0), (length, 0), (length + far, width), (-near, width)]
        laid.append(Polygon([outline.inner[i] + outline.along[i] * u + outline.out[i] * v for u, v in points]))
        wood = Polygon(points).buffer(LENGTH)
        for edges in member["mortises"]:
            if not wood.covers(box(edges[0] - frame["web"], 0, edges[1] + frame["web"], frame["depth"])):
                raise Refusal(f"member {i}: the mortise {edges} comes too near a mitre")
        true = numpy.linalg.norm(outline.outer[j] - outline.outer[i])
        if abs(true - member["outer_length"]) > AREA:
            raise Refusal(f"member {i}: outer length {member['outer_length']}, not {true}")
    if abs(total - (n - 2) * math.pi) > ANGLE:
        raise Refusal(f"all mitres make up {math.degrees(total)}")
    for i, one in enumerate(laid):
        for other in laid[i + 1 :]:
            if one.intersection(other).area > AREA:
                raise Refusal(f"members overlap by {one.intersection(other).area} mm^2")
    ring = Polygon(outline.outer).difference(Polygon(outline.inner))
    gap = ring.area - sum(one.area for one in laid)
    if abs(gap) > AREA or ring.difference(shapely.union_all(laid).buffer(AREA)).area > AREA:
        raise Refusal(f"members leave {gap} mm^2 of the ring open")


def check_closing(frame, outline):
    """Members with every mitre too blunt, put together face to face, all corners but one."""
    closing = frame["plan"]["closing"]
    off = math.radians(closing["off_deg"])
    n = outline.count
    each = [member["mitres"] for member in frame["members"]]
    longest = max(outline.widths[i] / math.sin(mitre) for i in range(n) for mitre in each[i])
    # Two faces from one tip, each turned by what it is off.
    faces = [numpy.array([math.cos(a), math.sin(a)]) * longest for a in (off, -off)]
    if abs(numpy.linalg.norm(faces[0] - faces[1]) - closing["each_corner_open_mm"]) > LENGTH:
        raise Refusal(f"each corner stands {closing['each_corner_open_mm']} open")
    if any(mitre > math.pi / 2 - 1e-9 for mitres in each for mitre in mitres):
        if closing.get("last_corner_miss_mm") is not None:
            raise Refusal("a miss is told of members that are cut by their inner edges")
        return
    missed = []
    for first in range(n):
        tip, along = numpy.array([0.0, 0.0]), 0.0
        for i in [(first + k) % n for k in range(n)]:
            # The face where the member begins lies at its own angle to the edge, to the left of it.
            face = along + each[i][0] + off
            if i == first:
                start, start_face = tip, face
            tip = tip + frame["members"][i]["outer_length"] * numpy.array([math.cos(along), math.sin(along)])
            end_face = along + math.pi - each[i][1] - off
            # The next one's face on this one.
            along = end_face - each[(i + 1) % n][0] - off
        missed.append(numpy.linalg.norm(tip - start))
        apart = (end_face - start_face) % (2 * math.pi)
        apart = min(apart, 2 * math.pi - apart)
        if abs(apart - math.radians(closing["closes_off_deg"])) > 1e-9:
            raise Refusal(f"the last faces are {math.degrees(apart)} deg apart")
    if abs(max(missed) - closing["last_corner_miss_mm"]) > LENGTH:
        raise Refusal(f"the last corner misses by {max(missed)}")


def from_json(plan):
    """Settings as the JSON has them: turn, end away, and the cuts."""
    for setting in plan["sled"]["settings"]:
        turn = math.radians(setting["from_square_deg"])
        if abs(setting["from_square_deg"] + setting["to_blade_deg"] - 90) > 1e-6:
            raise Refusal("from square and to the blade are not one setting")
        wedge = setting.get("wedge")
        if wedge is not None and abs(wedge["angle_deg"] - setting["from_square_deg"]) > 1e-6:
            raise Refusal("the wedge is another angle")
        for cut in setting["cuts"]:
            for lie in cut["members"]:
                yield {
                    "turn": turn,
                    "away": setting.get("end_away"),
                    "stop": cut["stop_to_kerf_mm"],
                    "contact": cut["at_stop"],
                    "edge": cut["edge_on_fence"],
                    "face": lie["face_down"],
                    "end": lie["end"],
                    "name": lie["name"],
                }


CONTACTS = {
    "the blank's other end, still square (the one marked from), on the stop": "blank",
    "the long point of the finished mitre on the stop, at the fence": "long point",
    "the finished square end on the stop": "finished end",
}


def from_words(steps):
    """The same from the sentences on the sheet."""
    turn, away = None, None
    for step in steps:
        if step.startswith("Setting "):
            if re.match(r"Setting \d+: fence square to the blade\.$", step):
                turn, away = 0.0, None
                continue
            found = re.match(
                r"Setting \d+: fence ([\d.]+) deg from square, ([\d.]+) deg to the blade, (left|right) end away from you\.",
                step,
            )
            turn, away = math.radians(float(found[1])), found[3]
        elif step.startswith("Stop "):
            found = re.match(
                r"Stop ([\d.]+) mm from the near side of the kerf\. (Outer|Inner) edge on the fence, (.*?)\. (.*)$",
                step,
            )
            for face, ends in re.findall(r"(Back|Front) face down: cut the (.*?)\.(?= |$)", found[4]):
                for end in ends.split(", the "):
                    end, name = end.split(" of the ", 1)
                    yield {
                        "turn": turn,
                        "away": away,
                        "stop": float(found[1]),
                        "contact": CONTACTS[found[3]],
                        "edge": found[2].lower(),
                        "face": face.lower(),
                        "end": end,
                        "name": name,
                    }


class Member:
    """A blank, seen from the front: x along it round the panel from its first inner corner, inner
    edge up at y = 0."""

    def __init__(self, told, ends, width, rough):
        self.name, self.width = told["name"], width
        length = told["inner_length_mm"]
        marked = told["mark_to_inner_corner_mm"]
        reach = told["blank_mm"] + rough
        if told["mark_from"] == ends[0]:
            x = -marked, -marked + reach
        else:
            x = length + marked - reach, length + marked
        self.ends = ends
        self.length = length
        self.wood = box(x[0], -width, x[1], 0)
        self.done = set()

    def saw(self, how, powered, kerf):
        # What is seen from above with that face down.
        turned = [1, 0, 0, 1, 0, 0]
        if how["face"] == "front":
            turned[0] = -1
        # The fence is at the operator's side of the wood at a saw, at the far side at a hook.
        at_bottom = powered
        if (how["edge"] == "outer") != at_bottom:
            turned[0], turned[3] = -turned[0], -turned[3]
        wood = affinity.affine_transform(self.wood, turned)
        to_right = self.ends[1] if turned[0] > 0 else self.ends[0]
        if how["end"] != to_right:
            raise Refusal(f"{self.name}: the {how['end']} does not lie beyond the blade")
        left, low, _, high = wood.bounds
        shift = -left, -(low if at_bottom else high)
        wood = affinity.translate(wood, *shift)
        self.on_stop(how, wood)
        # Turned as the fence is; the blade runs away from the operator.
        angle = {"left": -1, "right": 1, None: 0}[how["away"]] * how["turn"]
        if how["away"] is None and how["turn"] != 0:
            raise Refusal("a turned fence and no end that goes away")
        lying = affinity.rotate(wood, angle, origin=(0, 0), use_radians=True)
        x = how["stop"] * math.cos(angle)
        kept = lying.intersection(box(-FAR, -FAR, x, FAR))
        off = lying.intersection(box(x + kerf, -FAR, FAR, FAR))
        if off.is_empty:
            raise Refusal(f"{self.name}: nothing is left beyond the kerf")
        kept = affinity.rotate(kept, -angle, origin=(0, 0), use_radians=True)
        kept = affinity.translate(kept, -shift[0], -shift[1])
        self.wood = affinity.affine_transform(kept, [turned[0], 0, 0, turned[3], 0, 0])
        if how["end"] in self.done:
            raise Refusal(f"{self.name}: the {how['end']} is cut twice")
        self.done.add(how["end"])

    def on_stop(self, how, wood):
        """What touches the flat stop must be what was said."""
        points = numpy.array(wood.exterior.coords)
        touching = points[points[:, 0] < LENGTH][:, 1]
        spread = touching.max() - touching.min()
        if how["contact"] == "blank":
            right = not self.done and spread > self.width - LENGTH
        elif how["contact"] == "finished end":
            right = self.done and spread > self.width - LENGTH
        else:
            right = self.done and spread < LENGTH and abs(touching[0]) < LENGTH
        if not right:
            raise Refusal(f"{self.name}: on the stop is not the {how['contact']}")

    def compare(self, true, within):
        true = Polygon(true)
        apart = self.wood.hausdorff_distance(true)
        area = self.wood.symmetric_difference(true).area
        if apart > within or area / self.width > within:
            raise Refusal(f"{self.name}: sawn, it is off by {apart:.6f} mm")


def play(frame, outline, orders, within):
    told = {member["name"]: member for member in frame["plan"]["members"]}
    members = {}
    for i, name in enumerate(frame["names"]):
        members[name] = Member(told[name], outline.ends(i), outline.widths[i], frame["rough"])
    for how in orders:
        members[how["name"]].saw(how, frame["powered"], frame["kerf"])
    for i, name in enumerate(frame["names"]):
        true = outline.member(i)
        # A figure is off by what it is rounded by; a turn moves the cut's far end by that over its width.
        sharp = math.sin(min(min(math.radians(m["mitre_deg"]), math.pi - math.radians(m["mitre_deg"])) for m in told[name]["mitres"]))
        members[name].compare(true, within(outline.widths[i], sharp))


def check(frame):
    outline = Outline(frame)
    check_shape(frame, outline)
    check_closing(frame, outline)
    play(frame, outline, list(from_json(frame["plan"])), lambda width, sharp: LENGTH)
    words = list(from_words(frame["steps"]))
    if len(words) != 2 * outline.count:
        raise Refusal(f"the sentences have {len(words)} cuts")
    # Both ends may be off, and a tip along the member by what it is off square to the cut over the sine.
    play(
        frame,
        outline,
        words,
        lambda width, sharp: 2 * (TOLD_STOP + 2 * width * TOLD_ANGLE / sharp) / sharp,
    )


def main():
    try:
        for frame in json.load(sys.stdin)["frames"]:
            try:
                check(frame)
            except Refusal as refusal:
                raise Refusal(f"{frame['name']}: {refusal}") from None
    except Refusal as refusal:
        print(f"refused: {refusal}", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
