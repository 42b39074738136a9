"""Answers, with shapely, the questions that oracle_test.go asks on standard input.

A board comes as its author would describe it: shapes with their sizes, edges
by name, positions along them. What these mean, as points, paths and areas, is
worked out here anew from the language's description; nothing that hemline
made of them is in the question. Lengths are in millimetres. Shapely knows no
arcs, so each is replaced by chords, `chords` of them to a full circle.
"""

import json
import math
import pathlib
import sys

from shapely.geometry import LineString, Point, Polygon, box
from shapely.ops import unary_union

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "geom" / "testdata"))
from oracle import between, gap, part, path, sweep, union_area  # noqa: E402

EPS = 1e-9  # mm


def length(seg):
    if len(seg) == 4:
        return math.hypot(seg[2] - seg[0], seg[3] - seg[1])
    return abs(sweep(seg)[1]) * math.hypot(seg[0] - seg[4], seg[1] - seg[5])


class Edge:
    """A named run of a profile's path.

    straight is where the piece lies in the edge's own positions; a rectangle's
    edge is longer, for its positions count from the corners' sharp points.
    """

    def __init__(self, name, first, long, straight, backward=False, closed=False):
        self.name, self.first, self.long, self.straight = name, first, long, straight
        self.backward, self.closed = backward, closed


class Profile:
    """A closed path of segments, with named edges, and rounded corners as (segment, edge, edge)."""

    def __init__(self, segs, edges, corners, cutout, chords):
        self.segs, self.edges, self.corners, self.cutout = segs, {e.name: e for e in edges}, corners, cutout
        self.starts = [0]
        for s in segs:
            self.starts.append(self.starts[-1] + length(s))
        points = path([(s, 0, 1) for s in segs if length(s) > EPS], chords)
        self.polygon = Polygon([p for p, q in zip(points, points[1:]) if math.dist(p, q) > EPS])
        left = self.polygon.exterior.is_ccw
        self.side = 1 if left != cutout else -1  # of travel on which the board lies

    def along(self, e, a, b):
        """A stretch between two positions as stretches along the path, cut at its start."""
        lo, hi = e.straight
        if not e.closed:
            a, b = min(max(a, lo), hi), min(max(b, lo), hi)
        if e.backward:
            a, b = lo + hi - b, lo + hi - a
        a, b = self.starts[e.first] + a - lo, self.starts[e.first] + b - lo
        total = self.starts[-1]
        if b - a <= EPS:
            return []
        if b - a >= total - EPS:
            return [(0, total)]
        a, b = a % total, b % total
        return [(a, b)] if a < b else [(0, b), (a, total)]


def rectangle(f, x, y, prefix):
    w, h, r = f["w"], f["h"], f["r"]
    sides = [("south", (x + r, y), (x + w - r, y), (x + w - r, y + r), (x + w, y + r), w, False),
             ("east", (x + w, y + r), (x + w, y + h - r), (x + w - r, y + h - r), (x + w - r, y + h), h, False),
             ("north", (x + w - r, y + h), (x + r, y + h), (x + r, y + h - r), (x, y + h - r), w, True),
             ("west", (x, y + h - r), (x, y + r), (x + r, y + r), (x + r, y), h, True)]
    segs, edges, corners = [], [], []
    for name, a, b, centre, end, long, backward in sides:
        edges.append(Edge(prefix + name, len(segs), long, (r, long - r), backward))
        segs.append([*a, *b])
        if r > 0:
            corners.append([len(segs), edges[-1]])
            segs.append([*b, *end, *centre, False])
    for i, c in enumerate(corners):
        c.append(edges[(i + 1) % 4])
    return segs, edges, corners


def drawn(f, prefix):
    segs, edges, at = [], [], f["start"]
    for p in f["pieces"]:
        to = p["to"]
        segs.append([*at, *to] if p["around"] is None else [*at, *to, *p["around"], p["clockwise"]])
        edges.append(Edge(prefix + p["name"], len(segs) - 1, length(segs[-1]), (0, length(segs[-1]))))
        at = to
    return segs, edges, []


def slot(f):
    l, w, turn = f["l"], f["w"], math.radians(f["a"])

    def at(x, y):
        return (f["x"] + x * math.cos(turn) - y * math.sin(turn), f["y"] + x * math.sin(turn) + y * math.cos(turn))

    s, r = (l - w) / 2, w / 2
    a, b, c, d, e, g = at(-s, -r), at(s, -r), at(s, r), at(-s, r), at(s, 0), at(-s, 0)
    return [[*a, *b], [*b, *c, *e, False], [*c, *d], [*d, *a, *g, False]]


def profile(f, cutout, chords):
    prefix = f["name"] + "." if cutout else ""
    corners = []
    if f["kind"] == "rectangle":
        x, y = (f["x"] - f["w"] / 2, f["y"] - f["h"] / 2) if cutout else (0, 0)
        segs, edges, corners = rectangle(f, x, y, prefix)
    elif f["kind"] == "drawn":
        segs, edges, corners = drawn(f, prefix)
    else:
        if f["kind"] == "circle":
            a = (f["x"] + f["d"] / 2, f["y"])
            segs = [[*a, *a, f["x"], f["y"], False]]
        else:
            segs = slot(f)
        total = sum(length(s) for s in segs)
        edges = [Edge(prefix + "rim", 0, total, (0, total), closed=True)]
    return Profile(segs, edges, corners, cutout, chords)


def merged(stretches):
    out = []
    for a, b in sorted(stretches):
        if out and a <= out[-1][1] + EPS:
            out[-1] = (out[-1][0], max(b, out[-1][1]))
        elif b - a > EPS:
            out.append((a, b))
    return out


