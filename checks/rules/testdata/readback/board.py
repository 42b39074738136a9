"""A board as it is held: its pieces as shapes, its layers as images."""
import math
import os

from areas import corners
from shapely.errors import TopologicalError
from shapely.geometry import LineString, MultiLineString, Point, Polygon
from shapely.ops import unary_union

# What rounding to a nanometre and chords for arcs may change, mm: CHORD is how
# far a chord may lie off its arc, HAIR how far from its limit a distance may
# be, and half of how wide an area may be that counts as none.
CHORD = 8e-4
HAIR = 2e-3


def chords(radius):
    """How many chords a full circle needs to keep within CHORD."""
    return max(24, math.ceil(2 * math.pi / math.sqrt(8 * CHORD / max(radius, CHORD))))


def points(path):
    """The points of a path, its end among them."""
    return corners(path, chords) + [tuple(path[-1]["end"][:2])]


def area(path):
    shape = Polygon(corners(path, chords))
    return shape if shape.is_valid else shape.buffer(0)


def band(paths, width):
    """All that is no farther from paths than a width, with flat ends: made piece by
    piece, for a buffer of chords has ends that are as skew as the last chord."""
    if width <= 0:
        return Polygon()
    shapes = []
    for path in paths:
        shapes += [beside(step, width) for step in path]
    steps = [step for path in paths for step in path]
    for a in steps:  # what follows it may be of another path
        for b in steps:
            if math.dist(a["end"][:2], b["start"][:2]) < HAIR and turns(a, b):
                shapes.append(Point(b["start"][:2]).buffer(width, resolution=12))
    return unary_union(shapes)


def turns(a, b):
    """Whether one step goes on from another otherwise than straight."""
    (ax, ay), (bx, by) = heading(a, "end"), heading(b, "start")
    return abs(ax * by - ay * bx) > 1e-6 or ax * bx + ay * by < 0


def heading(step, at):
    x, y = step[at][:2]
    if step["type"] == "line":
        dx, dy = (step["end"][k] - step["start"][k] for k in (0, 1))
    else:
        way = 1 if step["dir"] == "ccw" else -1
        dx, dy = way * (step["center"][1] - y), way * (x - step["center"][0])
    long = math.hypot(dx, dy)
    return dx / long, dy / long


def beside(step, width):
    """All beside a line or an arc, as far as a width."""
    if step["type"] == "line":
        (x, y), (u, v), (dx, dy) = step["start"][:2], step["end"][:2], heading(step, "start")
        nx, ny = -dy * width, dx * width
        return Polygon([(x + nx, y + ny), (u + nx, v + ny), (u - nx, v - ny), (x - nx, y - ny)])
    (cx, cy), r = step["center"], step["radius"]

    def parallel(radius):
        far = {k: [cx + (step[k][0] - cx) * radius / r, cy + (step[k][1] - cy) * radius / r] for k in ("start", "end")}
        return points([dict(step, radius=radius, **far)])

    if step["sweep"] > 2 * math.pi - 1e-9:
        return less(Polygon(parallel(r + width)), Polygon(parallel(r - width)) if r > width else Polygon())
    inner = parallel(r - width) if r > width else [(cx, cy)]
    return Polygon(parallel(r + width) + inner[::-1])


def settled(how):
    """Does an operation on two shapes; where boundaries lie on each other so nearly
    that it fails, once more with one of them a hundredth of a hair larger."""
    def do(a, b):
        try:
            shape = getattr(a, how)(b)
        except TopologicalError:
            shape = getattr(a.buffer(0), how)(b.buffer(HAIR / 100))
        if shape.geom_type != "GeometryCollection":
            return shape
        return unary_union([x for x in shape.geoms if x.area > 0])  # not where they just touch
    return do


less, both, joined = settled("difference"), settled("intersection"), settled("union")


def thick(shape):
    """What of an area is wider than rounding makes it."""
    return Polygon() if shape.area < math.pi * HAIR * HAIR else shape.buffer(-HAIR)


class Piece:
    """A piece of the map of the metal, or what metal keeps from."""

    def __init__(self, given):
        self.kind, self.of, self.item, self.net, self.member = (given[k] for k in ("kind", "of", "item", "net", "member"))
        self.layers, self.figures, self.profile = set(given["layers"] or []), given["figures"], given["profile"]
        self.ends = [Point(e) for e in given["ends"] or []]
        self.own = LineString(points(given["own"])) if given["own"] else None
        paths = given["shape"] or []
        self.paths = paths if given["line"] else None
        if given["line"]:
            self.shape = MultiLineString([points(p) for p in paths])
        else:
            self.shape = unary_union([area(p) for p in paths])
        self.bounds = self.shape.bounds

    def __str__(self):
        return "%s of %s" % (self.kind, self.item)


