"""Holds every two things on a board against each other, with shapely.

It reads boards as JSON on its standard input: plain coordinates and figures in
millimetres, as the generator of pairs_oracle_board_test.go has placed them. It
knows nothing of hemline's model. Shapes are rebuilt here, arcs as chords that
lie less than 0.25 um off. What each pair is held to follows the language's
reference and the limits' table alone.

The answer has, for each board, what must be found (within what is certain),
what may be (within 2 um of a limit, or where two readings are as good), and
for the count how near each two kinds came.
"""

import json
import math
import sys
import traceback
from multiprocessing import Pool

from shapely.geometry import LineString, MultiLineString, Point, Polygon
from shapely.ops import unary_union

TOL = 0.002  # mm: nearer to a limit than this nothing is asked
SAG = 0.0004  # mm: a chord's distance from its arc, at most
FAR = 1.0  # mm beyond its limit a pair is no longer counted as near
STRIP = 0.3  # mm of a wall's own copper on an inner layer

# The built-in limits, from the language's reference.
LIMITS = {
    "wrap_clearance": 0.254, "inner_clearance": 0.5, "gap_width": 2.0, "router_bit": 0.8, "neck": 1.0,
    "edge_clearance_outer": 0.25, "edge_clearance_inner": 0.4, "launch_clearance": 0.254, "tab_gap": 0.5,
    "tab_connector": 2.5, "castellation_spacing": 0.55, "mask_margin": 0.075, "mask_web": 0.1,
    "fence_inset": 0.5, "copper_clearance": 0.15, "hole_web": 0.3, "hole_edge": 0.5, "body_clearance": 0.5,
}


# ---- plane geometry


def arc_points(c, r, a, sweep):
    n = max(2, int(math.ceil(abs(sweep) / math.sqrt(8 * SAG / max(r, 0.01)))))
    return [(c[0] + r * math.cos(a + sweep * i / n), c[1] + r * math.sin(a + sweep * i / n)) for i in range(n + 1)]


def disk(c, r):
    return Polygon(arc_points(c, r, 0, 2 * math.pi)[:-1])


class Seg:
    """A piece of a profile: a line, or an arc about c."""

    def __init__(self, j):
        self.edge = j["e"]
        self.p, self.q = tuple(j["p"]), tuple(j["q"])
        self.zero, self.dir = j["z"], j["d"]
        self.c = tuple(j["c"]) if j.get("c") else None
        if self.c:
            self.r = math.dist(self.c, self.p)
            self.a = math.atan2(self.p[1] - self.c[1], self.p[0] - self.c[0])
            b = math.atan2(self.q[1] - self.c[1], self.q[0] - self.c[0])
            sweep = b - self.a
            if j.get("cw"):
                while sweep >= -1e-9:
                    sweep -= 2 * math.pi
            else:
                while sweep <= 1e-9:
                    sweep += 2 * math.pi
            self.sweep = sweep
            self.len = abs(sweep) * self.r
        else:
            self.len = math.dist(self.p, self.q)

    def at(self, t):
        if self.c:
            a = self.a + self.sweep * t / self.len
            return (self.c[0] + self.r * math.cos(a), self.c[1] + self.r * math.sin(a))
        k = t / self.len
        return (self.p[0] + (self.q[0] - self.p[0]) * k, self.p[1] + (self.q[1] - self.p[1]) * k)

    def tangent(self, t):
        if self.c:
            a = self.a + self.sweep * t / self.len
            k = 1 if self.sweep > 0 else -1
            return (-math.sin(a) * k, math.cos(a) * k)
        return ((self.q[0] - self.p[0]) / self.len, (self.q[1] - self.p[1]) / self.len)

    def points(self, t0, t1):
        if self.c:
            return arc_points(self.c, self.r, self.a + self.sweep * t0 / self.len, self.sweep * (t1 - t0) / self.len)
        return [self.at(t0), self.at(t1)]

    def band(self, t0, t1, side, w):
        """What lies up to w from the piece on its board's side."""
        if self.c:
            inner = self.r - w * side * (1 if self.sweep > 0 else -1)
            a, s = self.a + self.sweep * t0 / self.len, self.sweep * (t1 - t0) / self.len
            if inner <= 0.001:
                return Polygon([self.c] + arc_points(self.c, self.r, a, s)).buffer(0)
            return Polygon(arc_points(self.c, self.r, a, s) + arc_points(self.c, inner, a, s)[::-1]).buffer(0)
        t = self.tangent(0)
        n = (-t[1] * side * w, t[0] * side * w)
        p, q = self.at(t0), self.at(t1)
        return Polygon([p, q, (q[0] + n[0], q[1] + n[1]), (p[0] + n[0], p[1] + n[1])])


class Boxed:
    """A shape and its box."""

    def __init__(self, g):
        self.g, self.bounds_ = g, g.bounds


