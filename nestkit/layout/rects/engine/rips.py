"""A sheet ripped into strips, each filled with what is worth most: knapsacks over whole numbers of cells.

One table serves the strips of every depth. Parts are taken up from the flattest to the deepest, so that after
each its row tells what a strip just deep enough for it can be worth at each length (P. C. Gilmore and R. E.
Gomory, "Multistage cutting stock problems of two and more dimensions", Operations Research 13, 1965, from
memory; here with no more copies than there are). The best stack of strips says which are worth most for
their depth; that one is laid, and the rest is planned anew with the parts that are left.
"""

from __future__ import annotations

from typing import NamedTuple

from nestkit.layout.rects.engine.arrays import NEW_ROW, Row

ENTRY = 4
KIND, LONG, DEEP, COPIES = range(ENTRY)
"""A way to lie in a strip, the flattest first: a kind, the length and depth it takes in cells, and how many
copies lie one above the other."""
ENTRIES, WIDE, HIGH, OPEN, LEVELS, LAID, STRIPS, WORK = range(8)
FACTS = 8
"""In ``counts``: entries, the sheet's length and depth in cells, entries that can still be laid, how many
depths these have; entries laid, strips; values of tables worked out so far."""


class Rips(NamedTuple):
    """A sheet to be ripped, and rows to work in.

    ``value`` is what a part of each kind is worth, ``left`` how many there are. ``open`` are the places of
    the entries that can still be laid, ``level`` the last of these of each depth. ``table`` has a row of
    WIDE + 1 values before the first of them and after each. ``stack`` and ``chosen`` are the best stack of
    strips for each depth and its topmost strip, ``strip`` the strips of one stack. ``laid`` are the numbers
    of the entries laid, each with its strip.
    """

    entry: Row
    value: Row
    left: Row
    open: Row
    level: Row
    table: Row
    stack: Row
    chosen: Row
    strip: Row
    laid: Row
    counts: Row


def new_rips(
    row: NEW_ROW,
    entries: list[tuple[int, int, int, int]],
    kinds: int,
    pieces: int,
    wide: int,
    high: int,
    table: Row | None = None,
) -> Rips:
    """Return a sheet of ``wide`` by ``high`` cells for entries in order of their depth.

    ``table`` may be one that other sheets use, too, if it is large enough: each fills it anew.
    """
    rips = Rips(
        entry=row(max(1, len(entries)) * ENTRY),
        value=row(kinds),
        left=row(kinds),
        open=row(len(entries) + 1),
        level=row(len(entries) + 1),
        table=row((len(entries) + 1) * (wide + 1)) if table is None else table,
        stack=row(high + 1),
        chosen=row(high + 1),
        strip=row(high + 1),
        laid=row(2 * pieces + 2),
        counts=row(FACTS),
    )
    for i, entry in enumerate(entries):
        for fact, n in enumerate(entry):
            rips.entry[i * ENTRY + fact] = n
    rips.counts[ENTRIES], rips.counts[WIDE], rips.counts[HIGH] = len(entries), wide, high
    return rips


def take_up(rips: Rips) -> None:
    """Find the entries that can still be laid, and the last of each depth."""
    entry, counts = rips.entry, rips.counts
    number = levels = 0
    for e in range(0, counts[ENTRIES] * ENTRY, ENTRY):
        if rips.left[entry[e]] < entry[e + COPIES]:
            continue
        if number > 0 and entry[rips.open[number - 1] + DEEP] < entry[e + DEEP]:
            rips.level[levels] = number - 1
            levels += 1
        rips.open[number] = e
        number += 1
    if number > 0:
        rips.level[levels] = number - 1
        levels += 1
    counts[OPEN], counts[LEVELS] = number, levels


