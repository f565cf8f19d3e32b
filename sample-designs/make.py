#!/usr/bin/env python3
"""Draws the sample designs: run `python3 sample-designs/make.py` from the project's root.

Everything is drawn here, from bars, arcs and smooth blobs; no font is used. Lengths are millimetres
with y up; the page's y axis is turned over when a file is written. Letters are a round hand of our own,
drawn as strokes with flared ends, so that no corner between two strokes is sharper than a cutter can
clear. Standard library only; same input, same bytes.
"""

import math
from pathlib import Path

HERE = Path(__file__).parent


# --- Outlines: a closed smooth path is a list of (kind, points); kinds are M, L, C, Z. ---------------


def spline(points, closed):
    """Cubic pieces through the points (Catmull-Rom, as Bezier curves)."""
    n = len(points)
    pieces = []
    for i in range(n if closed else n - 1):
        p0 = points[(i - 1) % n] if closed or i > 0 else points[i]
        p1, p2 = points[i], points[(i + 1) % n]
        p3 = points[(i + 2) % n] if closed or i + 2 < n else p2
        a = (p1[0] + (p2[0] - p0[0]) / 6, p1[1] + (p2[1] - p0[1]) / 6)
        b = (p2[0] - (p3[0] - p1[0]) / 6, p2[1] - (p3[1] - p1[1]) / 6)
        pieces.append((a, b, p2))
    return pieces


def at_spline(points, steps):
    """Points on the open spline through `points`, `steps` to a piece."""
    out = [points[0]]
    for (a, b, p), start in zip(spline(points, False), points):
        for k in range(1, steps + 1):
            t = k / steps
            u = 1 - t
            out.append(
                tuple(
                    u * u * u * start[i] + 3 * u * u * t * a[i] + 3 * u * t * t * b[i] + t * t * t * p[i]
                    for i in (0, 1)
                )
            )
    return out


class Outline:
    """One closed outline: a start and cubic pieces or lines."""

    def __init__(self, start, pieces):
        self.start, self.pieces = start, pieces

    def moved(self, f):
        return Outline(f(self.start), [tuple(f(p) for p in piece) for piece in self.pieces])

    def reversed(self):
        ends = [self.start] + [piece[-1] for piece in self.pieces]
        pieces = []
        for i in range(len(self.pieces) - 1, -1, -1):
            piece = self.pieces[i]
            pieces.append((piece[1], piece[0], ends[i]) if len(piece) == 3 else (ends[i],))
        return Outline(ends[-1], pieces)

    def path(self, height):
        def show(p):
            return f"{p[0]:.3f} {height - p[1]:.3f}"

        words = ["M" + show(self.start)]
        for piece in self.pieces:
            words.append(("C" if len(piece) == 3 else "L") + " ".join(show(p) for p in piece))
        return "".join(words) + "Z"


def anticlockwise(points):
    turn = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1]))
    return points if turn > 0 else points[::-1]


def blob(points):
    """A smooth closed outline through the points."""
    points = anticlockwise(points)
    return [Outline(points[0], spline(points, True))]


def polygon(points):
    points = anticlockwise(points)
    return [Outline(points[0], [(p,) for p in points[1:]])]


def ellipse(cx, cy, rx, ry=None):
    """Four cubic quarters; off a true ellipse by under 3 parts in 10,000 of its radius."""
    ry = rx if ry is None else ry
    k = 0.5522847498
    p = lambda x, y: (cx + rx * x, cy + ry * y)
    return [
        Outline(
            p(1, 0),
            [
                (p(1, k), p(k, 1), p(0, 1)),
                (p(-k, 1), p(-1, k), p(-1, 0)),
                (p(-1, -k), p(-k, -1), p(0, -1)),
                (p(k, -1), p(1, -k), p(1, 0)),
            ],
        )
    ]


