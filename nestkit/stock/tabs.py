"""The holding tabs that a way of cutting leaves along an outline."""

from __future__ import annotations

from nestkit.geometry.outline import Outline
from nestkit.geometry.tabs import Spot, tab_count, tab_spots
from nestkit.stock.relief import as_relieved
from nestkit.stock.ways import Way


def tabs_on(outline: Outline, way: Way) -> tuple[Spot, ...]:
    """Return where tabs hold a part, as drawn; none where the way of cutting asks for none."""
    if way.tabs is None:
        return ()
    cut = as_relieved(outline, way, opening=False).outline
    return tab_spots(cut, float(way.tabs.width), tabs_wanted(outline, way), float(way.kerf))


def tabs_wanted(outline: Outline, way: Way) -> int:
    """Return how many tabs a part has if its edge has room for all."""
    if way.tabs is None:
        return 0
    every = None if way.tabs.every is None else float(way.tabs.every)
    return tab_count(outline, way.tabs.count, every)
