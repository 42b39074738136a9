"""Runs the bits of rout files over boards, by shapely, and measures what they
cut of the board and what they leave of its edge.

Reads on stdin, a line a board, {"files": {name: text}, "profiles": [{"cutout":
false, "path": [[x, y], ...]}], "kept": [[[x, y], ...], ...]} in mm: the
profiles as fine polygons, and lines along the profile where board is to stay
joined, or where a crest may. Writes a line a board: how deep the bits cut into
the board, and how far from the bits the rest of the edge stands, mm, and where.

The files are read here by what the format says alone: G00 moves, M15 and M16
let the bit down and lift it, G01, G02 and G03 with the radius A cut, T names
the width that is cut. Nothing else is let pass.
"""
import json
import math
import re
import sys

from shapely.geometry import LineString, MultiLineString, Point, Polygon
from shapely.ops import unary_union

STEPS = 4096  # chords of a full turn, for paths: of a radius of 30 mm within 0.01 um


def arc(a, b, radius, clockwise):
    """Points of the arc of at most half a turn."""
    (x0, y0), (x1, y1) = a, b
    chord = math.hypot(x1 - x0, y1 - y0)
    assert 2 * radius >= chord - 1e-4, ("radius", radius, chord)
    h = math.sqrt(max(0.0, radius * radius - chord * chord / 4))
    # The centre of the shorter arc: to the right of travel where it turns right.
    side = -1 if clockwise else 1
    cx = (x0 + x1) / 2 - side * (y1 - y0) / chord * h
    cy = (y0 + y1) / 2 + side * (x1 - x0) / chord * h
    start = math.atan2(y0 - cy, x0 - cx)
    end = math.atan2(y1 - cy, x1 - cx)
    sweep = (end - start) % (2 * math.pi)
    if clockwise:
        sweep -= 2 * math.pi
    n = max(2, int(abs(sweep) / (2 * math.pi) * STEPS))
    points = [(cx + radius * math.cos(start + sweep * k / n), cy + radius * math.sin(start + sweep * k / n)) for k in range(1, n)]
    return points + [b]


def ways(text):
    """(width, points) for each time that a bit is let down."""
    tools, width, at, down, found, header = {}, None, None, None, [], True
    for line in text.splitlines():
        if line.startswith(';') or line in ('M48', 'METRIC', 'M30'):
            continue
        if line == '%':
            header = False
        elif m := re.fullmatch(r'(T\d+)C([\d.]+)', line):
            assert header, line
            tools[m[1]] = float(m[2])
        elif m := re.fullmatch(r'T\d+', line):
            width = tools[line]
        elif line == 'M15':
            down = [at]
        elif line == 'M16':
            found.append((width, down))
            down = None
        elif m := re.fullmatch(r'(G0[0123])X(-?[\d.]+)Y(-?[\d.]+)(?:A([\d.]+))?', line):
            to = (float(m[2]), float(m[3]))
            if m[1] == 'G00':
                assert down is None, 'moved with the bit down'
            elif m[1] == 'G01':
                down.append(to)
            else:
                down.extend(arc(at, to, float(m[4]), m[1] == 'G02'))
            at = to
        else:
            raise ValueError(line)
    assert down is None, 'the bit is left down'
    return found


def swept(files):
    shapes = []
    for text in files.values():
        for width, points in ways(text):
            line = LineString(points) if len(points) > 1 else Point(points[0])
            shapes.append(line.buffer(width / 2, resolution=128))
    return unary_union(shapes)


def measure(board):
    cut = swept(board['files'])
    outside = [Polygon(p['path']) for p in board['profiles'] if not p['cutout']]
    inside = [Polygon(p['path']) for p in board['profiles'] if p['cutout']]
    solid = unary_union(outside).difference(unary_union(inside))
    bitten = cut.intersection(solid)
    depth, where = 0.0, ''
    if not bitten.is_empty:
        # How deep: what is left of the bite when the board is made smaller.
        for d in (0.001, 0.002, 0.005, 0.01, 0.05, 0.2):
            rest = bitten.intersection(solid.buffer(-d))
            if rest.area < 1e-9:
                break
            depth, where = d, str(rest.representative_point())
    rims = MultiLineString([list(p.exterior.coords) for p in outside + inside])
    kept = unary_union([LineString(k).buffer(0.002, cap_style=2) for k in board['kept']]) if board['kept'] else Point(1e9, 1e9)
    rest = rims.difference(kept)
    away, place = 0.0, ''
    for d in (0.005, 0.05, 0.2):
        far = rest.difference(cut.buffer(d))
        if far.length < 0.01:
            break
        away, place = d, str(far.representative_point()) + ' %.3f mm' % far.length
    return {'depth': depth, 'bitten': where, 'away': away, 'left': place}


for line in sys.stdin:
    print(json.dumps(measure(json.loads(line))), flush=True)
