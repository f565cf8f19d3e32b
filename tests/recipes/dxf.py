#!/usr/bin/env python3
"""Writes the DXF drawings the tests read, and what a general library makes of them.

    python3 -m venv target/recipes && target/recipes/bin/pip install ezdxf==1.4.5
    target/recipes/bin/python tests/recipes/dxf.py

`ezdxf` writes the drawings, reads them back, takes copies apart, finds the loops and flattens them to a
millionth of a unit; areas (a loop inside a loop is a hole) and lengths come from those points. Nothing
here knows how Spelk reads a drawing. The files are committed with `expected.json`, so the tests need
neither Python nor the library.
"""

import json
import math
import random
from pathlib import Path

import ezdxf
from ezdxf import edgeminer, edgesmith
from ezdxf.math import Vec2, area, is_point_in_polygon_2d

FOLDER = Path(__file__).resolve().parent.parent / "data" / "dxf"
FINE = 1e-6
MM = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0}


def new(version="R2010", units=4):
    doc = ezdxf.new(version, units=units)
    doc.header["$INSUNITS"] = units
    return doc, doc.modelspace()


def write(doc, name):
    # Stamps and identities would change with every run.
    for variable in ("$TDCREATE", "$TDUCREATE", "$TDUPDATE", "$TDUUPDATE"):
        if variable in doc.header:
            doc.header[variable] = 2459000.0
    for variable in ("$FINGERPRINTGUID", "$VERSIONGUID"):
        if variable in doc.header:
            doc.header[variable] = "{00000000-0000-0000-0000-000000000000}"
    doc.saveas(FOLDER / name)
    prune(FOLDER / name)


def prune(path):
    """Drops the objects section and what else no reader of outlines looks at: the files stay small."""
    lines = path.read_text(encoding="utf-8").splitlines()
    pairs = list(zip(lines[::2], lines[1::2]))
    kept, section, dropped = [], "", ("OBJECTS", "CLASSES", "THUMBNAILIMAGE", "ACDSDATA")
    index = 0
    while index < len(pairs):
        code, value = pairs[index]
        if (code.strip(), value) == ("0", "SECTION"):
            section = pairs[index + 1][1]
        if section not in dropped:
            kept.append((code, value))
        if (code.strip(), value) == ("0", "ENDSEC"):
            section = ""
        index += 1
    kept = without_tables(kept)
    path.write_text("".join(f"{code}\n{value}\n" for code, value in kept), encoding="utf-8")


def without_tables(pairs):
    """Keeps the layers and the header's units; text styles, line types and the like say nothing here."""
    kept, table, header, variable = [], None, False, ""
    for index, (code, value) in enumerate(pairs):
        if code.strip() == "2" and pairs[index - 1][1] == "SECTION":
            header, variable = value == "HEADER", ""
        if header and code.strip() == "9":
            variable = value
        if (code.strip(), value) == ("0", "ENDSEC"):
            header = False
        if header and variable not in ("", "$ACADVER", "$INSUNITS", "$MEASUREMENT"):
            continue
        if (code.strip(), value) == ("0", "TABLE"):
            table = pairs[index + 1][1]
        if table in (None, "LAYER"):
            kept.append((code, value))
        if (code.strip(), value) == ("0", "ENDTAB"):
            table = None
    return kept


def flat(entity):
    """The points of an entity, to a millionth of a unit."""
    kind = entity.dxftype()
    if kind == "LINE":
        return [Vec2(entity.dxf.start), Vec2(entity.dxf.end)]
    if kind in ("LWPOLYLINE", "POLYLINE"):
        points = []
        for part in entity.virtual_entities():
            piece = flat(part)
            if points and not points[-1].isclose(piece[0], abs_tol=1e-6):
                piece.reverse()
            if len(points) > 0 and not points[-1].isclose(piece[0], abs_tol=1e-6):
                raise ValueError("a polyline out of order")
            points += piece if not points else piece[1:]
        return points
    return [Vec2(p) for p in entity.flattening(FINE)]