def panel(x0, y0, x1, y1, r, scooped=False):
    """A box with rounded corners, or with corners scooped inwards."""
    k = 0.5522847498 * r
    s = r - k
    if scooped:
        pieces = [
            ((x1 - r, y0),),
            ((x1 - r, y0 + k), (x1 - k, y0 + r), (x1, y0 + r)),
            ((x1, y1 - r),),
            ((x1 - k, y1 - r), (x1 - r, y1 - k), (x1 - r, y1)),
            ((x0 + r, y1),),
            ((x0 + r, y1 - k), (x0 + k, y1 - r), (x0, y1 - r)),
            ((x0, y0 + r),),
            ((x0 + k, y0 + r), (x0 + r, y0 + k), (x0 + r, y0)),
        ]
    else:
        pieces = [
            ((x1 - r, y0),),
            ((x1 - s, y0), (x1, y0 + s), (x1, y0 + r)),
            ((x1, y1 - r),),
            ((x1, y1 - s), (x1 - s, y1), (x1 - r, y1)),
            ((x0 + r, y1),),
            ((x0 + s, y1), (x0, y1 - s), (x0, y1 - r)),
            ((x0, y0 + r),),
            ((x0, y0 + s), (x0 + s, y0), (x0 + r, y0)),
        ]
    return [Outline((x0 + r, y0), pieces)]


def hole(outlines):
    return [o.reversed() for o in outlines]


def brush(points, widths, round_ends=False, steps=4):
    """A stroke along the spline through `points`, as wide at each as `widths` says."""
    if isinstance(widths, (int, float)):
        widths = [widths] * len(points)
    line = at_spline(points, steps)
    across = [w for w, _ in at_spline([(w, 0.0) for w in widths], steps)]
    left, right = [], []
    for i, (x, y) in enumerate(line):
        (ax, ay), (bx, by) = line[max(i - 1, 0)], line[min(i + 1, len(line) - 1)]
        length = math.hypot(bx - ax, by - ay) or 1.0
        nx, ny = -(by - ay) / length, (bx - ax) / length
        h = across[i] / 2
        left.append((x + nx * h, y + ny * h))
        right.append((x - nx * h, y - ny * h))

    def cap(a, b):
        """Half a round from a to b, anticlockwise about their middle."""
        if not round_ends:
            return [(b,)]
        mx, my = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
        ux, uy = a[0] - mx, a[1] - my
        vx, vy = -uy, ux
        k = 0.5522847498
        tip = (mx + vx, my + vy)
        return [
            ((a[0] + vx * k, a[1] + vy * k), (tip[0] + ux * k, tip[1] + uy * k), tip),
            ((tip[0] - ux * k, tip[1] - uy * k), (b[0] + vx * k, b[1] + vy * k), b),
        ]

    # Along the right side, round the far end, back along the left side: anticlockwise.
    pieces = spline(right, False) + cap(right[-1], left[-1])
    pieces += spline(left[::-1], False) + cap(left[0], right[0])
    return [Outline(right[0], pieces)]


def arc(cx, cy, rx, ry, from_deg, to_deg, n=9):
    out = []
    for i in range(n):
        a = math.radians(from_deg + (to_deg - from_deg) * i / (n - 1))
        out.append((cx + rx * math.cos(a), cy + ry * math.sin(a)))
    return out


def moved(outlines, dx=0.0, dy=0.0, scale=1.0, turn=0.0, mirror=False):
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    m = -1 if mirror else 1

    def f(p):
        x, y = p[0] * m * scale, p[1] * scale
        return (x * c - y * s + dx, x * s + y * c + dy)

    out = [o.moved(f) for o in outlines]
    return hole(out) if mirror else out


# --- Letters: 100 units high, stems 17, bars 13, flared ends. ----------------------------------------

STEM, BAR, FLARE = 17.0, 13.5, 1.38


def bar(a, b, w, flare_a=True, flare_b=True):
    """A straight stroke, wider towards the ends that show."""
    ts = [0, 0.08, 0.25, 0.5, 0.75, 0.92, 1]
    grow = [1, 0.55, 0.12, 0, 0.12, 0.55, 1]
    widths = []
    for t, g in zip(ts, grow):
        flared = flare_a if t < 0.5 else flare_b
        widths.append(w * (1 + (FLARE - 1) * g * (1 if flared else 0)))
    pts = [(a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t) for t in ts]
    return brush(pts, widths, steps=1)


