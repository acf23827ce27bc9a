"""Tubes side by side as they are clamped, flush at end 0, with the lines to square across them."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Drawing, Mark, Text, line, outlined
from nestkit.drawing.type import ASCENT, text_width
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import rectangle
from nestkit.parts.gangs import Gang

MOST_OF_A_KIND, MOST = 4, 12
"""Bars that stand for copies of one tube, and all bars, as far as there are not more tubes."""
_BAR = 6.5
_LEFT = 17.0
_RIGHT = 2.0
_OVER = 2.5
_LETTER = 4.6
_NUMBER = 3.8
_LEVEL = 4.6
_LEVELS = 4
_STOP = 3.0
_RING, _LEAST_RING = 1.3, 0.5
_NEAR = 2.5
"""Lines nearer to each other than this, in mm, are drawn fine."""


@dataclass(frozen=True, slots=True)
class _Bar:
    """A tube of the picture: which member it is, and the height of its lower edge."""

    member: int
    bottom: float

    @property
    def middle(self) -> float:
        return self.bottom + _BAR / 2


def letter_of(member: int) -> str:
    """Return what a member is called in the picture and beside it: a, b, ..., z, aa.

    >>> letter_of(0), letter_of(27)
    ('a', 'bb')
    """
    return chr(ord("a") + member % 26) * (1 + member // 26)


def gang_picture(gang: Gang, width: float) -> Drawing:
    """Return the picture, ``width`` mm wide: lengths to scale, end 0 at the left against a stop.

    Each line crosses the tubes that have a mark there, which is a ring. Where lines lie too near to one
    another for all their numbers some have none.
    """
    bars = _bars(gang)
    longest = max(float(member.tube.length) for member in gang.members)
    scale = (width - _LEFT - _RIGHT) / longest
    marks: list[Mark] = []
    for bar in bars:
        long = float(gang.members[bar.member].tube.length) * scale
        marks.append(outlined(rectangle(long, _BAR, at=Point(_LEFT, bar.bottom)), Layer.PART_EDGE))
    top = bars[0].bottom + _BAR
    marks.append(line(Point(_LEFT, bars[-1].bottom - _OVER), Point(_LEFT, top + _OVER), Layer.HEAVY))
    marks += _names(gang, bars)
    xs = [_LEFT + float(one.at) * scale for one in gang.lines]
    near = min((b - a for a, b in pairwise(xs)), default=width)
    for one, x in zip(gang.lines, xs, strict=True):
        marks += _crossing([bar for bar in bars if bar.member in one.members], x, near)
    levels = _levels(xs)
    for number, (one, x, level) in enumerate(zip(gang.lines, xs, levels, strict=True), 1):
        if level is not None:
            up = top + _OVER + level * _LEVEL
            start = max(bar.bottom for bar in bars if bar.member in one.members) + _BAR
            marks.append(line(Point(x, start), Point(x, up), Layer.FINE))
            marks.append(Text(Point(x, up + 0.8), str(number), _NUMBER, anchor="middle", bold=True))
    height = top + _OVER + (max(filter(None, levels), default=0) + 1) * _LEVEL + 0.5
    return Drawing(width, height, tuple(marks))


def _bars(gang: Gang) -> list[_Bar]:
    """Return the bars from the top down; members stand a little apart."""
    each = max(1, min(MOST_OF_A_KIND, MOST // len(gang.members)))
    heights: list[tuple[int, float]] = []
    down = 0.0
    for index, member in enumerate(gang.members):
        for _ in range(min(each, member.copies)):
            heights.append((index, down))
            down += _BAR
        down += 1.5
    lowest = heights[-1][1]
    return [_Bar(index, _OVER + 0.5 + lowest - y) for index, y in heights]


def _names(gang: Gang, bars: list[_Bar]) -> list[Mark]:
    """Return the letter of each member left of its bars, with how many there are."""
    marks: list[Mark] = []
    for index, member in enumerate(gang.members):
        own = [bar.middle for bar in bars if bar.member == index]
        y = (own[0] + own[-1]) / 2 - ASCENT * _LETTER / 2
        name = letter_of(index)
        said = f"{name} x{member.copies}" if member.copies > 1 else name
        size = min(_LETTER, _LETTER * (_LEFT - _STOP) / text_width(said, _LETTER, bold=True))
        marks.append(Text(Point(0.0, y), said, size, bold=True))
    return marks


def _crossing(bars: list[_Bar], x: float, near: float) -> list[Mark]:
    """Return one line across the tubes that have it, a ring on each; finer where the next one is near."""
    layer = Layer.HEAVY if near >= _NEAR else Layer.MARK
    ring = max(_LEAST_RING, min(_RING, 0.45 * near))
    marks: list[Mark] = []
    for bar in bars:
        marks.append(line(Point(x, bar.bottom), Point(x, bar.bottom + _BAR), layer))
        marks.append(Circle(Point(x, bar.middle), ring, Layer.MARK))
    return marks


def _levels(xs: list[float]) -> list[int | None]:
    """Return on which level the number of each line stands so that all keep apart; None has no room.

    The last line's number stands on the lowest level in any case.
    """
    half = [text_width(str(number), _NUMBER, bold=True) / 2 + 0.6 for number in range(1, len(xs) + 1)]
    ends = [-1e9] * _LEVELS
    levels: list[int | None] = []
    for i, x in enumerate(xs):
        last = i == len(xs) - 1
        free = [
            level
            for level, end in enumerate(ends)
            if x - half[i] >= end and (last or level or x + half[i] <= xs[-1] - half[-1])
        ]
        level = free[0] if free else None
        if level is not None:
            ends[level] = x + half[i]
        levels.append(level)
    return levels
