"""Outlines as a way of cutting makes them: with their inner corners relieved, where it is asked to."""

from __future__ import annotations

from nestkit.geometry.outline import Outline
from nestkit.geometry.relief import Relieved, relieved
from nestkit.stock.ways import Way


def as_relieved(outline: Outline, way: Way, *, opening: bool) -> Relieved:
    """Return an outline as it is cut; the same one where no relief is asked for. Twice is as once."""
    if way.relief == "none":
        return Relieved(outline, 0)
    return relieved(outline, float(way.kerf) / 2, opening=opening)