class Profile:
    def __init__(self, j):
        self.name, self.kept = j["name"], None
        self.bare = []  # stretches, once the platings are known
        self.segs = [Seg(s) for s in j["segs"]]
        self.start = []
        s = 0.0
        for g in self.segs:
            self.start.append(s)
            s += g.len
        self.len = s
        ring = []
        for g in self.segs:
            ring += g.points(0, g.len)[:-1]
        self.area = Polygon(ring)
        ccw = self.area.exterior.is_ccw
        self.side = (1 if ccw else -1) * (1 if not self.name else -1)
        self.line = LineString(ring + ring[:1])
        self.box = self.line.bounds
        self.edges = {}  # name to (index of its first piece, positions at both ends)
        for i, g in enumerate(self.segs):
            if g.edge:
                self.edges.setdefault(g.edge, []).append(i)

    def along(self, edge, pos):
        """The way along the profile to a position on one of its edges."""
        list_ = self.edges[edge]
        total = sum(self.segs[i].len for i in list_)
        first = self.segs[list_[0]]
        t = (pos - first.zero) * first.dir
        return self.start[list_[0]] + min(max(t, 0.0), total)

    def locate(self, s):
        s %= self.len
        for i in range(len(self.segs) - 1, -1, -1):
            if s >= self.start[i] - 1e-12:
                return self.segs[i], min(s - self.start[i], self.segs[i].len)
        return self.segs[0], 0.0

    def frame(self, edge, pos):
        """The point at a position (outside its edge too), the direction along and inward."""
        list_ = self.edges[edge]
        total = sum(self.segs[i].len for i in list_)
        first = self.segs[list_[0]]
        t = (pos - first.zero) * first.dir
        s = min(max(t, 0.0), total)
        for i in list_:
            g = self.segs[i]
            if s <= g.len + 1e-9:
                break
            s -= g.len
        tan = g.tangent(s)
        p = g.at(s)
        over = t - min(max(t, 0.0), total)
        p = (p[0] + tan[0] * over, p[1] + tan[1] * over)
        return p, tan, (-tan[1] * self.side, tan[0] * self.side)

    def pieces(self, a, b):
        """The pieces (segment, from, to) of the stretch from a to b, b > a."""
        out = []
        k = math.floor(a / self.len)
        base = k * self.len
        while base < b:
            for i, g in enumerate(self.segs):
                t0 = max(0.0, a - base - self.start[i])
                t1 = min(g.len, b - base - self.start[i])
                if t1 - t0 > 1e-9:
                    out.append((g, t0, t1))
            base += self.len
        return out

    def bare_parts(self):
        """What is bare, in parts that are kept, with their boxes."""
        if self.kept is None:
            self.kept = [(x, y, Boxed(self.path(x, y))) for c, d in self.bare for x, y in self.chopped(c, d)]
        return self.kept

    def chopped(self, a, b):
        """The stretch from a to b in parts, where arcs make it of many chords."""
        if all(not g.c for g, _, _ in self.pieces(a, b)):
            return [(a, b)]
        n = max(1, int((b - a) / 4))
        return [(a + (b - a) * i / n, a + (b - a) * (i + 1) / n) for i in range(n)]

    def path(self, a, b):
        pts = []
        for g, t0, t1 in self.pieces(a, b):
            more = g.points(t0, t1)
            pts += more if not pts else more[1:]
        return LineString(pts)

    def band(self, a, b, w):
        """As a wrap lies: square ends, rounded where it turns round a concave corner."""
        ps = self.pieces(a, b)
        parts = [g.band(t0, t1, self.side, w) for g, t0, t1 in ps]
        joints = list(zip(ps, ps[1:]))
        if b - a > self.len - 1e-9:
            joints.append((ps[-1], ps[0]))
        for (g, _, t1), (h, u0, _) in joints:
            m, n = g.tangent(t1), h.tangent(u0)
            cross, dot = m[0] * n[1] - m[1] * n[0], m[0] * n[0] + m[1] * n[1]
            turn = math.atan2(cross, dot)
            if turn * self.side < -1e-6:
                a0 = math.atan2(m[0] * self.side, -m[1] * self.side)
                parts.append(Polygon([g.at(t1)] + arc_points(g.at(t1), w, a0, turn)))
        return unary_union(parts)


def minus(intervals, a, b, length):
    """Circular intervals (within [0, length)) without the one from a to b."""
    cut = []
    a0 = a % length
    b0 = a0 + (b - a)
    cut.append((a0, min(b0, length)))
    if b0 > length:
        cut.append((0.0, b0 - length))
    for c, d in cut:
        out = []
        for x, y in intervals:
            if d <= x or c >= y:
                out.append((x, y))
                continue
            if c > x:
                out.append((x, c))
            if d < y:
                out.append((d, y))
        intervals = out
    return [(x, y) for x, y in intervals if y - x > 1e-7]


def joined(intervals, length):
    """Sorted stretches, those that meet as one; the last may run over the start."""
    out = []
    for x, y in sorted(intervals):
        if out and x <= out[-1][1] + 1e-7:
            out[-1] = (out[-1][0], max(out[-1][1], y))
        else:
            out.append((x, y))
    if len(out) > 1 and out[0][0] < 1e-7 and out[-1][1] > length - 1e-7:
        first = out.pop(0)
        out[-1] = (out[-1][0], length + first[1])
    return out


# ---- what lies on a board


class Piece:
    """A thing of one kind. g is what it surely covers, big what it may cover;
    r is a radius round g, so that round things stay points."""

    __slots__ = ("kind", "item", "net", "layers", "g", "big", "r", "x", "box")

    def __init__(self, kind, item, net, layers, g, r=0.0, big=None, **x):
        self.kind, self.item, self.net, self.layers, self.g, self.r, self.x = kind, item, net, frozenset(layers), g, r, x
        self.big = big if big is not None and not big.is_empty else g
        b = self.big.bounds
        self.box = (b[0] - r, b[1] - r, b[2] + r, b[3] + r)


