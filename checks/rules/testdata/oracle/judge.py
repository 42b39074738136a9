"""Holds pieces against pieces by the rows that are registered."""

import math

from geometry import FAR, TOL, near


def apart(b, a):
    """From one piece to another: at least and at most. Below 0 they overlap."""
    if a.kind == "opening" and a.x.get("square") is not None or b.kind == "opening" and b.x.get("square") is not None:
        sa, sb = a.x.get("square"), b.x.get("square")
        ga, ra = (sa, 0.0) if sa is not None else (a.big, a.r)
        gb, rb = (sb, 0.0) if sb is not None else (b.big, b.r)
        lo, hi = measure(ga, ra, gb, rb), measure(a.g, a.r, b.g, b.r)
        return min(lo, hi), max(lo, hi)
    hi = measure(a.g, a.r, b.g, b.r)
    if a.big is a.g and b.big is b.g:
        return hi, hi
    return min(hi, measure(a.big, a.r, b.big, b.r)), hi


SHRUNK = {}  # by identity and depth, a board's; with the shape itself, so that it stays


def shrunk(g, d):
    key = (id(g), d)
    if key not in SHRUNK:
        SHRUNK[key] = (g, g.buffer(-d))
    return SHRUNK[key][1]


def measure(g, r, h, s):
    d = g.distance(h)
    if d > 0:
        return d - r - s
    if g.is_empty or h.is_empty:
        return math.inf
    if r + s > 0:
        return -(r + s)
    # Two outlines that meet: do they overlap by more than a sliver?
    if g.area > 0 and h.area > 0:
        return -1.0 if shrunk(g, TOL / 2).intersects(shrunk(h, TOL / 2)) else 0.0
    if g.area > 0 or h.area > 0:
        flat, line = (g, h) if g.area > 0 else (h, g)
        return -1.0 if shrunk(flat, TOL).intersects(line) else 0.0
    common = g.intersection(h)
    return -1.0 if common.length > TOL or g.crosses(h) else 0.0


class Judge:
    def __init__(self, board):
        self.b = board
        # A cutout that crosses another profile: what is edge there means nothing,
        # so that pairs beside it are not asked for.
        self.crossed = False
        self.crossing = []
        for c in board.cutouts:
            for q in board.profiles:
                if q is not c and (q.line.distance(c.line) <= TOL or q is board.outline and not q.area.contains(c.area) or q is not board.outline and q.area.intersects(c.area)):
                    self.crossing.append(c.box)
        self.off = {}  # what lies off the board
        self.found = {}  # (rule, items) to [margin at most, margin at least, kinds, distance, need]

    def say(self, rule, items, kinds, lo, hi, need, maybe=False, row=None):
        """A pair whose distance is between lo and hi, held to need."""
        if lo - need > FAR and kinds[0] != "gap":
            return
        key = (rule, tuple(sorted(set(items))))
        if self.crossed and rule != "cutout_outside":
            maybe, lo, hi = True, need, need
        if rule == "edge_pullback" and items and items[0] in self.off and (len(items) == 1 or self.off[items[0]]):
            maybe = True  # it lies off the board: one cause
        self.found.setdefault(key, []).append((hi - need, lo - need, row or "-".join(sorted(kinds)), lo, need, maybe))

    def limit_of(self, a, b):
        """Copper to a bare edge, by the layers that it is on."""
        l = self.b.limit
        need = 0.0
        for layer in a.layers & b.layers:
            need = max(need, l["edge_clearance_outer"] if layer in self.b.outer else l["edge_clearance_inner"])
        return need

    def pair(self, a, b):
        for rule in RULES.get((a.kind, b.kind), ()):
            rule(self, a, b)
        if a.kind != b.kind:
            for rule in RULES.get((b.kind, a.kind), ()):
                rule(self, b, a)

    def run(self, whole):
        whole.off_board(self)
        SHRUNK.clear()
        ps = self.b.pieces
        reach = self.b.reach
        limit = self.b.limit
        # Farther apart than the most that any line asks of most kinds, nothing is measured.
        wide = {("body", "tab"): reach, ("barrel", "wall"): limit["gap_width"] + FAR, ("wall", "wall"): limit["gap_width"] + FAR,
                ("cutout", "cutout"): limit["neck"] + FAR, ("tab", "tab"): limit["router_bit"] + FAR}
        usual = max(v for k, v in limit.items() if k not in ("tab_connector", "gap_width", "neck", "router_bit")) + FAR
        order = sorted(ps, key=lambda p: p.box[0])
        active = []
        for p in order:
            active = [q for q in active if q.box[2] + reach >= p.box[0]]
            for q in active:
                if ((p.kind, q.kind) in RULES or (q.kind, p.kind) in RULES) and near(p.box, q.box, wide.get((min(p.kind, q.kind), max(p.kind, q.kind)), usual)):
                    self.crossed = any(near(x.box, c, 2.5) for c in self.crossing for x in (p, q))
                    self.pair(q, p)
            active.append(p)
        self.crossed = False
        whole.single(self)
        return self.found


RULES = {}


def row(kinds, others):
    """Registers a rule for every one of kinds with every one of others."""
    def register(f):
        seen = set()
        for a in kinds.split():
            for b in others.split():
                if (a, b) in seen or (b, a) in seen:
                    continue
                seen.add((a, b))
                RULES.setdefault((a, b), []).append(f)
        return f
    return register


def two_nets(a, b):
    return a.net != b.net


def shared(a, b):
    return a.layers & b.layers


def same_piece(a, b):
    return a.item == b.item


def way_between(a, b):
    """The bare way along one profile between two stretches; inf on two."""
    if a.x["profile"] is not b.x["profile"]:
        return math.inf, False
    p = a.x["profile"]
    ways = []
    for x, y in ((a, b), (b, a)):
        w = (y.x["a"] - x.x["b"]) % p.len
        if w > p.len - 1e-6:
            w = 0.0
        if w <= p.len - (x.x["b"] - x.x["a"]) - (y.x["b"] - y.x["a"]) + 1e-6:
            one = len(p.pieces(x.x["b"], x.x["b"] + w)) <= 1 if w > 1e-6 else False
            ways.append((w, one))
    return min(ways) if ways else (0.0, False)
