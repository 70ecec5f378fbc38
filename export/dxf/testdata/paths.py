"""Measures in DXF files, with ezdxf and shapely, how the paths of a bit lie to the
edges. Arguments: the diameter of the bit, then files. Prints JSON, all in mm."""

import json
import math
import sys

import ezdxf
from ezdxf.math import bulge_to_arc
from shapely.geometry import LineString, MultiLineString, Point

SAGITTA = 0.0005  # mm: how far the chords may stand off an arc


def vertices(e):
    """The vertices that a polyline was written with, as (x, y, bulge), and whether it is closed."""
    if e.dxftype() == "LWPOLYLINE":
        return [tuple(p) for p in e.get_points("xyb")], e.closed
    return [(v.dxf.location.x, v.dxf.location.y, v.dxf.bulge) for v in e.vertices], e.is_closed


def run(center, start, sweep, radius, scale):
    """Points on an arc, whose chords stand off it by no more than SAGITTA."""
    n = max(1, math.ceil(abs(sweep) / (2 * math.sqrt(2 * SAGITTA / (radius * scale)))))
    return [
        ((center[0] + radius * math.cos(start + sweep * k / n)) * scale, (center[1] + radius * math.sin(start + sweep * k / n)) * scale)
        for k in range(n + 1)
    ]


def points(e, scale):
    """Points on an entity, in mm."""
    d = e.dxf
    if e.dxftype() == "POINT":
        return [(d.location.x * scale, d.location.y * scale)]
    if e.dxftype() == "LINE":
        return [(p.x * scale, p.y * scale) for p in (d.start, d.end)]
    if e.dxftype() == "CIRCLE":
        return run(d.center, 0, 2 * math.pi, d.radius, scale)
    corner, closed = vertices(e)
    out = []
    for i, (x, y, bulge) in enumerate(corner):
        if i == len(corner) - 1 and not closed:
            out.append((x * scale, y * scale))
            break
        u, v, _ = corner[(i + 1) % len(corner)]
        if bulge:
            center, start, end, radius = bulge_to_arc((x, y), (u, v), bulge)
            sweep = (end - start) % (2 * math.pi)
            arc = run(center, start, sweep, radius, scale)
            out += arc if bulge > 0 else arc[::-1]
        else:
            out += [(x * scale, y * scale), (u * scale, v * scale)]
    return out


def corners(e, scale):
    """The vertices of a polyline in mm."""
    if e.dxftype() not in ("LWPOLYLINE", "POLYLINE"):
        return []
    return [(x * scale, y * scale) for x, y, _ in vertices(e)[0]]


def between(a, b):
    """The line from a to b in steps of 5 mm or less."""
    n = max(1, int(Point(a).distance(Point(b)) / 5))
    return [(a[0] + (b[0] - a[0]) * k / n, a[1] + (b[1] - a[1]) * k / n) for k in range(n + 1)]


def measure(path, bit):
    doc = ezdxf.readfile(path)
    scale = 25.4 if doc.header["$INSUNITS"] == 1 else 1.0
    on = {}
    for e in doc.modelspace():
        on.setdefault(e.dxf.layer, []).append(e)
    edges = [e for layer in ("OUTLINE", "OPENING", "DRILL") for e in on.get(layer, [])]
    walls = MultiLineString([points(e, scale) for e in edges])
    corner = [Point(c) for e in edges for c in corners(e, scale)]
    reliefs = [(e.dxf.center.x * scale, e.dxf.center.y * scale) for e in on.get("RELIEF", [])]
    relieved = lambda p: any(Point(p).distance(Point(r)) < 1e-6 for r in reliefs)
    runs = [points(e, scale) for e in on.get("PATH", [])]
    off = []
    for r in runs:
        if len(r) == 1:
            off.append(abs(walls.distance(Point(r[0])) - bit / 2))
        for a, b in zip(r, r[1:]):
            if not relieved(a) and not relieved(b):
                off += [abs(walls.distance(Point(p)) - bit / 2) for p in between(a, b)]
    way = MultiLineString([r for r in runs if len(r) > 1])
    starts = [Point(r[0]) for r in runs]
    leads = [points(e, scale) for e in on.get("LEAD", [])]
    tabs = [LineString(points(e, scale)) for e in on.get("TAB", [])]
    least = lambda p, others: min((p.distance(o) for o in others), default=1e9)
    return {
        "paths": len(runs),
        "reliefs": len(reliefs),
        "tabs": sorted(t.length for t in tabs),
        "leads": len(leads),
        # The most that a path is off half the bit from the nearest edge.
        "off": max(off, default=0),
        # The most that the edge of a relief is off the corner that it frees.
        "corner": max((abs(least(Point(r), corner) - bit / 2) for r in reliefs), default=0),
        "radius": max((abs(e.dxf.radius * scale - bit / 2) for e in on.get("RELIEF", [])), default=0),
        # The most that a tab is off the path, and a lead off the start of one.
        "tab": max((max(way.distance(Point(p)) for p in t.coords) for t in tabs), default=0),
        "lead": max((min(least(Point(l[0]), starts), least(Point(l[-1]), starts)) for l in leads), default=0),
        # How much nearer than half the bit a lead comes to an edge.
        "bite": max((bit / 2 - walls.distance(LineString(l)) for l in leads), default=0),
    }


print(json.dumps([measure(p, float(sys.argv[1])) for p in sys.argv[2:]]))
