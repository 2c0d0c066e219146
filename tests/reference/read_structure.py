"""Walks a document's tree of what stands on its pages (ISO 32000-1, 14.7 and 14.8) by pypdf.

    read_structure.py DOCUMENT

prints one JSON object: "tree", an element {"role", "alt", "text", "kids", "links"} with those below it, and
"faults": marks that no element owns or two do, elements whose marks are not where they say, a parent that is
not the element's own, painting outside of all marks, links that are no elements.
"""

import json
import sys

from pypdf import PdfReader
from pypdf.generic import ContentStream, IndirectObject

from read_writing import Font

PAINTS = {b"S", b"f", b"F", b"B", b"Tj", b"TJ", b"Do", b"f*", b"b", b"s"}


def marks(page, reader, fonts, faults, number):
    """Text of every mark of a page."""
    named = {
        name: fonts.setdefault(font.indirect_reference.idnum, Font(font.get_object()))
        for name, font in page["/Resources"]["/Font"].items()
    }
    open_marks, found, font = [], {}, None
    for operands, operator in ContentStream(page["/Contents"].get_object(), reader).operations:
        if operator == b"BDC":
            mark = operands[1].get("/MCID")
            open_marks.append((mark, operands[1].get("/ActualText")))
            if mark is not None:
                if mark in found:
                    faults.append(f"page {number}: mark {mark} twice")
                found[mark] = ""
        elif operator == b"BMC":
            open_marks.append((None, None))
        elif operator == b"EMC":
            open_marks.pop()
        elif operator == b"Tf":
            font = named[operands[0]]
        elif operator in PAINTS and not open_marks:
            faults.append(f"page {number}: {operator} outside of all marks")
        if operator == b"Tj":
            text = operands[0]
            text = text.original_bytes if hasattr(text, "original_bytes") else bytes(text)
            says = "".join(font.letters[glyph] for glyph in font.glyphs(text))
            # What a mark says it stands for is what is read.
            said = [actual for _, actual in open_marks if actual is not None]
            for mark, _ in open_marks:
                if mark is not None:
                    found[mark] += (str(said[-1]) if said else says) + " "
    if open_marks:
        faults.append(f"page {number}: marks are left open")
    return found


def parents(tree):
    """Key -> what stands there in a parent tree of one leaf."""
    numbers = tree["/Nums"]
    return {int(numbers[at]): numbers[at + 1] for at in range(0, len(numbers), 2)}


def main():
    reader = PdfReader(sys.argv[1])
    faults, fonts = [], {}
    catalog = reader.trailer["/Root"]
    root = catalog.raw_get("/StructTreeRoot")
    owners = parents(root.get_object()["/ParentTree"])
    pages, said, free = {}, [], {}
    for at, page in enumerate(reader.pages):
        pages[page.indirect_reference.idnum] = at
        said.append(marks(page, reader, fonts, faults, at + 1))
        free[at] = set(said[-1])
        listed = owners[page["/StructParents"]].get_object()
        if len(listed) != len(said[-1]):
            faults.append(f"page {at + 1}: {len(said[-1])} marks, {len(listed)} owners")
        if page.get("/Tabs") != "/S":
            faults.append(f"page {at + 1}: another order than the tree's")

    def element(own, parent):
        node = own.get_object()
        if node.raw_get("/P") != parent:
            faults.append(f"{node['/S']}: another parent")
        kids, text, links = [], "", 0
        below = node["/K"]
        for kid in below if isinstance(below, list) else [below]:
            it = kid.get_object() if isinstance(kid, IndirectObject) else kid
            kind = it.get("/Type") if isinstance(it, dict) else None
            if kind == "/MCR":
                at, mark = pages[it.raw_get("/Pg").idnum], it["/MCID"]
                if mark not in free[at]:
                    faults.append(f"page {at + 1}: mark {mark} is owned twice, or not there")
                free[at].discard(mark)
                listed = owners[reader.pages[at]["/StructParents"]].get_object()
                if listed[mark] != own:
                    faults.append(f"page {at + 1}: mark {mark} has another owner")
                text += said[at].get(mark, "")
            elif kind == "/OBJR":
                links += 1
                link = it["/Obj"].get_object()
                if owners[link["/StructParent"]] != own:
                    faults.append("a link has another owner")
            else:
                kids.append(element(kid, own))
        told = {"role": node["/S"][1:], "text": text.strip(), "kids": kids, "links": links}
        if "/Alt" in node:
            told["alt"] = str(node["/Alt"])
        if node["/S"] == "/TH":
            told["scope"] = str(attribute(node, "/Scope"))
        if node["/S"] == "/Figure":
            told["room"] = [float(part) for part in attribute(node, "/BBox")]
        return told

    tree = element(root.get_object().raw_get("/K"), root)
    faults += [f"page {at + 1}: nobody owns {sorted(left)}" for at, left in free.items() if left]
    about = catalog["/MarkInfo"]["/Marked"], catalog["/Lang"], catalog["/ViewerPreferences"]
    found = {"tree": tree, "faults": faults, "marked": bool(about[0]), "lang": about[1]}
    found["shows_title"] = bool(about[2]["/DisplayDocTitle"])
    found["title"] = str(reader.xmp_metadata.dc_title["x-default"])
    print(json.dumps(found))


def attribute(node, key):
    own = node["/A"]
    own = own if isinstance(own, list) else [own]
    return next(part.get_object()[key] for part in own if key in part.get_object())


if __name__ == "__main__":
    main()
