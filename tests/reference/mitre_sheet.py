"""The sheet for mitres at a sled as a person reads it, sentence by sentence, into what is to be done.

Reads strictly: a sentence, a table or a figure that is not known is refused.
"""

import math
import re

from mitre_orders import Job, Kind, Order, Unclear, board_seat, fence_seat, up
from mitre_sections import sections_of
from mitre_sentences import (
    AFTER_ROWS,
    ALIKE,
    ALL_DONE,
    AT_BLOCK,
    AT_BOARD,
    BLADE,
    BLOCK_STEP,
    BY_HAND,
    CHECK_AT_ENDS,
    CHECK_IN_ROWS,
    COUNTED,
    CROSS_BOARD,
    CUT_ROW,
    EACH_CUT,
    END_STEP,
    END_STOP,
    FENCE,
    FIRST_WEDGE,
    HELD_AT_ENDS,
    HELD_IN_ROWS,
    LAY_END,
    LAY_ROW,
    LEFT,
    MEASURED,
    MEASURED_FOLLOWS,
    N,
    NEVER_ROLL,
    OFF_CUT,
    ON_YOUR_SIDE,
    OTHER_BLOCKS,
    PARE,
    PICTURE,
    RIDGE,
    ROLL_END,
    ROUGH_ENDS,
    SAW_END,
    SETTING,
    SHORTER,
    SPACERS,
    STICKS_CAPTION,
    STOP,
    TURNED,
    WEDGE,
    WEDGES_USE,
    WHY_LEFT,
    Words,
)


def _alike(one, other):
    return abs(one - other) < 0.0025


class Stops:
    """A table of stops, which settings take their rows from; every cell has to be taken."""

    def __init__(self, rows):
        self.cells = {}  # (sticks, angle, hand, face or nothing) -> stops
        self.taken = set()
        self.one_column = "stop mm" in rows[0]
        hands = {"stop mm": "both"} if self.one_column else {"right mm": "right", "left mm": "left"}
        for row in rows:
            for column, hand in hands.items():
                if not row[column]:
                    continue
                angle = float(re.fullmatch(N + " deg", row["angle"]).group(1))
                key = (int(row["sticks"]), angle, hand, row.get("face down"))
                stops = self.cells.setdefault(key, [])
                stops.append(float(row[column]))
                if int(row["cut"]) != len(stops):
                    raise Unclear(f"cut {row['cut']} after {len(stops) - 1}")

    def of(self, sticks, angle, hand, face):
        hand = "both" if self.one_column else hand
        for key, stops in self.cells.items():
            lies = key[3] in (None, face)
            if key[0] == sticks and _alike(key[1], angle) and key[2] == hand and lies:
                self.taken.add(key)
                return stops
        raise Unclear(f"no stops of sticks {sticks} at {angle} deg")

    def end(self):
        if len(self.taken) != len(self.cells):
            raise Unclear(f"stops that no setting takes: {self.cells.keys() - self.taken}")


