"""What a stick can be worth, against trying every choice of pieces."""

from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from nestkit.layout.bars import knapsack
from nestkit.layout.bars.knapsack import filled, listed_fillings

pieces = st.lists(
    st.tuples(st.integers(1, 12), st.integers(0, 4), st.integers(0, 50)), min_size=1, max_size=4
)


def most_worth(parts, room):
    """Return the most that any choice of copies in a room is worth."""
    return max(
        sum(n * v for n, (_, _, v) in zip(choice, parts, strict=True))
        for choice in product(*(range(n + 1) for _, n, _ in parts))
        if sum(n * t for n, (t, _, _) in zip(choice, parts, strict=True)) <= room
    )


@given(pieces, st.integers(0, 30))
def test_nothing_is_worth_more(parts, room):
    """The worth is the most there is, and its copies fit and are worth it."""
    takes, copies, values = zip(*parts, strict=True)
    found = filled(takes, copies, values, room)
    assert found.worth == found.most == most_worth(parts, room)
    assert all(n <= most for n, most in zip(found.copies, copies, strict=True))
    assert sum(n * t for n, t in zip(found.copies, takes, strict=True)) <= room
    assert sum(n * v for n, v in zip(found.copies, values, strict=True)) == found.worth


@given(pieces, st.integers(13, 40))
def test_what_is_rounded_fits_and_bounds(parts, room):
    """In a room of more steps than are looked at what is found fits, and ``most`` is a bound."""
    takes, copies, values = zip(*parts, strict=True)
    before, knapsack.CELLS = knapsack.CELLS, 7
    try:
        found = filled(takes, copies, values, room)
    finally:
        knapsack.CELLS = before
    assert sum(n * t for n, t in zip(found.copies, takes, strict=True)) <= room
    assert found.worth <= most_worth(parts, room) <= found.most


@given(pieces, st.integers(0, 30))
def test_a_list_of_fillings_finds_the_same_worth(parts, room):
    """Where few fillings are worth keeping they are listed, whatever the length of the room: exact too."""
    takes, copies, values = zip(*((t * 10**6, n, v) for t, n, v in parts), strict=True)
    found = listed_fillings(takes, copies, values, room * 10**6)
    if not room:
        assert found is None
        return
    assert found.worth == found.most == most_worth(parts, room)
    assert all(n <= most for n, most in zip(found.copies, copies, strict=True))
    assert sum(n * t for n, t in zip(found.copies, takes, strict=True)) <= room * 10**6
    assert sum(n * v for n, v in zip(found.copies, values, strict=True)) == found.worth
