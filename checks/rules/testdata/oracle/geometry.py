"""Plane geometry: lines and arcs, profiles, stretches along them."""

import math

from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

TOL = 0.002  # mm: nearer to a limit than this nothing is asked
FAR = 1.0  # mm beyond its limit a pair is no longer counted as near
SAG = 0.0006  # mm: a chord's distance from its arc, at most


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
            return Polygon(arc_points(self.c, self.r, a, s) + arc_points(self.c, inner, a, s)[::-1])
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
        self.whole = Boxed(self.line)
        self.box = self.whole.bounds_
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

    def ends(self, edge):
        """The points at the ends of an edge."""
        list_ = [self.segs[i] for i in self.edges[edge]]
        return list_[0].p, list_[-1].q

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
        return unary_union(parts) if len(parts) > 1 else parts[0] if parts else Polygon()


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


def near(a, b, d):
    return a[0] - d <= b[2] and b[0] - d <= a[2] and a[1] - d <= b[3] and b[1] - d <= a[3]
