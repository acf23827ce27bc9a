"""Cheaper sets of sheets: which swaps are worth while, one by hand, and how the search goes on and ends."""

from __future__ import annotations

import random
from collections import Counter
from fractions import Fraction

import pytest

from nestkit.layout.problem import Box, Layout, Placed, Problem, SheetLayout, Stock
from nestkit.layout.rects import swaps as module
from nestkit.layout.rects.engine.twin import can_compile, compiled, plain
from nestkit.layout.rects.greedy import Greedy
from nestkit.layout.rects.search import Search
from nestkit.layout.rects.space import score_of
from nestkit.layout.rects.swaps import Swap, Swaps
from nestkit.layout.stop import Rounds
from tests.layout.checked import check_layout

FORMS = [plain, pytest.param(compiled, marks=pytest.mark.skipif(not can_compile(), reason="no compiler"))]


def stock(width: int, height: int, cost: int = 1, count: int | None = None) -> Stock:
    """Return a stock without border."""
    return Stock(width, height, 0, 0, 0, 0, count, Fraction(cost))


def problem_of(sizes: list[tuple[int, int, int]], *stocks: Stock, **way: object) -> Problem:
    """Return a problem of boxes (width, height, quantity) that may not be turned."""
    turns = ((0,),) * len(stocks)
    return Problem(tuple(Box(*size, turns) for size in sizes), stocks, 0, 0, **way)


def on_sheets(*sheets: tuple[int, list[tuple[int, int, int]]]) -> Layout:
    """Return a layout of all parts: each sheet a stock, and boxes with the x and y of their lower left."""
    made = [SheetLayout(s, tuple(sorted(Placed(y, x, b, 0) for b, x, y in on))) for s, on in sheets]
    return Layout(tuple(made), (0,) * (1 + max(b for _, on in sheets for b, _, _ in on)))


def never(_: object) -> bool:
    """Let the search go on."""
    return False


LARGE, SMALL = stock(10, 10, 10), stock(10, 5, 4)
HALVES = problem_of([(10, 5, 4)], LARGE, SMALL)
"""Four parts, each half of a large sheet: two small sheets cost less than a large one."""
ON_LARGE = on_sheets((0, [(0, 0, 0), (0, 0, 5)]), (0, [(0, 0, 0), (0, 0, 5)]))


def swaps_for(problem: Problem, layout: Layout) -> list[Swap]:
    """Return the swaps that are proposed for a layout."""
    return Swaps(Search(problem, plain(), seed=1))._worth_while(layout)


def test_swaps_that_save_and_can_hold_all_parts_are_proposed():
    """By hand: a large sheet may become two small ones.

    Three small for two large have too little area; four of them are more than are swapped at once.
    """
    found = swaps_for(HALVES, ON_LARGE)
    assert found == [Swap((0,), (1, 1))]
    dear = problem_of([(10, 5, 4)], LARGE, stock(10, 5, 6))
    assert swaps_for(dear, ON_LARGE) == []


def test_what_costs_the_same_is_worth_while_with_fewer_sheets():
    """By hand: two small sheets at 5 become one large at 10, and never the other way round."""
    problem = problem_of([(10, 5, 2)], LARGE, stock(10, 5, 5))
    assert swaps_for(problem, on_sheets((1, [(0, 0, 0)]), (1, [(0, 0, 0)]))) == [Swap((1, 1), (0,))]
    assert swaps_for(problem, on_sheets((0, [(0, 0, 0), (0, 0, 5)]))) == []


def test_no_more_sheets_are_taken_than_there_are():
    """By hand: of one small sheet in all no two are taken, nor one more where it is used."""
    few = problem_of([(10, 5, 4)], LARGE, stock(10, 5, 4, 1))
    assert swaps_for(few, ON_LARGE) == []
    few = problem_of([(10, 5, 4)], LARGE, stock(10, 5, 4, 2))
    assert swaps_for(few, ON_LARGE) == [Swap((0,), (1, 1))]


