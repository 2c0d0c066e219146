"""The least largest residual of rigid strips in each other's notches, by scipy's linear programs.

    python assemble_panels.py < PANELS.json

The panels: [{"along": [y, ...], "mates": integer, "off": [e, ...], "half_room": [h, ...]}, ...], offsets
and rooms holder by holder. Writes the margin of each: the greatest z for which places X, slants a and
shifts s exist with |X_i + a_i y_j - e_ij - s_j| <= h_ij - z at every joint.
"""

import json
import sys

import numpy
from scipy.optimize import linprog


def margin(panel):
    holders, mates = len(panel["along"]), panel["mates"]
    y = numpy.array(panel["along"])
    y = (y - y.mean()) / max(1.0, abs(y - y.mean()).max())
    off = numpy.array(panel["off"]).reshape(holders, mates)
    half = numpy.array(panel["half_room"]).reshape(holders, mates)
    scale = max(1e-9, abs(off).max(), abs(half).max())
    count = 2 * mates + holders + 1
    rows, rest = [], []
    for j in range(holders):
        for i in range(mates):
            for side in (1.0, -1.0):
                row = numpy.zeros(count)
                row[i], row[mates + i] = side, side * y[j]
                row[2 * mates + j] = -side
                row[-1] = 1.0
                rows.append(row)
                rest.append((half[j, i] + side * off[j, i]) / scale)
    aim = numpy.zeros(count)
    aim[-1] = -1.0
    found = linprog(aim, A_ub=numpy.array(rows), b_ub=rest, bounds=[(None, None)] * count, method="highs",
                    options={"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10})
    if found.status != 0:
        sys.exit(f"refused: {found.message}")
    return scale * found.x[-1]


if __name__ == "__main__":
    print(json.dumps([margin(panel) for panel in json.load(sys.stdin)]))
