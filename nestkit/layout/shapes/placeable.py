"""Kinds that no plate holds left out of a problem, so that the others are laid as if alone."""

from __future__ import annotations

from dataclasses import replace

from nestkit.layout.shapes.problem import Kind, Plate, ShapesLayout, ShapesProblem
from nestkit.layout.shapes.turning import slack

HAIR = 1e-9
"""Millimetres that a plate may lack by rounding."""


def placeable(problem: ShapesProblem) -> tuple[ShapesProblem, tuple[int, ...]]:
    """Return a problem of the kinds that some plate holds, and which kinds those are."""
    kept = tuple(k for k, kind in enumerate(problem.kinds) if _fits(kind, problem.plates))
    return replace(problem, kinds=tuple(problem.kinds[k] for k in kept)), kept


def _fits(kind: Kind, plates: tuple[Plate, ...]) -> bool:
    # Mirrored and turned, a shape is as large as turned the other way.
    turns = (*kind.turns, *(-t for t in kind.turns)) if kind.either_hand else kind.turns
    return any(slack(kind.shape, turn, plates) >= -HAIR for turn in turns)


def narrowed(layout: ShapesLayout, kept: tuple[int, ...]) -> ShapesLayout:
    """Return a layout of a problem as one of its kinds that are kept; it has no piece of another."""
    number = {k: n for n, k in enumerate(kept)}
    return _renumbered(layout, number, tuple(layout.left[k] for k in kept))


def widened(layout: ShapesLayout, kept: tuple[int, ...], problem: ShapesProblem) -> ShapesLayout:
    """Return a layout of the kinds that are kept as one of all kinds, the others left."""
    left = [kind.count for kind in problem.kinds]
    for k, missing in zip(kept, layout.left, strict=True):
        left[k] = missing
    return _renumbered(layout, dict(enumerate(kept)), tuple(left))


def _renumbered(layout: ShapesLayout, number: dict[int, int], left: tuple[int, ...]) -> ShapesLayout:
    plates = tuple(
        replace(plate, pieces=tuple(replace(p, kind=number[p.kind]) for p in plate.pieces))
        for plate in layout.plates
    )
    return ShapesLayout(plates, left)
