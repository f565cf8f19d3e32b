#!/usr/bin/env python3
"""Writes filled icons as DXF, each beside its SVG, for the test that compares the two.

    pip install ezdxf==1.4.5 svgpathtools==1.8.0
    python tests/recipes/corpus_dxf.py FOLDER_OF_ICONS OUT [ONE_IN]

Every line becomes a LINE, a round arc an ARC, a curve a SPLINE of degree 2 or 3, in no particular order:
nothing tells the reader which belong together. Icons are those of `.ci/run`: one `path` in a view box of
24 units, a unit being a pixel of 1/96 in.
"""

import re
import shutil
import sys
from pathlib import Path

import ezdxf
from svgpathtools import Arc, CubicBezier, Line, QuadraticBezier, parse_path

MM = 25.4 / 96


def place(point):
    """On the page with y up, in millimetres."""
    return (point.real * MM, (24 - point.imag) * MM)


def write(space, segment):
    if abs(segment.start - segment.end) < 1e-9 and isinstance(segment, Line):
        return
    if isinstance(segment, Line):
        space.add_line(place(segment.start), place(segment.end))
    elif isinstance(segment, Arc):
        if abs(segment.radius.real - segment.radius.imag) < 1e-9:
            ends = [-segment.theta, -(segment.theta + segment.delta)]
            if segment.delta > 0:
                ends.reverse()
            space.add_arc(place(segment.center), segment.radius.real * MM, *ends)
        else:
            for curve in segment.as_cubic_curves(4):
                write(space, curve)
    elif isinstance(segment, CubicBezier):
        points = [place(p) for p in (segment.start, segment.control1, segment.control2, segment.end)]
        space.add_open_spline(points, degree=3)
    elif isinstance(segment, QuadraticBezier):
        points = [place(p) for p in (segment.start, segment.control, segment.end)]
        space.add_open_spline(points, degree=2)


def main():
    icons, out = Path(sys.argv[1]), Path(sys.argv[2])
    one_in = int(sys.argv[3]) if len(sys.argv) > 3 else 10
    out.mkdir(parents=True, exist_ok=True)
    written = 0
    for file in sorted(icons.rglob("*.svg"))[::one_in]:
        paths = re.findall(r'<path[^>]*?\sd="([^"]+)"', file.read_text())
        if len(paths) != 1:
            continue
        doc = ezdxf.new("R2000", units=4)
        space = doc.modelspace()
        for subpath in parse_path(paths[0]).continuous_subpaths():
            for segment in subpath:
                write(space, segment)
            # What SVG fills is closed, whether it says so or not.
            if abs(subpath[0].start - subpath[-1].end) > 1e-9:
                write(space, Line(subpath[-1].end, subpath[0].start))
        doc.saveas(out / f"{file.stem}.dxf")
        shutil.copy(file, out / file.name)
        written += 1
    print(f"{written} icons written to {out}")


if __name__ == "__main__":
    main()
