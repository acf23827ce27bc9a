"""A group laid out by true shapes too: the solver is handed in, what it lays verified, the better taken."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Protocol

from nestkit.layout.bounds import Bounds
from nestkit.layout.efforts import Effort
from nestkit.layout.events import Progress
from nestkit.layout.rects.engine.twin import can_compile
from nestkit.layout.result import GroupLayout
from nestkit.layout.shapes.build import BuiltShapes, problems_of
from nestkit.layout.shapes.least import bounds_by_area
from nestkit.layout.shapes.placing import placed_layout
from nestkit.layout.shapes.problem import ShapesLayout, ShapesProblem
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
    ) -> ShapesLayout:
        """Return the best layout found within the effort, the same for the same problem, seed and effort.

        ``stop`` is asked once a round, and True ends the search with the best so far; ``on_event`` is told
        that best.
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

    for built in problems_of(boxes.group):
        if ended:
            break
        heard = _heard(built, bounds, on_event, index)
        laid = solver(built.problem, seed=seed, effort=effort, stop=asked, on_event=heard)
        found = placed_layout(built, laid, bounds, "compiled" if can_compile() else "plain")
        verify_shapes(found)
        best = min(best, found, key=worth)
    return best, ended


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
    plates = built.problem.plates
    by_cost = len({p.cost for p in plates}) > 1
    telling = None if on_event is None else Telling(on_event, index, bounds, by_cost=by_cost)

    def heard(layout: ShapesLayout) -> None:
        if telling is not None:
            cost = sum((plates[p.plate].cost for p in layout.plates), Fraction(0))
            score: Score = (sum(layout.left), cost, len(layout.plates))
            telling(score)

    return heard
