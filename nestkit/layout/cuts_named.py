"""What a saw plan in grid steps is in millimetres: cuts by their pieces' names, and offcuts."""

from __future__ import annotations

from typing import Literal

from nestkit.layout.result import Cut, Offcut
from nestkit.layout.sawing import Piece, SawPlan
from nestkit.units import grid_mm


def offcut_of(rest: Piece) -> Offcut:
    """Return a rest in grid steps as an offcut in mm."""
    return Offcut(
        grid_mm(rest.left),
        grid_mm(rest.bottom),
        grid_mm(rest.right - rest.left),
        grid_mm(rest.top - rest.bottom),
    )


def named_cuts(plan: SawPlan) -> tuple[Cut, ...]:
    """Return the cuts of a plan in mm, each with the name of the piece that it is made through."""
    names: list[Literal["x", "y"]] = ["x", "y"]
    found = []
    for step, cut in enumerate(plan.cuts, 1):
        piece = "sheet" if cut.parent is None else f"{cut.parent + 1}{'ab'[cut.side]}"
        across = 1 - cut.axis
        start, end = cut.piece[across], cut.piece[across + 2]
        found.append(
            Cut(step, piece, names[cut.axis], grid_mm(cut.at), grid_mm(start), grid_mm(end), cut.trim)
        )
    return tuple(found)
