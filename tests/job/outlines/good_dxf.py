"""DXF files that are read: how each is drawn, in millimetres unless it says otherwise."""

from __future__ import annotations

import math

from ezdxf.math import Matrix44

from tests.job.outlines.drawings import rounded


def _lines(space, points, **how):
    for a, b in zip(points, points[1:] + points[:1], strict=True):
        space.add_line(a, b, dxfattribs=how)


def _plate_of_lines(space):
    _lines(space, [(10, 20), (110, 20), (110, 90), (60, 120), (10, 90)])


def _lines_any_way_round(space):
    points = [(0, 0), (80, 0), (80, 50), (40, 70), (0, 50)]
    sides = list(zip(points, points[1:] + points[:1], strict=True))
    for i in (3, 0, 4, 2, 1):
        a, b = sides[i]
        space.add_line(*((b, a) if i % 2 else (a, b)))


def _rounded_plate_with_holes(space):
    space.add_lwpolyline(rounded(5, 5, 120, 60, 8), format="xyb", close=True)
    for x in (20, 60, 110):
        space.add_circle((x, 20), 2.75)
    space.add_circle((65, 45), 9)


def _arcs_and_lines(space):
    space.add_line((0, 0), (60, 0))
    space.add_arc((60, 20), 20, -90, 90)
    space.add_line((60, 40), (0, 40))
    space.add_arc((0, 20), 20, 90, 270)


def _ring(space):
    space.add_circle((0, 0), 60)
    space.add_circle((0, 0), 45)


def _disc(space):
    space.add_circle((-30, 12), 25)


def _ellipse(space):
    space.add_ellipse((10, 10), (50, 20), 0.4)
    space.add_ellipse((10, 10), (12, 0), 0.5)


def _half_ellipse(space):
    space.add_ellipse((0, 0), (40, 0), 0.5, 0, math.pi)
    space.add_line((40, 0), (-40, 0))


def _old_polyline(space):
    space.add_polyline2d(rounded(0, 0, 90, 45, 10), format="xyb", close=True)


def _spline(space):
    space.add_spline(degree=3).set_open_uniform([(0, 0), (30, 60), (70, -20), (100, 40), (130, 0)])
    space.add_line((130, 0), (130, -40))
    space.add_line((130, -40), (0, -40))
    space.add_line((0, -40), (0, 0))


def _rational_spline(space):
    s = math.sqrt(0.5)
    points = [(30, 0), (30, 30), (0, 30), (-30, 30), (-30, 0), (-30, -30), (0, -30), (30, -30), (30, 0)]
    knots = [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4]
    curve = space.add_rational_spline(points, [1, s, 1, s, 1, s, 1, s, 1], degree=2, knots=knots)
    curve.closed = False


def _closed_spline(space):
    space.add_spline(degree=3).set_closed([(0, 0, 0), (60, 0, 0), (80, 40, 0), (30, 70, 0), (-20, 40, 0)])


def _block(space):
    inner = space.doc.blocks.new("TAB")
    inner.add_lwpolyline(rounded(0, 0, 40, 30, 5), format="xyb", close=True)
    inner.add_circle((20, 15), 3)
    space.add_blockref("TAB", (100, 50), dxfattribs={"rotation": 30, "xscale": 2, "yscale": 2})


def _mirrored_block(space):
    inner = space.doc.blocks.new("HORN")
    inner.add_line((0, 0), (50, 0))
    inner.add_arc((50, 15), 15, -90, 90)
    inner.add_line((50, 30), (0, 10))
    inner.add_line((0, 10), (0, 0))
    space.add_blockref("HORN", (7, 9), dxfattribs={"xscale": -1, "rotation": 15})


def _stretched_block(space):
    inner = space.doc.blocks.new("EYE")
    inner.add_lwpolyline(rounded(0, 0, 40, 20, 6), format="xyb", close=True)
    inner.add_circle((20, 10), 5)
    space.add_blockref("EYE", (0, 0), dxfattribs={"xscale": 3, "yscale": 1.5, "rotation": 20})


