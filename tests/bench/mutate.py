#!/usr/bin/env python3
"""Shift every constant of the physics by 20 %, one at a time, out of one build. Run by hand; standard library only.

    python3 tests/bench/mutate.py SCRATCH [--target DIR] [--only TEXT] [--again survived,own] [--first strength,loads] [--minutes 70] [--list]

The tree is copied to SCRATCH. There each float literal of src/physics becomes `at(7, 0.64)`, which gives 0.64 unless
the environment says THISTLEDOWN_SHIFT=7; constants made of such literals become lazy statics. One build then holds all
mutants. Each test is run once by itself to note which literals it reaches; a mutant is judged only by tests that reach
it, until one fails: first, for all mutants, the checks against the outside (tests/published), then the project's own
tests, last the pinned screens and outputs, which catch nearly every shift and say nothing of whether the number is
right. Of the latter two kinds the tests slower than --slowest are left out.

    outside   a check against the outside fails: what counts
    own       only tests of the project's own: properties, behaviours, limits, unit tests
    pinned    only pinned output
    survived  none fails, though tests reach it
    unreached no test reaches it
    open      no check against the outside fails; the rest is not run yet

Not shifted: 0.0; 1e-5 and smaller, and small `.max(..)` bounds (guards against division by nothing); whole numbers
(counts, `powi(3)`); what stands in comments, strings, attributes and unit tests. Results are appended to
SCRATCH/results.jsonl; a second run goes on where the first stopped and does not judge again what is judged, but for
classes named in --again (as `survived,own,pinned,open`), which are judged with the tests as they now are.
"""

import argparse
import json
import os
import re
import shutil
import subprocess
import sys
import time
from collections import Counter
from pathlib import Path

SHIFT = 1.2
NUMBER = re.compile(r"(?<![\w.])(\d[\d_]*\.\d[\d_]*?(?:e[-+]?\d+)?|\d[\d_]*?e[-+]?\d+)(_?f64)?(?!\w|\.\d)")
GUARD = re.compile(r"\.max\(\s*$")
SKIPPED = re.compile(
    r'//[^\n]*|/\*[\s\S]*?\*/|b?r(#*)"[\s\S]*?"\1|b?"(?:[^"\\]|\\[\s\S])*"|\'(?:[^\'\\]|\\[^\n]{1,8}?)\'|#!?\[[^\]]*\]'
)
ITEM = re.compile(r"(?m)^([ \t]*)((?:pub(?:\([^)]*\))? )?)const ([A-Z][A-Z0-9_]*): ")
CONST_FN = re.compile(r"\bconst (?:fn (\w+)|(?=\{))")
IN_LENGTH = re.compile(r"(?<=; )(?:\w+::)*([A-Z][A-Z0-9_]*)(?=\.len\(\)\])")
OUTSIDE = ["published"]
OWN = ["behaviours", "caps", "cut_list", "dial_table", "matrix", "mix", "nose_steps", "own_events", "properties", "proving", "reserves", "samples", "validity", "weighed"]
PINNED = ["commands", "compare", "scenarios", "screens", "survey", "table"]
LIMIT_S = 60

MODULE = '''//! Written by tests/bench/mutate.py: the constant whose number the environment names is shifted.
use std::io::Write;
use std::sync::atomic::{AtomicBool, Ordering::Relaxed};
use std::sync::{LazyLock, Mutex};
struct Chosen { number: u32, reached: Option<Mutex<std::fs::File>> }
static CHOSEN: LazyLock<Chosen> = LazyLock::new(|| Chosen {
    number: std::env::var("THISTLEDOWN_SHIFT").ok().and_then(|s| s.parse().ok()).unwrap_or(u32::MAX),
    reached: std::env::var("THISTLEDOWN_REACHED").ok().map(|p|
        Mutex::new(std::fs::OpenOptions::new().create(true).append(true).open(p).unwrap())),
});
static SEEN: [AtomicBool; COUNT] = [const { AtomicBool::new(false) }; COUNT];
#[inline]
pub fn at(number: u32, value: f64) -> f64 {
    let chosen = &*CHOSEN;
    if let Some(file) = &chosen.reached && !SEEN[number as usize].swap(true, Relaxed) {
        writeln!(file.lock().unwrap(), "{number}").unwrap();
    }
    if chosen.number == number { value * SHIFT } else { value }
}
/// A constant that holds shifted literals; it prints as its value.
pub struct Lazy<T>(LazyLock<T>);
impl<T> Lazy<T> {
    pub const fn new(make: fn() -> T) -> Self { Self(LazyLock::new(make)) }
}
impl<T> std::ops::Deref for Lazy<T> {
    type Target = T;
    fn deref(&self) -> &T { &self.0 }
}
impl<T: std::fmt::Display> std::fmt::Display for Lazy<T> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result { (**self).fmt(f) }
}
'''