class Board:
    def __init__(self, j):
        for k, v in list(j.items()):
            if v is None:
                j[k] = []
        self.j = j
        self.limit = dict(LIMITS, **j["limits"])
        self.layers = j["layers"]
        self.outer = [self.layers[0], self.layers[-1]]
        self.inner = self.layers[1:-1]
        self.profiles = [Profile(p) for p in j["profiles"]]
        self.outline, self.cutouts = self.profiles[0], self.profiles[1:]
        self.of_edge = {e: p for p in self.profiles for e in p.edges}
        self.area = self.outline.area
        for c in self.cutouts:
            self.area = self.area.difference(c.area)
        self.wide, self.rim = self.area.buffer(1e-6), self.area.boundary
        self.pieces = []
        self.unnamed = 0
        self.plated()
        self.items()
        self.planes()

    def net(self, name):
        if name:
            return name
        self.unnamed += 1
        return ("none", self.unnamed)

    def add(self, *a, **k):
        if not a[4].is_empty:
            self.pieces.append(Piece(*a, **k))

    def plated(self):
        self.walls = {}  # plating to [(profile, from, to)]
        self.unsure = set()  # platings whose corners two readings share out
        straight = {}
        for pl in self.j["platings"]:
            for i, p in enumerate(self.profiles):
                cover = []
                for s in pl["along"]:
                    if s["edge"] not in p.edges:
                        continue
                    if s.get("whole"):
                        first = p.edges[s["edge"]]
                        a, b = p.start[first[0]], p.start[first[-1]] + p.segs[first[-1]].len
                    else:
                        a, b = sorted((p.along(s["edge"], s["from"]), p.along(s["edge"], s["to"])))
                        if len(p.segs) <= 4 and s["edge"].endswith("rim") and s["to"] < s["from"]:
                            a, b = b, a + p.len
                    if b > p.len:
                        cover += [(a, p.len), (0.0, b - p.len)]
                    else:
                        cover.append((a, b))
                for g in pl["gaps"] or []:
                    if g["edge"] in p.edges:
                        a, b = sorted((p.along(g["edge"], g["from"]), p.along(g["edge"], g["to"])))
                        cover = minus(cover, a, b, p.len)
                straight[pl["name"], i] = cover
        for i, p in enumerate(self.profiles):
            mine = {n: c for (n, k), c in straight.items() if k == i}
            everything = [x for c in mine.values() for x in c]

            def reaches(list_, s, end):
                return any(abs(((y if end else x) - s + 1e-7) % p.len) < 2e-7 for x, y in list_)

            for k, g in enumerate(p.segs):
                if g.edge:
                    continue
                a, b = p.start[k], p.start[k] + g.len
                for n, c in mine.items():
                    if reaches(c, a, True) and reaches(c, b % p.len, False):
                        c.append((a, b))
                        break
                else:
                    if reaches(everything, a, True) and reaches(everything, b % p.len, False):
                        raise ValueError("a corner between two platings")
            bare = [(0.0, p.len)]
            for c in mine.values():
                for x, y in c:
                    bare = minus(bare, x, y, p.len)
            p.bare = bare
            for n, c in mine.items():
                for x, y in joined(c, p.len):
                    self.walls.setdefault(n, []).append((p, x, y))
        for pl in self.j["platings"]:
            for p, a, b in self.walls.get(pl["name"], []):
                where = dict(profile=p, a=a, b=b)
                for x, y in p.chopped(a, b):
                    self.add("wall", pl["name"], pl["net"], self.layers, p.path(x, y), **where)
                for face, w in zip(self.outer, pl["wrap"]):
                    raw = p.band(a, b, w).intersection(self.outline.area)
                    self.add("wrap", pl["name"], pl["net"], [face], raw.intersection(self.area), raw=raw, **where)
                for layer in pl["layers"] or []:
                    if layer in self.inner and not any(q["layer"] == layer and q["net"] == pl["net"] for q in self.j["planes"]):
                        self.add("strip", pl["name"], pl["net"], [layer], p.band(a, b, STRIP).intersection(self.area), **where)
        for p in self.profiles:
            for k, g in enumerate(p.segs):
                for x, y in p.bare:
                    a, b = max(x, p.start[k]), min(y, p.start[k] + g.len)
                    if b - a > 1e-7:
                        for x, y in p.chopped(a, b):
                            self.add("edge", p.name, None, self.layers, p.path(x, y), profile=p, edge=g.edge)
            if p.name:
                self.add("cutout", p.name, None, self.layers, p.area, profile=p)

    def rect(self, edge, pos, w, l, back=0.0):
        """A rectangle w along the edge and l inward, about a position."""
        p, t, n = self.of_edge[edge].frame(edge, pos)
        h = w / 2
        return Polygon([(p[0] + t[0] * u + n[0] * v, p[1] + t[1] * u + n[1] * v) for u, v in ((-h, -back), (h, -back), (h, l), (-h, l))])

    def margin(self, item, net, face, g, r, m):
        """The mask opening of a pad: m larger; its corners square or round."""
        if r:
            self.add("opening", item, net, [face], g, r=r + m, own=True)
            return
        self.add("opening", item, net, [face], g, r=m, own=True, square=g.buffer(m, join_style=2))

    def items(self):
        m = self.limit["mask_margin"]
        for f in self.j["features"]:
            net, at = self.net(f.get("net")), f["at"]
            if f.get("d"):
                g, r = Point(at), f["d"] / 2
            else:
                w, h = f["w"] / 2, f["h"] / 2
                g, r = Polygon([(at[0] - w, at[1] - h), (at[0] + w, at[1] - h), (at[0] + w, at[1] + h), (at[0] - w, at[1] + h)]), 0.0
            self.add("feature", f["name"], net, [f["layer"]], g, r=r)
            if f["layer"] in self.outer:
                self.margin(f["name"], net, f["layer"], g, r, m)
        for h in self.j["holes"]:
            g = Point(h["at"])
            if not h["plated"]:
                self.add("uhole", h["name"], None, self.layers, g, r=h["d"] / 2)
                continue
            net = self.net(h.get("net"))
            self.add("phole", h["name"], net, self.layers, g, r=h["d"] / 2)
            if h.get("land"):
                self.add("ring", h["name"], net, self.outer, g, r=h["land"] / 2)
                for face in self.outer:
                    self.margin(h["name"], net, face, g, h["land"] / 2, m)
        for f in self.j["fences"]:
            net = self.net(f.get("net"))
            for v in f["vias"]:
                self.add("via", f["name"], net, self.layers, Point(v), r=f["d"] / 2)
                if f.get("land"):
                    self.add("pad", f["name"], net, self.outer, Point(v), r=f["land"] / 2)
        for c in self.j["castellations"]:
            none = self.net(None)
            prof = self.of_edge[c["edge"]]
            for i, pos in enumerate(c["at"]):
                net = (c["nets"][0] if len(c["nets"]) == 1 else c["nets"][i]) if c["nets"] else none
                segs = [prof.segs[k] for k in prof.edges[c["edge"]]]
                t, end = (pos - segs[0].zero) * segs[0].dir, sum(g.len for g in segs)
                over = segs[0].c and not c["edge"].endswith("rim") and (t < c["w"] / 2 or t > end - c["w"] / 2)
                own = dict(profile=prof, own=c["edge"], member=i, over=over)
                self.add("barrel", c["name"], net, self.layers, Point(prof.frame(c["edge"], pos)[0]), r=c["d"] / 2, **own)
                g = self.rect(c["edge"], pos, c["w"], c["l"])
                self.add("land", c["name"], net, self.outer, g.intersection(self.area) if prof.segs[prof.edges[c["edge"]][0]].c else g, **own)
        for c in self.j["connectors"]:
            net, prof = self.net(c.get("net")), self.of_edge[c["edge"]]
            own = dict(profile=prof, own=c["edge"])
            p, t, _ = prof.frame(c["edge"], c["at"])
            b = c["body"] / 2
            line = LineString([(p[0] - t[0] * b, p[1] - t[1] * b), (p[0] + t[0] * b, p[1] + t[1] * b)])
            g = self.rect(c["edge"], c["at"], c["body"], c["reach"]) if c.get("reach") else line
            self.add("body", c["name"], net, self.outer, g, line=line, reach=c.get("reach"), j=c, **own)
            for pin in c["pins"]:
                g = self.rect(c["edge"], c["at"], pin["w"], pin["l"])
                if prof.segs[prof.edges[c["edge"]][0]].c:
                    g = g.intersection(self.area)
                self.add("pin", c["name"], net, [pin["face"]], g, clearance=c.get("clearance") or 0.0, **own)
                self.margin(c["name"], net, pin["face"], g, 0.0, m)
        for t in self.j["tabs"]:
            prof = self.of_edge[t["edge"]]
            a, b = sorted((prof.along(t["edge"], t["at"] - t["w"] / 2), prof.along(t["edge"], t["at"] + t["w"] / 2)))
            self.add("tab", t["name"], None, self.layers, prof.path(a, b), profile=prof, pre=t["pre"])
            if t.get("perf"):
                q = t["perf"]
                n = int(math.floor((t["w"] - q["d"]) / q["p"] + 1e-9)) + 1
                for i in range(n):
                    p, _, inward = prof.frame(t["edge"], t["at"] + (i - (n - 1) / 2) * q["p"])
                    at = (p[0] + inward[0] * q["inset"], p[1] + inward[1] * q["inset"])
                    self.add("perf", t["name"], None, self.layers, Point(at), r=q["d"] / 2, profile=prof)
        nets = {p["name"]: p["net"] for p in self.j["platings"]}
        for r in self.j["reliefs"]:
            m = r["margin"] if r.get("margin") is not None else self.limit["mask_margin"]
            for face in r["faces"]:
                if r["over"] in nets:
                    for p, a, b in self.walls.get(r["over"], []):
                        g, big = self.relief(p, a, b, r["reach"], m)
                        self.add("opening", r["name"], nets[r["over"]], [face], g, big=big, own=False, over=r["over"], nets={nets[r["over"]]}, reach=r["reach"])
                for land in [x for x in self.pieces if x.kind == "land" and x.item == r["over"] and face == self.outer[0]]:
                    c = next(c for c in self.j["castellations"] if c["name"] == r["over"])
                    g = self.rect(c["edge"], c["at"][land.x["member"]], c["w"] + 2 * m, r["reach"]).intersection(self.area)
                    self.add("opening", r["name"], land.net, [face], g, own=False, over=r["over"], nets=set(c["nets"] or []), reach=r["reach"])
                if r["over"] not in nets and face == self.outer[1]:
                    for land in [x for x in self.pieces if x.kind == "land" and x.item == r["over"]]:
                        c = next(c for c in self.j["castellations"] if c["name"] == r["over"])
                        g = self.rect(c["edge"], c["at"][land.x["member"]], c["w"] + 2 * m, r["reach"]).intersection(self.area)
                        self.add("opening", r["name"], land.net, [face], g, own=False, over=r["over"], nets=set(c["nets"] or []), reach=r["reach"])

    def relief(self, p, a, b, reach, m):
        """A relief's opening over a stretch: m past its ends. Where the profile
        bends there, it may follow the bend or run straight on."""
        g = p.band(a, b, reach)
        if b - a > p.len - 1e-9:
            g = g.intersection(self.area)
            return g, g
        sure, may = [g], [g]
        for end, sign in ((b, 1), (a, -1)):
            seg, t = p.locate(end)
            if sign > 0 and t < 1e-9 and end > 1e-9:  # the piece that ends here
                seg, t = p.locate(end - 1e-6)
                t = seg.len
            tan = seg.tangent(t)
            n = (-tan[1] * p.side * reach, tan[0] * p.side * reach)
            q = seg.at(t)
            on = (tan[0] * m * sign, tan[1] * m * sign)
            straight = Polygon([q, (q[0] + n[0], q[1] + n[1]), (q[0] + n[0] + on[0], q[1] + n[1] + on[1]), (q[0] + on[0], q[1] + on[1])]).buffer(0)
            bent = p.band(*sorted((end, end + sign * m)), reach)
            sure.append(straight.intersection(bent))
            may += [straight, bent]
        return unary_union(sure).intersection(self.area), unary_union(may).intersection(self.area)

    def planes(self):
        self.layers_of = {}
        count = {}
        for pl in self.j["planes"]:
            count[pl["layer"]] = count.get(pl["layer"], 0) + 1
        for pl in self.j["planes"]:
            core = self.outline.area.buffer(-pl["pullback"], resolution=32)
            for c in self.cutouts:
                core = core.difference(c.area.buffer(pl["pullback"], resolution=32))
            if core.is_empty:
                continue
            self.add("plane", pl["layer"], pl["net"], [pl["layer"]], core, pullback=pl["pullback"], alone=count[pl["layer"]] == 1)
            for w in self.j["platings"]:
                named = w["layers"]
                if w["net"] != pl["net"] or named is not None and pl["layer"] not in named:
                    continue
                rest = []
                for p in self.profiles:
                    free = [(0.0, p.len)]
                    for q, a, b in self.walls.get(w["name"], []):
                        if q is p:
                            free = minus(free, a, b, p.len)
                    rest += [p.path(x, y) for x, y in free]
                for p, a, b in self.walls.get(w["name"], []):
                    big = p.band(a, b, pl["pullback"]).intersection(self.area)
                    small = big.difference(unary_union(rest).buffer(pl["pullback"])) if rest else big
                    if small.is_empty:
                        small = p.path(a, b)
                    self.add("run", w["name"], pl["net"], [pl["layer"]], small, big=big, layer=pl["layer"], profile=p, a=a, b=b)


