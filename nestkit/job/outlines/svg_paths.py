"""The data of SVG paths: moves, lines, curves and arcs, after the SVG recommendation."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

from nestkit.geometry.points import Point
from nestkit.job.outlines.affine import Affine
from nestkit.job.outlines.fault import OutlineFault
from nestkit.job.outlines.figures import Sketch, Tag
from nestkit.job.shown import shown

NUMBER = r"[-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?"
_TOKEN = re.compile(rf"\s*,?\s*(?:(?P<word>[MmLlHhVvCcSsQqTtAaZz])|(?P<number>{NUMBER}))")
_FLAG = re.compile(r"\s*,?\s*([01])")
_SPACE = re.compile(r"\s*")
_WANTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_REMEDY = "Save the drawing as plain SVG once more"


def draw_path(data: str, sketch: Sketch, m: Affine, tag: Tag) -> None:
    """Draw a path's data. Raises :class:`OutlineFault` for data that is not a path's."""
    pen = _PathPen(sketch, m, tag)
    bent = False
    for word, numbers in _commands(data):
        sketch.count()
        pen.step(word, numbers)
        bent = bent or word in "CcSsQqTt"
    sketch.curves += bent


def _commands(data: str) -> Iterator[tuple[str, list[float]]]:
    """Yield each command with its numbers; what follows a move without a letter are lines."""
    at, word, fresh = 0, "", False
    end = len(data.rstrip())
    while at < end:
        found = _TOKEN.match(data, at)
        if found is None:
            raise _fault(data, at)
        if found["word"]:
            word, fresh, at = found["word"], True, found.end()
            if word in "Zz":
                yield word, []
                fresh, word = False, ""
                continue
            if _SPACE.match(data, at).end() >= end:  # type: ignore[union-attr]
                raise _fault(data, at)
        if not word:
            raise _fault(data, at)
        numbers, at = _numbers(data, at, word)
        yield word, numbers
        if word in "Mm" and fresh:
            word = "L" if word == "M" else "l"
        fresh = False


def _numbers(data: str, at: int, word: str) -> tuple[list[float], int]:
    numbers: list[float] = []
    while len(numbers) < _WANTS[word.upper()]:
        # The two flags of an arc may be written without anything between them.
        is_flag = word in "Aa" and len(numbers) in (3, 4)
        found = (_FLAG if is_flag else _TOKEN).match(data, at)
        value = None if found is None else found[1] if is_flag else found["number"]
        if found is None or value is None:
            raise _fault(data, at)
        numbers.append(float(value))
        at = found.end()
    return numbers, at


def _fault(data: str, at: int) -> OutlineFault:
    here = data[max(0, at - 10) : at + 20].strip()
    return OutlineFault(f"a path's data cannot be read near {shown(here)}", _REMEDY)


class _PathPen:
    """Where a path has got to, and what the next smooth curve leans on."""

    def __init__(self, sketch: Sketch, m: Affine, tag: Tag) -> None:
        self.sketch, self.m, self.tag = sketch, m, tag
        self.begun = False
        self.start = self.at = Point(0.0, 0.0)
        self.lean: tuple[str, Point] | None = None

    def step(self, word: str, numbers: list[float]) -> None:
        """Draw one command."""
        if not self.begun and word not in "Mm":
            raise OutlineFault("a path does not begin with a move", _REMEDY)
        base = self.at if word.islower() else Point(0.0, 0.0)
        kind, lean = word.upper(), self.lean
        self.lean = None
        if kind == "M":
            self.begun = True
            self.start = self.at = base.moved(*numbers)
        elif kind == "Z":
            if self.at != self.start:
                self._line(self.start)
        elif kind == "L":
            self._line(base.moved(*numbers))
        elif kind == "H":
            self._line(Point(base.x + numbers[0], self.at.y))
        elif kind == "V":
            self._line(Point(self.at.x, base.y + numbers[0]))
        elif kind == "A":
            self._arc(numbers, base.moved(*numbers[5:]))
        else:
            self._curve(
                kind, [base.moved(*pair) for pair in zip(numbers[::2], numbers[1::2], strict=True)], lean
            )

    def _line(self, end: Point) -> None:
        self.sketch.path([(*self.at, 0.0), (*end, 0.0)], False, self.m, self.tag)
        self.at = end

    def _curve(self, kind: str, points: list[Point], lean: tuple[str, Point] | None) -> None:
        family = "C" if kind in "CS" else "Q"
        if kind in "ST":
            mirrored = self.at
            if lean is not None and lean[0] == family:
                mirrored = Point(2 * self.at.x - lean[1].x, 2 * self.at.y - lean[1].y)
            points.insert(0, mirrored)
        self.lean = (family, points[-2])
        control = [(p.x, p.y, 1.0) for p in (self.at, *points)]
        self.sketch.bezier(control, self.m, self.tag)
        self.at = points[-1]

    def _arc(self, numbers: list[float], end: Point) -> None:
        rx, ry, turn_deg, large, sweep = abs(numbers[0]), abs(numbers[1]), numbers[2], numbers[3], numbers[4]
        if end == self.at:
            return
        if not rx or not ry:
            self._line(end)
            return
        start = self.at
        turn = math.radians(turn_deg)
        c, s = (math.cos(turn), math.sin(turn)) if turn_deg and rx != ry else (1.0, 0.0)
        # The implementation notes of the recommendation: from end points to centre and angles.
        half_x, half_y = (start.x - end.x) / 2, (start.y - end.y) / 2
        px, py = c * half_x + s * half_y, -s * half_x + c * half_y
        reach = (px / rx) ** 2 + (py / ry) ** 2
        if reach > 1.0:
            rx, ry = rx * math.sqrt(reach), ry * math.sqrt(reach)
        self.at = end
        if abs(rx - ry) <= 1e-12 * rx:
            # The bulge by chord and radius keeps both ends as they are written.
            self.sketch.path(
                [(*start, _bulge(start, end, rx, large, sweep)), (*end, 0.0)], False, self.m, self.tag
            )
            return
        share = (
            math.sqrt(max(0.0, 1.0 / max(reach, 1.0) - 1.0)) if reach >= 1.0 else math.sqrt(1.0 / reach - 1.0)
        )
        share = -share if bool(large) == bool(sweep) else share
        qx, qy = share * rx * py / ry, -share * ry * px / rx
        centre = Point(c * qx - s * qy + (start.x + end.x) / 2, s * qx + c * qy + (start.y + end.y) / 2)
        first = math.atan2((py - qy) / ry, (px - qx) / rx)
        way = math.atan2((-py - qy) / ry, (-px - qx) / rx) - first
        way = way % math.tau if sweep else -(-way % math.tau)
        u, v = (rx * c, rx * s), (-ry * s, ry * c)
        self.sketch.oval(centre, u, v, first, way, self.m, self.tag)


def _bulge(start: Point, end: Point, radius: float, large: float, sweep: float) -> float:
    """Return the bulge of a circular arc of SVG, whose sweep flag runs with rising angles."""
    half = math.asin(min(1.0, start.to(end) / (2 * radius)))
    quarter = (math.pi - half if large else half) / 2
    return math.tan(quarter) if sweep else -math.tan(quarter)
