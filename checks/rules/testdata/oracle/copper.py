"""Rows of copper: walls, wraps, what lies on faces and layers, planes."""

import math

from shapely.geometry import Point
from shapely.ops import unary_union

from geometry import TOL, near
from judge import apart, measure, row, shared, two_nets, way_between

SURFACE = "land barrel pin feature via pad phole ring"


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


@row("unjoined", "feature plane")
def unjoined(j, a, b):
    if a.net is not None and a.net == b.net and shared(a, b):
        j.say("tie_unstated", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["edge_clearance_inner"])


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
        j.say("wall_short", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["inner_clearance"])


@row("strip run", "strip run")
def ties(j, a, b):
    if a.item != b.item and two_nets(a, b) and shared(a, b):
        maybe = way_between(a, b)[0] < j.b.limit["gap_width"] + TOL
        need = 0.0 if a.kind == b.kind == "run" else j.b.limit["inner_clearance"]
        j.say("ties_meet", (a.item, b.item), (a.kind, b.kind), *apart(a, b), need, maybe=maybe)


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


@row(SURFACE, SURFACE)
def copper(j, a, b):
    if not two_nets(a, b) or not shared(a, b) or a.kind == b.kind == "barrel":
        return
    j.say("copper_clearance", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["copper_clearance"])


@row("feature land pad ring pin via strip", "uhole")
def copper_hole(j, a, b):
    j.say("edge_pullback", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.limit_of(a, b))


@row("wrap", "uhole")
def wrap_hole(j, a, b):
    j.say("edge_pullback", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.limit_of(a, b))


@row("feature land ring pad pin", "edge")
def copper_edge(j, a, b):
    if a.kind in ("land", "pin") and b.x["edge"] == a.x["own"] or not shared(a, b):
        return
    items = (a.item,) if not b.item else (a.item, b.item)
    lo, hi = apart(a, b)
    maybe = False
    if a.kind in ("land", "pin") and a.x["profile"] is b.x["profile"]:
        # Not where the profile goes on from its own edge's ends, as far as
        # the limit asks for round a square corner: sqrt(2) of it.
        ends = [Point(e) for e in b.x["profile"].ends(a.x["own"])]
        k = math.sqrt(2) * j.limit_of(a, b)
        lo, hi = (measure(a.g, a.r, b.g.difference(unary_union([e.buffer(k + d, resolution=64) for e in ends])), b.r) for d in (-TOL, TOL))
    if a.kind == "feature":
        # What of it lies on a pin, a land or a wrap of its net is that one's; beside
        # a half hole that it joins on an inner layer the edge does not count.
        pads = [p for p in j.b.pieces if a.net is not None and p.kind in ("pin", "land", "barrel", "wrap", "strip") and p.net == a.net and shared(a, p) and near(p.box, a.box, TOL) and apart(a, p)[0] <= TOL]
        if pads:
            whole = a.g.buffer(a.r, resolution=256) if a.r else a.g
            lo, hi = (measure(whole.difference(unary_union([p.g.buffer(p.r + d, resolution=256) for p in pads])), 0.0, b.g, b.r) for d in (-TOL, TOL))
            maybe = any(p.kind == "barrel" for p in pads) and not a.layers & set(j.b.outer)
    j.say("edge_pullback", items, (a.kind, b.kind), lo, hi, j.limit_of(a, b), maybe=maybe)


@row("wrap", "cutout")
def wrap_cut(j, a, b):
    if a.x["profile"] is not b.x["profile"]:
        d = measure(a.x["raw"], 0.0, b.g, 0.0)
        j.say("edge_pullback", (a.item, b.item), (a.kind, b.kind), d, d, 0.0)


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
    if not shared(a, b):
        return
    d, need = a.x["pullback"], j.limit_of(a, b)
    if a.x["cut"]:
        d = measure(a.g, 0.0, b.g, 0.0)
        j.say("edge_pullback", (a.item,), (a.kind, b.kind), d, d, need)
        return
    if d < need and not a.x.get("near"):
        d = measure(a.g, 0.0, b.g, 0.0)
        a.x["near"] = d < a.x["pullback"] + TOL / 2
    j.say("edge_pullback", (a.item,), (a.kind, b.kind), d, d, need)


@row("plane", "plane")
def plane_plane(j, a, b):
    if shared(a, b):
        later = a if a.x["index"] > b.x["index"] else b
        j.say("planes_overlap", (later.item,), (a.kind, b.kind), *apart(a, b), 0.0)
        planes_apart(j, a, b, a.item, b.item)


@row("plane", "run")
def plane_run(j, a, b):
    if shared(a, b):
        planes_apart(j, a, b, a.item, b.x["of"])


@row("run", "run")
def run_run(j, a, b):
    if shared(a, b) and a.x["of"] != b.x["of"]:
        planes_apart(j, a, b, a.x["of"], b.x["of"])


def planes_apart(j, a, b, one, other):
    """Parts of two planes of two nets, which do not lie over each other."""
    if one == other or not two_nets(a, b):
        return
    cores = measure(j.b.cores[one], 0.0, j.b.cores[other], 0.0)
    if cores < 0:
        return
    lo, hi = apart(a, b)
    if a.kind == b.kind == "run" and lo < TOL:
        if hi >= TOL:
            j.say("copper_clearance", (one, other), (a.kind, b.kind), lo, hi, j.b.limit["copper_clearance"], maybe=True)
        return
    j.say("copper_clearance", (one, other), (a.kind, b.kind), lo, hi, j.b.limit["copper_clearance"], maybe=cores < TOL)


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
