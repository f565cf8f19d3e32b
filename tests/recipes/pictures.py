"""Draws the pictures that the guide traces: a leaf, a badge of three colours, and a sheet with a square on it as a
camera sees it. The badge is also there as print shops send pictures, in CMYK.

    python3 tests/recipes/pictures.py

Needs Pillow. Each pixel is the mean of 16.
"""

from math import pi, sin
from pathlib import Path

from PIL import Image, ImageDraw

FOLDER = Path(__file__).parent.parent / "data" / "trace"
FINER = 4


def leaf():
    """A leaf of 600 x 400 pixels, its ribs cut out of it, and a stalk."""
    size = (600 * FINER, 400 * FINER)
    picture = Image.new("L", size, 244)
    draw = ImageDraw.Draw(picture)

    def points(shape):
        return [(x * FINER, y * FINER) for x, y in shape]

    def half(sign):
        steps = [k / 120 for k in range(121)]
        return [(90 + 420 * t, 200 - sign * 150 * sin(pi * t) ** 0.8) for t in steps]

    draw.polygon(points(half(1) + half(-1)[::-1]), fill=28)
    draw.polygon(points([(104, 196), (104, 204), (36, 208), (40, 192)]), fill=28)
    for k in range(5):
        x = 150 + 62 * k
        for sign in (1, -1):
            reach = 80 * sin(pi * (x - 90) / 420)
            rib = [(x, 200 - sign * 8), (x + 10, 200 - sign * 8), (x + 34 + 0.25 * reach, 200 - sign * reach)]
            draw.polygon(points(rib), fill=244)
    picture.resize((600, 400), Image.BOX).save(FOLDER / "leaf.png", optimize=True)


CREAM, GREEN, RUST, BLACK = (246, 240, 222), (40, 110, 60), (180, 70, 30), (30, 28, 26)


def badge():
    """A badge of 400 x 300 pixels, one pixel a millimetre: on cream a green disc of radius 120 in a black ring of
    radius 135, and in the disc a square of rust, 90 wide, with a square of cream in it, 30 wide."""
    picture = Image.new("RGB", (400 * FINER, 300 * FINER), CREAM)
    draw = ImageDraw.Draw(picture)

    def disc(radius, fill):
        box = [(200 - radius) * FINER, (150 - radius) * FINER, (200 + radius) * FINER, (150 + radius) * FINER]
        draw.ellipse(box, fill=fill)

    def square(half, fill):
        # Pillow draws the last pixel too.
        draw.rectangle(
            [(200 - half) * FINER, (150 - half) * FINER, (200 + half) * FINER - 1, (150 + half) * FINER - 1], fill=fill
        )

    disc(135, BLACK)
    disc(120, GREEN)
    square(45, RUST)
    square(15, CREAM)
    small = picture.resize((400, 300), Image.BOX)
    small.quantize(64, method=Image.MEDIANCUT, dither=Image.Dither.NONE).save(FOLDER / "badge.png", optimize=True)
    small.convert("CMYK").save(FOLDER / "badge-cmyk.jpg", quality=90)


def sheet():
    """A sheet of 120 x 80 mm with a square of 15 mm in its middle, from the side and half in shadow."""
    corners = [(80.0, 540.0), (700.0, 500.0), (640.0, 120.0), (150.0, 90.0)]
    flat = [(0.0, 0.0), (120.0, 0.0), (120.0, 80.0), (0.0, 80.0)]
    to_sheet = homography(corners, flat)
    picture = Image.new("L", (800, 600))
    pixels = picture.load()
    for y in range(600):
        for x in range(800):
            total = 0.0
            for k in range(FINER * FINER):
                u = x + (k % FINER + 0.5) / FINER
                v = y + (k // FINER + 0.5) / FINER
                a, b = to_sheet(u, v)
                on_sheet = 0 <= a <= 120 and 0 <= b <= 80
                ink = abs(a - 60) < 7.5 and abs(b - 40) < 7.5
                light = 1.0 - 0.4 * u / 800
                total += light * (45 if ink else 235 if on_sheet else 120)
            pixels[x, y] = round(total / FINER**2)
    picture.save(FOLDER / "sheet.jpg", quality=85)


def homography(source, target):
    """The projective map that takes four points to four others, by elimination."""
    rows = []
    for (x, y), (u, v) in zip(source, target):
        rows.append([x, y, 1, 0, 0, 0, -u * x, -u * y, u])
        rows.append([0, 0, 0, x, y, 1, -v * x, -v * y, v])
    for column in range(8):
        pivot = max(range(column, 8), key=lambda row: abs(rows[row][column]))
        rows[column], rows[pivot] = rows[pivot], rows[column]
        for row in range(8):
            if row != column:
                share = rows[row][column] / rows[column][column]
                rows[row] = [a - share * b for a, b in zip(rows[row], rows[column])]
    h = [rows[k][8] / rows[k][k] for k in range(8)]

    def mapped(x, y):
        w = h[6] * x + h[7] * y + 1
        return (h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w

    return mapped


FOLDER.mkdir(parents=True, exist_ok=True)
leaf()
badge()
sheet()
