"""Whether parts fit together on one sheet, against a constraint solver."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from nestkit.layout.bounding.together import DEPTH, MOST, NO, NOT_KNOWN, YES, Kinds, fit_together

ROOM = (10, 9)


def fits_one_sheet(ways: list[list[tuple[int, int]]], room: tuple[int, int]) -> bool:
    """Say whether parts, each in one of its ways, fit a room: proved by CP-SAT."""
    model = cp_model.CpModel()
    across, up = [], []
    for part in ways:
        chosen = []
        for w, h in part:
            if w > room[0] or h > room[1]:
                continue
            here = model.new_bool_var("")
            chosen.append(here)
            x, y = model.new_int_var(0, room[0] - w, ""), model.new_int_var(0, room[1] - h, "")
            across.append(model.new_optional_fixed_size_interval_var(x, w, here, ""))
            up.append(model.new_optional_fixed_size_interval_var(y, h, here, ""))
        model.add_exactly_one(chosen)
    model.add_no_overlap_2d(across, up)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    return solver.solve(model) in (cp_model.OPTIMAL, cp_model.FEASIBLE)


def verdict_of(ways: list[list[tuple[int, int]]], room: tuple[int, int], tries: int = 100_000) -> int:
    """Return our verdict; equal parts are one kind."""
    ordered = sorted(ways, key=lambda part: (-part[0][0] * part[0][1], part))
    sizes = sorted({tuple(part) for part in ordered}, key=lambda part: (-part[0][0] * part[0][1], part))
    rows = [[*part[0], *(part[1] if len(part) > 1 else (0, 0))] for part in sizes]
    area = [part[0][0] * part[0][1] for part in sizes]
    kinds = Kinds(area, area, [n for row in rows for n in row])
    parts = sorted(sizes.index(tuple(part)) for part in ordered)
    stack = [0] * ((MOST + 2) * DEPTH)
    return fit_together(kinds, parts, len(parts), stack, *room, tries)[0]


@st.composite
def some_parts(draw: st.DrawFn) -> list[list[tuple[int, int]]]:
    """Three to six parts that fit the room alone, some of which may be turned."""
    found = []
    for w, h in draw(st.lists(st.tuples(st.integers(1, 8), st.integers(1, 8)), min_size=3, max_size=6)):
        turning = w != h and draw(st.booleans())
        found.append([(w, h), (h, w)] if turning else [(w, h)])
    return found


@settings(max_examples=120, deadline=None)
@given(some_parts())
def test_parts_fit_where_a_constraint_solver_lays_them(ways):
    """Whatever the parts: they fit by our trial if, and only if, CP-SAT finds a layout."""
    assert (verdict_of(ways, ROOM) == YES) == fits_one_sheet(ways, ROOM)


def test_a_wheel_of_parts_fits_although_no_straight_cut_divides_it():
    """Four 3 x 2 around a 1 x 1 fill a 5 x 5 sheet."""
    wheel = [[(3, 2)], [(2, 3)], [(3, 2)], [(2, 3)], [(1, 1)]]
    assert verdict_of(wheel, (5, 5)) == YES
    assert verdict_of([*wheel[:4], [(1, 2)]], (5, 5)) == NO


@pytest.mark.parametrize("tries", [1, 3])
def test_what_takes_too_long_is_not_known(tries):
    """Cut short, the trial claims nothing."""
    ways = [[(4, 3), (3, 4)]] * 7 + [[(2, 3), (3, 2)]]
    assert verdict_of(ways, ROOM, tries) == NOT_KNOWN
