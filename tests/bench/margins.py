#!/usr/bin/env python3
"""The margins that `cargo bench --bench margins -- OUT.json` works out, again in numpy: equal to ten digits, and how long.

    python3 tests/bench/margins.py OUT.json

Run by hand with numpy from the registry, one thread, in the same session as the bench. Every formula is vectorised over
wings, cases, bays and zones; the batch is grown until the time of one wing stops falling. Only reserves are worked out,
without the working that the program keeps beside each.
"""

import os

for name in ["OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"]:
    os.environ[name] = "1"

import json
import sys
import time

import numpy as np

PI = np.pi
inf = np.inf


def array(rows):
    a = np.array(rows, dtype=float)
    return np.where(np.isnan(a), inf, a)


def load(path):
    told = json.load(open(path))
    batch = {k: array([d[k] for d in told["inputs"]]) for k in told["inputs"][0]}
    common = {k: np.array(v) for k, v in told["common"].items()}
    results = {k: array([r[k] for r in told["results"]]) for k in told["results"][0]}
    return told["us"], common, batch, results


class Zones:
    """Columns of the zones chosen, as wings x zones."""

    NAMES = (
        "length arc radius s lever core hot a11 a12 a22 a66 a16 a26 d11 d12 d22 d66 ez gz gmin taumin ex "
        "t0 et strength fasten ot oe oc ost osc osg it ie ic ist isc isg factor"
    ).split()

    def __init__(self, z, pick):
        for i, n in enumerate(self.NAMES):
            setattr(self, n, z[:, pick, i])


def over(allowed, applied):
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(applied > 0, allowed / np.where(applied > 0, applied, 1), inf)


def resistance(z, al2, be2, thick):
    """Flat panel with core shear; the thin limit where the core is infinitely stiff in shear."""
    s = np.where(thick, z[4], 1.0)
    d11, d12, d22, d66 = z[:4]
    h11, h22 = d11 * al2 + d66 * be2 + s, d22 * be2 + d66 * al2 + s
    mixed = d12 + d66
    det = h11 * h22 - mixed * mixed * al2 * be2
    soft = s * (al2 + be2) - s * s * (h22 * al2 - 2 * mixed * al2 * be2 + h11 * be2) / det
    thin = d11 * al2 * al2 + 2 * (d12 + 2 * d66) * al2 * be2 + d22 * be2 * be2
    return np.where(thick, soft, thin)


def compression(z, s, curved):
    """Least load over half-waves; every panel of every wing at once, half-waves along as the last axis."""
    most = np.minimum(4 * z.length / z.arc + 10, 80).astype(int)
    m = np.arange(1, most.max() + 1)
    al2 = (m * m) * ((PI / z.length) ** 2)[..., None]
    allowed = m <= most[..., None]
    cols = [c[..., None] for c in (z.d11, z.d12, z.d22, z.d66, s)]
    thick = (np.isfinite(s) & (s > 0))[..., None]
    least = np.full(z.length.shape, inf)
    if curved:
        full = np.zeros(z.length.shape + (3, 3))
        for (i, j), v in {(0, 0): z.a11, (0, 1): z.a12, (1, 1): z.a22, (2, 2): z.a66, (0, 2): z.a16, (1, 2): z.a26}.items():
            full[..., i, j] = full[..., j, i] = v
        c = np.linalg.inv(full)
        c0, c1, c2 = (v[..., None] for v in (c[..., 1, 1], 2 * c[..., 0, 1] + c[..., 2, 2], c[..., 0, 0]))
        r2 = np.where(np.isfinite(z.radius), z.radius, 1e150)[..., None] ** 2
    for n in range(1, 7 if curved else 2):
        be2 = ((n * n) * (PI / z.arc) ** 2)[..., None]
        flat = resistance(cols, al2, be2, thick) / al2
        load = flat
        if curved:
            load = flat + al2 * al2 / r2 / (c0 * al2 * al2 + c1 * al2 * be2 + c2 * be2 * be2) / al2
        least = np.minimum(least, np.where(allowed, load, inf).min(-1))
        if (np.where(allowed, flat, inf).min(-1) >= least).all():
            break
    return least


