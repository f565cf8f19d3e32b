"""The table of plate factors behind every wall's limit: src/proof/wall/plate.csv.

    python3 -m venv /tmp/plate && /tmp/plate/bin/pip install numpy scipy
    /tmp/plate/bin/python tests/recipes/plate.py > src/proof/wall/plate.csv        # about ten minutes

A wall is a thin orthotropic plate, clamped along its root (y = 0), free along its top (y = 1), pushed at its top
by P = 1. Its rigidities are taken over that of the upright direction: D_x along the wall, D_1 (the Poisson
effect), D_k (half the twist's). With X = x / beta and beta = D_x^(1/4) the energy keeps its form with D_x = 1,
D_1 / sqrt(D_x) and D_k / sqrt(D_x), so two numbers and the length over beta stand for every wood. The way back:

    k_root = k_root' / beta     k_end = beta k_end'     d = d' / beta

Elements: cubic Hermite polynomials in x times the same in y, so that the stiffness is a sum of Kronecker products
of one-dimensional matrices, integrated exactly. The bending moment at a clamped edge is that of the cubic in the
first cell, where the deflection and its slope start from nothing.

At a corner where a clamped root meets a free end thin plate theory has no greatest moment: it grows without end as
the mesh gets finer. What stands here is its mean over the first cell, a tenth of the height: about a wall's own
thickness, below which no plate is thin.

Columns: d1, dk and the length in that scale; then root and deflection of a wall free at both ends and pushed in its
middle, and of one pushed at an end; root, end at the top, the greatest end below it, and deflection of one joined at
one end and pushed at the other. A wall joined at both ends and pushed in its middle has moments that turn from one
side to the other as it grows longer, and the place of the greatest jumps; so it has all of them, with their signs,
at fixed places: along half its root from the middle outward, and up its end. Each changes smoothly from one node of
the table to the next, and the greatest is taken after interpolating.
"""
import csv
import sys

import numpy as np
from scipy.linalg import solveh_banded
from scipy.sparse import coo_matrix, kron

ROWS = 10
LONG = 12.0  # a longer wall does not feel its ends

LENGTHS = [0.2 * 2 ** (step / 4) for step in range(25)]
# Along half the root of a wall joined at both ends: shares of half its length.
PLACES = np.sin(np.arange(11) * np.pi / 22)
D1 = [0.05, 0.1, 0.15, 0.225, 0.325, 0.45, 0.6, 0.75]  # closer where the ends of a wall change most
DK = [0.05 * 2 ** (step * 2 / 3) for step in range(7)]

# Joined at the left end, joined at the right end, pushed at this share of the length from the middle.
CASES = {
    "free_middle": (False, False, 0.0),
    "free_end": (False, False, -0.5),
    "one_joined": (False, True, -0.5),
}


def hermite(h, t):
    """Values, slopes and curvatures of the four cubics of a cell, at t from 0 to 1."""
    one = np.ones_like(h * t)
    value = [1 - 3 * t**2 + 2 * t**3, h * (t - 2 * t**2 + t**3), 3 * t**2 - 2 * t**3, h * (t**3 - t**2)]
    slope = [(-6 * t + 6 * t**2) / h, 1 - 4 * t + 3 * t**2, (6 * t - 6 * t**2) / h, 3 * t**2 - 2 * t]
    curve = [(-6 + 12 * t) / h**2, (-4 + 6 * t) / h, (6 - 12 * t) / h**2, (6 * t - 2) / h]
    return [np.stack([part * one for part in parts]) for parts in (value, slope, curve)]


def line(points):
    """Integrals of value times value, slope times slope, curvature times curvature, curvature times value."""
    at, weight = np.polynomial.legendre.leggauss(4)
    at, weight = (at + 1) / 2, weight / 2
    steps = np.diff(points)[:, None]
    value, slope, curve = hermite(steps, at[None, :])  # cubic, cell, place
    cells = np.arange(len(steps))
    rows = (2 * cells[None, None, :] + np.arange(4)[:, None, None]) + np.zeros((1, 4, 1), int)
    size = 2 * len(points)

    def matrix(a, b):
        entries = np.einsum("icq,jcq,q,c->ijc", a, b, weight, steps[:, 0])
        return coo_matrix((entries.ravel(), (rows.ravel(), rows.transpose(1, 0, 2).ravel())), (size, size)).tocsr()

    return matrix(value, value), matrix(slope, slope), matrix(curve, curve), matrix(curve, value)