class Image:
    """What a file of shapes shows, by net: laid on and taken away in order."""

    def __init__(self, shapes, nets):
        self.by_net, self.short = {}, []
        k = 0
        while k < len(shapes):
            dark, net, run = shapes[k]["dark"], nets[k], []
            while k < len(shapes) and shapes[k]["dark"] == dark and (not dark or nets[k] == net):
                run.append(area(shapes[k]["path"]))
                k += 1
            union = unary_union(run)
            if dark:
                self.by_net[net] = joined(self.by_net.get(net, Polygon()), union)
            else:
                self.by_net = {n: less(a, union) for n, a in self.by_net.items()}
        self.all = unary_union(list(self.by_net.values())) if self.by_net else Polygon()


def nets_of(file):
    """The net that each region of a Gerber file belongs to, None where it says none."""
    nets, net = [], None
    with open(file, encoding="utf-8") as lines:
        for line in lines:
            if line.startswith("%TO.N,"):
                net = line[len("%TO.N,"):].rstrip().removesuffix("*%").encode("ascii", "backslashreplace").decode("unicode_escape")
            elif line.startswith("%TD*%"):
                net = None
            elif line.startswith("G36"):
                nets.append(net)
    return nets


class Board:
    def __init__(self, given, files, held):
        self.name, self.limits, self.levels, self.folder = given["name"], given["limits"], given["levels"], given["folder"]
        self.files, self.held, self.wrong, self.images = files, held, [], {}
        self.pieces = [Piece(p) for p in given["pieces"]]
        self.gaps, self.tabs = given["gaps"] or [], given["tabs"] or []
        self.outline = self.image("profile.gbr").all
        self.region = less(self.outline, unary_union([p.shape for p in self.of("cutout")]))

    def of(self, *kinds):
        return [p for p in self.pieces if p.kind in kinds]

    def on(self, level, *kinds):
        return [p for p in self.pieces if level in p.layers and (not kinds or p.kind in kinds)]

    def outer(self, level):
        return level in (0, len(self.levels) - 1)

    def edge_limit(self, level):
        return self.limits["edge_clearance_outer" if self.outer(level) else "edge_clearance_inner"]

    def planes(self, level):
        return self.on(level, "plane")

    def image(self, name):
        """The image of a file; an empty one where there is none."""
        if name is None or name not in self.files:
            return Image([], [])
        shapes, nets = self.files[name]["shapes"], nets_of(os.path.join(self.folder, name))
        if len(shapes) != len(nets):
            self.says("%s: %d regions are read of %d" % (name, len(shapes), len(nets)))
            return Image([], [])
        return Image(shapes, nets)

    def layer(self, level, what):
        """The image of a layer's copper to add, or of what is to be kept free."""
        if (level, what) not in self.images:
            self.images[level, what] = self.image(self.file(level, what))
        return self.images[level, what]

    def file(self, level, what):
        start, end = "copper_L%d_" % (level + 1), "_%s.gbr" % what
        names = [n for n in self.files if n.startswith(start) and n.endswith(end)]
        return names[0] if names else None

    def says(self, text):
        self.wrong.append(text)

    def count(self, what, n=1):
        self.held[what] = self.held.get(what, 0) + n

    def none(self, what, shape):
        """Holds that an area is none, and tells whether it is."""
        self.count("areas")
        rest = thick(shape)
        if not rest.is_empty:
            p = rest.representative_point()
            self.says("%s: %.6f mm² at (%.4f, %.4f)" % (what, shape.area, p.x, p.y))
        return rest.is_empty

    def apart(self, what, a, b, least):
        """Holds that two shapes are as far apart as a limit."""
        self.count("distances")
        if a.envelope.distance(b.envelope) >= least:
            return
        d = a.distance(b)
        if d < least - HAIR:
            self.says("%s: %.4f mm, at least %.4f mm" % (what, d, least))


def differ(a, b):
    """Whether two coppers are of two nets; members of one statement without a net are of one."""
    if a.of == b.of and a.net == b.net:
        return False
    return a.net is None or b.net is None or a.net != b.net


def union(pieces):
    return unary_union([p.shape for p in pieces]) if pieces else Polygon()
