"""Routs: the profile is cut once and whole but for the roots of tabs, by bits that
the shop has, that cut nothing else and leave tabs a waist."""
import os

from board import HAIR, both, points, union
from shapely.affinity import translate
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

FILES = ("rout_plated.xnc", "rout_final.xnc")


def hold(board):
    cut = {name: list(paths(board, name)) for name in FILES}
    walls = union(board.of("wall"))
    bare = unary_union([e.shape for e in board.of("bare edge") if 0 in e.layers])
    tabs = board.of("tab")
    for name, want in ((FILES[0], walls), (FILES[1], bare)):
        lines = [line for line, _, _ in cut[name]]
        got = unary_union(lines) if lines else LineString()
        board.count("routs", len(lines))
        rest = got.difference(want.buffer(HAIR))
        if rest.length > 10 * HAIR:
            board.says("%s cuts %.4f mm that are not its own, at %s" % (name, rest.length, rest.representative_point()))
        for t in tabs:
            if got.intersection(t.shape.buffer(HAIR)).length > 4 * HAIR:
                board.says("%s cuts the root of %s" % (name, t))
        left = want.difference(got.buffer(HAIR)).difference(unary_union([t.shape.buffer(HAIR) for t in tabs]))
        if left.length > 10 * HAIR:
            board.says("%s leaves %.4f mm uncut, at %s" % (name, left.length, left.representative_point()))
        for line, d, right in cut[name]:
            if d < board.limits["router_bit"] - HAIR:
                board.says("%s takes a bit of %.4f mm, at least %.4f mm" % (name, d, board.limits["router_bit"]))
            swept = swath(line, d, right)
            board.none("%s, a bit of %g mm cuts the board" % (name, d), both(swept, board.region))
    for t in tabs:
        if "body" in t.figures:
            waist(board, cut, t)


def waist(board, cut, t):
    """What the bits leave of a tab on a straight edge, halfway along slots of their own width."""
    body, width = Polygon(points(t.figures["body"])), t.figures["width"]
    near = [(line, d, right) for name in FILES for line, d, right in cut[name] if line.distance(t.shape) < HAIR]
    if not near:
        return
    board.count("waists of tabs")
    bit = near[0][1]
    (x1, y1), (x2, y2) = t.shape.geoms[0].coords[0], t.shape.geoms[0].coords[-1]
    u = ((x2 - x1) / width, (y2 - y1) / width)
    out = (u[1], -u[0]) if body.centroid.distance(t.shape.centroid) > body.centroid.distance(
        Point(t.shape.centroid.x + u[1], t.shape.centroid.y - u[0])) else (-u[1], u[0])
    across = translate(t.shape, out[0] * bit / 2, out[1] * bit / 2)
    left = across.difference(unary_union([swath(*path) for path in near])).length
    if left < 0.4 * width - HAIR:
        board.says("%s leaves %.4f mm of %.4f mm halfway along its slots" % (t, left, width))
    if any(d != bit for _, d, _ in near):
        board.says("two bits cut beside %s" % t)
    if left > width - bit * len(near) / 2 + 10 * HAIR:
        board.says("%s keeps %.4f mm halfway along its slots, not %.4f mm" % (t, left, width - bit * len(near) / 2))


def paths(board, name):
    """The paths of a file, each with its bit's diameter and whether that lies to the right."""
    file = board.files.get(name)
    if not file:
        return
    with open(os.path.join(board.folder, name), encoding="utf-8") as text:
        sides = [line[:3] == "G42" for line in text if line[:3] in ("G41", "G42")]
    runs = []
    for stroke in file["paths"]:
        run = []
        for step in stroke["path"]:
            if run and run[-1]["end"][:2] != step["start"][:2]:
                runs.append((run, stroke["width"]))
                run = []
            run.append(step)
        runs.append((run, stroke["width"]))
    if len(runs) != len(sides):
        board.says("%s: %d paths are read of %d" % (name, len(runs), len(sides)))
        return
    for (run, width), right in zip(runs, sides):
        yield LineString(points(run)), width, right


def swath(line, d, right):
    """All that a bit cuts that runs beside a path."""
    if line.coords[0] == line.coords[-1]:
        ring = Polygon(line)
        out = ring.exterior.is_ccw == right
        return ring.buffer(d / 2 if out else -d / 2, resolution=64).boundary.buffer(d / 2, resolution=64)
    beside = line.parallel_offset(d / 2, "right" if right else "left", resolution=64)
    return beside.buffer(d / 2, resolution=64)
