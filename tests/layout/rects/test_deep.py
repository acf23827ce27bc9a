"""The long search: the same again, never worse than its start, ended when asked, also without parts of it."""

from __future__ import annotations

import pickle
import random
from dataclasses import fields, replace
from fractions import Fraction

import pytest

from nestkit.layout.problem import Box, Layout, Problem, Stock
from nestkit.layout.rects import cover
from nestkit.layout.rects import deep as module
from nestkit.layout.rects.deep import Deep
from nestkit.layout.rects.engine.twin import can_compile
from nestkit.layout.rects.greedy import Greedy
from nestkit.layout.rects.search import EVERYTHING, Switches
from nestkit.layout.rects.space import score_of
from nestkit.layout.stop import Reached, Rounds
from tests.layout.checked import check_layout

pytestmark = pytest.mark.skipif(not can_compile(), reason="the compiler is not installed here")

NAMES = [f.name for f in fields(Switches)]


def stock(width: int, height: int, cost: int = 1, count: int | None = None) -> Stock:
    """Return a stock without border."""
    return Stock(width, height, 0, 0, 0, 0, count, Fraction(cost))


ONE = [stock(60, 40)]
SEVERAL = [stock(60, 40, 9), stock(45, 45, 7), stock(30, 40, 0, 2)]
WAYS = {
    "free": (ONE, {}),
    "sawn, three stages": (ONE, {"edge_to_edge": True, "stages": 3}),
    "several sheets": (SEVERAL, {}),
    "several sheets, sawn, two stages": (SEVERAL, {"edge_to_edge": True, "stages": 2, "first": "x"}),
}


def problem_of(way: str) -> Problem:
    """Return a problem of sixteen kinds that a quick layout leaves open."""
    rng = random.Random(4)
    stocks, more = WAYS[way]
    boxes = []
    for _ in range(16):
        turns = rng.choice([(0,), (0, 90)])
        boxes.append(Box(rng.randint(8, 28), rng.randint(6, 24), rng.randint(1, 2), (turns,) * len(stocks)))
    return Problem(tuple(boxes), tuple(stocks), 1 if more else 0, 1, **more)


def start_of(problem: Problem) -> Layout:
    """Return a quick layout of all parts."""
    start = Greedy()(problem, seed=1, stop=Rounds(1))
    assert not any(start.left_over)
    return start


@pytest.fixture
def soon(monkeypatch):
    """Ask the cover early and for little, so that few rounds reach all of the search."""
    monkeypatch.setattr(module, "FIRST_COVER", 4)
    monkeypatch.setattr(module, "FIRST_WHOLE", 8)
    monkeypatch.setattr(cover, "MOST_WHOLE", 80)


def never(_: object) -> bool:
    """Let the search go on."""
    return False


def searched(problem: Problem, best: Layout, *, seed: int, rounds: int, **more: object) -> Layout:
    """Return the best layout that the search finds in so many rounds; ``more`` as it takes them."""
    found = Deep(problem, seed=seed, switches=more.pop("switches", EVERYTHING))
    return found(best, more.pop("stop"), rounds, **more)


@pytest.mark.parametrize("way", WAYS)
def test_the_same_seed_gives_the_same_bytes(way, soon):
    """Two runs with a seed agree to the byte, keep every rule, and are no worse than their start."""
    problem = problem_of(way)
    start = start_of(problem)
    one, two = (searched(problem, start, seed=5, stop=never, rounds=8) for _ in range(2))
    assert pickle.dumps(one) == pickle.dumps(two)
    check_layout(problem, one)
    assert not any(one.left_over)
    assert score_of(problem, one) <= score_of(problem, start)


@pytest.mark.parametrize("way", WAYS)
def test_a_search_that_is_ended_at_once_returns_its_start(way):
    """Nothing is lost, and nothing is claimed."""
    problem = problem_of(way)
    start = start_of(problem)
    assert searched(problem, start, seed=1, stop=lambda _: True, rounds=50) == start
    assert searched(problem, start, seed=1, stop=never, rounds=0) == start


