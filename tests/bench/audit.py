"""`front` held against complete enumeration, table by table, written from the description of the table alone.

    python3 tests/bench/audit.py PATH_OF_THISTLEDOWN [TABLES] [SEED]

Draws small ragged tables (missing cells, forbidden changes, unknown keys, numbers of very different size), enumerates every
design, and asks for the front and the lightest with and without limits, floors, runs, few constructions and small label
ceilings. Prints every disagreement with its table; ends with 1 if there was any. Then broken tables: each must be refused
with exit code 2 and a message, never a panic.
"""

import itertools
import json
import random
import subprocess
import sys

MISSING = 15


def table(r):
    strips = []
    for s in range(r.randint(1, 3)):
        bays, classes = r.randint(1, 4), r.randint(1, 3)
        k = r.randint(1, 4 if bays < 4 else 3)
        mass, repair = r.choice([3, 20, 1000, 70_000, 200_000]), r.choice([1, 4, 30, 500, 20_000])

        def cell():
            own = [r.randint(0, mass), r.randint(0, repair), r.randint(0, 9), r.randint(0, 9), r.randint(0, 9)]
            return None if r.randint(1, 100) <= MISSING else own

        def joint():
            own = [r.randint(0, mass // 3), r.randint(0, repair // 3), r.randint(0, 5)]
            return None if r.randint(1, 100) <= MISSING else own

        strips.append(
            dict(
                name=f"s{s}", bays=bays, candidates=k, max_changes=r.randint(0, bays), classes=classes,
                class_of=[r.randrange(classes) for _ in range(k)],
                table=[[cell() for _ in range(bays)] for _ in range(k)],
                splice=[[[joint() for _ in range(classes)] for _ in range(classes)] for _ in range(bays - 1)],
                colour="red", note=[1, {"a": None}],
            )
        )
    return dict(strips=strips, more={"x": 1})


def designs(t, shortest):
    out = []
    for choice in itertools.product(range(t["candidates"]), repeat=t["bays"]):
        runs = [len(list(g)) for _, g in itertools.groupby(choice)]
        cells = [t["table"][k][b] for b, k in enumerate(choice)]
        if len(runs) - 1 > t["max_changes"] or min(runs) < min(shortest, t["bays"]) or None in cells:
            continue
        changes = [(j, a, b) for j, (a, b) in enumerate(zip(choice, choice[1:])) if a != b]
        joints = [t["splice"][j][t["class_of"][a]][t["class_of"][b]] for j, a, b in changes]
        if None in joints:
            continue
        sums = [sum(c[i] for c in cells) + sum(j[i] for j in joints if i < 3) for i in range(4)]
        out.append((sums, min(c[4] for c in cells), list(choice)))
    return out


def front(sums):
    out = []
    for repair, mass in sorted((s[1], s[0]) for s in sums):
        if not out or mass < out[-1][0]:
            out.append([mass, repair])
    return out[::-1]


def one(binary, r):
    """What is wrong with one answer; nothing when it is right."""
    t, shortest = table(r), r.choice([1, 1, 1, 2, 3])
    by_strip = [designs(s, shortest) for s in t["strips"]]
    count = 1
    for d in by_strip:
        count *= max(1, len(d))
    if count > 40_000:
        return None
    every = []
    for parts in itertools.product(*by_strip):
        sums = [sum(p[0][i] for p in parts) for i in range(4)]
        used = {k for p in parts for k in p[2]}
        every.append((sums, min(p[1] for p in parts), [p[2] for p in parts], len(used)))
    args, limits = [], {}
    for i, word in ((1, "repair"), (2, "build"), (3, "cost")):
        if every and r.random() < 0.4:
            limits[i] = max(0, r.choice(every)[0][i] + r.randint(-1, 1))
            args += [f"--{word}-limit", str(limits[i])]
    floor = r.choice([0, 0, r.randint(0, 6)])
    most = r.choice([None, None, None, 1, 2, 3])
    ceiling = r.choice([None, None, None, 0, 10, 5000])
    args += ["--dent-floor", str(floor)]
    for word, v in (("--shortest-run", shortest if shortest > 1 else None), ("--most-constructions", most), ("--ceiling", ceiling)):
        args += [] if v is None else [word, str(v)]
    free = [d for d in every if d[1] >= floor and (most is None or d[3] <= most)]
    kept = [d for d in free if all(d[0][i] <= l for i, l in limits.items())]
    least = min(((d[0][0], d[0][1]) for d in kept), default=None)
    wrong = []
    for only in (False, True):
        ran = subprocess.run(
            [binary, "front", "-", "--json", *args, *(["--lightest"] if only else [])],
            input=json.dumps(t), capture_output=True, text=True, timeout=60,
        )
        try:
            got = json.loads(ran.stdout)
        except ValueError:
            return [("no JSON", ran), t]
        light, status = got["lightest"], got["status"]
        if ran.returncode != (status == "infeasible"):
            wrong.append(("exit code", ran.returncode))
        if light:
            own = [d for d in kept if d[2] == light["design"]]
            if not own or own[0][0] != [light[w] for w in ("mass", "repair", "build", "cost")] or own[0][1] != light["dent"]:
                wrong.append(("design", light))
        # Short of labels the lightest may be proven before the least repair among equals is known.
        exact = (light["mass"], light["repair"]) == least if light and ceiling is None else light and light["mass"] == least[0]
        if status == "proven" and (not exact or got["bound"] != least[0]):
            wrong.append(("lightest", light, least))
        if status == "infeasible" and least:
            wrong.append(("not infeasible", least))
        if status == "ceiling" and (ceiling is None or least and got["bound"] > least[0]):
            wrong.append(("bound", got["bound"], least))
        if only:
            continue
        want = front(d[0] for d in kept)
        if got["front_whole"] and got["front"] != want:
            wrong.append(("front", got["front"], want))
        if not got["front_whole"]:
            possible = [d[0][:2] for d in kept]
            above = lambda p, q: p[0] <= q[0] and p[1] <= q[1]
            if ceiling is None or any(p not in possible for p in got["front"]):
                wrong.append(("short front", got["front"]))
            if any(not any(above(p, q) for p in got["front_bound"]) for q in want):
                wrong.append(("front bound", got["front_bound"], want))
    return [*wrong, args, json.dumps(t)] if wrong else None


GOOD = '{"strips":[{"bays":2,"candidates":2,"max_changes":1,"classes":1,"class_of":[0,0],"table":[[[1,2,3,4,5],[1,2,3,4,5]],[[2,1,3,4,5],null]],"splice":[[[[1,1,1]]]]}]}'


def broken():
    texts = ["", "{", "[]", "null", "3", '"x"', "{}", '{"strips":{}}', '{"strips":[]}', '{"strips":[null]}', '{"strips":[{}]}', "[" * 200_000, '{"strips":[{"table":[[]]}]}', "\0", "\udcff"]
    for value in ("-1", "1.5", "NaN", "Infinity", "1e999", "1e300", "99999999999999999999", "true", '"1"', "[]", "{}"):
        texts += [GOOD.replace("[[[1,2", f"[[[{value},2", 1), GOOD.replace("[[[[1,1,1]]]]", f"[[[[1,{value},1]]]]")]
        for key in ('"bays":2', '"candidates":2', '"max_changes":1', '"classes":1'):
            texts.append(GOOD.replace(key, key.split(":")[0] + ":" + value))
        texts.append(GOOD.replace("[0,0]", f"[0,{value}]"))
    texts += [GOOD.replace(a, b) for a, b in (('"bays":2', '"bays":3'), ('"bays":2', '"bays":0'), ('"candidates":2', '"candidates":3'), ("[0,0]", "[0]"), ("[0,0]", "[0,1]"), ("[[[[1,1,1]]]]", "[[[[1,1]]]]"), ("[[[[1,1,1]]]]", "[[],[],[]]"), ("[2,1,3,4,5]", "[1073741823,1,3,4,5],[1,1,1,1,1]"), ("[1,2,3,4,5]]", "[1073741823,2,3,4,5]]"))]
    return texts


def main():
    binary, n = sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 500
    seed, bad = int(sys.argv[3]) if len(sys.argv) > 3 else 1, 0
    for i in range(n):
        wrong = one(binary, random.Random(seed * 1_000_003 + i))
        if wrong:
            bad += 1
            print(i, *wrong, sep="\n  ")
    for text in broken():
        ran = subprocess.run([binary, "front"], input=text.encode(errors="surrogateescape"), capture_output=True, timeout=60)
        if ran.returncode != 2 or not ran.stderr or b"panicked" in ran.stderr:
            print("not refused:", text[:300], ran.returncode, ran.stderr[:300])
            bad += 1
    print(f"{n} tables and {len(broken())} broken ones: {bad} wrong")
    sys.exit(bad > 0)


if __name__ == "__main__":
    main()
