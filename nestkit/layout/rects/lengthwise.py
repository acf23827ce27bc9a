"""The search for a shorter piece off a roll, over the orders in which parts are laid.

It works on a problem of one stock, as long as may be used. Lengths are steps of the space, grown by the gap.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from random import Random

from nestkit.layout.rects.engine import carving, chance, orders, skyline, strip
from nestkit.layout.rects.engine.arrays import RANDOM
from nestkit.layout.rects.engine.state import heats, lucks, row_of, seed_number
from nestkit.layout.rects.engine.strip import (
    ACROSS,
    ALL,
    BOTTOM,
    CYCLE,
    DEPTH,
    FIRST,
    FITTED,
    LAID,
    LEFT,
    LEFT_OUT,
    LIMIT,
    PIECES,
    RIGHT,
    SAW,
    SPARE,
    TO_BEAT,
    TOP,
    TURNS,
    new_strip,
)
from nestkit.layout.rects.engine.twin import Form, Kernels
from nestkit.layout.rects.filling import in_order, sort_keys
from nestkit.layout.rects.greedy import greedy
from nestkit.layout.rects.room import RULES, Size
from nestkit.layout.rects.space import Laid, Space, rectangles
from nestkit.layout.rects.strips import Way, fill_strips

ORDERS = Kernels("orders", (chance, strip, skyline, carving, orders))
HEAT = (0.5, 0.02)
"""Shares of the mean part that may be left out for a while, at the start of a cycle and at its end."""
CYCLE_OF = {"plain": 2000, "compiled": 20_000}
WORK = {"plain": 150_000, "compiled": 10_000_000}
"""Parts looked at in a round, about: each part laid looks at all that wait."""
MANY = 400
"""With more parts one order is laid at the start, not one for each measure of size."""
NO_LIMIT = 1 << 30


@cache
def orders_plain() -> Form:
    """Return the skyline's functions in plain Python."""
    return ORDERS.plain()


@cache
def orders_compiled() -> Form:
    """Return the skyline's functions compiled."""
    return ORDERS.compiled()


def length_of(laid: Laid) -> int:
    """Return how far up the highest part reaches."""
    return max((y + h for _, (_, y, _, h, _) in laid), default=0)


def all_boxes(space: Space) -> list[int]:
    """Return every needed part that fits the roll, as the index of its box."""
    boxes = enumerate(space.problem.boxes)
    return [b for b, box in boxes if space.sizes[0][b] for _ in range(box.quantity)]


def first_laid(space: Space) -> Laid:
    """Return the shortest of some quick layouts with the most parts, in any way of cutting."""
    boxes, rng = all_boxes(space), Random(0)
    found: list[Laid] = []
    keys = sort_keys(space)
    for key in keys if len(boxes) <= MANY else keys[:1]:
        for _, laid in greedy(space, in_order(boxes, key, 0, rng), [0], RULES.index("low"), choose=False):
            found.append(laid)
    counts = [0] * len(space.area)
    for b in boxes:
        counts[b] += 1
    for lie in ("long", "deep", "asked"):
        way = Way(True, lie, (1.0,) * len(counts))
        found.append(fill_strips(space, 0, list(counts), way, space.problem.depth >= 3))
    found += in_line(space, boxes)
    if space.sawable is not None:
        found = [laid for laid in found if space.sawable(rectangles(laid))]
    return min(found, key=lambda laid: (-len(laid), length_of(laid)), default=[])


def in_line(space: Space, boxes: list[int]) -> list[Laid]:
    """Return parts one above the other, also with the narrowest beside them, and in a row, as far as they go.

    However few directions the saw may cut in, and whichever comes first, one of these can be sawn if any
    layout can.
    """
    across, most = space.extent[0]
    slim = sorted(((b, min(space.sizes[0][b])) for b in boxes), key=lambda part: part[1][0])
    stack = _stacked([(b, min(space.sizes[0][b], key=lambda size: size[1])) for b in boxes], most)
    rest = _stacked(slim[1:], most)
    wide = max((w for _, (_, _, w, _, _) in rest), default=0)
    found = [stack]
    if slim and wide + slim[0][1][0] <= across:
        found.append([(slim[0][0], (wide, 0, *slim[0][1])), *rest])
    row: Laid = []
    for b, size in slim:
        end = sum(w for _, (_, _, w, _, _) in row)
        if end + size[0] <= across:
            row.append((b, (end, 0, *size)))
    return [*found, row]


def _stacked(parts: list[tuple[int, Size]], most: int) -> Laid:
    laid: Laid = []
    up = 0
    for b, (w, h, turn) in parts:
        if up + h <= most:
            laid.append((b, (0, up, w, h, turn)))
            up += h
    return laid


