"""The sheet for mitres at a sled as a person reads it, sentence by sentence, into what is to be done.

Reads strictly: a sentence, a table or a figure that is not known is refused.
"""

import math
import re

from mitre_orders import Job, Kind, Order, Unclear, board_seat, fence_seat, up

N = r"(\d+(?:\.\d+)?)"
HAND = "(left|right)"

SECTION = re.compile(r"^[A-Z0-9][A-Z0-9 ,.:]+$")
FIGURE = re.compile(r"^  (\S(?: ?\S)*)  +" + N + r" (mm|deg)  +(\S.*)$")

FIGURES = {
    "thickness": "by caliper; drawn N mm, so the stock is N mm (?:thicker|thinner)",
    "depth": "by caliper; drawn N mm, so the stock is N mm (?:deeper|shallower)",
    "skin": "from the floor of every mitre's cut to the upper face; N mm to N mm with all that can "
    "be off",
    "kerf": "square to it, measured on a test groove: every stop is reckoned with it",
    "blade over the base": "top of the sled's base to the top of the highest tooth",
    "blade over the table": "saw table to the top of the highest tooth, sled taken off",
    "sticks to blade": "the acute angle between them; N deg from square",
    "step of a block": "along the fence from stick to stick, t / tan J",
    "kerf along the fence": "k / sin J: what the blade opens along a stick",
    "travel of the sled": "least, for the widest block to come clear of the blade; all of it "
    "passes the arbor's line",
}

HELD_IN_ROWS = [
    "A skin of N mm alone joins the pieces of a stick once it is cut, as thin as N mm in places. It "
    "does not count as held: without a batten it breaks, and the pieces lie loose beside the "
    "blade.",
    "So before the first mitre tape the upper face of every stick, all along, to a batten of its "
    "own: straight, as long as the stick, no wider than N mm, so that sticks still lie side by "
    "side. Double-sided tape that holds to planed wood; press it in a vice. The batten stays on "
    "until the saw is off for good; block and battens are clamped down and to the fence at both "
    "ends and between.",
]
HELD_AT_ENDS = [
    "Only the long part of a stick is held, at the left of the blade, clamped to the fence; "
    "nothing is cut off at the saw but dust and crumbs. A finished end is sawn off by hand, away "
    "from the table saw. Never cut a piece off with the blade: it would lie loose beside it.",
]
STICKS_CAPTION = (
    "Sticks as thick and as deep as the strips. Piece: number and name as in the list of pieces. "
    "Length: end to end, at least; all sticks of a kind alike, both ends square. In each: pieces a "
    "stick. At once: sticks in a block. Spare: pieces more than the panel needs. Ends: those that "
    "the sled cuts."
)
EACH_CUT = (
    "At every stop: set it, push the sticks home, clamp them, cut; hands off until the blade "
    "stands. Side by side means on the fence and on each other, the steps of a block as they are "
    "named."
)
SAME_FACE = (
    " The sticks keep the same face down and their left ends at the stop. Never roll them over "
    "now: these cuts would go through the skins, and every piece would drop."
)
WEDGE = (
    " The wedge: on a board with a straight edge mark {N} mm from one end, square to that {N} mm, "
    "and saw to the line; screw it to the fence from behind. It is now the fence, and the stop "
    "goes on it."
)
BATTENS_OFF = (
    "Saw off, blade down. Pull the battens off along the sticks, and cut the skins with a knife "
    "from the side of the cuts, along the facets; saw through by hand between ends that are still "
    "square."
)
SKINS_FLUSH = "Pare what is left of a skin flush with its facet: the facet itself is as it was sawn."


def _pattern(sentence):
    """A sentence as a pattern: N is a number, {N} one that is caught, {HAND} left or right."""
    text = re.escape(sentence)
    text = text.replace(re.escape("{N}"), N).replace(re.escape("{HAND}"), HAND)
    text = re.sub(r"\\\(\\\?:(\w+)\\\|(\w+)\\\)", r"(?:\1|\2)", text)
    return re.sub(r"\bN\b", r"\\d+(?:\\.\\d+)?", text)


def _is(sentence, text):
    return re.fullmatch(_pattern(sentence), text)


