"""A group laid out around copies that are held and regions that are kept clear."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from nestkit.job.model import Group
from nestkit.layout.around.assemble import Ready, assembled, readied
from nestkit.layout.around.kept import Fixed, called, staying
from nestkit.layout.around.match import numbered
from nestkit.layout.around.plate import fill
from nestkit.layout.around.rest import rest_solved
from nestkit.layout.around.scene import Scene
from nestkit.layout.around.search import Attempt, searched
from nestkit.layout.bounds import Bounds, bounds_of
from nestkit.layout.efforts import Effort
from nestkit.layout.result import GroupLayout
from nestkit.layout.shapes.build import uses_shapes
from nestkit.layout.stop import Score
from nestkit.layout.verify import verify

if TYPE_CHECKING:
    from nestkit.layout.shapes.lay_out import ShapesSolver

ROUNDS = 6
"""Rounds of this search for each round without gain that the effort allows one in plain Python."""


WORK = 30_000
"""Parts that quick rounds set down all together, about."""


def bare(group: Group) -> Group:
    """Return a group of which nothing is held or kept clear."""
    return replace(group, holds=(), sheets=tuple(replace(s, keep_clear=()) for s in group.sheets))


def lay_out_around(
    group: Group,
    lay: Callable[[Group], tuple[GroupLayout, bool]],
    *,
    seed: int,
    effort: Effort,
    stop: Callable[[], bool] | None = None,
    shapes: ShapesSolver | None = None,
) -> tuple[GroupLayout, bool]:
    """Return a group laid out with all that is asked kept, verified, and whether the user ended the search.

    ``lay`` lays a group of which nothing is asked. Where its layout of this group can be numbered so that all
    is kept, that is the answer: no layout around it is better. Else sheets are filled around what is held and
    kept clear, once with all that can stay where it was, once from the start, again and again in shaken
    orders; sheets of which nothing is asked are laid again by the search for boxes, and all by true shapes.
    """
    scene = Scene(group)
    first, ended = lay(bare(group))
    first = _of(group, first)
    bounds = _bounds(scene, first)
    shaped = shapes is not None and uses_shapes(group)
    same = _numbered(scene, first, bounds, shaped=shaped)
    if same is not None:
        return same, ended

    def asked() -> bool:
        nonlocal ended
        ended = ended or (stop is not None and stop())
        return ended

    def met(score: Score) -> bool:
        left, cost, sheets = score
        known = (len(first.unplaced), first.cost, len(first.sheets))
        return score <= known or (not left and bounds.reached_by(cost, sheets))

    only_held: Fixed = {number: list(parts) for number, parts in scene.held.items()}
    attempt = searched(
        scene,
        [staying(scene, first), only_held],
        seed=seed,
        rounds=effort.no_gain * ROUNDS,
        work=WORK * (1 + effort.deep // 25),
        met=met,
        stop=asked,
    )
    if not met(attempt.score(scene)) and not asked():
        attempt = rest_solved(scene, attempt, seed=seed, effort=effort, stop=asked)
    sheets = readied(scene, _with_extras(scene, attempt).plates)
    if shaped and shapes is not None and not met(attempt.score(scene)) and not asked():
        from nestkit.layout.around.by_shape import better_by_shape_around

        sheets = better_by_shape_around(scene, sheets, first, shapes, seed=seed, effort=effort, stop=asked)
    layout = assembled(scene, sheets, bounds, first.engine, true_shapes=shaped)
    judge(layout)
    return layout, ended


def judge(layout: GroupLayout) -> None:
    """Raise :class:`~nestkit.errors.ToolFault` where a layout cannot be made as it stands.

    Held copies may lie at any angle, where any path can be cut, and closer than their boxes.
    """
    if layout.group.way.edge_to_edge:
        verify(layout)
        return
    # Shapely is loaded only by jobs that need it.
    from nestkit.layout.shapes.verify import verify_shapes

    verify_shapes(layout)


def _of(group: Group, layout: GroupLayout) -> GroupLayout:
    """Return a layout of the bare group as one on the group's own sheets."""
    own = {s.name: s for s in group.sheets}
    sheets = tuple(replace(s, stock=own[s.stock.name]) for s in layout.sheets)
    return replace(layout, group=group, sheets=sheets)


def _bounds(scene: Scene, layout: GroupLayout) -> Bounds:
    """Return what no layout can beat: what is held and kept clear only takes layouts away."""
    if not layout.unplaced:
        return Bounds(layout.least_sheets, layout.least_cost)
    bounds = bounds_of(scene.built.problem)
    if not uses_shapes(scene.group):
        return bounds
    from nestkit.layout.shapes.least import bounds_by_area

    return bounds_by_area(scene.group, bounds)


def _numbered(scene: Scene, first: GroupLayout, bounds: Bounds, *, shaped: bool) -> GroupLayout | None:
    """Return the layout made without marks under numbers that keep them, None where there are none."""
    found = numbered(scene, first)
    if found is None:
        return None
    names = called(scene, [parts for _, parts in found])
    sheets = [
        Ready(scene.stock_of(*number), number[1], tuple(parts))
        for (number, _), parts in zip(found, names, strict=True)
    ]
    layout = assembled(scene, sheets, bounds, first.engine, true_shapes=shaped)
    if len(layout.unplaced) > len(first.unplaced):
        # An extra is held where a copy that is needed lay.
        return None
    judge(layout)
    return layout


def _with_extras(scene: Scene, attempt: Attempt) -> Attempt:
    """Return an attempt with the extras that have room beside what is needed."""
    _, extras = scene.copies_left([p for plate in attempt.plates for p in plate.fixed])
    boxes = scene.built.problem.boxes
    order = sorted(range(len(extras)), key=lambda b: (-boxes[b].width * boxes[b].height, b))
    fill(attempt.plates, [b for b in order for _ in extras[b]], 0, spread=False)
    return attempt
