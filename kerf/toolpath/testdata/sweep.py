# Sweeps a bit along paths with shapely and looks at the board that is left. Reads
# cases as JSON, a line each, and writes a line of findings for each.
import json
import math
import sys

from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

STEP = math.radians(1)
FINE = 40  # segments of a quarter turn in a buffer


def flatten(line, closed):
    pts = []
    n = len(line)
    for i, (x, y, b) in enumerate(line):
        pts.append((x, y))
        if i == n - 1 and not closed:
            break
        u, v, _ = line[(i + 1) % n]
        if b == 0:
            continue
        theta = 4 * math.atan(b)
        # centre from chord and bulge
        cx = (x + u) / 2 - (v - y) * (1 - b * b) / (4 * b)
        cy = (y + v) / 2 + (u - x) * (1 - b * b) / (4 * b)
        r = math.hypot(x - cx, y - cy)
        a = math.atan2(y - cy, x - cx)
        k = max(2, math.ceil(abs(theta) / STEP), math.ceil(abs(theta) / (2 * math.acos(max(0.0, 1 - 0.0005 / r)))))
        for j in range(1, k):
            t = a + theta * j / k
            pts.append((cx + r * math.cos(t), cy + r * math.sin(t)))
    return pts


def shape(line, closed):
    pts = flatten(line, closed)
    if len(pts) == 1:
        return Point(pts[0])
    if closed:
        pts.append(pts[0])
    return LineString(pts)


def parts_of(g):
    return list(getattr(g, "geoms", [g]))


def polygon(line):
    # An outline may cross itself within 0.01 mm: the largest part is the shape.
    return max(parts_of(Polygon(flatten(line, True)).buffer(0)), key=lambda g: g.area)


def look(case):
    r = case["r"]
    outer = polygon(case["outline"])
    holes = [polygon(o) for o in case["openings"]]
    panel = outer
    for h in holes:
        panel = panel.difference(h)
    runs = [shape(p["line"], p["closed"]) for p in case["paths"]]
    leads = [shape(l, False) for p in case["paths"] for l in (p["lead"], p["exit"]) if l]
    for o in runs + leads:
        d = o.distance(panel)
        if d < r - 0.01 and not case["relief"]:
            yield "the bit enters the panel by %.4f" % (r - d)
    # Every place that shapely says the bit can follow must be near a path.
    wastes = [outer.buffer(4 * r).difference(outer)] + holes
    all_runs = unary_union(runs)
    for w in wastes:
        c = w.buffer(-(r + 0.004), FINE)
        for g in parts_of(c):
            if g.is_empty:
                continue
            for ring in [g.exterior] + list(g.interiors):
                worst = 0.0
                for xy in ring.coords:
                    p = Point(xy)
                    if panel.distance(p) > r + 0.02:
                        continue  # the outer edge of hull
                    worst = max(worst, all_runs.distance(p))
                if worst > 0.012:
                    yield "a place is missed by %.4f" % worst
    # What the bit takes of the panel, and the outline that the tolerance allows.
    swept = unary_union([o.buffer(r, FINE) for o in runs])
    case["bite"] = swept.intersection(panel).area
    if not case["relief"] and case["bite"] > 0.01 * panel.length:
        yield "the bit takes %.3f mm2 of the panel" % case["bite"]


for text in sys.stdin:
    case = json.loads(text)
    found = list(look(case))
    print(json.dumps({"found": found, "bite": case["bite"]}), flush=True)
