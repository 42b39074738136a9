"""What lies on a board, piece by piece, from plain coordinates."""

import math

from shapely.geometry import LineString, Point, Polygon, box
from shapely.ops import clip_by_rect, unary_union
from shapely.prepared import prep

from geometry import FAR, TOL, Boxed, Profile, joined, minus, near

STRIP = 0.3  # mm of a wall's own copper on an inner layer

# The built-in limits, from the language's reference.
LIMITS = {
    "wrap_clearance": 0.254, "inner_clearance": 0.5, "gap_width": 2.0, "router_bit": 0.8, "neck": 1.0,
    "edge_clearance_outer": 0.25, "edge_clearance_inner": 0.4, "launch_clearance": 0.254, "tab_gap": 0.5,
    "tab_connector": 2.5, "castellation_spacing": 0.55, "mask_margin": 0.075, "mask_web": 0.1,
    "fence_inset": 0.5, "copper_clearance": 0.15, "hole_web": 0.3, "hole_edge": 0.5, "body_clearance": 0.5,
}


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
        self.reach = max(self.limit.values()) + FAR  # farther apart no two things are asked for
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
        whole = prep(self.outline.area)
        for pl in self.j["platings"]:
            for p, a, b in self.walls.get(pl["name"], []):
                where = dict(profile=p, a=a, b=b)
                for x, y in p.chopped(a, b):
                    self.add("wall", pl["name"], pl["net"], self.layers, p.path(x, y), **where)
                for face, w in zip(self.outer, pl["wrap"]):
                    raw = p.band(a, b, w)
                    if not whole.contains(raw):
                        raw = raw.intersection(self.outline.area)
                    # Of one that a cutout cuts, which is found itself, what was cut off may count.
                    left = self.uncut(raw)
                    self.add("wrap", pl["name"], pl["net"], [face], left, big=raw if left.area < raw.area - 1e-7 else None, raw=raw, **where)
                for layer in pl["layers"] or []:
                    if layer in self.inner and not any(q["layer"] == layer and q["net"] == pl["net"] and self.meets(pl["name"], q) for q in self.j["planes"]):
                        for x, y in self.walled(p, a, b):
                            self.add("strip", pl["name"], pl["net"], [layer], self.uncut(p.band(x, y, STRIP)).intersection(self.outline.area), profile=p, a=x, b=y)
                if pl["layers"] is not None:
                    # What is left of the wall without tabs' roots, on the inner layers that it says nothing of.
                    for x, y in self.walled(p, a, b):
                        self.add("unjoined", pl["name"], pl["net"], set(self.inner) - set(pl["layers"]), p.path(x, y), **where)
                for tab, x, y in self.roots(p, a, b):
                    self.add("edge", tab, None, self.inner, p.path(x, y), profile=p, edge=None, root=True)
        for p in self.profiles:
            for k, g in enumerate(p.segs):
                for x, y in p.bare:
                    a, b = max(x, p.start[k]), min(y, p.start[k] + g.len)
                    if b - a > 1e-7:
                        for x, y in p.chopped(a, b):
                            self.add("edge", p.name, None, self.layers, p.path(x, y), profile=p, edge=g.edge)
            if p.name:
                self.add("cutout", p.name, None, self.layers, p.area, profile=p)

    def roots(self, p, a, b):
        """What premetallised tabs leave bare of a stretch, once they are cut."""
        for t in self.j["tabs"]:
            if t["pre"] and t["edge"] in p.edges:
                c, d = sorted((p.along(t["edge"], t["at"] - t["w"] / 2), p.along(t["edge"], t["at"] + t["w"] / 2)))
                for k in (-p.len, 0.0, p.len):
                    x, y = max(a, c + k), min(b, d + k)
                    if y - x > 1e-7:
                        yield t["name"], x, y

    def walled(self, p, a, b):
        """The parts of a stretch that keep their wall."""
        parts = [(a, b)]
        for _, x, y in self.roots(p, a, b):
            parts = [q for c, d in parts for q in ((c, min(d, x)), (max(c, y), d)) if q[1] - q[0] > 1e-7]
        return parts

    def uncut(self, g):
        """A shape without what cutouts take of it."""
        box = g.bounds
        for c in self.cutouts:
            if box and near(c.box, box, 0):
                g = g.difference(c.area)
        return g

    def rect(self, edge, pos, w, l, back=0.0):
        """A rectangle w along the edge and l inward, about a position."""
        p, t, n = self.of_edge[edge].frame(edge, pos)
        h = w / 2
        return Polygon([(p[0] + t[0] * u + n[0] * v, p[1] + t[1] * u + n[1] * v) for u, v in ((-h, -back), (h, -back), (h, l), (-h, l))])

    def beside(self, prof, g):
        """What of a pad that stands on a curved edge lies on that edge's side."""
        return g.difference(prof.area) if prof.name else g.intersection(prof.area)

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
                at_round = c.get("round", 0.0) > 0 and not segs[0].c and min(abs(t), abs(t - end)) <= TOL
                over = segs[0].c and not c["edge"].endswith("rim") and (t < c["w"] / 2 or t > end - c["w"] / 2)
                own = dict(profile=prof, own=c["edge"], member=i, over=over)
                self.add("barrel", c["name"], net, self.layers, Point(prof.frame(c["edge"], pos)[0]), r=c["d"] / 2, **own)
                g = self.rect(c["edge"], pos, c["w"], c["l"])
                self.add("land", c["name"], net, self.outer, self.beside(prof, g) if prof.segs[prof.edges[c["edge"]][0]].c else g, at_round=at_round, **own)
        for c in self.j["connectors"]:
            net, prof = self.net(c.get("net")), self.of_edge[c["edge"]]
            own = dict(profile=prof, own=c["edge"])
            p, t, _ = prof.frame(c["edge"], c["at"])
            b = c["body"] / 2
            line = LineString([(p[0] - t[0] * b, p[1] - t[1] * b), (p[0] + t[0] * b, p[1] + t[1] * b)])
            g = self.rect(c["edge"], c["at"], c["body"], c["reach"]) if c.get("reach") else line
            self.add("body", c["name"], net, self.outer, g, line=line, reach=c.get("reach"), j=c, **own)
            first = prof.segs[prof.edges[c["edge"]][0]]
            t = (c["at"] - first.zero) * first.dir
            at_round = c.get("round", 0.0) > 0 and not first.c and min(abs(t), abs(t - first.len)) <= TOL
            for pin in c["pins"]:
                g = full = self.rect(c["edge"], c["at"], pin["w"], pin["l"])
                if prof.segs[prof.edges[c["edge"]][0]].c:
                    g = self.beside(prof, g)
                self.add("pin", c["name"], net, [pin["face"]], g, clearance=c.get("clearance") or 0.0, at_round=at_round, full=full, **own)
                self.margin(c["name"], net, pin["face"], g, 0.0, m)
        for t in self.j["tabs"]:
            prof = self.of_edge[t["edge"]]
            a, b = sorted((prof.along(t["edge"], t["at"] - t["w"] / 2), prof.along(t["edge"], t["at"] + t["w"] / 2)))
            self.add("tab", t["name"], None, self.layers, prof.path(a, b), profile=prof, pre=t["pre"])
            if t.get("perf"):
                q = t["perf"]
                n = int(math.floor((t["w"] - q["d"]) / q["p"] + 1e-9)) + 1
                # One more where more board would be left at the ends than between two.
                if (t["w"] - q["d"] - (n - 1) * q["p"]) / 2 > max(0, q["p"] - q["d"]) + 1e-8:
                    n += 1
                for i in range(n):
                    p, _, inward = prof.frame(t["edge"], t["at"] + (i - (n - 1) / 2) * q["p"])
                    at = (p[0] + inward[0] * q["inset"], p[1] + inward[1] * q["inset"])
                    self.add("perf", t["name"], None, self.layers, Point(at), r=q["d"] / 2, profile=prof)
        nets = {p["name"]: p["net"] for p in self.j["platings"]}
        for r in self.j["reliefs"]:
            m = r.get("margin") or self.limit["mask_margin"]
            for face in r["faces"]:
                if r["over"] in nets:
                    for p, a, b in self.walls.get(r["over"], []):
                        g, big = self.relief(p, a, b, r["reach"], m)
                        self.add("opening", r["name"], nets[r["over"]], [face], g, big=big, own=False, over=r["over"], nets={nets[r["over"]]}, reach=r["reach"])
                for land in [x for x in self.pieces if x.kind == "land" and x.item == r["over"] and face == self.outer[0]]:
                    c = next(c for c in self.j["castellations"] if c["name"] == r["over"])
                    g = self.over_land(c, land, m, r["reach"])
                    self.add("opening", r["name"], land.net, [face], g, own=False, over=r["over"], nets=set(c["nets"] or []), reach=r["reach"])
                if r["over"] not in nets and face == self.outer[1]:
                    for land in [x for x in self.pieces if x.kind == "land" and x.item == r["over"]]:
                        c = next(c for c in self.j["castellations"] if c["name"] == r["over"])
                        g = self.over_land(c, land, m, r["reach"])
                        self.add("opening", r["name"], land.net, [face], g, own=False, over=r["over"], nets=set(c["nets"] or []), reach=r["reach"])

    def over_land(self, c, land, m, reach):
        """A relief's opening over a half hole: on an arc as far out as that comes over
        the tangent; what is off the board counts nothing."""
        w, prof = c["w"] + 2 * m, self.of_edge[c["edge"]]
        seg = prof.segs[prof.edges[c["edge"]][0]]
        rise = 0.0
        if seg.c:
            radius = math.dist(seg.c, seg.at(0))
            rise = radius - math.sqrt(max(0.0, radius**2 - w * w / 4))
        return self.rect(c["edge"], c["at"][land.x["member"]], w, reach, rise).intersection(self.area)

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

    @staticmethod
    def rectangle(plane):
        """What a plane is cut to; None for a whole one."""
        return box(*plane["within"]) if plane.get("within") else None

    def meets(self, wall, plane):
        """Whether any of a plating's wall is beside what a plane is cut to."""
        cut = self.rectangle(plane)
        return cut is None or any(p.path(a, b).intersection(cut).length > 1e-6 for p, a, b in self.walls.get(wall, []))

    def planes(self):
        self.layers_of = {}
        count = {}
        for pl in self.j["planes"]:
            count[pl["layer"]] = count.get(pl["layer"], 0) + 1
        nth = {}
        self.cores = {}
        for index, pl in enumerate(self.j["planes"]):
            name = pl["layer"]
            nth[name] = nth.get(name, 0) + 1
            if count[name] > 1:
                name = f"{name}.{nth[name]}"
            core = self.outline.area.buffer(-pl["pullback"], resolution=32)
            for c in self.cutouts:
                core = core.difference(c.area.buffer(pl["pullback"], resolution=32))
            if core.is_empty:
                continue
            cut = self.rectangle(pl)
            if cut is not None:
                core = core.intersection(cut)
            self.cores[name] = core
            if not core.is_empty:
                self.add("plane", name, pl["net"], [pl["layer"]], core, pullback=pl["pullback"], index=index, cut=cut is not None)
            for w in self.j["platings"]:
                named = w["layers"]
                if w["net"] != pl["net"] or named is not None and pl["layer"] not in named:
                    continue
                if not self.meets(w["name"], pl):
                    continue
                rest = []
                for p in self.profiles:
                    if all(q is not p for q, _, _ in self.walls.get(w["name"], [])):
                        rest.append(p.whole)
                        continue
                    free = [(0.0, p.len)]
                    mine = [(a, b) for q, a, b in self.walls.get(w["name"], []) if q is p]
                    for a, b in mine:
                        free = minus(free, a, b, p.len)
                    if not mine:
                        free = p.bare
                    rest += [Boxed(p.path(x, y)) for x, y in free]
                for p, a, b in self.walls.get(w["name"], []):
                    big = p.band(a, b, pl["pullback"]).intersection(self.area)
                    if big.is_empty:
                        continue
                    x0, y0, x1, y1 = big.bounds
                    r = pl["pullback"] + 0.1
                    beside = [clip_by_rect(q.g, x0 - r, y0 - r, x1 + r, y1 + r) for q in rest if near(q.bounds_, (x0, y0, x1, y1), r)]
                    beside = [q.buffer(pl["pullback"]) for q in beside if not q.is_empty]
                    small = big.difference(unary_union(beside)) if beside else big
                    if pl["layer"] in self.inner:
                        for _, x, y in self.roots(p, a, b):
                            small = small.difference(p.band(x, y, pl["pullback"]).buffer(1e-6))
                    if cut is not None:
                        big, small = big.intersection(cut), small.intersection(cut)
                        if big.is_empty or big.area < 1e-9:
                            continue
                    if small.is_empty:
                        small = p.path(a, b) if cut is None else p.path(a, b).intersection(cut)
                    self.add("run", w["name"], pl["net"], [pl["layer"]], small, big=big, layer=pl["layer"], profile=p, a=a, b=b, of=name)
