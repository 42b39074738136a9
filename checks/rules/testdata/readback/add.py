"""Copper to add: it is what the map has, and keeps the limits of the pairs."""
from board import HAIR, band, both, differ, joined, less, thick, union
from room import rooms, whole
from shapely.geometry import Polygon
from shapely.ops import unary_union

ADDED = ("wrap", "strip", "run of a plane", "land of a half hole", "land of a hole")
SURFACE = {"land of a half hole", "half hole", "pin", "feature", "via", "pad of a via", "plated hole", "land of a hole"}
LIMITS = ("wrap_clearance", "inner_clearance", "launch_clearance", "copper_clearance", "edge_clearance_outer", "edge_clearance_inner")
LANDS = {"land of a half hole", "land of a hole"}


def added(board, level):
    """What the layer adds: not the pads of vias that the artwork has itself."""
    return board.on(level, *ADDED) + [p for p in board.on(level, "pad of a via") if p.figures["added"]]


def hold(board):
    for level in range(len(board.levels)):
        image = board.layer(level, "add")
        same_as_map(board, level, image)
        past_profile(board, level, image)
        nets(board, level, image)
        shown = {net: both(shape, board.region) for net, shape in image.by_net.items()}
        fast = union([p for p in added(board, level) if p.kind != "run of a plane"])
        others = [p for p in board.on(level) if p.kind != "plane"]
        most = max([board.limits[name] for name in LIMITS] + [p.figures["clearance"] for p in board.of("pin")])
        for a in added(board, level):
            part = both(shown.get(a.net, Polygon()), a.shape)
            if a.kind == "run of a plane":
                part = solid(less(part, fast))
            if part.is_empty:
                continue
            bounds = part.bounds
            for b in others:
                if b is not a and not beyond(bounds, b.bounds, most):
                    pair(board, level, a, part, b)


def solid(shape):
    """An area without what of it is so thin that rounding makes it: seams of areas
    taken away, and slivers between the chords of one arc, that lead on from it too."""
    return both(shape, thick(shape).buffer(1.5 * HAIR))


def same_as_map(board, level, image):
    """On the board the image of each net is what the map has of it: wraps,
    strips and lands whole, runs less what they give way to; whether they reach
    a bare edge is held by their distance."""
    room = whole(rooms(board, level))
    along = unary_union([band(e.paths, board.edge_limit(level) + HAIR) for e in board.on(level, "bare edge")])
    for net in {p.net for p in added(board, level)} | set(image.by_net):
        own = [p for p in added(board, level) if p.net == net]
        runs = less(union([p for p in own if p.kind == "run of a plane"]), room)
        want = both(joined(runs, union([p for p in own if p.kind != "run of a plane"])), board.region)
        got = both(image.by_net.get(net, Polygon()), board.region)
        what = "copper to add on %s, net %s" % (board.levels[level], net)
        board.none(what + ", that is not in the map", less(thick(got), want))
        board.none(what + ", that the map has and is not added", less(less(thick(want), got), both(runs, along)))


def past_profile(board, level, image):
    """Past the profile it is along walls of its net, as far as these say."""
    for net, shape in image.by_net.items():
        walls = [band(w.paths, w.figures["extend"] + HAIR) for w in board.of("wall") if w.net == net]
        board.none("copper past the profile on %s, net %s, not along its walls" % (board.levels[level], net),
                   less(less(thick(shape), board.region), unary_union(walls)))


def nets(board, level, image):
    """No two nets share copper."""
    list_of = sorted(image.by_net.items(), key=lambda x: str(x[0]))
    for i, (a, one) in enumerate(list_of):
        for b, other in list_of[i + 1:]:
            board.none("nets %s and %s share copper to add on %s" % (a, b, board.levels[level]), both(one, other))


def limit(board, level, a, b):
    """How far a piece of copper to add keeps from another piece: a limit, 0
    where they may not overlap, None where they are not held."""
    limits, edge = board.limits, board.edge_limit(level)
    if a.kind == "wrap" and b.kind == "unplated hole" or a.kind in ("strip", "run of a plane") + tuple(LANDS) and b.kind in ("unplated hole", "perforation"):
        return edge
    if a.kind in ADDED and b.kind == "bare edge":
        return edge
    if a.kind == "wrap" and b.kind == "cutout" and a.profile != b.profile:
        return 0
    if not differ(a, b):
        return None
    if a.kind == "wrap":
        if b.kind == "pin":
            return max(limits["launch_clearance"], b.figures["clearance"])
        if b.kind == "wrap" or b.kind == "run of a plane" or b.kind in SURFACE - {"pin"}:
            return limits["wrap_clearance"]
    if a.kind == "strip" and b.kind in ("feature", "via", "plated hole", "half hole", "wall"):
        return limits["inner_clearance"]
    if a.kind == "run of a plane":
        if b.kind in SURFACE:
            return limits["copper_clearance"]
        if b.kind == "wall" and not board.outer(level):
            return limits["inner_clearance"]
        if b.kind == "wrap":
            return limits["wrap_clearance"]
    if a.kind in ("strip", "run of a plane") and b.kind in ("strip", "run of a plane"):
        return 0
    if a.kind in LANDS:
        if b.kind in SURFACE and not (a.of == b.of and a.member == b.member):
            return limits["copper_clearance"]
        if b.kind == "wrap":
            return limits["wrap_clearance"]
    return None


def beyond(a, b, least):
    """Whether two shapes are farther apart than a limit, as their bounds tell."""
    return max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3]) > least


def pair(board, level, a, part, b):
    least = limit(board, level, a, b)
    if least is None:
        return
    what = "%s and %s on %s" % (a, b, board.levels[level])
    if least == 0:
        board.none(what + " overlap", both(part, b.shape))
        return
    other = b.shape
    if b.kind == "bare edge":
        other = held_edge(a, b, board.edge_limit(level))
        if other.is_empty:
            return
    board.apart(what, part, other, least)


def held_edge(a, edge, least):
    """What of a bare edge a wrap, a strip or a land is held to: not the edge that
    a land stands on, nor what goes on near the end of that or of a stretch."""
    line = edge.shape
    if a.profile != edge.profile and a.kind != "run of a plane":
        return line
    if a.own is not None:
        line = line.difference(a.own.buffer(HAIR))
    for end in a.ends if a.kind != "run of a plane" else edge.ends:
        if a.kind == "run of a plane" or a.own is not None or end.distance(edge.shape) < HAIR:
            line = line.difference(end.buffer(least * 1.5))
    return line