def _nested_blocks(space):
    bolt = space.doc.blocks.new("BOLT")
    bolt.add_circle((1, 1), 2)
    flange = space.doc.blocks.new("FLANGE", base_point=(5, 5))
    flange.add_circle((5, 5), 40)
    for i in range(6):
        a = math.radians(60 * i)
        flange.add_blockref("BOLT", (4 + 30 * math.cos(a), 4 + 30 * math.sin(a)))
    space.add_blockref("FLANGE", (200, -100), dxfattribs={"rotation": 12})


def _block_in_rows(space):
    vent = space.doc.blocks.new("VENT")
    vent.add_circle((0, 0), 2)
    space.add_lwpolyline([(0, 0), (100, 0), (100, 60), (0, 60)], close=True)
    attribs = {"column_count": 4, "row_count": 2, "column_spacing": 20, "row_spacing": 30}
    space.add_blockref("VENT", (20, 15), dxfattribs=attribs)


def _seen_from_below(space):
    space.add_lwpolyline(
        rounded(-70, 0, 60, 40, 9), format="xyb", close=True, dxfattribs={"extrusion": (0, 0, -1)}
    )
    space.add_circle((-40, 20), 4, dxfattribs={"extrusion": (0, 0, -1)})
    space.add_arc((-55, 20), 6, 0, 180, dxfattribs={"extrusion": (0, 0, -1)})
    space.add_line((49, 20), (61, 20))


def _ellipse_from_below(space):
    curve = space.add_ellipse((0, 0), (40, 0), 0.5, 0, math.pi)
    curve.transform(Matrix44.scale(-1, 1, 1))
    space.add_line((40, 0), (-40, 0))


def _with_notes(space):
    space.add_lwpolyline([(0, 0), (70, 0), (70, 30), (0, 30)], close=True)
    space.add_text("cut one", height=4).set_placement((5, 5))
    space.add_mtext("part 7")
    space.add_point((3, 3))
    space.add_hatch().paths.add_polyline_path([(0, 0), (10, 0), (10, 10)])
    space.add_linear_dim(base=(0, -10), p1=(0, 0), p2=(70, 0)).render()


def _gaps(space):
    space.add_line((0, 0), (100, 0.02))
    space.add_line((100, 0), (100, 60))
    space.add_line((99.98, 60), (0, 60))
    space.add_line((0.01, 60.01), (0, 0))


def _drawn_twice(space):
    _plate_of_lines(space)
    _plate_of_lines(space)
    space.add_circle((50, 60), 3)
    space.add_circle((50, 60), 3)


def _overlapping(space):
    space.add_line((0, 0), (60, 0))
    space.add_line((40, 0), (100, 0))
    space.add_line((100, 0), (100, 30))
    space.add_line((100, 30), (0, 30))
    space.add_line((80, 30), (20, 30))
    space.add_arc((0, 15), 15, 90, 200)
    space.add_arc((0, 15), 15, 180, 270)


def _cells_of_a_mesh(space):
    _lines(space, [(0, 0), (60, 0), (60, 60), (0, 60)])
    for i in range(2):
        for j in range(2):
            _lines(space, [(x + 30 * i, y + 30 * j) for x, y in ((5, 5), (25, 5), (15, 22))])


def _big_arc(space):
    space.add_arc((0, 0), 40, 20, 340)
    a = math.radians(20)
    space.add_line((40 * math.cos(a), 40 * math.sin(a)), (40 * math.cos(a), -40 * math.sin(a)))


def _circle_of_two_bulges(space):
    space.add_lwpolyline([(0, 0, 1), (50, 0, 1)], format="xyb", close=True)
    space.add_lwpolyline([(22, 0, 1), (28, 0, 1)], format="xyb", close=True)


GOOD = {
    f.__name__[1:]: f
    for f in (
        _plate_of_lines,
        _lines_any_way_round,
        _rounded_plate_with_holes,
        _arcs_and_lines,
        _ring,
        _disc,
        _ellipse,
        _half_ellipse,
        _old_polyline,
        _spline,
        _rational_spline,
        _closed_spline,
        _block,
        _mirrored_block,
        _stretched_block,
        _nested_blocks,
        _block_in_rows,
        _seen_from_below,
        _ellipse_from_below,
        _with_notes,
        _gaps,
        _drawn_twice,
        _overlapping,
        _cells_of_a_mesh,
        _big_arc,
        _circle_of_two_bulges,
    )
}
