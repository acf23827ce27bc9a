"""Published rectangle problems, typed in, with the number of sheets that the literature gives.

Sizes: Beasley, "An exact two-dimensional non-guillotine cutting tree search procedure", Operations
Research 33 (1985) 49-64 (ngcut); Beasley, "Algorithms for unconstrained two-dimensional guillotine
cutting", J. Oper. Res. Soc. 36 (1985) 297-306 (gcut); Christofides and Whitlock, "An algorithm for
two-dimensional cutting problems", Operations Research 25 (1977) 30-44 (cgcut). Sheet counts for
fixed parts: Martello and Vigo, "Exact solution of the two-dimensional finite bin packing problem",
Management Science 44 (1998) 388-399, from memory. Counts with turning are not published: where our
own bound meets them they are proved by it, the others are the best known to us.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from nestkit.layout.efforts import EFFORTS
from nestkit.layout.problem import Box, Problem, Stock
from nestkit.layout.solve import solve
from tests.layout.checked import check_layout
from tests.layout.oracle import least_cost_free

# Name: sheet, parts as width, height, quantity; sheets with fixed parts, sheets with turning.
PUBLISHED = {
    "ngcut1": ((10, 10), [(3, 7, 2), (8, 2, 2), (10, 2, 1), (5, 4, 3), (2, 9, 2)], 3, 3),
    "ngcut2": (
        (10, 10),
        [(1, 10, 3), (5, 3, 2), (9, 3, 3), (6, 1, 3), (3, 8, 3), (4, 1, 1), (7, 3, 2)],
        4,
        3,
    ),
    "ngcut4": ((15, 10), [(15, 2, 2), (7, 3, 1), (9, 1, 1), (8, 3, 1), (12, 2, 2)], 2, 2),
    "ngcut5": (
        (15, 10),
        [(10, 3, 2), (9, 3, 1), (12, 2, 3), (11, 3, 1), (12, 3, 3), (11, 1, 3), (2, 10, 1)],
        3,
        3,
    ),
    "ngcut7": ((20, 20), [(1, 9, 3), (16, 3, 1), (18, 3, 1), (20, 2, 1), (3, 1, 2)], 1, 1),
    "ngcut8": (
        (20, 20),
        [(15, 3, 1), (6, 6, 3), (13, 1, 2), (8, 7, 2), (18, 5, 3), (12, 4, 1), (8, 3, 1)],
        2,
        2,
    ),
    "ngcut10": ((30, 30), [(1, 30, 3), (25, 7, 1), (27, 9, 3), (30, 2, 3), (26, 7, 3)], 3, 3),
    "ngcut11": (
        (30, 30),
        [(3, 23, 3), (29, 5, 1), (21, 2, 3), (17, 11, 3), (14, 7, 2), (8, 5, 2), (21, 8, 1)],
        2,
        2,
    ),
    "cgcut1": (
        (15, 10),
        [(8, 4, 2), (3, 7, 1), (8, 2, 3), (3, 4, 5), (3, 3, 2), (3, 2, 2), (2, 1, 1)],
        2,
        2,
    ),
    "gcut1": (
        (250, 250),
        [(w, h, 1) for w, h in ((167, 184), (114, 118), (167, 152), (83, 140), (70, 86), (143, 166),
                                (120, 160), (66, 148), (87, 141), (69, 165))],
        5,
        4,
    ),
    "gcut2": (
        (250, 250),
        [(w, h, 1) for w, h in ((120, 133), (135, 186), (86, 75), (103, 73), (66, 85), (135, 97), (91, 175),
                                (131, 176), (71, 176), (153, 72), (87, 148), (168, 107), (118, 90),
                                (140, 109), (132, 159), (152, 93), (135, 68), (121, 158), (68, 94),
                                (155, 76))],
        6,
        5,
    ),
    "gcut5": (
        (500, 500),
        [(w, h, 1) for w, h in ((198, 205), (179, 155), (364, 236), (272, 147), (352, 145), (343, 245),
                                (132, 174), (164, 250), (282, 356), (342, 151))],
        3,
        3,
    ),
}  # fmt: skip


def posed(name: str, *, turning: bool, edge_to_edge: bool = False) -> Problem:
    """Return a published problem."""
    (width, height), parts, *_ = PUBLISHED[name]
    turns = ((0, 90),) if turning else ((0,),)
    return Problem(
        tuple(Box(w, h, n, turns) for w, h, n in parts),
        (Stock(width, height, 0, 0, 0, 0, None, Fraction(1)),),
        0,
        0,
        edge_to_edge,
    )


@pytest.mark.parametrize("name", PUBLISHED)
@pytest.mark.parametrize("turning", [False, True])
def test_published_problems_take_no_more_sheets_than_known(name, turning):
    """Free layouts reach the known number of sheets, and no bound is above it."""
    known = PUBLISHED[name][3 if turning else 2]
    problem = posed(name, turning=turning)
    solved = solve(problem, seed=1, effort=EFFORTS["normal"])
    check_layout(problem, solved.layout)
    assert solved.bounds.sheets.value <= known
    assert len(solved.layout.sheets) == known


@pytest.mark.parametrize("name", PUBLISHED)
def test_sawn_layouts_take_at_most_one_sheet_more(name):
    """From edge to edge the same parts take as many sheets, or one more, and never fewer than free ones."""
    known = PUBLISHED[name][2]
    problem = posed(name, turning=False, edge_to_edge=True)
    solved = solve(problem, seed=1, effort=EFFORTS["normal"])
    check_layout(problem, solved.layout)
    assert known <= len(solved.layout.sheets) <= known + 1


@pytest.mark.slow
def test_a_published_count_is_confirmed_by_a_constraint_solver():
    """CP-SAT proves that ngcut1 needs three sheets."""
    problem = posed("ngcut1", turning=False)
    single = Problem(
        tuple(Box(b.width, b.height, 1, b.turns) for b in problem.boxes for _ in range(b.quantity)),
        problem.stocks,
        0,
        0,
    )
    assert least_cost_free(single) == 3
