"""Reads DXF files with ezdxf and prints, as JSON, what it found in each."""

import json
import logging
import math
import sys

import ezdxf
from ezdxf import recover
from ezdxf.math import bulge_to_arc

said = []


class Keep(logging.Handler):
    def emit(self, record):
        said.append(record.getMessage())


logging.getLogger("ezdxf").addHandler(Keep(logging.WARNING))


def area(points):
    """The signed area of a closed loop of (x, y, bulge): the polygon of its
    corners, and the segment of a circle on each arc."""
    total = 0.0
    for i, (x, y, bulge) in enumerate(points):
        u, v, _ = points[(i + 1) % len(points)]
        total += (x * v - u * y) / 2
        if bulge:
            _, start, end, radius = bulge_to_arc((x, y), (u, v), bulge)
            angle = (end - start) % (2 * math.pi)
            total += math.copysign(radius * radius * (angle - math.sin(angle)) / 2, bulge)
    return total


def text(e):
    # The two halves of a character of UTF-16 are put together.
    return e.plain_text().encode("utf-16", "surrogatepass").decode("utf-16")


def entity(e):
    d = e.dxf
    out = {"kind": e.dxftype(), "layer": d.layer}
    if out["kind"] == "LWPOLYLINE":
        points = [tuple(p) for p in e.get_points("xyb")]
        out.update(closed=e.closed, points=points)
    elif out["kind"] == "POLYLINE":
        points = [(v.dxf.location.x, v.dxf.location.y, v.dxf.bulge) for v in e.vertices]
        out.update(closed=e.is_closed, points=points)
    elif out["kind"] == "CIRCLE":
        out.update(points=[(d.center.x, d.center.y, 0)], radius=d.radius, area=math.pi * d.radius**2)
    elif out["kind"] == "LINE":
        out.update(points=[(d.start.x, d.start.y, 0), (d.end.x, d.end.y, 0)])
    elif out["kind"] == "POINT":
        out.update(points=[(d.location.x, d.location.y, 0)])
    elif out["kind"] == "TEXT":
        out.update(points=[(d.insert.x, d.insert.y, 0)], height=d.height, turn=d.rotation, text=text(e), style=d.style)
    if out.get("closed"):
        out["area"] = area(points)
    return out


found = []
for path in sys.argv[1:]:
    said.clear()
    doc = ezdxf.readfile(path)
    audit = doc.audit()
    # The loader for files of others resolves \U+XXXX, the one above does not.
    doc, recovered = recover.readfile(path)
    found.append(
        {
            "file": path,
            "faults": [str(x.message) for a in (audit, recovered) for x in a.errors + a.fixes] + list(said),
            "version": doc.dxfversion,
            "units": doc.header.get("$INSUNITS"),
            "metric": doc.header.get("$MEASUREMENT"),
            "extent": [list(doc.header["$EXTMIN"])[:2], list(doc.header["$EXTMAX"])[:2]],
            "layers": {l.dxf.name: l.color for l in doc.layers},
            "entities": [entity(e) for e in doc.modelspace()],
        }
    )
json.dump(found, sys.stdout)
