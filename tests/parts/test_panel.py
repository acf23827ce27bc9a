"""Panels: opposite hands, counts, and the turns that grain leaves."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.geometry.points import Point
from nestkit.geometry.shapes import rectangle, slot
from nestkit.parts.holes import Drill, Hole, Mark, Opening
from nestkit.parts.panel import Panel, allowed_turns, mark_width

SEVEN = Drill(5.1054, "#7", "drill table")


def plate(places, **more):
    """Return a plate of 100 x 60 with holes at these places, a slot and a mark."""
    return Panel(
        name="plate",
        place='panel "plate"',
        material="hdpe",
        thickness=Fraction(6),
        width=Fraction(100),
        height=Fraction(60),
        shape="rectangle",
        outline=rectangle(100, 60, radius=5),
        holes=tuple(Hole(i, Point(*p), SEVEN, "rim") for i, p in enumerate(places, 1)),
        openings=(Opening("slot", slot(Point(30, 20), 20, 6, 30), "slots 1"),),
        marks=(Mark(Point(10, 50), "UP", 5.0),),
        **more,
    )


@given(st.lists(st.tuples(st.floats(0, 100), st.floats(0, 60)), max_size=6))
def test_the_opposite_hand_mirrors_everything_and_keeps_the_numbers(places):
    """x becomes width - x for holes, openings and outline; numbers, drills and groups stay."""
    panel = plate(places)
    other = panel.mirrored()
    assert [(h.number, h.drill, h.group) for h in other.holes] == [
        (h.number, h.drill, h.group) for h in panel.holes
    ]
    for hole, mirror in zip(panel.holes, other.holes, strict=True):
        assert mirror.at == pytest.approx((100 - hole.at.x, hole.at.y))
    box, mirror = panel.openings[0].outline.bounds, other.openings[0].outline.bounds
    assert (mirror.left, mirror.right) == pytest.approx((100 - box.right, 100 - box.left))
    assert other.outline.bounds == pytest.approx((0, 0, 100, 60))
    assert other.outline.area == pytest.approx(panel.outline.area)


@given(st.lists(st.tuples(st.floats(0, 100), st.floats(0, 60)), max_size=6))
def test_mirrored_twice_is_the_same_panel(places):
    """The opposite hand of the opposite hand lies where the panel lay."""
    panel = plate(places)
    twice = panel.mirrored().mirrored()
    for a, b in zip(panel.holes, twice.holes, strict=True):
        assert a.at == pytest.approx(b.at, abs=1e-9)
    assert twice.marks[0].at == pytest.approx(panel.marks[0].at)
    assert twice.openings[0].outline.bounds == pytest.approx(panel.openings[0].outline.bounds)


def test_a_mark_stays_readable_on_the_opposite_hand():
    """A text is not mirrored: it lies over the mirrored place, from left to right."""
    (mark,) = plate([]).mirrored().marks
    assert mark.text == "UP"
    assert mark.at == pytest.approx((100 - 10 - mark_width(mark), 50))


def test_what_must_be_made_leaves_out_what_is_made_if_there_is_room():
    """Needed copies are those as drawn, of the opposite hand, and spares."""
    assert plate([], quantity=2, opposite_hand=1, spare=3, spare_if_room=9).needed == 6


def test_either_hand_will_do_only_where_both_are_wanted_and_faces_are_alike():
    """One hand serves as the other where the part may be turned over."""
    assert plate([], opposite_hand=1, faces="alike").either_hand
    assert plate([], quantity=0, opposite_hand=1, faces="alike").either_hand
    assert not plate([], opposite_hand=1).either_hand
    assert not plate([], quantity=2, faces="alike").either_hand


TURNS = {
    ("none", "none", "none"): (0,),
    ("half", "none", "none"): (0, 180),
    ("quarter", "none", "none"): (0, 90, 180, 270),
    ("any", "none", "none"): (0, 90, 180, 270),
    # If sheet or part has no grain, only turn counts.
    ("quarter", "x", "none"): (0, 90, 180, 270),
    ("none", "none", "x"): (0,),
    # Like axes allow 0 and 180, unlike axes 90 and 270, as far as turn allows.
    ("quarter", "x", "x"): (0, 180),
    ("quarter", "y", "y"): (0, 180),
    ("quarter", "x", "y"): (90, 270),
    ("any", "y", "x"): (90, 270),
    ("half", "x", "x"): (0, 180),
    ("half", "x", "y"): (),
    ("none", "x", "x"): (0,),
    ("none", "x", "y"): (),
}


@pytest.mark.parametrize(("asked", "left"), TURNS.items())
def test_turns_that_grain_leaves(asked, left):
    """The contract's rule of grain and turn, case by case."""
    assert allowed_turns(*asked) == left


def test_a_part_that_is_either_hand_has_one_print():
    """Faces alike and both hands asked for: one hand is printed; otherwise each that is made."""
    assert plate([], quantity=2, opposite_hand=1, faces="alike").hands == (False,)
    assert plate([], quantity=0, opposite_hand=1, faces="alike").hands == (False,)
    assert plate([], quantity=2, opposite_hand=1).hands == (False, True)
    assert plate([], quantity=0, opposite_hand=1).hands == (True,)
