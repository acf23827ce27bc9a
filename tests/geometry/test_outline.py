"""Closed outlines with true arcs, against formulas and against shapely."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from nestkit.geometry.outline import Outline, Vertex, arc_of
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.regions import is_simple, outside, region
from nestkit.geometry.shapes import QUARTER_BULGE, disc, rectangle, slot

SIDE = st.floats(1, 500)
BULGE = st.one_of(st.just(0.0), st.floats(-1.2, 1.2).filter(lambda b: abs(b) > 1e-3))


@st.composite
def stars(draw):
    """Return an outline about a centre, its edges straight or bent either way."""
    count = draw(st.integers(3, 8))
    vertices = []
    for k in range(count):
        angle = 2 * math.pi * k / count
        radius = draw(st.floats(20, 60))
        bulge = draw(st.one_of(st.just(0.0), st.floats(-0.15, 0.4).filter(lambda b: abs(b) > 1e-3)))
        vertices.append(Vertex(radius * math.cos(angle), radius * math.sin(angle), bulge))
    return Outline(tuple(vertices))


def test_formulas_of_a_rounded_rectangle():
    """Area, length and box of a 100 x 40 rectangle with radius 10 are those of the formulas."""
    made = rectangle(100, 40, radius=10)
    assert made.area == pytest.approx(4000 - (4 - math.pi) * 100, rel=1e-14)
    assert made.length == pytest.approx(2 * (80 + 20) + 2 * math.pi * 10, rel=1e-14)
    assert made.bounds == pytest.approx((0, 0, 100, 40))


def test_formulas_of_a_disc():
    """A disc of 100 has area pi r^2, length 2 pi r and its box, though its vertices lie on one line."""
    made = disc(100)
    assert made.area == pytest.approx(math.pi * 2500, rel=1e-14)
    assert made.length == pytest.approx(math.pi * 100, rel=1e-14)
    assert made.bounds == pytest.approx((0, 0, 100, 100))
    assert made.is_circle
    assert not rectangle(1, 1).is_circle


@given(BULGE.filter(bool), st.floats(-180, 180))
def test_an_arc_passes_through_both_its_ends(bulge, turn):
    """Centre, radius, start and sweep of an arc lead from its start to its end."""
    start, end = Point(3, -2), Point(3, -2).moved(*Point(40, 0).turned(turn))
    arc = arc_of(start, end, bulge)
    for point, angle in ((start, arc.start_deg), (end, arc.start_deg + arc.sweep_deg)):
        there = arc.centre.moved(*Point(arc.radius, 0).turned(angle))
        assert there.to(point) < 1e-6
    assert arc.sweep_deg * bulge > 0


def test_a_quarter_bulge_sweeps_ninety_degrees():
    """The bulge of a quarter circle is tan(22.5 degrees)."""
    arc = arc_of(Point(10, 0), Point(0, 10), QUARTER_BULGE)
    assert arc.sweep_deg == pytest.approx(90)
    assert arc.centre == pytest.approx((0, 0))


@given(stars())
def test_area_length_and_box_agree_with_shapely(made):
    """Our closed formulas agree with shapely on the finely flattened outline."""
    ring = shapely.Polygon(made.flattened(1e-4))
    assert made.area == pytest.approx(shapely.Polygon(ring.exterior).area, rel=1e-4)
    assert made.length == pytest.approx(ring.length, rel=1e-4)
    assert made.bounds == pytest.approx(ring.bounds, abs=2e-3)


@given(stars(), st.floats(-360, 360))
def test_turning_changes_neither_area_nor_length(made, angle):
    """A turned outline is the same outline elsewhere."""
    turned = made.turned(angle)
    assert turned.area == pytest.approx(made.area, rel=1e-9)
    assert turned.length == pytest.approx(made.length, rel=1e-9)


@given(stars())
def test_four_quarter_turns_change_nothing(made):
    """Quarter turns are exact: four of them give the very same numbers."""
    turned = made.turned(90).turned(90).turned(90).turned(90)
    assert turned == made


@given(stars(), SIDE)
def test_mirrored_is_still_counter_clockwise_and_twice_is_the_same(made, width):
    """Mirroring keeps area, length and sense; twice gives the outline back."""
    other = made.mirrored(width)
    assert other.area == pytest.approx(made.area, rel=1e-9)
    assert other.length == pytest.approx(made.length, rel=1e-9)
    box, mirror = made.bounds, other.bounds
    assert (mirror.left, mirror.right) == pytest.approx((width - box.right, width - box.left), abs=1e-6)
    twice = other.mirrored(width)
    assert twice.area == pytest.approx(made.area)
    for a, b in zip(sorted(twice.vertices), sorted(made.vertices), strict=True):
        assert a == pytest.approx(b, abs=1e-9)


def test_a_mirrored_arc_bulges_to_the_mirrored_side():
    """An outline with one bent edge, mirrored, is bent at the mirrored edge."""
    made = Outline((Vertex(0, 0), Vertex(10, 0, 0.5), Vertex(10, 10), Vertex(0, 10)))
    assert made.bounds == pytest.approx((0, 0, 12.5, 10))
    assert made.mirrored(10).bounds == pytest.approx((-2.5, 0, 10, 10))


@given(stars())
def test_reversing_changes_only_the_sense(made):
    """Run the other way round, the area changes its sign and the box stays."""
    other = made.reversed()
    assert other.area == pytest.approx(-made.area, rel=1e-9)
    assert other.bounds == pytest.approx(made.bounds)
    assert other.reversed().area == pytest.approx(made.area)


@given(stars(), st.floats(-100, 100), st.floats(-100, 100))
def test_moving_moves_the_box(made, dx, dy):
    """A moved outline has the moved box and the same area."""
    moved, box = made.moved(dx, dy), made.bounds
    assert moved.area == pytest.approx(made.area, rel=1e-6)
    assert moved.bounds == pytest.approx(
        (box.left + dx, box.bottom + dy, box.right + dx, box.top + dy), abs=1e-9
    )


@given(st.floats(0.2, 1000), st.sampled_from([0.1, 0.01, 0.001]))
def test_no_chord_strays_further_than_asked(diameter, tolerance):
    """The middle of each chord of a flattened circle is within the tolerance of the circle."""
    points = disc(diameter).flattened(tolerance)
    centre = Point(diameter / 2, diameter / 2)
    for a, b in zip(points, points[1:] + points[:1], strict=True):
        middle = Point((a.x + b.x) / 2, (a.y + b.y) / 2)
        assert diameter / 2 - centre.to(middle) <= tolerance * (1 + 1e-9) + 1e-12
        assert centre.to(a) == pytest.approx(diameter / 2, rel=1e-9)


def test_an_outline_of_one_point_is_refused():
    """One vertex encloses nothing."""
    with pytest.raises(ValueError, match="two vertices"):
        Outline((Vertex(0, 0),))


def test_regions_measure_areas():
    """Areas with openings, containment and simplicity."""
    plate, hole = rectangle(100, 60), disc(20, centre=Point(50, 30))
    assert region(plate, [hole]).area == pytest.approx(6000 - math.pi * 100, rel=1e-4)
    assert outside([hole, plate, hole.moved(45, 0)], Rect(0, 0, 100, 60)) == [2]
    assert is_simple(slot(Point(0, 0), 30, 10, 33))
    assert not is_simple(Outline((Vertex(0, 0), Vertex(4, 4), Vertex(4, 0), Vertex(0, 4))))
