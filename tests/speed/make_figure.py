#!/usr/bin/python3
"""Draws figures of known sizes to measure with: make_figure.py SIZE [--seed N] [-o FILE].

S, M, L and LO are exploded views of no unit at all: turned parts, gears and plates strung along the axes of an isometric
projection, 30 to 400 of them, drawn by 600 to 20,000 paths. LO is L with larger parts, so that each inked point of the sheet
lies under 6.7 parts on the average. Each part is a root-level group with an id ("part-1" lies undermost); between them stands
art that belongs to no part. The same size and seed give the same file.
"""
import argparse
import math
import random
import sys

SHEET = (1600, 1000)
# parts, paths, parts over an inked point
SIZES = {"S": (30, 600, 1.3), "M": (150, 5000, 1.3), "L": (400, 20000, 1.3), "LO": (400, 20000, 6.7)}
FILLER_SHARE = 0.04  # of all paths

# Isometric axes (ISO 5456-3): x to the lower right, y to the lower left, z up. Their sum is nothing, and the + end of each is the near one.
AXES = ((math.cos(math.pi / 6), 0.5), (-math.cos(math.pi / 6), 0.5), (0.0, -1.0))
RIM_FROM, RIM_TO = -math.pi / 4, 3 * math.pi / 4  # between them the side of a cylinder is seen, as u + v = -axis
CELL = 8  # of the grid that overlap is measured on, user units

STYLE = """
    .wide { fill: none; stroke: #16191d; stroke-width: 0.9; stroke-linecap: round; stroke-linejoin: round }
    .narrow { fill: none; stroke: #16191d; stroke-width: 0.45; stroke-linecap: round }
    .axis { fill: none; stroke: #16191d; stroke-width: 0.45; stroke-dasharray: 12 1.5 0.5 1.5 }
    .hole { fill: #4a515c }
    .shine { fill: none; stroke: #ffffff; stroke-width: 0.6; stroke-opacity: 0.7 }
    .shade { fill: #1d2633; fill-opacity: 0.12 }"""
TONES = ("#eff1f3 #b9c1cb", "#e8e4dc #b0a696", "#d9e2e8 #93a6b3", "#f3ead2 #c9ad6a", "#e3e3e3 #9a9a9a", "#e6ded9 #a58f84")


def number(value):
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def point(x, y):
    return f"{number(x)} {number(y)}"


