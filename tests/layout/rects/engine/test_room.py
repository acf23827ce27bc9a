"""The engine's empty rectangles against those of the quick solvers, and against every point of the sheet."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.layout.rects.engine.arrays import HAND_FACTS, ROOM, ROOMS, SLOTS
from nestkit.layout.rects.engine.room import occupy
from nestkit.layout.rects.room import without

parts = st.tuples(st.integers(0, 18), st.integers(0, 14), st.integers(1, 7), st.integers(1, 6))


def rooms_after(taken: list[tuple[int, int, int, int]], narrow: int, flat: int) -> list[tuple[int, ...]]:
    """Return the engine's empty rectangles of a sheet of 20 x 16 after some rectangles are taken."""
    sheet, room, strip = [0] * (SLOTS * HAND_FACTS), [0] * (SLOTS * ROOM * 4), [0] * (ROOM * 16)
    slot = 2
    sheet[slot * HAND_FACTS + ROOMS] = 1
    first = slot * ROOM * 4
    room[first : first + 4] = [0, 0, 20, 16]
    for one in taken:
        occupy(room, strip, sheet, slot, one, narrow, flat)
    end = first + 4 * sheet[slot * HAND_FACTS + ROOMS]
    return [tuple(room[i : i + 4]) for i in range(first, end, 4)]


@settings(max_examples=200)
@given(st.lists(parts, max_size=8), st.integers(1, 4), st.integers(1, 4))
def test_empty_rectangles_are_those_of_the_quick_solvers(boxes, narrow, flat):
    """Both ways to keep the free room find the same maximal rectangles that can hold a part."""
    taken = [(x, y, min(20, x + w), min(16, y + h)) for x, y, w, h in boxes]
    room = [(0, 0, 20, 16)]
    for one in taken:
        room = without(room, one, narrow, flat)
    assert sorted(rooms_after(taken, narrow, flat)) == sorted(set(room))


@settings(max_examples=100)
@given(st.lists(parts, max_size=6))
def test_empty_rectangles_are_all_the_free_room_there_is(boxes):
    """A unit square is in an empty rectangle just when nothing lies on it; no rectangle is in another."""
    taken = [(x, y, min(20, x + w), min(16, y + h)) for x, y, w, h in boxes]
    rooms = rooms_after(taken, 1, 1)
    for x in range(20):
        for y in range(16):
            covered = any(a <= x < c and b <= y < d for a, b, c, d in taken)
            free = any(a <= x < c and b <= y < d for a, b, c, d in rooms)
            assert covered != free
    for i, (a, b, c, d) in enumerate(rooms):
        assert not any(
            i != j and e <= a and f <= b and g >= c and h >= d for j, (e, f, g, h) in enumerate(rooms)
        )
