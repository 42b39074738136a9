"""Areas and extents of what read.mjs found, by shapely: shapes are laid on and
taken away in order, arcs replaced by chords, 256 to a full circle.

  node read.mjs FOLDER | python3 areas.py
"""
import json
import math
import sys

from shapely.geometry import Polygon
from shapely.ops import unary_union

CHORDS = 256
SEAM = 1e-3  # mm


def corners(path, chords=lambda radius: CHORDS):
    """The points of a path, its arcs replaced by as many chords to a full circle
    as chords says for their radius."""
    points = []
    for s in path:
        points.append(tuple(s["start"][:2]))
        if s["type"] == "arc":
            cx, cy = s["center"]
            at = math.atan2(s["start"][1] - cy, s["start"][0] - cx)
            way = 1 if s["dir"] == "ccw" else -1
            n = max(1, math.ceil(s["sweep"] / (2 * math.pi) * chords(s["radius"])))
            for k in range(1, n):
                a = at + way * s["sweep"] * k / n
                points.append((cx + s["radius"] * math.cos(a), cy + s["radius"] * math.sin(a)))
    return points


def image(shapes):
    total = Polygon()
    k = 0
    while k < len(shapes):
        dark, run = shapes[k]["dark"], []
        while k < len(shapes) and shapes[k]["dark"] == dark:
            polygon = Polygon(corners(shapes[k]["path"]))
            if not polygon.is_valid:
                raise SystemExit("a region that crosses itself: %s" % shapes[k]["path"])
            run.append(polygon)
            k += 1
        union = unary_union(run)
        total = total.union(union) if dark else total.difference(union)
    return total


def margin(images, face):
    """How far mask is from the copper to add on a face, on a board without cutouts."""
    layers = sorted(name for name in images if name.endswith("_add.gbr"))
    outer = layers[0] if face == "top" else layers[-1]
    board = images["profile.gbr"]
    closed = board.difference(images["mask_%s_open.gbr" % face])
    # Two runs of chords along one arc leave seams between them that are no mask.
    closed = closed.buffer(-SEAM).buffer(SEAM)
    return images[outer].intersection(board).distance(closed)


def main():
    files = json.load(sys.stdin)
    images = {name: image(f["shapes"]) for name, f in files.items() if name.endswith(".gbr")}
    out = {}
    for name, f in files.items():
        f["regions"] = len(f.pop("shapes"))
        if name in images:
            f["area"] = images[name].area
            f["bounds"] = images[name].bounds
            f["inside"] = images[name].intersection(images["profile.gbr"]).area
            other = name.replace("_add", "_free")
            if other != name and other in images:
                f["shared"] = images[name].intersection(images[other]).area
            if name.startswith("mask_"):
                f["margin"] = margin(images, name.split("_")[1])
        f["length"] = sum(math.dist(s["start"][:2], s["end"][:2]) if s["type"] == "line" else s["radius"] * s["sweep"]
                          for p in f["paths"] for s in p["path"])
        f["widths"] = [p["width"] for p in f["paths"]]
        out[name] = f
    json.dump(out, sys.stdout)


if __name__ == "__main__":
    main()
