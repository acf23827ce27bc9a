"""Which stretches of a long tube are printed where pages are laid by themselves, and from which lines on.

Frame as in :mod:`nestkit.drawing.tube_stack`. Millimetres.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from nestkit.drawing.punch import reach
from nestkit.drawing.tube_piece import Punch, cut_at
from nestkit.drawing.tube_stack import LEFT, Stack
from nestkit.geometry.points import Rect
from nestkit.units import MM_PER_INCH, Unit, with_unit

_STEPS: dict[Unit, Fraction] = {"in": MM_PER_INCH, "mm": Fraction(10)}
"""Lines to measure lie at multiples of this from end 0."""
_CLEAR = 3.0
"""A line keeps this far from what is marked behind it."""
_BESIDE_END = 40.0
"""So much of a tube is shown before end 1, to lay its paper by."""
_BEHIND = 15.0
"""What is shown behind the last mark, for its label."""
_ALIKE = 1e-6

Key = tuple[int, Punch]
"""Which piece of a stack, and a place to punch on it."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """What a page shows: pieces from a ``line`` on, that far from end 0 in mm; 0: from end 0 itself."""

    stack: Stack
    window: Rect
    line: Fraction


@dataclass(frozen=True, slots=True)
class _Item:
    """What one page must show as a whole: from where to where, and the places to punch in it."""

    low: float
    high: float
    punches: tuple[Key, ...] = ()
    end: bool = False


def stretches(stack: Stack, wide: float, unit: Unit) -> tuple[Stretch, ...] | None:
    """Return the fewest stretches, ``wide`` mm at most, that show both ends and all that is marked.

    Each place to punch is on one of them; holes of a group stay together where a page can hold them. None
    where something is too large for a page, or a line would lie on a slanting end.
    """
    step = float(_STEPS[unit])
    items = sorted(_items(stack, wide - LEFT - _CLEAR - step), key=lambda item: (item.low, item.high))
    near = max(p.x for s in stack.standing for p in s.piece.near)
    found: list[tuple[Fraction, list[_Item]]] = []
    while items:
        count = math.floor((items[0].low - _CLEAR) / step) if found else 0
        line = count * _STEPS[unit]
        right = (float(line) - LEFT if found else stack.area.left) + wide
        here = [item for item in items if item.high <= right + _ALIKE]
        if items[0] not in here or (found and line <= near):
            return None
        found.append((line, here))
        items = [item for item in items if item.high > right + _ALIKE]
    lines = [float(line) for line, _ in found[1:]] + [math.inf]
    return tuple(
        _stretch(stack, line, here, wide, after, unit)
        for (line, here), after in zip(found, lines, strict=True)
    )


def _items(stack: Stack, most: float) -> Iterator[_Item]:
    """Yield both ends, and the places to punch: of a group as one where that is at most ``most`` long."""
    yield _Item(stack.area.left, max(p.x for s in stack.standing for p in s.piece.near) + _CLEAR, end=True)
    far = min(p.x for s in stack.standing for p in s.piece.far)
    yield _Item(max(far - _BESIDE_END, 0.0), stack.area.right, end=True)
    groups: dict[str, list[_Item]] = {}
    at_one_place: dict[float, list[_Item]] = {}
    for i, standing in enumerate(stack.standing):
        for punch in standing.piece.punches:
            half = reach(punch.mark.drill.dia)
            item = _Item(punch.at.x - half, punch.at.x + half, ((i, punch),))
            groups.setdefault(punch.mark.group, []).append(item)
    for group in groups.values():
        whole = _one(group)
        if whole.high - whole.low <= most:
            yield whole
            continue
        # Both walls of a hole stay together.
        for item in group:
            at_one_place.setdefault(round(item.low + item.high, 6), []).append(item)
    yield from map(_one, at_one_place.values())


def _one(items: Sequence[_Item]) -> _Item:
    low, high = min(item.low for item in items), max(item.high for item in items)
    return _Item(low, high, tuple(key for item in items for key in item.punches))


def _stretch(
    stack: Stack, line: Fraction, items: Sequence[_Item], wide: float, after: float, unit: Unit
) -> Stretch:
    """Return a stretch up to the line ``after`` it, or to the page's end; its pieces begin at its line.

    Between the ends only the pieces stand there that are marked.
    """
    left = float(line) - LEFT if line else stack.area.left
    last = max(item.high for item in items)
    right = min(left + wide, max(last + _BEHIND, after), stack.area.right)
    has_end = any(item.end for item in items)
    keys = {key for item in items for key in item.punches}
    standing = []
    for i, one in enumerate(stack.standing):
        punches = tuple(p for p in one.piece.punches if (i, p) in keys)
        if punches or has_end:
            piece = replace(one.piece, punches=punches)
            piece = cut_at(piece, float(line), with_unit(line, unit)) if line else piece
            standing.append(replace(one, piece=piece))
    window = Rect(left, stack.area.bottom, right, stack.area.top)
    return Stretch(Stack(tuple(standing), stack.area), window, line)
