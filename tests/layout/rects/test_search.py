"""Room found on given sheets for parts that wait: all of them or nothing, also on a sheet in another size."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest

from nestkit.layout.problem import Box, Problem, Stock
from nestkit.layout.rects.engine.twin import can_compile, compiled, plain
from nestkit.layout.rects.search import Search
from nestkit.layout.rects.space import Laid, Sheets
from tests.layout.checked import check_layout

FORMS = [plain, pytest.param(compiled, marks=pytest.mark.skipif(not can_compile(), reason="no compiler"))]
WAYS = [{}, {"edge_to_edge": True, "stages": 2}]


def search_on(
    sizes: list[tuple[int, int, int]], form: object, *stocks: tuple[int, int], **way: object
) -> Search:
    """Return a search on boxes (width, height, quantity) that may not be turned."""
    made = tuple(Stock(w, h, 0, 0, 0, 0, None, Fraction(w * h)) for w, h in stocks)
    boxes = tuple(Box(*size, ((0,),) * len(made)) for size in sizes)
    # A box of one unit, so that no larger step divides all sizes.
    return Search(Problem((*boxes, Box(1, 1, 0, ((0,),) * len(made))), made, 0, 0, **way), form, seed=1)


def lying(search: Search, stock: int, *parts: tuple[int, int, int]) -> tuple[int, Laid]:
    """Return a sheet of boxes with the x and y of their lower left."""
    return stock, [(b, (x, y, *search.space.sizes[stock][b][0])) for b, x, y in parts]


def held(sheets: Sheets) -> Counter[int]:
    """Return how many of each box lie on sheets."""
    return Counter(b for _, laid in sheets for b, _ in laid)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("way", WAYS)
def test_room_is_found_for_what_waits(form, way):
    """By hand: 4 x 6 fits beside 6 x 6 only once 4 x 4 lies elsewhere."""
    search = search_on([(6, 6, 1), (4, 4, 2), (4, 6, 1), (6, 4, 1)], form(), (10, 10), (5, 10), **way)
    sheets = [lying(search, 0, (0, 0, 0), (1, 6, 0), (3, 0, 6)), lying(search, 1, (1, 0, 0))]
    found = search.refilled(sheets, [2], 60)
    assert found is not None
    assert [stock for stock, _ in found] == [0, 1]
    assert held(found) == held(sheets) + Counter([2])
    check_layout(search.problem, search.space.layout(found))


@pytest.mark.parametrize("form", FORMS)
def test_where_not_all_find_room_there_is_no_answer(form):
    """By hand: two 6 x 6 do not share 10 x 10."""
    search = search_on([(6, 6, 2), (2, 2, 1)], form(), (10, 10))
    assert search.refilled([lying(search, 0, (0, 0, 0))], [0, 1], 3) is None


def test_where_nothing_waits_the_sheets_are_the_answer():
    """No round is begun, so that nobody is asked."""
    search = search_on([(6, 6, 1)], plain(), (10, 10))
    sheets = [lying(search, 0, (0, 2, 3))]
    assert search.refilled(sheets, [], 5, stop=lambda: pytest.fail("asked")) == sheets


def test_stop_is_asked_once_a_round():
    """After the first yes no round is begun, and what is not found by then is not found."""
    search = search_on([(6, 6, 2)], plain(), (10, 10))
    asked: list[int] = []
    assert search.refilled([lying(search, 0, (0, 0, 0))], [0], 5, stop=lambda: bool(asked.append(1))) is None
    assert len(asked) == 5
    asked.clear()
    stop = lambda: len(asked.append(1) or asked) == 2  # noqa: E731
    assert search.refilled([lying(search, 0, (0, 0, 0))], [0], 5, stop=stop) is None
    assert len(asked) == 2


@pytest.mark.parametrize("form", FORMS)
def test_a_sheet_may_be_cut_down(form):
    """By hand: 4 x 5 twice fill 8 x 5 of a sheet of 10 x 10, and do not fit 7 x 5."""
    search = search_on([(4, 5, 2)], form(), (10, 10))
    found = search.refilled([(1, [])], [0, 0], 20, (0, (8, 5)))
    assert found is not None
    ((type_, laid),) = found
    assert type_ == 1
    assert sorted(place[:2] for _, place in laid) == [(0, 0), (4, 0)]
    assert search.refilled([(1, [])], [0, 0], 5, (0, (7, 5))) is None


def test_every_start_has_other_random_numbers():
    """A second try on the same sheets is not the first one again, and a second search is."""
    one, two = (search_on([(6, 6, 1)], plain(), (10, 10)) for _ in range(2))
    seeds = [one._next_seed() for _ in range(3)]
    assert len(set(seeds)) == 3
    assert [two._next_seed() for _ in range(3)] == seeds
