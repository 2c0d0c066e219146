"""Reads where a document has its writing, by pypdf: a JSON list of pages, each {"writing": [[text, size,
x, y, width], ...], "crosses": [[x, y, arm], ...]}, points, y up. Widths are those that the document states
of its glyphs. A cross is an upright and a level line of one length about one middle.

    read_writing.py DOCUMENT
"""

import json
import sys

from pypdf import PdfReader
from pypdf.generic import ContentStream


class Font:
    """A font with two bytes a glyph: its letters and their widths."""

    def __init__(self, font):
        own = font["/DescendantFonts"][0].get_object()
        self.widths, widths = {}, list(own["/W"])
        while widths:
            first, rest = int(widths.pop(0)), widths.pop(0)
            for at, width in enumerate(rest):
                self.widths[first + at] = float(width) / 1000
        self.letters, inside = {}, False
        for line in font["/ToUnicode"].get_data().decode("latin-1").splitlines():
            words = line.split()
            if "beginbfchar" in line:
                inside = True
            elif "endbfchar" in line:
                inside = False
            elif inside and len(words) == 2:
                glyph, letter = (bytes.fromhex(word.strip("<>")) for word in words)
                self.letters[int.from_bytes(glyph, "big")] = letter.decode("utf-16-be")

    def glyphs(self, text):
        return [int.from_bytes(text[at : at + 2], "big") for at in range(0, len(text), 2)]


def lines(page, reader, fonts):
    named = {}
    for name, font in page["/Resources"]["/Font"].items():
        key = font.indirect_reference.idnum if hasattr(font, "indirect_reference") else name
        named[name] = fonts.setdefault(key, Font(font.get_object()))
    found, font, size, place, strokes, way = [], None, 0.0, (0.0, 0.0), [], []
    for operands, operator in ContentStream(page["/Contents"].get_object(), reader).operations:
        if operator == b"Tf":
            font, size = named[operands[0]], float(operands[1])
        elif operator == b"Td":
            place = [float(part) for part in operands]
        elif operator == b"Tj":
            text = operands[0]
            text = text.original_bytes if hasattr(text, "original_bytes") else bytes(text)
            glyphs = font.glyphs(text)
            width = size * sum(font.widths[glyph] for glyph in glyphs)
            found.append(["".join(font.letters[glyph] for glyph in glyphs), size, *place, width])
        elif operator in (b"m", b"l"):
            way = way if operator == b"l" else []
            way.append([float(part) for part in operands])
        elif operator == b"S" and len(way) == 2:
            strokes.append(way)
    return {"writing": found, "crosses": crosses(strokes)}


def crosses(strokes):
    found = []
    for one, two in zip(strokes, strokes[1:]):
        middles = [[sum(p[axis] for p in line) / 2 for axis in (0, 1)] for line in (one, two)]
        level, upright = abs(one[0][0] - one[1][0]), abs(two[0][1] - two[1][1])
        same = max(abs(a - b) for a, b in zip(*middles)) < 0.01
        if same and abs(level - upright) < 0.01 and level > 1:
            found.append([*middles[0], level / 2])
    return found


def main():
    reader = PdfReader(sys.argv[1])
    fonts = {}
    print(json.dumps([lines(page, reader, fonts) for page in reader.pages]))


if __name__ == "__main__":
    main()
