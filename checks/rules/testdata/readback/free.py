"""What is kept free of copper: all the room that is given, and no more of the
board; nothing of what the text states as copper."""
from board import HAIR, band, both, joined, less, thick, union
from room import rooms
from shapely.ops import unary_union

STATED = ("feature", "pin", "land of a half hole", "wrap", "strip", "land of a hole", "pad of a via")


def hold(board):
    for level in range(len(board.levels)):
        name = board.levels[level]
        free, added = board.layer(level, "free").all, board.layer(level, "add").all
        core = thick(free)  # boundaries that lie on each other are slow to work out
        stated = union(board.on(level, *STATED))
        board.none("kept free on %s, and added" % name, both(core, added))
        board.none("kept free on %s of what is stated" % name, both(both(core, board.region), stated))
        given, strips = rooms(board, level), list(along(board, level))
        room = unary_union([r for _, _, r in given] + [r for _, r in strips])
        board.count("rooms", len(given) + len(strips))
        rest = less(both(thick(room), board.region), joined(stated, added).buffer(HAIR / 2))
        if not thick(less(rest, free)).is_empty:
            for what, shape in [("%g mm round %s" % (by, p), r) for p, by, r in given] + strips:  # which of them
                board.none("not kept free on %s, %s" % (name, what), less(both(rest, shape), free))
        board.none("kept free on %s for no reason" % name, less(both(core, board.region), room))
        past = max([w.figures["extend"] for w in board.of("wall")], default=0)
        bare = unary_union([band(e.paths, past + HAIR) for e in board.on(level, "bare edge")])
        board.none("kept free on %s past the profile for no reason" % name, less(less(less(core, board.region), room), bare))


def along(board, level):
    """The strips along profiles: at bare edges, at walls that the layer does not
    join, in gaps, at tabs."""
    clear = board.edge_limit(level)
    for e in board.on(level, "bare edge"):
        yield "%g mm along %s" % (clear, e), band(e.paths, clear)
    copper = board.on(level, "wrap", "strip", "run of a plane")
    for w in board.of("wall"):
        if any(c.of == w.of for c in copper):
            continue
        keeps = min([board.limits["inner_clearance"]] + [p.figures["pullback"] for p in board.planes(level) if p.net == w.net])
        yield "%g mm along %s" % (keeps, w), band(w.paths, keeps)
    for g in board.gaps:
        if board.outer(level) and g["deep"][level] > clear:
            yield "a gap", band([g["line"]], g["deep"][level])
    for t in board.tabs:
        yield "a tab", band([t["line"]], max(clear, t["deep"][level] + clear if t["deep"][level] else 0))