def test_a_rule_that_has_answered_is_final():
    """A rule that says stop once is not asked into going on by saying something else later."""
    problem = problem_of("free")
    asked = []

    def once(score: object) -> bool:
        asked.append(score)
        return len(asked) == 4

    found = searched(problem, start_of(problem), seed=1, stop=once, rounds=600)
    assert len(asked) == 4
    check_layout(problem, found)


PERFECT = [
    (25, 13), (35, 13), (12, 27), (30, 17), (18, 17), (30, 10), (18, 10),
    (40, 22), (20, 22), (22, 18), (22, 18), (16, 18),
    (14, 40), (23, 21), (23, 19), (23, 11), (23, 29),
]  # fmt: skip
"""Three sheets of 60 x 40, cut up from edge to edge."""


@pytest.mark.parametrize("way", [{}, {"edge_to_edge": True}])
def test_a_layout_without_any_waste_is_found(way):
    """Three sheets cut up by hand are found again from a start that takes more."""
    problem = Problem(tuple(Box(*size, 1, ((0,),)) for size in PERFECT), (stock(60, 40),), 0, 0, **way)
    assert sum(w * h for w, h in PERFECT) == 3 * 60 * 40
    start = start_of(problem)
    assert len(start.sheets) > 3
    found = searched(problem, start, seed=1, stop=Reached(Fraction(3), 3), rounds=200)
    check_layout(problem, found)
    assert len(found.sheets) == 3


def test_a_cheaper_set_of_sheets_is_found():
    """From two large sheets for 20 to one large and one small for 14, which no layout can beat.

    By hand: 10 x 10 and 5 x 10 filled without waste; a sheet less, or two small ones, have too little area.
    """
    sizes = [(6, 6), (4, 6), (6, 4), (4, 4), (5, 7), (5, 3)]
    boxes = tuple(Box(w, h, 1, ((0,), (0,))) for w, h in sizes)
    problem = Problem(boxes, (stock(10, 10, 10), stock(5, 10, 4)), 0, 0)
    large = Problem(boxes, (stock(10, 10, 10), stock(5, 10, 40)), 0, 0)
    start = start_of(large)
    assert {s.stock for s in start.sheets} == {0}
    found = searched(problem, start, seed=1, stop=Reached(Fraction(14), 2), rounds=50)
    check_layout(problem, found)
    assert (found.cost(problem), len(found.sheets)) == (14, 2)


@pytest.mark.parametrize("off", NAMES)
def test_every_switch_leaves_a_sound_search(off):
    """Without one ingredient the search still keeps every rule and is no worse than its start."""
    for way in ("free", "several sheets, sawn, two stages"):
        problem = problem_of(way)
        start = start_of(problem)
        found = searched(problem, start, seed=2, stop=never, rounds=12, switches=Switches(**{off: False}))
        check_layout(problem, found)
        assert score_of(problem, found) <= score_of(problem, start)


def test_without_the_cover_none_is_made(monkeypatch, soon):
    """The switch turns the cover off altogether; with it one is made, and asked again and again."""
    problem = problem_of("free")
    start = start_of(problem)
    made = []

    class Watched(module.Cover):
        def __init__(self, *given: object) -> None:
            made.append(given)
            super().__init__(*given)

    monkeypatch.setattr(module, "Cover", Watched)
    searched(problem, start, seed=1, stop=never, rounds=6, switches=Switches(cover=False))
    assert made == []
    searched(problem, start, seed=1, stop=never, rounds=6)
    assert len(made) == 1


def test_whole_numbers_that_are_better_are_taken(monkeypatch, soon):
    """What the cover finds becomes the best layout, and the user's wish to end is passed on to it."""
    problem = problem_of("free")
    better = start_of(problem)
    first, *others = better.sheets
    apart = (replace(first, placed=first.placed[:1]), replace(first, placed=first.placed[1:]))
    poor = Layout((*apart, *others), better.left_over)
    wishes = []

    def offered(_: object, best: Layout, relaxed: object, ended: object) -> Layout:
        wishes.append(ended)
        return better

    def ended() -> bool:
        return False

    # The moves find nothing here, so that only the cover can.
    monkeypatch.setattr(module.Search, "__call__", lambda self, best, stop: best)
    monkeypatch.setattr(module.Cover, "better_than", offered)
    monkeypatch.setattr(module.Cover, "most_for", lambda *_: 1e9)
    assert score_of(problem, poor) > score_of(problem, better)
    assert searched(problem, poor, seed=1, stop=never, ended=ended, rounds=8) == better
    assert set(wishes) == {ended}


