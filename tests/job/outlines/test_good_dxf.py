"""DXF files of all kinds of lines, made by one library, read by us and by another."""

from __future__ import annotations

import math

import ezdxf
import numpy as np
import pytest
from scipy.interpolate import BSpline

from nestkit.geometry.distances import boundary
from nestkit.geometry.points import Point
from nestkit.job.outlines.curves import TOLERANCE
from tests.job.outlines.drawings import dxf, panel_of
from tests.job.outlines.good_dxf import GOOD
from tests.job.outlines.judge import areas, compare


@pytest.mark.parametrize("name", GOOD)
def test_the_part_is_the_one_that_another_reader_sees(name, tmp_path):
    """Outline, openings and holes lie within the tolerance of curves of what GDAL reads of the file."""
    panel = panel_of(tmp_path, dxf(GOOD[name]))
    # GDAL draws splines with few chords, and a closed one past its end; gaps are as wide as they are.
    loose = {"gaps": 0.03, "spline": 1.0, "rational_spline": 0.3}
    if name != "closed_spline":
        found = areas(tmp_path / "part.dxf", 1 if name == "gaps" else 5)
        compare(panel, found, loose.get(name, 2 * TOLERANCE))
    assert panel.outline.bounds.left == pytest.approx(0, abs=1e-9)
    assert panel.outline.bounds.bottom == pytest.approx(0, abs=1e-9)
    assert panel.shape == "outline"
    assert panel.turn == "any"


@pytest.mark.parametrize("name", ["spline", "rational_spline", "closed_spline", "half_ellipse", "ellipse"])
def test_curves_are_kept_within_the_tolerance(name, tmp_path):
    """No point of a spline or an ellipse, as the writing library flattens it, is further off than stated."""
    data = dxf(GOOD[name])
    panel = panel_of(tmp_path, data)
    curve = next(iter(ezdxf.readfile(tmp_path / "part.dxf").modelspace()))
    points = [Point(p.x, p.y) for p in curve.flattening(1e-5)]
    if name == "closed_spline":
        # The library goes on past the ends of a closed spline; this one keeps to where it is defined.
        spline = BSpline(curve.knots, np.array(curve.control_points)[:, :2], 3)
        points = [Point(*p) for p in spline(np.linspace(curve.knots[3], curve.knots[-4], 2000))]
    line = boundary(panel.outline)
    low = min(p.x for p in points), min(p.y for p in points)
    if name == "spline":
        low = 0.0, -40.0
    away = [line.distance(p.moved(-low[0], -low[1])) for p in points]
    # The box is known to within the tolerance too.
    assert max(away) <= 2 * TOLERANCE
    assert len(panel.outline.vertices) < 120


@pytest.mark.parametrize(
    ("code", "mm"), [(1, 25.4), (2, 304.8), (4, 1.0), (5, 10.0), (6, 1000.0), (9, 0.0254)]
)
def test_the_unit_of_the_file_counts(code, mm, tmp_path):
    """A side of so many of the file's units is that long in millimetres, whatever the job's unit."""
    side = 200.0 / mm
    data = dxf(
        lambda s: s.add_lwpolyline([(0, 0), (side, 0), (side, side), (0, side)], close=True), units=code
    )
    for unit in ("in", "mm"):
        panel = panel_of(tmp_path, data, unit=unit)
        assert float(panel.width) == pytest.approx(200.0, abs=1e-6)
        assert "as the file says" in panel.drawn.notes[0]


def test_without_a_unit_the_job_s_counts(tmp_path):
    """A file without $INSUNITS is in the job's unit, and that is said."""
    data = dxf(lambda s: s.add_polyline2d([(0, 0), (4, 0), (4, 2), (0, 2)], close=True), version="R12")
    assert float(panel_of(tmp_path, data, unit="in").width) == 101.6
    panel = panel_of(tmp_path, data, unit="mm")
    assert float(panel.width) == 4.0
    assert "no unit" in panel.drawn.notes[0]
    assert float(panel_of(tmp_path, data, 'outline_unit = "in"', unit="mm").width) == 101.6


def test_arcs_stay_arcs(tmp_path):
    """A rounded plate keeps its four corners as arcs of the radius drawn, and every line straight."""
    panel = panel_of(tmp_path, dxf(GOOD["rounded_plate_with_holes"]))
    assert sorted(v.bulge for v in panel.outline.vertices) == pytest.approx(
        [0] * 4 + [math.tan(math.pi / 8)] * 4
    )
    ring = panel_of(tmp_path, dxf(GOOD["ring"]))
    assert ring.outline.is_circle
    assert ring.openings[0].outline.is_circle
    assert (ring.width, ring.height) == (120, 120)


def test_what_was_mended_and_left_out_is_said(tmp_path):
    """Gaps with the largest, lines taken out, curves, and kinds that are no edge stand in the notes."""
    notes = {name: "; ".join(panel_of(tmp_path, dxf(GOOD[name])).drawn.notes) for name in GOOD}
    assert "3 gaps joined, the largest 0.02" in notes["gaps"]
    assert "6 drawn twice" in notes["drawn_twice"]
    assert "3 overlapping" in notes["overlapping"]
    assert "2 curves as arcs within 0.005 mm" in notes["ellipse"]
    assert "1 curve as arcs" in notes["spline"]
    assert "1 DIMENSION, 1 HATCH, 1 MTEXT, 1 POINT, 1 TEXT" in notes["with_notes"]
    for name in ("plate_of_lines", "ring", "block", "circle_of_two_bulges", "big_arc"):
        assert notes[name] == "in millimetres, as the file says", name