def stem(x, y0=0.0, y1=100.0, **ends):
    return bar((x, y0), (x, y1), STEM, **ends)


def curved(points, start_flare=True, end_flare=True):
    """A round stroke: thick where it runs upright, thinner where it runs level."""
    n = len(points)
    widths = []
    for i in range(n):
        (ax, ay), (bx, by) = points[max(i - 1, 0)], points[min(i + 1, n - 1)]
        upright = abs(by - ay) / (math.hypot(bx - ax, by - ay) or 1)
        w = BAR + (STEM - BAR) * upright * upright
        if (i == 0 and start_flare) or (i == n - 1 and end_flare):
            w *= 1.3
        elif (i == 1 and start_flare) or (i == n - 2 and end_flare):
            w *= 1.1
        widths.append(w)
    return brush(points, widths, steps=3)


def arch(x0, x1, spring=58.0):
    """Two stems joined by a round top, feet flared."""
    cx, rx, ry = (x0 + x1) / 2, (x1 - x0) / 2, 100 - BAR / 2 - spring
    pts = [(x0, 0), (x0, 9), (x0, 28)] + arc(cx, spring, rx, ry, 180, 0, 11) + [(x1, 28), (x1, 9), (x1, 0)]
    return curved(pts)


def bowl(x, y0, y1, reach):
    """A half round on the right of a stem."""
    c, ry = (y0 + y1) / 2, (y1 - y0) / 2 - BAR / 2
    straight = reach - ry if reach > ry else reach * 0.35
    pts = [(x, c + ry)] + arc(x + straight, c, reach - straight, ry, 90, -90, 9) + [(x, c - ry)]
    return curved(pts, False, False)


def round_ring(cx, rx):
    outer, inner = ellipse(cx, 50, rx, 50), ellipse(cx, 50, rx - STEM, 50 - BAR)
    return outer + hole(inner)


def glyph(c):
    """Outlines and advance width of a letter, side space not included."""
    h = STEM / 2
    if c == "A":
        return arch(h, 72 - h, 60) + bar((h, 36), (72 - h, 36), BAR, False, False), 72
    if c == "D":
        return stem(h + 3) + bowl(h + 3, 0, 100, 58), 78
    if c == "E":
        ring = curved(arc(38, 50, 38 - h, 50 - BAR / 2, 42, 318, 15))
        return ring + bar((h, 50), (62, 50), BAR, False, True), 66
    if c == "G":
        ring = curved(arc(40, 50, 40 - h, 50 - BAR / 2, 44, 326, 15), True, False)
        spur = bar((68, 6), (68, 50), STEM, False, False)
        shelf = bar((46, 46), (76, 46), BAR, True, False)
        return ring + spur + shelf, 77
    if c == "H":
        return stem(h + 3) + stem(75 - h) + bar((h + 3, 51), (75 - h, 51), BAR, False, False), 78
    if c == "I":
        return stem(h + 3), 23
    if c == "L":
        return stem(h + 3) + bar((h + 3, BAR / 2), (58, BAR / 2), BAR, False, True), 58
    if c == "M":
        return arch(h + 2, 104 - h, 56) + stem(53, 0, 95, flare_b=False), 106
    if c == "N":
        return arch(h + 2, 74 - h, 56), 76
    if c == "O":
        return round_ring(42, 42), 84
    if c == "P":
        return stem(h + 3) + bowl(h + 3, 40, 100, 50), 68
    if c == "R":
        leg = bar((47, 44), (70, 0), STEM, False, True)
        return stem(h + 3) + bowl(h + 3, 42, 100, 50) + leg, 80
    if c == "S":
        pts = [(57, 82), (47, 91), (32, 93.2), (16, 87), (10.5, 73), (17, 60), (32, 52.5), (47, 45),
               (54, 29), (48, 13), (32, 6.8), (15, 9.5), (5, 19)]
        return curved(pts), 64
    if c == "T":
        return stem(38, flare_b=False) + bar((2, 100 - BAR / 2), (74, 100 - BAR / 2), BAR), 76
    if c == "Y":
        pts = [(h + 2, 100), (h + 2, 90), (h + 2, 78)] + arc(38, 72, 38 - h - 2, 28, 190, 350, 9)
        pts += [(74 - h, 78), (74 - h, 90), (74 - h, 100)]
        return curved(pts) + stem(38, 0, 46, flare_b=False), 76
    if c == "2":
        pts = [(8, 74), (13, 87), (29, 93), (46, 88), (52, 72), (46, 54), (32, 36), (20, 22), (16.5, 9)]
        return curved(pts, True, False) + bar((5, BAR / 2), (62, BAR / 2), BAR, False, True), 64
    if c == "7":
        pts = [(56.6, 92), (49.6, 74), (38.6, 48), (30, 24), (27, 0)]
        return bar((2, 100 - BAR / 2), (64, 100 - BAR / 2), BAR, True, False) + curved(pts, False, True), 66
    if c == " ":
        return [], 30
    raise ValueError(c)


