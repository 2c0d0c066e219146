"""Checks drawings of assembled panels by a calculation of its own (shapely, ezdxf).

    python check_panel.py < DESCRIPTION.json

The description, mm: {"panels": [{"name": text, "dxf": path, "svg": path,
    "bodies": [{"ring": [[x, y], ...], "over": [index, ...]}, ...]}, ...]}
Bodies are strips and pieces; `over` are those that lie in front of one where both are.

Per panel:
- the drawing's lines are all that is seen of the bodies' outlines, and nothing else;
- no two lines lie on each other, in neither file;
- the picture has the same lines first, in the same order, and areas without edges only;
- no two texts of the picture print over each other; strips' names and names of cells and rows
  print over no line, nor do numbers of pieces.
Widths of letters are those of DejaVu Sans (its font file's table of advances).
Exits 0 if so; else 1, with the reason on stderr after "refused: ".
"""

import json
import sys
import xml.etree.ElementTree as xml

import ezdxf
import shapely
from shapely.geometry import LineString, Polygon, box

SVG = "{http://www.w3.org/2000/svg}"
WIDTHS = {"I": 0.295, "V": 0.684, "X": 0.685, "U": 0.732, "R": 0.695, "L": 0.557, "F": 0.575,
          "C": 0.698, " ": 0.318, ".": 0.318, "l": 0.278, "i": 0.278, "m": 0.974, "w": 0.818}
CAPITALS = 0.729


def refuse(reason):
    sys.stderr.write(f"refused: {reason}\n")
    sys.exit(1)


def segments(points):
    return [LineString(pair) for pair in zip(points, points[1:])]


def dxf_lines(path):
    lines = []
    for line in ezdxf.readfile(path).modelspace():
        if line.dxf.layer != "LETTERS":
            refuse(f"{path}: layer {line.dxf.layer}")
        points = [(p[0], p[1]) for p in line.get_points("xy")]
        lines.append(points + points[:1] if line.closed else points)
    return lines


def twice(name, lines, slack):
    tree = shapely.STRtree(lines)
    for at, line in enumerate(lines):
        strip = line.buffer(slack, quad_segs=1)
        for other in tree.query(strip):
            if other > at and strip.intersection(lines[other]).length > 25 * slack:
                refuse(f"{name}: {line.wkt} and {lines[other].wkt} lie on each other")


def seen(bodies):
    rings = [Polygon(body["ring"]) for body in bodies]
    parts = []
    for ring, body in zip(rings, bodies):
        over = shapely.union_all([rings[at] for at in body["over"]])
        parts.append(ring.exterior.difference(over))
    return shapely.union_all(parts)


def width(text):
    return sum(WIDTHS.get(letter, 0.636) for letter in text)


def text_box(text):
    size, x, y = (float(text.get(key)) for key in ("font-size", "x", "y"))
    wide = width(text.text) * size
    left = {"start": 0, "middle": wide / 2, "end": wide}[text.get("text-anchor")]
    return box(x - left, y - CAPITALS * size, x - left + wide, y)


def plates(root):
    """Areas that lie right below a writing and cover what is below them, by the writing."""
    found, before = {}, None
    for part in root.iter():
        if part.tag == SVG + "text" and before is not None and before.tag == SVG + "polygon":
            corners = [tuple(map(float, p.split(","))) for p in before.get("points").split()]
            found[part] = Polygon(corners)
        before = part
    return found


def picture(name, path, drawn):
    root = xml.parse(path).getroot()
    for area in root.iter(SVG + "polygon"):
        if "face" not in area.get("class").split():
            refuse(f"{name}: an area with an edge: {area.get('class')}")
    lines = []
    for line in root.iter(SVG + "polyline"):
        lines.append([tuple(map(float, p.split(","))) for p in line.get("points").split()])
    (left, top), (x, y) = lines[0][0], drawn[0][0]
    for ours, theirs in zip(drawn, lines):
        moved = [(p[0] - x + left, top - p[1] + y) for p in ours]
        far = [abs(a - b) for p, q in zip(moved, theirs) for a, b in zip(p, q)]
        if len(ours) != len(theirs) or max(far) > 3e-3:
            refuse(f"{name}: the picture has another line, {theirs}")
    lines = [segment for line in lines for segment in segments(line)]
    twice(name + ", picture", lines, 2e-3)
    texts = [(text, text_box(text)) for text in root.iter(SVG + "text")]
    tree = shapely.STRtree([room for _, room in texts])
    net = shapely.STRtree(lines)
    below = plates(root)
    for at, (text, room) in enumerate(texts):
        for other in tree.query(room, "intersects"):
            if other > at:
                refuse(f"{name}: {text.text} prints over {texts[other][0].text}")
        covered = text in below and below[text].contains(room)
        if text.get("class") in ("label", "name") and not covered:
            for line in net.query(room, "intersects"):
                refuse(f"{name}: {text.text} prints over {lines[line].wkt}")
    return len(texts)


def check(panel):
    name, drawn = panel["name"], dxf_lines(panel["dxf"])
    lines = [segment for line in drawn for segment in segments(line)]
    twice(name, lines, 1e-5)
    wanted, found = seen(panel["bodies"]), shapely.union_all(lines)
    lacking = wanted.difference(found.buffer(1e-4, quad_segs=1)).length
    surplus = found.difference(wanted.buffer(1e-4, quad_segs=1)).length
    if lacking > 1e-2 or surplus > 1e-2:
        refuse(f"{name}: {lacking} mm are missing, {surplus} mm are not seen")
    return picture(name, panel["svg"], drawn)


if __name__ == "__main__":
    for panel in json.load(sys.stdin)["panels"]:
        if check(panel) == 0:
            refuse(f"{panel['name']}: no texts")