class Orders:
    """The search, in a form of the engine: along the skyline, or under a saw in rooms that its cuts make."""

    def __init__(
        self, space: Space, boxes: list[int], form: Form, *, seed: int, worth: Sequence[int] | None = None
    ) -> None:
        """Begin with parts, by their boxes, in an order; leaving one out counts its worth, or its area."""
        self.space, self.form, self.boxes = space, form, boxes
        # A part lies in the first of its ways where nothing speaks for another: two kinds for each box.
        pairs = [tuple((w, h) for w, h, _ in ways) for ways in space.sizes[0]]
        sizes = [kind for ways in pairs for kind in (ways, ways[::-1])]
        rows = row_of(form.row, heats(*(t / max(1, len(boxes)) for t in HEAT))), row_of(form.row, lucks())
        self.worth = space.area if worth is None else worth
        self.strip = new_strip(form.row, sizes, [n for n in self.worth for _ in (0, 1)], len(boxes), *rows)
        self.trials = max(1, WORK[form.name] // ((len(boxes) + 10) * max(1, len(boxes))))
        counts, problem = self.strip.counts, space.problem
        counts[RANDOM], counts[ACROSS] = seed_number(seed), space.extent[0][0]
        counts[ALL], counts[TO_BEAT] = sum(self.worth[b] for b in boxes), 1
        counts[FITTED] = int(worth is None)
        counts[TURNS] = int(any(len(ways) > 1 for ways in pairs))
        counts[CYCLE] = CYCLE_OF[form.name]
        counts[SAW], counts[FIRST] = int(problem.edge_to_edge), ("any", "x", "y").index(problem.first)
        counts[DEPTH] = int(min(problem.depth, NO_LIMIT))
        self._put(boxes)

    def start_short(self) -> None:
        """Begin with that of some orders which takes least of the length."""
        keys = sort_keys(self.space) if len(self.boxes) <= MANY else ()
        orders = [self.boxes, *(in_order(self.boxes, key, 0, Random(0)) for key in keys)]
        self._put(min(orders, key=self._length))

    def _put(self, order: list[int]) -> None:
        for i, box in enumerate(order):
            self.strip.order[i] = 4 * box

    def _length(self, order: list[int]) -> tuple[int, int]:
        """Return what an order leaves out at the longest, and the length that it takes."""
        self._put(order)
        longest = sum(max(h for _, h, _ in self.space.sizes[0][b]) for b in order)
        self._aim_at(min(longest, self.space.extent[0][1]))
        return int(self.strip.counts[LEFT_OUT]), length_of(self._laid())

    def _aim_at(self, limit: int) -> None:
        """Lay the order on so much of the length, and note what it leaves out."""
        counts = self.strip.counts
        area = sum(self.space.area[b] for b in self.boxes)
        counts[LIMIT] = limit
        # By other values than areas nothing can be said before all parts have had their turn.
        counts[SPARE] = counts[ACROSS] * limit - (area if self.worth is self.space.area else 0)
        counts[LEFT_OUT] = self.form.functions["lay_all"](self.strip, int(counts[ALL]))

    def shorter(self, length: int) -> Laid | None:
        """Return all parts on less than ``length``, if a round finds such a layout."""
        if self.strip.counts[LIMIT] != length - 1:
            self._aim_at(length - 1)
        return self._better()

    def worth_more(self) -> Laid | None:
        """Return what lies on the whole length, if a round finds what is worth more than any before."""
        counts = self.strip.counts
        if not counts[LIMIT]:
            self._aim_at(self.space.extent[0][1])
            counts[TO_BEAT] = counts[ALL] + 1
        laid = self._better()
        if laid is not None:
            counts[TO_BEAT] = counts[LEFT_OUT]
        return laid

    def _better(self) -> Laid | None:
        """Return what a round finds that leaves out less than is to be beaten."""
        counts = self.strip.counts
        self.form.functions["reorder"](self.strip, self.trials)
        if counts[LEFT_OUT] >= counts[TO_BEAT]:
            return None
        laid = self._laid()
        if self.space.sawable is None or self.space.sawable(rectangles(laid)):
            return laid
        # A single row cannot begin with the cuts that the job asks for: go on as if more were left out.
        counts[LEFT_OUT] = counts[TO_BEAT]
        return None

    def _laid(self) -> Laid:
        found: Laid = []
        for i in range(int(self.strip.counts[PIECES])):
            if not self.strip.laid[i * LAID + RIGHT]:
                continue
            box = int(self.strip.order[i]) >> 2
            x, y, right, top = (int(self.strip.laid[i * LAID + at]) for at in (LEFT, BOTTOM, RIGHT, TOP))
            turn = next(t for w, h, t in self.space.sizes[0][box] if (w, h) == (right - x, top - y))
            found.append((box, (x, y, right - x, top - y, turn)))
        return found
