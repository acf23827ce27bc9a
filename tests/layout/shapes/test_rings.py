"""Parts in the openings of others: they lie there just where the gap leaves room, arcs and nests included."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
import shapely

from nestkit.geometry.points import Point
from nestkit.geometry.shapes import disc, rectangle
from nestkit.layout.efforts import EFFORTS
from nestkit.layout.lay_out import lay_out
from nestkit.layout.shapes.problem import Kind, Plate, Ring, Shape, ShapesLayout, ShapesProblem
from nestkit.layout.shapes.sheets import solve
from tests.layout.made import group, job, sheet
from tests.layout.shapes import random_jobs
from tests.layout.shapes.jigsaws import ONE, QUARTERS, judge
from tests.layout.shapes.random_jobs import area_of
from tests.layout.shapes.shaped import polygon, shaped

HAIR = 0.01
GAP = 4.0


def box(x: float, y: float, width: float, height: float) -> Ring:
    """Return a box, counter-clockwise."""
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def frame(size: float, opening: float) -> Shape:
    """Return a square with a square opening in its middle."""
    low = (size - opening) / 2
    return Shape(box(0, 0, size, size), (box(low, low, opening, opening)[::-1],))


def laid(problem: ShapesProblem) -> ShapesLayout:
    """Return a layout that holds."""
    found = solve(problem, seed=1, effort=EFFORTS["normal"])
    judge(problem, found)
    assert not any(found.left)
    return found


def on_frame_sized_plates(inner: Shape, opening: float, turns=QUARTERS, gap=GAP) -> int:
    """Return how many plates, just as large as a frame, it takes with another part."""
    kinds = Kind(frame(100.0, opening), 1, ONE), Kind(inner, 1, turns)
    plate = Plate(100.0, 100.0, Fraction(1))
    return len(laid(ShapesProblem(kinds, (plate,), gap)).plates)


@pytest.mark.parametrize("gap", [0.0, GAP])
@pytest.mark.parametrize(("spare", "plates"), [(5.0, 1), (1.0, 1), (HAIR, 1), (-HAIR, 2), (-1.0, 2)])
def test_a_plate_lies_in_a_frame_just_where_there_is_room(spare, plates, gap):
    """A square with a hundredth to spare around its gap lies inside; where that is missing it does not."""
    side = 60.0 - 2 * gap - spare
    assert on_frame_sized_plates(Shape(box(7, 8, side, side)), 60.0, gap=gap) == plates


@pytest.mark.parametrize(("spare", "plates"), [(2.0, 1), (HAIR, 1), (-HAIR, 2)])
def test_only_one_turn_fits_a_long_opening(spare, plates):
    """A long part lies in a slot only along it, whichever way it is drawn."""
    ring = Shape(box(0, 0, 100, 50), (box(10, 10, 80, 30)[::-1],))
    part = Shape(box(0, 0, 30 - 2 * GAP - spare, 80 - 2 * GAP - spare))
    problem = ShapesProblem(
        (Kind(ring, 1, ONE), Kind(part, 1, QUARTERS)), (Plate(100, 50, Fraction(1)),), GAP
    )
    assert len(laid(problem).plates) == plates


def test_parts_too_many_for_an_opening_lie_elsewhere():
    """Four squares fit the opening, the fifth needs a plate of its own."""
    for number, plates in ((4, 1), (5, 2)):
        kinds = Kind(frame(100.0, 70.0), 1, ONE), Kind(Shape(box(0, 0, 28, 28)), number, QUARTERS)
        found = laid(ShapesProblem(kinds, (Plate(100.0, 100.0, Fraction(1)),), GAP))
        assert len(found.plates) == plates


def test_frames_lie_in_frames():
    """Four frames, each with room in the next, and a plate in the least all lie on one plate."""
    sizes = [(100.0, 82.0), (72.0, 56.0), (46.0, 32.0), (22.0, 16.0)]
    kinds = (
        *(Kind(frame(outer, opening), 1, QUARTERS) for outer, opening in sizes),
        Kind(Shape(box(0, 0, 7, 7)), 1, ONE),
    )
    assert len(laid(ShapesProblem(kinds, (Plate(100.0, 100.0, Fraction(1)),), GAP)).plates) == 1


def test_an_open_ring_takes_a_part_too():
    """A bay that opens to the side takes what fits into it, as an opening does."""
    bay = Shape(((0, 0), (100, 0), (100, 20), (20, 20), (20, 80), (100, 80), (100, 100), (0, 100)))
    for side, plates in ((60 - 2 * GAP - HAIR, 1), (60 - 2 * GAP + HAIR, 2)):
        kinds = Kind(bay, 1, ONE), Kind(Shape(box(0, 0, side, side)), 1, ONE)
        found = laid(ShapesProblem(kinds, (Plate(100.0, 100.0, Fraction(1)),), GAP))
        assert len(found.plates) == plates


def test_a_slanted_part_fits_only_as_it_is_turned():
    """In an opening that is a square on its corner a square lies turned by an eighth, and only so."""
    half = 30 * math.sqrt(2)
    around = ((50, 50 - half), (50 + half, 50), (50, 50 + half), (50 - half, 50))
    ring = Shape(box(0, 0, 100, 100), (around[::-1],))
    side = 60 - 2 * GAP - HAIR
    for turns, plates in (((0.0, 45.0), 1), (QUARTERS, 2)):
        kinds = Kind(ring, 1, ONE), Kind(Shape(box(0, 0, side, side)), 1, turns)
        found = laid(ShapesProblem(kinds, (Plate(100.0, 100.0, Fraction(1)),), GAP))
        assert len(found.plates) == plates


def job_of(*panels, size=200):
    """Return a job of panels on square sheets, laid out and judged."""
    made = group(list(panels), [sheet("full", size, size, price=Fraction(9))], "router", 4, 4)
    layout = lay_out(job(made), effort="quick", shapes=solve).groups[0]
    random_jobs.judge(layout)
    assert not layout.unplaced
    return layout


@pytest.mark.parametrize(("spare", "sheets"), [(1.0, 1), (-HAIR, 2)])
def test_a_disc_lies_in_a_round_bore_just_where_there_is_room(spare, sheets):
    """With true arcs: a lid in the bore of its ring, where the gap is kept all round; else on its own."""
    ring = shaped("ring", disc(200), disc(120, centre=Point(100, 100)), turn="none")
    layout = job_of(ring, shaped("lid", disc(120 - 8 - spare), turn="none"))
    assert len(layout.sheets) == sheets
    if sheets == 1:
        outer, lid = (next(p for p in layout.sheets[0].parts if p.panel.name == n) for n in ("ring", "lid"))
        assert shapely.distance(area_of(outer).exterior, area_of(lid)) > 40


def test_a_bracket_and_a_plate_share_the_opening_of_a_round_ring():
    """Two parts with straight edges lie together in a round bore that holds both."""
    ring = shaped("ring", disc(200), disc(150, centre=Point(100, 100)), turn="none")
    bracket = shaped(
        "bracket", polygon((0, 0), (90, 0), (90, 30), (30, 30), (30, 90), (0, 90)), turn="quarter"
    )
    plate = shaped("plate", rectangle(40, 40, radius=6), turn="none")
    assert len(job_of(ring, bracket, plate).sheets) == 1


def test_no_part_lies_in_what_is_left_of_an_opening_with_another_gap():
    """The same parts with a gap too wide for the bore need a second sheet."""
    ring = shaped("ring", disc(200), disc(120, centre=Point(100, 100)), turn="none")
    lid = shaped("lid", disc(110), turn="none")
    for gap, sheets in ((4, 1), (6, 2)):
        made = group([ring, lid], [sheet("full", 200, 200, price=Fraction(9))], "router", 4, gap)
        layout = lay_out(job(made), effort="quick", shapes=solve).groups[0]
        random_jobs.judge(layout)
        assert len(layout.sheets) == sheets
