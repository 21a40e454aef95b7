#!/usr/bin/env python3
"""Shift constants of the physics by 20 %, one at a time, and ask the tests. Run by hand; standard library only.

    python3 tests/bench/mutate.py SCRATCH [--sample 30] [--seed 1] [--only FILE:LINE,...] [--list]

The tree is copied to SCRATCH (kept, with its own target/, so that a second run builds quickly). There only the modules of
the test runner that judge the physics are kept: published, behaviours, properties,
reserves, matrix. Pinned screens and snapshots
would catch nearly every shift and say nothing of whether the number is right, so they are left out. A mutant is killed when
one of these tests fails, when the crate no longer builds, or when the tests hang.

Counted as constants: every number with a point or exponent in code of the directories below. Not counted: 0.0, and 1e-5
and smaller (guards against division by nothing), small `.max(..)` guards, and what stands in comments, strings and unit
tests. Whole-number exponents (`powi(3)`) are not shifted.
"""

import argparse
import os
import random
import re
import shutil
import subprocess
import sys
import time
from pathlib import Path

DIRECTORIES = ["loads", "strength", "flight", "laminate", "wing", "mass"]
KEEP = ["behaviours", "matrix", "properties", "published", "reserves"]
SHIFT = 1.2
NUMBER = re.compile(r"(?<![\w.])(\d[\d_]*\.\d[\d_]*(?:e[-+]?\d+)?|\d[\d_]*e[-+]?\d+)(?![\w.])")
GUARD = re.compile(r"\.max\(\s*$")
TIMEOUT_S = 180


def blank(text):
    """The same text with comments, strings and unit tests replaced by blanks, so that places stay."""
    text = re.sub(r'//[^\n]*|"(?:[^"\\]|\\[\s\S])*"', lambda m: re.sub(r"[^\n]", " ", m.group()), text)
    tests = text.find("#[cfg(test)]")
    return text if tests < 0 else text[:tests]


def constants(root):
    found = []
    for d in DIRECTORIES:
        for path in sorted((root / "src/physics" / d).rglob("*.rs")):
            code = blank(path.read_text())
            for m in NUMBER.finditer(code):
                value = float(m.group(1).replace("_", ""))
                guard = GUARD.search(code[: m.start()]) and value <= 0.05
                if value == 0.0 or value <= 1e-5 or guard:
                    continue
                line = code.count("\n", 0, m.start()) + 1
                found.append((str(path.relative_to(root)), line, m.start(), m.end(), value))
    return found


def run(command, cwd, env, seconds):
    try:
        r = subprocess.run(command, cwd=cwd, env=env, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, timeout=seconds)
        return r.returncode, r.stdout
    except subprocess.TimeoutExpired:
        return None, "time out"


def judge(scratch, env):
    code, out = run(["cargo", "test", "--locked", "--offline", "--test", "runner", "--no-run"], scratch, env, 1800)
    if code != 0:
        return "does not build", out
    binary = re.search(r"Executable .*\((.*)\)", out).group(1)
    code, out = run([str(scratch / binary), "-q"], scratch, env, TIMEOUT_S)
    if code is None:
        return "hangs", out
    if code == 0:
        return None, out
    failed = re.findall(r"^    (\w+(?:::\w+)+)$", out, re.M)
    return f"{len(set(failed))} tests fail, {failed[0] if failed else '?'}", out


def main():
    p = argparse.ArgumentParser()
    p.add_argument("scratch", type=Path)
    p.add_argument("--sample", type=int, default=30)
    p.add_argument("--seed", type=int, default=1)
    p.add_argument("--only", default="")
    p.add_argument("--list", action="store_true")
    a = p.parse_args()
    root = Path(__file__).resolve().parents[2]
    scratch = a.scratch.resolve()
    if root == scratch or root in scratch.parents:
        sys.exit("the scratch copy must lie outside the tree")
    scratch.mkdir(parents=True, exist_ok=True)
    for part in ["src", "tests", "scenarios"]:
        shutil.rmtree(scratch / part, ignore_errors=True)
        shutil.copytree(root / part, scratch / part)
    for name in ["Cargo.toml", "Cargo.lock", "README.md", "DEVELOPERS.md"]:
        shutil.copy(root / name, scratch / name)
    runner = scratch / "tests/runner.rs"
    kept = [x for x in runner.read_text().splitlines() if not x.startswith("mod ") or x[4:-1] in KEEP]
    runner.write_text("\n".join(kept) + "\n")

    every = constants(scratch)
    if a.only:
        wanted = set(a.only.split(","))
        sample = [c for c in every if f"{c[0]}:{c[1]}" in wanted]
    else:
        sample = random.Random(a.seed).sample(every, min(a.sample, len(every)))
    print(f"{len(every)} constants, {len(sample)} of them shifted by {SHIFT - 1:.0%}, seed {a.seed}", flush=True)
    if a.list:
        for path, line, _, _, value in sample:
            print(f"{path}:{line} {value:g}")
        return
    env = dict(os.environ, CARGO_PROFILE_DEV_DEBUG="0", CARGO_PROFILE_DEV_OPT_LEVEL="0", CARGO_TARGET_DIR=str(scratch / "target"))
    verdict, out = judge(scratch, env)
    if verdict:
        sys.exit(f"the tests fail as the tree stands: {verdict}\n{out[-2000:]}")
    survivors = []
    for i, (name, line, start, end, value) in enumerate(sample):
        path = scratch / name
        text = path.read_text()
        began = time.time()
        path.write_text(text[:start] + repr(value * SHIFT) + text[end:])
        try:
            verdict, _ = judge(scratch, env)
        finally:
            path.write_text(text)
        said = text.splitlines()[line - 1].strip()
        print(f"{i + 1:3} {'killed  ' if verdict else 'SURVIVES'} {name}:{line} {value:g} | {said} | {verdict or ''} [{time.time() - began:.0f} s]", flush=True)
        if not verdict:
            survivors.append((name, line, value, said))
    print(f"{len(sample) - len(survivors)} of {len(sample)} killed; survivors:")
    for name, line, value, said in survivors:
        print(f"  {name}:{line} {value:g} | {said}")


if __name__ == "__main__":
    main()
