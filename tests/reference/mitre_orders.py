"""What is to be done with sticks at a sled, from the figures that are answered (JSON).

Angles come from where the operator stands: X to the right, Y away from the operator along the
blade. Nothing here knows the program's own angles.
"""

import math
from dataclasses import dataclass, field


class Unclear(Exception):
    """Something that cannot be followed."""


@dataclass
class Seat:
    """Sticks before the blade: where they point, left end to right end, and which way the fence
    looks, both as angles from X."""

    sticks: float
    away_from_fence: float

    def cut(self):
        """The blade's angle in the sticks' own frame: x along them, y away from the fence."""
        along, across = (math.pi / 2 - a for a in (self.sticks, self.away_from_fence))
        angle = math.atan2(math.cos(across), math.cos(along)) % math.pi
        return angle

    def seen_from_above(self):
        """Whether x and y turn counter-clockwise, as they do where the fence is on the right of
        the sticks' own way."""
        return math.sin(self.away_from_fence - self.sticks) > 0


@dataclass
class Order:
    """One thing to do with blocks of one kind of sticks."""

    does: str  # "cut" (in a row), "end", "hand-saw"
    sticks: int
    at_once: int = 1
    setting: int = 0
    height: float = 0.0
    seat: Seat = None
    lap: bool = False
    face: str = ""
    step: float = 0.0  # along the fence, each farther from it: to the right
    board: bool = False
    stops: list = field(default_factory=list)
    passes: int = 1
    shift: float = 0.0
    side: str = ""
    roll: bool = False
    from_point: float = 0.0
    off_cut: bool = True  # whether crumbs may come off
    rounds: int = 1


@dataclass
class Kind:
    """Sticks that are alike."""

    number: int
    piece: int
    name: str
    count: int
    length: float
    in_each: int
    at_once: int
    blocks: int
    spare: int
    ends: list
    between: float = None  # from point to point where two rough ends meet
    from_point: float = None  # from a sawn point to the hand saw's cut at the rough end


@dataclass
class Job:
    kinds: dict
    orders: list
    kerf: float
    batten: bool
    in_rows: bool
    figures: dict  # setting -> label -> value, where they are told beside the steps
    pieces: dict = field(default_factory=dict)  # kind -> pieces after the saw
    skin: float = None
    counted: tuple = ()  # facets cut, block cuts, facets left
    travel: float = None  # of the widest block at any setting
    batten_width: float = None
    section: list = None  # thickness and depth of the stock, where they are told


def fence_seat(elevation):
    """Along the fence, which stands between the operator and the sticks."""
    return Seat(elevation, elevation + math.pi / 2)


def board_seat(fence, board_left, sticks_right_away):
    """Along a board square to the fence, pointing away from the operator. Right and left are those of
    whoever stands behind the board, which is then the fence."""
    board = fence + math.pi / 2
    sticks = board if sticks_right_away else board + math.pi
    looks = board + math.pi / 2 if board_left else board - math.pi / 2
    seat = Seat(sticks, looks)
    if not seat.seen_from_above():
        raise Unclear("left and right are not those of whoever stands behind the board")
    return seat


def up(degrees, end_away):
    """The right end away from the operator is the one that is higher up."""
    angle = math.radians(float(degrees))
    return angle if end_away == "right" else -angle


def _seat(fence):
    reach = fence["reach"]
    right_away = fence.get("end_away", "right") == "right"
    if reach["by"] == "fence":
        return fence_seat(up(fence["from_square_deg"], fence.get("end_away", "right")))
    if reach["by"] == "cross_board":
        turned = up(reach["fence_from_square_deg"], reach["fence_end_away"])
        return board_seat(turned, reach["sticks_on"] == "left", right_away)
    wedge = reach["wedge"]
    turned = up(reach["fence_from_square_deg"], fence["end_away"])
    return fence_seat(turned + up(wedge["angle_deg"], wedge["thick_end"]))


def from_json(plan):
    in_rows = plan["way"] != "stick-ends"
    job = Job({}, [], plan["kerf_mm"], in_rows, in_rows, {})
    job.skin = plan["skin"]["set_mm"] if in_rows else None
    job.counted = (plan["facets_cut"], plan["block_cuts"], plan["facets_left"])
    for one in plan["sticks"]:
        made = one["count"] * one["pieces_per_stick"]
        job.kinds[one["number"]] = Kind(
            one["number"],
            one["piece"],
            one["name"],
            one["count"],
            one["length_mm"],
            one["pieces_per_stick"],
            one["sticks_per_block"],
            one["blocks"],
            made - one["needed"],
            one["cut_ends"],
            one.get("between_rough_ends_mm"),
            one.get("rough_end_from_point_mm"),
        )
        job.pieces[one["number"]] = made
    for setting in plan["settings"]:
        fence = setting["fence"]
        seat = _seat(fence)
        step = fence["step_mm"] if fence["step_toward"] == "right" else -fence["step_mm"]
        base = {"setting": setting["number"], "height": setting["height_above_base_mm"], "seat": seat}
        job.figures[setting["number"]] = {
            "blade over the base": setting["height_above_base_mm"],
            "blade over the table": setting["height_above_table_mm"],
            "half chord": setting["half_chord_mm"],
            "travel of the sled": setting["travel_mm"],
            "kerf along the fence": fence["kerf_along_fence_mm"],
            "step of a block": fence["step_mm"],
            "between": fence["to_blade_deg"],
            "cut": fence["cut_angle_deg"],
        }
        board = plan["stop"] == "board"
        for work in setting.get("work", []):
            order = Order("cut", work["sticks"], job.kinds[work["sticks"]].at_once, **base)
            order.lap, order.face = setting["cut"] == "lap", work["face_down"]
            order.step, order.board = (0.0 if board else step), board
            order.stops = list(work["stops_mm"])
            if order.lap:
                order.passes = setting["passes"]
                order.shift = setting["pass_shift_along_fence_mm"]
            job.orders.append(order)
        for work in setting.get("ends", []):
            kind = job.kinds[work["sticks"]]
            for at, lie in enumerate(work["lies"]):
                order = Order("end", work["sticks"], kind.at_once, **base)
                order.step, order.stops = step, [lie["stop_mm"]]
                order.side, order.roll, order.off_cut = lie["on_fence"], at > 0, work["off_cut"]
                job.orders.append(order)
            order = Order("hand-saw", work["sticks"], from_point=work["cut_off_mm"])
            order.rounds = kind.in_each
            job.orders.append(order)
    return job
