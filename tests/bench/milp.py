"""The search as a mixed-integer programme, for comparison with the exact search.

    pip install scipy==1.17.1
    python3 tests/bench/milp.py fixtures > tests/search/milp.json     about ten minutes on one core
    python3 tests/bench/milp.py time                                  seconds a solve, on the benchmark's tables

Tables are drawn as tests/search/tables.rs draws them, from the same seeds. Each strip is a flow of one unit from root to
tip over (bay, construction, changes used), through one hub for each class on both sides of a joint; limits couple the
strips. Written from the description of the table alone.
"""

import json
import sys
import time

import numpy as np
import scipy
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix

MASK = (1 << 64) - 1


class Draw:
    def __init__(self, seed):
        self.state = seed

    def next(self):
        self.state = (self.state + 0x9E3779B97F4A7C15) & MASK
        z = self.state
        z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & MASK
        z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & MASK
        return z ^ (z >> 31)

    def between(self, a, b):
        return a + self.next() % (b - a + 1)

    def chance(self, percent):
        return self.between(1, 100) <= percent


def strip(draw, bays, k, classes, changes, mass, repair, missing):
    class_of = [draw.between(0, classes - 1) for _ in range(k)]
    cells = []
    for i in range(k):
        level = i * 100 // (k - 1) if k > 1 else 50
        row = []
        for _ in range(bays):
            gone = draw.chance(missing)

            def scatter(most, level):
                return min(most * level // 100 * 3 // 4 + draw.between(0, most // 4 + 1), most)

            m = scatter(mass, level)
            h = scatter(repair, 100 - level)
            b = draw.between(0, 40)
            c = draw.between(0, 90)
            d = scatter(60, level)
            row.append(None if gone else (m, h, b, c, d))
        cells.append(row)
    joints = []
    for _ in range(bays - 1):
        square = []
        for _ in range(classes):
            line = []
            for _ in range(classes):
                j = (draw.between(0, mass // 6 + 1), draw.between(0, repair // 8 + 1), draw.between(0, 6))
                line.append(None if draw.chance(12) else j)
            square.append(line)
        joints.append(square)
    for _ in range(k):
        draw.between(1, 1)
    return dict(bays=bays, class_of=class_of, classes=classes, changes=changes, cells=cells, joints=joints)


def wing(seed, strips, bays, k, changes, repair):
    draw = Draw(seed)
    return [strip(draw, bays, k, 5, changes, 3000, repair, 15) for _ in range(strips)]


def checksum(table):
    """Sum of every number of every cell and joint: both generators must agree on it."""
    cells = sum(sum(c) for s in table for row in s["cells"] for c in row if c)
    return cells + sum(sum(j) for s in table for square in s["joints"] for line in square for j in line if j)


def programme(table, floor):
    """Columns with their amounts (mass, repair, build, cost), and flow rows."""
    amounts, rows, cols, vals, right = [], [], [], [], []
    row_of = {}

    def row(key, rhs=0):
        if key not in row_of:
            row_of[key] = len(right)
            right.append(rhs)
        return row_of[key]

    def column(amount, out_of, into):
        n = len(amounts)
        amounts.append(amount)
        rows.extend([row(out_of), row(into)])
        cols.extend([n, n])
        vals.extend([-1, 1])

    for s, t in enumerate(table):
        row((s, "root"), -1)
        row((s, "tip"), 1)
        layers = min(t["changes"], t["bays"] - 1) + 1

        def cell(k, b):
            c = t["cells"][k][b]
            return c[:4] if c and c[4] >= floor else None

        for b in range(t["bays"]):
            for k, cls in enumerate(t["class_of"]):
                here = cell(k, b)
                for u in range(layers):
                    if here:
                        if b == 0 and u == 0:
                            column(here, (s, "root"), (s, b, k, u))
                        if b > 0 and cell(k, b - 1):
                            column(here, (s, b - 1, k, u), (s, b, k, u))
                        if b > 0 and u > 0:
                            column(here, (s, b, "arrive", cls, u), (s, b, k, u))
                        if b + 1 < t["bays"]:
                            column((0, 0, 0, 0), (s, b, k, u), (s, b + 1, "leave", cls, u))
                        else:
                            column((0, 0, 0, 0), (s, b, k, u), (s, "tip"))
            if b > 0:
                for c in range(t["classes"]):
                    for d in range(t["classes"]):
                        j = t["joints"][b - 1][c][d]
                        for u in range(layers - 1):
                            if j:
                                column(j + (0,), (s, b, "leave", c, u), (s, b, "arrive", d, u + 1))
    flow = csr_matrix((vals, (rows, cols)), shape=(len(right), len(amounts)))
    return np.array(amounts, dtype=float), flow, np.array(right, dtype=float)


def solve(model, limits, weights=(1, 0, 0, 0), limit_s=120):
    amounts, flow, right = model
    constraints = [LinearConstraint(flow, right, right)]
    for i, limit in limits.items():
        constraints.append(LinearConstraint(amounts[:, i], -np.inf, limit))
    began = time.perf_counter()
    r = milp(
        amounts @ np.array(weights, dtype=float),
        constraints=constraints,
        integrality=np.ones(len(amounts)),
        bounds=Bounds(0, 1),
        options={"mip_rel_gap": 0, "time_limit": limit_s},
    )
    spent = time.perf_counter() - began
    if r.status == 2:
        return "infeasible", None, spent
    if r.status != 0:
        return "not finished", None, spent
    sums = np.rint(amounts.T @ np.rint(r.x)).astype(int)
    return "proven", [int(x) for x in sums], spent


KINDS = [(5, 8, 12, 2, 25), (7, 12, 20, 3, 20), (4, 10, 16, 3, 220)]


def fixtures():
    cases = []
    for i in range(39):
        kind = KINDS[i % 3]
        seed = 1000 + i
        table = wing(seed, *kind)
        draw = Draw(seed ^ 0xF1)
        floor = [0, 0, 8][i // 3 % 3]
        model = programme(table, floor)
        _, light, _ = solve(model, {})
        limited = [(1,), (1, 2), (1, 2), (1, 2, 3), (2, 3)][i % 5]
        limits = {}
        for n in limited:
            weights = [0.0, 0.0, 0.0, 0.0]
            weights[n] = 1.0
            _, least, _ = solve(model, {}, weights)
            share = draw.between(12, 75) if len(limited) < 3 else draw.between(35, 85)
            limits[n] = least[n] + (light[n] - least[n]) * share // 100 if light[n] > least[n] else light[n]
        status, sums, spent = solve(model, limits)
        print(i, kind, limits, status, sums, f"{spent:.1f} s", file=sys.stderr, flush=True)
        if status == "not finished":
            continue
        cases.append(
            dict(
                seed=seed, strips=kind[0], bays=kind[1], candidates=kind[2], max_changes=kind[3], most_repair=kind[4],
                checksum=checksum(table), dent_floor=floor, repair=limits.get(1), build=limits.get(2),
                cost=limits.get(3), status=status, mass=sums and sums[0],
            )
        )
    source = f"tests/bench/milp.py, HiGHS 1.12.0 as in scipy {scipy.__version__}, relative gap 0"
    body = ",\n    ".join(json.dumps(c) for c in cases)
    print(f'{{\n  "source": {json.dumps(source)},\n  "cases": [\n    {body}\n  ]\n}}')


def timed():
    """The benchmark's tables: half way between the repair of the lightest and the least repair; then a build limit."""
    for repair in (20, 200):
        for seed in range(3):
            model = programme(wing(seed, 7, 16, 60, 3, repair), 0)
            _, light, _ = solve(model, {})
            _, least, _ = solve(model, {}, (0, 1, 0, 0))
            limit = (light[1] + least[1]) // 2
            status, sums, spent = solve(model, {1: limit}, limit_s=600)
            print(f"seed {seed}, {len(model[0])} columns: repair <= {limit}: {status}, {sums}, {spent:.2f} s", flush=True)
            if status != "proven":
                continue
            build = sums[2] * 93 // 100
            status, sums, spent = solve(model, {1: limit, 2: build}, limit_s=600)
            print(f"  and build <= {build}: {status}, {sums}, {spent:.2f} s", flush=True)


if __name__ == "__main__":
    {"fixtures": fixtures, "time": timed}[sys.argv[1]]()
