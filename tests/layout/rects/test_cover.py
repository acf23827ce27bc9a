"""The set cover: better layouts out of sheets that were seen, sound, and only where they are better."""

from __future__ import annotations

import random
from fractions import Fraction
from itertools import product

import numpy as np
import pytest

from nestkit.layout.problem import Box, Layout, Placed, Problem, SheetLayout, Stock
from nestkit.layout.rects import cover as module
from nestkit.layout.rects.cover import A_SHEET, Cover
from nestkit.layout.rects.engine.arrays import (
    KNOWN,
    MARK,
    OF_TYPE,
    PART,
    PARTS,
    SEEN_FACTS,
    START,
    TABLE,
    USED,
    Seen,
)
from nestkit.layout.rects.engine.twin import plain
from nestkit.layout.rects.greedy import Greedy
from nestkit.layout.rects.search import Search
from nestkit.layout.rects.space import rectangles, score_of, space_of
from nestkit.layout.stop import Rounds
from tests.layout.checked import check_layout

Column = tuple[int, list[tuple[int, int, int]]]
"""A stock, and the kinds on it with the x and y of their lower left."""


def stock(width: int, height: int, cost: int = 1, count: int | None = None) -> Stock:
    """Return a stock without border."""
    return Stock(width, height, 0, 0, 0, 0, count, Fraction(cost))


def problem(sizes: list[tuple[int, int, int]], stocks: list[Stock], **more: object) -> Problem:
    """Return a problem of boxes (width, height, quantity) that may not be turned."""
    turns = ((0,),) * len(stocks)
    return Problem(tuple(Box(*size, turns) for size in sizes), tuple(stocks), 0, 0, **more)


def layout_of(made: Problem, columns: list[Column]) -> Layout:
    """Return the layout of some columns."""
    left = [b.quantity for b in made.boxes]
    sheets = []
    for of, parts in columns:
        for kind, _, _ in parts:
            left[kind] -= 1
        sheets.append(SheetLayout(of, tuple(sorted(Placed(y, x, kind, 0) for kind, x, y in parts))))
    return Layout(tuple(sheets), tuple(left))


