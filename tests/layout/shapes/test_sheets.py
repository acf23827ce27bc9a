"""Plates: nothing overlaps or is lost, plates are saved where all fit fewer, limits are kept."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.layout.efforts import EFFORTS, Effort
from nestkit.layout.shapes.engine import plain
from nestkit.layout.shapes.problem import Kind, Plate, Shape, ShapesLayout, ShapesProblem
from nestkit.layout.shapes.sheet_search import SheetSearch
from nestkit.layout.shapes.sheets import solve
from tests.layout.shapes.made_shapes import HORN, PLATE, TURNS, check_laid, jigsaw, random_shape

FEW = Effort(rounds=8, no_gain=8, tidy=0, deep=8, shapes=200_000)


def check(problem: ShapesProblem, found: ShapesLayout) -> None:
    """Every piece lies on a plate, apart from others, or is told as left; no more plates than there are."""
    lying = Counter(p.kind for plate in found.plates for p in plate.pieces)
    for k, kind in enumerate(problem.kinds):
        assert lying[k] + found.left[k] == kind.count
    for k, number in Counter(p.plate for p in found.plates).items():
        assert problem.plates[k].count is None or number <= problem.plates[k].count
    for plate in found.plates:
        own = Counter(p.kind for p in plate.pieces)
        kinds = [replace(k, count=own[n]) for n, k in enumerate(problem.kinds)]
        stock = problem.plates[plate.plate]
        assert plate.pieces
        check_laid(kinds, plate.pieces, stock.width, stock.height, problem.gap)


@pytest.mark.parametrize("seed", range(8))
def test_what_is_laid_holds(seed):
    """Random pieces on plates of two sizes, some limited: nothing overlaps, is lost, or over an edge."""
    rng = random.Random(seed)
    kinds = tuple(
        Kind(random_shape(rng, rng.uniform(8, 24)), rng.randint(1, 3), TURNS, either_hand=rng.random() < 0.3)
        for _ in range(rng.randint(1, 6))
    )
    plates = (
        Plate(90.0, 60.0, Fraction(3), rng.choice([None, 1])),
        Plate(50.0, 70.0, Fraction(2), rng.choice([None, 2])),
    )
    problem = ShapesProblem(kinds, plates, rng.choice([0.0, 1.5]))
    heard: list[ShapesLayout] = []
    found = solve(problem, seed=seed, effort=FEW, on_event=heard.append)
    check(problem, found)
    assert heard[-1] == found
    assert found == solve(problem, seed=seed, effort=FEW)


def test_two_cut_plates_are_laid_on_two_again():
    """Pieces of two plates cut by lines need three in first fit, and two once they are fitted together."""
    kinds = tuple(jigsaw(1, 3) + jigsaw(2, 3))
    problem = ShapesProblem(kinds, (Plate(101.5, 61.0, Fraction(1)),))
    first = solve(problem, seed=1, effort=FEW, stop=lambda: True)
    found = solve(problem, seed=1, effort=EFFORTS["normal"])
    check(problem, found)
    assert len(first.plates) > len(found.plates) == 2


def test_the_cheaper_of_two_plates_is_taken():
    """One plate that would do is given up for a cheaper one that does too."""
    plates = (Plate(200.0, 200.0, Fraction(5)), Plate(85.0, 42.0, Fraction(4)))
    problem = ShapesProblem((Kind(HORN, 2, TURNS),), plates)
    found = solve(problem, seed=1, effort=FEW)
    check(problem, found)
    assert [p.plate for p in found.plates] == [1]


def test_pieces_without_a_place_are_told():
    """With one plate for two pieces, one is left; a piece larger than all plates is left too."""
    big = Shape(((0, 0), (500, 0), (0, 500)))
    kinds = Kind(PLATE, 2, (0.0,)), Kind(big, 1, TURNS)
    problem = ShapesProblem(kinds, (Plate(50.0, 25.0, Fraction(1), 1),))
    for form in (None, plain()):
        found = solve(problem, seed=1, effort=FEW, form=form)
        check(problem, found)
        assert found.left == (1, 1)


def test_pieces_as_high_as_the_plate_lie_side_by_side():
    """Pieces with no play across a plate are laid along it, to its last millimetre."""
    problem = ShapesProblem((Kind(PLATE, 3, (90.0,)),), (Plate(60.0, 40.0, Fraction(1)),))
    found = solve(problem, seed=1, effort=FEW)
    check(problem, found)
    assert len(found.plates) == 1


def test_pieces_as_large_as_the_plate_get_one_each():
    """Two pieces that fill a plate, their boxes out by rounding, are not laid on one another."""
    one = (
        (16.326292526438458, 109.27722557977422), (-47.11607114993871, 62.907646425510556),
        (-47.11607114993871, 49.277225579774225), (52.88392885006129, 49.277225579774225),
        (52.88392885006129, 109.27722557977422),
    )  # fmt: skip
    other = (
        (30.043574329319394, 8.673508005177098), (107.20475261020593, 61.76564572205734),
        (107.20475261020593, 68.6735080051771), (7.2047526102059365, 68.6735080051771),
        (7.2047526102059365, 8.673508005177098),
    )  # fmt: skip
    kinds = tuple(Kind(Shape(ring), 1, (0.0,)) for ring in (one, other))
    problem = ShapesProblem(kinds, (Plate(100.0, 60.0, Fraction(1)),))
    for form in (None, plain()):
        found = solve(problem, seed=1, effort=FEW, form=form)
        check(problem, found)
        assert [len(p.pieces) for p in found.plates] == [1, 1]


def test_what_no_plate_holds_does_not_hinder_the_others():
    """With a piece too large for any plate, the rest is laid as well as without it."""
    kinds = tuple(jigsaw(1, 3) + jigsaw(2, 3))
    big = Kind(Shape(((0, 0), (500, 0), (0, 500))), 1, TURNS)
    plates = (Plate(101.5, 61.0, Fraction(1)),)
    alone = solve(ShapesProblem(kinds, plates), seed=1, effort=EFFORTS["normal"])
    found = solve(ShapesProblem((big, *kinds), plates), seed=1, effort=EFFORTS["normal"])
    assert found.left[0] == 1
    assert not any(found.left[1:])
    assert len(found.plates) == len(alone.plates) == 2


def test_as_many_as_there_is_room_for_are_laid():
    """Of more wedges than one plate holds, as many pairs as fill it are laid, not only the first fit's."""
    wedge = Kind(Shape(((0, 0), (30, 0), (0, 20))), 14, TURNS)
    problem = ShapesProblem((wedge,), (Plate(98.0, 43.0, Fraction(1), 1),))
    found = solve(problem, seed=1, effort=EFFORTS["normal"])
    check(problem, found)
    assert found.left == (2,)
    assert sum(solve(problem, seed=1, effort=FEW, form=plain()).left) > 2


def test_a_start_without_all_pieces_is_no_hindrance():
    """Begun with nothing laid, as many plates are filled as without a start."""
    problem = ShapesProblem((Kind(PLATE, 9, (0.0,)),), (Plate(85.0, 42.0, Fraction(1)),))
    nothing = ShapesLayout((), (9,))
    alone = solve(problem, seed=1, effort=FEW)
    found = solve(problem, seed=1, effort=FEW, start=nothing)
    check(problem, found)
    assert not any(found.left)
    assert len(found.plates) == len(alone.plates) > 2


def test_work_that_no_other_plates_ask_for_goes_to_those_that_are_left():
    """Three squares that would never share a plate: the one hope, two plates, gets all of the work."""
    square = Shape(((0, 0), (51, 0), (51, 51), (0, 51)))
    problem = ShapesProblem((Kind(square, 3, (0.0,)),), (Plate(100.0, 55.0, Fraction(1)),))
    search = SheetSearch(problem, seed=1)
    search.run(200_000, lambda: False, lambda layout: None)
    assert search.done >= 200_000
    assert len(search.layout().plates) == 3
