"""The datum corner: a heavy bracket of one shape on the face, of another on the back, and a word."""

from __future__ import annotations

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Mark, Path, Text
from nestkit.drawing.pen import Anchor
from nestkit.drawing.type import ASCENT
from nestkit.geometry.outline import Vertex
from nestkit.geometry.points import Point, Rect

AWAY = 1.2
"""The bracket stands this far outside the part."""
LEG = 13.0
SECOND = 1.6
"""The second bracket of the back stands this much further out."""
TYPE = 3.5


def datum_bracket(part: Rect, *, back: bool) -> tuple[Mark, ...]:
    """Return the bracket outside the datum corner of a part's box, with its word below.

    On the face it is a single L at the lower left. A back is seen from behind: the corner lies at
    the lower right, under a double L, so that shape as well as word tell the two apart.
    """
    return (*datum_legs(part, back=back), datum_word(part, back=back))


def datum_legs(part: Rect, *, back: bool) -> tuple[Path, ...]:
    """Return the bracket without its word."""
    corner, side, steps = _corner(part, back)
    return tuple(_bracket(corner, side, away) for away in steps)


def datum_word(part: Rect, *, back: bool, height: float = TYPE) -> Text:
    """Return the word below the bracket, in type of a height."""
    corner, side, steps = _corner(part, back)
    below = corner.y - steps[-1] - 0.9 - ASCENT * height
    word = "DATUM (BACK)" if back else "DATUM"
    anchor: Anchor = "end" if back else "start"
    return Text(Point(corner.x + side * steps[-1], below), word, height, Layer.LABEL, anchor, bold=True)


def _corner(part: Rect, back: bool) -> tuple[Point, int, tuple[float, ...]]:
    """The datum corner, to which side of it the bracket lies, and how far out."""
    if back:
        return Point(part.right, part.bottom), 1, (AWAY, AWAY + SECOND)
    return Point(part.left, part.bottom), -1, (AWAY,)


def _bracket(corner: Point, side: int, away: float) -> Path:
    x, y = corner.x + side * away, corner.y - away
    points = (Point(x, y + LEG), Point(x, y), Point(x - side * LEG, y))
    return Path(tuple(Vertex(*p) for p in points), closed=False, layer=Layer.HEAVY)


def room_for_datum(part: Rect, *, back: bool) -> Rect:
    """Return a part's box grown by what its bracket, its word and the width of lines need."""
    if back:
        return Rect(part.left - 1.0, part.bottom - 8.0, part.right + 4.0, part.top + 1.0)
    return Rect(part.left - 2.5, part.bottom - 6.5, part.right + 1.0, part.top + 1.0)
