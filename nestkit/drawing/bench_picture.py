"""The picture on a bench card: the part to fit, with its sizes, its datum corner and its hole numbers."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

from nestkit.drawing.bench_room import Taken
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Drawing, Mark, Path, Text, line, outlined
from nestkit.drawing.type import ASCENT, DESCENT, text_width
from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point, Rect
from nestkit.parts.holes import Hole
from nestkit.parts.panel import Panel
from nestkit.units import Unit, with_unit

SIZE_TYPE = 4.4
NUMBER_TYPES = (4.0, 3.2, 2.6)
"""Hole numbers: the largest type in which all of them find room, else the smallest."""
WORD_TYPE = 3.6

_LEFT = 3.0
_BELOW = 6.6
ABOVE = 9.6
"""What the dimension above a part takes."""
_DIMENSION = 3.2
"""The dimension line lies this far from the part, its text beyond it."""
_ARM = 1.3
_LEAST_RADIUS = 0.35
_EVERY = 5
"""Of a dense group the holes whose numbers are multiples of this have theirs, where there is room."""
_TICK = 1.0


@dataclass(frozen=True, slots=True)
class Picture:
    """A part's picture; ``numbered`` says whether every hole has its number."""

    drawing: Drawing
    numbered: bool


def part_picture(
    view: Panel, cut: frozenset[int], unit: Unit, width: float, most: float, later: Sequence[Hole] = ()
) -> Picture:
    """Return a panel as large as fits ``width`` and at most ``most`` mm of height, in the middle.

    ``view`` is mirrored where the opposite hand is meant. Holes to drill have a cross, those that a
    machine has ``cut`` have none; those to drill ``later`` are dashed. The drawing is as high as it needs to
    be.
    """
    up_text = with_unit(view.height, unit)
    beside, turned = _room_beside(view, up_text, width, most)
    scale = _scale(view, width - _LEFT - beside, most)
    wide, high = float(view.width) * scale, float(view.height) * scale
    left = _LEFT + max(0.0, (width - _LEFT - wide - beside) / 2)
    part = Rect(left, _BELOW, left + wide, _BELOW + high)
    page = Rect(0.0, 0.0, width, part.top + ABOVE)

    def placed(p: Point) -> Point:
        return Point(part.left + p.x * scale, part.bottom + p.y * scale)

    edges = [_moved(view.outline, placed), *(_moved(o.outline, placed) for o in view.openings)]
    layers = [Layer.PART_EDGE] + [Layer.OPENING] * len(view.openings)
    marks: list[Mark] = [outlined(edge, layer) for edge, layer in zip(edges, layers, strict=True)]
    extras = [
        *_datum(part),
        *dimension_above(part, with_unit(view.width, unit), page),
        *_up(part, up_text, turned),
    ]
    layers_of = [(h, Layer.DRILLED_HOLE) for h in view.holes] + [(h, Layer.LATER) for h in later]
    dots = [
        Dot(h.number, h.group, placed(h.at), max(_LEAST_RADIUS, h.dia / 2 * scale), layer=layer)
        for h, layer in sorted(layers_of, key=lambda pair: pair[0].number)
    ]
    marks += extras
    for dot in dots:
        marks += dot.marks(cross=dot.number not in cut)
    numbers, all_there = numbers_beside(dots, edges, extras, page)
    return Picture(Drawing(width, page.top, (*marks, *numbers)), all_there)


def _scale(view: Panel, width: float, most: float) -> float:
    return min(width / float(view.width), max(4.0, most - _BELOW - ABOVE) / float(view.height))


def _room_beside(view: Panel, text: str, width: float, most: float) -> tuple[float, bool]:
    """How much the height's dimension takes at the right, and whether its text is turned to save room."""
    turned = _DIMENSION + 1.0 + SIZE_TYPE
    if float(view.height) * _scale(view, width - _LEFT - turned, most) > text_width(text, SIZE_TYPE) + 1.0:
        return turned, True
    return _DIMENSION + 1.5 + text_width(text, SIZE_TYPE), False


def _moved(outline: Outline, placed: Callable[[Point], Point]) -> Outline:
    return Outline(tuple(Vertex(*placed(v.point), v.bulge) for v in outline.vertices))


def _datum(part: Rect) -> list[Mark]:
    """The bracket outside the datum corner and its word below; on a small part the legs are short."""
    x, y = part.left - 1.2, part.bottom - 1.2
    legs = [min(13.0, max(3.0, 0.7 * side)) for side in (part.height, part.width)]
    points = (Point(x, y + legs[0]), Point(x, y), Point(x + legs[1], y))
    bracket = Path(tuple(Vertex(*p) for p in points), closed=False, layer=Layer.HEAVY)
    word = Text(Point(x, y - 0.9 - ASCENT * WORD_TYPE), "DATUM", WORD_TYPE, bold=True)
    return [bracket, word]


