"""Compares the holding tabs in a file that was read back with those that its parts shall have."""

from __future__ import annotations

from collections.abc import Callable

from nestkit.drawing.layers import Layer
from nestkit.errors import ToolFault
from nestkit.geometry.distances import boundary
from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Point
from nestkit.parts.panel import Panel
from nestkit.stock.tabs import tabs_on
from nestkit.stock.ways import Way
from nestkit.writers.dxf_pool import TOLERANCE, Pool
from nestkit.writers.dxf_reader import Stroke


def take_tabs(
    panel: Panel,
    cut: Way,
    there: Callable[[Point], Point],
    edge: Outline,
    strokes: Pool[Stroke],
    factor: float,
) -> None:
    """Take the tabs of one part out of a file's lines: each in its place, across the part's edge.

    ``there`` leads from the part as drawn to the file in mm, ``edge`` is its outline there. Raises
    :class:`~nestkit.errors.ToolFault` for the first tab that is missing or lies otherwise.
    """
    line, who = boundary(edge), f'part "{panel.name}"'
    for spot in tabs_on(panel.outline, cut):
        stroke = strokes.take(there(spot.at), str(Layer.HOLDING_TAB), f"a holding tab of {who}")
        a, b, middle = (Point(p.x * factor, p.y * factor) for p in (stroke.start, stroke.end, stroke.middle))
        if abs(a.to(b) - float(cut.kerf)) > TOLERANCE:
            raise ToolFault(f"a holding tab of {who} is {a.to(b):.4f} mm long, not as the cut is wide")
        if line.distance(middle) > TOLERANCE or line.winds_round(a) == line.winds_round(b):
            raise ToolFault(f"a holding tab of {who} does not lie across its edge")