class Part:
    """A shape in units of its own size, and where it stands. Sections: (from, to, radius) along the axis, far end first."""

    def __init__(self, index, x, y, size, rng):
        self.index, self.x, self.y, self.size = index, x, y, size
        self.kind = ("turned", "turned", "gear", "plate")[int(rng.random() * 4)]
        self.axis = int(rng.random() * 3) if rng.random() < 0.3 else 0  # most stand on the x axes, as a unit's trains do
        self.tone = int(rng.random() * len(TONES))
        self.bore = 0.15 + 0.3 * rng.random()
        self.sections = []
        at = -0.3
        for _ in range(1 if self.kind == "plate" else 1 + int(rng.random() * 3)):
            length = 0.12 + 0.3 * rng.random()
            self.sections.append((at, at + length, 0.45 + 0.55 * rng.random()))
            at += length

    def place(self, along, radius, angle):
        """A point of the sheet: on the circle of that radius round the axis, so far along it."""
        a, u, v = (AXES[(self.axis + n) % 3] for n in range(3))
        c, s = radius * math.cos(angle), radius * math.sin(angle)
        return tuple(at + self.size * (along * a[n] + c * u[n] + s * v[n]) for n, at in enumerate((self.x, self.y)))

    def arc(self, along, radius, begin, end):
        """Path data of an arc of a rim, by cubics of a quarter turn at most; it begins where the pen is."""
        pieces = max(1, math.ceil(abs(end - begin) / (math.pi / 2) - 1e-9))
        step = (end - begin) / pieces
        reach = radius * 4 / 3 * math.tan(step / 4)
        data = []
        for n in range(pieces):
            t0, t1 = begin + n * step, begin + (n + 1) * step
            first, second, last = (math.hypot(radius, reach), t0 + math.atan2(reach, radius)), \
                                  (math.hypot(radius, reach), t1 - math.atan2(reach, radius)), (radius, t1)
            data.append("C" + " ".join(point(*self.place(along, r, t)) for r, t in (first, second, last)))
        return "".join(data)

    def rim(self, along, radius):
        return f"M{point(*self.place(along, radius, 0))}{self.arc(along, radius, 0, 2 * math.pi)}z"

    def square(self, along, half, points=((1, 1), (-1, 1), (-1, -1), (1, -1))):
        return [self.place(along, half * math.hypot(x, y), math.atan2(y, x)) for x, y in points]

    def side(self, begin, end, radius):
        """All that a cylinder covers: half of its near rim and half of the far one."""
        return (f"M{point(*self.place(end, radius, RIM_TO))}{self.arc(end, radius, RIM_TO, RIM_FROM + 2 * math.pi)}"
                f"L{point(*self.place(begin, radius, RIM_FROM))}{self.arc(begin, radius, RIM_FROM, RIM_TO)}z")

    def outlines(self):
        """Closed polygons that together cover it, for the overlap."""
        for begin, end, radius in self.sections:
            if self.kind == "plate":
                yield self.square(begin, radius)
                yield self.square(end, radius)
            else:
                turns = [RIM_FROM + math.pi * n / 8 for n in range(9)]
                yield [self.place(end, radius, t + math.pi) for t in turns] + [self.place(begin, radius, t) for t in turns]


# ---- drawing: each returns SVG elements, one path each


def path(data, ink):
    return f'<path {ink} d="{data}"/>'


def polygon(points):
    return "M" + "L".join(point(*p) for p in points) + "z"


def draw_plate(part):
    begin, end, half = part.sections[0]
    near, far = part.square(end, half), part.square(begin, half)
    fill = f'fill="url(#tone-{part.tone})"'
    elements = [path(polygon([near[n], near[(n + 1) % 4], far[(n + 1) % 4], far[n]]), fill) for n in range(4)]
    elements += [path(polygon(near), fill), path(polygon(near), 'class="wide"'), path(part.rim(end, part.bore * half), 'class="hole"')]
    return elements


def draw_turned(part):
    elements = []
    for begin, end, radius in part.sections:
        elements += [path(part.side(begin, end, radius), f'fill="url(#tone-{part.tone})"'), path(part.side(begin, end, radius), 'class="wide"'),
                     path(part.rim(end, radius), f'fill="url(#face-{part.tone})"'), path(part.rim(end, radius * 0.94), 'class="narrow"')]
    begin, end, radius = part.sections[-1]
    elements += [path(part.rim(end, part.bore * radius), 'class="hole"'), path(part.rim(end, part.bore * radius), 'class="wide"')]
    return elements


def draw_tooth(part, rng):
    begin, end, radius = part.sections[int(rng.random() * len(part.sections))]
    at, width = RIM_FROM + math.pi * rng.random(), 0.06 + 0.05 * rng.random()
    corners = [part.place(z, radius * r, at + t) for z, r, t in
               ((end, 0.99, 0), (end, 1.06, width * 0.3), (end, 1.06, width * 0.7), (end, 0.99, width), (begin, 0.99, width), (begin, 0.99, 0))]
    return [path(polygon(corners), f'fill="url(#tone-{part.tone})" stroke="#16191d" stroke-width="0.45"')]


