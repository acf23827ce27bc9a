"""Closed loops and how they lie in one another: outlines, and what is cut out of each."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

from nestkit.geometry.distances import Boundary, boundary
from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import disc
from nestkit.job.outlines.crossing import first_meeting
from nestkit.job.outlines.fault import OutlineFault
from nestkit.job.outlines.figures import Ring, Seg, Sketch, Tag
from nestkit.units import SMALLEST

Thing = TypeVar("Thing")

ROW = 0.01
"""Millimetres within which places are in one row or one column."""


@dataclass(frozen=True, slots=True)
class Loop:
    """A closed loop, counter-clockwise, in mm; ``ring`` if it is a circle; ``tags`` where it is from."""

    outline: Outline
    box: Rect
    ring: Ring | None
    tags: tuple[Tag, ...]

    @property
    def names(self) -> frozenset[str]:
        """Every name that the loop goes by: its layers, blocks and groups."""
        return frozenset(name for tag in self.tags for name in tag.names)


@dataclass(frozen=True, slots=True)
class Part:
    """An outline with the loops directly in it."""

    outer: Loop
    inner: tuple[Loop, ...]


def loops_of(sketch: Sketch, strung: Sequence[Sequence[Seg]]) -> list[Loop]:
    """Return the closed loops of a sketch.

    Raises :class:`OutlineFault` where one crosses itself or another, touches it, or is a speck.
    """
    loops = [_loop(segs) for segs in strung] + [_round(ring) for ring in sketch.rings]
    speck = next((loop for loop in loops if max(loop.box.width, loop.box.height) < float(SMALLEST)), None)
    if speck is not None:
        where, long = sketch.where(speck.box.centre), sketch.long(max(speck.box.width, speck.box.height))
        text = f"what is drawn at {where} is only {long} wide and high"
        raise OutlineFault(
            text, 'Sizes begin at 0.1 mm: delete it; if the unit is wrong, write outline_unit = "mm"'
        )
    meeting = first_meeting([loop.outline for loop in loops])
    if meeting is not None:
        where = sketch.where(meeting.at)
        if meeting.first == meeting.second:
            text = f"an outline crosses or touches itself at {where}"
            raise OutlineFault(text, "Draw it so that it runs round the part once")
        text = f"two outlines cross or touch at {where}"
        raise OutlineFault(
            text, "Draw them apart, or put one on a layer that outline_layers lists under ignore"
        )
    return loops


def _loop(segs: Sequence[Seg]) -> Loop:
    outline = Outline(tuple(Vertex(*seg.start, seg.bulge) for seg in segs))
    outline = outline if outline.area > 0 else outline.reversed()
    return Loop(outline, outline.bounds, None, tuple(dict.fromkeys(seg.tag for seg in segs)))


def _round(ring: Ring) -> Loop:
    outline = disc(2 * ring.radius, centre=ring.centre)
    (x, y), r = ring.centre, ring.radius
    return Loop(outline, Rect(x - r, y - r, x + r, y + r), ring, (ring.tag,))


def parts_of(sketch: Sketch, loops: Sequence[Loop]) -> list[Part]:
    """Return the parts of a drawing, from left to right, of one column from bottom to top.

    Raises :class:`OutlineFault` where a loop lies in an opening of another.
    """
    order = sorted(range(len(loops)), key=lambda i: loops[i].box.left)
    lines: dict[int, Boundary] = {}
    around: list[list[int]] = [[] for _ in loops]
    active: list[int] = []
    for j in order:
        box = loops[j].box
        active = [i for i in active if loops[i].box.right > box.left]
        for i in active:
            if loops[i].box.holds(box) and _inside(loops, lines, i, j):
                around[j].append(i)
        active.append(j)
    inner: dict[int, list[int]] = {i: [] for i, outer in enumerate(around) if not outer}
    for j, outer in enumerate(around):
        if len(outer) > 1:
            where = sketch.where(loops[j].box.centre)
            text = f"the loop around {where} lies inside an opening of the part"
            remedy = (
                "Draw what is cut from an opening beside the part; put the line of a step on an ignored layer"
            )
            raise OutlineFault(text, remedy)
        if outer:
            inner[outer[0]].append(j)
    found = [Part(loops[i], tuple(loops[j] for j in held)) for i, held in inner.items()]
    return in_columns(found)


def _inside(loops: Sequence[Loop], lines: dict[int, Boundary], i: int, j: int) -> bool:
    ring, at = loops[i].ring, loops[j].outline.vertices[0].point
    if ring is not None:
        return at.to(ring.centre) < ring.radius
    if i not in lines:
        lines[i] = boundary(loops[i].outline)
    return lines[i].winds_round(at)


def in_columns(parts: Sequence[Part]) -> list[Part]:
    """Return parts from left to right; those that begin at one x from bottom to top."""
    found: list[Part] = []
    for column in _rows(sorted(parts, key=lambda p: p.outer.box.left), lambda p: p.outer.box.left):
        found += sorted(column, key=lambda p: p.outer.box.bottom)
    return found


def in_rows(rings: Sequence[Ring]) -> list[Ring]:
    """Return circles row by row from the bottom up, each from left to right: the order of hole numbers."""
    found: list[Ring] = []
    for row in _rows(sorted(rings, key=lambda r: r.centre.y), lambda r: r.centre.y):
        found += sorted(row, key=lambda r: r.centre.x)
    return found


def _rows(things: Sequence[Thing], at: Callable[[Thing], float]) -> Iterator[list[Thing]]:
    """Yield things in order, those together that lie within ROW of the first of them."""
    row: list[Thing] = []
    for thing in things:
        if row and at(thing) - at(row[0]) > ROW:
            yield row
            row = []
        row.append(thing)
    if row:
        yield row


def within(part: Part, at: Point) -> bool:
    """Say whether a place lies inside a part's outline."""
    return boundary(part.outer.outline).winds_round(at)
