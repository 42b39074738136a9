"""Answers, with shapely, the questions that oracle_test.go asks on standard input.

Shapely knows no arcs, so each arc is replaced here by chords, `chords` of them
to a full circle. The flattening, the strips and the distances are worked out
on this side alone: the input holds nothing but segments as they were drawn.
A segment is [ax, ay, bx, by] or, for an arc, [ax, ay, bx, by, cx, cy, clockwise].
"""

import json
import math
import sys

from shapely.geometry import Point, Polygon
from shapely.ops import unary_union


def sweep(seg):
    ax, ay, bx, by, cx, cy, clockwise = seg
    start = math.atan2(ay - cy, ax - cx)
    if (ax, ay) == (bx, by):
        return start, -2 * math.pi if clockwise else 2 * math.pi
    turn = (math.atan2(by - cy, bx - cx) - start) % (2 * math.pi)
    return start, turn - 2 * math.pi if clockwise else turn


def part(seg, f0, f1, chords):
    """Points of the part of a segment between two fractions of its length."""
    if len(seg) == 4:
        ax, ay, bx, by = seg
        return [(ax + (bx - ax) * f, ay + (by - ay) * f) for f in (f0, f1)]
    ax, ay, _, _, cx, cy, _ = seg
    start, turn = sweep(seg)
    radius = math.hypot(ax - cx, ay - cy)
    n = max(2, math.ceil(abs(turn) * (f1 - f0) / (2 * math.pi) * chords))
    angles = [start + turn * (f0 + (f1 - f0) * k / n) for k in range(n + 1)]
    return [(cx + radius * math.cos(t), cy + radius * math.sin(t)) for t in angles]


def path(parts, chords):
    points = []
    for seg, f0, f1 in parts:
        more = part(seg, f0, f1, chords)
        points += more[1:] if points else more
    return points


def polygon(segs, chords):
    return Polygon(path([(s, 0, 1) for s in segs], chords)[:-1])


def tangents(seg):
    """Unit directions of travel at both ends of a segment."""
    if len(seg) == 4:
        ax, ay, bx, by = seg
        d = math.hypot(bx - ax, by - ay)
        return [((bx - ax) / d, (by - ay) / d)] * 2
    start, turn = sweep(seg)
    way = math.copysign(1, turn)
    return [(-way * math.sin(t), way * math.cos(t)) for t in (start, start + turn)]


def beside(seg, f0, f1, d, chords):
    """The part of a segment displaced by d to the left, an arc at most to its centre."""
    if len(seg) == 4:
        ax, ay, bx, by = seg
        (tx, ty), _ = tangents(seg)
        return part([ax - ty * d, ay + tx * d, bx - ty * d, by + tx * d], f0, f1, chords)
    cx, cy = seg[4:6]
    radius = math.hypot(seg[0] - cx, seg[1] - cy)
    inward = -d if seg[6] else d
    k = max(0, radius - inward) / radius
    return [(cx + (x - cx) * k, cy + (y - cy) * k) for x, y in part(seg, f0, f1, chords)]


def between(seg, f0, f1, d0, d1, chords):
    """The area between a segment displaced to the left by d0 and by d1."""
    near, far = beside(seg, f0, f1, d0, chords), beside(seg, f0, f1, d1, chords)
    if near[0] != near[-1] or f0 > 0 or f1 < 1:
        return Polygon(near + far[::-1]).buffer(0)
    big, small = sorted((Polygon(near), Polygon(far)), key=lambda p: -p.area)
    return big.difference(small)


def half_plane(x, y, dx, dy, size):
    """A square that stands in for the half plane through (x, y) toward (dx, dy)."""
    return Polygon([(x - dy * size, y + dx * size), (x + dy * size, y - dx * size),
                    (x + (dy + dx) * size, y + (dy - dx) * size),
                    (x + (dx - dy) * size, y + (dx + dy) * size)])


def gap(seg, after, d, chords):
    """What lies within |d| of a joint, past one segment and before the next, on the side of d."""
    x, y = seg[2:4]
    _, (tx, ty) = tangents(seg)
    (ux, uy), _ = tangents(after)
    r, s = abs(d), math.copysign(1, d)
    disc = Point(x, y).buffer(r, resolution=chords // 4)
    side = half_plane(x, y, -ty * s, tx * s, 4 * r).union(half_plane(x, y, -uy * s, ux * s, 4 * r))
    return (disc.intersection(side).intersection(half_plane(x, y, tx, ty, 4 * r))
            .intersection(half_plane(x, y, -ux, -uy, 4 * r)))


def union_area(parts, clip):
    """The area of the union of the parts inside clip, None where it went wrong.

    GEOS 3.11 now and then (1 in 720 boards tried) drops a part that touches
    another along an edge, or in an intersection a polygon of several; then a
    point of that part is missing from the union, or what lies inside clip and
    what lies outside are not the whole.
    """
    whole = unary_union(parts)
    for p in parts:
        if p.area > 1e-9 * whole.area and not whole.contains(p.representative_point()):
            return None
    inside = clip.intersection(whole).area
    if abs(inside + whole.difference(clip).area - whole.area) > 1e-9 * whole.area:
        return None
    return inside


def board(b, chords):
    outer = polygon(b["outer"], chords)
    holes = [polygon(h, chords) for h in b["holes"]]
    solid = Polygon(outer.exterior.coords, [h.exterior.coords for h in holes])
    w = b["width"]
    # All within w of the outline: both sides of each segment and a disc at each
    # joint, of which the board is what lies inside.
    near = [between(s, 0, 1, -w, 0, chords) for s in b["outer"]]
    near += [between(s, 0, 1, 0, w, chords) for s in b["outer"]]
    near += [Point(s[:2]).buffer(w, resolution=chords // 4) for s in b["outer"]]
    # The strip along a part of it, square at its ends.
    d = w if b["left"] else -w
    chain = [(b["outer"][i], f0, f1) for i, f0, f1 in b["chain"]]
    strip = [between(s, f0, f1, 0, d, chords) for s, f0, f1 in chain]
    strip += [gap(s[0], t[0], d, chords) for s, t in zip(chain, chain[1:])]
    return {
        "valid": solid.is_valid,
        "area": solid.area,
        "perimeter": outer.exterior.length,
        "centroid": [solid.centroid.x, solid.centroid.y],
        "rim": union_area(near, solid),
        "strip": union_area(strip, solid),
    }


def pair(p, chords):
    a, b = polygon(p[0], chords), polygon(p[1], chords)
    return {"shape": a.distance(b), "boundary": a.exterior.distance(b.exterior),
            "union": a.union(b).area, "both": a.intersection(b).area}


def main():
    asked = json.load(sys.stdin)
    chords = asked["chords"]
    json.dump({
        "boards": [board(b, chords) for b in asked["boards"]],
        "pairs": [pair(p, chords) for p in asked["pairs"]],
        "simple": [polygon(s, chords).exterior.is_simple for s in asked["paths"]],
    }, sys.stdout)


if __name__ == "__main__":
    main()