def test_a_sheet_too_many_is_given_up_for_none():
    """By hand: one part on each of two sheets that hold two: one goes, and none comes for it."""
    one = problem_of([(10, 5, 2)], LARGE, stock(10, 9, 9))
    found = swaps_for(one, on_sheets((0, [(0, 0, 0)]), (0, [(0, 0, 0)])))
    assert Swap((0,), ()) in found
    assert all(swap.given for swap in found)


def test_the_roomiest_swap_comes_first():
    """By hand: for 145 on two large sheets 100 + 81 have more room than 100 + 64, which would save more.

    Of equal room the one that saves more comes first: on each of these 36 parts of 2 x 2 have 25 + 16 places.
    """
    problem = problem_of([(2, 2, 36), (1, 1, 1)], LARGE, stock(8, 8, 5), stock(9, 9, 8))
    half = [(0, 2 * i, 2 * j) for i in range(4) for j in range(5)]
    layout = on_sheets((0, half), (0, [*half[:16], (1, 9, 9)]))
    found = swaps_for(problem, layout)
    assert found.index(Swap((0,), (2,))) < found.index(Swap((0,), (1,)))
    problem = problem_of([(6, 6, 1)], LARGE, stock(8, 8, 8), stock(8, 9, 7))
    assert swaps_for(problem, on_sheets((0, [(0, 0, 0)]))) == [Swap((0,), (2,)), Swap((0,), (1,))]


def random_problem(seed: int) -> Problem:
    """Return a problem of twenty-odd parts on three or four sizes, of some of which there are few."""
    rng = random.Random(seed)
    stocks = [
        stock(60, 40, 9),
        stock(45, 45, 7, rng.choice([None, 2])),
        stock(30, 40, 4, rng.choice([None, 3])),
    ]
    stocks.append(stock(60, 20, rng.choice([0, 5]), 1))
    sizes = [(rng.randint(6, 28), rng.randint(5, 20), rng.randint(1, 3)) for _ in range(10)]
    way = {"edge_to_edge": True, "stages": 3} if seed % 2 else {}
    return problem_of(sizes, *stocks, **way)


@pytest.mark.parametrize("seed", range(8))
def test_every_swap_proposed_saves_and_keeps_the_counts(seed):
    """Cheaper, or as cheap with fewer sheets; within what is used and what there is; refuted by no demand."""
    problem = random_problem(seed)
    layout = Greedy()(problem, seed=1, stop=Rounds(2))
    search = Swaps(Search(problem, plain(), seed=1))
    found = search._worth_while(layout)
    assert len(found) == len(set(found))
    used = Counter(s.stock for s in layout.sheets)
    for swap in found:
        given, taken = Counter(swap.given), Counter(swap.taken)
        assert 1 <= len(swap.given) <= 3
        assert len(swap.taken) <= 3
        assert not given & taken
        assert given <= used
        after = used - given + taken
        cost = sum(problem.stocks[s].cost * n for s, n in after.items())
        assert (cost, after.total()) < (layout.cost(problem), used.total())
        for s, n in after.items():
            count = problem.stocks[s].count
            assert count is None or n <= count
        for demand in search.demands:
            assert sum(demand.gives[s] * n for s, n in after.items()) >= demand.need


@pytest.mark.parametrize("form", FORMS)
def test_two_small_sheets_for_a_large_one_are_found(form):
    """By hand: from two large sheets at 20 to four small ones at 16, where nothing is left to swap."""
    swaps = Swaps(Search(HALVES, form(), seed=1))
    found = swaps(ON_LARGE, never, 400)
    check_layout(HALVES, found)
    assert (found.cost(HALVES), [s.stock for s in found.sheets]) == (16, [1, 1, 1, 1])
    assert swaps(found, never, 400) == found


