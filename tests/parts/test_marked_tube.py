"""A tube as it is marked out: lines along it, and the holes on each by their way from end 0."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.parts.marked_tube import girth, lines_of, through_numbers
from tests.laid_tubes import DECK_FRAME, INCH, MAST, MAST_FOOT, group, tube


def said(part):
    """Return face, side and hole numbers of every line."""
    return [(one.face, one.side, [m.number for m in one.marks]) for one in lines_of(part)]


def test_both_walls_of_through_holes_have_a_line():
    """A row through A is marked on A and on C, in the middle of both; B has its own line."""
    half = INCH / 2
    assert said(DECK_FRAME) == [
        ("A", half, [1, 2, 3, 4, 5, 6]),
        ("B", half, [7, 8, 9]),
        ("C", half, [1, 2, 3, 4, 5, 6]),
    ]
    assert all(one.in_middle for one in lines_of(DECK_FRAME))
    assert through_numbers(DECK_FRAME) == (1, 2, 3, 4, 5, 6)


def test_rows_beside_each_other_are_lines_by_their_way_from_the_edge():
    """Two rows on one face are two lines, the nearer to its edge first; holes by their way from end 0."""
    made = tube(
        "t", "1 x 1 x 1/16", 200, group("far", "A", 90, 30, across=20), group("near", "A", 60, across=5)
    )
    assert said(made) == [("A", 5, [3]), ("A", 20, [2, 1])]
    assert said(replace(made, section=made.section).mirrored()) == [
        ("A", INCH - 20, [2, 1]),
        ("A", INCH - 5, [3]),
    ]


def test_an_angle_is_measured_from_its_heel():
    """Both legs from the heel; the opposite hand is turned end for end."""
    assert [(f, s) for f, s, _ in said(MAST_FOOT)] == [("A", INCH * 5 / 8), ("B", INCH * 5 / 8)]
    assert [n for _, _, n in said(MAST_FOOT.mirrored())] == [[3, 2, 1], [5, 4]]


def test_a_round_tube_is_measured_around_from_line_a():
    """By the diameter, or by the girth as measured; the second wall of a through hole half way round."""
    way = math.pi * 25.4
    assert girth(MAST) == pytest.approx(way)
    assert [(float(one.at_deg), float(one.side)) for one in lines_of(MAST)] == [
        (0, 0), (120, pytest.approx(way / 3)), (180, pytest.approx(way / 2)),
    ]  # fmt: skip
    measured = replace(MAST, girth=Fraction(81))
    assert [one.side for one in lines_of(measured)] == [0, 27, Fraction(81, 2)]
    assert not any(one.in_middle for one in lines_of(measured))


@given(
    st.lists(
        st.tuples(st.sampled_from("ABCD"), st.integers(1, 199), st.integers(1, 25), st.booleans()),
        max_size=20,
    )
)
def test_every_mark_is_on_one_line_in_order(rows):
    """Whatever the holes: each mark once, its line's face and side its own, ways from end 0 rising."""
    groups = [group(str(i), f, at, across=a, through=t) for i, (f, at, a, t) in enumerate(rows)]
    made = tube("t", "1 x 1 x 1/16", 200, *groups)
    lines = lines_of(made)
    assert sorted((m.number, m.comes_out) for one in lines for m in one.marks) == sorted(
        (m.number, m.comes_out) for m in made.marks
    )
    for one in lines:
        assert {(m.spot.face, m.spot.across) for m in one.marks} == {(one.face, one.side)}
        assert [m.spot.at for m in one.marks] == sorted(m.spot.at for m in one.marks)
    assert len({(one.face, one.side) for one in lines}) == len(lines)