def blank(text):
    """The same text with comments, strings and attributes replaced by blanks, so that places stay."""
    return SKIPPED.sub(lambda m: re.sub(r"[^\n]", " ", m.group()), text)


def tests_begin(text):
    at = text.find("#[cfg(test)]")
    return len(text) if at < 0 else at


def closing(code, i, until):
    """Where the first of the characters `until` stands from i on, outside all brackets."""
    depth = 0
    while i < len(code):
        c = code[i]
        if depth == 0 and c in until:
            return i
        depth += (c in "([{") - (c in ")]}")
        i += 1
    return i


def literals(root):
    """Every literal that is shifted: path, start, end, value, line, and a key that outlives edits elsewhere."""
    found, seen = [], Counter()
    for path in sorted((root / "src/physics").rglob("*.rs")):
        text = path.read_text()
        code = blank(text)[: tests_begin(text)]
        for m in NUMBER.finditer(code):
            value = float(m.group(1).replace("_", ""))
            if value <= 1e-5 or (GUARD.search(code[: m.start()]) and value <= 0.05):
                continue
            line = code.count("\n", 0, m.start())
            said = text.splitlines()[line].strip()
            name = str(path.relative_to(root))
            seen[name, said, m.group(1)] += 1
            key = f"{name} | {said} | {m.group(1)} #{seen[name, said, m.group(1)]}"
            found.append({"path": name, "start": m.start(), "end": m.end(), "value": value, "line": line + 1, "said": said, "key": key})
    return found


def imports(said, module=""):
    """Constants a `use` brings in, each with the module it comes from."""
    head, brace, inner = said.strip().partition("{")
    parts = [p.strip() for p in head.split("::") if p.strip()]
    if not brace:
        if parts and re.fullmatch(r"[A-Z][A-Z0-9_]*", parts[-1]):
            yield parts[-1], parts[-2] if len(parts) > 1 else module
        return
    inner, at = inner[: inner.rindex("}")], 0
    while at < len(inner):
        end = closing(inner, at, ",")
        yield from imports(inner[at:end], parts[-1] if parts else module)
        at = end + 1


class Source:
    """One file: its constants and const functions, and the pieces of text that are to be replaced."""

    def __init__(self, root, path):
        self.path, self.name = path, str(path.relative_to(root))
        self.top = self.name.split("/")[0]
        self.module = path.parent.name if path.stem == "mod" else path.stem
        self.text = path.read_text()
        self.code = blank(self.text)
        self.edits, self.items, self.functions = [], [], []
        for m in ITEM.finditer(self.code):
            equals = closing(self.code, m.end(), "=;")
            end = closing(self.code, equals + 1, ";")
            self.items.append({"name": m.group(3), "start": m.start(), "type": m.end(), "equals": equals, "end": end,
                               "inner": bool(m.group(1)), "pub": m.group(2), "lazy": False, "indent": m.group(1)})
        for m in CONST_FN.finditer(self.code):
            end = closing(self.code, closing(self.code, m.end(), "{") + 1, "}")
            self.functions.append({"name": m.group(1) or "", "start": m.start(), "end": end, "plain": False})
        self.statics = set(re.findall(r"\bstatic ([A-Z][A-Z0-9_]*): ", self.code))
        self.uses = [(m.start(), m.end()) for m in re.finditer(r"(?m)^\s*(?:pub(?:\([^)]*\))? )?use [^;]*;", self.code)]
        self.imported = dict(x for a, b in self.uses for x in imports(self.code[a:b].split("use ", 1)[1].rstrip(";")))

    def length(self, start, end):
        """Whether what stands there is a list of which only the length is asked where it must be known when it is built."""
        if not self.code.startswith(".len()", end):
            return False
        return bool(IN_LENGTH.match(self.code, start)) or any(i["equals"] < start < i["end"] for i in self.items)

    def plain(self, name, top):
        """The list as it stands, by its whole path."""
        parts = list(Path(self.name).with_suffix("").parts[1:])
        parts = parts[:-1] if parts[-1] in ("mod", "lib") else parts
        return "::".join(["crate" if top == self.top else "thistledown", *parts, name + "_PLAIN"])

    def in_use(self, i):
        return any(a <= i < b for a, b in self.uses)