class Section:
    """A heading with its paragraphs, steps, figures and tables, all lines accounted for."""

    def __init__(self, heading):
        self.heading, self.text, self.steps, self.figures, self.tables = heading, "", [], {}, []

    def take(self, lines):
        at = 0
        while at < len(lines):
            line = lines[at]
            at += 1
            figure = FIGURE.match(line)
            step = re.match(r"^  \[ \] +(?:(\d+)\. )?(.*)$", line)
            table = self._table_at(lines, at - 1)
            if not line.strip():
                continue
            if step:
                told, indent = step.group(2), line.index(step.group(2))
                while at < len(lines) and re.match(rf"^ {{{indent}}}\S", lines[at]):
                    told += " " + lines[at].strip()
                    at += 1
                self.steps.append((step.group(1), told))
            elif figure and figure.group(1) in FIGURES:
                label, value, _, told = figure.groups()
                indent = line.index(told)
                while at < len(lines) and re.match(rf"^ {{{indent}}}\S", lines[at]):
                    told += " " + lines[at].strip()
                    at += 1
                if not _is(FIGURES[label], told):
                    raise Unclear(f"figure {label}: {told}")
                self.figures[label] = float(value)
            elif table:
                rows, at = table
                self.tables.append(rows)
            elif re.match(r"^  \S", line):
                self.text += line[1:]
            elif re.match(r"^      If it is not: ", line) or re.match(r"^      \S", line):
                self.steps[-1] = (self.steps[-1][0], self.steps[-1][1] + " " + line.strip())
            else:
                raise Unclear(f"{self.heading}: {line!r}")
        self.text = self.text.strip()

    @staticmethod
    def _table_at(lines, at):
        """A heading of columns, its rows under it: cells end where the headings end."""
        columns = [(m.group(0), m.end()) for m in re.finditer(r"\S+(?: \S+)*", lines[at])]
        if len(columns) < 2 or columns[0][0] not in ("sticks", "angle"):
            return None
        rows, at = [], at + 1
        while at < len(lines) and lines[at].strip() and not re.match(r"^  [A-Z]", lines[at]):
            cells = {m.end(): m.group(0) for m in re.finditer(r"\S+(?: \S+)*", lines[at])}
            if FIGURE.match(lines[at]) and len(cells) <= 3:
                break
            row = {name: cells.pop(end, "") for name, end in columns}
            if cells:
                raise Unclear(f"cells beside their columns: {lines[at]!r}")
            rows.append(row)
            at += 1
        return rows, at


def _sections(text):
    lines = text.splitlines()
    start = next(
        (k for k, line in enumerate(lines) if re.match(r"^=+$", line) and " - mitres, " in lines[k - 1]),
        None,
    )
    if start is None:
        raise Unclear("no sheet for mitres")
    body = []
    for k in range(start + 1, len(lines)):
        if k + 1 < len(lines) and re.match(r"^=+$", lines[k + 1]):
            break
        body.append(lines[k])
    sections, own = [], []
    for line in body:
        if SECTION.match(line):
            if own and not sections and any(own):
                raise Unclear(f"before the first heading: {own}")
            if sections:
                sections[-1][1].extend(own)
            sections.append((line, []))
            own = []
        else:
            own.append(line)
    sections[-1][1].extend(own)
    told = []
    for heading, lines in sections:
        if heading == "SAFETY FIRST":
            if not all(re.match(r"^(  ! |    \S|$)", line) for line in lines):
                raise Unclear("safety notes")
            continue
        section = Section(heading)
        section.take(lines)
        told.append(section)
    return told


