"""Writes the DXF files of the tests with ezdxf and, beside them, expected.json:
what ezdxf (flattening) and shapely (polygons) find in them.

    /usr/bin/python3 make.py DIR

Needs Debian's python3-ezdxf and python3-shapely. The drawings are our own: the
panels of a harbour museum's tide-table kiosk.
"""

import json
import math
import sys
from pathlib import Path

import ezdxf
from ezdxf.math import Matrix44, rational_bspline_from_arc
from shapely.geometry import LineString, Polygon
from shapely.ops import linemerge

FINE = 0.0005  # flattening, in units of the drawing
SKIP = ("TEXT", "ATTDEF", "MTEXT", "ATTRIB", "POINT", "HATCH", "DIMENSION", "3DFACE", "SOLID", "INSERT", "VIEWPORT", "LEADER")


def rectangle(msp, x, y, w, h, **attribs):
    corners = [(x, y), (x + w, y), (x + w, y + h), (x, y + h)]
    for i, a in enumerate(corners):
        msp.add_line(a, corners[(i + 1) % 4], dxfattribs=attribs)


def lines(doc, msp):
    """A side of lines and arcs, drawn in no order, with a round opening."""
    msp.add_line((600, 0), (0, 0))
    msp.add_line((600, 400), (600, 0))
    msp.add_line((0, 0), (0, 350))
    msp.add_arc((50, 350), 50, 90, 180)
    msp.add_line((50, 400), (600, 400))
    msp.add_circle((300, 200), 76)
    msp.add_text("side", dxfattribs={"insert": (20, 20), "height": 10})


def polylines(doc, msp):
    """Polylines with bulges, either way round, one mirrored by its extrusion."""
    half = 1.0
    msp.add_lwpolyline([(0, 0, 0), (200, 0, half), (200, 100, 0), (0, 100, half)], format="xyb", close=True)
    msp.add_lwpolyline([(20, 20, 0), (20, 80, -0.1), (180, 80, 0), (180, 20, 0.2)], format="xyb", close=True)
    mirrored = {"extrusion": (0, 0, -1)}
    msp.add_lwpolyline([(-700, 0, 0), (-500, 0, 0.5), (-500, 120, 0), (-650, 200, -0.2)], format="xyb", close=True, dxfattribs=mirrored)
    msp.add_circle((-600, 60), 30, dxfattribs=mirrored)
    msp.add_arc((-800, 60), 30, 0, 120, dxfattribs=mirrored)
    a, b = math.radians(120), math.radians(0)
    msp.add_line((800 - 30 * math.cos(a), 60 + 30 * math.sin(a)), (800 - 30 * math.cos(b), 60 + 30 * math.sin(b)))
    # Open, but it ends where it began.
    msp.add_lwpolyline([(0, 300), (150, 300), (150, 380), (0, 380), (0, 300)])


def old_polylines(doc, msp):
    """POLYLINE and VERTEX of R12, one a spline with its frame."""
    p = msp.add_polyline2d([(0, 0), (200, 0), (200, 100), (0, 100)], close=True)
    p.vertices[1].dxf.bulge = 0.7
    p.vertices[3].dxf.bulge = -0.25
    s = msp.add_polyline2d([(300, 0), (500, 0), (500, 100), (300, 100)], close=True)
    s.dxf.flags |= 4
    s.append_vertices([(400, -500), (600, 700)], dxfattribs={"flags": 16})
    msp.add_polyline3d([(600, 0, 0), (700, 0, 0), (650, 90, 0)], close=True)


def ellipses(doc, msp):
    msp.add_ellipse((200, 200), major_axis=(180, 40), ratio=0.5)
    msp.add_ellipse((200, 200), major_axis=(50, 0), ratio=1)
    e = msp.add_ellipse((600, 200), major_axis=(0, 150), ratio=0.4, start_param=0.5, end_param=4)
    msp.add_line(e.start_point, e.end_point)
    f = msp.add_ellipse((900, 200), major_axis=(100, 20), ratio=0.6, start_param=0.3, end_param=2.5,
                        dxfattribs={"extrusion": (0, 0, -1)})
    msp.add_line(f.start_point, f.end_point)