def fill_table(rips: Rips) -> None:
    """Find what strips of every depth and length can be worth, with the parts that are left."""
    entry, table, wide = rips.entry, rips.table, rips.counts[WIDE]
    row = wide + 1
    for x in range(row):
        table[x] = 0
    for j in range(rips.counts[OPEN]):
        before, now, e = j * row, (j + 1) * row, rips.open[j]
        rips.counts[WORK] += row
        for x in range(row):
            table[now + x] = table[before + x]
        kind, long, copies = entry[e], entry[e + LONG], entry[e + COPIES]
        gain = taken = 0
        for _ in range(rips.left[kind] // copies):
            gain += rips.value[kind] * copies
            taken += long
            if taken > wide:
                break
            rips.counts[WORK] += row
            for x in range(taken, row):
                worth = table[before + x - taken] + gain
                if worth > table[now + x]:
                    table[now + x] = worth


def stack_up(rips: Rips, high: int) -> int:
    """Find the strips of the best stack so high, as the places of their last entries; return how many."""
    entry, stack, chosen = rips.entry, rips.stack, rips.chosen
    row = rips.counts[WIDE] + 1
    stack[0] = 0
    for y in range(1, high + 1):
        stack[y] = stack[y - 1]
        chosen[y] = -1
        for i in range(rips.counts[LEVELS]):
            j = rips.level[i]
            deep = entry[rips.open[j] + DEEP]
            if deep > y:
                break
            worth = stack[y - deep] + rips.table[(j + 2) * row - 1]
            if worth > stack[y]:
                stack[y] = worth
                chosen[y] = j
    number = 0
    y = high
    while y > 0:
        j = chosen[y]
        if j < 0:
            y -= 1
        else:
            rips.strip[number] = j
            number += 1
            y -= entry[rips.open[j] + DEEP]
    return number


def densest(rips: Rips, strips: int) -> int:
    """Take the strip worth most for its depth out of the stack; return the place of its last entry."""
    row = rips.counts[WIDE] + 1
    best, most, depth = 0, -1, 1
    for i in range(strips):
        deep, worth = rips.entry[rips.open[rips.strip[i]] + DEEP], rips.table[(rips.strip[i] + 2) * row - 1]
        if worth * depth > most * deep:
            best, most, depth = i, worth, deep
    j = rips.strip[best]
    rips.strip[best] = rips.strip[strips - 1]
    return j


def lay_strip(rips: Rips, last: int, whole: bool) -> bool:
    """Lay the best strip of the entries up to ``last``; say whether it is laid.

    It is not where it is to be ``whole`` and not all its parts are left.
    """
    entry, table, counts = rips.entry, rips.table, rips.counts
    row = counts[WIDE] + 1
    x, j, first = counts[WIDE], last, counts[LAID]
    while j >= 0 and x > 0:
        before, now = j * row, (j + 1) * row
        if table[now + x] == table[before + x]:
            j -= 1
            continue
        e = rips.open[j]
        kind, long, copies = entry[e], entry[e + LONG], entry[e + COPIES]
        taken, gain = long, rips.value[kind] * copies
        while table[before + x - taken] + gain != table[now + x]:
            taken += long
            gain += rips.value[kind] * copies
        for _ in range(taken // long):
            # A kind that lies in both its ways was counted once for each.
            if rips.left[kind] >= copies:
                rips.left[kind] -= copies
                rips.laid[2 * counts[LAID]] = e // ENTRY
                rips.laid[2 * counts[LAID] + 1] = counts[STRIPS]
                counts[LAID] += 1
            elif whole:
                take_back(rips, first)
                return False
        x -= taken
        j -= 1
    counts[STRIPS] += 1
    return True


def take_back(rips: Rips, first: int) -> None:
    """Take what was laid from the entry ``first`` on off again."""
    counts = rips.counts
    while counts[LAID] > first:
        counts[LAID] -= 1
        e = rips.laid[2 * counts[LAID]] * ENTRY
        rips.left[rips.entry[e]] += rips.entry[e + COPIES]


def rip(rips: Rips) -> int:
    """Fill the sheet with strips; return how many entries are laid."""
    counts = rips.counts
    counts[LAID] = counts[STRIPS] = 0
    high = counts[HIGH]
    while True:
        take_up(rips)
        fill_table(rips)
        strips = stack_up(rips, high)
        if strips == 0:
            return counts[LAID]
        # The stack was planned as if there were as many parts for each strip: some have to be planned anew.
        for i in range(strips):
            last = densest(rips, strips - i)
            if lay_strip(rips, last, i > 0):
                high -= rips.entry[rips.open[last] + DEEP]
