"""Free room as maximal empty rectangles, against counting cells."""

from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from nestkit.layout.rects.room import best_place, places, without

SIDE = 7
RECTS = st.tuples(st.integers(0, 5), st.integers(0, 5), st.integers(1, 3), st.integers(1, 3)).map(
    lambda r: (r[0], r[1], min(SIDE, r[0] + r[2]), min(SIDE, r[1] + r[3]))
)


def maximal(taken):
    """Return all maximal empty rectangles by looking at every rectangle there is."""
    spans = [(a, b) for a in range(SIDE) for b in range(a + 1, SIDE + 1)]
    empty = [
        (x1, y1, x2, y2)
        for (x1, x2), (y1, y2) in product(spans, spans)
        if not any(a < x2 and x1 < c and b < y2 and y1 < d for a, b, c, d in taken)
    ]
    return {
        r
        for r in empty
        if not any(s != r and s[0] <= r[0] and s[1] <= r[1] and s[2] >= r[2] and s[3] >= r[3] for s in empty)
    }


@given(st.lists(RECTS, max_size=5))
def test_room_is_every_maximal_empty_rectangle(taken):
    """After any takings the room is exactly the maximal empty rectangles, each once."""
    room = [(0, 0, SIDE, SIDE)]
    for rect in taken:
        room = without(room, rect, 1, 1)
    assert len(room) == len(set(room))
    assert set(room) == maximal(taken)


@given(st.lists(RECTS, max_size=4), st.integers(0, 3))
def test_the_best_place_is_the_first_of_all(taken, rule):
    """The quick search and the sorted list agree on the best score, and both places are free."""
    room = [(0, 0, SIDE, SIDE)]
    for rect in taken:
        room = without(room, rect, 1, 1)
    sizes = ((2, 3, 0), (3, 2, 90))
    best, every = best_place(room, sizes, rule), places(room, sizes, rule)
    assert (best is None) == (not every)
    if best is not None:
        assert best[0] == every[0][0]
        x, y, w, h, _ = best[1]
        assert not any(a < x + w and x < c and b < y + h and y < d for a, b, c, d in taken)
