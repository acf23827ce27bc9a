"""A group laid out by true shapes too: the solver is handed in, what it lays verified, the better taken."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from functools import partial
from typing import Protocol

from nestkit.layout.bounds import Bounds
from nestkit.layout.efforts import Effort
from nestkit.layout.events import Progress
from nestkit.layout.rects.engine.twin import can_compile
from nestkit.layout.result import GroupLayout
from nestkit.layout.shapes.build import BuiltShapes, laid_by_boxes, problems_of
from nestkit.layout.shapes.engine import SHAPES
from nestkit.layout.shapes.least import bounds_by_area
from nestkit.layout.shapes.placing import placed_layout
from nestkit.layout.shapes.problem import Least, ShapesLayout, ShapesProblem, worth_of
from nestkit.layout.shapes.turning import with_more_turns
from nestkit.layout.shapes.verify import verify_shapes
from nestkit.layout.solved import Telling
from nestkit.layout.stop import Score


class ShapesSolver(Protocol):
    """Proposes layouts of true shapes; ``verify_shapes`` decides."""

    def __call__(
        self,
        problem: ShapesProblem,
        *,
        seed: int,
        effort: Effort,
        stop: Callable[[], bool],
        on_event: Callable[[ShapesLayout], None],
        start: ShapesLayout | None,
        least: Least,
    ) -> ShapesLayout:
        """Return the best layout found within the effort, the same for the same problem, seed and effort.

        ``stop`` is asked once a round, and True ends the search with the best so far; ``on_event`` is told
        that best. ``start`` is one that is known already, ``least`` what no layout can beat.
        """


def better_by_shape(
    boxes: GroupLayout,
    bounds: Bounds,
    solver: ShapesSolver,
    *,
    seed: int,
    effort: Effort,
    on_event: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
    index: int = 0,
) -> tuple[GroupLayout, bool]:
    """Return the better of a group laid out by boxes and by true shapes, and whether the user ended it.

    ``bounds`` hold for every layout of the group, whichever engine lays it; those by area join them. Raises
    :class:`~nestkit.errors.ToolFault` where what the solver lays does not pass its check.
    """
    bounds = bounds_by_area(boxes.group, bounds)
    best, ended = _bounded(boxes, bounds), False

    def asked() -> bool:
        nonlocal ended
        ended = ended or (stop is not None and stop())
        return ended

    if on_event is not None:
        _notice(boxes, bounds, on_event, index)
    least = Least()
    if bounds.sheets is not None and bounds.cost is not None:
        least = Least(bounds.cost.value, max(math.ceil(bounds.sheets.value), bounds.fewest))
    for built in problems_of(boxes.group):
        if ended:
            break
        heard = _heard(built, bounds, on_event, index)
        start = laid_by_boxes(built, boxes)
        solved = partial(solver, seed=seed, effort=effort, stop=asked, on_event=heard, least=least)
        for laid in with_turns(built.problem, solved, start, least, asked):
            found = placed_layout(built, laid, bounds, "compiled" if can_compile() else "plain")
            verify_shapes(found)
            best = min(best, found, key=worth)
    return best, ended


def with_turns(
    problem: ShapesProblem,
    solved: Callable[..., ShapesLayout],
    start: ShapesLayout | None,
    least: Least,
    stop: Callable[[], bool],
) -> Iterator[ShapesLayout]:
    """Yield what a solver lays, and with more turns where these may help, begun with the layout before."""
    for more in (False, True):
        turned = with_more_turns(problem) if more else problem
        if turned is None or stop():
            return
        start = solved(turned, start=start)
        yield start
        left, cost, plates = worth_of(turned, start)
        if not left and (least.met_by(cost, plates) or not can_compile()):
            # More turns help a search, or a part that has no place in these.
            return


def _bounded(layout: GroupLayout, bounds: Bounds) -> GroupLayout:
    """Return a layout with these bounds, where it has any."""
    if layout.unplaced:
        return layout
    return replace(layout, least_sheets=bounds.sheets, least_cost=bounds.cost)


def worth(layout: GroupLayout) -> tuple[int, Fraction, int, Fraction]:
    """Return what decides between layouts, the least the best: parts left, cost, sheets, largest rest."""
    rest = max((o.width * o.height for s in layout.sheets for o in s.offcuts), default=Fraction(0))
    return len(layout.unplaced), layout.cost, len(layout.sheets), -rest


def _heard(
    built: BuiltShapes, bounds: Bounds, on_event: Callable[[Progress], None] | None, index: int
) -> Callable[[ShapesLayout], None]:
    """Return what tells a user where a search for true shapes stands."""
    if on_event is None:
        return lambda layout: None
    plates = built.problem.plates
    telling = Telling(on_event, index, bounds, by_cost=len({p.cost for p in plates}) > 1)

    def heard(layout: ShapesLayout) -> None:
        telling(worth_of(built.problem, layout))

    return heard


def _notice(boxes: GroupLayout, bounds: Bounds, on_event: Callable[[Progress], None], index: int) -> None:
    """Tell where the search has to be compiled first, or cannot be."""
    telling = Telling(on_event, index, bounds, by_cost=False)
    score: Score = len(boxes.unplaced), boxes.cost, len(boxes.sheets)
    if not can_compile():
        telling.one_by_one(score)
    elif not SHAPES.is_kept():
        telling.preparing(score)
