"""The same job drawn another way: mirrored, turned or moved outlines are laid as well as the first ones."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest

from nestkit.layout.efforts import EFFORTS
from nestkit.layout.shapes.problem import Kind, Plate, Ring, Shape, ShapesProblem
from nestkit.layout.shapes.sheets import solve
from tests.layout.shapes.jigsaws import HALVES, ONE, QUARTERS, jigsaw, judge, solved_to
from tests.layout.shapes.made_shapes import BRACKET, GUSSET, HORN, PLATE, RING


@cache
def worth(problem: ShapesProblem) -> tuple[int, Fraction, int]:
    """Return what a layout is worth that holds: pieces left, cost, plates."""
    found = solve(problem, seed=1, effort=EFFORTS["quick"])
    judge(problem, found)
    cost = sum((problem.plates[p.plate].cost for p in found.plates), Fraction(0))
    return sum(found.left), cost, len(found.plates)


def drawn(problem: ShapesProblem, how) -> ShapesProblem:
    """Return a problem with every ring drawn anew by a function of its points; hands of rings are kept."""

    def ring(points: Ring, number: int) -> Ring:
        new = tuple(how(x, y, number) for x, y in points)
        one, other = (_area(points) > 0), (_area(new) > 0)
        return new if one == other else new[::-1]

    kinds = tuple(
        replace(k, shape=Shape(ring(k.shape.outer, n), tuple(ring(o, n) for o in k.shape.openings)))
        for n, k in enumerate(problem.kinds)
    )
    return replace(problem, kinds=kinds)


def _area(ring: Ring) -> float:
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:] + ring[:1], strict=True)) / 2


def mirrored(problem: ShapesProblem) -> ShapesProblem:
    """Every outline is drawn mirrored: what was a layout is one still when it is mirrored too."""
    return drawn(problem, lambda x, y, n: (-x, y))


def quarter_turned(problem: ShapesProblem) -> ShapesProblem:
    """Every outline and every plate is drawn turned by a quarter."""
    turned = drawn(problem, lambda x, y, n: (-y, x))
    return replace(turned, plates=tuple(replace(p, width=p.height, height=p.width) for p in problem.plates))


def half_turned(problem: ShapesProblem) -> ShapesProblem:
    """Every outline is drawn upside down, on plates that stay as they are."""
    return drawn(problem, lambda x, y, n: (-x, -y))


def moved(problem: ShapesProblem) -> ShapesProblem:
    """Every outline is drawn elsewhere."""
    return drawn(problem, lambda x, y, n: (x + 1000.0 * (n + 1), y - 512.5 * n))


def from_another_corner(problem: ShapesProblem) -> ShapesProblem:
    """Every outline begins with another of its corners."""

    def begun(ring: Ring) -> Ring:
        return ring[2:] + ring[:2]

    kinds = tuple(
        replace(k, shape=Shape(begun(k.shape.outer), tuple(begun(o) for o in k.shape.openings)))
        for k in problem.kinds
    )
    return replace(problem, kinds=kinds)


def the_other_way_round(problem: ShapesProblem) -> ShapesProblem:
    """The kinds of pieces are listed from the last to the first."""
    return replace(problem, kinds=problem.kinds[::-1])


WAYS = [mirrored, quarter_turned, half_turned, moved, from_another_corner, the_other_way_round]


def workshop(seed: int, number: int) -> ShapesProblem:
    """Return so many kinds of parts with play enough that the number of plates is no matter of luck."""
    rng = random.Random(seed)
    kinds = tuple(
        Kind(shape, rng.randint(1, 3), rng.choice([ONE, HALVES, QUARTERS]), either_hand=rng.random() < 0.3)
        for shape in rng.sample([BRACKET, GUSSET, HORN, PLATE, RING], number)
    )
    plates = (Plate(200.0, 150.0, Fraction(7)), Plate(130.0, 90.0, Fraction(3), 2))
    return ShapesProblem(kinds, plates, rng.choice([0.0, 2.0, 4.0]))


@pytest.mark.parametrize("way", WAYS)
def test_a_workshop_job_is_worth_the_same_however_it_is_drawn(way):
    """Pieces left, cost and number of plates are those of the first drawing."""
    for seed in range(2):
        problem = workshop(seed, 2)
        assert worth(way(problem)) == worth(problem), seed


@pytest.mark.slow
@pytest.mark.parametrize("way", WAYS)
def test_larger_workshop_jobs_are_worth_the_same_however_they_are_drawn(way):
    """The same holds for more parts."""
    for seed in range(5):
        problem = workshop(seed, 3)
        assert worth(way(problem)) == worth(problem), seed


@pytest.mark.parametrize("way", WAYS)
def test_a_cut_sheet_is_filled_again_however_it_is_drawn(way):
    """Pieces of two plates come together on two plates in every drawing."""
    problem = jigsaw(3, 3, sheets=2, way="bends", turns=HALVES, larger=0.02)
    again = way(problem)
    found = solved_to(again, 2)
    judge(again, found)
    assert (len(found.plates), sum(found.left)) == (2, 0)


@pytest.mark.parametrize("way", WAYS[:3])
def test_drawn_twice_it_is_the_first_again(way):
    """Mirrored twice, turned four times or twice, the points are those of before."""
    problem = again = workshop(1, 3)
    for _ in range(4):
        again = way(again)
    assert again == problem