class Tree:
    """All files, and which of their constants have to become lazy because they hold a shifted literal."""

    def __init__(self, root, found):
        self.sources = [Source(root, p) for d in ["src", "tests"] for p in sorted((root / d).rglob("*.rs"))]
        self.by_name = {s.name: s for s in self.sources}
        self.numbers, self.plain = {}, set()
        for f in found:
            self.numbers.setdefault(f["path"], []).append(f["start"])
        self.named = {}
        for s in self.sources:
            for i in (i for i in s.items if not i["inner"]):
                self.named.setdefault(i["name"], []).append((s, i))

    def is_lazy(self, source, module, name):
        """Whether NAME, as `source` writes it (behind `module::` or bare), is a constant that became lazy."""
        known = self.named.get(name, []) if module or name not in source.statics else []
        from_use = source.imported.get(name, "") if not module else ""
        module = module or (from_use if from_use not in ("super", "self", "crate") else "")
        of_module = [i for s, i in known if module and module == s.module] or [i for s, i in known if s is source and not module]
        if of_module:
            return any(i["lazy"] for i in of_module)
        reach = {"pub ": lambda s: s.top in ("src", source.top), "pub(crate) ": lambda s: s.top == source.top, "": lambda s: False}
        near = lambda s: source.path.is_relative_to(s.path.parent)
        return any(i["lazy"] and reach.get(i["pub"], near)(s) for s, i in known)

    def uses(self, source, start, end):
        for m in re.finditer(r"(?<![\w:.])((?:\w+::)*)([A-Z][A-Z0-9_]*)\b", source.code[start:end]):
            module = m.group(1).split("::")[-2] if m.group(1) else ""
            module = "" if module in ("super", "self") else module
            if self.is_lazy(source, module, m.group(2)):
                yield start + m.start(), start + m.end()

    def touched(self, source, start, end):
        calls = set(re.findall(r"\b(\w+)\(", source.code[start:end]))
        uses = (u for u in self.uses(source, start, end) if not source.length(*u))
        return (any(start <= i < end for i in self.numbers.get(source.name, ()))
                or bool(calls & self.plain) or any(True for _ in uses))

    def settle(self):
        changed = True
        while changed:
            changed = False
            for s in self.sources:
                for i in s.items:
                    if not i["lazy"] and self.touched(s, i["equals"], i["end"]):
                        i["lazy"] = changed = True
                for f in s.functions:
                    if not f["plain"] and self.touched(s, f["start"], f["end"]):
                        f["plain"] = changed = True
                        self.plain.add(f["name"])


def typed(s, i):
    """The type of a constant, with the edits that fall in it made: the length of a list may stand there."""
    inside = [e for e in s.edits if i["type"] <= e[0] and e[1] <= i["equals"]]
    s.edits = [e for e in s.edits if e not in inside]
    kind = s.text[i["type"]:i["equals"]]
    for start, end, new in sorted(inside, reverse=True):
        kind = kind[: start - i["type"]] + new + kind[end - i["type"]:]
    return kind.strip()