def draw_hole(part, rng):
    begin, end, radius = part.sections[-1]
    at, circle, size = 2 * math.pi * rng.random(), radius * (0.55 + 0.3 * rng.random()), radius * (0.03 + 0.05 * rng.random())
    x, y = part.place(end, circle, at)
    hole = Part(0, x, y, part.size, random.Random(0))
    hole.axis = part.axis
    return [path(hole.rim(0, size), 'class="hole"'), path(f"M{point(*hole.place(0, size, 0))}{hole.arc(0, size, 0, 2)}", 'class="shine"')]


def draw_groove(part, rng):
    begin, end, radius = part.sections[int(rng.random() * len(part.sections))]
    if part.kind == "plate":
        return draw_mark(part, rng)
    along = begin + (end - begin) * rng.random()
    first = RIM_FROM + 0.8 * rng.random()
    return [path(f"M{point(*part.place(along, radius, first))}{part.arc(along, radius, first, RIM_TO - 0.8 * rng.random())}", 'class="narrow"')]


def draw_mark(part, rng):
    begin, end, radius = part.sections[-1]
    at, r0 = 2 * math.pi * rng.random(), radius * (part.bore + (1 - part.bore) * rng.random() * 0.8)
    ends = [part.place(end, r, at) for r in (r0, r0 + radius * 0.1 * rng.random())]
    return [path("M" + "L".join(point(*p) for p in ends), 'class="narrow"')]


def draw_shade(part, rng):
    begin, end, radius = part.sections[-1]
    at = 2 * math.pi * rng.random()
    inner, outer = radius * (part.bore + 0.02), radius * 0.92
    span = 0.2 + 0.5 * rng.random()
    return [path(f"M{point(*part.place(end, outer, at))}{part.arc(end, outer, at, at + span)}L{point(*part.place(end, inner, at + span))}"
                 f"{part.arc(end, inner, at + span, at)}z", 'class="shade"')]


def draw_part(part, n_paths, rng):
    """Its faces, then details until it has its number of paths."""
    elements = draw_plate(part) if part.kind == "plate" else draw_turned(part)
    details = [draw_hole, draw_groove, draw_mark, draw_shade, draw_tooth if part.kind == "gear" else draw_groove]
    while len(elements) < n_paths:
        elements += details[int(rng.random() * len(details))](part, rng)
    lines = "\n    ".join(elements[:n_paths])
    return f'  <g id="part-{part.index}">\n    {lines}\n  </g>'


def draw_filler(part, n_paths, rng):
    """Art of no part, over the part that it follows: a shadow, and axis lines that run on to the next part."""
    elements = [path(part.rim(-0.5, 0.5), 'class="shade"')]
    while len(elements) < n_paths:
        r, t = 0.8 * rng.random(), 2 * math.pi * rng.random()
        elements.append(path(f"M{point(*part.place(0, r, t))}L{point(*part.place(1.5, r, t))}", 'class="axis"'))
    return "  " + "\n  ".join(elements[:n_paths])


# ---- layout