# ---- what pairs are held to


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


def measure(g, r, h, s):
    d = g.distance(h)
    if d > 0:
        return d - r - s
    if r + s > 0:
        return -(r + s)
    # Two outlines that meet: do they overlap by more than a sliver?
    if g.area > 0 and h.area > 0:
        return -1.0 if g.buffer(-TOL / 2).intersects(h.buffer(-TOL / 2)) else 0.0
    if g.area > 0 or h.area > 0:
        flat, line = (g, h) if g.area > 0 else (h, g)
        return -1.0 if flat.buffer(-TOL).intersects(line) else 0.0
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

    def run(self):
        off_board(self)
        ps = self.b.pieces
        reach = 3.6
        order = sorted(ps, key=lambda p: p.box[0])
        active = []
        for p in order:
            active = [q for q in active if q.box[2] + reach >= p.box[0]]
            for q in active:
                if q.box[1] - reach <= p.box[3] and p.box[1] - reach <= q.box[3] and ((p.kind, q.kind) in RULES or (q.kind, p.kind) in RULES):
                    self.crossed = any(near(x.box, c, 2.5) for c in self.crossing for x in (p, q))
                    self.pair(q, p)
            active.append(p)
        self.crossed = False
        single(self)
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


@row("wrap", "wrap")
def wrap_wrap(j, a, b):
    if a.item == b.item or not two_nets(a, b) or not shared(a, b):
        return
    way, one = way_between(a, b)
    lo, hi = apart(a, b)
    if way < j.b.limit["gap_width"] + TOL:
        # One cause: the walls are too near along the edge already.
        j.say("wrap_clearance", (a.item, b.item), (a.kind, b.kind), lo, hi, j.b.limit["wrap_clearance"], maybe=True)
        return
    j.say("wrap_clearance", (a.item, b.item), (a.kind, b.kind), lo, hi, j.b.limit["wrap_clearance"])


