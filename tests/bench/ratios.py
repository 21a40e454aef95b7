"""Medians of ratios of the exact search against a general integer-programming solver, both in one run.

    pip install scipy==1.17.1
    cargo bench --bench search --no-run
    python3 tests/bench/ratios.py PATH_OF_THE_BENCHMARK [SEEDS] [MOST_REPAIR]

PATH_OF_THE_BENCHMARK is the executable that `cargo bench --no-run` names. For each seed it draws the benchmark's table of
7 strips x 16 bays x 60 constructions with 3 changes, has the programme solved once with a limit on repair and once with
limits on repair and build, asks the engine for the same, checks that both name the same masses, and prints the time of
one solve over the time of the whole front, and over the time of front and lightest within both limits.
"""

import json
import statistics
import subprocess
import sys

from milp import programme, solve, wing


def main():
    bench = sys.argv[1]
    seeds = int(sys.argv[2]) if len(sys.argv) > 2 else 5
    most = int(sys.argv[3]) if len(sys.argv) > 3 else 20
    whole, limited = [], []
    for seed in range(seeds):
        model = programme(wing(seed, 7, 16, 60, 3, most), 0)
        _, light, _ = solve(model, {})
        _, least, _ = solve(model, {}, (0, 1, 0, 0))
        repair = (light[1] + least[1]) // 2
        status, sums, one = solve(model, {1: repair}, limit_s=600)
        if status != "proven":
            print(f"seed {seed}: programme {status} after {one:.0f} s")
            continue
        build = sums[2] * 93 // 100
        both_status, both, two = solve(model, {1: repair, 2: build}, limit_s=600)
        ran = subprocess.run([bench, "rival", *map(str, (seed, most, repair, build))], capture_output=True, text=True)
        own = json.loads(ran.stdout)
        assert own["mass"] == sums[0], (seed, own, sums)
        assert both_status != "proven" or own["mass_limited"] == both[0], (seed, own, both)
        whole.append(one * 1e3 / own["front_ms"])
        limited.append(two * 1e3 / own["limited_ms"])
        print(
            f"seed {seed}: front {own['front_ms']:.2f} ms, {own['points']} points; programme {one:.2f} s, {whole[-1]:.0f} times;"
            f" both limits {own['limited_ms']:.2f} ms, programme {two:.2f} s ({both_status}), {limited[-1]:.0f} times",
            flush=True,
        )
    print(f"medians of {len(whole)}: whole front {statistics.median(whole):.0f} times, both limits {statistics.median(limited):.0f} times")


if __name__ == "__main__":
    main()
