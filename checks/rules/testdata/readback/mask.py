"""Mask openings: those of the map, with webs between them."""
from board import HAIR, band, both, differ, less, thick, union
from shapely.ops import unary_union

PAST = 0.5  # mm, how far past the profile mask is opened, or as far as the copper is drawn
BARED = ("wrap", "run of a plane", "half hole", "land of a half hole", "via", "pad of a via", "plated hole", "land of a hole", "pin", "feature")
OVER = ("wrap", "run of a plane", "half hole", "land of a half hole")


def hold(board):
    for level, face in ((0, "top"), (len(board.levels) - 1, "bottom")):
        image = board.image("mask_%s_open.gbr" % face).all
        openings = board.on(level, "mask opening")
        reliefs = [o for o in openings if "over" in o.figures]
        want, got = both(union(reliefs), board.region), both(image, board.region)
        board.none("mask opened on %s where the map has none" % face, less(thick(got), want))
        board.none("mask not opened on %s where the map has it open" % face, less(thick(want), got))
        past = max([PAST] + [w.figures["extend"] for w in board.of("wall")])
        near = unary_union([band(p.paths, past + HAIR) for p in board.of("wall", "bare edge")] +
                           [o.shape.buffer(past + HAIR, join_style=2) for o in reliefs if o.own is not None])
        board.none("mask opened on %s far past the profile" % face, less(less(image, board.region), near))
        for i, a in enumerate(openings):
            part = a.shape
            if a in reliefs:
                part = both(got, a.shape)
                bares(board, level, a, part)
            for b in openings[i + 1:]:
                d = part.distance(b.shape)
                board.count("webs")
                if HAIR < d < board.limits["mask_web"] - HAIR:
                    board.says("web on %s between %s and %s: %.4f mm, at least %.4f mm" % (face, a, b, d, board.limits["mask_web"]))


def bares(board, level, relief, part):
    """A relief bares no copper of another net than what it is over."""
    for c in board.on(level, *BARED):
        if differ(relief, c) and part.distance(c.shape) == 0 and not (c.item == relief.figures["over"] and c.kind in OVER):
            board.none("%s bares %s" % (relief, c), both(part, c.shape))
