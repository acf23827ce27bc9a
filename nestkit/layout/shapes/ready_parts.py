"""Convex parts of forms made ready for the compiled union, with what lies on the form's border."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from nestkit.layout.shapes.bench import Parts
from nestkit.layout.shapes.convex import Points
from nestkit.layout.shapes.states import Form

Corner = tuple[float, float]


def ready_parts(forms: Sequence[Form]) -> Parts:
    """Return the parts of forms as flat arrays, the largest of each form first."""
    parts = [part for form in forms for part in form_parts(form)]
    return Parts(
        np.concatenate(parts),
        starts([len(part) for part in parts]),
        starts([len(form.parts) for form in forms]),
    )


def form_parts(form: Form) -> list[NDArray[np.float64]]:
    """Return the parts of a form with the columns of ``Parts.corners``."""
    runs = _runs(form)
    sides = {side for part in form.parts for side in _sides(part)}
    found = []
    for part in sorted(form.parts, key=lambda p: -shapely.Polygon(p).area):
        rows = np.zeros((len(part), 7))
        rows[:, :2] = part
        for k, (at, after) in enumerate(_sides(part)):
            # A corner that is none of the border's, or in it twice, says nothing: zeros.
            rows[k, 2:6] = runs.get(at, (0.0,) * 4)
            rows[k, 6] = (after, at) in sides
        found.append(rows)
    return found


def _sides(part: Points) -> list[tuple[Corner, Corner]]:
    corners = [(float(x), float(y)) for x, y in part]
    return list(zip(corners, corners[1:] + corners[:1], strict=True))


def _runs(form: Form) -> dict[Corner, tuple[float, ...]]:
    """Return how a form's border, its inside on the left, comes to each of its corners and goes on."""
    found: dict[Corner, tuple[float, ...]] = {}
    for area in shapely.get_parts(form.grown):
        whole = shapely.geometry.polygon.orient(area)
        for ring in (whole.exterior, *whole.interiors):
            at = np.asarray(ring.coords)[:-1]
            come, go = at - np.roll(at, 1, axis=0), np.roll(at, -1, axis=0) - at
            for corner, run in zip(at, np.hstack([come, go]), strict=True):
                key = (float(corner[0]), float(corner[1]))
                found[key] = (0.0,) * 4 if key in found else tuple(map(float, run))
    return found


def starts(sizes: Sequence[int]) -> NDArray[np.int64]:
    """Return where each of some stretches begins, and where the last ends."""
    return np.concatenate([[0], np.cumsum(sizes)]).astype(np.int64)