def make_lazy(s, i, lengths):
    """The edits that turn one constant into a lazy static, or into a `let` where it stands inside a function."""
    kind = typed(s, i)
    after = s.code[i["equals"] + 1:]
    begin = i["equals"] + 1 + len(after) - len(after.lstrip())
    head, tail = "", ""
    if s.code[begin] == "&":
        s.edits.append((begin, begin + 1, ""))
        head, tail, kind = "&*Box::leak(Box::new(", "))", kind.replace("&[", "&'static [", 1)
    if i["inner"]:
        said = f"{i['indent']}let {i['name']}: {kind} "
    else:
        crate = "crate" if s.top == "src" else "thistledown"
        said = f"pub static {i['name']}: {crate}::mutation::Lazy<{kind}> "
        head, tail = f"{crate}::mutation::Lazy::new(|| {head}", tail + ")"
        if i["name"] in lengths:
            said = f"pub const {i['name']}_PLAIN: {s.text[i['type']:i['end']]};\n" + said
    s.edits += [(i["start"], i["equals"], said), (begin, begin, head), (i["end"], i["end"], tail)]


def make_copyable(tree, kinds):
    """A list of constants takes them by value: structs of lazy constants are copied. Another part may have a struct of that name."""
    named = lambda s: {m.group(1) for m in re.finditer(r"(?m)^pub struct (\w+) \{", s.code)}
    physics = set().union(*(named(s) for s in tree.sources if s.name.startswith("src/physics/")))
    for s in tree.sources:
        own = kinds if s.name.startswith("src/physics/") else kinds - physics
        for m in re.finditer(r"(?m)^pub struct (\w+) \{", s.code):
            if m.group(1) not in own:
                continue
            above = s.text[: m.start()].splitlines()[-4:]
            derived = " ".join(x for x in above if x.startswith("#[derive"))
            wanted = [x for x in ["Clone", "Copy"] if not re.search(rf"\b{x}\b", derived)]
            if wanted:
                s.edits.append((m.start(), m.start(), f"#[derive({', '.join(wanted)})]\n"))


def rewrite(root, found):
    """Write the tree in SCRATCH so that one build holds every mutant."""
    tree = Tree(root, found)
    tree.settle()
    make_copyable(tree, {s.text[i["type"]:i["equals"]].strip() for s in tree.sources for i in s.items if i["lazy"]})
    # The length of an array must be known when it is built: it is that of the list as it stands.
    lengths = {s.code[a:b].split("::")[-1] for s in tree.sources if s.top == "src" for a, b in tree.uses(s, 0, len(s.code)) if s.length(a, b)}
    for number, f in enumerate(found):
        source = tree.by_name[f["path"]]
        source.edits.append((f["start"], f["end"], f"crate::mutation::at({number}, {source.text[f['start']:f['end']]})"))
    for s in tree.sources:
        for f in (f for f in s.functions if f["plain"]):
            s.edits.append((f["start"], f["start"] + len("const "), ""))
        defined = {i["type"] - 2 - len(i["name"]) for i in s.items}
        for start, end in tree.uses(s, 0, len(s.code)):
            if s.in_use(start) or start in defined:
                continue
            length = s.length(start, end) and not re.search(r"vec!\[[^\n]*$", s.code[:start])
            name = s.text[start:end].split("::")[-1]
            home = next((h for h, i in tree.named.get(name, []) if i["lazy"]), s)
            s.edits.append((start, end, home.plain(name, s.top) if length else f"(*{s.text[start:end]})"))
        for i in (i for i in s.items if i["lazy"]):
            make_lazy(s, i, lengths)
        text = s.text
        for start, end, new in sorted(s.edits, key=lambda e: (e[0], e[1]), reverse=True):
            text = text[:start] + new + text[end:]
        s.path.write_text(text)
    module = MODULE.replace("COUNT", str(len(found))).replace("value * SHIFT", f"value * {SHIFT}")
    (root / "src/mutation.rs").write_text(module)
    lib = root / "src/lib.rs"
    lib.write_text(lib.read_text() + "\npub mod mutation;\n")