def lettering(text, cap, cx, y, space=17.0):
    """A line of letters `cap` high, centred on cx, standing on y; returns outlines and width."""
    glyphs = [glyph(c) for c in text]
    total = sum(w for _, w in glyphs) + space * (len(glyphs) - 1)
    scale, x, out = cap / 100, -total / 2, []
    for outlines, width in glyphs:
        out += moved(outlines, cx + x * scale, y, scale)
        x += width + space
    return out, total * scale


# --- Ornament. ---------------------------------------------------------------------------------------


def frame(width, height, edge, r, scooped=False):
    inner = r if scooped else max(r - edge, 2.0)
    return panel(0, 0, width, height, r, scooped) + hole(
        panel(edge, edge, width - edge, height - edge, inner, scooped)
    )


def leaf(length, wide, tip=2.8):
    """A leaf along x from the origin, blunt at its end."""
    pts = [(0, 0), (length * 0.2, length * 0.02), (length * 0.5, length * 0.05), (length * 0.8, length * 0.03), (length, 0)]
    return brush(pts, [tip, wide * 0.75, wide, wide * 0.66, tip], round_ends=True)


def wave(x0, x1, y, rise, w, waves):
    n = waves * 8
    pts = [
        (x0 + (x1 - x0) * i / n, y + rise * math.sin(2 * math.pi * waves * i / n))
        for i in range(n + 1)
    ]
    return brush(pts, w, round_ends=True, steps=2)


def write(name, width, height, unit, title, elements):
    """Writes a file whose size is in `unit` (mm or in) and whose user unit is a millimetre."""
    show = lambda v: f"{v:g}mm" if unit == "mm" else f"{v / 25.4:g}in"
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{show(width)}" height="{show(height)}" '
        f'viewBox="0 0 {width:g} {height:g}">',
        f"  <title>{title}</title>",
    ]
    for element, tone, outlines in elements:
        d = "\n      ".join(o.path(height) for o in outlines)
        lines.append(f'  <g id="{element}" fill="{tone}" fill-rule="nonzero">')
        lines.append(f'    <path d="{d}"/>')
        lines.append("  </g>")
    lines.append("</svg>")
    (HERE / f"{name}.svg").write_text("\n".join(lines) + "\n", encoding="utf-8")


DARK, MID, LIGHT = "#4a3020", "#7a5534", "#b98d5c"


# --- The designs. ------------------------------------------------------------------------------------