@row("wrap", "land barrel feature via pad phole ring run")
def wrap_other(j, a, b):
    if two_nets(a, b) and shared(a, b):
        lo, hi = apart(a, b)
        maybe = b.kind == "run" and way_between(a, b)[0] < j.b.limit["gap_width"] + TOL
        j.say("wrap_clearance", (a.item, b.item), (a.kind, b.kind), lo, hi, j.b.limit["wrap_clearance"], maybe=maybe)


@row("wall strip", "feature")
def wall_feature(j, a, b):
    if two_nets(a, b) and b.layers & set(j.b.inner) and shared(a, b):
        j.say("plane_short", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["inner_clearance"])


@row("wall strip", "via phole")
def wall_drill(j, a, b):
    if two_nets(a, b):
        j.say("wall_short", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["inner_clearance"])


@row("wall", "wall strip")
def wall_wall(j, a, b):
    if a.item == b.item or not two_nets(a, b):
        return
    way, one = way_between(a, b)
    gap = j.b.limit["gap_width"]
    if b.kind == "wall" and way < math.inf:
        if one or way < 1e-6:
            j.say("net_conflict", (a.item, b.item), (a.kind, b.kind), way, way, gap, row="wall-wall along one edge")
        else:
            j.say("net_conflict", (a.item, b.item), (a.kind, b.kind), way, way, gap, maybe=True, row="wall-wall along the profile")
    lo, hi = apart(a, b)
    j.say("wall_short", (a.item, b.item), (a.kind, b.kind), lo, hi, j.b.limit["inner_clearance"], maybe=way < gap + TOL)


@row("wall", "run")
def wall_run(j, a, b):
    if two_nets(a, b) and b.layers & set(j.b.inner):
        maybe = way_between(a, b)[0] < j.b.limit["gap_width"] + TOL
        j.say("plane_short", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["inner_clearance"], maybe=maybe)


@row("strip", "barrel")
def strip_barrel(j, a, b):
    if two_nets(a, b):
        j.say("wall_short", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["inner_clearance"], maybe=True)


@row("strip run", "strip run")
def ties(j, a, b):
    if a.item != b.item and two_nets(a, b) and shared(a, b):
        maybe = way_between(a, b)[0] < j.b.limit["gap_width"] + TOL
        j.say("ties_meet", (a.item, b.item), (a.kind, b.kind), *apart(a, b), 0.0, maybe=maybe)


@row("wall", "barrel")
def wall_barrel(j, a, b):
    j.say("castellation_on_plating", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["gap_width"], maybe=not two_nets(a, b))


@row("wall wrap", "pin")
def launch(j, a, b):
    if not two_nets(a, b) or not shared(a, b):
        return
    lo, hi = apart(a, b)
    need = max(j.b.limit["launch_clearance"], b.x["clearance"])
    kinds = (a.kind, b.kind)
    if hi < -TOL:
        j.say("launch_blocked", (a.item, b.item), kinds, lo, hi, 0.0, row="-".join(sorted(kinds)) + " meeting")
        j.say("launch_clearance", (a.item, b.item), kinds, lo, hi, need, maybe=True)
    elif lo > TOL:
        j.say("launch_clearance", (a.item, b.item), kinds, lo, hi, need)
        j.say("launch_blocked", (a.item, b.item), kinds, lo, hi, 0.0, row="-".join(sorted(kinds)) + " meeting")
    else:
        j.say("launch_clearance", (a.item, b.item), kinds, lo, hi, need, maybe=True)
        j.say("launch_blocked", (a.item, b.item), kinds, lo, hi, 0.0, maybe=True)


SURFACE = "land barrel pin feature via pad phole ring"


