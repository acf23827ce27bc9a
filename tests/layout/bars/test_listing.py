"""All loads that are worth something, against trying every choice of pieces."""

from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from nestkit.layout.bars import listing
from nestkit.layout.bars.listing import all_loads

pieces = st.lists(
    st.tuples(st.integers(1, 12), st.integers(0, 4), st.integers(0, 50)), min_size=1, max_size=4
)


def every_load(parts, room, least):
    """Return all loads of a room that are worth so much and give something."""
    choices = product(*(range(n + 1) for _, n, _ in parts))
    return {
        tuple((i, n) for i, n in enumerate(choice) if n)
        for choice in choices
        if sum(n * t for n, (t, _, _) in zip(choice, parts, strict=True)) <= room
        and sum(n * v for n, (_, _, v) in zip(choice, parts, strict=True)) >= least
        and any(choice)
    }


@given(pieces, st.integers(0, 30), st.integers(-5, 150))
def test_every_load_is_listed_once(parts, room, least):
    """Nothing that fits and is worth enough is missing, nothing else is there."""
    found = all_loads(*zip(*parts, strict=True), room, least, 10**6)
    assert len(found) == len(set(found))
    assert set(found) == every_load(parts, room, least)


@given(pieces, st.integers(0, 30), st.integers(0, 150))
def test_rounding_long_rooms_misses_none(parts, room, least):
    """Where the table of what is still to be had is rounded, the same loads are listed."""
    before, listing.MOST_CELLS = listing.MOST_CELLS, 25
    try:
        found = all_loads(*zip(*parts, strict=True), room, least, 10**6)
    finally:
        listing.MOST_CELLS = before
    assert set(found) == every_load(parts, room, least)


def test_too_many_loads_are_not_listed():
    """Of 2 to the 10 loads no more than a thousand are looked at."""
    assert all_loads([1] * 10, [1] * 10, [1] * 10, 10, 0, 1000) is None
    assert len(all_loads([1] * 10, [1] * 10, [1] * 10, 10, 0, 1024)) == 1023
