"""From a group to boxes: equal boxes are one kind, rounding is on the safe side, copies keep their order."""

from __future__ import annotations

from fractions import Fraction

from nestkit.layout.build import copies_of, problem_of
from tests.layout.made import MM, group, panel, sheet


def test_equal_boxes_are_one_kind():
    """Panels of one size and both hands are one box to a solver; the copies come back in job order."""
    made = group(
        [panel("a", 300, 200, quantity=2, opposite_hand=1), panel("b", 300, 200, spare=1)],
        [sheet("s", 900, 600)],
    )
    built = problem_of(made)
    assert [b.quantity for b in built.problem.boxes] == [5]
    names = [(c.panel.name, c.number, c.opposite_hand) for c in built.copies[0]]
    # What is asked for leads, spares follow.
    assert names == [("a", 1, False), ("a", 2, False), ("a", 1, True), ("b", 1, False), ("b", 2, False)]


def test_grain_and_turn_keep_kinds_apart():
    """The same size with another freedom is another kind."""
    made = group(
        [panel("a", 300, 200, grain="x"), panel("b", 300, 200, grain="y"), panel("c", 300, 200, turn="half")],
        [sheet("s", 900, 600, grain="x")],
    )
    assert [b.turns for b in problem_of(made).problem.boxes] == [((0, 180),), ((90, 270),)]


def test_parts_round_up_and_sheets_down():
    """What is finer than the grid takes room from the sheet, never from the part."""
    third = Fraction(1, 3)
    made = group(
        [panel("a", 100 + third, 50)], [sheet("s", 900 + third, 600)], kerf=third, margin=(third, 0, 0, 0)
    )
    problem = problem_of(made).problem
    assert problem.boxes[0].width == 100 * MM + 13334
    assert problem.stocks[0].width == 900 * MM + 13333
    assert (problem.kerf, problem.gap, problem.stocks[0].left) == (13334, 13334, 13334)


def test_on_hand_and_to_buy_are_two_stocks():
    """A sheet with some on hand is a free stock with a count and one without end at its price."""
    made = group([panel("a", 300, 200)], [sheet("s", 900, 600, on_hand=2, price=Fraction(7))])
    assert [(s.count, s.cost) for s in problem_of(made).problem.stocks] == [(2, 0), (None, 7)]
    only = group([panel("a", 300, 200)], [sheet("s", 900, 600, on_hand=2, buy=False)])
    assert [(s.count, s.cost) for s in problem_of(only).problem.stocks] == [(2, 0)]


def test_faces_alike_are_counted_over_both_hands():
    """A part that may be turned over has one row of numbers."""
    asked, spares, extras = copies_of(
        panel("a", 3, 2, quantity=1, opposite_hand=2, spare=1, spare_if_room=1, faces="alike")
    )
    rows = [[(c.number, c.opposite_hand) for c in row] for row in (asked, spares, extras)]
    assert rows == [[(1, False), (2, False), (3, False)], [(4, False)], [(5, False)]]
