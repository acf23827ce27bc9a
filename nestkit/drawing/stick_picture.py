"""Sticks drawn to scale: their pieces with lengths and names, what the saw takes, what is left."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from nestkit.drawing.hatch import hatch
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Fill, Mark, Text, line, outlined
from nestkit.drawing.type import ASCENT, DESCENT, fitted, text_width
from nestkit.estimate.cut_steps import CutRow, SticksAlike
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import box_outline
from nestkit.units import Unit, length_text, rest_text

SIGNS = "Grey: pieces. Hatched: waste. White: a rest to keep. Lengths are to scale."
"""What the pictures mean, in words."""

HIGH = 11.0
"""How high a stick is drawn, in mm; only along it is it to scale."""
_PART, _WASTE = 0.9, 0.9
"""Grey of a piece, and mm between the lines of a hatch."""
_LENGTH, _LEAST_LENGTH = 4.4, 2.6
_NAME, _LEAST_NAME = 2.9, 2.0
_SHORTENED = 16.0
"""A name that does not fit is cut short in pieces so wide, else left out: the rows below have it."""
_UPRIGHT, _LEAST_UPRIGHT = 3.0, 2.4
"""Type of a length that stands upright in a narrow piece, or below the stick."""
_UNDER = 3.4
_AIR = 0.6
_SOLID = 0.9
"""Narrower pieces are drawn as one block."""
_BRACKET, _LEADER, _FAN = 1.4, 1.5, 3.0
_TALL = ASCENT + DESCENT
"""How high a line of text is, as a share of its type."""


@dataclass(frozen=True, slots=True)
class _Run:
    """Equal pieces side by side, or a rest: where it begins on paper, how wide each is, how far apart."""

    left: float
    piece: float
    pitch: float
    count: int
    text: str
    name: str = ""
    rest: bool = False

    @property
    def right(self) -> float:
        return self.left + (self.count - 1) * self.pitch + self.piece

    @property
    def centre(self) -> float:
        return (self.left + self.right) / 2

    @property
    def label(self) -> str:
        return f"{self.count} x {self.text}" if self.count > 1 else self.text

    def boxes(self, foot: float) -> list[Rect]:
        """Return the pieces on a stick whose lower edge is at ``foot``; very narrow ones as one."""
        if self.piece < _SOLID:
            return [Rect(self.left, foot, self.right, foot + HIGH)]
        starts = (self.left + n * self.pitch for n in range(self.count))
        return [Rect(x, foot, x + self.piece, foot + HIGH) for x in starts]


def stick_scale(sticks: Iterable[SticksAlike], width: float) -> float:
    """Return the scale at which the longest stick is ``width`` mm long on paper; 1 where there is none."""
    longest = max((float(alike.stock.length) for alike in sticks), default=width)
    return width / longest


def stick_drawing(alike: SticksAlike, unit: Unit, *, scale: float) -> Drawing:
    """Return one of sticks that are alike, as long on paper as it is times ``scale``.

    Grey with a frame: a piece. Between them: what the saw takes. Hatched: waste. White: a rest to keep.
    Lengths stand in the pieces, across or upright, else below; names where they have room. The lower left
    of the drawing is that of the stick, or of what stands below it.
    """
    length = float(alike.stock.length) * scale
    runs = tuple(_runs(alike, unit, scale))
    outside = [run for run in runs if run.text and not _words(run, 0.0)]
    under = [run for run in outside if _wide(run.label, _UNDER) + 2 * _AIR <= run.right - run.left]
    led = [run for run in outside if run not in under]
    rows = _BRACKET + 2 * _AIR + _TALL * _UNDER if under else 0.0
    foot, words = _led(led, length, rows)
    marks: list[Mark] = [*_body(alike, runs, length, foot)]
    for run in runs:
        marks += _words(run, foot)
    for run in under:
        marks += _bracket(run, foot)
    return Drawing(length, foot + HIGH, (*marks, *words))


def _runs(alike: SticksAlike, unit: Unit, scale: float) -> Iterator[_Run]:
    """Yield what lies along a stick, from its squared end on."""
    at, kerf = alike.stock.trim, alike.kerf
    for row in alike.rows:
        piece, pitch = float(row.length) * scale, float(row.length + kerf) * scale
        said = length_text(row.length, unit, places=2)
        yield _Run(float(at) * scale, piece, pitch, row.each, said, _name(row))
        at += row.each * (row.length + kerf)
    if alike.left > 0:
        left = float(alike.left) * scale
        said = f"KEEP {rest_text(alike.left, unit)}" if alike.kept else ""
        yield _Run(float(at) * scale, left, left, 1, said, rest=True)


def _name(row: CutRow) -> str:
    """Return the name that all pieces of a row have, empty where they have several."""
    if len(row.parts) > 1:
        return ""
    part = row.parts[0]
    return f"{part.tube.name}, OPPOSITE HAND" if part.opposite_hand else part.tube.name


def _body(alike: SticksAlike, runs: Sequence[_Run], length: float, foot: float) -> Iterator[Mark]:
    """The stick itself: its ends and the rest, the pieces, its edge last."""
    last = runs[-1]
    waste = [(0.0, runs[0].left), (last.left if last.rest and not alike.kept else last.right, length)]
    for left, right in waste:
        yield from hatch(Rect(left, foot, right, foot + HIGH), _WASTE)
    left, right = waste[-1]
    if right - left > text_width("waste", _NAME) + 4.0:
        at = Point((left + right) / 2, foot + HIGH / 2 - 0.36 * _NAME)
        said = Text(at, "waste", _NAME, anchor="middle")
        yield Fill(box_outline(said.bounds.grown(0.5)))
        yield said
    for run in runs:
        for box in run.boxes(foot) if not run.rest or alike.kept else ():
            yield Fill(box_outline(box), 1.0 if run.rest else _PART)
            yield outlined(box_outline(box), Layer.FINE)
    yield outlined(box_outline(Rect(0.0, foot, length, foot + HIGH)), Layer.PART_EDGE)


def _words(run: _Run, foot: float) -> list[Text]:
    """Return the words in each piece of a run: length over name, or the length upright; none without room."""
    room, middle = run.piece - 2 * _AIR, foot + HIGH / 2
    text, size = fitted(run.text, max(room, 0.0), _LENGTH, least=_LEAST_LENGTH, bold=True)
    found: list[Text] = []
    if text and text == run.text:
        name, small = fitted(run.name, room, _NAME, least=_LEAST_NAME)
        name = name if name == run.name or room >= _SHORTENED else ""
        base = middle + 0.7 if name else middle - 0.36 * size
        for box in run.boxes(foot):
            found.append(Text(Point(box.centre.x, base), text, size, anchor="middle", bold=True))
            if name:
                found.append(Text(Point(box.centre.x, foot + 1.7), name, small, anchor="middle"))
        return found
    text, size = fitted(run.text, HIGH - 2 * _AIR, _UPRIGHT, least=_LEAST_UPRIGHT, bold=True)
    if not text or text != run.text or run.piece < _TALL * size + 0.2:
        return []
    shift = (ASCENT - DESCENT) / 2 * size
    return [
        Text(Point(box.centre.x + shift, middle), text, size, anchor="middle", turn_deg=90.0, bold=True)
        for box in run.boxes(foot)
    ]


def _bracket(run: _Run, foot: float) -> Iterator[Mark]:
    """Words below a run, no wider than it, under a line from its one end to the other."""
    y = foot - _BRACKET
    yield line(Point(run.left, y), Point(run.right, y), Layer.FINE)
    for x in (run.left, run.right):
        yield line(Point(x, y), Point(x, foot - 0.3), Layer.FINE)
    base = Point(run.centre, y - _AIR - ASCENT * _UNDER)
    yield Text(base, run.label, _UNDER, anchor="middle", bold=True)


def _led(runs: Sequence[_Run], length: float, rows: float) -> tuple[float, list[Mark]]:
    """Return how much room words with a line to their runs take below a stick, and their marks.

    ``rows`` is what stands directly below the stick. The words lie where they have room side by side, else
    they stand upright; there is none where they have none.
    """
    widths = [_wide(run.label, _UNDER) + 3 * _AIR for run in runs]
    upright = sum(widths) > length
    if upright:
        widths = [_TALL * _UPRIGHT + 0.3] * len(runs)
    if not runs or sum(widths) > length:
        return rows, []
    tall = max(_wide(run.label, _UPRIGHT) for run in runs) if upright else _TALL * _UNDER
    foot = rows + _LEADER + _FAN + 2 * _AIR + tall
    bend, end = foot - rows - _LEADER, foot - rows - _LEADER - _FAN
    marks: list[Mark] = []
    for run, x in zip(runs, _places([run.centre for run in runs], widths, length), strict=True):
        marks.append(line(Point(run.centre, foot), Point(run.centre, bend), Layer.FINE))
        marks.append(line(Point(run.centre, bend), Point(x, end), Layer.FINE))
        if upright:
            base = Point(x + (ASCENT - DESCENT) / 2 * _UPRIGHT, end - _AIR)
            marks.append(Text(base, run.label, _UPRIGHT, anchor="end", turn_deg=90.0, bold=True))
        else:
            base = Point(x, end - _AIR - ASCENT * _UNDER)
            marks.append(Text(base, run.label, _UNDER, anchor="middle", bold=True))
    return foot, marks


def _places(centres: Sequence[float], widths: Sequence[float], length: float) -> list[float]:
    """Return where words of some widths stand, in order and apart, near what they belong to."""
    found: list[float] = []
    free = 0.0
    for x, width in zip(centres, widths, strict=True):
        found.append(max(x, free + width / 2))
        free = found[-1] + width / 2
    most = length
    for n in range(len(found) - 1, -1, -1):
        found[n] = min(found[n], most - widths[n] / 2)
        most = found[n] - widths[n] / 2
    return found


def _wide(text: str, size: float) -> float:
    return text_width(text, size, bold=True)