def hatch_loops(hatch):
    for path in hatch.paths:
        if path.type.name == "POLYLINE":
            points = [(x, y, bulge) for x, y, bulge in path.vertices]
            shape = ezdxf.new().modelspace().add_lwpolyline(points, format="xyb", close=True)
            yield flat(shape)
            continue
        points = []
        for edge in path.edges:
            kind = edge.type.name
            if kind == "LINE":
                piece = [edge.start, edge.end]
            elif kind == "SPLINE":
                piece = [Vec2(p) for p in edge.construction_tool().flattening(FINE)]
            else:
                piece = [Vec2(p) for p in edge.construction_tool().flattening(FINE)]
                if not edge.ccw:
                    piece.reverse()
            points += piece
        yield points


def loops_of(entities, gap):
    """Closed outlines of a layer, as points."""
    loops, edges = [], []
    for entity in entities:
        kind = entity.dxftype()
        if kind == "HATCH":
            loops += list(hatch_loops(entity))
        elif kind == "SOLID":
            corners = [Vec2(p) for p in entity.wcs_vertices()]
            loops.append(corners)
        elif kind in ("TEXT", "MTEXT", "POINT"):
            continue
        elif edgesmith.is_closed_entity(entity):
            loops.append(flat(entity))
        else:
            points = flat(entity)
            if points[0].isclose(points[-1], abs_tol=1e-9):
                loops.append(points)
            else:
                length = sum(a.distance(b) for a, b in zip(points, points[1:]))
                edges.append(edgeminer.make_edge(points[0], points[-1], length, payload=points))
    while edges:
        deposit = edgeminer.Deposit(edges, gap_tol=gap)
        loop = edgeminer.find_loop(deposit)
        if not loop:
            break
        points = []
        for edge in loop:
            points += reversed(edge.payload) if edge.is_reverse else edge.payload
        loops.append(points)
        used = {edge.id for edge in loop}
        edges = [edge for edge in edges if edge.id not in used]
    return loops


def measure(loops):
    """Area by the even-odd rule, for loops that do not cross, and their length."""
    total, length = 0.0, 0.0
    for index, loop in enumerate(loops):
        inside = (loop[0] + loop[1]) / 2
        depth = sum(
            is_point_in_polygon_2d(inside, other) > 0 for place, other in enumerate(loops) if place != index
        )
        total += (-1) ** depth * abs(area(loop))
        closed = loop + [loop[0]]
        length += sum(a.distance(b) for a, b in zip(closed, closed[1:]))
    return total, length


def written_out(entities, layer=None):
    """Copies taken apart; what a block has on layer 0 goes to the layer of its copy."""
    for entity in entities:
        if layer and entity.dxf.layer == "0":
            entity.dxf.layer = layer
        if entity.dxftype() == "INSERT":
            for single in entity.multi_insert() if entity.mcount > 1 else [entity]:
                yield from written_out(single.virtual_entities(), entity.dxf.layer)
        else:
            yield entity


def expected(name, unit, gap=1e-6):
    doc = ezdxf.readfile(FOLDER / name)
    layers = {}
    off = {layer.dxf.name for layer in doc.layers if layer.is_off() or layer.is_frozen()}
    for entity in written_out(doc.modelspace()):
        if entity.dxf.layer not in off and not entity.dxf.get("invisible", 0):
            layers.setdefault(entity.dxf.layer, []).append(entity)
    found = {}
    for layer, entities in sorted(layers.items()):
        loops = loops_of(entities, gap)
        if loops:
            surface, length = measure(loops)
            found[layer] = {"area_mm2": surface * unit * unit, "length_mm": length * unit}
    return {"file": name, "elements": found}


def shuffled(doc, entities):
    """Lines and arcs in another order and some of them the other way round."""
    random.Random(7).shuffle(entities)
    for turn, (kind, values) in enumerate(entities):
        if kind == "line":
            a, b = values
            doc.add_line(*((b, a) if turn % 2 else (a, b)))
        else:
            doc.add_arc(*values)


def rounded(x, y, w, h, r):
    return [
        ("line", ((x + r, y), (x + w - r, y))),
        ("line", ((x + w, y + r), (x + w, y + h - r))),
        ("line", ((x + w - r, y + h), (x + r, y + h))),
        ("line", ((x, y + h - r), (x, y + r))),
        ("arc", ((x + r, y + r), r, 180, 270)),
        ("arc", ((x + w - r, y + r), r, 270, 360)),
        ("arc", ((x + w - r, y + h - r), r, 0, 90)),
        ("arc", ((x + r, y + h - r), r, 90, 180)),
    ]