@row(SURFACE, SURFACE)
def copper(j, a, b):
    if not two_nets(a, b) or not shared(a, b) or a.kind == b.kind == "barrel":
        return
    j.say("copper_clearance", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["copper_clearance"])


@row("feature land pad ring pin via", "uhole")
def copper_hole(j, a, b):
    j.say("edge_pullback", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.limit_of(a, b))


@row("wrap", "uhole")
def wrap_hole(j, a, b):
    # The contract names no limit; a drilled edge is a bare one too.
    j.say("edge_pullback", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.limit_of(a, b), maybe=True)


@row("via phole uhole", "via phole uhole barrel perf")
def holes(j, a, b):
    j.say("hole_web", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["hole_web"])


@row("via", "edge wall")
def via_edge(j, a, b):
    items = (a.item,) if b.kind == "edge" and not b.item else (a.item, b.item)
    j.say("fence_inset", items, (a.kind, b.kind), *apart(a, b), j.b.limit["fence_inset"])


@row("phole uhole", "edge wall")
def hole_edge(j, a, b):
    items = (a.item,) if b.kind == "edge" and not b.item else (a.item, b.item)
    j.say("hole_edge", items, (a.kind, b.kind), *apart(a, b), j.b.limit["hole_edge"])


@row("barrel", "barrel")
def half_holes(j, a, b):
    j.say("castellation_spacing", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["castellation_spacing"])


@row("feature land ring pad pin", "edge")
def copper_edge(j, a, b):
    if a.kind in ("land", "pin") and b.x["edge"] == a.x["own"]:
        return
    items = (a.item,) if not b.item else (a.item, b.item)
    maybe = a.kind in ("land", "pin") and not b.x["edge"]  # the round beside its own edge
    if a.kind == "feature":
        # One that lies on a pin or a land of its net reaches the edge with it.
        maybe = maybe or any(p.kind in ("pin", "land", "barrel") and p.net == a.net and shared(a, p) and apart(a, p)[0] <= TOL for p in j.b.pieces)
    j.say("edge_pullback", items, (a.kind, b.kind), *apart(a, b), j.limit_of(a, b), maybe=maybe)


@row("wrap", "cutout")
def wrap_cut(j, a, b):
    if a.x["profile"] is not b.x["profile"]:
        d = measure(a.x["raw"], 0.0, b.g, 0.0)
        j.say("edge_pullback", (a.item, b.item), (a.kind, b.kind), d, d, 0.0)


@row("cutout", "cutout")
def cutouts(j, a, b):
    lo, hi = apart(a, b)
    meets = lo <= TOL
    if hi < -TOL or lo > TOL:
        j.say("cutout_outside", (a.item, b.item), (a.kind, b.kind), lo, hi, 0.0, row="cutout-cutout overlapping")
    else:
        j.say("cutout_outside", (a.item, b.item), (a.kind, b.kind), lo, hi, 0.0, maybe=True)
    j.say("neck_narrow", (a.item, b.item), (a.kind, b.kind), lo, hi, j.b.limit["neck"], maybe=meets)


@row("pin", "pin")
def pins(j, a, b):
    if a.item != b.item and shared(a, b):
        j.say("connectors_meet", (a.item, b.item), (a.kind, b.kind), *apart(a, b), 0.0)


@row("body", "body")
def bodies(j, a, b):
    j.say("body_clearance", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["body_clearance"])


@row("body", "pin barrel land")
def body_meets(j, a, b):
    if a.item != b.item:
        j.say("connectors_meet", (a.item, b.item), (a.kind, b.kind), *apart(a, b), 0.0)


@row("body", "feature")
def body_feature(j, a, b):
    if not a.x["reach"] or not shared(a, b) or not two_nets(a, b):
        return
    under = {w.net for w in j.b.pieces if w.kind == "wall" and apart(a, w)[0] <= TOL}
    j.say("connectors_meet", (a.item, b.item), (a.kind, b.kind), *apart(a, b), 0.0, maybe=b.net in under)


@row("body", "tab")
def body_tab(j, a, b):
    j.say("tab_near_connector", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["tab_connector"])


@row("tab", "wall")
def tab_wall(j, a, b):
    if a.x["pre"]:
        return
    lo, hi = apart(a, b)
    if any(w.kind == "wall" and w.x["profile"] is a.x["profile"] and apart(a, w)[0] <= TOL for w in j.b.pieces) and lo > TOL:
        # It stands on another wall already: one cause.
        j.say("tab_gap_tight", (a.item, b.item), ("tab", "wall"), lo, hi, j.b.limit["tab_gap"], maybe=True)
        return
    if a.x["profile"] is b.x["profile"] and lo <= TOL:
        # Of two walls on one stretch either may be named.
        under = {w.item for w in j.b.pieces if w.kind == "wall" and w.x["profile"] is a.x["profile"] and apart(a, w)[1] < -TOL}
        j.say("tab_on_plating", (a.item, b.item), ("tab", "wall"), lo, hi, 0.0, maybe=hi > -TOL or len(under) > 1, row="tab-wall on it")
        j.say("tab_gap_tight", (a.item, b.item), ("tab", "wall"), lo, hi, j.b.limit["tab_gap"], maybe=True)
        return
    if a.x["profile"] is b.x["profile"]:
        j.say("tab_on_plating", (a.item, b.item), ("tab", "wall"), lo, hi, 0.0, row="tab-wall on it")
    j.say("tab_gap_tight", (a.item, b.item), ("tab", "wall"), lo, hi, j.b.limit["tab_gap"])


@row("tab", "barrel land")
def tab_half_hole(j, a, b):
    j.say("tab_gap_tight", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["tab_gap"])


@row("tab", "tab")
def tabs(j, a, b):
    if a.x["profile"] is b.x["profile"]:
        j.say("tabs_crowded", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["router_bit"])


@row("perf", "feature land via pad ring pin")
def perforation(j, a, b):
    j.say("edge_pullback", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["edge_clearance_inner"])