def seen_of(made: Problem, columns: list[Column]) -> Seen:
    """Return what a search would remember of some columns; the mark depends on the content alone."""
    sheet, part = [], []
    for of, parts in columns:
        mark = 1 + of + 7 * sum(31 ** (kind + 1) for kind, _, _ in parts)
        sheet += [of, len(parts), 0, len(part) // PART, mark]
        for kind, x, y in parts:
            box = made.boxes[kind]
            part += [kind, x, y, x + box.width, y + box.height]
    counts = [0] * 3
    counts[KNOWN], counts[USED] = len(columns), len(part) // PART
    # Behind what is known there is room that holds nothing.
    return Seen([0] * TABLE, sheet + [0] * 3 * SEEN_FACTS, part + [0] * 2 * PART, counts)


def covering(made: Problem, best: Layout, columns: list[Column]) -> Cover:
    """Return a cover that knows the sheets of a layout and some columns."""
    cover = Cover(space_of(made), best)
    cover.add(seen_of(made, columns))
    return cover


def improved(made: Problem, start: list[Column], columns: list[Column]) -> Layout | None:
    """Return the better layout that a cover finds, checked; None if it finds none."""
    best = layout_of(made, start)
    assert not any(best.left_over)
    cover = covering(made, best, columns)
    found = cover.better_than(best, cover.relaxed())
    if found is not None:
        check_layout(made, found)
        assert not any(found.left_over)
        assert score_of(made, found) < score_of(made, best)
    return found


FOUR = problem([(5, 6, 1), (5, 7, 1), (5, 8, 1), (5, 9, 1)], [stock(10, 10, 3)])
"""Four parts of which any two lie side by side on a sheet."""
PAIRS: list[Column] = [(0, [(0, 0, 0), (1, 5, 0)]), (0, [(2, 0, 0), (3, 5, 0)])]
APART: list[Column] = [(0, [(0, 0, 0)]), (0, [(1, 0, 0), (2, 5, 0)]), (0, [(3, 0, 0)])]


def test_sheets_of_the_same_content_are_kept_once():
    """What is taken in twice makes no second column, and every column keeps its own parts."""
    best = layout_of(FOUR, APART)
    cover = covering(FOUR, best, PAIRS)
    assert len(cover.sheet) == 3 + 2
    cover.add(seen_of(FOUR, [PAIRS[1], APART[1], PAIRS[0]]))
    assert len(cover.sheet) == 3 + 3
    assert len(cover.part) == cover.sheet[:, PARTS].sum()
    contents = [[k for k, _ in cover._column(i)[1]] for i in range(len(cover.sheet))]
    assert contents == [[0], [1, 2], [3], [0, 1], [2, 3], [1, 2]]
    assert list(cover.sheet[:, START]) == list(np.cumsum([0, 1, 2, 1, 2, 2]))
    assert len(set(cover.sheet[:, MARK])) == len(cover.sheet)


def test_the_sheets_of_the_best_layout_are_columns_from_the_start():
    """Without anything seen the relaxed cover is the best layout, and nothing better is found."""
    best = layout_of(FOUR, APART)
    cover = Cover(space_of(FOUR), best)
    relaxed = cover.relaxed()
    assert relaxed.cost == pytest.approx(3 * (1 + A_SHEET))
    assert list(relaxed.taken) == pytest.approx([1, 1, 1])
    assert cover.better_than(best, relaxed) is None


def test_a_cover_is_found_that_the_search_did_not_have():
    """Two sheets seen at different times hold what the best layout has on three."""
    assert improved(FOUR, APART, PAIRS) == layout_of(FOUR, PAIRS)


def test_parts_held_twice_are_taken_off():
    """Columns that share a part make a sound layout with the part on the first of them only."""
    three = problem([(3, 6, 1), (3, 7, 1), (3, 8, 1), (3, 9, 1), (3, 5, 1)], [stock(10, 10)])
    apart: list[Column] = [(0, [(0, 0, 0), (1, 3, 0)]), (0, [(2, 0, 0), (3, 3, 0)]), (0, [(4, 0, 0)])]
    threes: list[Column] = [(0, [(0, 0, 0), (1, 3, 0), (2, 6, 0)]), (0, [(2, 0, 0), (3, 3, 0), (4, 6, 0)])]
    found = improved(three, apart, threes)
    assert found is not None
    assert sorted(len(s.placed) for s in found.sheets) == [2, 3]


def test_equal_parts_are_one_demand():
    """Four equal parts need a column of two of them twice, not four columns or one."""
    made = problem([(5, 9, 4)], [stock(10, 10)])
    start: list[Column] = [(0, [(0, 0, 0)])] * 4
    pair: Column = (0, [(0, 0, 0), (0, 5, 0)])
    best = layout_of(made, start)
    cover = covering(made, best, [pair])
    relaxed = cover.relaxed()
    assert len(relaxed.taken) == len(cover.sheet)
    assert relaxed.cost == pytest.approx(2 * (1 + A_SHEET))
    assert improved(made, start, [pair]) == layout_of(made, [pair, pair])


def test_what_is_left_of_a_column_must_still_be_sawn():
    """Without the part that the first cut sets apart, two side by side ask for another first cut.

    By hand: a rip along x frees the long part above; what is left below is cut across it. Taken from the
    other column, the long part leaves two parts that a first cut along x cannot part.
    """
    sizes = [(10, 4, 1), (5, 6, 1), (5, 5, 1), (9, 6, 1)]
    columns: list[Column] = [(0, [(3, 0, 0), (0, 0, 6)]), (0, [(1, 0, 0), (2, 5, 0), (0, 0, 6)])]
    start: list[Column] = [(0, [(0, 0, 0)]), (0, [(1, 0, 0)]), (0, [(2, 0, 0)]), (0, [(3, 0, 0)])]
    way = {"edge_to_edge": True, "stages": 2}
    either = problem(sizes, [stock(10, 10)], **way)
    found = improved(either, start, columns)
    assert found is not None
    assert len(found.sheets) == 2
    along = problem(sizes, [stock(10, 10)], **way, first="x")
    found = improved(along, start, columns)
    # Which of the two columns gives up the long part decides whether there is a layout at all.
    assert found is None or all(len(s.placed) != 2 or s.placed[0].y != s.placed[1].y for s in found.sheets)
    space = space_of(along)
    cover = covering(along, layout_of(along, start), columns)
    both = cover._column(len(start) + 1)[1]
    assert space.sawable(rectangles(both))
    assert cover._still([0, 1, 1, 1], both) == []


def test_prices_of_several_sizes_decide():
    """Two cheap small sheets go before one dear large one, and one large before three small."""
    sizes = [(5, 9, 1), (5, 8, 1), (5, 7, 1)]
    large: Column = (0, [(0, 0, 0), (1, 5, 0), (2, 10, 0)])
    mixed: list[Column] = [(1, [(0, 0, 0), (1, 5, 0)]), (2, [(2, 0, 0)])]
    stocks = [stock(15, 10, 9), stock(10, 10, 4), stock(5, 10, 3)]
    small: list[Column] = [(2, [(0, 0, 0)]), (2, [(1, 0, 0)]), (2, [(2, 0, 0)])]
    cheap = problem(sizes, stocks)
    assert improved(cheap, [large], [*mixed]) == layout_of(cheap, mixed)
    assert improved(cheap, mixed, [large, *small]) is None
    dear = problem(sizes, [stock(15, 10, 6), *stocks[1:]])
    assert improved(dear, mixed, [large, *small]) == layout_of(dear, [large])


def test_of_covers_that_cost_the_same_the_one_with_fewer_sheets_is_better():
    """One sheet for 8 goes before two for 4, not the other way round."""
    made = problem([(5, 9, 1), (5, 8, 1)], [stock(10, 10, 8), stock(5, 10, 4)])
    one: list[Column] = [(0, [(0, 0, 0), (1, 5, 0)])]
    two: list[Column] = [(1, [(0, 0, 0)]), (1, [(1, 0, 0)])]
    assert improved(made, two, one) == layout_of(made, one)
    assert improved(made, one, two) is None


def test_no_more_sheets_are_taken_than_there_are():
    """What is on hand is taken once if there is one, and bought after that."""
    sizes = [(5, 9, 4)]
    pair_on_hand: Column = (0, [(0, 0, 0), (0, 5, 0)])
    pair_bought: Column = (1, [(0, 0, 0), (0, 5, 0)])
    bought: list[Column] = [pair_bought, pair_bought]
    for count, cost in ((1, 7), (2, 0)):
        made = problem(sizes, [stock(10, 10, 0, count), stock(10, 10, 7)])
        found = improved(made, bought, [pair_on_hand])
        assert found is not None
        assert found.cost(made) == cost
    none = problem(sizes, [stock(10, 10, 5, 1), stock(10, 10, 7)])
    found = improved(none, [(1, [(0, 0, 0)])] * 4, [pair_on_hand, pair_bought])
    assert found is not None
    assert found.cost(none) == 12


def test_nothing_is_sought_where_parts_of_sheets_already_cost_too_much():
    """Three parts of which any two share a sheet take 1.5 in parts, and two sheets in whole numbers."""
    made = problem([(5, 6, 1), (5, 7, 1), (5, 8, 1)], [stock(10, 10)])
    pairs: list[Column] = [(0, [(a, 0, 0), (b, 5, 0)]) for a, b in ((0, 1), (0, 2), (1, 2))]
    start: list[Column] = [pairs[0], (0, [(2, 0, 0)])]
    best = layout_of(made, start)
    cover = covering(made, best, pairs)
    relaxed = cover.relaxed()
    assert relaxed.cost == pytest.approx(1.5 * (1 + A_SHEET))
    assert relaxed.cost > cover.most_for(best)
    assert cover.better_than(best, relaxed) is None


def test_a_user_who_ends_the_search_gets_no_wrong_layout():
    """Ended while whole numbers are sought: a better layout or none."""
    best = layout_of(FOUR, APART)
    cover = covering(FOUR, best, PAIRS)
    found = cover.better_than(best, cover.relaxed(), lambda: True)
    assert found is None or found == layout_of(FOUR, PAIRS)


def test_of_very_many_columns_the_best_are_kept(monkeypatch):
    """Columns that lack most go first; those that the relaxed cover takes stay, with their parts."""
    rng = random.Random(3)
    made = problem([(2, 2 + k % 7, 2) for k in range(8)], [stock(10, 10)])
    start: list[Column] = [(0, [(k, 0, 0), (k, 2, 0)]) for k in range(8)]
    columns: list[Column] = []
    for _ in range(60):
        kinds = rng.sample(range(8), rng.randint(1, 5))
        columns.append((0, [(k, 2 * i, 0) for i, k in enumerate(kinds)]))
    best = layout_of(made, start)
    whole = covering(made, best, columns)
    every = whole.relaxed()
    monkeypatch.setattr(module, "MOST_COLUMNS", 20)
    few = covering(made, best, columns)
    relaxed = few.relaxed()
    assert len(few.sheet) == len(relaxed.taken) == len(relaxed.lacks) == 20
    assert relaxed.cost == pytest.approx(every.cost)
    assert few.relaxed().cost == pytest.approx(every.cost)
    one, two = (c.better_than(best, r) for c, r in ((whole, every), (few, relaxed)))
    for found in (one, two):
        assert found is not None
        check_layout(made, found)


def least_by_trying(made: Problem, columns: list[Column]) -> Fraction | None:
    """Return the least cost of columns that hold all parts, by trying every number of each."""
    needed = [b.quantity for b in made.boxes]
    least = None
    for taken in product(range(3), repeat=len(columns)):
        held = [0] * len(needed)
        used = [0] * len(made.stocks)
        for n, (of, parts) in zip(taken, columns, strict=True):
            used[of] += n
            for kind, _, _ in parts:
                held[kind] += n
        if any(h < n for h, n in zip(held, needed, strict=True)):
            continue
        if any(s.count is not None and u > s.count for u, s in zip(used, made.stocks, strict=True)):
            continue
        cost = sum((u * s.cost for u, s in zip(used, made.stocks, strict=True)), Fraction(0))
        least = cost if least is None else min(least, cost)
    return least


@pytest.mark.parametrize("seed", range(12))
def test_a_cheaper_cover_is_found_if_and_only_if_there_is_one(seed):
    """Against trying every number of every column: from the worst layout on, step by step to the least."""
    rng = random.Random(seed)
    stocks = [stock(12, 10, 7), stock(8, 10, 4), stock(12, 10, 2, 1)]
    made = problem([(2, 3 + k, rng.randint(1, 2)) for k in range(5)], stocks)
    start: list[Column] = [(0, [(k, 2 * i, 0) for i in range(b.quantity)]) for k, b in enumerate(made.boxes)]
    columns: list[Column] = []
    for _ in range(3):
        of = rng.randrange(3)
        number = rng.randint(2, 6 if of != 1 else 4)
        kinds = [rng.randrange(5) for _ in range(number)]
        columns.append((of, [(k, 2 * i, 0) for i, k in enumerate(kinds)]))
    best = layout_of(made, start)
    least = least_by_trying(made, [*start, *columns])
    for _ in range(8):
        cover = covering(made, best, [*start, *columns])
        relaxed = cover.relaxed()
        found = cover.better_than(best, relaxed)
        if found is None:
            break
        check_layout(made, found)
        assert score_of(made, found) < score_of(made, best)
        assert relaxed.cost <= float(found.cost(made)) / 7 + A_SHEET * len(found.sheets) + 1e-9
        best = found
    assert best.cost(made) == least


def test_rounding_loses_no_part_and_keeps_every_sheet_sound():
    """What the relaxed cover takes much of makes so many sheets; all other parts wait beside them."""
    rng = random.Random(8)
    boxes = tuple(Box(rng.randint(3, 12), rng.randint(3, 9), 2, ((0, 90),)) for _ in range(14))
    for way in ({}, {"edge_to_edge": True, "stages": 2, "first": "y"}):
        made = Problem(boxes, (stock(20, 15),), 0, 0, **way)
        best = Greedy()(made, seed=1, stop=Rounds(2))
        search = Search(made, plain(), seed=1)
        search.forget()
        search.work = 400
        best = search(best, Rounds(3))
        cover = Cover(search.space, best)
        cover.add(search.forget())
        assert len(cover.sheet) > len(best.sheets)
        relaxed = cover.relaxed()
        assert relaxed.cost <= len(best.sheets) * (1 + A_SHEET) + 1e-9
        for number in (1, len(best.sheets) - 1, len(best.sheets) + 3):
            sheets, pool = cover.rounded(relaxed, number, random.Random(2))
            assert len(sheets) == number
            laid = sorted([k for _, on in sheets for k, _ in on] + pool)
            assert laid == sorted(k for k, b in enumerate(boxes) for _ in range(b.quantity))
            check_layout(made, cover.space.layout(sheets))
            again = cover.rounded(relaxed, number, random.Random(2))
            assert (sheets, pool) == again


def test_columns_know_their_stock():
    """The record of a column names the stock that its sheet is of."""
    made = problem([(5, 9, 2)], [stock(10, 10, 8), stock(5, 10, 4)])
    start: list[Column] = [(1, [(0, 0, 0)]), (1, [(0, 0, 0)])]
    cover = covering(made, layout_of(made, start), [(0, [(0, 0, 0), (0, 5, 0)])])
    assert list(cover.sheet[:, OF_TYPE]) == [1, 1, 0]
    assert cover.most_for(layout_of(made, start)) == pytest.approx(1 + A_SHEET, abs=1e-6)
