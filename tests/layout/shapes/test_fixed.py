"""What is fixed on plates: it never moves, all keep their distance from it, and plates come in their turn."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest
import shapely

from nestkit.layout.efforts import EFFORTS, Effort
from nestkit.layout.shapes.engine import plain
from nestkit.layout.shapes.problem import (
    Fixed,
    Kind,
    Laid,
    LaidPlate,
    Plate,
    Ring,
    Shape,
    ShapesLayout,
    ShapesProblem,
)
from nestkit.layout.shapes.sheet_search import SheetSearch
from nestkit.layout.shapes.sheets import solve
from nestkit.layout.shapes.standing import may_be
from nestkit.layout.shapes.states import grown
from tests.layout.shapes.made_shapes import PLATE, TURNS, area_of, check_laid, jigsaw, lying, random_shape

FEW = Effort(rounds=8, no_gain=8, tidy=0, deep=8, shapes=200_000)
ONE = Fraction(1)


def box(left: float, bottom: float, right: float, top: float) -> Ring:
    """Return the ring of an upright box."""
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def region(ring: Ring, apart: float) -> Fixed:
    """Return a region that is kept clear."""
    return Fixed(Shape(ring), 0.0, 0.0, apart=apart, region=True)


def check(problem: ShapesProblem, found: ShapesLayout) -> None:
    """Nothing overlaps, is lost, over an edge, or too near to what is fixed; no plate is missed."""
    lying_of = Counter(p.kind for plate in found.plates for p in plate.pieces)
    extras = [k.extras for k in problem.kinds]
    for k, kind in enumerate(problem.kinds):
        assert kind.count <= lying_of[k] + found.left[k] <= kind.count + extras[k]
    assert may_be(problem.plates, [p.plate for p in found.plates])
    for plate in found.plates:
        stock, own = problem.plates[plate.plate], Counter(p.kind for p in plate.pieces)
        kinds = [replace(k, count=own[n]) for n, k in enumerate(problem.kinds)]
        assert plate.pieces or stock.must
        if plate.pieces:
            check_laid(kinds, plate.pieces, stock.width, stock.height, problem.gap)
        for piece in plate.pieces:
            area = lying(problem.kinds[piece.kind].shape, piece)
            for fixed in stock.fixed:
                there = lying(fixed.shape, Laid(0, fixed.x, fixed.y, fixed.turn_deg))
                least = problem.gap if fixed.apart is None else fixed.apart
                assert shapely.distance(area, there) >= least - 1e-7
                common = shapely.intersection(area, there, grid_size=1e-10)
                assert common.area <= 1e-7 * max(common.length, 1e-9)


def random_fixed(rng: random.Random, gap: float) -> tuple[Fixed, ...]:
    """Return up to two regions and up to two pieces that are fixed, some over an edge or on one another."""
    found = []
    for _ in range(rng.randint(0, 2)):
        x, y, w, h = rng.uniform(-5, 60), rng.uniform(-5, 60), rng.uniform(1, 15), rng.uniform(1, 15)
        ring = box(x, y, x + w, y + h)
        if rng.random() < 0.5:
            disc = shapely.Point(x, y).buffer(w / 2, quad_segs=6)
            ring = tuple(shapely.geometry.polygon.orient(disc).exterior.coords[:-1])
        found.append(region(ring, rng.choice([0.0, 0.3, gap])))
    for _ in range(rng.randint(0, 2)):
        shape = random_shape(rng, rng.uniform(8, 20))
        found.append(Fixed(shape, rng.uniform(15, 35), rng.uniform(15, 45), rng.choice([0.0, 90.0, 33.3])))
    return tuple(found)


@pytest.mark.parametrize("seed", range(24))
def test_nothing_comes_near_what_is_fixed(seed):
    """Random pieces and extras on plates of three kinds, with and without the compiler, twice the same."""
    rng = random.Random(seed)
    gap = rng.choice([0.0, 1.5])
    kinds = tuple(
        Kind(
            random_shape(rng, rng.uniform(6, 18)), rng.randint(1, 4), TURNS,
            either_hand=rng.random() < 0.3, extras=rng.choice([0, 0, 1]),
        )
        for _ in range(rng.randint(1, 5))
    )  # fmt: skip
    plates = (
        Plate(60.0, 60.0, Fraction(3), fixed=tuple(f for f in random_fixed(rng, gap) if f.region)),
        Plate(60.0, 60.0, Fraction(3), 1, random_fixed(rng, gap)),
        Plate(50.0, 70.0, Fraction(2), 1, random_fixed(rng, gap), rng.choice([(), ((0, 1),)])),
    )
    problem = ShapesProblem(kinds, plates, gap)
    if problem.plates[2].must:
        problem = replace(problem, plates=(*plates[:2], replace(plates[2], after=())))
    found = solve(problem, seed=seed, effort=FEW)
    check(problem, found)
    check(problem, solve(problem, seed=seed, effort=FEW, form=plain()))
    assert found == solve(problem, seed=seed, effort=FEW)


@pytest.mark.parametrize("seed", range(4))
def test_a_cut_plate_of_which_some_pieces_stay_is_laid_again(seed):
    """Of a plate cut by lines two pieces stay, and the others find their way back between them."""
    kinds = jigsaw(seed, 5)
    whole = [area_of(k.shape) for k in kinds]
    search = solve(ShapesProblem(tuple(kinds), (Plate(103.0, 62.0, ONE),)), seed=1, effort=EFFORTS["normal"])
    assert len(search.plates) == 1
    stay, go = search.plates[0].pieces[:2], search.plates[0].pieces[2:]
    fixed = tuple(Fixed(kinds[p.kind].shape, p.x, p.y, p.turn_deg) for p in stay)
    plates = Plate(103.0, 62.0, ONE, 1, fixed), Plate(103.0, 62.0, ONE)
    problem = ShapesProblem(tuple(kinds[p.kind] for p in go), plates)
    found = solve(problem, seed=1, effort=EFFORTS["normal"])
    check(problem, found)
    assert [p.plate for p in found.plates] == [0]
    assert sum(a.area for a in whole) > 0.9 * 103 * 62


@pytest.mark.parametrize(
    ("apart", "gap", "width"), [(2.0, 3.0, 37.99), (1.0, 6.0, 38.4), (0.0, 6.0, 39.1), (1.0, 1.0, 38.99)]
)
def test_a_region_takes_its_own_distance(apart, gap, width):
    """A piece fits beside a region by the distance that this asks, be it more or less than half the gap.

    Where it is less, a little more than asked is kept from the sides of a box.
    """
    plate = Plate(50.0, 20.01, ONE, fixed=(region(box(40, -1, 60, 21), apart),))
    fits, wide = (Kind(Shape(box(0, 0, w, 20)), 1, (0.0,)) for w in (width, 40.02 - apart))
    for form in (None, plain()):
        for piece, left in ((fits, (0,)), (wide, (1,))):
            problem = ShapesProblem((piece,), (plate,), gap)
            found = solve(problem, seed=1, effort=FEW, form=form)
            check(problem, found)
            assert found.left == left


@pytest.mark.parametrize("by", [0.1, 0.5, 1.4, 3.0, 40.0])
def test_what_is_made_smaller_keeps_its_distance(by):
    """No corner of an area is further than that from the same made smaller, which never vanishes."""
    shapes = (
        shapely.box(0, 0, 9, 4),
        shapely.Point(3, 2).buffer(4, quad_segs=6),
        shapely.Polygon([(0, 0), (30, 0), (0, 8)]),
        area_of(Shape(((0, 0), (60, 0), (60, 20), (20, 20), (20, 50), (0, 50)))),
    )
    for area in shapes:
        small = grown(area, -by)
        assert shapely.contains(area, small)
        assert small.area > 0
        corners = shapely.points(shapely.get_coordinates(area))
        assert max(shapely.distance(small, c) for c in corners) <= by + 1e-9


def test_a_plate_with_a_fixed_piece_is_used():
    """Though one plain plate would hold all, one on which something lies has its share, or stays as it is."""
    lies = Fixed(PLATE, 20.0, 10.0)
    plates = Plate(50.0, 25.0, Fraction(5), 1, (lies,)), Plate(90.0, 60.0, ONE)
    problem = ShapesProblem((Kind(PLATE, 3, TURNS),), plates)
    for form in (None, plain()):
        found = solve(problem, seed=1, effort=FEW, form=form)
        check(problem, found)
        assert Counter(p.plate for p in found.plates) == {0: 1, 1: 1}
        again = solve(problem, seed=1, effort=FEW, form=form, start=found)
        assert Counter(p.plate for p in again.plates) == {0: 1, 1: 1}
    nothing = ShapesProblem((Kind(Shape(box(0, 0, 500, 500)), 1),), plates)
    assert [p.plate for p in solve(nothing, seed=1, effort=FEW).plates] == [0]


def test_plates_are_had_in_their_turn():
    """One that comes after others is neither taken before, nor passed over for more of those."""
    free, second = Plate(9.0, 9.0, ONE), Plate(9.0, 9.0, ONE, 1, after=((0, 1),))
    third, held = Plate(9.0, 9.0, ONE, 1, after=((0, 1), (1, 1))), Plate(9, 9, ONE, 1, (Fixed(PLATE, 0, 0),))
    assert all(may_be((free, second, third), p) for p in ((), (0,), (0, 1), (0, 1, 2), (0, 0, 0, 1, 2)))
    refused = ((1,), (2,), (0, 0), (0, 2), (0, 0, 1), (0, 1, 1), (0, 0, 2))
    assert not any(may_be((free, second, third), p) for p in refused)
    assert may_be((free, held), (0, 1))
    assert not may_be((free, held), (0,))
    assert not may_be((free, held), (1, 1))


def test_a_cheaper_plate_is_not_had_before_its_turn():
    """The cheap plate comes second: with pieces for one plate it is left, with more it is taken."""
    cheap = Plate(41.0, 21.0, Fraction(1, 2), 1, after=((0, 1),))
    plates = Plate(41.0, 21.0, Fraction(3)), cheap
    for count in (1, 2, 3):
        problem = ShapesProblem((Kind(PLATE, count, (0.0,)),), plates)
        found = solve(problem, seed=1, effort=FEW)
        check(problem, found)
        assert Counter(p.plate for p in found.plates) == Counter([0, 1, 0][:count])


def test_the_rest_is_gathered_around_what_is_fixed():
    """Pieces are drawn to the left end of a plate past a piece and a region that stay."""
    lies = Fixed(PLATE, 60.0, 30.0, 90.0)
    plate = Plate(200.0, 60.0, ONE, 1, (lies, region(box(5, 5, 9, 9), 1.0)))
    problem = ShapesProblem((Kind(PLATE, 4, TURNS),), (plate,), 1.0)
    begun = tuple(Laid(0, 90.0 + 30 * n, 30.0, 90.0) for n in range(4))
    search = SheetSearch(problem, 1, ShapesLayout((LaidPlate(0, begun),), (0,)))
    found = search.finished(1, 400_000, lambda: False)
    check(problem, found)
    # Two lie left of the piece that stays, two right of it, one above the other.
    ends = sorted(lying(PLATE, p).bounds[2] for p in found.plates[0].pieces)
    assert ends[1] < 49
    assert ends[3] < 111.1


def test_a_plate_that_is_kept_clear_all_over_takes_nothing():
    """Its room is none; another is taken where there is one, else the pieces are left."""
    covered = Plate(50.0, 50.0, ONE, fixed=(region(box(-9, -9, 99, 99), 0.0),))
    for plates, left in (((covered,), 2), ((covered, Plate(50.0, 50.0, Fraction(9))), 0)):
        problem = ShapesProblem((Kind(PLATE, 2, TURNS),), plates, 1.0)
        for form in (None, plain()):
            found = solve(problem, seed=1, effort=FEW, form=form)
            check(problem, found)
            assert found.left == (left,)
