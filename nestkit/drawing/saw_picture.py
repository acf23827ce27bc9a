"""The pictures of a saw plan: where on the sheet the piece lies, and how it lies at the saw."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from nestkit.drawing.hatch import hatch
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Fill, Mark, Text, line, outlined
from nestkit.drawing.type import fitted, text_width
from nestkit.estimate.saw_steps import Box, Gained, SawStep
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import box_outline, rectangle
from nestkit.layout.result import CutSheet

SIGNS = "Heavy frame: on the saw. Grey: done. Wide hatch: keep. Close hatch: waste."
"""What the pictures mean, in words."""

MAP = Rect(0.0, 0.0, 26.0, 38.0)
BENCH = Rect(0.0, 0.0, 50.0, 40.0)
"""Room in mm for the picture of the sheet, and for that of the piece at the saw."""

_LEAST_MAP = 12.0
"""How wide the picture of the sheet is at least."""
_AROUND = 8.5
"""Room around the piece at the saw, for fence and size."""
_NARROWEST, _LOWEST = 10.0, 7.0
"""A piece is drawn at least so wide and high, so that its name can be read."""
_DONE = 0.82
_KEEP, _WASTE = 2.4, 0.9
"""Between the lines of a hatch."""
_FENCE, _STOP = 1.4, 3.0
"""How thick a fence is drawn, and how large a stop block."""


def sheet_map(sheet: CutSheet, done: Sequence[SawStep], step: SawStep) -> Drawing:
    """Return the sheet in small as it lies before a cut, the piece for the saw in a heavy frame."""
    width, height = float(sheet.stock.width), float(sheet.stock.height)
    scale = min(MAP.width / width, MAP.height / height)
    # A long piece off a roll is drawn wider than it is.
    across = max(scale, _LEAST_MAP / width)
    pieces: dict[str, Gained] = {}
    for past in done:
        pieces.pop(past.cut.piece, None)
        pieces |= {g.name: g for g in past.gained}
    pieces.pop(step.cut.piece, None)
    marks: list[Mark] = []
    for piece in pieces.values():
        box = _small(piece.box, across, scale)
        marks += [*_inside(piece, box), _frame(box, Layer.FINE)]
    marks.append(_frame(_small(step.piece, across, scale), Layer.HEAVY))
    at, a, b = (float(v) for v in (step.cut.at, step.cut.start, step.cut.end))
    places = ((at, a), (at, b)) if step.axis == 0 else ((a, at), (b, at))
    start, end = (Point(x * across, y * scale) for x, y in places)
    marks.append(line(start, end, Layer.PART_EDGE))
    return Drawing(MAP.width, height * scale, tuple(marks))


def piece_at_saw(step: SawStep, size: str) -> Drawing:
    """Return the piece with the cut through it and what guides it; its proportions are only about right.

    ``size`` is written on the way from the fence, stop or edge to the cut.
    """
    piece = _drawn_piece(step)
    halves = _drawn_halves(step, piece)
    marks: list[Mark] = []
    for gained, half in zip(step.gained, halves, strict=True):
        marks += [*_inside(gained, half), _frame(half, Layer.PART_EDGE), *_name(gained, half)]
    marks.append(_frame(piece, Layer.HEAVY))
    at = _cut_at(step, piece, halves)
    over = 2.5
    if step.axis == 0:
        ends = Point(at, piece.bottom - over), Point(at, piece.top + over)
    else:
        ends = Point(piece.left - over, at), Point(piece.right + over, at)
    marks.append(line(*ends, Layer.SAW_CUT))
    marks += _guide(step, piece)
    marks += _way(step, piece, at, size)
    return Drawing(BENCH.width, BENCH.height, tuple(marks))


def _small(box: Box, across: float, up: float) -> Rect:
    left, bottom, right, top = (float(side) for side in box)
    return Rect(left * across, bottom * up, right * across, top * up)


def _frame(box: Rect, layer: Layer) -> Mark:
    return outlined(box_outline(box), layer)


def _inside(piece: Gained, box: Rect) -> Iterable[Mark]:
    """What a piece is filled with: grey where it is a part, a hatch where it holds none."""
    if piece.done is not None:
        return (Fill(box_outline(box), _DONE),)
    if not piece.parts:
        return hatch(box, _KEEP if piece.keep else _WASTE)
    return ()


def _name(piece: Gained, box: Rect) -> Iterable[Mark]:
    """The name of a piece in its middle, on white where it is hatched."""
    # On a hatch it is smaller, so that some of the hatch is seen around it.
    most = min(4.6, box.height - 0.8) if piece.parts else min(3.4, 0.55 * box.height)
    text, size = fitted(piece.name, box.width - (1.2 if piece.parts else 3.0), most, least=2.0, bold=True)
    name = Text(Point(box.centre.x, box.centre.y - 0.36 * size), text, size, anchor="middle", bold=True)
    if piece.parts:
        return (name,)
    white = name.bounds.grown(0.3)
    return (Fill(box_outline(white)), name)


def _drawn_piece(step: SawStep) -> Rect:
    """Return the piece in the middle of its room, large enough for two names."""
    left, bottom, right, top = (float(side) for side in step.piece)
    most = BENCH.width - 2 * _AROUND, BENCH.height - 2 * _AROUND
    scale = min(most[0] / (right - left), most[1] / (top - bottom))
    least = [_NARROWEST, _LOWEST]
    least[step.axis] *= 2
    width, height = max((right - left) * scale, least[0]), max((top - bottom) * scale, least[1])
    x, y = BENCH.centre.x - width / 2, BENCH.centre.y - height / 2
    return Rect(x, y, x + width, y + height)


def _drawn_halves(step: SawStep, piece: Rect) -> list[Rect]:
    """Return what the cut leaves of the drawn piece, each wide or high enough for its name."""
    if len(step.gained) == 1:
        return [piece]
    axis = step.axis
    low, high = piece[axis], piece[axis + 2]
    share = float(step.gained[0].size[axis] / step.across)
    least = (_NARROWEST, _LOWEST)[axis]
    at = min(max(low + share * (high - low), low + least), high - least)
    if axis == 0:
        return [Rect(low, piece.bottom, at, piece.top), Rect(at, piece.bottom, high, piece.top)]
    return [Rect(piece.left, low, piece.right, at), Rect(piece.left, at, piece.right, high)]


def _cut_at(step: SawStep, piece: Rect, halves: Sequence[Rect]) -> float:
    if len(halves) == 2:
        return halves[0][step.axis + 2]
    return piece[step.axis + 2] if step.gained[0].name.endswith("a") else piece[step.axis]


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
