"""What is worth most on one sheet: not all parts need a place."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import floor

from nestkit.layout.efforts import Effort
from nestkit.layout.problem import Layout, Problem
from nestkit.layout.rects.engine.twin import can_compile
from nestkit.layout.rects.lengthwise import Orders, all_boxes, orders_compiled, orders_plain
from nestkit.layout.rects.space import Laid, space_of


@dataclass(frozen=True, slots=True)
class Valued:
    """What lies on the sheet, its value, and a value that no layout can exceed."""

    layout: Layout
    value: int
    bound: int

    @property
    def proved(self) -> bool:
        """Say whether no layout is worth more."""
        return self.value == self.bound


def most_value(
    problem: Problem,
    values: Sequence[int],
    *,
    seed: int,
    effort: Effort,
    stop: Callable[[], bool] | None = None,
) -> Valued:
    """Return the layout found that is worth most: ``values`` are those of a copy of each box.

    The problem has one sheet. ``stop`` is asked once a round, and True ends the search with the best so far.
    """
    space = space_of(problem)
    boxes = sorted(all_boxes(space), key=lambda b: (-Fraction(values[b], space.area[b]), b))
    bound = _most(space.sheet_area[0], [(values[b], space.area[b]) for b in boxes])
    best: Laid = []
    value = 0
    forms = [(orders_plain, effort.rounds)]
    if effort.deep and can_compile():
        forms.append((orders_compiled, effort.deep))
    for form, rounds in forms:
        search = Orders(space, boxes, form(), seed=seed, worth=values)
        for done in range(rounds):
            # One round is done before anyone is asked.
            if value >= bound or (stop is not None and done and stop()):
                break
            found = search.worth_more()
            if found is not None and sum(values[b] for b, _ in found) > value:
                best, value = found, sum(values[b] for b, _ in found)
    return Valued(space.layout([(0, best)]), value, bound)


def _most(area: int, parts: Sequence[tuple[int, int]]) -> int:
    """Return the most that parts (value, area) can be worth in an area, where parts may be cut.

    Parts come with the most value for their area first (Dantzig, "Discrete-variable extremum problems",
    Operations Research 5, 1957, from memory).
    """
    worth = Fraction(0)
    for value, size in parts:
        if size >= area:
            return floor(worth + Fraction(value * area, size))
        worth, area = worth + value, area - size
    return floor(worth)