def copy(root, scratch):
    shutil.rmtree(scratch, ignore_errors=True)
    scratch.mkdir(parents=True)
    for part in ["src", "tests", "scenarios"]:
        shutil.copytree(root / part, scratch / part)
    for name in ["Cargo.lock", "README.md", "DEVELOPERS.md"]:
        shutil.copy(root / name, scratch / name)
    manifest = (root / "Cargo.toml").read_text()
    manifest = re.sub(r"\[\[bench\]\][^\[]*", "", manifest).split("[lints.rust]")[0]
    manifest = manifest.replace("[profile.dev]\n", "[profile.dev]\ndebug = 0\n")
    manifest = manifest.replace('[profile.dev.package."*"]\n', '[profile.dev.package."*"]\ndebug = 2\n')
    (scratch / "Cargo.toml").write_text(manifest)
    runner = scratch / "tests/runner.rs"
    # What others lean on stays too: it is never run by itself.
    keep = OUTSIDE + OWN + PINNED + ["program"]
    kept = [x for x in runner.read_text().splitlines() if not x.startswith("mod ") or x[4:-1] in keep]
    runner.write_text("\n".join(kept) + "\n")


def settle_into(staged, scratch):
    """Take over what differs, so that what stayed the same is not built again."""
    new = {p.relative_to(staged) for p in staged.rglob("*") if p.is_file()}
    for part in ["src", "tests", "scenarios"]:
        for p in (scratch / part).rglob("*"):
            if p.is_file() and p.relative_to(scratch) not in new:
                p.unlink()
    for name in new:
        to, text = scratch / name, (staged / name).read_bytes()
        if not to.exists() or to.read_bytes() != text:
            to.parent.mkdir(parents=True, exist_ok=True)
            to.write_bytes(text)


def run(command, cwd, env, seconds):
    try:
        r = subprocess.run(command, cwd=cwd, env=env, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, errors="replace", timeout=seconds)
        return r.returncode, r.stdout
    except subprocess.TimeoutExpired:
        return None, "out of time"


def build(scratch, env):
    command = ["cargo", "test", "--locked", "--offline", "--lib", "--test", "runner", "--no-run"]
    code, out = run(command, scratch, env, 3600)
    if code != 0:
        sys.exit("the rewritten tree does not build:\n" + "\n".join(x for x in out.splitlines() if "warning" not in x)[-6000:])
    return [str((scratch / b).resolve()) for b in re.findall(r"Executable .*\((.*)\)", out)]


def cover(binaries, scratch, env):
    """Tests as (class, seconds, binary, name, literals reached), each run by itself as the tree stands."""
    tests, trace = [], scratch / "reached.txt"
    for binary in binaries:
        _, listed = run([binary, "--list"], scratch, env, LIMIT_S)
        for name in re.findall(r"(?m)^(.*): test$", listed):
            first = name.split("::")[0]
            unit = "runner-" not in binary
            kind = "own" if unit or first in OWN else "outside" if first in OUTSIDE else "pinned"
            trace.unlink(missing_ok=True)
            began = time.time()
            code, out = run([binary, "--exact", name], scratch, dict(env, THISTLEDOWN_REACHED=str(trace)), 2 * LIMIT_S)
            if code != 0:
                print(f"left out, for it fails as the tree stands: {name}")
                continue
            reached = {int(x) for x in trace.read_text().split()} if trace.exists() else set()
            tests.append((kind, time.time() - began, binary, name, reached))
    return tests


def judge(number, kinds, tests, scratch, env):
    """Class of a mutant and the test that told it; "open" where tests of these kinds do not tell."""
    env = dict(env, THISTLEDOWN_SHIFT=str(number))
    for kind in kinds:
        of_kind = sorted((t for t in tests if t[0] == kind and number in t[4]), key=lambda t: t[1])
        batches = [[t for t in of_kind if t[1] < 0.1], *([t] for t in of_kind if t[1] >= 0.1)]
        for batch in batches:
            for binary in sorted({t[2] for t in batch}):
                names = [t[3] for t in batch if t[2] == binary]
                code, out = run([binary, "-q", "--exact", *names], scratch, env, LIMIT_S)
                if code != 0:
                    failed = re.findall(r"^    (\w+(?:::\w+)+)$", out, re.M)
                    return kind, failed[0] if failed else "hangs" if code is None else "aborts"
    return "open", ""


