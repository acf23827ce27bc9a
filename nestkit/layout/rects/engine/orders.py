"""A search over the order in which parts are laid, until little enough is left out."""

from __future__ import annotations

from nestkit.layout.rects.engine.arrays import UNIT, Row
from nestkit.layout.rects.engine.carving import carve
from nestkit.layout.rects.engine.chance import draw
from nestkit.layout.rects.engine.skyline import lay_along
from nestkit.layout.rects.engine.strip import (
    ALL,
    CYCLE,
    FITTED,
    LEFT_OUT,
    PIECES,
    SAW,
    TO_BEAT,
    TOO_MUCH,
    TRIALS,
    TURNS,
    Strip,
)

SWAP, MOVE, FLIP, RULE = range(4)
"""Exchange two parts; move one; change how one lies or what is cut off along with it; let what fits best go
before what comes first, or no more."""
CUT_BIT, TURN_BIT = 1, 2


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
    elif how == FLIP:
        order[one] ^= two


def undo(order: Row, how: int, one: int, two: int) -> None:
    """Undo a change of the order."""
    if how == MOVE:
        move_to(order, two, one)
    else:
        change(order, how, one, two)


def draw_flip(strip: Strip) -> int:
    """Return which bits of a part's code are to change: its turn, what is cut off with it, or both."""
    counts = strip.counts
    if counts[SAW] and counts[TURNS]:
        return 1 + draw(counts, CUT_BIT + TURN_BIT)
    return CUT_BIT if counts[SAW] else TURN_BIT


def draw_change(strip: Strip) -> int:
    """Return a way to change the order."""
    counts = strip.counts
    lot = draw(counts, 32)
    if lot == 0:
        return RULE
    if lot < 11 and (counts[SAW] or counts[TURNS]):
        return FLIP
    return SWAP if lot & 1 else MOVE


def reorder(strip: Strip, trials: int) -> int:
    """Change the order so many times, or until less than TO_BEAT is left out; return what is."""
    counts, order = strip.counts, strip.order
    number = counts[PIECES]
    whole = float(counts[ALL])
    for _ in range(trials):
        if counts[LEFT_OUT] < counts[TO_BEAT] or number < 2:
            break
        one, two = draw(counts, number), draw(counts, number)
        how = draw_change(strip)
        heat = strip.heat[counts[TRIALS] % counts[CYCLE] * len(strip.heat) // counts[CYCLE]]
        luck = strip.luck[draw(counts, len(strip.luck))]
        counts[TRIALS] += 1
        if how == FLIP:
            two = draw_flip(strip)
        elif how == RULE:
            counts[FITTED] = 1 - counts[FITTED]
        elif order[one] == order[two]:
            continue
        change(order, how, one, two)
        # Areas are too large for a product of three whole numbers.
        slack = int(whole * heat * luck / (1000.0 * UNIT))
        cost = lay_all(strip, counts[LEFT_OUT] + slack)
        if cost < TOO_MUCH:
            counts[LEFT_OUT] = cost
        elif how == RULE:
            counts[FITTED] = 1 - counts[FITTED]
        else:
            undo(order, how, one, two)
    return counts[LEFT_OUT]
