"""The picture of a piece at the saw: what guides it, where it is cut, what that leaves."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from nestkit.drawing.hatch import hatch
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Fill, Mark, Text, line, outlined
from nestkit.drawing.type import fitted, text_width
from nestkit.estimate.saw_repeats import Repeat, beyond
from nestkit.estimate.saw_steps import Gained, SawStep
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import box_outline, rectangle

SIGNS = "Heavy frame: on the saw. Grey: done. Wide hatch: keep. Close hatch: waste."
"""What the pictures mean, in words."""

BENCH = Rect(0.0, 0.0, 50.0, 40.0)
"""Room in mm for the picture."""

_AROUND = 8.5
"""Room around the piece at the saw, for fence and size."""
_NARROWEST, _LOWEST = 10.0, 7.0
"""A piece is drawn at least so wide and high, so that its name can be read."""
_DONE = 0.82
_KEEP, _WASTE = 2.4, 0.9
"""Between the lines of a hatch."""
_FENCE, _STOP = 1.4, 3.0
"""How thick a fence is drawn, and how large a stop block."""


@dataclass(frozen=True, slots=True)
class _Cell:
    """What is drawn of a piece at the saw as one box: the piece it stands for, its text, its true extent."""

    piece: Gained
    text: str
    extent: Fraction


def piece_at_saw(repeat: Repeat, size: str) -> Drawing:
    """Return the first piece with its cuts and what guides it; its proportions are only about right.

    ``size`` is written on the way from the fence, stop or edge to the first cut. Of more than two equal
    strips one is drawn, and one cell for all others.
    """
    step = repeat.first
    cells = _cells(repeat)
    piece = _drawn_piece(step, len(cells))
    boxes = _drawn_cells(step, cells, piece)
    marks: list[Mark] = []
    for cell, box in zip(cells, boxes, strict=True):
        marks += [*inside(cell.piece, box), frame(box, Layer.PART_EDGE), *_name(cell, box)]
    marks.append(frame(piece, Layer.HEAVY))
    over = 2.5
    for at in _cuts_at(repeat, piece, boxes):
        if step.axis == 0:
            ends = Point(at, piece.bottom - over), Point(at, piece.top + over)
        else:
            ends = Point(piece.left - over, at), Point(piece.right + over, at)
        marks.append(line(*ends, Layer.SAW_CUT))
    marks += _guide(step, piece)
    marks += _way(step, piece, _cuts_at(repeat, piece, boxes)[0], size)
    return Drawing(BENCH.width, BENCH.height, tuple(marks))


def _cells(repeat: Repeat) -> list[_Cell]:
    """Return what is drawn of what the cuts leave, from the left or lower side on."""
    called = {piece.name: lot.name for lot in repeat.lots for piece in lot.pieces}
    row = repeat.steps[: repeat.times]
    cells: list[_Cell] = []
    for number, step in enumerate(row):
        rest = beyond(step)
        near = next((g for g in step.gained if g is not rest), None)
        if near is not None and number == 1 and repeat.times > 2:
            cells.append(_Cell(near, "…", step.setting * (repeat.times - 1)))
        elif near is not None and number < 2:
            cells.append(_Cell(near, called[near.name], near.size[step.axis]))
        if rest is not None and step is row[-1]:
            cells.append(_Cell(rest, called[rest.name], rest.size[step.axis]))
    return cells if row[0].edge in ("left", "lower") else cells[::-1]


def frame(box: Rect, layer: Layer) -> Mark:
    """Return the edge of a box."""
    return outlined(box_outline(box), layer)


def inside(piece: Gained, box: Rect) -> Iterable[Mark]:
    """What a piece is filled with: grey where it is a part, a hatch where it holds none."""
    if piece.done is not None:
        return (Fill(box_outline(box), _DONE),)
    if piece.clear is not None:
        left, bottom, right, top = box
        ways = ((left, bottom), (right, top)), ((left, top), (right, bottom))
        return tuple(line(Point(*a), Point(*b), Layer.FINE) for a, b in ways)
    if not piece.parts:
        return hatch(box, _KEEP if piece.keep else _WASTE)
    return ()


def _name(cell: _Cell, box: Rect) -> Iterable[Mark]:
    """The name of a piece in its middle, on white where it is hatched."""
    # On a hatch it is smaller, so that some of the hatch is seen around it.
    parts = bool(cell.piece.parts)
    most = min(4.6, box.height - 0.8) if parts else min(3.4, 0.55 * box.height)
    text, size = fitted(cell.text, box.width - (1.2 if parts else 3.0), most, least=2.0, bold=True)
    name = Text(Point(box.centre.x, box.centre.y - 0.36 * size), text, size, anchor="middle", bold=True)
    if parts:
        return (name,)
    white = name.bounds.grown(0.3)
    return (Fill(box_outline(white)), name)


def _drawn_piece(step: SawStep, cells: int) -> Rect:
    """Return the piece in the middle of its room, large enough for the names in its cells."""
    left, bottom, right, top = (float(side) for side in step.piece)
    most = BENCH.width - 2 * _AROUND, BENCH.height - 2 * _AROUND
    scale = min(most[0] / (right - left), most[1] / (top - bottom))
    least = [_NARROWEST, _LOWEST]
    least[step.axis] *= max(2, cells)
    width, height = max((right - left) * scale, least[0]), max((top - bottom) * scale, least[1])
    x, y = BENCH.centre.x - width / 2, BENCH.centre.y - height / 2
    return Rect(x, y, x + width, y + height)


def _drawn_cells(step: SawStep, cells: Sequence[_Cell], piece: Rect) -> list[Rect]:
    """Return what the cuts leave of the drawn piece, each wide or high enough for its name."""
    axis = step.axis
    whole = piece[axis + 2] - piece[axis]
    least = (_NARROWEST, _LOWEST)[axis]
    total = sum(cell.extent for cell in cells)
    wide = [max(least, whole * float(cell.extent / total)) for cell in cells]
    # What small cells take more than their share, the largest gives.
    for _ in wide:
        largest = max(range(len(wide)), key=wide.__getitem__)
        wide[largest] = max(least, wide[largest] - (sum(wide) - whole))
    at = piece[axis]
    found = []
    for extent in wide:
        low, at = at, at + extent
        found.append(
            Rect(low, piece.bottom, at, piece.top) if axis == 0 else Rect(piece.left, low, piece.right, at)
        )
    return found


def _cuts_at(repeat: Repeat, piece: Rect, boxes: Sequence[Rect]) -> list[float]:
    """Return where cuts are drawn, the first one first: after each cell but the rest, from the edge on."""
    axis = repeat.first.axis
    low = repeat.first.edge in ("left", "lower")
    near = [box[axis + 2] if low else box[axis] for box in (boxes if low else boxes[::-1])]
    if beyond(repeat.steps[repeat.times - 1]) is not None:
        near.pop()
    # A first cut that leaves nothing at the edge runs along it.
    return near or [piece[axis] if low else piece[axis + 2]]


def _guide(step: SawStep, piece: Rect) -> Iterable[Mark]:
    """A fence as a bar along its whole edge, a stop as a block at the middle of it, with its word."""
    if step.held == "line":
        return ()
    x, y = piece.centre
    thick = _FENCE if step.held == "fence" else _STOP
    along = (piece.height if step.axis == 0 else piece.width) + 4.0 if step.held == "fence" else _STOP
    off = 0.35 + thick / 2
    word = off + thick / 2 + 1.0
    at, foot, turn = {
        "left": (Point(piece.left - off, y), Point(piece.left - word, y), 90.0),
        "right": (Point(piece.right + off, y), Point(piece.right + word + 2.3, y), 90.0),
        "lower": (Point(x, piece.bottom - off), Point(x, piece.bottom - word - 2.3), 0.0),
        "upper": (Point(x, piece.top + off), Point(x, piece.top + word), 0.0),
    }[step.edge]
    wide, high = (thick, along) if step.axis == 0 else (along, thick)
    bar = Fill(rectangle(wide, high, at=at.moved(-wide / 2, -high / 2)), 0.0)
    return (bar, Text(foot, step.held, 3.0, anchor="middle", turn_deg=turn))


def _way(step: SawStep, piece: Rect, at: float, size: str) -> Iterable[Mark]:
    """The way from the edge that is measured from to the cut, with its size."""
    low = step.edge in ("left", "lower")
    start = piece[step.axis] if low else piece[step.axis + 2]
    tick = 1.2
    room = BENCH.width if step.axis == 0 else BENCH.height
    text, height = fitted(size, room, 3.6, least=2.0, bold=True)
    half = text_width(text, height, bold=True) / 2
    middle = min(max((start + at) / 2, half), room - half)
    if step.axis == 0:
        y = piece.top + 3.2
        words = Text(Point(middle, y + 1.7), text, height, anchor="middle", bold=True)
        ends = [Point(v, y) for v in (start, at)]
        across = [(p.moved(0.0, -tick), p.moved(0.0, tick)) for p in ends]
    else:
        x = piece.right + 3.2
        words = Text(Point(x + 4.2, middle), text, height, anchor="middle", turn_deg=90.0, bold=True)
        ends = [Point(x, v) for v in (start, at)]
        across = [(p.moved(-tick, 0.0), p.moved(tick, 0.0)) for p in ends]
    return (line(ends[0], ends[1], Layer.FINE), *(line(a, b, Layer.FINE) for a, b in across), words)
