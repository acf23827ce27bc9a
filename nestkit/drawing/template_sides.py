"""What a large panel has before its template is used: edges to lay a page by; and what is to be marked."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from nestkit.drawing.punch import reach
from nestkit.drawing.template_facts import Facts
from nestkit.geometry.outline import Outline, arc_of
from nestkit.geometry.points import Point, Rect, around

_NEAR = 4.0
"""What of the lines around a corner is to be seen with it."""
_WIDE = 60.0
"""An arc of a larger radius is shown in pieces."""
_FINE_DEG = 5.0
_PIECE = 4
"""A piece is this many fine ones."""
_ALIKE = 1e-6

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Item:
    """Something that one page must show as a whole: its box, and the numbers of the holes in it."""

    box: Rect
    holes: frozenset[int] = frozenset()


def straight_sides(facts: Facts) -> dict[str, Span]:
    """Return the sides of the part's box that are straight edges by then, each from where to where.

    A rectangle is sawn before it is drilled, and under a saw so is the box of any part; a machine
    has cut the outline as it is. Of an outline that is cut last nothing is there.
    """
    box = facts.part_box
    places = {"left": (0, box.left), "right": (0, box.right), "lower": (1, box.bottom), "upper": (1, box.top)}
    if facts.sawn_first:
        spans = ((box.bottom, box.top), (box.left, box.right))
        return {name: spans[axis] for name, (axis, _) in places.items()}
    sides: dict[str, Span] = {}
    for a, b in facts.view.outline.edges() if facts.by_machine else ():
        for name, (axis, at) in places.items():
            low, high = sorted((a[1 - axis], b[1 - axis]))
            before = sides.get(name, (0.0, 0.0))
            on_side = not a.bulge and abs(a[axis] - at) < _ALIKE and abs(b[axis] - at) < _ALIKE
            if on_side and high - low > before[1] - before[0]:
                sides[name] = (low, high)
    return sides


def items_to_mark(facts: Facts, width: float, height: float) -> tuple[Item, ...]:
    """Return all that is marked through the template on windows of a size: holes and lines to cut by hand.

    A group of holes, and an opening, is one item where a window shows it as a whole. Of larger
    ones, and of the outline, corners and arcs stand for the straight lines between, which are drawn
    with a rule.
    """
    groups: dict[str, list[Item]] = {}
    for hole in facts.drilled:
        box = Rect(*hole.at, *hole.at).grown(reach(hole.dia))
        groups.setdefault(hole.group, []).append(Item(box, frozenset((hole.number,))))
    patterns = list(groups.values())
    if not facts.by_machine:
        patterns += [[Item(box) for box in _features(o.outline)] for o in facts.view.openings]
        box = facts.part_box
        plain = [Point(x, y) for x in (box.left, box.right) for y in (box.bottom, box.top)]
        patterns += [[Item(box)] for box in _features(facts.view.outline, plain)]
    return tuple(item for pattern in patterns for item in _together(pattern, width, height))


def _together(items: Sequence[Item], width: float, height: float) -> Iterable[Item]:
    """Return items as one where a window shows it."""
    box = around(item.box for item in items)
    if box.width > width or box.height > height:
        return items
    return (Item(box, frozenset[int]().union(*(item.holes for item in items))),)


def _features(outline: Outline, plain: Sequence[Point] = ()) -> Iterator[Rect]:
    """Yield boxes around corners, without the ``plain`` ones, and around arcs, wide ones in pieces."""
    for before, here in zip(outline.vertices[-1:] + outline.vertices[:-1], outline.vertices, strict=True):
        known = any(here.point.to(corner) < _ALIKE for corner in plain)
        if not (known or before.bulge or here.bulge):
            yield Rect(*here.point, *here.point).grown(_NEAR)
    for a, b in outline.edges():
        if a.bulge:
            arc = arc_of(a.point, b.point, a.bulge)
            pieces = math.ceil(abs(arc.sweep_deg) / _FINE_DEG - 1e-9)
            places = [
                Point(arc.radius, 0.0).turned(arc.start_deg + arc.sweep_deg * i / pieces).moved(*arc.centre)
                for i in range(pieces + 1)
            ]
            step = _PIECE if arc.radius > _WIDE else pieces
            yield from (_box(places[i : i + step + 1]) for i in range(0, pieces, step))


def _box(places: Sequence[Point]) -> Rect:
    """The box of places on an arc; between two it bulges by 0.1 % of its radius: by less than is added."""
    return around(Rect(*p, *p) for p in places).grown(1.0)
