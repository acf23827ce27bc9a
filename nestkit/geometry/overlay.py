"""Areas laid over one another on a fine grid.

Without a grid the library can lose a large part of an area where edges lie nearly on one another, as those of
parts that touch along a slant do.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely

FINE = 1e-12
"""The grid's step, as a share of the largest coordinate."""


def common(one: Any, other: Any) -> Any:
    """Return what two areas have in common."""
    return shapely.intersection(one, other, grid_size=_step([one, other]))


def rest(one: Any, other: Any) -> Any:
    """Return what is left of an area, or of lines or points, without another."""
    return shapely.difference(one, other, grid_size=_step([one, other]))


def whole(areas: Sequence[Any]) -> Any:
    """Return areas as one."""
    return shapely.union_all(areas, grid_size=_step(areas))


def _step(areas: Sequence[Any]) -> float:
    # Bounds of what is empty are no numbers.
    return FINE * float(np.nanmax(np.abs(shapely.bounds(areas)), initial=1e-9))