def dimension_above(part: Rect, text: str, page: Rect) -> list[Mark]:
    """Return a part's width as a dimension line above it."""
    y = part.top + _DIMENSION
    half = text_width(text, SIZE_TYPE) / 2
    # A text wider than the part stays on the page.
    middle = min(max(part.centre.x, half), page.right - half)
    return [
        line(Point(part.left, part.top + 0.8), Point(part.left, y + 1.2), Layer.FINE),
        line(Point(part.right, part.top + 0.8), Point(part.right, y + 1.2), Layer.FINE),
        line(Point(part.left, y), Point(part.right, y), Layer.FINE),
        *(_slash(Point(x, y)) for x in (part.left, part.right)),
        Text(Point(middle, y + 1.4 + DESCENT * SIZE_TYPE), text, SIZE_TYPE, anchor="middle"),
    ]


def _up(part: Rect, text: str, turned: bool) -> list[Mark]:
    """The height as a dimension line at the right of the part."""
    x = part.right + _DIMENSION
    at = Point(x + 0.6 + ASCENT * SIZE_TYPE, part.centre.y) if turned else None
    middle = Point(x + 1.5, part.centre.y - 0.35 * SIZE_TYPE)
    return [
        line(Point(part.right + 0.8, part.bottom), Point(x + 1.2, part.bottom), Layer.FINE),
        line(Point(part.right + 0.8, part.top), Point(x + 1.2, part.top), Layer.FINE),
        line(Point(x, part.bottom), Point(x, part.top), Layer.FINE),
        *(_slash(Point(x, y)) for y in (part.bottom, part.top)),
        Text(at, text, SIZE_TYPE, anchor="middle", turn_deg=90.0) if at else Text(middle, text, SIZE_TYPE),
    ]


def _slash(at: Point) -> Mark:
    return line(at.moved(-_TICK, -_TICK), at.moved(_TICK, _TICK), Layer.OPENING)


@dataclass(frozen=True, slots=True)
class Dot:
    """A hole as it stands in the picture; on the ``layer`` of later ones it has no cross."""

    number: int
    group: str
    at: Point
    radius: float
    least_arm: float = _ARM
    layer: Layer = Layer.DRILLED_HOLE

    @property
    def arm(self) -> float:
        """How far the cross of a hole to drill reaches: it stays in a large one, and out of a small one."""
        return max(self.radius, self.least_arm)

    def marks(self, *, cross: bool) -> Iterator[Mark]:
        """Yield the hole, with a cross where it is to be drilled."""
        yield Circle(self.at, self.radius, self.layer)
        if cross and self.layer is not Layer.LATER:
            yield line(self.at.moved(-self.arm, 0), self.at.moved(self.arm, 0), Layer.FINE)
            yield line(self.at.moved(0, -self.arm), self.at.moved(0, self.arm), Layer.FINE)


def _box(a: Vertex, b: Vertex) -> Rect:
    return Rect(min(a.x, b.x), min(a.y, b.y), max(a.x, b.x), max(a.y, b.y))


def numbers_beside(
    dots: list[Dot], edges: Iterable[Outline], extras: Iterable[Mark], page: Rect
) -> tuple[list[Mark], bool]:
    """Return the numbers of holes beside them, on no edge and no other mark; and whether all are there.

    Of a group that has no room for all of them its first, its last, and every fifth: each of the latter if
    it finds room beside its hole.
    """

    def start() -> Taken:
        taken = Taken(page)
        for edge in edges:
            taken.take_outline(edge)
        for mark in extras:
            # A bracket's box would take the corner that it goes around: its legs alone are taken.
            vertices = mark.vertices if isinstance(mark, Path) else ()
            for a, b in pairwise(vertices):
                taken.take(_box(a, b).grown(0.5))
            if not vertices:
                taken.take(mark.bounds.grown(0.3))
        for dot in dots:
            taken.take_hole(dot.at, dot.radius, dot.arm)
        return taken

    for size in NUMBER_TYPES:
        taken = start()
        placed = _placed(taken, dots, size)
        if placed is not None:
            return [*placed], True
    taken, some = start(), list[Mark]()
    between: list[Dot] = []
    for _, group in groupby(dots, key=lambda dot: dot.group):
        run = list(group)
        found = _smaller(taken, run)
        if not found:
            ends = {run[0].number: run[0], run[-1].number: run[-1]}.values()
            found = [mark for dot in ends for mark in _smaller(taken, [dot])]
            between += [dot for dot in run[1:-1] if dot.number % _EVERY == 0]
        some += found
    for dot in between:
        some += _smaller(taken, [dot])
    return some, False


def _smaller(taken: Taken, dots: Sequence[Dot]) -> list[Text]:
    """Return numbers in one of the smaller types, or none at all."""
    return next(filter(None, (_placed(taken, dots, size) for size in NUMBER_TYPES[1:])), [])


def _placed(taken: Taken, dots: Iterable[Dot], size: float) -> list[Text] | None:
    """Return a number beside each hole, their room taken; None, and no room, where one finds none."""
    texts: list[Text] = []
    boxes: list[Rect] = []
    for dot in dots:
        text = str(dot.number)
        box = taken.beside(dot.at, dot.arm, text_width(text, size, bold=True), size)
        if box is None:
            for other in boxes:
                taken.give_back(other)
            return None
        boxes.append(box)
        texts.append(Text(Point(box.left, box.bottom + DESCENT * size), text, size, bold=True))
    return texts