def splines(doc, msp):
    pts = [(0, 0), (100, 160), (220, -120), (300, 60), (380, 0)]
    msp.add_open_spline(pts, degree=3)
    msp.add_lwpolyline([(380, 0), (380, -300), (0, -300), (0, 0)])
    msp.add_spline().set_closed([(x, y, 0) for x, y in [(600, 0), (800, 20), (780, 200), (700, 120), (590, 210)]], degree=3)
    msp.add_rational_spline([(1000, 0), (1100, 200), (1200, 0)], weights=[1, 3, 1], degree=2)
    msp.add_line((1000, 0), (1200, 0))
    circle = rational_bspline_from_arc(center=(1400, 100), radius=80, start_angle=0, end_angle=360)
    msp.add_spline().apply_construction_tool(circle)
    msp.add_open_spline([(1600, 0), (1700, 0), (1700, 90), (1600, 90), (1600, 0)], degree=1)
    msp.add_spline().set_closed_rational([(x, y, 0) for x, y in [(1900, 0), (2100, 0), (2100, 150), (1900, 150)]], weights=[1, 2, 1, 4], degree=3)


def knob(doc):
    b = doc.blocks.new("KNOB", base_point=(10, 5))
    r12 = doc.dxfversion == "AC1009"
    add = b.add_polyline2d if r12 else b.add_lwpolyline
    add([(0, 0, 0), (60, 0, 0.6), (60, 40, 0), (0, 40, 0)], format="xyb", close=True)
    b.add_circle((30, 20), 8)
    if not r12:
        b.add_ellipse((15, 30), major_axis=(8, 0), ratio=0.5)
    return b


def inserts(doc, msp):
    """A block turned, scaled, mirrored and scaled unevenly, in an array, nested."""
    knob(doc)
    at = lambda x, y, **k: msp.add_blockref("KNOB", (x, y), dxfattribs=k)
    at(0, 0)
    at(200, 0, rotation=30)
    at(400, 0, xscale=2, yscale=2)
    at(700, 0, xscale=-1)
    at(900, 0, yscale=-1, rotation=-75)
    at(1100, 0, xscale=2, yscale=0.7)
    at(1400, 0, xscale=-1.5, yscale=0.8, rotation=20)
    at(0, 300, rotation=15, row_count=2, column_count=3, row_spacing=90, column_spacing=120)
    at(-700, 300, extrusion=(0, 0, -1), rotation=40)
    at(-900, 300, extrusion=(0, 0, -1), xscale=-2, yscale=1.3)
    inner = doc.blocks.new("PAIR", base_point=(5, 5))
    inner.add_blockref("KNOB", (0, 0), dxfattribs={"rotation": 25})
    inner.add_blockref("KNOB", (220, 10), dxfattribs={"xscale": -1})
    inner.add_arc((60, 200), 20, 0, 270)
    inner.add_line((60, 180), (80, 200))
    outer = doc.blocks.new("ROW")
    outer.add_blockref("PAIR", (0, 0), dxfattribs={"xscale": 1.2, "yscale": 1.2})
    outer.add_blockref("PAIR", (0, 400), dxfattribs={"xscale": 1, "yscale": -0.6, "rotation": 10})
    msp.add_blockref("ROW", (0, 700), dxfattribs={"rotation": -20})
    msp.add_blockref("ROW", (1800, 700), dxfattribs={"xscale": -0.9, "yscale": 1.4, "rotation": 33})


def texts(doc, msp):
    """Names as TEXT, MTEXT with formatting, ATTRIB, and set from the middle."""
    for i in range(5):
        rectangle(msp, 300 * i, 0, 200, 100)
    msp.add_mtext(r"{\fArial|b1;\H2.5x;tide \C1;table\P18 mm ply}", dxfattribs={"insert": (20, 80)})
    t = msp.add_text("%%ushelf%%u 5%%d", dxfattribs={"height": 10})
    t.set_pos((400, 50), align="MIDDLE_CENTER")
    b = doc.blocks.new("TAG")
    b.add_attdef("NAME", (0, 0), dxfattribs={"height": 5})
    ref = msp.add_blockref("TAG", (650, 50))
    ref.add_attrib("NAME", "plinth", (650, 50))
    msp.add_text(r"Gr\U+00F6\U+00DFe", dxfattribs={"insert": (920, 20), "height": 10})
    msp.add_circle((1300, 50), 20)
    msp.add_text("display", dxfattribs={"insert": (1300, 50), "height": 10})
    msp.add_text("not in a panel", dxfattribs={"insert": (0, -500), "height": 10})


