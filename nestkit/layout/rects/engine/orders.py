"""A search over the order in which parts are laid, until little enough is left out."""

from __future__ import annotations

from nestkit.layout.rects.engine.arrays import UNIT, Row
from nestkit.layout.rects.engine.carving import carve
from nestkit.layout.rects.engine.chance import draw
from nestkit.layout.rects.engine.skyline import lay_along
from nestkit.layout.rects.engine.strip import (
    ALL,
    CYCLE,
    LEFT_OUT,
    PIECES,
    SAW,
    TO_BEAT,
    TOO_MUCH,
    TRIALS,
    Strip,
)

SWAP, MOVE, FLIP = range(3)


def lay_all(strip: Strip, allowed: int) -> int:
    """Lay all parts in order; return what those without a place count, or TOO_MUCH if over ``allowed``."""
    return carve(strip, allowed) if strip.counts[SAW] else lay_along(strip, allowed)


def swap(order: Row, one: int, two: int) -> None:
    """Exchange two parts in the order."""
    kept = order[one]
    order[one] = order[two]
    order[two] = kept


def move_to(order: Row, one: int, two: int) -> None:
    """Move a part to another place in the order, those between by one."""
    kept = order[one]
    while one < two:
        order[one] = order[one + 1]
        one += 1
    while one > two:
        order[one] = order[one - 1]
        one -= 1
    order[two] = kept


def change(order: Row, how: int, one: int, two: int) -> None:
    """Change the order in one of its ways."""
    if how == SWAP:
        swap(order, one, two)
    elif how == MOVE:
        move_to(order, one, two)
    else:
        order[one] ^= 1


def undo(order: Row, how: int, one: int, two: int) -> None:
    """Undo a change of the order."""
    if how == MOVE:
        move_to(order, two, one)
    else:
        change(order, how, one, two)


def reorder(strip: Strip, trials: int) -> int:
    """Change the order so many times, or until less than TO_BEAT is left out; return what is."""
    counts, order = strip.counts, strip.order
    number, ways = counts[PIECES], 3 if counts[SAW] else 2
    whole = float(counts[ALL])
    for _ in range(trials):
        if counts[LEFT_OUT] < counts[TO_BEAT] or number < 2:
            break
        one, two = draw(counts, number), draw(counts, number)
        how = draw(counts, ways)
        heat = strip.heat[counts[TRIALS] % counts[CYCLE] * len(strip.heat) // counts[CYCLE]]
        luck = strip.luck[draw(counts, len(strip.luck))]
        counts[TRIALS] += 1
        if how != FLIP and order[one] == order[two]:
            continue
        change(order, how, one, two)
        # Areas are too large for a product of three whole numbers.
        slack = int(whole * heat * luck / (1000.0 * UNIT))
        cost = lay_all(strip, counts[LEFT_OUT] + slack)
        if cost < TOO_MUCH:
            counts[LEFT_OUT] = cost
        else:
            undo(order, how, one, two)
    return counts[LEFT_OUT]