def shear(z, s):
    wide = z.length >= z.arc
    b = np.where(wide, z.arc, z.length)
    along, across = np.where(wide, z.d11, z.d22), np.where(wide, z.d22, z.d11)
    mixed = z.d12 + 2 * z.d66
    be = np.sqrt(along * across) / mixed
    stiff = 4 / b**2 * (along * across**3) ** 0.25 * (8.125 + 5.045 / be)
    soft = 4 / b**2 * np.sqrt(across * mixed) * (11.7 + 0.532 * be + 0.938 * be * be)
    bend = np.where(be >= 1, stiff, soft)
    core = np.where(np.isfinite(s), s, 1.0)
    return np.where(np.isfinite(s) & (s > 0), bend * core / (bend + core), bend)


def buckling(z, strain, flow):
    """Strain and flow by case; the worst case rules."""
    s = z.s * z.hot
    flat = compression(z, s, False)
    n = flat
    if np.isfinite(z.radius).any():
        curved = compression(z, s, True)
        thickness = 3.4689 * (z.d11 * z.d22 / np.maximum(z.a11 * z.a22, 1e-9)) ** 0.25
        phi = np.sqrt(np.clip(z.radius / np.maximum(thickness, 1e-9), 0, 1500)) / 16
        knock = 1 - 0.901 * (1 - np.exp(-phi))
        knock = np.where(z.radius > 1500 * np.maximum(thickness, 1e-9), 0, knock)
        full = np.where(curved < 2 * flat, np.sqrt(np.maximum(4 * flat * (curved - flat), 0)), curved)
        part = knock * full
        built = np.where(part < 2 * flat, flat + part**2 / (4 * flat), part)
        n = np.where(np.isfinite(z.radius) & (curved > flat), built, flat)
    nx = strain * (z.a11 * z.factor)[:, None]
    q = flow * z.factor[:, None]
    rc, rs = nx / np.maximum(n, 1e-9)[:, None], q / np.maximum(shear(z, s), 1e-9)[:, None]
    bottom = (rc + np.sqrt(rc * rc + 4 * rs * rs)).max(1)
    rf = np.where(bottom > 0, 2 / np.where(bottom > 0, bottom, 1), inf)
    return rf


def least_of_faces(z, outer, inner):
    return np.minimum(np.where(z.ot > 0, outer, inf), np.where(z.it > 0, inner, inf))


def bend(y, top, inner, own_out):
    """Rates at the two ends of each bay: load over stiffness, each bay with its own stiffness at its outer end."""
    nxt = np.where(own_out[:, :-1] > 0, own_out[:, :-1], inner[:, 1:])
    safe = lambda k: np.where(k > 0, k, inf)
    return top[:, :, :-1] / safe(inner[:, None, :-1]), top[:, :, 1:] / safe(nxt)[:, None, :]