class Sheet:
    """The sheet, sentence by sentence."""

    def __init__(self, text):
        self.job = Job({}, [], 0.0, False, False, {})
        self.checked = set()  # angles of the check
        self.stay = 0  # facets
        sections = sections_of(text)
        headings = [section.heading for section in sections]
        known = [
            ("FIRST: WHAT HOLDS THE PIECES", self.held),
            ("STOCK AS MEASURED", self.stock),
            ("STICKS", self.sticks),
            ("CHECK FIRST", self.check),
            ("HALF LAPS, BEFORE THE MITRES", self.laps),
            ("MITRES", self.mitres),
        ]
        optional = (self.stock, self.laps)
        if headings != [h for h, read in known if h in headings or read not in optional]:
            raise Unclear(headings)
        for section in sections:
            dict(known)[section.heading](section)

    def held(self, section):
        words = Words(section.text.strip())
        told = words.may(HELD_IN_ROWS)
        if told:
            self.job.skin, thinnest, thickest, self.job.batten_width = map(float, told.groups())
            if not thinnest <= self.job.skin <= thickest:
                raise Unclear("a skin that is thinner than its thinnest, or thicker")
            self.job.batten = self.job.in_rows = True
        else:
            words.take(HELD_AT_ENDS)
        words.end()
        self.plain(section)

    @staticmethod
    def plain(section):
        if section.steps or section.tables:
            raise Unclear(f"steps or a table at {section.heading}")

    def stock(self, section):
        words = Words(section.text)
        found = []
        for label, over, under in (("thickness", "thicker", "thinner"), ("depth", "deeper", "shallower")):
            told = MEASURED.replace("{LABEL}", label)
            stock, drawn, more, which = words.take(told.replace("{OVER}", over).replace("{UNDER}", under))
            more = float(more or 0) * (1 if which == over else -1)
            if drawn and abs(float(stock) - float(drawn) - more) > 1e-6:
                raise Unclear(f"{label}: {stock} mm, {drawn} mm drawn, {more} mm more")
            found.append((float(stock), more))
        self.job.section = [stock for stock, _ in found]
        room, which = words.take(MEASURED_FOLLOWS)
        if float(room or 0) * (1 if which == "less" else -1) != found[0][1]:
            raise Unclear(f"{room} mm {which} room")
        words.end()
        self.plain(section)

    def sticks(self, section):
        (table,) = section.tables
        if section.steps:
            raise Unclear(section.steps)
        for row in table:
            piece, name = row["piece"].split(" ", 1)
            ends = row["ends"].split(" and ")
            numbers = [row[k] for k in ("count", "in each", "at once", "blocks", "spare")]
            count, each, at_once, blocks, spare = map(int, numbers)
            number = int(row["sticks"])
            length = float(row["length mm"])
            self.job.kinds[number] = Kind(
                number, int(piece), name, count, length, each, at_once, blocks, spare, ends
            )
            self.job.pieces[number] = count * each
        words = Words(section.text)
        wood = list(map(float, words.take(" " + STICKS_CAPTION)))
        if self.job.section not in (None, wood):
            raise Unclear(f"sticks of {wood}, the stock is {self.job.section}")
        self.job.section = wood
        *counts, self.job.kerf = words.take(COUNTED)
        self.job.kerf = float(self.job.kerf)
        total, cut, cuts, self.stay = map(int, counts)
        if cut + self.stay != total:
            raise Unclear("facets that do not add up")
        self.job.counted = (cut, cuts, self.stay)
        self.blade = tuple(map(float, words.take(BLADE)))
        self.job.travel = self.blade[2]
        left = 0
        while words.left:
            left += int(words.take(LEFT)[0])
            words.match(WHY_LEFT)
        if left != self.stay:
            raise Unclear(f"{left} facets stay, or {self.stay}")

    def check(self, section):
        steps = [CHECK_IN_ROWS if self.job.in_rows else CHECK_AT_ENDS]
        if section.steps != steps or section.tables:
            raise Unclear(section.steps)
        words = Words(section.text.strip())
        if self.job.in_rows:
            words.take(SHORTER)
            for shorter, angle in self.by_angle(words):
                if abs(shorter - 0.1 / math.sin(math.radians(angle))) > 0.0055:
                    raise Unclear(f"{shorter} mm at {angle} deg")
            words.take(". ")
        words.take(RIDGE)
        ridges = [(mm, math.tan(math.radians(angle))) for mm, angle in self.by_angle(words)]
        # One figure of the stop is behind all of them.
        least = max((mm - 0.0055) / tan for mm, tan in ridges) if ridges else 0.0
        most = min((mm + 0.0055) / tan for mm, tan in ridges) if ridges else 0.0
        if least > most:
            raise Unclear(f"ridges of several stops: {ridges}")
        words.take(SPACERS)
        words.end()

    def by_angle(self, words):
        """Millimetres at each angle."""
        told = []
        while found := words.may((", " if told else ": ") + "{N} mm at {N} deg"):
            told.append(tuple(map(float, found.groups())))
        if self.checked and self.checked != {angle for _, angle in told}:
            raise Unclear(f"angles {told}")
        self.checked = {angle for _, angle in told}
        return told

    def laps(self, section):
        if not self.job.in_rows:
            raise Unclear("half laps on sticks' ends")
        if self.settings(section, lap=True):
            raise Unclear("steps after half laps")

    def mitres(self, section):
        rest = self.settings(section, lap=False)
        mitred = [o for o in self.job.orders if o.does != "hand-saw" and not o.lap]
        slanted = {self.job.figures[o.setting]["between"] for o in mitred} - {90.0}
        if not all(any(_alike(a, b) for b in self.checked) for a in slanted) or not all(
            any(_alike(a, b) for b in slanted) for a in self.checked
        ):
            raise Unclear(f"checked at {self.checked}, cut at {slanted}")
        self.after(rest)

    def settings(self, section, lap):
        """Reads settings; gives the steps that come after them."""
        words = Words(section.text)
        self.stops = None
        several = False
        if self.job.in_rows:
            (table,) = section.tables
            self.stops = Stops(table)
            words.take(PICTURE)
            (at,) = words.take(STOP)
            words.take(ALIKE if self.stops.one_column else BY_HAND)
            several = bool(words.may(" Of each lap the first pass."))
        elif section.tables:
            raise Unclear("a table of stops on sticks' ends")
        self.wedges = self.marked(words)
        self.wedges_used = set()
        if self.job.in_rows:
            words.take(ON_YOUR_SIDE)
            self.board = at != "its face"
            words.take(AT_BOARD if self.board else AT_BLOCK)
            words.take(EACH_CUT)
            if not lap:
                words.take(NEVER_ROLL)
        words.end()
        steps = list(section.steps)
        passes = set()
        while steps and steps[0].startswith("Setting "):
            step = Words(steps.pop(0))
            self.set(step, lap)
            if self.job.in_rows:
                passes |= self.row(step, lap)
            else:
                step.end()
                steps = self.ends(steps)
        if several != any(count > 1 for count in passes):
            raise Unclear("the first pass of one, or none of several")
        if self.stops:
            self.stops.end()
        if self.wedges_used != set(self.wedges):
            raise Unclear("a wedge that is not used")
        return steps

    @staticmethod
    def marked(words):
        """Wedges as they are marked, by their angles as they are told."""
        wedges = {}
        found = words.may(FIRST_WEDGE)
        while found:
            angle, along, rise = map(float, found.groups())
            if abs(math.degrees(math.atan2(rise, along)) - angle) > 0.01:
                raise Unclear(f"a wedge of {angle} deg, marked {along} by {rise}")
            wedges[angle] = math.radians(angle)
            found = words.may("; of {N} deg: {N} mm and {N} mm")
        if wedges:
            words.take(WEDGES_USE)
        return wedges

    def set(self, step, lap):
        """What is set: number, blade, fence."""
        number, height = step.take(SETTING)
        self.number, self.height = int(number), float(height)
        if self.number != len(self.job.figures) + 1:
            raise Unclear(f"setting {number} after {len(self.job.figures)}")
        if not lap and self.height != self.blade[0]:
            raise Unclear("two heights")
        self.seat, self.away, angle = self.reach(step)
        self.job.figures[self.number] = {"blade over the base": self.height, "between": angle}
        if not lap:
            self.job.figures[self.number]["blade over the table"] = self.blade[1]

    def reach(self, step):
        """The seat, the sticks' end that goes away, the angle between sticks and blade."""
        if step.may("fence square."):
            return fence_seat(0.0), "right", 90.0
        if told := step.may(FENCE):
            turned, angle, away, stands = told.groups()
            if stands and self.number != 1 or not _alike(float(turned) + float(angle), 90.0):
                raise Unclear(told.group(0))
            return fence_seat(up(turned, away)), away, float(angle)
        if told := step.may(CROSS_BOARD):
            angle, fence_end, side, away = told.groups()
            seat = board_seat(up(angle, fence_end), side == "left", away == "right")
            return seat, away, float(angle)
        fence, fence_end = 0.0, None
        if told := step.may(TURNED):
            fence, fence_end = float(told.group(1)), told.group(2)
        else:
            step.take("fence square, ")
        wedge, thick, away = step.take(WEDGE)
        self.wedges_used.add(float(wedge))
        if float(wedge) not in self.wedges or (fence_end or away) != away or thick != away:
            raise Unclear(f"a wedge of {wedge} deg, thick at the {thick}, {away} ends away")
        turned = fence + float(wedge)
        return fence_seat(up(turned, away)), away, round(90.0 - turned, 6)

    def kind(self, number):
        if int(number) not in self.job.kinds:
            raise Unclear(f"sticks {number}")
        return self.job.kinds[int(number)]

    def stepped(self, told):
        """How far each stick lies to the right of its neighbour nearer the fence."""
        if not told:
            return 0.0
        step, hand = told.groups()
        self.job.figures[self.number]["step of a block"] = float(step)
        return float(step) if hand == "right" else -float(step)

    def row(self, step, lap):
        """How blocks are laid and cut, kind by kind; gives the numbers of passes."""
        each = 0.0 if self.board else self.stepped(step.may(BLOCK_STEP))
        passes = set()
        while not passes or step.left:
            sticks, at_once, face = step.take(LAY_ROW)
            kind = self.kind(sticks)
            stops = self.stops.of(kind.number, self.job.figures[self.number]["between"], self.away, face)
            half, count, times, shift = step.take(CUT_ROW)
            if bool(half) != lap or int(count) != len(stops):
                raise Unclear(f"{count} stops of {len(stops)}, setting {self.number}")
            others = step.may(OTHER_BLOCKS)
            single, other, more = others.groups() if others else (None, None, None)
            blocks = int(single or 0) or (2 if other else int(more or 0) + 1)
            if (blocks, int(at_once or 1)) != (kind.blocks, kind.at_once) or single and at_once:
                raise Unclear(f"{blocks} blocks of {at_once}")
            order = Order("cut", kind.number, kind.at_once, self.number, self.height, self.seat, lap, face)
            order.step, order.board, order.stops = each, self.board, list(stops)
            order.passes, order.shift = int(times or 1), float(shift or 0)
            self.job.orders.append(order)
            passes.add(order.passes)
        return passes

    def ends(self, steps):
        """Lay, roll over, saw off, kind by kind, until the next setting."""
        while steps and steps[0].startswith("Lay "):
            step = Words(steps.pop(0))
            at_once, sticks, side = step.take(LAY_END)
            kind = self.kind(sticks)
            if int(at_once) != kind.at_once:
                raise Unclear(f"{at_once} sticks of {kind.at_once}")
            self.end(step, kind, side or "one or the other", roll=False)
            if steps[0].startswith("Roll "):
                step = Words(steps.pop(0))
                (side,) = step.take(ROLL_END)
                self.end(step, kind, side, roll=True)
            step = Words(steps.pop(0))
            again, length, rounds, other, more = step.take(SAW_END)
            step.end()
            blocks = 2 if other else int(more or 0) + 1
            if (int(again), int(rounds), blocks) != (kind.number, kind.in_each, kind.blocks):
                raise Unclear(f"{rounds} of each of sticks {again}, {blocks} blocks")
            self.job.orders.append(
                Order("hand-saw", kind.number, from_point=float(length), rounds=int(rounds))
            )
        return steps

    def end(self, step, kind, side, roll):
        order = Order("end", kind.number, kind.at_once, self.number, self.height, self.seat)
        order.step, order.side, order.roll = self.stepped(step.may(END_STEP)), side, roll
        order.stops = [float(step.take(END_STOP)[0])]
        order.off_cut = bool(step.may(OFF_CUT))
        step.end()
        self.job.orders.append(order)

    def after(self, steps):
        if self.job.in_rows:
            step = Words(steps.pop(0))
            step.take(AFTER_ROWS)
            while step.left:
                sticks, from_point = step.take(ROUGH_ENDS)
                self.kind(sticks).from_point = float(from_point)
            for kind in self.job.kinds.values():
                if (kind.from_point is None) != (len(kind.ends) == 2):
                    raise Unclear(f"how the rough ends of sticks {kind.number} are sawn")
        step = Words(steps.pop(0))
        if self.stay:
            (facets,) = step.take(PARE)
            if int(facets) != self.stay:
                raise Unclear(f"{facets} facets are pared, {self.stay} stay")
        else:
            step.take(ALL_DONE)
        step.end()
        if steps:
            raise Unclear(steps)


def from_text(text):
    """What a text tells to do. A table without a column, a setting that nobody made and the like are as
    unclear as a sentence that is not known."""
    try:
        return Sheet(text).job
    except (AttributeError, IndexError, KeyError, TypeError, ValueError) as missing:
        raise Unclear(repr(missing)) from missing
