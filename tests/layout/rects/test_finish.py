"""The finish: nothing lost, rests together, few cuts, sheets in order."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest

from nestkit.layout.problem import Box, Problem, Stock
from nestkit.layout.rects.engine.twin import plain
from nestkit.layout.rects.few_cuts import cuts_of, with_few_cuts
from nestkit.layout.rects.finish import finished, tidied
from nestkit.layout.rects.greedy import Greedy
from nestkit.layout.rects.space import rectangles, score_of, space_of
from nestkit.layout.stop import Rounds
from tests.layout.checked import check_layout


def problem(edge_to_edge: bool, prefer: str = "offcut") -> Problem:
    """Return thirty boxes of ten kinds on sheets of 100 x 60."""
    rng = random.Random(8)
    boxes = tuple(Box(rng.randint(6, 40), rng.randint(6, 30), 3, ((0, 90),)) for _ in range(10))
    stock = Stock(100, 60, 1, 0, 2, 0, None, Fraction(1))
    return Problem(boxes, (stock,), 1, 1, edge_to_edge, 3 if edge_to_edge else 0, prefer=prefer)


@pytest.mark.parametrize("edge_to_edge", [False, True])
@pytest.mark.parametrize("prefer", ["offcut", "few cuts"])
def test_the_finish_keeps_what_is_laid(edge_to_edge, prefer):
    """The same parts lie on no more sheets at no more cost, and every rule still holds."""
    made = problem(edge_to_edge, prefer)
    layout = Greedy()(made, seed=1, stop=Rounds(3))
    done = finished(made, layout, seed=1, tries=12, form=plain())
    check_layout(made, done)
    assert score_of(made, done) <= score_of(made, layout)
    areas = [sum(made.boxes[p.box].width * made.boxes[p.box].height for p in s.placed) for s in done.sheets]
    assert areas == sorted(areas, reverse=True)


def test_parts_slide_down_and_left_as_far_as_they_go():
    """A part in the middle of an empty sheet ends in the lower left corner; nothing overlaps."""
    made = problem(edge_to_edge=False)
    space = space_of(made)
    size = next(s for s in space.sizes[0][0])
    done = tidied(space, 0, [(0, (20, 17, *size))])
    assert done == [(0, (0, 0, *size))]


def test_few_cuts_are_never_more_cuts():
    """Laid in strips a sheet takes no more saw cuts than before, and holds the same."""
    made = problem(edge_to_edge=True, prefer="few cuts")
    space = space_of(made)
    fewer = 0
    for sheet in Greedy()(made, seed=1, stop=Rounds(4)).sheets:
        before = space.laid(sheet)
        after = with_few_cuts(space, 0, before, random.Random(1), 12)
        assert sorted(b for b, _ in after) == sorted(b for b, _ in before)
        assert space.sawable(rectangles(after))
        assert cuts_of(space, 0, after) <= cuts_of(space, 0, before)
        fewer += cuts_of(space, 0, after) < cuts_of(space, 0, before)
    assert fewer
