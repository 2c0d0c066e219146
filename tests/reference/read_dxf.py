"""Reads drawings with two outside readers and prints what each of them saw.

    python read_dxf.py DRAWING.dxf...

Prints one JSON object, path as given -> {"ezdxf": ..., "gdal": ...}. Numbers are in the drawing's
own units, in full precision. A drawing that a reader refuses ends the run with exit status 1.

ezdxf: version (AC1015, ...), insunits, measurement, extmin, extmax (null where the header lacks
them), audit_errors and audit_fixes (texts; both empty for a sound drawing), polylines (layer,
closed, vertices [[x, y], ...]), other_entities (type, layer, layout).
gdal: features (type, layer, closed, vertices). GDAL repeats the first vertex of a closed line; that
one repetition is taken off.
"""

import json
import sys
import warnings

import ezdxf
import pyogrio
import shapely


def header_values(path, names):
    """The numbers of header variables as they stand in the file, name -> number or [x, y, ...].

    Taken from the bare tags, since ezdxf puts its own defaults where a variable is missing.
    """
    with open(path, encoding="cp1252") as file:
        lines = [line.strip() for line in file]
    values, name = {}, None
    for code, value in zip(lines[0::2], lines[1::2]):
        if code == "0" and value == "ENDSEC":
            break
        if code == "9":
            name = value
        elif name in names:
            number = int(value) if code == "70" else float(value)
            values.setdefault(name, []).append(number)
    return {name: found[0] if len(found) == 1 else found for name, found in values.items()}


def polyline(entity):
    """Layer, closed flag and vertices of a straight-sided plane polyline, or None."""
    if entity.dxftype() == "LWPOLYLINE":
        points = [(x, y, bulge) for x, y, bulge in entity.get_points("xyb")]
        closed = entity.closed
    elif entity.dxftype() == "POLYLINE" and entity.is_2d_polyline:
        points = [(*v.dxf.location.vec2, v.dxf.bulge) for v in entity.vertices]
        closed = entity.is_closed
    else:
        return None
    if any(bulge != 0 for _, _, bulge in points):
        return None
    return {
        "layer": entity.dxf.layer,
        "closed": closed,
        "vertices": [[x, y] for x, y, _ in points],
    }


def read_with_ezdxf(path):
    """What ezdxf's strict loader and its audit say of a drawing."""
    document = ezdxf.readfile(path)
    header = header_values(path, {"$INSUNITS", "$MEASUREMENT", "$EXTMIN", "$EXTMAX"})
    auditor = document.audit()
    polylines, others = [], []
    for layout in document.layouts:
        for entity in layout:
            found = polyline(entity) if layout.name == "Model" else None
            if found:
                polylines.append(found)
            else:
                others.append(
                    {
                        "type": entity.dxftype(),
                        "layer": entity.dxf.get("layer"),
                        "layout": layout.name,
                    }
                )
    return {
        "version": document.dxfversion,
        "insunits": header.get("$INSUNITS"),
        "measurement": header.get("$MEASUREMENT"),
        "extmin": header.get("$EXTMIN"),
        "extmax": header.get("$EXTMAX"),
        "audit_errors": [entry.message for entry in auditor.errors],
        "audit_fixes": [entry.message for entry in auditor.fixes],
        "polylines": polylines,
        "other_entities": others,
    }


def read_with_gdal(path):
    """What GDAL's DXF driver makes of a drawing; its warnings count as refusals."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        meta, _, geometries, columns = pyogrio.raw.read(path)
    layers = columns[list(meta["fields"]).index("Layer")]
    features = []
    for layer, geometry in zip(layers, shapely.from_wkb(geometries)):
        vertices = shapely.get_coordinates(geometry).tolist()
        closed = len(vertices) > 2 and vertices[0] == vertices[-1]
        features.append(
            {
                "type": geometry.geom_type,
                "layer": layer,
                "closed": closed,
                "vertices": vertices[:-1] if closed else vertices,
            }
        )
    return {"features": features}


def main(paths):
    """Prints what the readers saw; exits 1 at the first drawing that one of them refuses."""
    seen = {}
    for path in paths:
        for reader, read in (("ezdxf", read_with_ezdxf), ("gdal", read_with_gdal)):
            try:
                seen.setdefault(path, {})[reader] = read(path)
            except Exception as refusal:
                sys.exit(f"{path}: {reader}: {type(refusal).__name__}: {refusal}")
    json.dump(seen, sys.stdout, allow_nan=False)


if __name__ == "__main__":
    main(sys.argv[1:])
