"""Sheets cut at random and laid out again: all is known to fit, so as many plates do as were cut up."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest
import shapely

from nestkit.layout.shapes.problem import Kind, Plate, Shape, ShapesProblem
from tests.layout.shapes.jigsaws import HALVES, ONE, QUARTERS, jigsaw, judge, pieces_of, solved_to

WAYS = ("lines", "bends", "steps")


def plates_taken(problem: ShapesProblem, least: int) -> int:
    """Return how many plates a layout takes; it holds, and nothing is left."""
    found = solved_to(problem, least)
    judge(problem, found)
    assert not any(found.left)
    return len(found.plates)


def solved(seeds: range, number: int, sheets: int, **more: object) -> int:
    """Return how many jigsaws are laid on as few plates as were cut up; fewer are impossible."""
    taken = [plates_taken(jigsaw(s, number, sheets=sheets, **more), sheets) for s in seeds]
    assert min(taken) >= sheets
    return taken.count(sheets)


@pytest.mark.parametrize("turns", [ONE, HALVES], ids=["one turn", "halves"])
@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("number", [2, 4, 6])
def test_a_plate_without_any_room_to_spare_is_filled_again(number, way, turns):
    """Two to six pieces, cut straight, bent or stepped, fill all of it: in three of four at least."""
    assert solved(range(4), number, 1, way=way, turns=turns) >= 3


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(("number", "sheets"), [(2, 3), (3, 2)])
def test_several_plates_without_any_room_to_spare_are_filled_again(number, sheets, way):
    """Pieces of two or three plates, mixed, fill as many again: in three of four at least."""
    assert solved(range(4), number, sheets, way=way) >= 3


@pytest.mark.parametrize("way", WAYS)
def test_pieces_drawn_in_any_quarter_turn_fill_their_plate_again(way):
    """Three pieces that may lie in four turns each, of which one is right."""
    assert solved(range(3), 3, 1, way=way, turns=QUARTERS) >= 2


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(("number", "sheets", "larger"), [(6, 1, 0.02), (8, 1, 0.03)])
def test_a_plate_a_little_larger_takes_more_pieces(number, sheets, larger, way):
    """With two or three hundredths more, six or eight pieces are laid: in two of three at least."""
    assert solved(range(3), number, sheets, way=way, larger=larger) >= 2


@pytest.mark.slow
@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(
    ("number", "sheets", "larger"), [(2, 3, 0.0), (4, 2, 0.0), (6, 1, 0.0), (6, 1, 0.03)]
)
def test_more_jigsaws_in_quarter_turns(number, sheets, larger, way):
    """Of ten jigsaws at least eight are laid on as many plates as were cut up."""
    assert solved(range(10), number, sheets, way=way, turns=QUARTERS, larger=larger) >= 8


@pytest.mark.slow
@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(("number", "sheets", "larger"), [(4, 3, 0.0), (4, 2, 0.02), (10, 1, 0.04)])
def test_more_jigsaws_in_one_turn_and_halves(number, sheets, larger, way):
    """Of ten jigsaws at least seven are laid on as many plates as were cut up."""
    for turns in (ONE, HALVES):
        assert solved(range(10), number, sheets, way=way, turns=turns, larger=larger) >= 7


@pytest.mark.parametrize("way", WAYS)
def test_a_jigsaw_is_one(way):
    """The pieces of a cut sheet fill it and share nothing; bends and steps leave inner corners."""
    for seed in range(20):
        pieces = pieces_of(random.Random(seed), 6, 100.0, 60.0, way)
        assert sum(p.area for p in pieces) == pytest.approx(6000, rel=1e-12)
        whole = shapely.union_all(pieces, grid_size=1e-9)
        assert whole.area == pytest.approx(6000, rel=1e-9)
        if way != "lines":
            assert any(p.convex_hull.area > p.area * (1 + 1e-6) for p in pieces)


GAP = 3.0
SQUARE = ((0.0, 0.0), (40.0, 0.0), (40.0, 40.0), (0.0, 40.0))


@pytest.mark.parametrize("gap", [0.0, GAP])
def test_squares_in_rows_fill_a_plate_to_its_edges(gap):
    """Three by two squares that may turn, the gap between them, need all of a plate's width and height."""
    kinds = (Kind(Shape(SQUARE), 6, QUARTERS),)
    plate = Plate(120.0 + 2 * gap, 80.0 + gap, Fraction(1))
    assert plates_taken(ShapesProblem(kinds, (plate,), gap), 1) == 1


@pytest.mark.parametrize("side", ["width", "height"])
def test_a_plate_short_by_a_hair_does_not_take_them(side):
    """The same squares need a second plate where a hundredth of a millimetre is missing."""
    short = {"width": (119.99 + 2 * GAP, 80.0 + GAP), "height": (120.0 + 2 * GAP, 79.99 + GAP)}[side]
    problem = ShapesProblem((Kind(Shape(SQUARE), 6, QUARTERS),), (Plate(*short, Fraction(1)),), GAP)
    assert plates_taken(problem, 1) == 2