def margins(common, b):
    z, kinds = b["zones"], common["zones"]
    ult, ut, uc, lt, lc, bond, glue, half, tip, twist = (b["scalars"][:, i] for i in range(10))
    sec = b["sections"]
    ei, eio, gj, gjo, uf, lf, eiz, cap, nose_edge, nflow, aflow, nshear, ashear, axis, axis_out, nose_mean, aft_mean = (sec[:, :, i] for i in range(17))
    bays = b["mids"].shape[1]
    m, t, v = b["moment"][:, :, :bays], b["torque"][:, :, :bays], b["shear"][:, :, :bays]
    up, down = np.maximum(m.max(1), 0), np.minimum(m.min(1), 0)
    nose_pa, aft_pa = np.abs(b["nose"]).max(1)[:, :bays], np.abs(b["aft"]).max(1)[:, :bays]
    s = slice(0, bays)
    out = {}
    around = lambda per_v, per_t: np.abs(v * per_v[:, None, s] + t * per_t[:, None, s]).max(1)
    nose_flow, aft_flow = around(nshear, nflow), around(ashear, aflow)
    u1 = ult[:, None]
    stiff = np.maximum(ei[:, s], 1e-9)
    bent = lambda moment, fibre: np.abs(moment) * u1 * fibre[:, s] / stiff
    out["cap_tension"] = np.minimum(over(lt[:, None], bent(up, lf)), over(ut[:, None], bent(down, uf)))
    out["cap_compression"] = np.minimum(over(uc[:, None], bent(up, uf)), over(lc[:, None], bent(down, lf)))
    out["nose_seam_bond"] = over(glue[:, None], nose_flow * u1 / np.maximum(bond, 1e-6)[:, None])
    # Zones.
    bay, upper, strip, kind, foam, covered = kinds.T
    rigid = kind != 3
    # Compressive strain by case and zone: of bending beside the spar; of bending in plane, mean of the strip and at the leading edge.
    bent_all = m[:, :, bay] * (np.where(upper == 1, uf[:, s][:, bay], -lf[:, s][:, bay]) / stiff[:, bay])[:, None]
    back = b["inplane"][:, :, :bays] / np.maximum(eiz[:, None, s], 1e-9)
    at_mean = np.where(strip == 0, -nose_mean[:, s][:, bay], aft_mean[:, s][:, bay])
    mean_all = np.maximum(back[:, :, bay] * at_mean[:, None], 0)
    edge_all = back[:, :, bay] * np.where(strip == 0, -nose_edge[:, s][:, bay], 0)[:, None]
    strain_all = np.maximum(np.maximum(bent_all + mean_all, edge_all).max(1), 0)
    along_nose, along_aft = (np.abs(v * pv[:, None, s] + t * pt[:, None, s]) for pv, pt in ((nshear, nflow), (ashear, aflow)))
    flow_all = np.where(strip == 0, nose_flow[:, bay], aft_flow[:, bay])
    press_all = np.where(strip == 0, nose_pa[:, bay], aft_pa[:, bay])

    def chosen(mask):
        i = np.flatnonzero(mask)
        return i, Zones(z, i)

    i, k = chosen(rigid & (strip == 0))
    limit = least_of_faces(k, k.osg, k.isg)
    allowed = np.where(np.isfinite(limit), k.a66 * np.where(np.isfinite(limit), limit, 0), 0)
    out["nose_shear"] = over(allowed, flow_all[:, i] * u1)
    mid = b["mids"]
    share_nose = np.clip(1.07 * mid[..., 0] / np.maximum(mid[..., 1] * mid[..., 2] * mid[..., 3], 1e-9), 0.5, 1)
    share_aft = np.minimum(1.024 * (1 + mid[..., 4] / np.maximum(mid[..., 1], 1e-6)) / 2, 1)
    judged = z[0, :, -1] > 0
    for name, where, share in [("nose_buckling", strip == 0, share_nose), ("aft_buckling", strip == 1, share_aft)]:
        i, k = chosen(rigid & where & judged)
        flows = (along_nose if name == "nose_buckling" else along_aft)[:, :, bay[i]]
        out[name] = buckling(k, np.maximum(bent_all[:, :, i] * share[:, None, bay[i]] + mean_all[:, :, i], 0), flows)
    i, k = chosen(rigid & (strip < 2) & (foam == 1))
    strain = strain_all[:, i]
    core = k.ez * k.hot * k.gz * k.hot
    rfs = [np.where(h > 0, 0.5 * np.cbrt(e * core) / np.maximum(np.maximum(strain, 0) * e * u1, 1e-9), inf) for h, e in [(k.ot, k.oe), (k.it, k.ie)]]
    pressed = np.maximum(strain, 0) * u1 > 0
    out["face_wrinkling"] = np.where(pressed, np.minimum(*rfs), inf)
    out["unseen_dent"] = over(0.7 * least_of_faces(k, k.osc, k.isc), np.maximum(strain, 0))
    i, k = chosen((kind == 0) & (strip < 2) & (foam == 1))
    out["shear_crimping"] = over(k.gmin * k.hot * k.lever**2 / k.core, np.maximum(strain_all[:, i], 0) * k.a11 * u1)
    i, k = chosen((kind == 0) & (strip == 1) & (foam == 1))
    out["core_shear"] = over(k.taumin * k.hot, press_all[:, i] * np.minimum(k.length, k.arc) / 2 / np.maximum(k.lever, 1e-6) * u1)
    i, k = chosen(rigid & (strip == 1))
    span = np.minimum(k.length, k.arc)
    along = k.length <= k.arc
    oe, ie, d = np.where(along, k.oe, k.oc), np.where(along, k.ie, k.ic), np.maximum(np.where(along, k.d11, k.d22), 1e-12)
    sandwich = 1 / np.maximum(k.lever * np.minimum(oe * k.ot, ie * k.it), 1e-12)
    ec = k.ex * k.core
    one = (ec * (k.core + k.ot) / 2 / np.maximum(oe * k.ot + ec, 1e-9) + k.ot / 2) / d
    per = np.where(kind[i] == 0, sandwich, np.where(kind[i] == 1, one, k.ot / 2 / d))
    limit = least_of_faces(k, np.minimum(k.osc, k.ost), np.minimum(k.isc, k.ist))
    out["aft_pressure"] = over(np.where(np.isfinite(limit), limit, 0), press_all[:, i] * span * span / 8 * u1 * per)
    # Coverings.
    i, k = chosen(covered == 1)
    p = press_all[:, i]
    c = k.et * (p * u1) ** 2 * k.length**2 / 24
    t0 = np.maximum(k.t0, 0)
    pull = t0 + np.cbrt(c)
    for _ in range(60):
        step = (pull * pull * (pull - t0) - c) / (pull * (3 * pull - 2 * t0))
        pull = pull - step
        if (step <= 1e-12 * pull).all():
            break
    out["covering_tension"] = over(0.7 * k.strength, pull)
    out["covering_fastening"] = over(k.fasten, p * k.length * u1)
    # In-plane: every case and bay.
    mz = b["inplane"][:, :, :bays]
    u2 = u1[:, :, None]
    across = np.abs(mz) / np.maximum(eiz[:, None, s], 1e-9) * u2
    at_cap = across * cap[:, None, s]
    up_s, low_s = (np.abs(m) * f[:, None, s] / stiff[:, None] * u2 for f in (uf, lf))
    sign = m >= 0
    pick = lambda a, c: np.where(sign, a[:, None, None], c[:, None, None])
    skin = np.full((z.shape[0], bays), inf)
    for j in np.flatnonzero(strip == 0):
        k = Zones(z, [j])
        v = least_of_faces(k, np.minimum(k.osc, k.ost), np.minimum(k.isc, k.ist))[:, 0]
        skin[:, bay[j]] = np.minimum(skin[:, bay[j]], v)
    corners = [(up_s + at_cap, pick(uc, ut)), (at_cap - up_s, pick(ut, uc)), (low_s + at_cap, pick(lt, lc)), (at_cap - low_s, pick(lc, lt)), (across * nose_edge[:, None, s], skin[:, None, :])]
    out["inplane_bending"] = 1 / np.maximum(np.max([(a / l).max(1) for a, l in corners], axis=0), 1e-300)
    # Whole wing.
    dx = np.diff(b["y"], axis=1)[:, None, :]
    k0, k1 = bend(b["y"], b["moment"], ei, eio)
    slope = np.cumsum((k0 + k1) * dx / 2, axis=2)
    before = np.concatenate([np.zeros_like(slope[:, :, :1]), slope[:, :, :-1]], axis=2)
    z_tip = np.abs((before * dx + (2 * k0 + k1) * dx * dx / 6).sum(2)).max(1)
    out["tip_deflection"] = over(tip * half, z_tip)[:, None]
    y = b["y"]
    own = gjo[:, :-1] > 0
    g0, g1 = gj[:, :-1], np.where(own, gjo[:, :-1], gj[:, 1:])
    x0, x1 = axis[:, :-1], np.where(own, axis_out[:, :-1], axis[:, 1:])
    inverse = lambda g: np.where(g > 0, 1 / np.where(g > 0, g, 1), 0)
    half = 0.5 * (np.cbrt(np.maximum(g0, 0)) + np.cbrt(np.maximum(g1, 0)))
    gm = np.where((g0 > 0) & (g1 > 0), inverse(half**3), 0.5 * (inverse(g0) + inverse(g1)))
    wide = np.maximum(np.diff(y, axis=1), 1e-9)
    first = np.minimum(np.arange(bays), max(bays - 2, 0))
    wa, wb = wide[:, first], wide[:, np.minimum(first + 1, bays - 1)]
    w3 = (1 / (wa * (wa + wb)), -1 / (wa * wb), 1 / (wb * (wa + wb)))

    def three(v):
        bent = sum(w[:, None, :] * v[:, :, first + k] for k, w in enumerate(w3)) if bays > 1 else 0
        return v[:, :, :-1], 0.5 * (v[:, :, :-1] + v[:, :, 1:]) - 0.25 * bent * wide[:, None, :] ** 2, v[:, :, 1:]

    (t0, tm, t1), (v0, vm, v1) = three(b["torque"]), three(b["shear"])
    at = lambda x: x[:, None, :]
    turns = (t0 + v0 * at(x0)) * at(inverse(g0)) + 4 * (tm + vm * at(0.5 * (x0 + x1))) * at(gm) + (t1 + v1 * at(x1)) * at(inverse(g1))
    turned = np.abs((turns * at(wide) / 6).sum(2))
    out["twist"] = over(twist, np.where(common["twists"] == 1, turned, 0).max(1))[:, None]
    return out