@row("perf", "cutout")
def perforation_cutout(j, a, b):
    if a.x["profile"] is not b.x["profile"]:
        j.say("hole_web", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["hole_web"])


def own_name(p):
    return "own" if p.x["own"] else "relief"


@row("opening", "opening")
def openings(j, a, b):
    if not shared(a, b):
        return
    if a.item == b.item and a.x["own"]:
        return
    lo, hi = apart(a, b)
    name = "opening of " + " and ".join(sorted((own_name(a), own_name(b))))
    if hi < -TOL:
        j.say("mask_web", (a.item, b.item), (a.kind, b.kind), j.b.limit["mask_web"] + 0.01, j.b.limit["mask_web"] + 0.01, j.b.limit["mask_web"], row=name)
        return
    j.say("mask_web", (a.item, b.item), (a.kind, b.kind), lo, hi, j.b.limit["mask_web"], maybe=lo <= TOL, row=name)


@row("opening", "wrap run land barrel via pad phole ring pin feature")
def bares(j, a, b):
    if not shared(a, b) or not two_nets(a, b):
        return
    if a.x["own"]:
        if a.item != b.item:
            j.say("mask_bares", (a.item, b.item), (a.kind, b.kind), *apart(a, b), 0.0, maybe=True)
        return
    if b.item == a.x["over"] and b.kind not in ("land", "barrel"):
        return
    # A row of half holes of several nets is one item: another member's net may pass for its own.
    maybe = b.net in a.x["nets"] or b.item == a.x["over"]
    j.say("mask_bares", (a.item, b.item), (a.kind, b.kind), *apart(a, b), 0.0, maybe=maybe)


@row("plane", "wrap")
def plane_wrap(j, a, b):
    if two_nets(a, b) and shared(a, b):
        j.say("wrap_clearance", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["wrap_clearance"])


@row("plane", "wall strip")
def plane_wall(j, a, b):
    if two_nets(a, b) and shared(a, b) and a.layers & set(j.b.inner):
        j.say("plane_short", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["inner_clearance"])


@row("plane", "edge")
def plane_edge(j, a, b):
    d, need = a.x["pullback"], j.limit_of(a, b)
    if d < need and not a.x.get("near"):
        d = measure(a.g, 0.0, b.g, 0.0)
        a.x["near"] = d < a.x["pullback"] + TOL / 2
    j.say("edge_pullback", (a.item,), (a.kind, b.kind), d, d, need)


@row("plane", "plane")
def plane_plane(j, a, b):
    if shared(a, b):
        j.say("planes_overlap", (a.item,), (a.kind, b.kind), *apart(a, b), 0.0)


@row("plane", "opening")
def plane_opening(j, a, b):
    if shared(a, b) and two_nets(a, b) and not b.x["own"]:
        lo, hi = apart(a, b)
        if lo < TOL:
            # The plane gives way to what lies there.
            gap = j.b.limit["copper_clearance"]
            there = [p.g.buffer(p.r + gap, resolution=32) for p in j.b.pieces if p.kind in SURFACE.split() and shared(a, p) and two_nets(a, p) and near(p.box, b.box, gap)]
            hi = measure(a.g.difference(unary_union(there)), 0.0, b.g, b.r) if there else hi
        j.say("mask_bares", (a.item, b.item), (a.kind, b.kind), lo, max(lo, hi), 0.0)


# Pairs of which nothing is said: a plane gives way.
@row("plane", "feature pin via phole ring pad barrel land uhole perf")
def gives_way(j, a, b):
    if shared(a, b) and (b.net is None or two_nets(a, b)):
        need = j.limit_of(a, b) if b.kind in ("uhole", "perf") else j.b.limit["copper_clearance"]
        j.say("", (a.item, b.item), (a.kind, b.kind), *apart(a, b), need)


# ---- what takes more than two pieces


def single(j):
    b = j.b
    wraps_edges(j)
    necks(j)
    overlaps(j)
    bodies_short(j)


def wraps_edges(j):
    """Wraps near bare edge; not the edge that goes on from their own stretch,
    as far as the limit. Up to one and a half times the limit it may count too:
    on a bend the same way along the edge is nearer."""
    for w in j.b.pieces:
        if w.kind not in ("wrap", "strip"):
            continue
        need = j.limit_of(w, w)
        j.crossed = any(near(w.box, c, 2.5) for c in j.crossing)
        p, a, b = w.x["profile"], w.x["a"], w.x["b"]
        for q in j.b.profiles:
            if not near(q.box, w.box, need + FAR):
                continue
            d = []
            for k in (1.5, 1.0):
                own = q is p and b - a < p.len - 1e-6
                best = math.inf
                for x, y, line in q.bare_parts():
                    if not near(line.bounds_, w.box, need + FAR):
                        continue
                    parts = [(x, y)]
                    if own:
                        for c, e in ((b, b + k * need), (a - k * need, a)):
                            parts = minus(parts, c, e, p.len)
                    for m, n in parts:
                        g = line.g if (m, n) == (x, y) else q.path(m, n)
                        best = min(best, measure(w.g, 0.0, g, 0.0))
                d.append(best)
            if min(d) < math.inf:
                items = (w.item,) if not q.name else (w.item, q.name)
                hi = d[0]
                j.say("edge_pullback", items, (w.kind, "edge"), min(d), max(hi, min(d)), need, maybe=w.kind == "strip")


def near(a, b, d):
    return a[0] - d <= b[2] and b[0] - d <= a[2] and a[1] - d <= b[3] and b[1] - d <= a[3]


