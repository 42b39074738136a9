"""Routs: bits that the shop has pass off the board along all of its profile but the
roots of tabs, those before plating along what is plated and those after it along
what stays bare; tabs keep a waist, and those that are routed off go.

Read are the ways of the bits' middles and the widths that they cut, no more: what
is held is what those bits sweep.
"""
import math

from board import HAIR, both, heading, points, union
from shapely.affinity import translate
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

FIRST, FINAL, LAST = "rout_plated.xnc", "rout_final.xnc", "rout_tabs.xnc"
CREST = 0.0171  # of a bit's diameter: how high stands what two bits leave between them
CROSS = 0.2589  # of it: how far apart their middles stay, to cross at 30 degrees: sin 15


def hold(board):
    cut = {name: list(ways(board, name)) for name in (FIRST, FINAL, LAST)}
    swept = {name: unary_union([swath(*way) for way in cut[name]]) for name in cut}
    tabs, walls = board.of("tab"), board.of("wall")
    roots, wall = union(tabs), union(walls)
    bare = unary_union([e.shape for e in board.of("bare edge") if 0 in e.layers])
    widest = max([d for name in cut for _, d in cut[name]], default=0)
    meets = [crest(board, e, widest) for w in walls for e in w.ends]
    ends = unary_union([area for area, _ in meets])
    corners = inside_corners(board, widest)
    hollow = unary_union([crossing(board, e, cut, roots) for w in walls for e in w.ends])
    slots = whole(board)
    for name in cut:
        board.count("routs", len(cut[name]))
        for line, d in cut[name]:
            least, swept_by = board.limits["router_bit"], swath(line, d)
            if name == FIRST and d < least and swept_by.within(slots):  # finished, as a plated drill is
                least = board.limits["plated_slot_width"]
            if d < least - HAIR:
                board.says("%s takes a bit of %.4f mm, at least %.4f mm" % (name, d, least))
            board.none("%s, a bit of %g mm cuts the board" % (name, d), both(swept_by, board.region))
    for name, own, other in ((FIRST, wall, bare), (FINAL, bare, wall)):
        rest = touched(swept[name], other).difference(unary_union([own, roots]).buffer(graze(widest))).difference(hollow)
        short(board, "%s cuts what is not its own" % name, rest)
        rest = own.difference(swept[name].buffer(HAIR)).difference(roots.buffer(HAIR)).difference(ends).difference(corners)
        short(board, "%s leaves uncut" % name, rest)
        for t in tabs:
            length = touched(swept[name], t.shape).length
            if length > 2 * graze(widest):
                board.says("%s cuts %.4f mm of the root of %s" % (name, length, t))
    both_passes = unary_union([swept[FIRST], swept[FINAL]])
    for area, high in meets:
        board.count("crests")
        rest = unary_union([wall, bare]).intersection(area).difference(both_passes.buffer(high + HAIR))
        short(board, "uncut where plated meets bare", rest.difference(roots.buffer(HAIR)).difference(corners))
    removed(board, swept, tabs, unary_union([wall, bare]), widest, corners)
    for t in tabs:
        if "body" in t.figures:
            waist(board, cut[FIRST] + cut[FINAL], t)


def crest(board, end, d):
    """Where two bits may leave a crest at the end of a wall, and how high. In a hollow
    of radius R their middles run on a round of R less r: they stay as far apart, and
    what lies between is the farther from both."""
    r, along, high = d / 2, CROSS * d, CREST * d
    for step in near_steps(board, end, d):
        R = step["radius"]
        apart = CROSS * r / max(R - r, HAIR)
        angle = min(d / R, math.asin(min(1, apart)))
        along = max(along, angle * R)
        high = max(high, math.sqrt((R - r) ** 2 + R * R - 2 * R * (R - r) * math.cos(angle)) - r)
    return end.buffer(along + 5 * HAIR), high


def crossing(board, end, cut, roots):
    """Holds how far apart the finest bits of both routs stay where plated meets bare, if no
    tab stands there, and gives how far beside that place they may come to a hollow."""
    edge = unary_union([e.shape for e in board.of("wall", "bare edge", "tab") if 0 in e.layers or e.kind == "tab"])
    near = {name: [] for name in (FIRST, FINAL)}
    for name in near:  # what leads to a way and away from it lies off the edge
        for line, d in cut[name]:
            if line.distance(end) < 0.8 * d:
                near[name] += [(d, Point(at)) for at in line.coords if Point(at).distance(end) < 0.8 * d and edge.distance(Point(at)) < d / 2 + HAIR]
    if not near[FIRST] or not near[FINAL] or not roots.is_empty and roots.distance(end) < max(d for d, _ in near[FIRST]):
        return Point()
    d = min(by for name in near for by, _ in near[name])
    a, b = [min([at for by, at in near[name] if by == d], key=end.distance, default=None) for name in (FIRST, FINAL)]
    if not a or not b:
        return Point()
    board.count("crossings")
    if a.distance(b) < CROSS * d - 2 * HAIR:
        board.says("the middles of two bits of %.4f mm come within %.4f mm, at %s" % (d, a.distance(b), end))
    return end.buffer(CROSS * d + graze(d)) if list(near_steps(board, end, d)) else Point()