@pytest.mark.parametrize("seed", range(4))
def test_what_a_search_returns_is_sound_and_no_worse(seed):
    """All rules are kept, no part is lost, and two searches with a seed agree."""
    problem = random_problem(seed)
    start = Greedy()(problem, seed=1, stop=Rounds(2))
    one, two = (Swaps(Search(problem, plain(), seed=3))(start, never, 30) for _ in range(2))
    assert one == two
    check_layout(problem, one)
    assert score_of(problem, one) <= score_of(problem, start)
    assert one.left_over == start.left_over


@pytest.fixture
def tried(monkeypatch):
    """Note the swaps that are tried and for how many rounds; none is found to work."""
    noted = []

    def refilled(self, sheets, pool, rounds, *more, stop=lambda: False):
        noted.append((tuple(s for s, laid in sheets if not laid), rounds))
        for _ in range(rounds):
            if stop():
                break

    monkeypatch.setattr(module.Search, "refilled", refilled)
    return noted


WIDE = problem_of([(6, 6, 1)], LARGE, stock(9, 9, 8), stock(8, 8, 7), stock(7, 7, 5))
ON_ONE = on_sheets((0, [(0, 0, 0)]))


def test_a_search_goes_on_where_it_was(tried):
    """Asked again with what it returned it tries the next swap; with another layout it begins anew.

    By hand: three sheets that hold the part and no other, the cheapest first, for two rounds each, then four.
    """
    swaps = Swaps(Search(WIDE, plain(), seed=1))
    for _ in range(4):
        assert swaps(ON_ONE, never, 2) == ON_ONE
    assert tried == [((3,), 2), ((2,), 2), ((1,), 2), ((3,), 4)]
    moved = on_sheets((0, [(0, 4, 4)]))
    swaps(moved, never, 3)
    assert tried[-1] == ((3,), 2)


def test_what_a_swap_takes_beyond_its_rounds_is_owed(tried):
    """However few swaps there are, in the long run they take the rounds that they are given.

    By hand: six calls with ten rounds each, for one swap of 2 + 4 + 8 rounds, then 16, then 32 that end it.
    """
    swaps = Swaps(Search(problem_of([(6, 6, 1)], LARGE, stock(7, 7, 5)), plain(), seed=1))
    taken = []
    for _ in range(6):
        assert swaps(ON_ONE, never, 10) == ON_ONE
        taken.append(sum(rounds for _, rounds in tried))
    assert taken == [14, 30, 30, 62, 62, 62]
    for _ in range(30):
        swaps(ON_ONE, never, 10)
    assert max(rounds for _, rounds in tried) == module.LONGEST


def test_swaps_are_looked_for_once_a_layout(tried, monkeypatch):
    """A search that goes on where it was knows its swaps; a new layout has others."""
    looked = []
    worth_while = Swaps._worth_while
    monkeypatch.setattr(
        Swaps, "_worth_while", lambda self, best: looked.append(best) or worth_while(self, best)
    )
    swaps = Swaps(Search(WIDE, plain(), seed=1))
    for _ in range(4):
        swaps(ON_ONE, never, 2)
    assert looked == [ON_ONE]
    moved = on_sheets((0, [(0, 4, 4)]))
    swaps(moved, never, 2)
    assert looked == [ON_ONE, moved]


def test_rounds_are_counted(tried):
    """By hand: with five rounds three swaps of two rounds are begun, and the last is tried to its end."""
    swaps = Swaps(Search(WIDE, plain(), seed=1))
    swaps(ON_ONE, never, 5)
    assert len(tried) == 3


def test_a_user_is_asked_every_round(tried):
    """The first yes ends the search, in the middle of a swap too; who says it at once is not made to wait."""
    asked = []

    def third(score: object) -> bool:
        asked.append(score)
        return len(asked) == 3

    swaps = Swaps(Search(WIDE, plain(), seed=1))
    assert swaps(ON_ONE, third, 100) == ON_ONE
    assert len(asked) == 3
    assert asked[0] == score_of(WIDE, ON_ONE)
    assert len(tried) == 2
    swaps(ON_ONE, lambda _: True, 100)
    assert len(tried) <= 3


