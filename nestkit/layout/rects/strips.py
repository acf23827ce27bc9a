"""Rips, then cross-cuts: parts in strips across the sheet, stacked in a strip where a third cut may follow.

The layouts are what a person at a saw would do, need few fence settings, and stay quick with
thousands of parts, since equal parts are counted rather than tried one by one.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from nestkit.layout.problem import Layout, Problem
from nestkit.layout.rects.filling import Filling, fill, in_order
from nestkit.layout.rects.greedy import choose_sheet, stock_order
from nestkit.layout.rects.room import RULES, Place, Size
from nestkit.layout.rects.space import Laid, Space, rectangles, score_of, space_of
from nestkit.layout.stop import Stop


@dataclass(frozen=True, slots=True)
class Way:
    """How a try fills strips: along x or along y, how parts lie, the order in which they are taken."""

    along_x: bool
    lie: str
    key: tuple[float, ...]


def _lying(sizes: tuple[Size, ...], lie: str, along_x: bool) -> Size:
    """Return the size of a part in a strip's own frame (length along it, depth, turn)."""
    ways = [(w, h, t) if along_x else (h, w, t) for w, h, t in sizes]
    if lie == "long":
        return max(ways, key=lambda s: s[0])
    if lie == "deep":
        return max(ways, key=lambda s: s[1])
    return ways[0]


def fill_strips(space: Space, stock: int, counts: list[int], way: Way, stacked: bool) -> Laid:
    """Return one sheet of a stock filled with strips; ``counts`` says how many of each box there are."""
    width, height = space.extent[stock]
    length, depth = (width, height) if way.along_x else (height, width)
    rows = space.sizes[stock]
    lying = {b: _lying(rows[b], way.lie, way.along_x) for b, n in enumerate(counts) if n and rows[b]}
    order = sorted(lying, key=lambda b: (-lying[b][1] * way.key[b], -lying[b][0], b))
    left = {b: counts[b] for b in order}
    laid: Laid = []
    up = 0
    while True:
        lead = next((b for b in order if left[b] and up + lying[b][1] <= depth), None)
        if lead is None:
            return laid
        deep = lying[lead][1]
        _fill_strip(laid, left, order, lying, (up, deep, length), way.along_x, stacked)
        up += deep


def _fill_strip(
    laid: Laid,
    left: dict[int, int],
    order: list[int],
    lying: dict[int, Size],
    strip: tuple[int, int, int],
    along_x: bool,
    stacked: bool,
) -> None:
    """Lay stacks side by side in a strip (its start, depth and length)."""
    up, deep, length = strip
    along = 0
    for b in order:
        long, high, _ = lying[b]
        if high > deep:
            continue
        while left[b] and along + long <= length:
            top = 0
            # The stack is as long as its first part; what lies on it is no longer.
            for c in order if stacked else (b,):
                size = lying[c]
                while left[c] and size[0] <= long and top + size[1] <= deep and (stacked or not top):
                    left[c] -= 1
                    laid.append((c, _place(along, up + top, size, along_x)))
                    top += size[1]
                if top == 0:
                    break
            if top == 0:
                left[b] -= 1
                laid.append((b, _place(along, up, lying[b], along_x)))
            along += long


def _place(along: int, up: int, size: Size, along_x: bool) -> Place:
    long, deep, turn = size
    return (along, up, long, deep, turn) if along_x else (up, along, deep, long, turn)


class Strips:
    """The best of some layouts in strips, with the order of parts shaken from try to try."""

    name = "strips"

    def supports(self, problem: Problem) -> bool:
        """Say whether the solver can lay this problem: strips need two directions of cutting."""
        return problem.depth >= 2

    def __call__(self, problem: Problem, *, seed: int, stop: Stop, start: Layout | None = None) -> Layout:
        """Return the best layout found before ``stop`` ends the search, or ``start`` if that is better."""
        space = space_of(problem)
        rng = Random(seed)
        best = start or space.layout([])
        ways = [
            d
            for d in (True, False)
            if problem.first in ("any", "x" if d else "y") or not problem.edge_to_edge
        ]
        attempt = 0
        tries = [(along, lie) for lie in ("long", "deep", "asked") for along in ways]
        while not stop(score_of(problem, best)):
            along, lie = tries[attempt % len(tries)]
            noise = 0.0 if attempt < len(tries) else 0.5 * rng.random()
            key = tuple(1 + noise * (2 * rng.random() - 1) for _ in problem.boxes)
            layout = self._lay(space, Way(along, lie, key))
            if score_of(problem, layout) < score_of(problem, best):
                best = layout
            attempt += 1
        return best

    def _sheet(self, space: Space, stock: int, counts: list[int], way: Way, stacked: bool) -> Laid:
        laid = fill_strips(space, stock, counts, way, stacked)
        if space.sawable is None or space.sawable(rectangles(laid)):
            return laid
        # A sheet with one strip only cannot start with the rips that the job asks for.
        sheet = Filling(space, stock)
        boxes = [b for b, n in enumerate(counts) for _ in range(n)]
        fill([sheet], in_order(boxes, space.area, 0, Random(0)), RULES.index("area"), spread=False)
        return sheet.laid

    def _lay(self, space: Space, way: Way) -> Layout:
        problem = space.problem
        stacked = problem.depth >= 3
        counts = [b.quantity for b in problem.boxes]
        order = stock_order(space)
        used = [0] * len(problem.stocks)
        sheets = []
        while any(counts):
            trials = [
                (s, self._sheet(space, s, counts, way, stacked))
                for s in order
                if problem.stocks[s].count is None or used[s] < (problem.stocks[s].count or 0)
            ]
            chosen = choose_sheet(space, trials, sum(counts))
            if chosen is None:
                break
            stock, laid = chosen
            used[stock] += 1
            sheets.append((stock, laid))
            for b, _ in laid:
                counts[b] -= 1
        return space.layout(sheets)