def find_places(n_parts):
    """That many points on the isometric grid of the sheet, the farthest first, and the grid's pitch."""
    margin = 0.45 * math.sqrt(SHEET[0] * SHEET[1] / n_parts)
    width, height = (length - 2 * margin for length in SHEET)
    pitch = math.sqrt(width * height / n_parts)
    while True:
        reach = int(3 * SHEET[0] / pitch)
        spots = ((SHEET[0] / 2 + (i * AXES[0][0] + j * AXES[1][0]) * pitch, SHEET[1] / 2 + (i * AXES[0][1] + j * AXES[1][1]) * pitch)
                 for i in range(-reach, reach) for j in range(-reach, reach))
        inside = sorted((y, x) for x, y in spots if abs(x - SHEET[0] / 2) <= width / 2 and abs(y - SHEET[1] / 2) <= height / 2)
        if len(inside) >= n_parts:
            return [(inside[k * len(inside) // n_parts][1], inside[k * len(inside) // n_parts][0]) for k in range(n_parts)], pitch
        pitch *= 0.99


def cover(points, cells):
    """Adds the cells of the grid whose middle lies in a convex or simple polygon."""
    columns, rows = SHEET[0] // CELL, SHEET[1] // CELL
    top, bottom = min(p[1] for p in points), max(p[1] for p in points)
    for row in range(max(0, int(top / CELL)), min(rows, int(bottom / CELL) + 1)):
        y = (row + 0.5) * CELL
        crossings = sorted(a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1])
                           for a, b in zip(points, points[1:] + points[:1]) if (a[1] <= y) != (b[1] <= y))
        for left, right in zip(crossings[::2], crossings[1::2]):
            first, last = max(0, math.ceil(left / CELL - 0.5)), min(columns, math.ceil(right / CELL - 0.5))
            cells.update(row * columns + column for column in range(first, last))


def measure_overlap(parts):
    """How many parts lie over a point of the sheet, on the average of the points that any covers."""
    total, union = 0, set()
    for part in parts:
        cells = set()
        for outline in part.outlines():
            cover(outline, cells)
        total += len(cells)
        union |= cells
    return total / max(len(union), 1)


def make_parts(n_parts, overlap, seed):
    places, pitch = find_places(n_parts)
    rng = random.Random(seed)
    parts = [Part(n + 1, x, y, 1, rng) for n, (x, y) in enumerate(places)]
    sizes = [0.6 + 0.8 * rng.random() for _ in parts]

    low, high = 0.1 * pitch, 4 * pitch
    for _ in range(10):
        middle = (low + high) / 2
        for part, size in zip(parts, sizes):
            part.size = size * middle
        low, high = (middle, high) if measure_overlap(parts) < overlap else (low, middle)
    return parts


def share(total, n):
    """That many whole numbers that add up to the total, as even as can be."""
    return [total * (k + 1) // n - total * k // n for k in range(n)]


def make_figure(name, seed):
    n_parts, n_paths, overlap = SIZES[name]
    parts = make_parts(n_parts, overlap, seed)
    n_filler = int(n_paths * FILLER_SHARE)
    fillers = share(n_filler, max(n_parts // 5, 1))
    gradients = []
    for n, tone in enumerate(TONES):
        light, dark = tone.split()
        stops = f'<stop offset="0" stop-color="{light}"/><stop offset="1" stop-color="{dark}"/>'
        gradients += [f'<linearGradient id="tone-{n}" x1="0" y1="0" x2="1" y2="1">{stops}</linearGradient>',
                      f'<radialGradient id="face-{n}" cx="0.35" cy="0.3" r="0.9">{stops}</radialGradient>']
    lines = ['<?xml version="1.0" encoding="UTF-8"?>',
             f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="{SHEET[0]}" height="{SHEET[1]}" viewBox="0 0 {SHEET[0]} {SHEET[1]}">',
             f"  <title>Measuring figure {name}</title>",
             f"  <desc>{n_parts} parts of no unit, {n_paths} paths, {measure_overlap(parts):.1f} parts over an inked point, seed {seed}. Licence: CC0 1.0.</desc>",
             f"  <style>{STYLE}\n  </style>", "  <defs>", *(f"    {gradient}" for gradient in gradients), "  </defs>"]
    for n, (part, count) in enumerate(zip(parts, share(n_paths - n_filler, n_parts))):
        lines.append(draw_part(part, count, random.Random(seed * 1000003 + n)))
        if n % 5 == 4 and n // 5 < len(fillers):
            lines.append(draw_filler(part, fillers[n // 5], random.Random(seed * 1000003 + n_parts + n)))
    return "\n".join(lines + ["</svg>", ""])


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("size", choices=SIZES)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("-o", "--output", help="file to write, instead of stdout")
    given = parser.parse_args()
    figure = make_figure(given.size, given.seed)
    if given.output is None:
        sys.stdout.write(figure)
    else:
        with open(given.output, "w", encoding="utf-8") as file:
            file.write(figure)


if __name__ == "__main__":
    main()
