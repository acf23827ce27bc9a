"""Overlays: parts that touch along a slant share nothing and make one whole, however their ends round."""

from __future__ import annotations

import pytest
import shapely

from nestkit.geometry.clearance import Body, too_near
from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.overlay import common, rest, whole

SHEET = 6000.0
UPPER = ((0.0, 13.63042084573633), (63.44236367637717, 60.0), (0.0, 60.0))
LOWER = ((63.44236367637717, 60.0), (0.0, 13.630420845736332), (0.0, 0.0), (100.0, 0.0), (100.0, 60.0))


def test_parts_that_touch_share_nothing():
    """Two parts cut from one sheet along a slant share no area, and together are the sheet again."""
    one, other = shapely.Polygon(UPPER), shapely.Polygon(LOWER)
    assert common(one, other).area == pytest.approx(0.0, abs=1e-6)
    assert rest(one, other).area == pytest.approx(one.area, rel=1e-9)
    assert whole([one, other]).area == pytest.approx(SHEET, rel=1e-9)


def test_parts_that_touch_are_not_too_near():
    """Where no gap is asked for, parts that touch along a slant are right as they lie."""
    bodies = [Body(Outline(tuple(Vertex(*p) for p in ring))) for ring in (UPPER, LOWER)]
    assert too_near(bodies, 0.0, 1e-5) == []


def test_what_overlaps_is_still_seen():
    """Moved into one another by a hundredth of a millimetre they are too near."""
    low = Outline(tuple(Vertex(x, y + 0.01) for x, y in LOWER))
    bodies = [Body(Outline(tuple(Vertex(*p) for p in UPPER))), Body(low)]
    assert too_near(bodies, 0.0, 1e-5) == [(0, 1, 0.0)]
