"""Rows of mask openings."""

from geometry import TOL
from judge import apart, row, shared, two_nets


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
