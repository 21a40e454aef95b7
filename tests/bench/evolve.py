"""The search by an evolutionary library, for comparison with the exact search.

    pip install pymoo==0.6.2
    cargo build --release; cargo bench --bench search --no-run
    python3 tests/bench/evolve.py PATH_OF_THISTLEDOWN PATH_OF_THE_BENCHMARK [SECONDS ...]

PATH_OF_THE_BENCHMARK is the executable that `cargo bench --no-run` names. Draws the benchmark's table of 7 strips x 16 bays
x 60 constructions, takes the exact front from `front --json`, lets NSGA-II (population 200) search for 1000 times as long as
the exact front takes, and for so many seconds as are named besides, and prints the share of the exact front's area it
covers, how many of its points it reaches, and how much too heavy its lightest design is. Each strip is 3 places of change and 4 constructions, constructions in order of mass;
cells and joints that are not allowed count as violations. Nothing in it knows the problem, so read it as a search off the
shelf, not as the best such search could be.
"""

import json
import subprocess
import sys
import time

import numpy as np
from pymoo.algorithms.moo.nsga2 import NSGA2
from pymoo.core.problem import Problem
from pymoo.optimize import minimize
from pymoo.termination.max_time import TimeBasedTermination

from milp import wing

SEED, STRIPS, BAYS, K, CHANGES, REPAIR = 0, 7, 16, 60, 3, 20


def as_json(table):
    strips = [
        dict(
            name=f"s{i}", bays=t["bays"], candidates=K, max_changes=t["changes"], classes=t["classes"],
            class_of=t["class_of"], table=t["cells"], splice=t["joints"],
        )
        for i, t in enumerate(table)
    ]
    return json.dumps(dict(strips=strips))


class Wing(Problem):
    def __init__(self, table):
        self.strips = []
        for t in table:
            cells = np.array([[c[:2] if c else (0, 0) for c in row] for row in t["cells"]])
            allowed = np.array([[c is not None for c in row] for row in t["cells"]])
            joints = np.array([[[j[:2] if j else (0, 0) for j in line] for line in sq] for sq in t["joints"]])
            open_ = np.array([[[j is not None for j in line] for line in sq] for sq in t["joints"]])
            mean = np.where(allowed, cells[:, :, 0], 0).sum(1) / np.maximum(allowed.sum(1), 1)
            order = np.argsort(mean)
            self.strips.append((cells, allowed, joints, open_, np.array(t["class_of"]), order))
        n = STRIPS * (2 * CHANGES + 1)
        super().__init__(n_var=n, n_obj=2, n_ieq_constr=1, xl=0.0, xu=1.0)

    def _evaluate(self, x, out, *args, **kwargs):
        n = len(x)
        sums = np.zeros((n, 2))
        broken = np.zeros(n)
        bays = np.arange(BAYS)
        for s, (cells, allowed, joints, open_, class_of, order) in enumerate(self.strips):
            g = x[:, s * (2 * CHANGES + 1) : (s + 1) * (2 * CHANGES + 1)]
            places = np.sort((g[:, :CHANGES] * (BAYS + 0.999)).astype(int), axis=1)
            kinds = order[(g[:, CHANGES:] * (K - 1e-9)).astype(int)]
            section = (bays[None, :, None] >= places[:, None, :]).sum(2)
            choice = np.take_along_axis(kinds, section, 1)
            sums += cells[choice, bays].sum(1)
            broken += (~allowed[choice, bays]).sum(1)
            changed = choice[:, 1:] != choice[:, :-1]
            at = (bays[:-1], class_of[choice[:, :-1]], class_of[choice[:, 1:]])
            sums += (joints[at] * changed[:, :, None]).sum(1)
            broken += (changed & ~open_[at]).sum(1)
        out["F"] = sums
        out["G"] = broken[:, None]


def area(points, corner):
    """Area that a set of points covers below the corner; both axes are to be small."""
    total, least = 0, corner[1]
    for h, m in sorted((p[1], p[0]) for p in points):
        if m < least and h < corner[0]:
            total += (corner[0] - h) * (least - m)
            least = m
    return total


def main():
    table = wing(SEED, STRIPS, BAYS, K, CHANGES, REPAIR)
    began = time.perf_counter()
    ran = subprocess.run([sys.argv[1], "front", "--json"], input=as_json(table), capture_output=True, text=True)
    exact = json.loads(ran.stdout)["front"]
    print(f"exact: {len(exact)} points; program with reading and printing {time.perf_counter() - began:.3f} s")
    # The corner: a tenth of the front's spread beyond its ends.
    masses, hours = [p[0] for p in exact], [p[1] for p in exact]
    reach = lambda v: max(v) + (max(v) - min(v)) // 10
    corner = (reach(hours), reach(masses))
    whole = area(exact, corner)
    ran = subprocess.run([sys.argv[2], "rival", str(SEED), str(REPAIR), "0", "0"], capture_output=True, text=True)
    own_s = json.loads(ran.stdout)["front_ms"] / 1e3
    print(f"the engine alone {own_s * 1e3:.2f} ms; 1000 times that is {own_s * 1e3:.2f} s", flush=True)
    for seconds in [1000 * own_s, *map(float, sys.argv[3:])]:
        for seed in (1, 2, 3):
            r = minimize(Wing(table), NSGA2(pop_size=200), TimeBasedTermination(seconds), seed=seed)
            found = [] if r.F is None else r.F.astype(int).tolist()
            if not found:
                print(f"{seconds:.1f} s, seed {seed}: no allowed design, so no share of the front", flush=True)
                continue
            share = area(found, corner) / whole
            heavy = min(p[0] for p in found) / min(masses) - 1
            met = sum(p in exact for p in map(list, set(map(tuple, found))))
            print(
                f"{seconds:.1f} s, seed {seed}: {share:.3f} of the area, {met} of {len(exact)} points, lightest {heavy:+.1%}",
                flush=True,
            )


if __name__ == "__main__":
    main()
