"""Drills: the holes of the map, as far apart and from edges as the pairs ask."""
import math

from board import HAIR
from shapely.geometry import Point

HOLES = ("via", "plated hole", "unplated hole")
FILES = {"drill_plated.xnc": ("half hole", "via", "plated hole"), "drill_unplated.xnc": ("perforation", "unplated hole")}


def hold(board):
    holes = []
    for name, kinds in FILES.items():
        # The vias of a fence that is not added are drilled by the artwork's own files.
        left, own_files = [], []
        for p in board.of(*kinds):
            (own_files if p.figures.get("added") is False else left).append(p)
        file = board.files.get(name, {})
        for tool, x, y in file.get("pads", []):
            d = file["tools"][tool]
            want = (x - d / 2, y - d / 2, x + d / 2, y + d / 2)
            own = [p for p in left if all(abs(have - b) < HAIR for have, b in zip(p.bounds, want))]
            if not own:
                board.says("%s: a hole of %g mm at (%g, %g) that the map has not" % (name, d, x, y))
                continue
            left.remove(own[0])
            holes.append((own[0], (x, y), d / 2))
        for p in left:
            board.says("%s: %s is not drilled" % (name, p))
        for p in own_files:
            west, south, east, north = p.bounds
            holes.append((p, ((west + east) / 2, (south + north) / 2), (east - west) / 2))
    edges = board.of("bare edge", "wall")
    for i, (a, at, r) in enumerate(holes):
        for b, there, s in holes[i + 1:]:
            least = limit(board, a, b)
            if least is not None:
                board.count("webs of holes")
                web = math.dist(at, there) - r - s
                if web < least - HAIR:
                    board.says("web between %s and %s: %.4f mm, at least %.4f mm" % (a, b, web, least))
        profile(board, a, Point(at), r, edges)


def box(bounds, at):
    """How far a point is at least from a shape that has these bounds."""
    west, south, east, north = bounds
    return max(west - at.x, at.x - east, south - at.y, at.y - north)


def limit(board, a, b):
    kinds = {a.kind, b.kind}
    if kinds & set(HOLES):
        return board.limits["hole_web"]
    if kinds == {"half hole"}:
        return board.limits["castellation_spacing"]
    if kinds == {"perforation"} and a.of == b.of:
        return board.limits["perforation_web"]
    return None


def profile(board, hole, at, r, edges):
    """Holes keep from the profile, a tab's from cutouts that it does not stand on."""
    least = {"via": "fence_inset", "plated hole": "hole_edge", "unplated hole": "hole_edge"}.get(hole.kind)
    if least:
        for e in edges:
            board.count("holes and edges")
            if box(e.bounds, at) < r + board.limits[least] and at.distance(e.shape) - r < board.limits[least] - HAIR:
                board.says("%s and %s: %.4f mm, at least %.4f mm" % (hole, e, at.distance(e.shape) - r, board.limits[least]))
    if hole.kind == "perforation":
        tab = next(t for t in board.of("tab") if t.of == hole.of)
        for c in board.of("cutout"):
            if c.profile != tab.profile:
                board.apart("%s and %s" % (hole, c), at.buffer(r, resolution=12), c.shape, board.limits["hole_web"])
