"""Holding tabs stand where they hold: on the edge, spread, away from corners, looking out on sheet."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
import shapely
from hypothesis import given, settings
from hypothesis.strategies import floats, integers

from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point
from nestkit.geometry.regions import region
from nestkit.geometry.shapes import corners_cut, disc, mixed_corners, rectangle, slot
from nestkit.geometry.tabs import tab_count, tab_spots


def places(outline: Outline, width: float, wanted: int, cut: float) -> list[tuple[float, float]]:
    """Return where the tabs stand, rounded."""
    return [(round(s.at.x, 3), round(s.at.y, 3)) for s in tab_spots(outline, width, wanted, cut)]


def test_four_tabs_of_a_rectangle_stand_in_the_middle_of_its_sides():
    """An even spread that can have its tabs in the middle of the sides has them there."""
    assert places(rectangle(100, 50), 6, 4, 6) == [(50, 0), (100, 25), (50, 50), (0, 25)]


def test_tabs_of_a_disc_are_even():
    """Round a disc three tabs are a third of a turn apart."""
    spots = tab_spots(disc(80), 6, 3, 6)
    angles = sorted(math.atan2(s.at.y - 40, s.at.x - 40) for s in spots)
    assert [b - a for a, b in pairwise(angles)] == pytest.approx([math.tau / 3] * 2, abs=0.03)


def test_tight_arcs_have_no_tab():
    """A slot's round ends are too tight; its two straight sides have all tabs."""
    for spot in tab_spots(slot(Point(60, 20), 100, 20), 6, 4, 6):
        assert spot.at.y in (pytest.approx(10), pytest.approx(30))


def test_a_curve_of_many_pieces_counts_as_one():
    """A gentle curve that comes as many short lines takes tabs like an arc, not as corners."""
    ring = corners_cut(
        [Point(100 + 100 * math.cos(a / 50 * math.tau), 100 * math.sin(a / 50 * math.tau)) for a in range(50)]
    )
    assert len(tab_spots(ring, 6, 5, 6)) == 5


def test_what_has_no_room_gets_fewer():
    """Where no edge is long enough there are fewer tabs, at last none; the caller says so."""
    assert places(rectangle(10, 10), 6.35, 3, 6.35) == []
    assert len(places(rectangle(40, 11), 6, 6, 6)) == 4


def test_no_tab_stands_in_a_slot_of_the_part():
    """A tab in a channel would hold to what falls out of it: none stands on the channel's sides."""
    clip = mixed_corners(
        [
            (Point(x, y), 0, 0)
            for x, y in ((0, 0), (52, 0), (52, 60), (33, 60), (33, 12), (19, 12), (19, 60), (0, 60))
        ]
    )
    spots = tab_spots(clip, 6, 6, 6)
    assert len(spots) == 6
    assert not [s for s in spots if 18 < s.at.x < 34 and 11 < s.at.y < 59]


def test_every_counts_by_the_length_of_the_edge():
    """One tab for each so many mm, begun ones too, two at least."""
    assert [tab_count(rectangle(100, 50), None, every) for every in (100, 75, 74, 1000)] == [3, 4, 5, 2]
    assert tab_count(rectangle(100, 50), 7, None) == 7


@settings(max_examples=60, deadline=None)
@given(
    sides=integers(3, 9),
    radius=floats(30, 300),
    corner=floats(0, 8),
    width=floats(3, 8),
    cut=floats(2, 7),
    wanted=integers(1, 8),
    stretch=floats(0.4, 1.0),
)
def test_tabs_lie_across_the_edge_clear_of_corners(sides, radius, corner, width, cut, wanted, stretch):
    """Each tab's middle is on the edge, one end in and one out; the edge is straight or gentle along it."""
    points = [
        Point(radius * math.cos(i / sides * math.tau), stretch * radius * math.sin(i / sides * math.tau))
        for i in range(sides)
    ]
    outline = corners_cut(points, radius=corner if radius * stretch > 80 else 0.0)
    area = region(outline)
    spots = tab_spots(outline, width, wanted, cut)
    assert len(spots) <= wanted
    for spot in spots:
        assert area.exterior.distance(shapely.Point(*spot.at)) < 2e-3
        assert math.hypot(*spot.out) == pytest.approx(1)
        inside, outside = (spot.at.moved(s * spot.out.x * cut / 2, s * spot.out.y * cut / 2) for s in (-1, 1))
        assert not area.contains(shapely.Point(*outside))
        along = Point(-spot.out.y, spot.out.x)
        for share in (-1, -0.5, 0.5, 1):
            beside = spot.at.moved(along.x * width / 2 * share, along.y * width / 2 * share)
            assert area.exterior.distance(shapely.Point(*beside)) < width / 20
        assert inside != outside
    for i, a in enumerate(spots):
        assert all(a.at.to(b.at) > width for b in spots[i + 1 :])


def test_the_same_outline_gives_the_same_tabs():
    """Nothing but the outline and the sizes counts."""
    outline = Outline((Vertex(0, 0), Vertex(95, 0), Vertex(95, 24, -0.35), Vertex(24, 125), Vertex(0, 125)))
    first = tab_spots(outline, 6, 4, 6)
    tab_spots.cache_clear()
    assert tab_spots(outline, 6, 4, 6) == first
