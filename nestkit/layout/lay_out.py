"""A whole job laid out: every group solved, its copies named, its cuts drawn up, and verified."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING, Any

from nestkit.job.model import Group, Job
from nestkit.layout.bars.lay_out import lay_out_bars
from nestkit.layout.bars.result import BarsLayout
from nestkit.layout.bounds import Bounds
from nestkit.layout.build import Built, Copy, cost_unit, problem_of
from nestkit.layout.cuts import saw_plan
from nestkit.layout.cuts_named import named_cuts, offcut_of
from nestkit.layout.efforts import Effort, effort_named
from nestkit.layout.events import Progress
from nestkit.layout.offcuts import free_rests, least_side, worth_keeping
from nestkit.layout.problem import Placed, SheetLayout
from nestkit.layout.reasons import unplaced_of
from nestkit.layout.result import Cut, CutSheet, GroupLayout, JobLayout, Offcut, PlacedPart
from nestkit.layout.sawing import Piece
from nestkit.layout.shapes.build import uses_shapes
from nestkit.layout.solve import solve
from nestkit.layout.solved import Solved
from nestkit.layout.verify import verify
from nestkit.units import grid_mm

if TYPE_CHECKING:
    from nestkit.layout.shapes.lay_out import ShapesSolver
    from nestkit.layout.shapes.problem import ShapesLayout, ShapesProblem


def true_shapes(problem: ShapesProblem, **how: Any) -> ShapesLayout:
    """Solve a problem of true shapes; what that takes is loaded only by jobs that need it."""
    from nestkit.layout.shapes.sheets import solve as solve_shapes

    return solve_shapes(problem, **how)


def lay_out(
    job: Job,
    *,
    seed: int = 1,
    effort: str = "normal",
    on_event: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
    shapes: ShapesSolver | None = true_shapes,
    on_group: Callable[[int, GroupLayout | BarsLayout], None] | None = None,
) -> JobLayout:
    """Lay out a job, sheets and sticks; every group is verified before it is handed out.

    ``stop`` is asked once a round; True ends the search with what is found by then. ``shapes`` lays groups by
    true outlines as well, where parts do not fill their boxes, and the better layout is taken; None: boxes
    alone. ``on_group`` hears of each group once it is laid out, with its place in ``JobLayout.every``. Raises
    :class:`~nestkit.errors.UserError` for an unknown effort, :class:`~nestkit.errors.ToolFault` if a layout
    does not pass its check.
    """
    how_long = effort_named(effort)
    if on_event is not None:
        on_event = _in_units_of(job, on_event)
    groups, stopped = [], False
    for index, group in enumerate(job.groups):
        layout, ended = lay_out_group(
            group, seed=seed, effort=how_long, on_event=on_event, stop=stop, index=index, shapes=shapes
        )
        groups.append(layout)
        if on_group is not None:
            on_group(index, layout)
        stopped = stopped or ended
    bars = []
    for index, bar_group in enumerate(job.bar_groups, len(job.groups)):
        cut, ended = lay_out_bars(
            bar_group, seed=seed, effort=how_long, on_event=on_event, stop=stop, index=index
        )
        bars.append(cut)
        if on_group is not None:
            on_group(index, cut)
        stopped = stopped or ended
    return JobLayout(tuple(groups), seed, effort, stopped, tuple(bars))


def _in_units_of(job: Job, on_event: Callable[[Progress], None]) -> Callable[[Progress], None]:
    """Let events say lengths in the job's unit, and costs as its stock is counted."""

    def heard(event: Progress) -> None:
        cost_in = event.cost_in if event.sticks else cost_unit(job.groups[event.group])
        on_event(replace(event, unit=job.unit, cost_in=cost_in))

    return heard


def lay_out_group(
    group: Group,
    *,
    seed: int,
    effort: Effort,
    on_event: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
    index: int = 0,
    shapes: ShapesSolver | None = true_shapes,
) -> tuple[GroupLayout, bool]:
    """Return a group laid out and verified, and whether the user ended its search."""
    if group.fixed:
        from nestkit.layout.around.lay_out import lay_out_around

        lay = partial(
            lay_out_group, seed=seed, effort=effort, on_event=on_event, stop=stop, index=index, shapes=shapes
        )
        return lay_out_around(group, lay, seed=seed, effort=effort, stop=stop, shapes=shapes)
    built = problem_of(group)
    solved = solve(built.problem, seed=seed, effort=effort, on_event=on_event, stop=stop, group=index)
    layout = _named(group, built, solved)
    verify(layout)
    if shapes is None or solved.stopped or not uses_shapes(group):
        return layout, solved.stopped
    # Shapely is loaded only by jobs that need it.
    from nestkit.layout.shapes.lay_out import better_by_shape

    return better_by_shape(
        layout, solved.bounds, shapes, seed=seed, effort=effort, on_event=on_event, stop=stop, index=index
    )


def _named(group: Group, built: Built, solved: Solved) -> GroupLayout:
    """Give places to copies: those asked for first, spares after them, extras last."""
    waiting = [deque(c) for c in built.copies]
    numbers: dict[str, int] = {}
    sheets = []
    for laid in solved.layout.sheets:
        supply = built.supplies[laid.stock]
        numbers[supply.sheet.name] = numbers.get(supply.sheet.name, 0) + 1
        parts = tuple(_part(p, waiting[p.box].popleft(), built) for p in laid.placed)
        offcuts, cuts = _cut_up(built, laid)
        sheet, cost = supply.sheet, built.problem.cost_of(laid)
        if sheet.roll:
            sheet = sheet.cut_off(grid_mm(built.problem.length_used(laid)))
        sheets.append(CutSheet(sheet, numbers[sheet.name], supply.on_hand, cost, parts, offcuts, cuts))
    # Extras lie at the end of a queue and are never missed.
    missing = zip(waiting, solved.layout.left_over, strict=True)
    unplaced = unplaced_of(group, [c for queue, left in missing for c in list(queue)[:left]])
    bounds = Bounds(None, None) if unplaced else solved.bounds
    cost = sum((s.cost for s in sheets), Fraction(0))
    return GroupLayout(
        group, built.cost_in, tuple(sheets), unplaced, cost, bounds.sheets, bounds.cost, solved.engine
    )


def _part(placed: Placed, copy: Copy, built: Built) -> PlacedPart:
    width, height = built.problem.boxes[placed.box].size(placed.turn)
    return PlacedPart(
        copy.panel, copy.number, copy.opposite_hand, grid_mm(placed.x), grid_mm(placed.y), placed.turn,
        grid_mm(width), grid_mm(height),
    )  # fmt: skip


def _cut_up(built: Built, laid: SheetLayout) -> tuple[tuple[Offcut, ...], tuple[Cut, ...]]:
    """Return a sheet's offcuts and, under a saw, its cuts."""
    problem = built.problem
    stock = problem.stocks[laid.stock]
    sheet = Piece(0, 0, stock.width, problem.length_used(laid))
    parts = []
    for p in laid.placed:
        w, h = problem.boxes[p.box].size(p.turn)
        parts.append(Piece(p.x, p.y, p.x + w, p.y + h))
    if not problem.edge_to_edge:
        return tuple(offcut_of(r) for r in free_rests(sheet, parts, problem.gap)), ()
    plan = saw_plan(
        sheet,
        parts,
        kerf=problem.kerf,
        gap=problem.gap,
        first=problem.first,
        prefer=problem.prefer,
        least_rest=least_side(),
        depth=problem.depth,
    )
    return tuple(offcut_of(r) for r in worth_keeping(plan.rests)), named_cuts(plan)
