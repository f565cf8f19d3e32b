#!/usr/bin/env python3
"""Checks the SVG and DXF that `spelk export` writes with general libraries.

Wants svgpathtools and ezdxf. Run from the project's root:

    python tests/recipes/written_outlines.py PROGRAM DRAWING.svg...

Each drawing is written at 0.7 times and at 2.5 times its size, as SVG and as DXF, and read back by
svgpathtools and by ezdxf, which share nothing with the program. Checked: area and outline length, element
by element, of one against the other and of each size against the other (areas go with the square of the
size, lengths with it); that DXF holds closed polylines in millimetres, in a file that ezdxf's own audit
passes; and, for a drawing of known shapes, the closed forms.
"""

import math
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as xml
from pathlib import Path

import ezdxf
import svgpathtools

SVG = "{http://www.w3.org/2000/svg}"

# A disc of 20 mm with a hole of 8 mm, and a bar of 60 x 10 mm.
KNOWN = """<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="60mm" viewBox="0 0 120 60">
<path id="washer" fill-rule="evenodd" d="M5 30a20 20 0 1 0 40 0a20 20 0 1 0 -40 0zM17 30a8 8 0 1 0 16 0a8 8 0 1 0 -16 0z"/>
<path id="bar" d="M52 25H112V35H52Z"/></svg>"""
KNOWN_SHAPES = {
    "washer": (math.pi * (20**2 - 8**2), 2 * math.pi * (20 + 8)),
    "bar": (600.0, 140.0),
}


def measured(rings):
    """Area by the even-odd rule of rings that nest and never cross, and the length of them all."""
    total, length = 0.0, 0.0
    for ring in rings:
        total += sum(a.real * b.imag - b.real * a.imag for a, b in zip(ring, ring[1:] + ring[:1])) / 2
        length += sum(abs(b - a) for a, b in zip(ring, ring[1:] + ring[:1]))
    return abs(total), length


def of_svg(path):
    root = xml.parse(path).getroot()
    across, box = root.get("width"), root.get("viewBox").split()
    assert across == f"{box[2]}mm", "the user unit is the millimetre"
    elements = {}
    for element in root.iter(f"{SVG}path"):
        rings = []
        for part in svgpathtools.parse_path(element.get("d")).continuous_subpaths():
            assert part.isclosed(), element.get("id")
            rings.append([segment.start for segment in part])
        elements[element.get("id")] = measured(rings)
    return elements


def of_dxf(path):
    document = ezdxf.readfile(path)
    audit = document.audit()
    assert not audit.has_errors, audit.errors
    assert document.header["$INSUNITS"] == 4, "millimetres"
    elements = {}
    for entity in document.modelspace():
        assert entity.dxftype() == "POLYLINE" and entity.is_closed, entity
        ring = [complex(vertex.dxf.location.x, vertex.dxf.location.y) for vertex in entity.vertices]
        elements.setdefault(entity.dxf.layer, []).append(ring)
    assert {layer.dxf.name for layer in document.layers} >= set(elements)
    return {layer: measured(rings) for layer, rings in elements.items()}


def close(one, other, within, what):
    assert abs(one - other) <= within * max(abs(one), abs(other), 1e-9), f"{what}: {one} and {other}"
    return abs(one - other) / max(abs(one), abs(other), 1e-9)


def layer(name):
    return "".join(c if c.isascii() and (c.isalnum() or c in "-_$") else "_" for c in name)[:31]


def main():
    program, drawings = sys.argv[1], [Path(name) for name in sys.argv[2:]]
    with tempfile.TemporaryDirectory() as folder:
        known = Path(folder) / "known.svg"
        known.write_text(KNOWN)
        elements, worst, worst_known = 0, 0.0, 0.0
        for drawing in [known, *drawings]:
            sized = {}
            for factor in (0.7, 2.5):
                files = [Path(folder) / f"out.{ending}" for ending in ("svg", "dxf")]
                for file in files:
                    subprocess.run(
                        [program, "export", drawing, "--factor", str(factor), "-o", file, "--force"],
                        check=True,
                        capture_output=True,
                    )
                svg, dxf = of_svg(files[0]), of_dxf(files[1])
                assert {layer(name) for name in svg} == set(dxf), (set(svg), set(dxf))
                for name, (area, length) in svg.items():
                    # Both round places to a ten-thousandth of a millimetre.
                    worst = max(worst, close(area, dxf[layer(name)][0], 1e-6, f"{drawing} {name}, area"))
                    worst = max(worst, close(length, dxf[layer(name)][1], 1e-6, f"{drawing} {name}, length"))
                    elements += 1
                    if drawing == known:
                        area_then, length_then = KNOWN_SHAPES[name]
                        for found, then in ((area, area_then * factor**2), (length, length_then * factor)):
                            # Curves stray from the true one by up to 0.005 mm as drawn.
                            worst_known = max(worst_known, close(found, then, 5e-4, f"{name}, closed form"))
                sized[factor] = svg
            for name, (area, length) in sized[0.7].items():
                close(area / 0.7**2, sized[2.5][name][0] / 2.5**2, 1e-4, f"{drawing} {name}, area by size")
                close(length / 0.7, sized[2.5][name][1] / 2.5, 1e-3, f"{drawing} {name}, length by size")
    print(
        f"{len(drawings) + 1} drawings at 2 sizes, {elements} elements: SVG and DXF differ by at most "
        f"{worst:.1e} of an area or length, known shapes from their closed forms by {worst_known:.1e}"
    )


if __name__ == "__main__":
    main()