def layers(doc, msp):
    """Layers that are off, frozen and not plotted; paper space; other entities."""
    doc.layers.add("CUT", color=1)
    doc.layers.add("HOLES", color=5)
    doc.layers.add("OFF").off()
    doc.layers.add("FROZEN").freeze()
    doc.layers.add("NOPLOT").dxf.plot = 0
    rectangle(msp, 0, 0, 500, 300, layer="CUT")
    msp.add_circle((100, 100), 30, dxfattribs={"layer": "HOLES"})
    msp.add_circle((400, 200), 20, dxfattribs={"layer": "HOLES", "invisible": 1})
    b = doc.blocks.new("VENT")
    b.add_circle((0, 0), 10, dxfattribs={"layer": "0"})
    b.add_circle((40, 0), 10, dxfattribs={"layer": "HOLES"})
    msp.add_blockref("VENT", (200, 100), dxfattribs={"layer": "HOLES"})
    for name in ("OFF", "FROZEN", "NOPLOT"):
        rectangle(msp, 50, 50, 10, 10, layer=name)
    rectangle(doc.layout(), 0, 0, 297, 210)
    msp.add_point((1, 1))
    msp.add_point((2, 2))
    h = msp.add_hatch()
    h.paths.add_polyline_path([(0, 0), (10, 0), (10, 10)])
    msp.add_3dface([(0, 0), (10, 0), (10, 10), (0, 10)])


def inches(doc, msp):
    doc.header["$INSUNITS"] = 1
    rectangle(msp, 0, 0, 23.6875, 12.5)
    msp.add_arc((8, 6), 1.5, 0, 180)
    msp.add_arc((8, 6), 1.5, 180, 360)


def codes(doc, msp):
    doc.layers.add("Außen")
    rectangle(msp, 0, 0, 100, 50, layer="Außen")
    msp.add_text("Türe", dxfattribs={"insert": (10, 10), "height": 5, "layer": "Außen"})


SCENES = [
    ("lines-r12", "R12", lines, ["side"]),
    ("lines-2018", "R2018", lines, ["side"]),
    ("polylines", "R2000", polylines, []),
    ("old-polylines", "R12", old_polylines, []),
    ("ellipses", "R2004", ellipses, []),
    ("splines", "R2010", splines, []),
    ("inserts", "R2007", inserts, []),
    ("inserts-r12", "R12", inserts, []),
    ("texts", "R2013", texts, ["tide table", "shelf 5°", "plinth", "Größe"]),
    ("layers", "R2010", layers, []),
    ("inches", "R2000", inches, []),
    ("codes-1252", "R2000", codes, ["Türe"]),
    ("codes-utf8", "R2010", codes, ["Türe"]),
]


def rings(doc, msp):
    """All closed loops of a drawing, flattened by ezdxf."""
    hidden = {l.dxf.name for l in doc.layers if l.is_off() or l.is_frozen() or l.dxf.get("plot", 1) == 0}
    loose, out = [], []
    for e, m in placed(msp, Matrix44()):
        if e.dxftype() in SKIP or e.dxf.layer in hidden or e.dxf.get("invisible", 0):
            continue
        if e.dxftype() == "POLYLINE" and e.dxf.flags & 4:
            vs = [v for v in e.vertices if not v.dxf.flags & 16]
            out.append(through(m, [(v.dxf.location.x, v.dxf.location.y) for v in vs]))
            continue
        if e.dxftype() == "SPLINE" and e.closed:
            out.append(through(m, periodic(e)))
            continue
        pts = through(m, flattened(e))
        if math.dist(pts[0], pts[-1]) < 1e-4:
            out.append(pts[:-1])
        else:
            loose.append(LineString(pts))
    if loose:
        merged = linemerge(snapped(loose))
        for line in merged.geoms if hasattr(merged, "geoms") else [merged]:
            assert line.is_closed or math.dist(line.coords[0], line.coords[-1]) < 1e-3, (line.coords[0], line.coords[-1])
            out.append(list(line.coords)[:-1])
    return [Polygon(r) for r in out]


