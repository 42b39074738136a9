"""Routs: the profile is cut once and whole, tabs left standing, by bits that the
shop has and that cut nothing else."""
import os

from board import HAIR, both, points, union
from shapely.geometry import LineString, Polygon
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
            if lines and got.distance(t.shape) < min(d for _, d, _ in cut[name]) / 4:
                board.says("%s cuts into %s" % (name, t))
        bits = max([d for name in FILES for _, d, _ in cut[name]], default=0)
        left = want.difference(got.buffer(HAIR)).difference(unary_union([t.shape.buffer(bits / 2 + HAIR) for t in tabs]))
        if left.length > 10 * HAIR:
            board.says("%s leaves %.4f mm uncut, at %s" % (name, left.length, left.representative_point()))
        for line, d, right in cut[name]:
            if d < board.limits["router_bit"] - HAIR:
                board.says("%s takes a bit of %.4f mm, at least %.4f mm" % (name, d, board.limits["router_bit"]))
            swept = swath(line, d, right)
            board.none("%s, a bit of %g mm cuts the board" % (name, d), both(swept, board.region))
            for t in tabs:
                board.count("routs beside tabs")
                if "body" in t.figures:
                    board.none("%s, a bit of %g mm cuts %s" % (name, d, t), both(swept, Polygon(points(t.figures["body"]))))


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
