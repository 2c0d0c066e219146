"""The sentences of the sheet for mitres at a sled, and how a text is taken by them.

{N} is a number, {I} a whole one, {HAND} left or right, {S} the s of several, {NAME} a piece's name.
"""

import re

from mitre_orders import Unclear

N = r"(\d+(?:\.\d+)?)"
HAND = "(left|right)"

HELD_IN_ROWS = (
    "Cuts stop {N} mm short of the upper face ({N} mm to {N} mm with all that can be off). This skin "
    "joins the pieces of a stick but does not count as held: it breaks. So before the first mitre "
    "tape the upper face of every stick, all along, to a batten of its own: straight, as long as the "
    "stick, no wider than {N} mm, so that sticks still lie side by side; double-sided tape, pressed "
    "on in a vice. It stays until the saw is off for good. Clamp battens and block down and to the "
    "fence."
)
HELD_AT_ENDS = (
    "Only the long part of a stick is held, at the left of the blade, clamped to the fence, which "
    "stands on your side of it; nothing is cut off at the saw but dust and crumbs. A finished end is "
    "sawn off by hand, away from the table saw. Never cut a piece off with the blade: it would lie "
    "loose beside it."
)
MEASURED = (
    " {LABEL} +{N} mm  (?:as drawn|by caliper; drawn {N} mm, so the stock is {N} mm ({OVER}|{UNDER}))"
)
MEASURED_FOLLOWS = (
    " Notches, laps, bundles, mortises and pieces follow the stock as measured(?:; between neighbouring "
    "parallel strips there is {N} mm (less|more) room)?; centre lines stay where they are drawn, so a "
    "story stick for the drawn section still holds for the notches' middles, but not for their edges."
)
STICKS_CAPTION = (
    "Sticks {N} mm thick, {N} mm deep. Length: at least, end to end, both square, all of a "
    "kind alike. In each: pieces a stick. At once: sticks in a block. Spare: pieces more than needed. "
    "Ends: those that the sled cuts."
)
COUNTED = (
    " Of {I} facet{S} the sled cuts {I} in {I} cut{S} through blocks; {I} stay for the guides. Kerf "
    "{N} mm, measured on a test groove: every stop is reckoned with it."
)
BLADE = (
    " Blade for mitres: {N} mm over the base, {N} mm over the table (highest tooth). Travel {N} mm at "
    "least, for the widest block to come clear of it; all of a block passes the arbor's line."
)
LEFT = " {I} facet{S} of {I} {NAME} stay, (end A|end B|ends A and B): "
WHY_LEFT = (
    r"sticks do not come to lie [\d.]+ deg to the blade here\."
    r"|for its half lap sticks would lie [\d.]+ deg to the blade, which this fence does not reach\."
    r"|no stick takes one\.|its two facets have two angles, and a stick's end is cut with one\."
    r"|the piece is too short to be held at the saw\."
)
CHECK_IN_ROWS = (
    "Cut one joint in scrap by both hands, and measure facets and length. Ridge off: move one stop by "
    "twice that over tan J. Angle off: the fence. Length off with the right ridge: the kerf, measured "
    "again."
)
CHECK_AT_ENDS = (
    "Cut one end in scrap, and measure its facets. Ridge off: move one stop by twice that over tan J. "
    "Angle off: the fence."
)
SHORTER = "A kerf 0.1 mm wider makes a piece shorter by 0.1 / sin J"
RIDGE = (
    "Stops of two facets that are off as they repeat, one each way, move the ridge by half their "
    "difference times tan J"
)
SPACERS = (
    ". For ridges off the middle one stop, the others by spacers before it: all are off alike, as the "
    "test shows."
)
PICTURE = (
    " Cut {I} of sticks {I} from above, to scale: the fence below, the stop far to the left; white: "
    "kerfs, by their settings."
)
STOP = " Stop: from (its face|the edge of the stop board) to the near side of the kerf, along the fence's face, "
ALIKE = "the same whichever end goes away. Angle: to the blade."
BY_HAND = "by the end that goes away from you. Angle: to the blade."
FIRST_WEDGE = " Wedge of {N} deg: on a board with a straight edge mark {N} mm from one end, square to that {N} mm, and saw to the line"
WEDGES_USE = (
    ". Screwed to the fence from behind it carries sticks and stop; turned over end for end it serves "
    "the other hand."
)
ON_YOUR_SIDE = " The fence stands on your side of the sticks."
AT_BOARD = " The stop is a straight board parallel to the blade; every left end touches it."
AT_BLOCK = (
    " Left ends to the stop, which only the stick at the fence touches; the others are stepped."
)
EACH_CUT = (
    " At every stop: set it, push the sticks home, clamp them, cut; hands off until the blade stands."
)
NEVER_ROLL = (
    " Never roll sticks over between settings: cuts would go through the skins, and every piece would "
    "drop."
)
SETTING = "Setting {I}, blade {N} mm over the base: "
FENCE = (
    "fence {N} deg from square ({N} deg to the blade), {HAND} ends away from you"
    "(, as it stands after the strips)?."
)
CROSS_BOARD = (
    "fence {N} deg from square, its {HAND} end away from you, and a straight board fixed to it, "
    "square to it, that points away from you across the blade's line: this board is now the fence, "
    "right and left as seen from behind it. Sticks lie along it, on its {HAND} side, {HAND} ends away "
    "from you."
)
TURNED = "fence {N} deg from square, as far as it turns, its {HAND} end away from you, "
WEDGE = "on it the wedge of {N} deg, thick end to the {HAND}; {HAND} ends away from you."
BLOCK_STEP = " Each stick farther from the fence {N} mm farther to the {HAND}."
LAY_ROW = " Sticks {I}, (?:{I} side by side|one at a time), (front|back) faces down: "
CUT_ROW = "cut (half laps )?at their {I} stops(?: in {I} passes, for each next one the stop {N} mm farther)?."
OTHER_BLOCKS = " (?:{I} sticks in all|The same with the other (block)|The same with the other {I} blocks)."
AFTER_ROWS = (
    "Saw off, blade down. Pull the battens off along the sticks, cut the skins with a knife along the "
    "facets, and pare what is left of them flush; the facets stay as they were sawn."
)
ROUGH_ENDS = (
    " Sticks {I}: saw through by hand, square, {N} mm from every sawn point."
)
LAY_END = (
    "Lay {I} sticks {I} on the fence, the end that is to be made to the right, (?:the side that is to "
    "be the {HAND} one on the fence (mark it)|one side or the other on the fence), "
)
ROLL_END = (
    "Roll every stick over along its length, the same end to the right, the {HAND} side on the fence, "
)
END_STEP = "each farther from the fence {N} mm farther to the {HAND}, "
END_STOP = (
    "the end at the fence against a stop at the right, its face {N} mm from the left side of the kerf, "
    "along the fence. Clamp the sticks, take the stop away, cut; hands off until the blade stands."
)
OFF_CUT = " A small wedge of wood comes off: leave it until then, and clear it with a stick."
SAW_END = (
    "At the bench saw the finished ends of sticks {I} off by hand, square, {N} mm from their points: a "
    "piece of each. Then lay the sticks down again for the next, {I} of each stick in all"
    "(?:, and as many of the other (?:(block)|{I} blocks))?."
)
ALL_DONE = "Try one of each kind in its cell; then the rest."
PARE = "Pare the {I} facet{S} on the guides, the sawn end on the stop; then try one in its cell."