def placed(layout, m):
    """The entities of a layout and its blocks, each with its matrix. ezdxf can take
    blocks apart itself, but loses the shear of a turned block in an uneven one."""
    for e in layout:
        if e.dxftype() != "INSERT":
            yield e, m
            continue
        for ref in e.multi_insert() if e.mcount > 1 else [e]:
            yield from placed(e.doc.blocks.get(e.dxf.name), ref.matrix44() @ m)


def through(m, pts):
    return [(round(v.x, 6), round(v.y, 6)) for v in m.transform_vertices([(x, y, 0) for x, y in pts])]


def flattened(e):
    """Points of an entity. Not by way of ezdxf's paths: their Bezier curves leave an
    ellipse of this size by 0.02 mm."""
    if hasattr(e, "virtual_entities"):
        pts = []
        for part in e.virtual_entities():
            p = flattened(part)
            if pts and math.dist(pts[-1], p[0]) > 1e-6:  # an arc that is run backwards
                if math.dist(pts[-1], p[-1]) < 1e-6:
                    p.reverse()
                else:  # the first one was
                    pts.reverse()
                    if math.dist(pts[-1], p[0]) > 1e-6:
                        p.reverse()
            assert not pts or math.dist(pts[-1], p[0]) < 1e-6
            pts += p[1:] if pts else p
        return pts
    if e.dxftype() == "LINE":
        pts = [e.dxf.start, e.dxf.end]
    else:
        pts = list(e.flattening(FINE))
    return [(v.x, v.y) for v in pts]


def periodic(e):
    """A closed spline by the definition of Cox and de Boor: ezdxf 0.18 does not keep
    to the part of the knots where all control points count."""
    p, k, c = e.dxf.degree, list(e.knots), [tuple(v) for v in e.control_points]
    w = list(e.weights) or [1.0] * len(c)

    def basis(i, p, t):
        if p == 0:
            return 1.0 if k[i] <= t < k[i + 1] else 0.0
        a, b = k[i + p] - k[i], k[i + p + 1] - k[i + 1]
        return ((t - k[i]) / a * basis(i, p - 1, t) if a else 0) + ((k[i + p + 1] - t) / b * basis(i + 1, p - 1, t) if b else 0)

    out, n = [], 20000
    for j in range(n):
        t = k[p] + (k[len(c)] - k[p]) * j / n
        b = [w[i] * basis(i, p, t) for i in range(len(c))]
        out.append(tuple(sum(b[i] * c[i][a] for i in range(len(c))) / sum(b) for a in (0, 1)))
    return out


def snapped(strings):
    """Strings with ends that are nearly the same made the same."""
    ends, out = [], []

    def snap(p):
        for q in ends:
            if math.dist(p, q) < 1e-3:
                return q
        ends.append(p)
        return p

    for s in strings:
        c = list(s.coords)
        out.append(LineString([snap(c[0])] + c[1:-1] + [snap(c[-1])]))
    return out


def panels(polygons, scale):
    """Panels with their openings: a loop in an even number of loops is a panel."""
    depth = [sum(q.contains(p) for q in polygons if q is not p) for p in polygons]
    out = []
    for p, d in zip(polygons, depth):
        if d % 2:
            continue
        holes = [q for q, e in zip(polygons, depth) if e == d + 1 and p.contains(q)]
        area = p.area - sum(h.area for h in holes)
        out.append({
            "area": round(area * scale * scale, 4),
            "box": [round(v * scale, 4) for v in p.bounds],
            "openings": len(holes),
            "perimeter": round((p.length + sum(h.length for h in holes)) * scale, 4),
        })
    return sorted(out, key=lambda p: (p["box"], p["area"]))


def main(directory):
    directory = Path(directory)
    expected = []
    for name, version, scene, names in SCENES:
        doc = ezdxf.new(version, setup=False)
        doc.header["$INSUNITS"] = 4
        scene(doc, doc.modelspace())
        target = directory / (name + ".dxf")
        doc.saveas(target)
        again = ezdxf.readfile(target)
        scale = 25.4 if again.header.get("$INSUNITS", 4) == 1 else 1
        expected.append({
            "file": target.name,
            "names": sorted(names),
            "panels": panels(rings(again, again.modelspace()), scale),
        })
    (directory / "expected.json").write_text(json.dumps(expected, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1])