def less(stretches, cuts):
    for c, d in cuts:
        stretches = [s for a, b in stretches for s in ((a, min(b, c)), (max(a, d), b)) if s[1] - s[0] > EPS]
    return stretches


def positions(stretch, e):
    """From and to of a stretch; `at` may be null for the middle."""
    if "width" in stretch:
        at = e.long / 2 if stretch["at"] is None else stretch["at"]
        return at - stretch["width"] / 2, at + stretch["width"] / 2
    if stretch["from"] is None:
        return 0, e.long
    return stretch["from"], stretch["to"]


def covers(p, profile):
    """The stretches of a profile that a plating covers, and the corner ends that it comes up to."""
    on, cuts, ends = [], [], {}
    for s in p["along"]:
        if e := profile.edges.get(s["edge"]):
            a, b = positions(s, e)
            on += profile.along(e, a, b)
            for i, at in enumerate(e.straight):
                if b - a > EPS and a <= at + EPS and at <= b + EPS:
                    ends[e, i] = True
    for s in p["gaps"]:
        if e := profile.edges.get(s["edge"]):
            a, b = positions(s, e)
            cuts += profile.along(e, a, b)
            lo, hi = e.straight
            if b - a > EPS and a <= lo + EPS:
                ends[e, 0] = False
            if b - a > EPS and b >= hi - EPS:
                ends[e, 1] = False
    return less(merged(on), cuts), ends


def plated(platings, profile):
    """What each plating covers of a profile, its corners included."""
    found = [covers(p, profile) for p in platings]
    on = [list(f[0]) for f in found]
    for seg, before, after in profile.corners:
        # The end of an edge at which the path leaves it, and at which it comes to it.
        leaves, comes = (before, 0 if before.backward else 1), (after, 1 if after.backward else 0)
        first = [i for i, (_, ends) in enumerate(found) if ends.get(leaves)]
        second = [i for i, (_, ends) in enumerate(found) if ends.get(comes)]
        if first and second:
            both = [i for i in first if i in second]
            on[(both or first)[0]].append((profile.starts[seg], profile.starts[seg + 1]))
    return [merged(s) for s in on]


def parts(profile, on):
    """Stretches along the path as parts of its segments: (segment, from, to), as fractions."""
    out = []
    for i, s in enumerate(profile.segs):
        lo, hi = profile.starts[i], profile.starts[i + 1]
        if hi - lo < EPS:
            continue
        for a, b in on:
            a, b = max(a, lo), min(b, hi)
            if b - a > EPS:
                out.append((i, (a - lo) / (hi - lo), (b - lo) / (hi - lo)))
    return out


def wrap(profile, on, width, chords):
    """The copper turned over a face: strips with square ends, filled where two gape at a joint."""
    d = width * profile.side
    pieces = parts(profile, on)
    strips = [between(profile.segs[i], a, b, 0, d, chords) for i, a, b in pieces]
    starting = {i for i, a, _ in pieces if a < 1e-9}
    sides = [i for i, s in enumerate(profile.segs) if length(s) > EPS]
    for i, _, b in pieces:
        following = sides[(sides.index(i) + 1) % len(sides)]
        if b > 1 - 1e-9 and following in starting and len(sides) > 1:
            strips.append(gap(profile.segs[i], profile.segs[following], d, chords))
    return [s for s in strips if not s.is_empty]


def shape(f, chords):
    if f["d"]:
        return Point(f["x"], f["y"]).buffer(f["d"] / 2, resolution=chords // 4)
    return box(f["x"] - f["w"] / 2, f["y"] - f["h"] / 2, f["x"] + f["w"] / 2, f["y"] + f["h"] / 2)


def board(b, chords):
    outline = profile(b["outline"], False, chords)
    profiles = [outline] + [profile(c, True, chords) for c in b["cutouts"]]
    solid = Polygon(outline.polygon.exterior.coords, [p.polygon.exterior.coords for p in profiles[1:]])
    on = [plated(b["platings"], p) for p in profiles]  # by profile, then plating
    features = [shape(f, chords) for f in b["features"]]
    answers = []
    for i, p in enumerate(b["platings"]):
        # Lengths and areas count a part of the profile once, for the plating stated first.
        own = [less(of[i], merged([s for other in of[:i] for s in other])) for of in on]
        answer = {"length": sum(y - x for s in own for x, y in s), "wrap": [], "apart": [], "from": []}
        for width in p["wrap"]:
            strips = [s for profile, of in zip(profiles, on) for s in wrap(profile, of[i], width, chords)]
            mine = [s for profile, s in zip(profiles, own) for s in wrap(profile, s, width, chords)]
            answer["wrap"].append(union_area(mine, solid) if mine else 0)
            answer["apart"].append([min((f.distance(s) for s in strips), default=-1) for f in features])
        lines = [LineString(part(profile.segs[k], a, b, chords)) for profile, of in zip(profiles, on) for k, a, b in parts(profile, of[i])]
        answer["from"] = [min((f.distance(l) for l in lines), default=-1) for f in features]
        answers.append(answer)
    covered = sum(y - x for x, y in merged([s for of in on[0] for s in of]))
    return {
        "valid": solid.is_valid,
        "area": solid.area,
        "perimeter": outline.polygon.exterior.length,
        "centroid": [solid.centroid.x, solid.centroid.y],
        "share": covered / outline.starts[-1],
        "platings": answers,
    }


def main():
    asked = json.load(sys.stdin)
    json.dump([board(b, asked["chords"]) for b in asked["boards"]], sys.stdout)


if __name__ == "__main__":
    main()
