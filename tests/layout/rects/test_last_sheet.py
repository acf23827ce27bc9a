"""The rest in one piece: nothing lost, no other sheets, the strip never smaller, and by hand the largest."""

from __future__ import annotations

import random
from collections import Counter
from fractions import Fraction

import pytest

from nestkit.layout.problem import Box, Problem, Stock
from nestkit.layout.rects.engine.twin import can_compile, compiled, plain
from nestkit.layout.rects.greedy import Greedy
from nestkit.layout.rects.last_sheet import emptiest, free_strips, gathered, strip_area
from nestkit.layout.rects.space import Sheets, Space, rectangles, space_of
from nestkit.layout.stop import Rounds
from tests.layout.checked import check_layout

FORMS = [plain, pytest.param(compiled, marks=pytest.mark.skipif(not can_compile(), reason="no compiler"))]


def stock(width: int, height: int, cost: int = 1, count: int | None = None) -> Stock:
    """Return a stock without border."""
    return Stock(width, height, 0, 0, 0, 0, count, Fraction(cost))


def problem(sizes: list[tuple[int, int, int]], *stocks: Stock, gap: int = 0, **more: object) -> Problem:
    """Return a problem of boxes (width, height, quantity) that may not be turned."""
    turns = ((0,),) * len(stocks)
    kerf = gap if more.get("edge_to_edge") else 0
    return Problem(tuple(Box(*size, turns) for size in sizes), stocks, kerf, gap, **more)


def sheets_of(made: Problem, *sheets: tuple[int, list[tuple[int, int, int]]]) -> Sheets:
    """Return sheets: each a stock, and kinds with the x and y of their lower left."""
    space = space_of(made)
    found: Sheets = []
    for of, parts in sheets:
        sizes = [(kind, x, y, space.sizes[of][kind][0]) for kind, x, y in parts]
        found.append((of, [(kind, (x, y, *size)) for kind, x, y, size in sizes]))
    return found


def largest_strip(space: Space, sheets: Sheets) -> int:
    """Return the area of the strip of the emptiest sheet."""
    return strip_area(space, *sheets[emptiest(space, sheets)])


def contents(sheets: Sheets) -> Counter[int]:
    """Return how many of each kind lie on sheets."""
    return Counter(kind for _, laid in sheets for kind, _ in laid)


def test_a_strip_is_what_is_free_over_a_whole_side():
    """By hand: 4 x 3 in the lower left of 10 x 8 leaves 6 on the right and 5 above; the larger counts."""
    made = problem([(4, 3, 2), (1, 1, 1)], stock(10, 8))
    space = space_of(made)
    ((_, laid),) = sheets_of(made, (0, [(0, 0, 0)]))
    assert free_strips(space, 0, laid) == (6, 5)
    assert strip_area(space, 0, laid) == max(6 * 8, 5 * 10)
    ((_, laid),) = sheets_of(made, (0, [(0, 0, 0), (1, 9, 7)]))
    assert free_strips(space, 0, laid) == (0, 0)
    assert strip_area(space, 0, []) == 80


def test_the_emptiest_sheet_is_that_with_the_least_share_filled():
    """Half of a small sheet is emptier than most of a large one; of equal ones that with the larger strip."""
    made = problem([(5, 8, 4), (9, 9, 1), (4, 8, 1)], stock(10, 10), stock(8, 8))
    space = space_of(made)
    assert emptiest(space, sheets_of(made, (0, [(1, 0, 0)]), (1, [(0, 0, 0)]))) == 1
    low, high = (0, [(0, 0, 0)]), (0, [(0, 5, 2)])
    middle = (0, [(0, 3, 0)])
    assert emptiest(space, sheets_of(made, middle, low, high)) == 1
    assert emptiest(space, sheets_of(made, low, low)) == 0


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("way", [{}, {"edge_to_edge": True, "stages": 2}])
def test_two_parts_in_opposite_corners_come_side_by_side(form, way):
    """By hand: two 4 x 4 on 10 x 10 leave at most a strip of 10 x 6, reached only side by side."""
    made = problem([(4, 4, 2), (1, 1, 0)], stock(10, 10), **way)
    space = space_of(made)
    apart = sheets_of(made, (0, [(0, 0, 0), (0, 6, 6)]))
    assert largest_strip(space, apart) == 0
    done = gathered(made, apart, form=form(), seed=1, probes=12)
    check_layout(made, space.layout(done))
    assert largest_strip(space, done) == 60


