"""Strips and stacks of strips, against trying every choice of parts."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.layout.rects.engine import rips as kernel
from nestkit.layout.rects.engine.rips import COPIES, DEEP, ENTRY, KIND, LAID, LEVELS, LONG, OPEN, WIDE
from nestkit.layout.rects.engine.twin import can_compile
from nestkit.layout.rects.rips import KERNELS, compiled

WIDTH, HEIGHT = 12, 9
kinds = st.lists(
    st.tuples(st.integers(1, 9), st.integers(1, 7), st.integers(0, 3), st.integers(1, 40)),
    min_size=1,
    max_size=4,
)
"""Length, depth, how many, worth."""


def rips_of(parts, stacked=1, row=lambda n: [0] * n):
    """Return a sheet to be ripped, its entries in order of their depth."""
    entries = [(k, w, h * m, m) for k, (w, h, _, _) in enumerate(parts) for m in range(1, stacked + 1)]
    entries = sorted((e for e in entries if e[DEEP] <= HEIGHT), key=lambda e: (e[DEEP], e[LONG], e[KIND]))
    pieces = sum(n for _, _, n, _ in parts)
    rips = kernel.new_rips(row, entries, len(parts), pieces, WIDTH, HEIGHT)
    for k, (_, _, number, worth) in enumerate(parts):
        rips.left[k], rips.value[k] = number, worth
    return rips


def most_in_strip(parts, deep, long):
    """Return the most that a strip can be worth, by trying every choice of parts."""
    able = [(w, n if h <= deep else 0, worth) for w, h, n, worth in parts]
    return max(
        sum(q * worth for q, (_, _, worth) in zip(choice, able, strict=True))
        for choice in product(*(range(n + 1) for _, n, _ in able))
        if sum(q * w for q, (w, _, _) in zip(choice, able, strict=True)) <= long
    )


@settings(max_examples=150, deadline=None)
@given(kinds)
def test_the_table_holds_the_most_that_strips_can_be_worth(parts):
    """For each depth and each length, the table's value is that of the best choice of parts left."""
    rips = rips_of(parts)
    kernel.take_up(rips)
    kernel.fill_table(rips)
    for i in range(rips.counts[LEVELS]):
        j = rips.level[i]
        deep = rips.entry[rips.open[j] + DEEP]
        for x in range(WIDTH + 1):
            assert rips.table[(j + 1) * (WIDTH + 1) + x] == most_in_strip(parts, deep, x)


@settings(max_examples=150, deadline=None)
@given(kinds, st.integers(1, 3))
def test_a_ripped_sheet_holds_no_more_than_there_is(parts, stacked):
    """Strips are no longer and in all no deeper than the sheet, and no part is laid twice."""
    rips = rips_of(parts, stacked)
    number = kernel.rip(rips)
    strips: dict[int, list[int]] = {}
    laid = [0] * len(parts)
    for i in range(number):
        e = rips.laid[2 * i] * ENTRY
        laid[rips.entry[e]] += rips.entry[e + COPIES]
        strips.setdefault(rips.laid[2 * i + 1], []).append(e)
    assert number == rips.counts[LAID]
    assert list(strips) == list(range(len(strips)))
    assert all(sum(rips.entry[e + LONG] for e in strip) <= WIDTH for strip in strips.values())
    assert sum(max(rips.entry[e + DEEP] for e in strip) for strip in strips.values()) <= HEIGHT
    assert [n - rips.left[k] for k, (_, _, n, _) in enumerate(parts)] == laid
    # It ends only when nothing more fits: what is left is longer or deeper than the room above.
    room = HEIGHT - sum(max(rips.entry[e + DEEP] for e in strip) for strip in strips.values())
    assert all(rips.left[k] == 0 or h > room or w > WIDTH for k, (w, h, _, _) in enumerate(parts))


def test_what_was_taken_up_is_what_is_left():
    """A kind of which no part is left has no row in the table."""
    rips = rips_of([(3, 2, 1, 5), (4, 3, 0, 9), (2, 3, 2, 4)])
    kernel.take_up(rips)
    assert rips.counts[OPEN] == 2
    assert rips.counts[LEVELS] == 2
    assert rips.counts[WIDE] == WIDTH


@pytest.mark.skipif(not can_compile(), reason="the compiler is not installed here")
@settings(max_examples=40, deadline=None)
@given(kinds, st.integers(1, 3))
def test_both_forms_lay_the_same(parts, stacked):
    """The compiled kernel lays the same entries in the same strips as plain Python."""
    plain, fast = rips_of(parts, stacked), rips_of(parts, stacked, compiled().row)
    number = KERNELS.plain().functions["rip"](plain)
    assert number == compiled().functions["rip"](fast)
    assert list(plain.laid[: 2 * number]) == [int(n) for n in fast.laid[: 2 * number]]
