"""Parts laid along the skyline, for cuts along any path: the lowest gap is filled first.

The upper edge of what lies there is a row of level steps. At each turn its lowest step is taken, the
leftmost of several. Of the parts in order that fits which leaves least behind is laid there: as wide as
the gap is best, then as high as a wall beside it. Where none fits, the gap is filled up to its lower wall
and lost.
"""

from __future__ import annotations

from nestkit.layout.rects.engine.arrays import Row
from nestkit.layout.rects.engine.strip import (
    ACROSS,
    FITTED,
    HIGH,
    LIMIT,
    SIZE_FACTS,
    SPARE,
    TOO_MUCH,
    WAYS,
    WIDE,
    Strip,
    all_wait,
    put,
    worth_waiting,
)


def lowest(level: Row, steps: int) -> int:
    """Return the lowest step of a skyline, the leftmost of several."""
    at = 0
    for i in range(1, steps):
        if level[i] < level[at]:
            at = i
    return at


def join(strip: Strip, steps: int) -> int:
    """Make neighbours of equal height one step; return how many steps there are."""
    step, level = strip.step, strip.level
    kept = 0
    for i in range(1, steps):
        if level[i] != level[kept]:
            kept += 1
            step[kept] = step[i]
            level[kept] = level[i]
    step[kept + 1] = step[steps]
    return kept + 1


def choose(strip: Strip, wide: int, high: int, left: int, right: int) -> int:
    """Return the best part for a gap, coded, or -1.

    The gap is ``wide`` and ``high``; ``left`` and ``right`` are the heights of the walls beside it. The code:
    bit 0 for the right end of the gap, bit 1 for the other way to lie, above them the place before the part.
    """
    size, order, after = strip.size, strip.order, strip.after
    best, found = -1, -1
    fitted = strip.counts[FITTED]
    before = 0
    tried = -1
    while True:
        at = after[before]
        if at == 0:
            break
        kind = order[at - 1] >> 1
        if kind != tried:
            tried = kind
            facts = kind * SIZE_FACTS
            for way in range(size[facts + WAYS]):
                w = size[facts + WIDE + 2 * way]
                h = size[facts + HIGH + 2 * way]
                if w > wide or h > high:
                    continue
                at_right = 0
                if w == wide:
                    score = 4 if h in (left, right) else 3
                elif h == left:
                    score = 2
                elif h == right:
                    score = 1
                    at_right = 1
                else:
                    score = 0
                    at_right = 1 if right > left else 0
                if score > best:
                    best = score
                    found = before * 4 + way * 2 + at_right
                    if score == 4 or not fitted:
                        return found
        before = at
    return found


def lay_along(strip: Strip, allowed: int) -> int:
    """Lay all parts in order; return what those without a place count, or TOO_MUCH if over ``allowed``."""
    counts, step, level = strip.counts, strip.step, strip.level
    limit = counts[LIMIT]
    all_wait(strip)
    step[0] = 0
    step[1] = counts[ACROSS]
    level[0] = 0
    steps = 1
    lost = 0
    may_lose = counts[SPARE] + allowed
    while strip.after[0] != 0:
        at = lowest(level, steps)
        floor = level[at]
        if floor >= limit:
            break
        x = step[at]
        wide = step[at + 1] - x
        left = level[at - 1] - floor if at > 0 else limit - floor
        right = level[at + 1] - floor if at + 1 < steps else limit - floor
        found = choose(strip, wide, limit - floor, left, right)
        if found < 0:
            up = min(left, right)
            lost += wide * up
            if lost > may_lose:
                return TOO_MUCH
            level[at] = floor + up
            steps = join(strip, steps)
            continue
        before = found >> 2
        piece = strip.after[before]
        strip.after[before] = strip.after[piece]
        facts = (strip.order[piece - 1] >> 1) * SIZE_FACTS + WIDE + (found & 2)
        w, h = strip.size[facts], strip.size[facts + 1]
        if found & 1:
            x += wide - w
        put(strip, piece - 1, x, floor, w, h)
        steps = raise_step(strip, steps, at, x, w, floor + h)
    left_out = worth_waiting(strip)
    return left_out if left_out <= allowed else TOO_MUCH


def raise_step(strip: Strip, steps: int, at: int, x: int, w: int, top: int) -> int:
    """Raise a part of a step, at one of its ends, to ``top``; return how many steps there are."""
    step, level = strip.step, strip.level
    if w == step[at + 1] - step[at]:
        level[at] = top
        return join(strip, steps)
    for i in range(steps, at, -1):
        step[i + 1] = step[i]
        level[i] = level[i - 1]
    if x == step[at]:
        step[at + 1] = x + w
        level[at] = top
    else:
        step[at + 1] = x
        level[at + 1] = top
    return join(strip, steps + 1)