def test_where_no_swap_is_left_the_search_ends(tried):
    """Sheets of which nothing is cheaper are left as they are, and nothing is tried."""
    swaps = Swaps(Search(problem_of([(10, 5, 2)], LARGE, stock(10, 5, 9)), plain(), seed=1))
    assert swaps(on_sheets((0, [(0, 0, 0), (0, 0, 5)])), never, 10**6).sheets
    assert tried == []


ON_HAND = problem_of([(10, 5, 4)], LARGE, stock(10, 5, 6), stock(10, 5, 0, 1), stock(10, 10, 0, 1))
"""Sheets of two sizes, of each one on hand and as many as wanted to be bought."""


def test_of_a_size_what_is_on_hand_is_taken_first():
    """By hand: for a large sheet the small one on hand and one bought; or for it the large one on hand."""
    assert swaps_for(ON_HAND, ON_LARGE) == [Swap((0,), (3,)), Swap((0,), (1, 2))]


def test_of_a_size_what_is_bought_is_given_up_first():
    """By hand: of the large ones that on hand stays; for the other one the two small ones are taken."""
    layout = on_sheets((3, [(0, 0, 0), (0, 0, 5)]), (0, [(0, 0, 0), (0, 0, 5)]))
    assert swaps_for(ON_HAND, layout) == [Swap((0,), (1, 2))]


def test_the_poorest_sheet_of_a_size_makes_way():
    """By hand: the bought sheet is given up, but the part that moves is the one of the sheet on hand."""
    problem = problem_of([(10, 3, 4)], LARGE, stock(10, 10, 0, 1), stock(10, 3, 4))
    layout = on_sheets((1, [(0, 0, 0)]), (0, [(0, 0, 0), (0, 0, 3), (0, 0, 6)]))
    search = Search(problem, plain(), seed=1)
    asked = []
    search.refilled = lambda sheets, pool, *more, **stop: asked.append((sheets, pool))
    Swaps(search)._swapped(layout, Swap((0,), (2,)), never, 2)
    ((sheets, pool),) = asked
    assert pool == [0]
    assert [(s, len(laid)) for s, laid in sheets] == [(1, 3), (2, 0)]


@pytest.mark.parametrize(
    ("used", "sizes", "at_once"),
    [(1, 1, (3, 3)), (6, 6, (3, 3)), (3, 13, (2, 3)), (12, 12, (1, 3)), (20, 20, (1, 2)), (99, 99, (1, 1))],
)
def test_more_sizes_leave_fewer_sheets_at_once(used, sizes, at_once):
    """By hand: 6 sizes have 83 x 84 choices of up to three; 12 have 90 x 91 of two, 12 x 455 of 1 for 3."""
    assert module._at_once(used, sizes) == at_once


@pytest.mark.parametrize("number", [1, 3, 6, 7, 9, 13])
def test_the_number_of_sheets_at_once_falls_with_the_choices(number):
    """One size more never leads to many fewer choices: no limit on the number of sizes is a cliff."""

    def choices(sizes):
        given, taken = module._at_once(sizes, sizes)
        return (module.comb(sizes + given, given) - 1) * module.comb(sizes + taken, taken)

    assert choices(number) <= module.MOST_SWAPS
    assert choices(number + 1) >= choices(number) / 5


def test_many_stocks_leave_few_ways_to_swap():
    """With a rack of twenty kinds of sheets one is given up for at most two."""
    stocks = tuple(Stock(300 + 10 * i, 300, 0, 0, 0, 0, 2, Fraction(30 + i)) for i in range(20))
    boxes = tuple(Box(200 + 10 * i, 200, 1, ((0,),) * 20) for i in range(20))
    problem = Problem(boxes, stocks, 0, 0)
    start = Layout(tuple(SheetLayout(i, (Placed(0, 0, i, 0),)) for i in range(20)), (0,) * 20)
    swaps = Swaps(Search(problem, plain(), seed=1))._worth_while(start)
    assert swaps
    assert all(len(s.given) <= 1 and len(s.taken) <= 2 for s in swaps)
