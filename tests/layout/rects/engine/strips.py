"""Pieces of open length made for tests of what lays parts on them, and what must hold of any of them."""

from __future__ import annotations

from itertools import combinations

from hypothesis import strategies as st

from nestkit.layout.rects.engine.arrays import RANDOM
from nestkit.layout.rects.engine.state import seed_number
from nestkit.layout.rects.engine.strip import (
    ACROSS,
    ALL,
    CYCLE,
    DEPTH,
    FIRST,
    FITTED,
    LAID,
    LEFT_OUT,
    LIMIT,
    PIECES,
    RIGHT,
    SAW,
    SPARE,
    TO_BEAT,
    Strip,
    new_strip,
)

Size = tuple[int, int]
Kinds = list[tuple[Size, ...]]
NO_LIMIT = 1 << 30


def strip_of(
    kinds: Kinds,
    order: list[int],
    across: int,
    limit: int,
    *,
    saw: bool = False,
    depth: int = NO_LIMIT,
    first: int = 0,
    heat: int = 0,
    fitted: bool = True,
) -> Strip:
    """Return a strip in plain Python for these parts in order: codes, each twice a kind or one more."""
    worth = [w * h for (w, h), *_ in kinds]
    strip = new_strip(lambda n: [0] * n, kinds, worth, len(order), [heat], [1000])
    for i, code in enumerate(order):
        strip.order[i] = code
    counts = strip.counts
    counts[ACROSS], counts[LIMIT], counts[CYCLE] = across, limit, 100
    counts[SAW], counts[DEPTH], counts[FIRST] = int(saw), depth, first
    counts[SPARE] = across * limit - area_of(kinds, order)
    counts[LEFT_OUT] = counts[ALL] = area_of(kinds, order)
    counts[TO_BEAT], counts[RANDOM] = 1, seed_number(1)
    counts[FITTED] = int(fitted)
    return strip


def area_of(kinds: Kinds, order: list[int]) -> int:
    """Return the area of all parts in order."""
    return sum(kinds[code >> 1][0][0] * kinds[code >> 1][0][1] for code in order)


def laid_on(strip: Strip) -> dict[int, tuple[int, int, int, int]]:
    """Return where the parts that have a place lie, by their place in the order."""
    number = strip.counts[PIECES]
    rows = {i: tuple(strip.laid[i * LAID : (i + 1) * LAID]) for i in range(number)}
    return {i: row for i, row in rows.items() if row[RIGHT]}


def check_laid(strip: Strip, kinds: Kinds, left_out: int) -> None:
    """Assert that parts lie inside and apart, each as it may lie, and that so much area is left out."""
    laid = laid_on(strip)
    for i, (x, y, right, top) in laid.items():
        assert (right - x, top - y) in kinds[strip.order[i] >> 1]
        assert x >= 0
        assert y >= 0
        assert right <= strip.counts[ACROSS]
        assert top <= strip.counts[LIMIT]
    for a, b in combinations(laid.values(), 2):
        assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
    waiting = [strip.order[i] for i in range(strip.counts[PIECES]) if i not in laid]
    assert left_out == area_of(kinds, waiting)


@st.composite
def posed(draw: st.DrawFn) -> tuple[Kinds, list[int], int, int]:
    """Return kinds, an order of up to twelve parts, a width and a limit, none of which need be enough."""
    side = st.integers(1, 9)
    kinds: Kinds = []
    for w, h in draw(st.lists(st.tuples(side, side), min_size=1, max_size=6)):
        kinds.append(((w, h), (h, w)) if w != h and draw(st.booleans()) else ((w, h),))
    order = draw(st.lists(st.integers(0, 2 * len(kinds) - 1), min_size=1, max_size=12))
    return kinds, order, draw(st.integers(4, 14)), draw(st.integers(1, 20))
