"""Orders that are wrong in one way each: whoever plays them must see it."""

import math

from mitre_orders import Seat
from mitre_pieces import stops_of, wanted


def facets(job, does=("cut", "end")):
    return [o for o in job.orders if o.does in does and not o.lap]


def stop_off(job, case):
    facets(job)[0].stops[0] += 0.05


def second_end_off(job, case):
    for order in [o for o in facets(job) if len(o.stops) > 1][-1:]:
        order.stops[-1] -= 0.05


def turned(seat, sticks):
    """The same seat with its sticks another way round."""
    return Seat(sticks, seat.away_from_fence + sticks - seat.sticks)


def other_angle(job, case):
    """The angle from square where that to the blade is meant, by the same hand."""
    for order in facets(job):
        up = math.asin(math.sin(order.seat.sticks))
        order.seat = turned(order.seat, math.copysign(math.pi / 2, up) - up)


def hand_swapped(job, case):
    setting = facets(job)[0].setting
    for order in facets(job):
        if order.setting == setting:
            order.seat = turned(order.seat, -order.seat.sticks)


def step_swapped(job, case):
    for order in facets(job):
        order.step = -order.step


def rolled(job, case):
    setting = facets(job)[0].setting
    for order in facets(job):
        if order.setting != setting:
            order.face = "front" if order.face == "back" else "back"


def no_skin(job, case):
    for order in facets(job):
        order.height = case["depth"]


def laps_faced_over(job, case):
    for order in job.orders:
        if order.lap:
            order.face = "front" if order.face == "back" else "back"


def facets_faced_over(job, case):
    for order in facets(job):
        order.face = "front" if order.face == "back" else "back"


def laps_slanted_over(job, case):
    for order in job.orders:
        if order.lap:
            order.seat = turned(order.seat, -order.seat.sticks)


def lap_moved(job, case):
    for order in job.orders:
        if order.lap:
            order.stops = [stop + 0.05 for stop in order.stops]


def lap_shallow(job, case):
    for order in job.orders:
        if order.lap:
            order.height -= 0.05


def ridge_from_other_side(job, case):
    """h measured from the side off the fence: facets of an end with an offset ridge."""
    for piece in wanted(case):
        for end in stops_of(piece, case["thickness"]):
            if len(end) == 2 and abs(end[0][1] - end[1][1]) > 1e-3 and abs(end[0][0] - end[1][0]) < 1e-6:
                between = end[1][1] - end[0][1]
                for order in facets(job):
                    acute = min(order.seat.cut(), math.pi - order.seat.cut())
                    if abs(math.degrees(acute) - end[0][0]) < 1e-6:
                        sign = 1 if order.seat.cut() < math.pi / 2 else -1
                        if order.does == "end":
                            sign = 1 if order.roll else -1
                        order.stops = [stop - sign * between for stop in order.stops]


def sides_swapped(job, case):
    ends = facets(job, ("end",))
    for first, second in zip(ends, ends[1:]):
        if second.roll:
            first.stops, second.stops = second.stops, first.stops


def not_rolled(job, case):
    before = None
    for order in facets(job, ("end",)):
        if order.roll:
            order.roll, order.side = False, before.side
        before = order


def square_end_twice(job, case):
    """Rolled over, as if the square end still stood against the stop."""
    before = None
    for order in facets(job, ("end",)):
        if order.roll and order.setting == before.setting:
            back = case["thickness"] / math.tan(order.seat.cut())
            order.stops = [max(order.stops[0], 1.0 + back / 2)]
        before = order


def far_side_of_kerf(job, case):
    for order in facets(job):
        order.stops = [stop + case["kerf"] / math.sin(order.seat.cut()) for stop in order.stops]


MUTANTS = {
    "stop-off": (stop_off, {}),
    "second-end-off": (second_end_off, {}),
    "other-angle": (other_angle, {}),
    "hand-swapped": (hand_swapped, {}),
    "step-swapped": (step_swapped, {}),
    "kerf-wider": (lambda job, case: None, {"kerf": 0.1}),
    "kerf-narrower": (lambda job, case: None, {"kerf": -0.1}),
    "rolled-with-batten": (rolled, {}),
    "rolled-over": (rolled, {"retape": True}),
    "no-skin": (no_skin, {}),
    "no-batten": (lambda job, case: None, {"batten": False}),
    "laps-faced-over": (laps_faced_over, {}),
    "facets-faced-over": (facets_faced_over, {"retape": True}),
    "laps-slanted-over": (laps_slanted_over, {}),
    "lap-moved": (lap_moved, {}),
    "lap-shallow": (lap_shallow, {}),
    "ridge-from-other-side": (ridge_from_other_side, {}),
    "sides-swapped": (sides_swapped, {}),
    "not-rolled": (not_rolled, {}),
    "square-end-twice": (square_end_twice, {}),
    "far-side-of-kerf": (far_side_of_kerf, {}),
}
