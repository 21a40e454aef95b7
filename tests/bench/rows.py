"""Lift of a flat trapezoid by many chordwise rows of horseshoe vortices: slope, centroid, aerodynamic centre.

    pip install numpy; python3 tests/bench/rows.py

What tests/published/rows.rs holds the program's one row to. Nothing is taken from the program: rows and strips are laid anew and
solved as one dense system, the answer extrapolated over strips and over rows (second order each).
"""

import numpy as np


def upwash(x, y, x1, y1, x2, y2):
    """Of a horseshoe of unit circulation, law of Biot and Savart."""
    dx1, dy1, dx2, dy2 = x - x1, y - y1, x - x2, y - y2
    r1, r2 = np.hypot(dx1, dy1), np.hypot(dx2, dy2)
    area = dx1 * dy2 - dy1 * dx2
    with np.errstate(all="ignore"):
        bound = ((x2 - x1) * (dx1 / r1 - dx2 / r2) + (y2 - y1) * (dy1 / r1 - dy2 / r2)) / area
    bound = np.where(abs(area) < 1e-14, 0.0, bound)
    return (bound - (1 + dx1 / r1) / dy1 + (1 + dx2 / r2) / dy2) / (4 * np.pi)


def wing(aspect, taper, sweep_deg, strips, rows):
    """Half span 1: slope per rad, centroid over the half span, centre behind the quarter chord of the mean chord over that chord."""
    area = 4 / aspect
    root = area / (1 + taper)
    tan = np.tan(np.radians(sweep_deg))
    chord = lambda y: root * (1 - (1 - taper) * y)
    nose = lambda y: 0.25 * root + tan * y - 0.25 * chord(y)
    width = 1 / (strips + 0.25)
    edge = np.arange(strips + 1) * width
    mid = 0.5 * (edge[1:] + edge[:-1])
    i, k = [a.ravel() for a in np.meshgrid(np.arange(strips), np.arange(rows), indexing="ij")]
    y1, y2 = edge[i], edge[i + 1]
    x1, x2 = (nose(y) + (k + 0.25) / rows * chord(y) for y in (y1, y2))
    px, py = nose(mid[i]) + (k + 0.75) / rows * chord(mid[i]), mid[i]
    x, y = px[:, None], py[:, None]
    lines = upwash(x, y, x1, y1, x2, y2) + upwash(x, y, x2, -y2, x1, -y1)
    gamma = np.linalg.solve(lines, -np.ones(len(px)))
    mac = 2 / 3 * root * (1 + taper + taper**2) / (1 + taper)
    at = (1 + 2 * taper) / (3 * (1 + taper))
    centre = (gamma * 0.5 * (x1 + x2)).sum() / gamma.sum()
    return np.array([
        4 * gamma.sum() * width / area,
        (gamma * py).sum() / gamma.sum(),
        (centre - nose(at) - 0.25 * mac) / mac,
    ])


def many(aspect, taper, sweep_deg):
    def fine(rows):
        a, b = (wing(aspect, taper, sweep_deg, strips, rows) for strips in (15, 30))
        return b + (b - a) / 3

    a, b = fine(4), fine(8)
    return b + (b - a) / 3


if __name__ == "__main__":
    print("at 30 degrees, taper 0.4, aspect 12 the reference has 4.676 and 0.4424:", many(12, 0.4, 30))
    print("aspect taper sweep   slope centroid centre   one row, 24 strips: slope and centroid over many, centre less")
    for aspect in (5, 12, 30):
        for taper in (0.15, 0.3, 1.0):
            for sweep in (-40, -30, 0, 30, 40):
                m, one = many(aspect, taper, sweep), wing(aspect, taper, sweep, 24, 1)
                off = (*(one[:2] / m[:2] - 1), one[2] - m[2])
                print(f"{aspect:5} {taper:5} {sweep:5}   {m[0]:.4f} {m[1]:.5f} {m[2]:+.4f}   {off[0]:+.4f} {off[1]:+.4f} {off[2]:+.4f}")