def heron(x, y):
    """A heron fishing: about 90 wide and 118 high, feet on y. Its legs are 1.4 mm."""
    body = blob([(-22, 52), (-10, 60), (4, 66), (16, 68), (23, 62), (22, 53), (13, 46), (0, 43), (-13, 43), (-27, 40), (-33, 40), (-31, 45)])
    neck = brush(
        [(17, 58), (26, 66), (27, 76), (20, 86), (18, 96), (25, 104), (32, 105)],
        [15, 11, 8, 6.5, 6, 7.5, 7.5],
        round_ends=True,
    )
    beak = brush([(30, 105), (40, 103), (54, 98.5)], [7, 4.6, 2.8], round_ends=True)
    crest = brush([(30, 105.5), (20.5, 109.6), (8, 112.5)], [8.5, 6, 2.8], round_ends=True)
    legs = brush([(3, 47), (5, 30), (3.5, 17), (4, 0)], [4.2, 1.4, 1.4, 1.4], steps=3)
    legs += brush([(-8, 46), (-9, 31), (-13, 17), (-11, 0)], [4.2, 1.4, 1.4, 1.4], steps=3)
    return moved(body + neck + beak + crest + legs, x, y)


def rush(x, y, lean, tall, head=True):
    """A bulrush: a 1.3 mm stalk with a stout head."""
    pts = [(x, y - 3), (x + lean * 0.15, y + tall * 0.4), (x + lean * 0.6, y + tall * 0.8), (x + lean, y + tall)]
    out = brush(pts, 1.3, steps=3)
    if head:
        dx, dy = pts[3][0] - pts[2][0], pts[3][1] - pts[2][1]
        d = math.hypot(dx, dy)
        end = (pts[3][0] + dx / d * 20, pts[3][1] + dy / d * 20)
        out += brush([pts[3], end], 6.2, round_ends=True)
    return out


def inn_sign():
    w, h = 420.0, 184.0
    bank = blob([(27, 24.5), (50, 21.5), (90, 20.5), (130, 21.5), (152, 24), (154, 27.5), (141, 31), (112, 33.5), (76, 34), (44, 32.5), (27, 29.5)])
    reeds = rush(35, 31, -5, 66) + rush(44, 32, -1, 98)
    reeds += rush(113.5, 33, 0, 24) + rush(124.5, 33, 1, 56) + rush(134.5, 32, 5, 38)
    blades = brush([(145, 28), (149, 40), (156, 51)], [5, 4.8, 2.8], round_ends=True)
    blades += brush([(29, 27.5), (24.5, 42), (19.5, 56)], [5, 4.6, 2.8], round_ends=True)
    the, the_w = lettering("THE", 28, 284, 118)
    name, _ = lettering("REED INN", 40, 284, 57, 13)
    drops = []
    for side in (-1, 1):
        for i in range(3):
            drops += moved(ellipse(0, 0, 5.2 - i * 1.1), 284 + side * (the_w / 2 + 18 + i * 16), 132)
    swell = wave(188, 380, 33.5, 3.2, 4.8, 6)
    write("inn-sign", w, h, "mm", "The Reed Inn, harbour front", [
        ("border", MID, frame(w, h, 8, 17, True)),
        ("heron-and-reeds", DARK, heron(84, 32) + reeds + bank + blades),
        ("lettering", DARK, the + name),
        ("ornament", LIGHT, drops + swell),
    ])


def plank(w, h, inset, reach=52.0):
    """A board's outline with shaped ends that run out in a blunt nose."""
    lo, hi, mid = inset, h - inset, h / 2
    half = mid - inset
    side = [(reach, 0.0), (reach * 0.62, 0.06), (reach * 0.44, 0.24), (reach * 0.36, 0.44), (reach * 0.2, 0.62), (0.0, 0.8)]
    low = [(2.2 + inset * 1.15 + dx * (1 - inset / 90), lo + half * f) for dx, f in side]
    left = low + [(low[-1][0] - 2.2, mid)] + [(x, h - y) for x, y in low[::-1]]
    right = [(w - x, y) for x, y in left[::-1]]
    pieces = spline(left, False) + [((w - left[-1][0], hi),)] + spline(right, False)
    return hole([Outline(left[0], pieces)])


