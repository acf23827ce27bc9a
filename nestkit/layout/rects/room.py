"""The free room of a sheet as its maximal empty rectangles.

Everything is whole numbers. Parts and sheets are grown by the gap on their right and upper side, so
that parts may touch here. A rectangle is ``(left, bottom, right, top)``.
"""

from __future__ import annotations

Rectangle = tuple[int, int, int, int]
Size = tuple[int, int, int]
"""Width and height as it lies, and the turn in degrees."""
Place = tuple[int, int, int, int, int]
"""Left, bottom, width, height and turn."""

RULES = ("short side", "area", "low", "left")
"""What makes a place good: least rest on the tighter side, least rest of area, lowest, leftmost."""


def without(room: list[Rectangle], taken: Rectangle, narrow: int, flat: int) -> list[Rectangle]:
    """Return the maximal empty rectangles once ``taken`` is taken.

    Strips narrower than ``narrow`` or lower than ``flat`` hold no part and are dropped.
    """
    left, bottom, right, top = taken
    kept: list[Rectangle] = []
    strips: list[Rectangle] = []
    for r in room:
        x1, y1, x2, y2 = r
        if left >= x2 or right <= x1 or bottom >= y2 or top <= y1:
            kept.append(r)
            continue
        if left - x1 >= narrow:
            strips.append((x1, y1, left, y2))
        if x2 - right >= narrow:
            strips.append((right, y1, x2, y2))
        if bottom - y1 >= flat:
            strips.append((x1, y1, x2, bottom))
        if y2 - top >= flat:
            strips.append((x1, top, x2, y2))
    if not strips:
        return kept
    # An untouched rectangle was maximal before, so only a new strip can lie inside another.
    strips.sort(key=_area, reverse=True)
    for s in strips:
        x1, y1, x2, y2 = s
        for a, b, c, d in kept:
            if a <= x1 and b <= y1 and c >= x2 and d >= y2:
                break
        else:
            kept.append(s)
    return kept


def _area(r: Rectangle) -> int:
    return (r[2] - r[0]) * (r[3] - r[1])


def best_place(room: list[Rectangle], sizes: tuple[Size, ...], rule: int) -> tuple[int, Place] | None:
    """Return the best place for a part by a rule, with its score (less is better), or None."""
    best = -1
    found: Place | None = None
    for w, h, turn in sizes:
        for x1, y1, x2, y2 in room:
            dx = x2 - x1 - w
            dy = y2 - y1 - h
            if dx < 0 or dy < 0:
                continue
            if rule == 0:
                score = dx if dx < dy else dy
            elif rule == 1:
                score = dx * (y2 - y1) + dy * w
            elif rule == 2:
                score = y1 + h
            else:
                score = x1 + w
            if best < 0 or score < best:
                best = score
                found = (x1, y1, w, h, turn)
    return None if found is None else (best, found)


def places(room: list[Rectangle], sizes: tuple[Size, ...], rule: int) -> list[tuple[int, Place]]:
    """Return every place for a part with its score, best first."""
    found = []
    for w, h, turn in sizes:
        for x1, y1, x2, y2 in room:
            dx = x2 - x1 - w
            dy = y2 - y1 - h
            if dx < 0 or dy < 0:
                continue
            score = (dx if dx < dy else dy, dx * (y2 - y1) + dy * w, y1 + h, x1 + w)[rule]
            found.append((score, (x1, y1, w, h, turn)))
    found.sort()
    return found
