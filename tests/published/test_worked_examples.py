"""One worked example for each kind of problem, its source, and an argument for its optimum without a solver.

Z. Moron, "On the dissection of rectangles into squares", Wiadomosci Matematyczne 1 (1955) 75-94 (found in
1925), from memory: 33 x 32 in nine different squares. Fewer than nine fill no rectangle: R. L. Brooks,
C. A. B. Smith, A. H. Stone and W. T. Tutte, "The dissection of rectangles into squares", Duke Mathematical
Journal 7 (1940) 312-340, from memory. N. G. de Bruijn, "Filling boxes with bricks", American Mathematical
Monthly 76 (1969) 37-40, from memory: bars 1 x n fill a rectangle only if n divides one of its sides. The
examples of several sizes, and that of wide parts off a roll, are made up here.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from nestkit.layout.efforts import EFFORTS
from nestkit.layout.problem import Box, Problem, Stock
from nestkit.layout.solve import solve
from nestkit.layout.solved import Solved
from tests.layout.checked import check_layout

SQUARES = (18, 15, 14, 10, 9, 8, 7, 4, 1)


def stock(width: int, height: int, cost: int = 1, count: int | None = None, *, roll: bool = False) -> Stock:
    """Return a stock without border."""
    return Stock(width, height, 0, 0, 0, 0, count, Fraction(cost), roll)


def laid(sizes: list[tuple[int, int, int]], *stocks: Stock, turning: bool = False, **way: object) -> Solved:
    """Return boxes (width, height, quantity) laid out at normal effort, and checked."""
    turns = ((0, 90) if turning else (0,),) * len(stocks)
    problem = Problem(tuple(Box(*size, turns) for size in sizes), stocks, 0, 0, **way)
    solved = solve(problem, seed=1, effort=EFFORTS["normal"])
    check_layout(problem, solved.layout)
    assert not any(solved.layout.left_over)
    return solved


def test_fixed_parts_fill_a_sheet():
    """Nine squares fill 33 x 32 exactly: one sheet, and on 33 x 31 their area alone takes two."""
    squares = [(n, n, 1) for n in SQUARES]
    assert sum(n * n for n in SQUARES) == 33 * 32
    assert len(laid(squares, stock(33, 32)).layout.sheets) == 1
    smaller = laid(squares, stock(33, 31))
    assert len(smaller.layout.sheets) == smaller.bounds.sheets.value == 2


@pytest.mark.parametrize(
    ("room", "bars", "sheets"), [((8, 5), 10, 1), ((6, 6), 8, 1), ((6, 6), 9, 2), ((10, 10), 24, 1)]
)
def test_turning_bars_fill_only_what_their_length_divides(room, bars, sheets):
    """Bars 1 x 4: ten fill 8 x 5; nine have the area of 6 x 6, eight are the most that fit.

    Colour the squares of 6 x 6 by (x + y) modulo 4: a bar takes one of each colour, and one colour has only
    eight squares. On 10 x 10, of 100 squares, the rarest colour has 24.
    """
    width, height = room
    colours = [sum((x + y) % 4 == c for x in range(width) for y in range(height)) for c in range(4)]
    assert (min(colours) >= bars) == (sheets == 1)
    assert len(laid([(4, 1, bars)], stock(*room), turning=True).layout.sheets) == sheets


def test_a_saw_cannot_part_what_only_squares_fill():
    """From edge to edge the nine squares take two sheets of 33 x 32.

    A cut through a filled sheet leaves two filled rectangles. None of fewer than nine different squares
    exists but a single square, and none of these is as long as a side.
    """
    assert max(SQUARES) < 32
    solved = laid([(n, n, 1) for n in SQUARES], stock(33, 32), edge_to_edge=True)
    assert len(solved.layout.sheets) == 2


def test_sheets_of_several_sizes_are_bought_for_the_least():
    """Thirteen 5 x 5: a large sheet holds four for 10, a small one two for 6.

    By all sums: three large and one small for 36; four large are 40, two large and three small 38.
    """
    large, small = stock(10, 10, 10), stock(5, 10, 6)
    least = min(10 * a + 6 * b for a in range(5) for b in range(8) if 4 * a + 2 * b >= 13)
    solved = laid([(5, 5, 13)], large, small)
    assert solved.layout.cost(Problem((), (large, small), 0, 0)) == solved.bounds.cost.value == least == 36


def test_a_sheet_on_hand_saves_what_it_holds():
    """With one small sheet on hand eleven are left: three large for 30; two large and two small are 32."""
    large, small, hand = stock(10, 10, 10), stock(5, 10, 6), stock(5, 10, 0, 1)
    least = min(10 * a + 6 * b for a in range(5) for b in range(8) if 4 * a + 2 * b + 2 >= 13)
    solved = laid([(5, 5, 13)], hand, large, small)
    assert (
        solved.layout.cost(Problem((), (hand, large, small), 0, 0)) == solved.bounds.cost.value == least == 30
    )


def test_a_piece_off_a_roll_is_as_long_as_the_area_asks():
    """Off a roll 32 wide the nine squares take a piece 33 long: no shorter one has their area."""
    solved = laid([(n, n, 1) for n in SQUARES], stock(32, 100, 1, 1, roll=True))
    (sheet,) = solved.layout.sheets
    assert max(p.y + SQUARES[p.box] for p in sheet.placed) == 33
    assert solved.bounds.cost.value == 33


def test_wide_parts_come_off_a_roll_one_after_the_other():
    """By hand: parts 6, 7 and 8 wide off a roll 11 wide never share a line; 4 + 5 + 3 and no less."""
    sizes = [(6, 4, 1), (7, 5, 1), (8, 3, 1), (3, 4, 2)]
    solved = laid(sizes, stock(11, 50, 2, 1, roll=True))
    (sheet,) = solved.layout.sheets
    assert max(p.y + sizes[p.box][1] for p in sheet.placed) == 4 + 5 + 3
    assert solved.bounds.cost.value == 2 * (4 + 5 + 3)
