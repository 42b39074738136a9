"""What planes, and the runs of theirs, give way to: how far, layer by layer."""
from shapely.ops import unary_union
from shapely.geometry import Polygon

POURED = {"feature", "pin", "land of a half hole", "pad of a via", "land of a hole"}
DRILLED = {"half hole", "via", "plated hole"}


def gives_way(board, level):
    """The pieces that copper of a layer gives way to, each with the distance."""
    planes = {p.net for p in board.planes(level)}
    limits = board.limits
    for p in board.on(level):
        if p.kind in ("unplated hole", "perforation"):
            yield p, board.edge_limit(level)
        elif p.net is not None and p.net in planes:
            continue
        elif p.kind in POURED and planes or p.kind in DRILLED and (planes or not board.outer(level)):
            yield p, limits["copper_clearance"]
        elif p.kind == "wrap" and planes:
            yield p, limits["wrap_clearance"]
        elif p.kind == "strip" and planes:
            yield p, limits["inner_clearance"]


def rooms(board, level):
    return [(p, by, p.shape.buffer(by, resolution=12)) for p, by in gives_way(board, level)]


def whole(rooms):
    return unary_union([r for _, _, r in rooms]) if rooms else Polygon()