def summary(found, results):
    kinds = ["outside", "own", "pinned", "survived", "unreached", "open"]
    counted = Counter(results[f["key"]][0] for f in found if f["key"] in results)
    print(f"{len(found)} constants, {sum(counted.values())} shifted: " + ", ".join(f"{k} {counted[k]}" for k in kinds))
    for place in sorted({f["path"].split("/")[2].removesuffix(".rs") for f in found}):
        of = Counter(results[f["key"]][0] for f in found if f["key"] in results and f["path"].split("/")[2].removesuffix(".rs") == place)
        print(f"  {place:12}" + "".join(f" {k} {of[k]:4}" for k in kinds))
    for f in found:
        kind, by = results.get(f["key"], ("not yet judged", ""))
        if kind != "outside":
            print(f"{kind:9} {f['path']}:{f['line']} {f['value']:g} | {f['said']} | {by}")


def main():
    p = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    p.add_argument("scratch", type=Path)
    p.add_argument("--target", type=Path, help="build directory with the dependencies already built")
    p.add_argument("--only", default="", help="only constants whose file:line or line of code holds this")
    p.add_argument("--again", default="", help="classes to judge again, or all")
    p.add_argument("--first", default="", help="folders or files judged before the others, as strength,loads")
    p.add_argument("--minutes", type=float, default=1e9)
    p.add_argument("--slowest", type=float, default=1.0, help="tests of the project's own slower than this, s, are left out")
    p.add_argument("--list", action="store_true", help="print what is known and stop")
    a = p.parse_args()
    root = Path(__file__).resolve().parents[2]
    scratch = a.scratch.resolve()
    if root == scratch or root in scratch.parents:
        sys.exit("the scratch copy must lie outside the tree")
    found = literals(root)
    record = scratch / "results.jsonl"
    results = {}
    if record.exists():
        results = {r["key"]: (r["class"], r["by"]) for r in map(json.loads, record.read_text().splitlines())}
    if a.list:
        summary(found, results)
        return
    staged = scratch / "staged"
    copy(root, staged)
    rewrite(staged, found)
    settle_into(staged, scratch)
    env = {k: v for k, v in os.environ.items() if not k.startswith("THISTLEDOWN_")}
    env.update(CARGO_TARGET_DIR=str((a.target or scratch / "target").resolve()), INSTA_UPDATE="no", INSTA_FORCE_PASS="0")
    began = time.time()
    binaries = build(scratch, env)
    print(f"built in {time.time() - began:.0f} s", flush=True)
    tests = cover(binaries, scratch, env)
    slow = [t[3] for t in tests if t[0] != "outside" and t[1] > a.slowest]
    print(f"{len(tests)} tests, {sum(t[1] for t in tests):.0f} s one by one; left out as slower than {a.slowest} s: {' '.join(slow)}", flush=True)
    quick = [t for t in tests if t[3] not in slow]
    again = set(a.again.split(",")) - {""}
    todo = [
        (n, f) for n, f in enumerate(found)
        if a.only in f"{f['path']}:{f['line']} {f['said']}"
        and (f["key"] not in results or results[f["key"]][0] in again or "all" in again)
    ]
    first = [x for x in a.first.split(",") if x]
    todo.sort(key=lambda t: next((i for i, x in enumerate(first) if x in t[1]["path"]), len(first)))
    began = time.time()
    for kinds in [["outside"], ["own", "pinned"]]:
        left = []
        for done, (n, f) in enumerate(todo):
            if time.time() - began > 60 * a.minutes:
                print(f"out of time after {done} of {len(todo)} by {kinds[0]}")
                break
            kind, by = judge(n, kinds, quick, scratch, env)
            if kind == "open":
                left.append((n, f))
                kind = "open" if kinds == ["outside"] else "survived" if any(n in t[4] for t in tests) else "unreached"
            results[f["key"]] = kind, by
            with record.open("a") as out:
                out.write(json.dumps({"key": f["key"], "class": kind, "by": by}) + "\n")
        print(f"{kinds[0]}: {len(todo)} judged, {len(left)} left, {time.time() - began:.0f} s", flush=True)
        todo = left
    summary(found, results)


if __name__ == "__main__":
    main()
