"""The ways through a PDF, by pypdf: read_ways.py FILE

Prints {"pages": [[width, height]], "outline": [WAY with "title", "level"], "links": [WAY with "on",
"rect"]} where a WAY has "page" (from 0), "left" and "top": where it leads. Points, from the lower left corner.
"""

import json
import sys

import pypdf


def outline(reader, items, level=0):
    for item in items:
        if isinstance(item, list):
            yield from outline(reader, item, level + 1)
        else:
            page = reader.get_destination_page_number(item)
            left, top = float(item.left), float(item.top)
            yield {"title": item.title, "level": level, "page": page, "left": left, "top": top}


def links(reader):
    numbers = {page.indirect_reference.idnum: at for at, page in enumerate(reader.pages)}
    for at, page in enumerate(reader.pages):
        for note in page.get("/Annots", []):
            note = note.get_object()
            assert note["/Subtype"] == "/Link", note
            target, kind, left, top, _ = note.raw_get("/Dest")
            assert kind == "/XYZ", kind
            rect = [float(number) for number in note["/Rect"]]
            yield {"on": at, "rect": rect, "page": numbers[target.idnum],
                   "left": float(left), "top": float(top)}


def main():
    reader = pypdf.PdfReader(sys.argv[1], strict=True)
    boxes = [page.mediabox for page in reader.pages]
    found = {
        "pages": [[float(box.width), float(box.height)] for box in boxes],
        "outline": list(outline(reader, reader.outline)),
        "links": list(links(reader)),
        "mode": reader.page_mode,
    }
    print(json.dumps(found))


main()
