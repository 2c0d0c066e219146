"""The least that parts can be cut from sticks with: flows through the lengths of a stick.

A stick is a way from 0 to its length; each step along it is a part with its kerf, or a millimetre that is
left over. Ways of all sticks together are a flow, parts are counted along its arcs, and every stock takes
its sticks out of the flow at its own length (J. M. Valerio de Carvalho, 1999, from memory). Reads a list of
tasks in whole millimetres from standard input, prints the least of each.
"""

import json
import sys

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import lil_matrix


def least(task):
    kerf, trim = round(task["kerf"]), round(task["trim"])
    parts = [(round(length) + kerf, count) for length, count in task["parts"]]
    stocks = [(round(length) - 2 * trim + kerf, count, cost) for length, count, cost in task["stocks"]]
    longest = max(length for length, _, _ in stocks)
    arcs = [(at, at + size, kind) for kind, (size, _) in enumerate(parts) for at in range(longest - size + 1)]
    arcs += [(at, at + 1, None) for at in range(longest)]
    columns = len(arcs) + len(stocks)
    flow = lil_matrix((longest + 1, columns))
    cut = lil_matrix((len(parts), columns))
    for column, (start, end, kind) in enumerate(arcs):
        flow[start, column] -= 1
        flow[end, column] += 1
        if kind is not None:
            cut[kind, column] = 1
    cost = np.zeros(columns)
    most = np.full(columns, np.inf)
    for stock, (length, count, price) in enumerate(stocks):
        column = len(arcs) + stock
        flow[0, column] += 1
        flow[length, column] -= 1
        cost[column] = price
        if count is not None:
            most[column] = count
    wanted = [count for _, count in parts]
    solved = milp(
        cost,
        constraints=[LinearConstraint(flow.tocsr(), 0, 0), LinearConstraint(cut.tocsr(), wanted, np.inf)],
        integrality=np.ones(columns),
        bounds=Bounds(0, most),
        options={"mip_rel_gap": 0},
    )
    assert solved.status == 0, solved.message
    return solved.fun


print(json.dumps([least(task) for task in json.load(sys.stdin)]))
