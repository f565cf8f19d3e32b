#!/usr/bin/env python3
"""Checks what `spelk arrange` lays with a general polygon library.

Wants shapely. Run from the project's root:

    python tests/recipes/arranged.py PROGRAM [JOBS]

Random outlines, boards, gaps, knots and turns, from a fixed seed: 100 jobs unless JOBS says otherwise. Each is
arranged by the program, and its JSON read back; shapely, which shares nothing with the program, then turns and moves
the outlines as drawn. Checked: no two are nearer than the gap; each lies on the board, off its ends and edges, and
clear of the knots; there are as many as the count says; and a second run gives the same bytes.
"""

import json
import math
import random
import subprocess
import sys
import tempfile
from pathlib import Path

from shapely import affinity
from shapely.geometry import LineString, MultiPoint, Point, Polygon, box

# What the program says it keeps to, in millimetres: a few hundredths of the gap's own rounding.
SLACK = 0.011


def outline(random):
    """A star, a block, an L or a leaf, in millimetres from its own corner."""
    kind = random.choice(["star", "block", "ell", "leaf"])
    if kind == "block":
        points = [(0, 0), (random.uniform(20, 90), 0)]
        points += [(points[1][0], random.uniform(15, 60))]
        points += [(0, points[2][1])]
    elif kind == "ell":
        across, up = random.uniform(40, 90), random.uniform(30, 60)
        thick = random.uniform(8, 15)
        points = [(0, 0), (across, 0), (across, thick), (thick, thick), (thick, up), (0, up)]
    else:
        corners = random.randint(5, 40) if kind == "leaf" else 2 * random.randint(3, 7)
        points = []
        for corner in range(corners):
            angle = 2 * math.pi * corner / corners
            if kind == "star":
                radius = 30 if corner % 2 else 30 * random.uniform(0.4, 0.8)
            else:
                radius = random.uniform(26, 32)
            points.append((radius * math.cos(angle), 0.7 * radius * math.sin(angle)))
    left, down = min(x for x, _ in points), min(y for _, y in points)
    return [(round(x - left, 3), round(y - down, 3)) for x, y in points]


def svg(points):
    across, up = max(x for x, _ in points), max(y for _, y in points)
    # An SVG's y runs down the page.
    path = "M" + "L".join(f"{x:.3f} {up - y:.3f}" for x, y in points) + "Z"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{across}mm" height="{up}mm" '
        f'viewBox="0 0 {across} {up}"><path id="panel" d="{path}"/></svg>'
    )


def laid(points, copy):
    """The outline where a copy lies."""
    turned = affinity.rotate(Polygon(points), copy["turn_deg"], origin=(0, 0))
    left, down, _, _ = turned.bounds
    return affinity.translate(turned, copy["x_mm"] - left, copy["y_mm"] - down)


def run(program, arguments):
    result = subprocess.run([program, *arguments], capture_output=True, text=True)
    assert result.returncode in (0, 1, 2), result.stderr
    return result


def job(program, folder, number):
    dice = random.Random(number)
    pieces = [outline(dice) for _ in range(dice.randint(1, 3))]
    files = []
    for index, points in enumerate(pieces):
        path = folder / f"piece-{number}-{index}.svg"
        path.write_text(svg(points))
        files.append(str(path))
    length, width = round(dice.uniform(250, 700), 1), round(dice.uniform(90, 200), 1)
    gap = round(dice.uniform(0, 12), 2)
    arguments = ["arrange", *files, "--board", f"{length}x{width}x19mm", "--gap", f"{gap}mm", "--json"]
    arguments += ["--treatment", "sunk", "--factor", "1", "--turns", dice.choice(["none", "half", "quarter"])]
    if dice.random() < 0.5:
        arguments += ["--count", ",".join(str(dice.randint(1, 9)) for _ in pieces)]
    forbidden = []
    for _ in range(dice.randint(0, 2)):
        x, y = round(dice.uniform(0, length), 1), round(dice.uniform(0, width), 1)
        if dice.random() < 0.5:
            across, clear = round(dice.uniform(2, 30), 1), round(dice.uniform(0.5, 5), 1)
            arguments += ["--blemish", f"knot:circle:{x},{y},{across}:{clear}"]
            forbidden.append(Point(x, y).buffer(across / 2 + clear, 256))
        else:
            to = (round(x + dice.uniform(-40, 40), 1), round(y + dice.uniform(-20, 20), 1))
            arguments += ["--blemish", f"split:line:{x},{y},{to[0]},{to[1]}:2"]
            forbidden.append(LineString([(x, y), to]).buffer(2, 256))
    result = run(program, arguments)
    if result.returncode == 2:
        # Nothing goes on: one line says why.
        assert len(result.stderr.strip().splitlines()) == 1, result.stderr
        return 0
    assert run(program, arguments).stdout == result.stdout, "the same job is arranged the same"
    said = json.loads(result.stdout)
    shapes = []
    for points, piece in zip(pieces, said["pieces"]):
        assert len(piece["copies"]) == piece["count"]
        shapes += [laid(points, copy) for copy in piece["copies"]]
    assert len(shapes) == said["count"]
    board = box(0, 0, length, width).buffer(SLACK, join_style="mitre")
    for index, shape in enumerate(shapes):
        assert board.contains(shape), f"job {number}: {index} lies off the board"
        for place in forbidden:
            overlap = shape.intersection(place).area
            assert overlap < 0.05, f"job {number}: {index} lies over a blemish by {overlap}"
        for other, beside in enumerate(shapes[:index]):
            apart = shape.distance(beside)
            assert apart >= gap - SLACK, f"job {number}: {other} and {index} are {apart} apart, not {gap}"
            if gap == 0:
                assert shape.intersection(beside).area < 0.05
    # What is taken of the board ends where the last piece does, and its own allowance begins.
    if shapes:
        end = MultiPoint([point for shape in shapes for point in shape.exterior.coords]).bounds[2]
        assert end <= said["used_length_mm"] + SLACK
    return len(shapes)


def main():
    program, jobs = sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 100
    with tempfile.TemporaryDirectory() as folder:
        counts = [job(program, Path(folder), number) for number in range(jobs)]
    assert sum(counts) > 3 * jobs, "hardly anything was laid"
    print(f"{jobs} jobs, {sum(counts)} pieces: none too near another, off the board or on a blemish")


main()
