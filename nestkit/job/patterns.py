"""Hole patterns: from rows, grids, circles, corners and edges to places, in their numbered order."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import get_args

from nestkit.geometry.points import Point
from nestkit.geometry.shapes import SideName
from nestkit.job.entry import Entry
from nestkit.job.shown import shown
from nestkit.job.values import choice, count, length, number, pair, points

PATTERNS = ("at", "row", "grid", "circle", "corners", "edge")
FREE_PATTERNS = PATTERNS[:4]
"""Patterns of a part that has no known outline."""

_CORNERS = ("bottom left", "bottom right", "top right", "top left")
FROM = (*_CORNERS, "centre", "center")

MOST_HOLES = 10_000
"""Holes of one group at most."""


class Frame:
    """Where the coordinates of a group start: a corner, x and y running inwards, or the centre."""

    def __init__(self, start: str, width: Fraction, height: Fraction) -> None:
        self.start, self.width, self.height = start, width, height

    def place(self, x: Fraction, y: Fraction) -> Point:
        """Return coordinates of the group as a place on the part."""
        if self.start.startswith("cent"):
            return Point(float(self.width / 2 + x), float(self.height / 2 + y))
        across = self.width - x if "right" in self.start else x
        up = self.height - y if "top" in self.start else y
        return Point(float(across), float(up))


def read_pattern(entry: Entry, width: Fraction, height: Fraction) -> list[Point] | None:
    """Return the holes' places in the part's frame, in their order; None where something is wrong."""
    start = choice(entry, "from", FROM, "bottom left")
    remedy = "Say where the holes are: at, row, grid, circle, corners or edge"
    places = _places(entry, Frame(start or "bottom left", width, height), PATTERNS, remedy)
    return places if start is not None else None


def read_free_pattern(entry: Entry) -> list[Point] | None:
    """Return the places of holes whose coordinates count from the part's own origin, wherever that is."""
    own = Frame("bottom left", Fraction(0), Fraction(0))
    return _places(entry, own, FREE_PATTERNS, "Say where the holes are: at, row, grid or circle")


def _places(entry: Entry, frame: Frame, patterns: tuple[str, ...], remedy: str) -> list[Point] | None:
    which = entry.one_of(patterns, remedy)
    # Where two patterns stand, each is still read, so that its own mistakes show in the same run.
    read = {key: _READERS[key](entry, frame) for key in patterns if key in entry}
    return read[which] if which is not None else None


def _at(entry: Entry, frame: Frame) -> list[Point] | None:
    places = points(entry, "at", least=1)
    return None if places is None else [frame.place(*p) for p in places]


def _row(entry: Entry, frame: Frame) -> list[Point] | None:
    row = entry.child("row", "row")
    if row is None:
        return None
    start = pair(row, "start", "place", required=True)
    holes = count(row, "count", None, least=1, most=MOST_HOLES)
    which = row.one_of(
        ("end", "pitch"), "Write where the last hole is (end), or the step to the next (pitch)"
    )
    other = pair(row, which, "place") if which else None
    if start is None or holes is None or other is None:
        return None
    step = other
    if which == "end":
        step = (other[0] - start[0]) / max(1, holes - 1), (other[1] - start[1]) / max(1, holes - 1)
    if holes > 1 and not any(step):
        row.wrong(which or "row", "all holes of the row lie on one another", "Make the step longer than 0")
        return None
    return [frame.place(start[0] + i * step[0], start[1] + i * step[1]) for i in range(holes)]


def _grid(entry: Entry, frame: Frame) -> list[Point] | None:
    grid = entry.child("grid", "grid")
    if grid is None:
        return None
    start = pair(grid, "start", "place", required=True)
    columns = count(grid, "columns", None, least=1, most=MOST_HOLES)
    rows = count(grid, "rows", None, least=1, most=MOST_HOLES)
    pitch = pair(grid, "pitch", "place", required=True)
    if start is None or columns is None or rows is None or pitch is None:
        return None
    if columns * rows > MOST_HOLES:
        grid.wrong(
            "columns", f"{columns} x {rows} holes are too many", f"Write at most {MOST_HOLES:,} a group"
        )
        return None
    if (columns > 1 and pitch[0] == 0) or (rows > 1 and pitch[1] == 0):
        grid.wrong("pitch", "holes of the grid lie on one another", "Make both steps longer than 0")
        return None
    return [
        frame.place(start[0] + i * pitch[0], start[1] + j * pitch[1])
        for j in range(rows)
        for i in range(columns)
    ]


def _circle(entry: Entry, frame: Frame) -> list[Point] | None:
    circle = entry.child("circle", "circle")
    if circle is None:
        return None
    centre = pair(circle, "centre", "place", required=True)
    diameter = length(circle, "diameter", required=True)
    holes = count(circle, "count", None, least=1, most=MOST_HOLES)
    first = number(circle, "first_deg", 0, least=-360, most=360, remedy="Write degrees from -360 to 360")
    if centre is None or diameter is None or holes is None or first is None:
        return None
    # Angles run counter-clockwise from right on the part, whatever corner the coordinates start from.
    middle, radius = frame.place(*centre), float(diameter) / 2
    return [
        middle.moved(*Point(radius, 0.0).turned(float(first + Fraction(360 * i, holes))))
        for i in range(holes)
    ]


def _corners(entry: Entry, frame: Frame) -> list[Point] | None:
    inset = length(entry, "corners")
    if inset is None:
        return None
    if 2 * inset >= min(frame.width, frame.height):
        entry.wrong(
            "corners", "the corners' holes would meet", "Make the inset less than half the shorter side"
        )
        return None
    right, top = frame.width - inset, frame.height - inset
    return [
        Point(float(x), float(y)) for x, y in ((inset, inset), (right, inset), (right, top), (inset, top))
    ]


def _edge(entry: Entry, frame: Frame) -> list[Point] | None:
    edge = entry.child("edge", "edge")
    if edge is None:
        return None
    side = choice(edge, "side", get_args(SideName))
    inset = length(edge, "inset", required=True)
    holes = count(edge, "count", None, least=1, most=MOST_HOLES)
    ends = length(edge, "ends", "amount", required=holes != 1)
    if side is None or inset is None or holes is None or (ends is None and holes > 1):
        return None
    across = side in ("bottom", "top")
    along, depth = (frame.width, frame.height) if across else (frame.height, frame.width)
    free = along - 2 * (ends or 0)
    if holes > 1 and free <= 0:
        edge.wrong("ends", f"{shown(edge.data['ends'])} from both ends leaves no room", "Make it shorter")
        return None
    if inset >= depth:
        edge.wrong("inset", f"{shown(edge.data['inset'])} is past the far side", "Make it shorter")
        return None
    steps = [along / 2] if holes == 1 else [(ends or 0) + free * i / (holes - 1) for i in range(holes)]
    deep = inset if side in ("bottom", "left") else depth - inset
    return [Point(float(s), float(deep)) if across else Point(float(deep), float(s)) for s in steps]


_READERS: dict[str, Callable[[Entry, Frame], list[Point] | None]] = {
    "at": _at,
    "row": _row,
    "grid": _grid,
    "circle": _circle,
    "corners": _corners,
    "edge": _edge,
}
