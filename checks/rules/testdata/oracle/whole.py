"""What takes more than two pieces."""

import math

from shapely.geometry import LineString, Point
from shapely.ops import nearest_points, unary_union

from geometry import FAR, TOL, minus, near
from judge import apart, measure, shared


def single(j):
    b = j.b
    wraps_edges(j)
    necks(j)
    overlaps(j)
    bodies_short(j)


def inside(p, a, b, s):
    """Whether a place on a profile lies well within the stretch from a to b."""
    return any(a + TOL < s + k < b - TOL for k in (-p.len, 0.0, p.len))


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
                # As the crow flies too, round a corner.
                ends = unary_union([Point(q.path(e, e + 1e-3).coords[0]).buffer(k * need) for e in (a % q.len, b % q.len)]) if own and k > 1 else None
                for x, y, line in q.bare_parts():
                    if not near(line.bounds_, w.box, need + FAR):
                        continue
                    parts = [(x, y)]
                    if own:
                        for c, e in ((b, b + k * need), (a - k * need, a)):
                            parts = minus(parts, c, e, p.len)
                    for m, n in parts:
                        g = line.g if (m, n) == (x, y) else q.path(m, n)
                        if ends:
                            g = g.difference(ends)
                            if g.is_empty:
                                continue
                        best = min(best, measure(w.g, 0.0, g, 0.0))
                d.append(best)
            # An end that lies within another plating's stretch has no bare edge of
            # its own that goes on: net_conflict or plating_twice is the one cause.
            under = any(v.kind == "wall" and v.item != w.item and v.x["profile"] is p and inside(p, v.x["a"], v.x["b"], s)
                        for v in j.b.pieces for s in (a, b)) if q is p else False
            if under:
                d = [need]
            if min(d) < math.inf:
                items = (w.item,) if not q.name else (w.item, q.name)
                hi = d[0]
                j.say("edge_pullback", items, (w.kind, "edge"), min(d), max(hi, min(d)), need, maybe=under)


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
            if p.kind in ("pin", "land") and p.x["at_round"]:
                maybe = True  # its place is the straight edge's end and the round's start
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
            same = v["wrap"] == w["wrap"] and sorted(v["layers"] or []) == sorted(w["layers"] or [])
            rule = "plating_twice" if same else "plating_conflict"
            j.say(rule, (v["name"], w["name"]), ("wall", "wall"), -most, -most, 0.0, row="wall-wall on one stretch")
    for i, r in enumerate(b.j["reliefs"]):
        for q in b.j["reliefs"][i + 1:]:
            if r["over"] == q["over"] and set(r["faces"]) & set(q["faces"]):
                d = -abs(r["reach"] - q["reach"]) or 2 * TOL
                j.say("relief_conflict", (r["name"], q["name"]), ("opening", "opening"), d, d, 0.0, row="two reliefs over one item")
    connectors = {c["name"]: c for c in b.j["connectors"]}
    standing = {t["name"]: dict(t, body=t["w"]) for t in b.j["tabs"]} | connectors
    for pl in b.j["platings"]:
        for g in pl["gaps"] or []:
            if g.get("for"):
                c = standing[g["for"]]
                here = c["edge"] == g["edge"]
                d = min(c["at"] - g["from"], g["to"] - c["at"]) if here else -1.0
                edge = here and d < c["body"] / 2  # part of it stands there
                j.say("gap_astray", (g["name"], g["for"]), ("gap", "connector"), d, d, 0.0, maybe=bool(edge),
                      row="gap for a connector elsewhere" if g["for"] in connectors else "gap for a tab elsewhere")
            if g.get("bridged"):
                d = 2 * TOL if g.get("for") in connectors else -1.0
                j.say("gap_unbridged", (g["name"],), ("gap", "body"), d, d, 0.0, row="gap bridged by no body")
    tabs = b.j["tabs"]
    if tabs and walls:
        inside = all(b.of_edge[t["edge"]].name for t in tabs)
        d = -1.0 if inside else 2 * TOL
        j.say("tab_missing", (), ("tab", "cutout"), d, d, 0.0, row="tabs on cutouts alone")
    elif walls:
        j.say("tab_missing", (), ("tab", "cutout"), 0.0, 0.0, 0.0, maybe=True)  # none at all is another matter


def across_itself(j):
    """Two parts of the outline with board between them, or a notch."""
    o = j.b.outline
    lines = [LineString(g.points(0, g.len)) for g in o.segs]
    n = len(lines)
    need = j.b.limit["neck"]
    for i in range(n):
        for k in range(i + 2, n):
            if (k + 1) % n == i:
                continue
            d = lines[i].distance(lines[k])
            if not TOL < d < need + FAR:
                continue
            p, q = nearest_points(lines[i], lines[k])
            # Where the outline goes on nearer from there, it is not what faces.
            if any(lines[m % n].distance(s) < d - 1e-6 for m, s in ((i - 1, q), (i + 1, q), (k - 1, p), (k + 1, p))):
                continue
            kind = "neck" if o.area.contains(Point((p.x + q.x) / 2, (p.y + q.y) / 2)) else "notch"
            j.say("neck_narrow", (), ("outline", "outline"), d, d, need, row="outline across a " + kind)


def necks(j):
    b = j.b
    j.crossed = False
    across_itself(j)
    need = b.limit["neck"]
    for c in b.cutouts:
        inside = b.outline.area.contains(c.area)
        d = b.outline.line.distance(c.area) if inside else -1.0
        j.say("neck_narrow", (c.name,), ("cutout", "outline"), d, d, need, maybe=d <= TOL)
        j.say("cutout_outside", (c.name,), ("cutout", "outline"), d, d, 0.0, row="cutout-outline crossing")


def bodies_short(j):
    """A body that stands on walls or wraps of two nets joins them."""
    walls = [p for p in j.b.pieces if p.kind in ("wall", "wrap")]
    for p in j.b.pieces:
        if p.kind != "body":
            continue
        ds = {}
        for w in walls:
            if near(w.box, p.box, FAR):
                if w.kind == "wrap" and not shared(p, w):
                    continue
                d = apart(p, w)[0]
                ds[w.net] = min(ds.get(w.net, math.inf), d)
        if len(ds) > 1:
            d = sorted(ds.values())[1]
            j.say("body_shorts", (p.item,), ("body", "walls"), d, d, 0.0, row="body-walls of two nets")
