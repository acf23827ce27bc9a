import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.geometry.notches import Notch, notched
from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point
from nestkit.geometry.reach import left_in_corner, necks, sharp_corners, tight_places, too_tight
from nestkit.geometry.regions import region
from nestkit.geometry.shapes import corners_cut, disc, rectangle, slot

R = 3.175
"""Half a 1/4 in cutter."""


def ring(radius: float, count: int):
    """A circle written as many points."""
    step = math.tau / count
    return corners_cut(
        [Point(radius * math.cos(i * step), radius * math.sin(i * step)) for i in range(count)]
    )


@pytest.mark.parametrize(
    ("opening", "kind", "size"),
    [
        (slot(Point(0, 0), 20, 6.3), "width", 6.3),
        (slot(Point(0, 0), 20, 6.3, 30), "width", 6.3),
        (disc(6.3), "width", 6.3),
        (rectangle(6.3, 20), "side", 6.3),
        (rectangle(20, 20, radius=3.1), "radius", 3.1),
        (ring(3.1, 24), "side", None),
        (ring(9.9, 72), None, None),
        (slot(Point(0, 0), 20, 6.35), None, None),
        (slot(Point(0, 0), 20, 6.35, 30), None, None),
        (disc(6.35), None, None),
        (rectangle(6.35, 20), None, None),
        (rectangle(20, 20, radius=3.175), None, None),
        (rectangle(20, 20), None, None),
        (corners_cut([Point(0, 0), Point(10.9, 0), Point(5.45, 9.44)]), "side", None),
        (corners_cut([Point(0, 0), Point(11.1, 0), Point(5.55, 9.613)]), None, None),
    ],
)
def test_openings_too_tight_for_a_quarter_inch_cutter(opening, kind, size):
    """An opening that the cutter cannot follow is found, and how; one a hair wider is not."""
    found = too_tight(opening, R, opening=True)
    assert (found.kind if found else None) == kind
    if size is not None:
        assert found.size == pytest.approx(size)


def test_edges_of_parts():
    """Only inner corners count: a narrow part is no narrow gap, a narrow notch is one."""
    assert too_tight(rectangle(2, 50, radius=0.5), R, opening=False) is None
    assert too_tight(disc(3), R, opening=False) is None
    assert too_tight(notched(100, 50, [Notch("bottom", 6.3, 10, at=40)]), R, opening=False).kind == "side"
    assert too_tight(notched(100, 50, [Notch("bottom", 6.35, 10, at=40)]), R, opening=False) is None
    assert (
        too_tight(notched(100, 50, [Notch("top right", 9, 9, radius=2)]), R, opening=False).kind == "radius"
    )
    assert too_tight(notched(100, 50, [Notch("top right", 9, 9, radius=4)]), R, opening=False) is None


@pytest.mark.parametrize(("neck", "kind"), [(6.3, "gap"), (6.4, None)])
def test_a_keyholes_neck(neck, kind):
    """A notch that is wide inside but whose mouth is narrower than the cutter is found."""
    left, right = 50 - neck / 2, 50 + neck / 2
    key = [(0, 0), (left, 0), (left, 10), (30, 10), (30, 30), (70, 30), (70, 10), (right, 10), (right, 0),
           (100, 0), (100, 50), (0, 50)]  # fmt: skip
    found = too_tight(corners_cut([Point(*p) for p in key]), R, opening=False)
    assert (found.kind if found else None) == kind


def test_sharp_inner_corners_are_counted():
    """A rectangle has four inner corners as an opening and none as a part; an L has one."""
    assert sharp_corners(rectangle(20, 20), R, opening=True) == 4
    assert sharp_corners(rectangle(20, 20), R, opening=False) == 0
    assert sharp_corners(rectangle(20, 20, radius=1), R, opening=True) == 0
    assert sharp_corners(notched(50, 50, [Notch("top right", 9, 9)]), R, opening=False) == 1
    assert sharp_corners(ring(20, 72), R, opening=True) == 0


def test_what_a_tool_leaves_in_a_corner():
    """In a square corner a radius r leaves (sqrt 2 - 1) r from its tip: by Pythagoras."""
    assert left_in_corner(math.pi / 2, 10) == pytest.approx(10 * (math.sqrt(2) - 1))
    assert left_in_corner(math.pi, 10) == math.inf