def seconds(f, least=0.5):
    f()
    times = []
    while sum(times) < least or len(times) < 5:
        began = time.perf_counter()
        f()
        times.append(time.perf_counter() - began)
    return float(np.median(times))


def main():
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    us, common, batch, results = load(sys.argv[1])
    with np.errstate(all="ignore"):
        mine = margins(common, batch)
        worst = 0.0
        for name, want in results.items():
            got = mine[name]
            if got.shape != want.shape:
                sys.exit(f"{name}: {got.shape} here, {want.shape} there")
            same = (got == want) | (np.abs(got - want) <= 1e-10 * np.abs(want))
            off = np.where(same | ~np.isfinite(want), 0, np.abs(got / want - 1)).max(initial=0)
            with_inf = (np.isinf(got) != np.isinf(want)).sum()
            tell = np.abs(got / want - 1)[np.isfinite(want) & np.isfinite(got)].max(initial=0)
            worst = max(worst, tell)
            print(f"{name:<20}{want.shape[1]:>5} reserves a wing, worst difference {tell:.1e}" + (f", OFF {off:.1e}" if off else "") + (f", {with_inf} infinite on one side" if with_inf else ""))
        if worst > 1e-10:
            sys.exit(f"not equal to ten digits: {worst:.1e}")
        wings = len(batch["y"])
        one = {k: v[:1] for k, v in batch.items()}
        alone = seconds(lambda: margins(common, one)) * 1e6
        best = (inf, 0)
        for many in [16, 64, 256, 1024]:
            big = {k: np.concatenate([v] * -(-many // wings))[:many] for k, v in batch.items()}
            t = seconds(lambda: margins(common, big)) * 1e6 / many
            print(f"batch of {many:>5}: {t:8.1f} us a wing, {t / us:6.2f} times the program's {us:.1f}")
            best = min(best, (t, many))
    print(f"best batch ({best[1]}): {best[0] / us:.2f} times; one by one: {alone:.1f} us, {alone / us:.1f} times")


if __name__ == "__main__":
    main()
