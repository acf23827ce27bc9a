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

    Where that does not do, they are returned as they come and are for the verification to refuse.
    """
    boxes = {i: box_of(p) for i, p in enumerate(parts) if lies_as_box(p)}
    start, least = dict(boxes), int(grid_mm(grid_up(gap)) * MILLIONTHS)
    for _ in range(ROUNDS):
        rows = [(box, str(i)) for i, box in boxes.items()]
        near = [(int(a), int(b)) for (_, a), (_, b) in near_pairs(rows, least)]
        if not near:
            break
        for a, b in near:
            later = _parted(boxes, a, b)
            if any(abs(m - n) > FURTHEST for m, n in zip(boxes[later], start[later], strict=True)):
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


def _parted(boxes: dict[int, Box], a: int, b: int) -> int:
    """Move the right or upper one of two boxes by a millionth; return which it is."""
    one, two = boxes[a], boxes[b]
    across = max(two[0] - one[2], one[0] - two[2])
    up = max(two[1] - one[3], one[1] - two[3])
    axis = 0 if across >= up else 1
    later = a if one[axis] > two[axis] else b
    x, y, right, top = boxes[later]
    boxes[later] = (x + 1, y, right + 1, top) if axis == 0 else (x, y + 1, right, top + 1)
    return later