def whole(board):
    """The cutouts that are plated all round, as far as their hulls."""
    bare = {e.profile for e in board.of("bare edge")}
    return unary_union([w.shape.convex_hull for w in board.of("wall") if w.profile > 0 and w.profile not in bare]).buffer(HAIR)


def near_steps(board, end, d):
    """The hollow arcs of the profile within a bit's diameter of a place."""
    for p in board.of("wall", "bare edge"):
        for path in p.paths:
            for step in path:
                hollow = step["type"] == "arc" and (step["dir"] == "cw") != (p.profile > 0)
                if hollow and LineString(points([step])).distance(end) < d:
                    yield step


def short(board, what, line):
    if line.length > 10 * HAIR:
        board.says("%s: %.4f mm, at %s" % (what, line.length, line.representative_point()))


def touched(swept, line):
    return line.intersection(swept.buffer(HAIR))


def graze(d):
    """How far beside where it ends a bit comes within two hairs of a straight edge,
    and by how much an inside corner may shift that."""
    return math.sqrt(d * 2 * HAIR) + 0.02


def inside_corners(board, d):
    """Where a bit of a diameter leaves a rounding: beside the profile's inside corners."""
    steps = [(step, p.profile > 0) for p in board.of("wall", "bare edge") for path in p.paths for step in path]
    starts, found = {}, []
    for step, cutout in steps:
        starts.setdefault(near(step["start"]), []).append(step)
    for step, cutout in steps:
        x, y = near(step["end"])
        for follows in [s for i in (-1, 0, 1) for k in (-1, 0, 1) for s in starts.get((x + i, y + k), [])]:
            (ax, ay), (bx, by) = heading(step, "end"), heading(follows, "start")
            turn = math.atan2(ax * by - ay * bx, ax * bx + ay * by)
            turn = turn if cutout else -turn
            if 1e-3 < turn < math.pi - 1e-3:
                found.append(Point(step["end"][:2]).buffer(d / 2 * math.tan(turn / 2) + 5 * HAIR))
    return unary_union(found)


def near(at):
    return round(at[0] / HAIR), round(at[1] / HAIR)


def removed(board, swept, tabs, profile, widest, corners):
    """The last rout takes the roots of the tabs that are routed off, and nothing else."""
    routed = unary_union([t.shape for t in tabs if t.figures["routed"]])
    board.count("tabs routed off", sum(t.figures["routed"] for t in tabs))
    whole = unary_union(list(swept.values()))
    short(board, "%s leaves of tabs that are routed off" % LAST, routed.difference(whole.buffer(CREST * widest + HAIR)).difference(corners))
    other = profile.difference(routed.buffer(2 * widest))
    short(board, "%s cuts far from tabs that are routed off" % LAST, touched(swept[LAST], other))


def waist(board, cut, t):
    """What the bits leave of a tab on a straight edge, halfway along slots of their own width."""
    body, width = Polygon(points(t.figures["body"])), t.figures["width"]
    (x1, y1), (x2, y2) = t.shape.geoms[0].coords[0], t.shape.geoms[0].coords[-1]
    sides = {(x, y): [(line, d) for line, d in cut if line.distance(Point(x, y)) < d / 2 + 10 * HAIR] for x, y in ((x1, y1), (x2, y2))}
    bits = {d for side in sides.values() for _, d in side}
    if not bits:
        return
    if len(bits) > 1:
        board.says("two bits cut beside %s" % t)
    board.count("waists of tabs")
    bit = max(bits)
    u = ((x2 - x1) / width, (y2 - y1) / width)
    out = (u[1], -u[0]) if body.centroid.distance(t.shape.centroid) > body.centroid.distance(
        Point(t.shape.centroid.x + u[1], t.shape.centroid.y - u[0])) else (-u[1], u[0])
    across = translate(t.shape, out[0] * bit / 2, out[1] * bit / 2)
    left = across.difference(unary_union([swath(*way) for way in cut if way[0].distance(t.shape) < 2 * bit])).length
    want = width - bit / 2 * sum(1 for side in sides.values() if side)
    if left < 0.4 * width - HAIR:
        board.says("%s leaves %.4f mm of %.4f mm halfway along its slots" % (t, left, width))
    if abs(left - want) > 10 * HAIR:
        board.says("%s keeps %.4f mm halfway along its slots, not %.4f mm" % (t, left, want))


def ways(board, name):
    """The ways of a file's bits, each with the width that is cut."""
    for stroke in board.files.get(name, {"paths": []})["paths"]:
        run = []
        for step in stroke["path"]:
            if run and run[-1]["end"][:2] != step["start"][:2]:
                yield LineString(points(run)), stroke["width"]
                run = []
            run.append(step)
        if run:
            yield LineString(points(run)), stroke["width"]


def swath(line, d):
    """All that a bit sweeps whose middle goes along a line."""
    return line.buffer(d / 2, resolution=64)