@pytest.mark.parametrize("form", FORMS)
def test_parts_move_to_where_the_other_sheets_have_room(form):
    """By hand: of two 4 x 6 one fits beside the others on the first sheet; the other leaves 6 x 10.

    Side by side on their own sheet the two would leave 4 x 10 only.
    """
    made = problem([(6, 10, 1), (4, 2, 1), (4, 6, 2), (1, 1, 0)], stock(10, 10))
    space = space_of(made)
    before = sheets_of(made, (0, [(0, 0, 0), (1, 6, 0)]), (0, [(2, 0, 0), (2, 6, 4)]))
    assert largest_strip(space, before) == 0
    done = gathered(made, before, form=form(), seed=1, probes=12)
    check_layout(made, space.layout(done))
    assert len(done) == 2
    assert largest_strip(space, done) == 60


@pytest.mark.parametrize("form", FORMS)
def test_a_sheet_of_which_all_parts_move_away_is_saved(form):
    """What is left on the last sheet fits beside the parts of the first: one sheet is enough."""
    made = problem([(6, 10, 1), (4, 8, 1), (1, 1, 0)], stock(10, 10))
    before = sheets_of(made, (0, [(0, 0, 0)]), (0, [(1, 3, 1)]))
    done = gathered(made, before, form=form(), seed=1, probes=12)
    check_layout(made, space_of(made).layout(done))
    assert len(done) == 1


def test_no_probe_is_no_change():
    """Without tries the sheets come back as they are."""
    made = problem([(4, 4, 2), (1, 1, 0)], stock(10, 10))
    apart = sheets_of(made, (0, [(0, 0, 0), (0, 6, 6)]))
    assert gathered(made, apart, form=plain(), seed=1, probes=0) == apart


def test_a_full_sheet_is_left_alone():
    """Where no strip can be free nothing is tried, and nothing changes."""
    made = problem([(5, 10, 2), (1, 1, 0)], stock(10, 10))
    full = sheets_of(made, (0, [(0, 0, 0), (0, 5, 0)]))
    assert gathered(made, full, form=plain(), seed=1, probes=12) == full


def random_problem(seed: int) -> Problem:
    """Return a problem of twenty-odd parts, sawn or free, on one size of sheets or on three."""
    rng = random.Random(seed)
    stocks = [stock(60, 40, 9)]
    if seed % 3 == 1:
        stocks += [stock(45, 45, 7, 3), stock(30, 40, 0, 2)]
    sawn = {"edge_to_edge": True, "stages": rng.choice([0, 2, 3]), "first": rng.choice(["any", "x", "y"])}
    boxes = []
    for _ in range(12):
        turns = rng.choice([(0,), (0, 90)])
        boxes.append(Box(rng.randint(5, 26), rng.randint(5, 24), rng.randint(1, 3), (turns,) * len(stocks)))
    gap = rng.randint(0, 2)
    way = sawn if seed % 2 else {}
    return Problem(tuple(boxes), tuple(stocks), gap if way else 0, gap, **way)


@pytest.mark.parametrize("seed", range(12))
def test_nothing_is_lost_and_the_strip_is_never_smaller(seed):
    """The same parts on the same sheets, as the saw can cut them; the emptiest as empty or emptier."""
    made = random_problem(seed)
    space = space_of(made)
    start = Greedy()(made, seed=1, stop=Rounds(3))
    assert not any(start.left_over)
    before: Sheets = [(s.stock, space.laid(s)) for s in start.sheets]
    last = emptiest(space, before)
    done = gathered(made, before, form=plain(), seed=seed, probes=4)
    check_layout(made, space.layout(done))
    assert contents(done) == contents(before)
    used, had = Counter(s for s, _ in done), Counter(s for s, _ in before)
    assert used <= had
    if len(done) == len(before):
        assert [s for s, _ in done] == [s for s, _ in before]
        assert strip_area(space, *done[last]) >= strip_area(space, *before[last])
    for _, laid in done:
        assert space.sawable is None or space.sawable(rectangles(laid))
    assert done == gathered(made, before, form=plain(), seed=seed, probes=4)
