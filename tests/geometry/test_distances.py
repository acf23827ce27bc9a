import math

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from nestkit.geometry.distances import RUN, boundary
from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point
from nestkit.geometry.regions import region
from nestkit.geometry.shapes import corners_cut, disc, rectangle, slot

SMALL = st.floats(-60, 60)
POINTS = st.builds(Point, SMALL, SMALL)


@st.composite
def outlines(draw):
    """Rectangles with corners of all kinds, discs, slots and notched polygons, somewhere, turned."""
    w, h = draw(st.floats(5, 60)), draw(st.floats(5, 60))
    cut = draw(st.floats(0.5, min(w, h) / 2.1))
    kind = draw(st.sampled_from(["sharp", "round", "chamfer", "disc", "slot", "ell", "bite"]))
    if kind == "disc":
        made = disc(w)
    elif kind == "slot":
        made = slot(Point(0, 0), w + h, h)
    elif kind == "ell":
        corners = [
            Point(0, 0),
            Point(w, 0),
            Point(w, h / 2),
            Point(w / 2, h / 2),
            Point(w / 2, h),
            Point(0, h),
        ]
        made = corners_cut(corners, radius=min(w, h) / 5)
    elif kind == "bite":
        made = Outline((Vertex(0, 0), Vertex(w, 0, -0.8 * cut / w), Vertex(w, h), Vertex(0, h)))
    else:
        made = rectangle(w, h, radius=cut * (kind == "round"), chamfer=cut * (kind == "chamfer"))
    return made.turned(draw(st.floats(0, 360))).moved(draw(SMALL), draw(SMALL))


@given(outlines(), POINTS)
def test_distance_and_side_agree_with_shapely(outline, point):
    """The exact distance to the line, and the side, are shapely's to its flattening of 0.001 mm."""
    area = region(outline)
    line = boundary(outline)
    place = shapely.Point(point)
    away = line.distance(point)
    assert away == pytest.approx(area.exterior.distance(place), abs=0.0015)
    assume(away > 0.002)
    assert (line.depth(point) > 0) == area.contains(place)


@given(outlines(), outlines())
def test_distance_between_lines_agrees_with_shapely(one, other):
    """The least distance between two lines is shapely's; it is the same both ways round."""
    a, b = boundary(one), boundary(other)
    expected = region(one).exterior.distance(region(other).exterior)
    assert a.apart(b) == pytest.approx(expected, abs=0.003)
    assert a.apart(b) == pytest.approx(b.apart(a), abs=1e-9)


@given(outlines(), outlines(), st.floats(0.1, 30))
def test_a_limit_changes_only_what_lies_beyond_it(one, other, limit):
    """With a limit the distance is exact up to it, and never below it beyond."""
    a, b = boundary(one), boundary(other)
    exact, limited = a.apart(b), a.apart(b, limit)
    if exact <= limit:
        assert limited == exact
    else:
        assert limited > limit


@st.composite
def stars(draw):
    """Wavy outlines of many more pieces than are looked at together, some of them arcs."""
    count, waves, deep = draw(st.integers(3 * RUN, 8 * RUN)), draw(st.integers(2, 9)), draw(st.floats(0, 0.6))
    bulge = draw(st.sampled_from([0.0, 0.2, -0.2]))
    vertices = []
    for i in range(count):
        angle = math.tau * i / count
        radius = 40 * (1 + deep * math.sin(waves * angle))
        vertices.append(Vertex(radius * math.cos(angle), radius * math.sin(angle), bulge * (i % 5 == 0)))
    return Outline(tuple(vertices))


@given(stars(), POINTS)
def test_what_is_looked_at_together_changes_nothing(outline, point):
    """On an outline of many pieces distance and side are those found by asking each piece in turn."""
    line = boundary(outline)
    assert len(line.runs) >= 3
    assert line.distance(point) == min(point.to(piece.nearest(point)) for piece in line.pieces)
    assume(line.distance(point) > 1e-6)
    assert line.winds_round(point) == (abs(sum(p.angle_from(point) for p in line.pieces)) > math.pi)


@given(outlines(), POINTS, st.floats(0, 360))
def test_turning_changes_nothing(outline, point, angle):
    """Depth is a property of shape and place, not of how both lie."""
    before = boundary(outline).depth(point)
    after = boundary(outline.turned(angle)).depth(point.turned(angle))
    assert after == pytest.approx(before, abs=1e-6) or abs(before) < 1e-6


@pytest.mark.parametrize(
    ("outline", "point", "depth"),
    [
        (disc(10, centre=Point(0, 0)), Point(0, 0), 5),
        (disc(10, centre=Point(0, 0)), Point(0, 5), 0),
        (disc(10, centre=Point(0, 0)), Point(3, 0), 2),
        (disc(10, centre=Point(0, 0)), Point(9, 0), -4),
        (slot(Point(0, 0), 20, 10), Point(5, 0), 5),
        (slot(Point(0, 0), 20, 10), Point(5, 3), 2),
        (slot(Point(0, 0), 20, 10), Point(11, 0), -1),
        (rectangle(20, 10), Point(20, 10), 0),
        (rectangle(20, 10), Point(23, 14), -5),
        (rectangle(20, 20, radius=5), Point(0, 0), 5 - 5 * math.sqrt(2)),
        (rectangle(20, 20, radius=5), Point(5, 5), 5),
        (rectangle(20, 20, radius=5), Point(2.5, 2.5), 5 - 2.5 * math.sqrt(2)),
    ],
)
def test_worked_depths(outline, point, depth):
    """Points on centres, chords, corners and the line itself have the depth that is worked by hand."""
    assert boundary(outline).depth(point) == pytest.approx(depth, abs=1e-9)


@pytest.mark.parametrize(
    ("one", "other", "apart"),
    [
        (disc(10, centre=Point(0, 0)), disc(4, centre=Point(0, 0)), 3),
        (disc(10, centre=Point(0, 0)), disc(10, centre=Point(20, 0)), 10),
        (disc(10, centre=Point(0, 0)), disc(10, centre=Point(7, 0)), 0),
        (disc(10, centre=Point(0, 0)), disc(10, centre=Point(10, 0)), 0),
        (rectangle(20, 10), disc(2, centre=Point(10, 5)), 4),
        (rectangle(20, 10), rectangle(2, 2, at=Point(5, 5)), 3),
        (rectangle(20, 10), rectangle(30, 2, at=Point(-5, 5)), 0),
        (rectangle(20, 10), rectangle(5, 5, at=Point(20, 0)), 0),
        (rectangle(20, 10), rectangle(5, 5, at=Point(23, 14)), 5),
    ],
)
def test_worked_distances_between_lines(one, other, apart):
    """Nested, crossing, touching and separate outlines have the distance that is worked by hand."""
    assert boundary(one).apart(boundary(other)) == pytest.approx(apart, abs=1e-9)
