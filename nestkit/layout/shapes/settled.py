"""Boxes among true shapes keep the gap to the last digit, after their places were rounded."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from nestkit.layout.result import PlacedPart
from nestkit.layout.shapes.lying import lies_as_box
from nestkit.layout.verify import near_pairs
from nestkit.units import grid_mm, grid_up

MILLIONTHS = 10**6
FURTHEST = 8
"""Millionths of a millimetre by which a box may be moved; a larger lack is no matter of rounding."""
ROUNDS = 40

Box = tuple[int, int, int, int]


def settled(parts: Sequence[PlacedPart], gap: Fraction) -> tuple[PlacedPart, ...]:
    """Return parts with their boxes moved right or up by the millionths that rounding lacked.

    Held ones stay; beside them others are moved away. Where that does not do, they are returned as they come
    and are for the verification to refuse.
    """
    boxes = {i: box_of(p) for i, p in enumerate(parts) if lies_as_box(p)}
    start, least = dict(boxes), int(grid_mm(grid_up(gap)) * MILLIONTHS)
    for _ in range(ROUNDS):
        rows = [(box, str(i)) for i, box in boxes.items()]
        near = [(int(a), int(b)) for (_, a), (_, b) in near_pairs(rows, least)]
        if not near:
            break
        for a, b in near:
            later = _parted(boxes, a, b, [parts[i].held for i in (a, b)])
            if later is None or _off(boxes[later], start[later]) > FURTHEST:
                return tuple(parts)
    moved = list(parts)
    for i, box in boxes.items():
        if box != start[i]:
            moved[i] = replace(moved[i], x=Fraction(box[0], MILLIONTHS), y=Fraction(box[1], MILLIONTHS))
    return tuple(moved)


def box_of(part: PlacedPart) -> Box:
    """Return a part's box in millionths of a millimetre."""
    x, y = int(part.x * MILLIONTHS), int(part.y * MILLIONTHS)
    return x, y, x + int(part.width * MILLIONTHS), y + int(part.height * MILLIONTHS)


def _off(one: Box, other: Box) -> int:
    return max(abs(m - n) for m, n in zip(one, other, strict=True))


def _parted(boxes: dict[int, Box], a: int, b: int, held: list[bool]) -> int | None:
    """Move the right or upper one of two boxes by a millionth, or the one that is not held; return which."""
    if all(held):
        return None
    one, two = boxes[a], boxes[b]
    across = max(two[0] - one[2], one[0] - two[2])
    up = max(two[1] - one[3], one[1] - two[3])
    axis = 0 if across >= up else 1
    later, by = (a if one[axis] > two[axis] else b), 1
    if held[later == b]:
        later, by = a + b - later, -1
    x, y, right, top = boxes[later]
    boxes[later] = (x + by, y, right + by, top) if axis == 0 else (x, y + by, right, top + by)
    return later