def nameboard():
    w, h = 508.0, 101.6
    name, _ = lettering("MARIGOLD", 47, w / 2, h / 2 - 23.5, 15)
    flowers = []
    for side in (-1, 1):
        x = w / 2 + side * 194
        for i in range(7):
            petal = brush([(8, 0), (12, 0), (16.6, 0)], [4.2, 5, 7], round_ends=True)
            flowers += moved(petal, x, h / 2, 1, 90 + 360 / 7 * i)
        flowers += ellipse(x, h / 2, 10.4) + hole(ellipse(x, h / 2, 5))
    write("boat-nameboard", w, h, "in", "Marigold, a boat's nameboard", [
        ("border", MID, plank(w, h, 0) + hole(plank(w, h, 7))),
        ("lettering", DARK, name),
        ("flowers", LIGHT, flowers),
    ])


def house_number():
    w, h = 200.0, 150.0
    cx, cy = w / 2, h / 2
    rim = ellipse(cx, cy, 100, 75) + hole(ellipse(cx, cy, 94, 69))
    rim += ellipse(cx, cy, 92, 67) + hole(ellipse(cx, cy, 88.4, 63.4))
    number, _ = lettering("27", 68, cx, 41, 16)
    leaves = []
    for mirror in (False, True):
        for up in (-1, 0, 1):
            x = (62 - abs(up) * 2) * (-1 if mirror else 1)
            blade = moved(leaf(15, 7.4), 0, 0, 1, 30 + up * 16)
            leaves += moved(blade, cx + x, cy - 5 + up * 17, 1, 0, mirror)
    write("house-number", w, h, "mm", "Number 27, Hithe Steps", [
        ("rim", MID, rim),
        ("number", DARK, number),
        ("leaves", LIGHT, leaves),
    ])


def bee(x, y, scale):
    """A bee from above, head up."""
    out = blob([(0, 18), (7.5, 15.5), (11, 8), (10, -1), (5, -6), (-5, -6), (-10, -1), (-11, 8), (-7.5, 15.5)])
    out += blob([(0, 0), (6.5, -7), (11.6, -14), (11.4, -23), (6, -33), (1.6, -38), (-1.6, -38), (-6, -33), (-11.4, -23), (-11.6, -14), (-6.5, -7)])
    for at, half in [(-13, 5.2), (-20.6, 5.6), (-28, 3.2)]:
        out += hole(brush([(-half, at + 1), (0, at - 0.6), (half, at + 1)], 3.6, round_ends=True))
    out += ellipse(0, 22, 6.4, 5.4)
    for mirror in (False, True):
        wing = blob([(4, 8), (16, 18), (28, 24), (36, 22.5), (37, 15), (29, 9.5), (16, 8.4), (4, 6)])
        wing += blob([(4, 5), (12, 3), (20, 0.6), (27, -2.4), (31, -7), (26.5, -11.5), (19, -9.6), (12, -5), (5, -2)])
        feeler = brush([(2.5, 24), (6, 32), (12, 36.5)], [3, 2.7, 2.7], round_ends=True)
        out += moved(wing + feeler, mirror=mirror)
    return moved(out, x, y, scale)


def beehive_plate():
    w, h = 254.0, 177.8
    cx, cy = 127.0, 111.0
    rays = []
    for i in range(24):
        long = 66 if i % 2 == 0 else 58
        rays += moved(polygon([(45, -4.6), (long, 0), (45, 4.6)]), cx, cy, 1, i * 15)
    rim = ellipse(cx, cy, 48.5) + hole(ellipse(cx, cy, 43.5))
    name, _ = lettering("HONEY", 23, cx, 14, 17)
    cells = []
    for mirror in (False, True):
        for row, count in enumerate((3, 2, 1)):
            for q in range(count):
                x, y = 16 + q * 21 + row * 10.5, 23.5 + row * 21 * math.sqrt(0.75)
                corner = lambda r, k: (x + r * math.sin(math.radians(60 * k)), y + r * math.cos(math.radians(60 * k)))
                cell = polygon([corner(10, k) for k in range(6)]) + hole(polygon([corner(6, k) for k in range(6)]))
                cells += moved(cell, w if mirror else 0, 0, 1, 0, mirror)
    write("beehive-plate", w, h, "in", "The bee and the sun, a hive's plate", [
        ("sun", LIGHT, rays + rim),
        ("bee", DARK, bee(cx, cy + 1, 0.92)),
        ("comb", MID, cells),
        ("lettering", DARK, name),
    ])