def columns(span, joined, load):
    finer = 1.4 if any(joined) else 1.0
    count = 2 * int(np.clip(span * ROWS * finer / 2, 6, 80))
    if any(joined):  # fine at the ends as well, where the moment is asked for
        return span / 2 * np.sin(np.linspace(-np.pi / 2, np.pi / 2, count + 1))
    if load == 0.0:
        half = np.linspace(0, 1, count // 2 + 1) ** 1.5 * span / 2
        return np.concatenate([-half[:0:-1], half])
    return np.linspace(0, 1, count + 1) ** 1.5 * span - span / 2


def solve(stiffness, kept, force):
    """What is kept of a symmetric matrix lies close to its diagonal."""
    new = np.cumsum(kept) - 1
    entries = stiffness.tocoo()
    wanted = kept[entries.row] & kept[entries.col] & (entries.row >= entries.col)
    row, column = new[entries.row[wanted]], new[entries.col[wanted]]
    band = np.zeros(((row - column).max() + 1, len(force)))
    np.add.at(band, (row - column, column), entries.data[wanted])
    return solveh_banded(band, force, lower=True)


def wall(d1, dk, length, left, right, load):
    span = min(length, LONG)
    xs = columns(span, (left, right), load)
    ys = np.linspace(0, 1, ROWS + 1)
    (x0, x1, x2, x20), (y0, y1, y2, y20) = line(xs), line(ys)
    cross = kron(x20, y20.T) + kron(x20.T, y20)
    stiffness = kron(x2, y0) + kron(x0, y2) + d1 * cross + 4 * dk * kron(x1, y1)
    # Degrees of freedom: x first, each point its value then its slope.
    in_x, in_y = np.ones(2 * len(xs), bool), np.ones(2 * len(ys), bool)
    in_y[:2] = False
    if left:
        in_x[:2] = False
    if right:
        in_x[-2:] = False
    kept = np.kron(in_x, in_y).astype(bool)
    force = np.zeros((2 * len(xs), 2 * len(ys)))
    under = int(np.argmin(np.abs(xs - load * span)))
    force[2 * under, -2] = 1
    u = np.zeros(force.size)
    u[kept] = solve(stiffness, kept, force.ravel()[kept])
    u = u.reshape(force.shape)

    def moments(value, slope, step, away):
        return 6 * value / step**2 - 2 * away * slope / step

    deflection = u[2 * under, -2]
    if left and right:
        at = span / 2 * PLACES
        cell = np.searchsorted(xs, at, side="right") - 1
        step = np.diff(xs)[cell]
        parts = hermite(step[None, :], ((at - xs[cell]) / step)[None, :])[0][:, 0, :]
        along = lambda column: sum(parts[i] * u[2 * cell + i, column] for i in range(4))
        root = moments(along(2), along(3), ys[1], 1)
        end = moments(u[2, 2::2], u[3, 2::2], xs[1] - xs[0], 1)
        return [*root, *end, deflection]
    root = np.abs(moments(u[::2, 2], u[::2, 3], ys[1], 1)).max()
    if not right:
        return [root, deflection]
    end = np.abs(moments(u[-4, ::2], u[-3, ::2], xs[-1] - xs[-2], -1))
    return [root, end[-1], end[:-1].max(), deflection]


if __name__ == "__main__":
    out = csv.writer(sys.stdout, lineterminator="\n")
    head = ["d1", "dk", "length"]
    for name, (_, right, _) in CASES.items():
        ends = [f"{name}_end_top", f"{name}_end_below"] if right else []
        head += [f"{name}_root", *ends, f"{name}_d"]
    head += [f"joined_root_{i}" for i in range(len(PLACES))]
    head += [f"joined_end_{i}" for i in range(1, ROWS + 1)] + ["joined_d"]
    out.writerow(head)
    for d1 in D1:
        for dk in DK:
            for length in LENGTHS:
                row = [d1, dk, length]
                for left, right, load in [*CASES.values(), (True, True, 0.0)]:
                    row += wall(d1, dk, length, left, right, load)
                out.writerow([f"{number:.5g}" for number in row])
            sys.stdout.flush()