def _pattern(sentence):
    """A sentence as a pattern: {N} is a number, {I} a whole one, {HAND} left or right. Dots, and
    brackets round figures, stand for themselves."""
    text = sentence.replace(".", r"\.")
    for own in ("mark it", "highest tooth"):
        text = text.replace(f"({own})", rf"\({own}\)")
    text = re.sub(r"\((\{N\}[^()]*)\)", r"\\(\1\\)", text)
    text = text.replace("{N}", N).replace("{I}", r"(\d+)").replace("{HAND}", HAND)
    return text.replace("{S}", "s?").replace("{NAME}", r"([\w-]+)")


class Words:
    """A text that is taken sentence by sentence, from its start to its end."""

    def __init__(self, text):
        self.left = text

    def may(self, sentence):
        found = re.match(_pattern(sentence), self.left)
        if found:
            self.left = self.left[found.end() :]
        return found

    def take(self, sentence):
        found = self.may(sentence)
        if not found:
            raise Unclear(f"{self.left[:160]!r}, not {sentence[:60]!r}")
        return found.groups()

    def match(self, pattern):
        found = re.match(pattern, self.left)
        if not found:
            raise Unclear(self.left[:160])
        self.left = self.left[found.end() :]
        return found

    def end(self):
        if self.left:
            raise Unclear(self.left[:160])
