"""What readers of drawings draw on: curves of all kinds under a transform, kept as lines, arcs and rings."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import NamedTuple

from nestkit.geometry.outline import Arc, arc_of
from nestkit.geometry.points import Point
from nestkit.job.outlines.affine import ALIKE, Affine
from nestkit.job.outlines.curves import Homogeneous, Step, bezier_steps, oval_steps
from nestkit.job.outlines.fault import OutlineFault

MOST = 100_000
"""Entities of a file at most, those in repeated blocks counted each time; also lines and arcs."""

FAR = 1e9
"""Millimetres beyond which no drawing of a part lies."""

FLAT = 1e-9
"""Millimetres by which an arc must leave its chord to be one."""


class Tag(NamedTuple):
    """Where a line comes from: its layer, and all names that it goes by (layer, blocks, groups)."""

    layer: str
    names: tuple[str, ...]


class Seg(NamedTuple):
    """A line or, with a bulge, an arc; in mm, y up, where the drawing has it."""

    start: Point
    end: Point
    bulge: float
    tag: Tag

    def turned_round(self) -> Seg:
        """Return the same piece from its other end."""
        return Seg(self.end, self.start, -self.bulge, self.tag)

    @property
    def arc(self) -> Arc:
        """Centre, radius, start and sweep of a piece with a bulge."""
        return arc_of(self.start, self.end, self.bulge)


class Ring(NamedTuple):
    """A full circle."""

    centre: Point
    radius: float
    tag: Tag


@dataclass(slots=True)
class Sketch:
    """All lines of a drawing that count, in mm; texts, what was left out by kind, and all layers there are.

    ``unit`` says in words what the drawing's unit was taken to be, ``factor`` how many mm one is;
    ``curves`` are those that became arcs.
    """

    unit: str = ""
    factor: float = 1.0
    y_down: bool = False
    segs: list[Seg] = field(default_factory=list)
    rings: list[Ring] = field(default_factory=list)
    texts: list[tuple[Point, str]] = field(default_factory=list)
    ignored: Counter[str] = field(default_factory=Counter)
    layers: set[str] = field(default_factory=set)
    seen: int = 0
    curves: int = 0

    def where(self, p: Point) -> str:
        """Return a place as the drawing has it, in its own units."""
        x, y = p.x / self.factor, (-p.y if self.y_down else p.y) / self.factor
        return f"x {_plain(x)}, y {_plain(y)}"

    def long(self, mm: float) -> str:
        """Return a length in the drawing's own units."""
        return _plain(mm / self.factor, 6)

    def count(self) -> None:
        """Count one entity more."""
        self.seen += 1
        self.hold(max(self.seen, len(self.segs), len(self.rings)))

    def hold(self, count: int) -> None:
        """Raise the fault that a drawing has more than can be read, where it has."""
        if count > MOST:
            remedy = "Keep one part in the file, without hatches of single lines or copies of blocks"
            raise OutlineFault(f"the drawing has more than {MOST:,} entities", remedy)

    def path(self, vertices: Sequence[tuple[float, float, float]], closed: bool, m: Affine, tag: Tag) -> None:
        """Draw straight and bulged edges from vertex to vertex."""
        even, sign = m.even, math.copysign(1.0, m.area)
        nexts = [*vertices[1:], vertices[0]] if closed else vertices[1:]
        for (x0, y0, bulge), (x1, y1, _) in zip(vertices, nexts, strict=False):
            if not bulge or even:
                self._add(m.at(x0, y0), m.at(x1, y1), bulge * sign, tag)
                continue
            if (x0, y0) == (x1, y1):
                continue
            arc = arc_of(Point(x0, y0), Point(x1, y1), bulge)
            start, sweep, r = math.radians(arc.start_deg), math.radians(arc.sweep_deg), arc.radius
            self.oval(arc.centre, (r, 0.0), (0.0, r), start, sweep, m, tag)

    def oval(
        self, centre: Point, u: tuple[float, float], v: tuple[float, float], start: float, sweep: float,
        m: Affine, tag: Tag,
    ) -> None:  # fmt: skip
        """Draw a circle, an ellipse or part of one: centre + u cos t + v sin t, t from ``start`` on."""
        c, (ux, uy), (vx, vy) = m.at(*centre), m.along(*u), m.along(*v)
        self._near(c)
        long, other = math.hypot(ux, uy), math.hypot(vx, vy)
        whole = abs(sweep) >= math.tau - 1e-9
        is_round = abs(long - other) <= ALIKE * long and abs(ux * vx + uy * vy) <= ALIKE * long * other
        if is_round and whole:
            self._near(Point(c.x + long, c.y + long))
            self.rings.append(Ring(c, long, tag))
            return
        if is_round:
            way = math.copysign(1.0, ux * vy - uy * vx)
            halves = 1 if abs(sweep) <= math.pi else 2
            at = [start + sweep * i / halves for i in range(halves + 1)]
            ends = [
                Point(c.x + ux * math.cos(t) + vx * math.sin(t), c.y + uy * math.cos(t) + vy * math.sin(t))
                for t in at
            ]
            for a, b in pairwise(ends):
                self._add(a, b, way * math.tan(sweep / halves / 4), tag)
            return
        self.curves += 1
        steps = oval_steps(c, (ux, uy), (vx, vy), start, sweep)
        self._steps(_closed(steps) if whole else steps, tag)

    def bezier(self, points: Sequence[Homogeneous], m: Affine, tag: Tag) -> None:
        """Draw a rational Bezier curve; each control point is x w, y w, w."""
        placed = []
        for xw, yw, w in points:
            x, y = m.along(xw, yw)
            placed.append((x + m.e * w, y + m.f * w, w))
            self._near(Point(placed[-1][0], placed[-1][1]))
        self._steps(bezier_steps(placed), tag)

    def _steps(self, steps: Iterator[Step], tag: Tag) -> None:
        for start, end, bulge in steps:
            self._add(start, end, bulge, tag)

    def _add(self, start: Point, end: Point, bulge: float, tag: Tag) -> None:
        self._near(start)
        self._near(end)
        if abs(bulge) * start.to(end) / 2 < FLAT:
            bulge = 0.0
        self.segs.append(Seg(start, end, bulge, tag))
        if len(self.segs) > MOST:
            self.count()

    def _near(self, p: Point) -> None:
        if not (abs(p.x) <= FAR and abs(p.y) <= FAR):
            raise OutlineFault("a place in the drawing is beyond all bounds", "Draw the part near the origin")


def _closed(steps: Iterator[Step]) -> Iterator[Step]:
    """Yield the steps of a curve that ends where it began, to the last digit."""
    first: Point | None = None
    last: Step | None = None
    for step in steps:
        first = step[0] if first is None else first
        if last is not None:
            yield last
        last = step
    if last is not None and first is not None:
        yield last[0], first, last[2]


def _plain(value: float, places: int = 4) -> str:
    return f"{round(value, places) + 0.0:.{places}f}".rstrip("0").rstrip(".")