def puzzle():
    w, h = 300.0, 180.0
    tray = panel(0, 0, w, h, 16)
    hull = blob([(38.4, 58.6), (46, 55), (66, 51.5), (98, 50), (130, 51.5), (146, 57), (152.5, 60.4), (153.4, 56), (145, 43), (128, 31), (95, 27.5), (62, 30), (46, 40), (37.6, 54)])
    sail = blob([(97, 62), (100, 57.5), (122, 58.2), (144, 62.6), (149, 65.4), (149, 71), (139, 98), (119, 128), (104.5, 147), (100.6, 150.4), (97, 148), (96.2, 140), (96, 104)])
    jib = blob([(92.6, 62), (94.4, 100), (94.6, 122), (93.6, 128.6), (90, 130), (85.5, 126), (70, 103), (50, 71), (51, 65), (66, 60.5), (88, 58.5)])
    fish = blob([(0, 0), (10, 13), (28, 18), (46, 12), (56, 4.6), (66, 12), (75, 14), (70.5, 0), (75, -14), (66, -12), (56, -4.6), (46, -12), (28, -18), (10, -13)])
    fish += hole(ellipse(15, 4.5, 3.6))
    rays = [27 + 4.4 * math.cos(2 * math.pi * i / 8) for i in range(72)]
    sun = blob([(228 + r * math.cos(2 * math.pi * i / 72), 124 + r * math.sin(2 * math.pi * i / 72)) for i, r in enumerate(rays)])
    waves = wave(178, 276, 24, 3.4, 7, 3)
    cord = ellipse(20, 160, 5) + ellipse(280, 160, 5)
    write("puzzle", w, h, "mm", "A boat, a fish and the sun: a child's puzzle", [
        ("tray", LIGHT, tray),
        ("hull", DARK, hull),
        ("sail", MID, sail),
        ("jib", MID, jib),
        ("fish", DARK, moved(fish, 190, 60, 1, 8)),
        ("sun", MID, sun),
        ("sea", DARK, waves),
        ("cord-holes", "#ffffff", cord),
    ])


def goose(x, y, mirror=False):
    body = blob([(-34, 26), (-24, 33), (-8, 36), (8, 34), (20, 28), (25, 20), (20, 11), (6, 5), (-10, 6), (-22, 13), (-35, 18.5), (-41, 24), (-40, 29.5)])
    neck = brush([(13, 22), (22, 34), (23, 48), (21, 60), (27, 67)], [17, 11.5, 8.4, 8, 10], round_ends=True)
    beak = brush([(27, 67), (35, 66), (41, 63.5)], [9, 6.4, 4.4], round_ends=True)
    legs = brush([(-5, 8), (-5, -8)], [6.4, 5.2]) + brush([(-5, -9.6), (5.5, -9.6)], 5.4, round_ends=True)
    legs += brush([(9, 8), (10, -8)], [6.4, 5.2]) + brush([(10, -9.6), (21, -9.6)], 5.4, round_ends=True)
    return moved(body + neck + beak + legs, x, y, 0.8, 0, mirror)


def gate_sign():
    w, h = 400.0, 170.0
    first, _ = lettering("MIND THE", 43, w / 2, 104, 15)
    second, _ = lettering("GEESE", 52, w / 2, 30, 15)
    dots = []
    for side in (-1, 1):
        dots += ellipse(w / 2 + side * 168, 125.5, 6)
    write("gate-sign", w, h, "mm", "Mind the geese, a garden gate", [
        ("border", MID, frame(w, h, 8, 26)),
        ("lettering", DARK, first + second),
        ("geese", LIGHT, goose(62, 37) + goose(w - 62, 37, True)),
        ("ornament", MID, dots),
    ])


if __name__ == "__main__":
    inn_sign()
    nameboard()
    house_number()
    beehive_plate()
    puzzle()
    gate_sign()
