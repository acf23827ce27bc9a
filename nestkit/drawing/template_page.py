"""The paper of a template: how it lies, the printer's scale along its sides, its check rulers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from nestkit.drawing.model import Drawing, Inset, Mark
from nestkit.drawing.ruler_strip import fit_to_page, ruler_strip, usual_fits
from nestkit.drawing.rulers import STRIP
from nestkit.geometry.points import Point, Rect
from nestkit.job.model import Printing
from nestkit.units import Unit

MARGIN = 6.35
"""Border that printers may not reach: 1/4 in."""
CLEAR = 1.8
"""Between a ruler's ticks and the drawing."""
LONGEST_PAGE = 5000.0
"""A page off a roll is at most this long."""
USUAL_LENGTH: dict[Unit, float] = {"in": 279.4, "mm": 297.0}
"""How long a page of words off a roll is: a letter's or an A4's."""
LONGEST_RULER = 1000.0
"""A check ruler is no longer than a steel rule."""


@dataclass(frozen=True, slots=True)
class PageShape:
    """A page in mm, and the printer's measured / nominal scale along its x and its y.

    ``open_along`` is the side that a roll leaves open: the page is only as long as needed there.
    """

    width: float
    height: float
    scale_x: float
    scale_y: float
    open_along: str = ""

    @property
    def inner(self) -> Rect:
        """What is left inside the margin, right of and above the check rulers."""
        taken = MARGIN + STRIP + CLEAR
        return Rect(taken, taken, self.width - MARGIN, self.height - MARGIN)

    def shortened(self, width: float, height: float) -> PageShape:
        """Return the page no longer than needed where a roll leaves it open."""
        if self.open_along == "x":
            return replace(self, width=min(self.width, width))
        if self.open_along == "y":
            return replace(self, height=min(self.height, height))
        return self


def page_shapes(printing: Printing) -> tuple[PageShape, PageShape]:
    """Return the paper upright and lying.

    ``scale_x`` of a job belongs to the paper's short side, however the drawing lies on it.
    """
    paper, short, long = printing.paper, printing.scale_x, printing.scale_y
    length = paper.long if paper.long is not None else LONGEST_PAGE
    opens = ("y", "x") if paper.long is None else ("", "")
    return (
        PageShape(paper.short, length, short, long, opens[0]),
        PageShape(length, paper.short, long, short, opens[1]),
    )


def rulers(
    shape: PageShape, unit: Unit, *, below: Sequence[str] = (), left: Sequence[str] = ()
) -> tuple[Mark, ...]:
    """Return the two check rulers of a page, along its lower and its left edge.

    ``below`` and ``left`` are other words for the two strips, the fullest first.
    """
    scale = (shape.scale_x, shape.scale_y)
    own = None if shape.open_along else fit_to_page(shape.width, shape.height, MARGIN)
    across, up = shape.width - 2 * MARGIN, shape.height - 2 * MARGIN - STRIP
    lower, upright = Point(MARGIN, MARGIN), Point(MARGIN, MARGIN + STRIP)
    fits = usual_fits(own)
    return (
        *ruler_strip(
            lower, min(across, LONGEST_RULER), unit, along="x", scale=scale, fits=fits, beside=below
        ),
        *ruler_strip(upright, min(up, LONGEST_RULER), unit, along="y", scale=scale, fits=fits, beside=left),
    )


def window_on(part: Drawing, window: Rect, at: Point, shape: PageShape) -> Inset:
    """Return a window on a drawing at full size, its lower left ``at`` on the page.

    What is drawn is corrected by the printer's scale, so that it measures full size once printed.
    """
    x, y = 1 / shape.scale_x, 1 / shape.scale_y
    # Half a line's width more, so that lines on the window's edge are whole.
    return Inset(part, Point(at.x - window.left * x, at.y - window.bottom * y), x, y, window.grown(0.3))
