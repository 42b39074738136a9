"""How wide the strip is by which a tab hangs: the greatest width by which all that is left of
the panel can be worn away, on both sides alike, while the tab's root is still joined to the
outside (or in a cutout to the place that is named). Another method than hemline's: shapely's
buffers, halved until they part. Reads boards as JSON, a line each, in mm; writes widths."""

import json
import sys

from shapely.geometry import LineString, Point, Polygon, box
from shapely.ops import unary_union


def width(free, root, inward, wide, target):
    """free is what is left outside the board; the tab goes on into the board as wide as its root."""
    along = (-inward[1], inward[0])

    def corner(a, b):
        return (root[0] + a * along[0] + b * inward[0], root[1] + a * along[1] + b * inward[1])

    half = wide / 2
    stub = Polygon([corner(-half, -0.001), corner(half, -0.001), corner(half, wide), corner(-half, wide)])
    whole = unary_union([free, stub])
    start = Point(corner(0, half))
    low, high = 0.0, wide
    for _ in range(16):
        middle = (low + high) / 2
        worn = whole.buffer(-middle / 2, 32)
        parts = getattr(worn, "geoms", [worn])
        if any(p.distance(start) < 1e-6 and p.distance(Point(target)) < 1e-6 for p in parts):
            low = middle
        else:
            high = middle
    return low


for line in sys.stdin:
    b = json.loads(line)
    board = Polygon(b["outline"])
    slots = unary_union([LineString(s["way"]).buffer(s["r"], 32) if len(s["way"]) > 1 and s["way"][0] != s["way"][-1] or len(s["way"]) > 2
                         else Point(s["way"][0]).buffer(s["r"], 32) for s in b["slots"]])
    x0, y0, x1, y1 = board.bounds
    outside = box(x0 - 20, y0 - 20, x1 + 20, y1 + 20).difference(board).difference(slots)
    print(json.dumps([width(outside, t["root"], t["inward"], t["wide"], (x0 - 12, y0 - 12)) for t in b["tabs"]]), flush=True)
