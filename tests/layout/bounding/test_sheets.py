"""The most worth on a sheet: never less than the truth, and the same in both forms."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.layout.bounding.form import compiled, plain
from nestkit.layout.bounding.sheets import SheetOf
from nestkit.layout.bounds import view_for
from nestkit.layout.rects.engine.twin import can_compile
from tests.layout.bounding.test_together import fits_one_sheet
from tests.layout.oracle import small_problem

ROOM = (10, 9)


def sheet_of(sizes: list[tuple[int, int]], turning: bool, form=None) -> tuple[SheetOf, list[int], list]:
    """Return a sheet for parts, the order of its kinds, and the ways of each part."""
    problem = small_problem(sizes, [(*ROOM, 1)], turning=turning)
    view = view_for(problem, boxes_only=True)
    order = sorted(range(len(sizes)), key=lambda b: (-view.area[b], b))
    return SheetOf(view, 0, order, form or plain()), order, [[c[0] for c in w[0]] for w in view.ways]


def truly_most(worth: list[int], ways: list) -> int:
    """Return the most worth of parts that fit one sheet, by trying all sets with CP-SAT."""
    sets = [c for n in range(len(ways) + 1) for c in combinations(range(len(ways)), n)]
    for chosen in sorted(sets, key=lambda c: -sum(worth[i] for i in c)):
        if fits_one_sheet([ways[i] for i in chosen], ROOM):
            return sum(worth[i] for i in chosen)
    return 0


SIZES = st.lists(st.tuples(st.integers(2, 8), st.integers(2, 8)), min_size=1, max_size=6)


@settings(max_examples=40, deadline=None)
@given(SIZES, st.booleans(), st.data())
def test_no_set_on_a_sheet_is_worth_more_than_is_said(sizes, turning, data):
    """Of up to six parts the most worth is found exactly; with little work it is not below that."""
    worth = data.draw(st.lists(st.integers(0, 40), min_size=len(sizes), max_size=len(sizes)))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("nestkit.layout.bounding.sheets.MOST_TRIES", 100_000)
        sheet, order, ways = sheet_of(sizes, turning)
    truth = truly_most(worth, ways)
    value = [worth[b] for b in order]
    found = sheet.priced(value, 0, 100_000)
    while found.sets and found.most > max(sum(value[k] for k in s) for s in found.sets):
        # It ended early since it had sets enough: go on from the best of them.
        found = sheet.priced(value, max(sum(value[k] for k in s) for s in found.sets), 100_000)
    assert found.most == truth
    for work in (2, 100_000):
        assert sheet_of(sizes, turning)[0].priced(value, 0, work).most >= truth


def test_sets_that_are_found_fit_and_are_worth_more_than_was_asked():
    """Every set noted is of more worth than the least, and its parts fit together."""
    sheet, order, ways = sheet_of([(6, 5), (4, 4), (5, 5), (3, 7), (2, 2)], True)
    value = [w for b in order for w in [ways[b][0][0] * ways[b][0][1]]]
    found = sheet.priced(value, 40, 10_000)
    assert found.sets
    for parts in found.sets:
        assert sum(value[k] for k in parts) > 40
        assert fits_one_sheet([ways[order[k]] for k in parts], ROOM)


@pytest.mark.skipif(not can_compile(), reason="the compiler is not installed here")
def test_both_forms_find_the_same():
    """Plain and compiled agree on the worth, the sets and the work, also when cut short."""
    sizes = [(2 + k * 5 % 7, 2 + k * 3 % 6) for k in range(14)]
    for turning in (False, True):
        one, order, ways = sheet_of(sizes, turning)
        two, _, _ = sheet_of(sizes, turning, compiled())
        value = [10 * ways[b][0][0] * ways[b][0][1] + 7 * b % 10 for b in order]
        for least, work in ((0, 50), (0, 5000), (700, 2000), (880, 4000)):
            assert one.priced(value, least, work) == two.priced(value, least, work)
        assert one.may_hold((0, 1, 2, 3)) == two.may_hold((0, 1, 2, 3))