EIGHTHS = [(5, 20)] * 4 + [(20, 5)] * 4
"""Two sheets of 20 x 20, without waste."""


def on_sizes(*stocks: Stock, sizes: list[tuple[int, int]] = EIGHTHS, **way: object) -> Problem:
    """Return a problem of single parts on several sizes."""
    boxes = (*(Box(w, h, 1, ((0,),) * len(stocks)) for w, h in sizes), Box(1, 1, 0, ((0,),) * len(stocks)))
    return Problem(boxes, stocks, 0, 0, **way)


@pytest.mark.parametrize("way", [{}, {"edge_to_edge": True, "stages": 2}])
def test_a_layout_on_one_size_alone_is_found_where_it_is_best(way):
    """By hand: two sheets of 20 x 20 at 10 hold all without waste; what is on many sheets costs more."""
    problem = on_sizes(stock(20, 5, 6), stock(5, 20, 6), stock(20, 20, 10), **way)
    start = start_of(on_sizes(stock(20, 5, 1), stock(5, 20, 1), stock(20, 20, 99), **way))
    assert score_of(problem, start)[1] == 48
    found = searched(problem, start, seed=1, stop=Reached(Fraction(20), 2), rounds=60)
    check_layout(problem, found)
    assert [s.stock for s in found.sheets] == [2, 2]


def test_a_size_that_some_part_does_not_fit_takes_the_others():
    """By hand: 21 x 1 fits the dear sheet only; it holds half of the others, a cheap one the rest."""
    sizes = [*EIGHTHS, (21, 1)]
    problem = on_sizes(stock(22, 22, 30), stock(20, 20, 1), sizes=sizes)
    start = start_of(on_sizes(stock(22, 22, 1), stock(20, 20, 99), sizes=sizes))
    assert score_of(problem, start)[1] >= 60
    found = searched(problem, start, seed=1, stop=Reached(Fraction(31), 2), rounds=30)
    check_layout(problem, found)
    assert not any(found.left_over)
    assert (found.cost(problem), len(found.sheets)) == (31, 2)


@pytest.mark.parametrize("way", [{}, {"edge_to_edge": True, "stages": 3}])
@pytest.mark.parametrize("count", [0, 1, 2])
def test_limited_counts_are_kept(way, count):
    """By hand: each cheap sheet of 20 x 21 takes the place of a dear one, as far as they go."""
    problem = on_sizes(stock(20, 20, 10), stock(20, 21, 4, count), **way)
    start = start_of(on_sizes(stock(20, 20, 10), stock(20, 21, 99, count), **way))
    best = 4 * count + 10 * (2 - count)
    found = searched(problem, start, seed=1, stop=Reached(Fraction(best), 2), rounds=30)
    check_layout(problem, found)
    assert found.cost(problem) == best


def test_exchanges_and_swaps_take_turns(monkeypatch):
    """Each has at most so many rounds at a time; together they have as many as were asked for."""
    problem = problem_of("several sheets")
    start, turns = start_of(problem), []

    def exchanges(self: object, best: Layout, stop: object) -> Layout:
        rounds = 0
        while not stop(score_of(problem, best)):
            rounds += 1
        turns.append(("exchanges", rounds))
        return best

    def swaps(self: object, best: Layout, stop: object, rounds: int) -> Layout:
        turns.append(("swaps", rounds))
        return best

    deep = module.Deep(problem, seed=1)
    monkeypatch.setattr(module.Search, "__call__", exchanges)
    monkeypatch.setattr(module.Swaps, "__call__", swaps)
    deep(start, never, 2 * module.TURN + 2)
    assert turns == [("exchanges", module.TURN), ("swaps", module.TURN), ("exchanges", 2)]
