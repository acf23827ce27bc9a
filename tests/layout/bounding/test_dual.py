"""Dual-feasible functions: what fits side by side never measures more than the room."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from nestkit.layout.bounding.dual import measures


@given(st.integers(1, 60).flatmap(lambda w: st.tuples(st.just(w), st.lists(st.integers(1, w), max_size=8))))
def test_lengths_that_fit_measure_no_more_than_the_room(made):
    """For every measure the values of lengths that fit together sum to at most one room."""
    room, lengths = made
    fitting = []
    for length in lengths:
        if sum(fitting) + length <= room:
            fitting.append(length)
    for measure in measures([*lengths, room], room):
        assert sum((Fraction(*measure(n, room)) for n in fitting), Fraction(0)) <= 1
        assert Fraction(*measure(room, room)) == 1
