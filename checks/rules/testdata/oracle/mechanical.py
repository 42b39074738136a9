"""Rows of holes, cutouts, connectors and tabs."""

from geometry import TOL, near
from judge import apart, measure, row, shared, two_nets, way_between


@row("via phole uhole", "via phole uhole barrel perf")
@row("perf", "perf")
def holes(j, a, b):
    if a.kind == b.kind == "perf" and a.item == b.item:
        return  # perforation_web's
    j.say("hole_web", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["hole_web"])


@row("via phole uhole", "edge wall")
def hole_edge(j, a, b):
    if b.x.get("root"):
        return  # the wall is held
    rule = "fence_inset" if a.kind == "via" else "hole_edge"  # each by the limit of its name
    items = (a.item,) if b.kind == "edge" and not b.item else (a.item, b.item)
    j.say(rule, items, (a.kind, b.kind), *apart(a, b), j.b.limit[rule])


@row("barrel", "barrel")
def half_holes(j, a, b):
    j.say("castellation_spacing", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["castellation_spacing"])


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
        lo, hi = apart(a, b)
        if b.kind == "pin":  # whether the corners that a curved edge leaves count is open
            lo = min(lo, measure(a.g, a.r, b.x["full"], 0.0))
        j.say("connectors_meet", (a.item, b.item), (a.kind, b.kind), lo, hi, 0.0)


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


@row("perf", "strip feature land via pad ring pin")
def perforation(j, a, b):
    j.say("edge_pullback", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.limit_of(a, b))


@row("perf", "cutout")
def perforation_cutout(j, a, b):
    if a.x["profile"] is not b.x["profile"]:
        j.say("hole_web", (a.item, b.item), (a.kind, b.kind), *apart(a, b), j.b.limit["hole_web"])