def main():
    FOLDER.mkdir(parents=True, exist_ok=True)
    results = []

    doc, space = new("R2000", 1)
    shuffled(space, rounded(1, 1, 10, 4, 0.75) + rounded(2, 2, 3, 2, 0.25))
    write(doc, "lines-inches.dxf")
    results.append(expected("lines-inches.dxf", 25.4, 1e-6))

    doc, space = new()
    plate = [(0, 0, 0.3), (80, 0, -0.2), (80, 40, 1), (40, 60, 0), (0, 40, -0.5)]
    space.add_lwpolyline(plate, format="xyb", close=True, dxfattribs={"layer": "plate"})
    hole = [(20, 10, 1), (30, 10, 1)]
    space.add_lwpolyline(hole, format="xyb", close=True, dxfattribs={"layer": "plate"})
    space.add_lwpolyline(hole, format="xyb", close=True, dxfattribs={"layer": "peg"}).translate(100, 10, 0)
    write(doc, "bulges.dxf")
    results.append(expected("bulges.dxf", 1.0))

    doc, space = new("R12", 0)
    points = [(0, 0, 0.0), (60, 0, 0.4), (60, 30, 0.0), (0, 30, -0.4)]
    space.add_polyline2d(points, format="xyb", close=True, dxfattribs={"layer": "OLD"})
    write(doc, "old-polyline.dxf")
    results.append(expected("old-polyline.dxf", 1.0))

    doc, space = new(units=5)
    space.add_circle((2, 2), 1.5, dxfattribs={"layer": "disc"})
    space.add_ellipse((8, 2), major_axis=(2, 1), ratio=0.4, dxfattribs={"layer": "oval"})
    space.add_ellipse((14, 2), (2, 0.5), 0.5, math.radians(20), math.radians(250), dxfattribs={"layer": "slice"})
    part = space[-1]
    space.add_line(part.start_point, part.end_point, dxfattribs={"layer": "slice"})
    space.add_arc((20, 2), 1.5, 30, 300, dxfattribs={"layer": "pie"})
    pie = space[-1]
    space.add_line((20, 2), pie.start_point, dxfattribs={"layer": "pie"})
    space.add_line(pie.end_point, (20, 2), dxfattribs={"layer": "pie"})
    write(doc, "round.dxf")
    results.append(expected("round.dxf", 10.0))

    doc, space = new()
    for degree in range(1, 6):
        x = 40 * degree
        fence = [(x, 0), (x + 5, 14), (x + 12, 3), (x + 18, 22), (x + 26, -4), (x + 30, 9), (x + 32, 0)]
        layer = {"layer": f"degree-{degree}"}
        spline = space.add_open_spline(fence, degree=degree, dxfattribs=layer)
        ends = spline.construction_tool().flattening(0.1)
        ends = list(ends)
        space.add_lwpolyline([ends[-1], (x + 32, -20), (x, -20), ends[0]], dxfattribs=layer)
    s = math.sqrt(0.5)
    ring = [(10, 0), (10, 10), (0, 10), (-10, 10), (-10, 0), (-10, -10), (0, -10), (10, -10), (10, 0)]
    spline = space.add_rational_spline(
        [(x, y + 60, 0) for x, y in ring], [1, s, 1, s, 1, s, 1, s, 1], degree=2, dxfattribs={"layer": "rational"}
    )
    spline.knots = [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4]
    write(doc, "splines.dxf")
    results.append(expected("splines.dxf", 1.0))

    doc, space = new()
    hatch = space.add_hatch(dxfattribs={"layer": "leaf"})
    hatch.paths.add_polyline_path([(0, 0, 0.5), (40, 0, 0), (40, 30, -0.3), (0, 30, 0)], is_closed=True, flags=1)
    hatch.paths.add_polyline_path([(10, 10), (20, 10), (20, 20), (10, 20)], is_closed=True, flags=16)
    hatch = space.add_hatch(dxfattribs={"layer": "edges"})
    edges = hatch.paths.add_edge_path()
    edges.add_line((60, 0), (90, 0))
    edges.add_arc((90, 10), 10, 270, 90, ccw=True)
    edges.add_line((90, 20), (80, 20))
    # From 0 down to 180 degrees: the library wants the angles counter-clockwise.
    edges.add_arc((75, 20), 5, 180, 360, ccw=False)
    edges.add_line((70, 20), (60, 20))
    edges.add_ellipse((60, 10), (0, 10), 0.5, 0, 180, ccw=True)
    hatch = space.add_hatch(dxfattribs={"layer": "curved"})
    edges = hatch.paths.add_edge_path()
    edges.add_spline(
        control_points=[(110, 0), (115, 20), (125, -10), (130, 0)], degree=3, knot_values=[0, 0, 0, 0, 1, 1, 1, 1]
    )
    edges.add_line((130, 0), (130, -15))
    edges.add_line((130, -15), (110, -15))
    edges.add_line((110, -15), (110, 0))
    space.add_solid([(150, 0), (170, 0), (150, 10), (170, 12)], dxfattribs={"layer": "solid"})
    write(doc, "hatches.dxf")
    results.append(expected("hatches.dxf", 1.0))

    doc, space = new()
    leaf = doc.blocks.new("LEAF", base_point=(1, 1))
    leaf.add_lwpolyline([(1, 1, 0.25), (9, 1, 0.25)], format="xyb", close=True)
    leaf.add_circle((5, 1), 0.5)
    leaf.add_circle((12, 1), 1, dxfattribs={"layer": "berry"})
    twig = doc.blocks.new("TWIG")
    twig.add_blockref("LEAF", (0, 0), dxfattribs={"rotation": 40})
    twig.add_blockref("LEAF", (0, 0), dxfattribs={"rotation": -40, "yscale": -1.0, "xscale": 1.5})
    space.add_blockref("TWIG", (30, 30), dxfattribs={"layer": "twig", "xscale": 2, "yscale": 2, "rotation": 15})
    space.add_blockref("TWIG", (90, 30), dxfattribs={"layer": "squeezed", "xscale": -2, "yscale": 1})
    space.add_blockref(
        "LEAF",
        (0, 100),
        dxfattribs={"layer": "rows", "column_count": 4, "row_count": 3, "column_spacing": 20, "row_spacing": 10},
    )
    write(doc, "copies.dxf")
    results.append(expected("copies.dxf", 1.0))

    doc, space = new()
    behind = {"extrusion": (0, 0, -1)}
    space.add_lwpolyline(
        [(0, 0, 0.5), (30, 0, 0), (30, 20, 0.2), (0, 10, 0)],
        format="xyb",
        close=True,
        dxfattribs={"layer": "plate", **behind},
    )
    space.add_arc((-60, 10), 8, 20, 200, dxfattribs={"layer": "half", **behind})
    half = space[-1]
    space.add_line(half.start_point, half.end_point, dxfattribs={"layer": "half"})
    space.add_circle((-90, 10), 5, dxfattribs={"layer": "tilted", "extrusion": (0.6, 0, 0.8)})
    write(doc, "behind.dxf")
    results.append(expected("behind.dxf", 1.0))

    doc, space = new()
    doc.layers.add("shown")
    doc.layers.add("off").off()
    doc.layers.add("frozen").freeze()
    doc.layers.add("Blüte")
    for place, layer in enumerate(["shown", "off", "frozen", "Blüte"]):
        space.add_circle((30 * place, 0), 10, dxfattribs={"layer": layer})
    space.add_circle((200, 0), 10, dxfattribs={"layer": "shown", "invisible": 1})
    space.add_text("not read", dxfattribs={"layer": "shown"})
    space.add_point((0, 0))
    doc.layout("Layout1").add_circle((0, 0), 500, dxfattribs={"layer": "shown"})
    write(doc, "layers.dxf")
    results.append(expected("layers.dxf", 1.0))

    (FOLDER / "expected.json").write_text(
        json.dumps({"written_by": f"ezdxf {ezdxf.__version__}", "drawings": results}, indent=1, ensure_ascii=False)
        + "\n"
    )


if __name__ == "__main__":
    main()