def off_board(j):
    b = j.b
    for p in b.pieces:
        if p.kind not in ("feature", "phole", "uhole", "via", "pin", "land", "ring", "pad", "body", "barrel"):
            continue
        maybe = p.kind in ("ring", "pad") or any(near(p.box, c, 2.5) for c in j.crossing)
        if p.kind == "body":
            # Beyond the end of its edge; in its round is as good as within.
            c, prof = p.x["j"], p.x["profile"]
            segs = [prof.segs[i] for i in prof.edges[c["edge"]]]
            ends = sorted((segs[0].zero, segs[0].zero + segs[0].dir * sum(s.len for s in segs)))
            round_ = c.get("round", 0.0)
            lo = min(c["at"] - c["body"] / 2 - ends[0], ends[1] - c["at"] - c["body"] / 2)
            hi = lo + round_
            j.say("item_outside", (p.item,), ("body", "end"), lo, hi, 0.0, row="body-end of its edge")
            continue
        if p.kind == "barrel":
            continue
        if p.r:
            inside = b.area.contains(p.g)
            d = b.rim.distance(p.g)
            m = d - p.r if inside else -d - p.r
        else:
            rest = p.g.difference(b.wide)
            if p.kind in ("land", "pin") and p.x.get("over"):
                rest, maybe = p.g, True  # beyond the end of its arc, which is cut off here
            m = -1.0 if not rest.is_empty and not rest.buffer(-TOL / 2).is_empty else (0.0 if not rest.is_empty and rest.area > 1e-7 else b.rim.distance(p.g) + 2 * TOL)
        if m < TOL:
            j.off[p.item] = True
        j.say("item_outside", (p.item,), (p.kind, "outside"), m, m, 0.0, maybe=maybe)


def overlaps(j):
    """Platings on one stretch; reliefs that differ; gaps for what is elsewhere."""
    b = j.b
    walls = [w for w in b.j["platings"] if w["name"] in b.walls]
    for i, v in enumerate(walls):
        for w in walls[i + 1:]:
            if v["net"] != w["net"]:
                continue
            most = -math.inf
            for p, x, y in b.walls[v["name"]]:
                for q, m, n in b.walls[w["name"]]:
                    if p is q:
                        for k in (-p.len, 0.0, p.len):
                            most = max(most, min(y, n + k) - max(x, m + k))
            same = v["wrap"] == w["wrap"]
            rule = "plating_twice" if same else "plating_conflict"
            j.say(rule, (v["name"], w["name"]), ("wall", "wall"), -most, -most, 0.0, row="wall-wall on one stretch")
    for i, r in enumerate(b.j["reliefs"]):
        for q in b.j["reliefs"][i + 1:]:
            if r["over"] == q["over"] and set(r["faces"]) & set(q["faces"]):
                d = -abs(r["reach"] - q["reach"]) or 2 * TOL
                j.say("relief_conflict", (r["name"], q["name"]), ("opening", "opening"), d, d, 0.0, row="two reliefs over one item")
    connectors = {c["name"]: c for c in b.j["connectors"]}
    for pl in walls:
        for g in pl["gaps"] or []:
            if g.get("for"):
                c = connectors[g["for"]]
                here = c["edge"] == g["edge"]
                d = min(c["at"] - g["from"], g["to"] - c["at"]) if here else -1.0
                edge = here and d < c["body"] / 2  # part of it stands there
                j.say("gap_astray", (g["name"], g["for"]), ("gap", "connector"), d, d, 0.0, maybe=bool(edge), row="gap for a connector elsewhere")
            if g.get("bridged"):
                d = 2 * TOL if g.get("for") else -1.0
                j.say("gap_unbridged", (g["name"],), ("gap", "body"), d, d, 0.0, row="gap bridged by no body")
    tabs = b.j["tabs"]
    if tabs and walls:
        inside = all(b.of_edge[t["edge"]].name for t in tabs)
        d = -1.0 if inside else 2 * TOL
        j.say("tab_missing", (), ("tab", "cutout"), d, d, 0.0, row="tabs on cutouts alone")
    elif walls:
        j.say("tab_missing", (), ("tab", "cutout"), 0.0, 0.0, 0.0, maybe=True)  # none at all is another matter


def necks(j):
    b = j.b
    j.crossed = False
    need = b.limit["neck"]
    for c in b.cutouts:
        inside = b.outline.area.contains(c.area)
        d = b.outline.line.distance(c.area) if inside else -1.0
        j.say("neck_narrow", (c.name,), ("cutout", "outline"), d, d, need, maybe=d <= TOL)
        j.say("cutout_outside", (c.name,), ("cutout", "outline"), d, d, 0.0, row="cutout-outline crossing")


def bodies_short(j):
    """A body that stands on walls of two nets joins them."""
    walls = [p for p in j.b.pieces if p.kind == "wall"]
    for p in j.b.pieces:
        if p.kind != "body":
            continue
        ds = {}
        for w in walls:
            if near(w.box, p.box, FAR):
                d = apart(p, w)[0]
                ds[w.net] = min(ds.get(w.net, math.inf), d)
        if len(ds) > 1:
            d = sorted(ds.values())[1]
            j.say("body_shorts", (p.item,), ("body", "walls"), d, d, 0.0, row="body-walls of two nets")


def judge(j):
    try:
        board = Board(j)
    except Exception:  # a board that the generator must not make
        return {"error": traceback.format_exc()}
    answer = {"must": [], "may": [], "counts": []}
    judge_ = Judge(board)
    found = judge_.run()
    answer["skip"] = [c.name for c in board.cutouts if c.box in judge_.crossing]
    for (rule, items), list_ in found.items():
        if rule == "launch_clearance" and any(x[1] < TOL for x in found.get(("launch_blocked", items), [])):
            list_ = [(*x[:5], True) for x in list_]  # the pin stands on the wall: one cause
        sure = [x for x in list_ if not x[5]]
        worst = min(sure, default=None)
        below = worst is not None and worst[0] < -TOL
        silent = all(x[1] > TOL for x in list_)
        if rule and below:
            answer["must"].append({"rule": rule, "on": items, "kinds": worst[2], "distance": worst[3], "need": worst[4]})
        elif rule and not silent:
            answer["may"].append({"rule": rule, "on": items})
        if worst is not None and (below or silent or not rule) and abs(worst[0]) > TOL:
            answer["counts"].append([rule, worst[2], below])
    return answer


def main():
    boards = json.load(sys.stdin)
    with Pool(2) as pool:
        json.dump(pool.map(judge, boards, chunksize=20), sys.stdout)


if __name__ == "__main__":
    main()