class Sheet:
    """The sheet, sentence by sentence."""

    def __init__(self, text):
        self.job = Job({}, [], 0.0, False, False, {})
        self.wedges = {}  # setting -> angle
        self.seat = None
        self.height = 0.0
        self.stops = {}  # setting -> sticks -> stops
        self.mitred = False  # whether a setting for mitres came before
        for section in _sections(text):
            heading = section.heading
            if heading == "FIRST: WHAT HOLDS THE PIECES":
                self.held(section.text)
            elif heading == "STOCK AS MEASURED":
                if not section.text.startswith("Notches, laps, bundles, mortises and pieces follow the "):
                    raise Unclear(section.text)
            elif heading == "STICKS":
                self.sticks(section)
            elif heading == "CHECK FIRST":
                self.check(section)
            elif heading.startswith("SETTING"):
                self.settings(section)
            elif heading == "AFTER THE SAW":
                self.after(section)
            else:
                raise Unclear(heading)

    def held(self, text):
        if _is(" ".join(HELD_IN_ROWS), text):
            self.job.batten = self.job.in_rows = True
        elif not _is(HELD_AT_ENDS[0], text):
            raise Unclear(text)

    def sticks(self, section):
        (table,) = section.tables
        for row in table:
            piece, name = row["piece"].split(" ", 1)
            ends = row["ends"].split(" and ")
            numbers = [row[k] for k in ("count", "in each", "at once", "blocks", "spare")]
            count, each, at_once, blocks, spare = map(int, numbers)
            length = float(row.get("length mm") or row["length"])
            number = int(row["sticks"])
            self.job.kinds[number] = Kind(
                number, int(piece), name, count, length, each, at_once, blocks, spare, ends
            )
        self.job.kerf = section.figures["kerf"]
        if ("skin" in section.figures) != self.job.in_rows:
            raise Unclear("a skin without rows, or rows without one")
        text = section.text
        if not text.startswith(STICKS_CAPTION):
            raise Unclear(text)
        rest = text[len(STICKS_CAPTION) :].strip()
        first = r"Of (\d+) facets? the sled cuts (\d+) in (\d+) cuts? through blocks; (\d+) stay for the guides\."
        remarks = re.match(first, rest)
        if not remarks:
            raise Unclear(rest)
        total, cut, cuts, stay = map(int, remarks.groups())
        if cut + stay != total:
            raise Unclear(remarks.group(0))
        self.job.counted, self.job.skin = (cut, cuts, stay), section.figures.get("skin")
        rest = rest[remarks.end() :]
        left = (
            r" The [\w-]+ \(\d+\): ends? [AB](?: and B)? for the guides, \d+ facets?: (?:"
            r"sticks would lie [\d.]+ deg to the blade, which this fence does not reach\."
            r"|for its half lap sticks would lie [\d.]+ deg to the blade, which this fence does not reach\."
            r"|no stick takes one\.|its two facets have two angles, and a stick's end is cut with one\."
            r"|the piece is too short to be held at the saw\.)"
        )
        if re.sub(left, "", rest):
            raise Unclear(rest)

    def check(self, section):
        if len(section.tables) != 1 or len(section.steps) != 1:
            raise Unclear("the check before the first cut")

    def settings(self, section):
        head = re.fullmatch(
            rf"SETTINGS? (\d+)(?: AND (\d+))? OF \d+: (HALF LAPS|MITRES), {N} DEG BETWEEN STICKS AND BLADE",
            section.heading,
        )
        if not head:
            raise Unclear(section.heading)
        numbers = [int(n) for n in head.groups()[:2] if n]
        for number in numbers:
            self.stops[number] = {}
            self.job.figures[number] = dict(section.figures, between=float(head.group(4)))
        if self.job.in_rows:
            self.caption(section.text, numbers)
            (table,) = section.tables
            for row in table:
                for number in numbers:
                    cell = row[f"stop, setting {number} mm"]
                    if cell:
                        stops = self.stops[number].setdefault(int(row["sticks"]), [])
                        stops.append(float(cell))
                        if int(row["cut"]) != len(stops):
                            raise Unclear(f"cut {row['cut']} after {len(stops) - 1}")
        elif section.text or section.tables:
            raise Unclear(section.text)
        lap = head.group(3) == "HALF LAPS"
        number = None
        for step, words in section.steps:
            setting = re.match(rf"Setting (\d+): set the blade {N} mm over the base, ", words)
            if setting:
                number = int(setting.group(1))
                if number not in numbers or step != "1":
                    raise Unclear(words)
                self.height = float(setting.group(2))
                self.warned = self.job.in_rows and not lap and self.mitred
                self.mitred = self.mitred or not lap
                self.seat = self.reach(words[setting.end() :], number)
                if abs(self.height - section.figures["blade over the base"]) > 1e-9:
                    raise Unclear("two heights")
            elif number is None:
                raise Unclear(words)
            elif self.job.in_rows:
                self.row(words, number, lap)
            else:
                self.end(words, number, int(step))

    def caption(self, text, numbers):
        told = (
            r"Stops, from the stop(?:'s face| board's edge) to the near side of the kerf, along the "
            r"fence, on the sticks' side of it\.(?: Of each lap the first pass\.)?"
        )
        for number in numbers:
            told += rf" Setting {number}: (?:(?:left|right) ends away from you|sticks square to the blade)\."
        if not re.fullmatch(told + " " + re.escape(EACH_CUT), text):
            raise Unclear(text)

    def reach(self, words, number):
        """Where the sticks point; the wedge of a setting is kept for the next one."""
        if self.warned != words.endswith(SAME_FACE):
            raise Unclear(f"setting {number}: whether sticks may be rolled over")
        words = words.removesuffix(SAME_FACE)
        if words == "the fence square to it, on your side of the sticks.":
            return fence_seat(0.0)
        told = _is(
            "the fence {N} deg from square, on your side of the sticks, their {HAND} ends away from you.",
            words,
        )
        if told:
            return fence_seat(up(told.group(1), told.group(2)))
        board = _is(
            "the fence {N} deg from square, its {HAND} end away from you; fix a straight board to "
            "it, square to it, pointing away from you across the blade's line. Sticks lie along "
            "the board, on its {HAND} side, their {HAND} ends away from you, the stop at the end "
            "FARNESS you: that board is now the fence.".replace("FARNESS", "near"),
            words.replace("the end far from you", "the end near you"),
        )
        if board:
            angle, fence_end, side, ends = board.groups()
            near = "the end near you" in words
            return board_seat(up(angle, fence_end), side == "left", ends == "right", near)
        on_your_side = "on your side of the sticks, with "
        turned = _is(
            "the fence {N} deg from square, as far as it turns, its {HAND} end away from you, " + on_your_side,
            words.split("the wedge of")[0].split("a wedge of")[0],
        )
        square = words.startswith("the fence square, " + on_your_side)
        if not turned and not square:
            raise Unclear(words)
        fence = up(*turned.groups()) if turned else 0.0
        words = words[turned.end() if turned else len("the fence square, " + on_your_side) :]
        ends = "thick end to the {HAND}: the sticks' {HAND} ends go away from you."
        new = _is("a wedge of {N} deg between it and the sticks, " + ends + WEDGE, words)
        again = _is("the wedge of setting {N} turned over end for end, " + ends, words)
        if new:
            angle, thick, away, along, rise = new.groups()
            self.wedges[number] = math.atan2(float(rise), float(along))
            if abs(math.degrees(self.wedges[number]) - float(angle)) > 0.01:
                raise Unclear(f"a wedge of {angle} deg, marked {along} by {rise}")
            self.wedges[number] = math.radians(float(angle))
        elif again:
            before, thick, away = again.groups()
            self.wedges[number] = self.wedges[int(before)]
        else:
            raise Unclear(words)
        wedge = self.wedges[number] if thick == "right" else -self.wedges[number]
        if (fence + wedge > 0) != (away == "right"):
            raise Unclear(words)
        return fence_seat(fence + wedge)

    def kind(self, number):
        if number not in self.job.kinds:
            raise Unclear(f"sticks {number}")
        return self.job.kinds[number]

    def row(self, words, number, lap):
        told = re.match(
            r"Sticks (\d+), (?:(\d+) side by side|(one at a time)), (front|back) faces down, left ends "
            r"to the stop"
            rf"(?:(, a straight board parallel to the blade that each of them touches)"
            rf"|, each stick farther from the fence {N} mm farther to the (left|right), only the one at "
            rf"the fence on the stop)?: ",
            words,
        )
        if not told:
            raise Unclear(words)
        sticks, at_once, _, face, board, step, hand = told.groups()
        kind = self.kind(int(sticks))
        at_once = int(at_once or 1)
        rest = words[told.end() :]
        stops = self.stops[number].get(kind.number, [])
        cut = re.match(
            rf"cut (a half lap )?at the (\d+) stops of sticks {sticks} in the column of setting {number}"
            rf"(?:, in (\d+) passes, for each next one the stop {N} mm farther)?\.",
            rest,
        )
        if not cut or bool(cut.group(1)) != lap or int(cut.group(2)) != len(stops):
            raise Unclear(rest)
        blocks = self.blocks(rest[cut.end() :], at_once)
        if blocks != kind.blocks or at_once != kind.at_once:
            raise Unclear(f"{blocks} blocks of {at_once}: {words}")
        told_step = self.job.figures[number].get("step of a block", 0.0)
        if step and abs(float(step) - told_step) > 1e-9:
            raise Unclear("two steps")
        order = Order("cut", kind.number, at_once, number, self.height, self.seat, lap, face)
        order.step = (float(step) if hand == "right" else -float(step)) if step else 0.0
        order.board, order.stops = bool(board), list(stops)
        order.passes, order.shift = int(cut.group(3) or 1), float(cut.group(4) or 0)
        self.job.orders.append(order)

    @staticmethod
    def blocks(words, at_once):
        if not words:
            return 1
        single = re.fullmatch(r" (\d+) sticks in all\.", words)
        if single and at_once == 1:
            return int(single.group(1))
        if words == " The same with the other block.":
            return 2
        more = re.fullmatch(r" The same with the other (\d+) blocks\.", words)
        if not more:
            raise Unclear(words)
        return int(more.group(1)) + 1

    def end(self, words, number, step):
        stop = (
            rf"(?:each farther from the fence {N} mm farther to the (left|right), )?the end at the "
            r"fence against a stop at the right, its face " + N + r" mm from the left side of the "
            r"kerf, the side far from it, along the fence\. Clamp the sticks, take the stop away, "
            r"cut; hands off until the blade stands\."
        )
        lay = re.fullmatch(
            r"Lay (\d+) sticks? (\d+) on the fence, the end that is to be made to the right, the side "
            r"that becomes the (left|right|one or the other) one on the fence, " + stop,
            words,
        )
        roll = re.fullmatch(
            r"Roll every stick over along its length, the same end to the right, the (left|right) side "
            r"on the fence, " + stop,
            words,
        )
        saw = re.fullmatch(
            rf"Take the sticks to the bench and saw each off by hand, square, {N} mm from its point\. "
            rf"Again from step (\d+), (\d+) times in all(?:, with each of (\d+) blocks)?\.",
            words,
        )
        if lay:
            at_once, sticks, side, away, hand, face = lay.groups()
            self.end_kind = self.kind(int(sticks))
            self.end_at_once, self.laid_at = int(at_once), step
        elif roll:
            side, away, hand, face = roll.groups()
        elif saw:
            length, again, rounds, blocks = saw.groups()
            if int(again) != self.laid_at:
                raise Unclear(f"again from step {again}, sticks are laid at step {self.laid_at}")
            kind = self.end_kind
            if int(rounds) != kind.in_each or int(blocks or 1) != kind.blocks:
                raise Unclear(words)
            order = Order("hand-saw", kind.number, from_point=float(length), rounds=int(rounds))
            self.job.orders.append(order)
            return
        else:
            raise Unclear(words)
        order = Order(
            "end", self.end_kind.number, self.end_at_once, number, self.height, self.seat
        )
        order.step = (float(away) if hand == "right" else -float(away)) if away else 0.0
        order.stops, order.side, order.roll = [float(face)], side, bool(roll)
        self.job.orders.append(order)

    def after(self, section):
        if section.text or section.figures or section.tables:
            raise Unclear(section.text)
        steps = [words for _, words in section.steps]
        if self.job.in_rows:
            if steps[:2] != [BATTENS_OFF, SKINS_FLUSH]:
                raise Unclear(steps)
            steps = steps[2:]
        for words in steps[:-1]:
            told = re.fullmatch(
                r"Sticks (\d+): (\d+) of piece (\d+), ([\w-]+)(?:, (\d+) to spare)?\.", words
            )
            if not told:
                raise Unclear(words)
            sticks, made, piece, name, spare = told.groups()
            kind = self.kind(int(sticks))
            if (int(piece), name, int(spare or 0)) != (kind.piece, kind.name, kind.spare):
                raise Unclear(words)
            self.job.pieces[kind.number] = int(made)
        if not re.fullmatch(
            r"Try one in its cell; then the rest\.|Pare the \d+ facets? on the guides, the sawn end on "
            r"the stop; then try one in its cell\.",
            steps[-1],
        ):
            raise Unclear(steps[-1])


def from_text(text):
    """What a text tells to do. A table without a column, a setting that nobody made and the like are as
    unclear as a sentence that is not known."""
    try:
        return Sheet(text).job
    except (AttributeError, IndexError, KeyError, ValueError) as missing:
        raise Unclear(repr(missing)) from missing