@given(st.floats(1, 40), st.floats(1, 40), st.floats(0.1, 5))
def test_rectangles_agree_with_offsetting(width, height, radius):
    """A rectangular opening is too tight exactly when nothing is left of it for the cutter's centre."""
    opening = rectangle(width, height)
    if abs(min(width, height) - 2 * radius) < 1e-3:
        return
    gone = region(opening).buffer(-radius).is_empty
    assert (too_tight(opening, radius, opening=True) is not None) == gone


@given(st.lists(st.tuples(st.floats(0.2, 1), st.floats(0.2, 1)), min_size=3, max_size=9), st.floats(0.5, 6))
def test_what_is_not_too_tight_can_be_cut(shares, radius):
    """Where no place is found too tight, a cutter in the opening reaches all but its corners: one region."""
    count = len(shares)
    corners = [
        Point(
            30 * r * math.cos(math.tau * (i + 0.4 * s) / count),
            30 * r * math.sin(math.tau * (i + 0.4 * s) / count),
        )
        for i, (r, s) in enumerate(shares)
    ]
    opening = corners_cut(corners)
    area = region(opening)
    if not area.is_valid or too_tight(opening, radius, opening=True):
        return
    path = area.buffer(-radius * 0.999)
    assert path.geom_type == "Polygon"
    assert not path.is_empty


def closed(points):
    """A polygon of straight sides."""
    return corners_cut([Point(*p) for p in points])


def test_each_tight_place_is_told_once():
    """Two narrow notches are two places; the two ends of one are one."""
    two = notched(200, 100, [Notch("top", 5, 20, at=40), Notch("top", 6, 20, at=120)])
    found = tight_places(two, R, opening=False)
    assert [(t.kind, round(t.size, 6)) for t in found] == [("side", 5), ("side", 6)]
    assert [t.kind for t in tight_places(slot(Point(0, 0), 40, 6), R, opening=True)] == ["width"]


def test_a_slight_arc_in_a_curve_is_no_small_radius():
    """A curve that comes as many arcs may have a tight one, as long as next to nothing stays standing."""
    bulge = math.tan(math.radians(2) / 4)
    chord = 2 * 1.0 * math.sin(math.radians(1))
    along = (chord * math.cos(math.radians(1)), -chord * math.sin(math.radians(1)))
    end = (50 + along[0], 20 + along[1])
    slope = math.tan(math.radians(2))
    for turn, fires in ((bulge, False), (math.tan(math.radians(60) / 4), True)):
        outline = Outline(
            (
                Vertex(0, 0),
                Vertex(100, 0),
                Vertex(100, end[1] + slope * 49),
                Vertex(*end, -turn),
                Vertex(50, 20),
                Vertex(0, 20),
            )
        )
        assert bool(too_tight(outline, R, opening=False)) == (fires and True)


@given(
    st.lists(st.tuples(st.floats(0.1, 1), st.floats(0, 1)), min_size=4, max_size=10),
    st.floats(0.5, 5),
)
def test_necks_agree_with_offsetting(shares, limit):
    """Where no neck is told, taking half the limit off all round does not part the material."""
    count = len(shares)
    outline = closed(
        (
            30 * r * math.cos(math.tau * (i + 0.4 * s) / count),
            30 * r * math.sin(math.tau * (i + 0.4 * s) / count),
        )
        for i, (r, s) in enumerate(shares)
    )
    area = region(outline)
    if not area.is_valid or necks(outline, limit, opening=False):
        return
    assert area.buffer(-limit / 2 * 0.999).geom_type == "Polygon"


def test_the_neck_of_a_waist():
    """A waist of 3 mm is a neck for any limit above, in a part; the same line as an opening has none."""
    waist = closed([(0, 0), (40, 18), (80, 0), (80, 40), (40, 21), (0, 40)])
    (neck,) = necks(waist, 3.01, opening=False)
    assert neck.size == pytest.approx(3)
    assert neck.at.x == pytest.approx(40)
    assert necks(waist, 3, opening=False) == ()
    assert necks(waist, 5, opening=True) == ()
