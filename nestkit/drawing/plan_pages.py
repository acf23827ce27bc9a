"""Plans on paper: sections of columns side by side, each page with its foot and its number."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from nestkit.drawing.model import Drawing, Inset, Mark, Text
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.template_page import MARGIN
from nestkit.drawing.type import fitted
from nestkit.geometry.points import Point, Rect
from nestkit.job.model import Paper

EDGE = MARGIN + 6.0
_ROLL_PAGE = 297.0
"""How long a page off a roll is: an A4's."""
_LEAST_PAGE = 200.0
"""Smaller papers carry a page of this width and height, made smaller."""
_COLUMN = 185.0
"""Least width of a column; on wide paper several stand side by side."""
_BETWEEN = 12.0
_FOOT, _FOOT_LINE = 10.0, 4.2
"""Room of the foot, of two lines at most, and from one line to the next."""


@dataclass(frozen=True, slots=True)
class Section:
    """What belongs together: a title, the columns that it takes, two lines at most at the foot of a page."""

    title: str
    columns: Sequence[Flow]
    foot: tuple[str, ...]


class PlanPaper:
    """A job's paper as plans use it: the page, its room, and how many columns of what size stand in it."""

    def __init__(self, paper: Paper) -> None:
        """Turn small papers into larger pages that are printed smaller."""
        width, height = paper.short, _ROLL_PAGE if paper.long is None else paper.long
        self._shrunk = min(1.0, width / _LEAST_PAGE, height / _LEAST_PAGE)
        self.page = Rect(0.0, 0.0, width / self._shrunk, height / self._shrunk)
        self.room = Rect(EDGE, EDGE + _FOOT, self.page.right - EDGE, self.page.top - EDGE)
        self._side_by_side = int((self.room.width + _BETWEEN) / (_COLUMN + _BETWEEN)) or 1
        width = (self.room.width + _BETWEEN) / self._side_by_side - _BETWEEN
        self.column = Rect(0.0, 0.0, width, self.room.height)

    def pages(self, sections: Iterable[Section], what: str) -> tuple[Drawing, ...]:
        """Return the pages of all sections, numbered through; ``what`` is the plan's name."""
        laid: list[tuple[Section, list[Mark]]] = []
        for section in sections:
            for first in range(0, len(section.columns), self._side_by_side):
                marks: list[Mark] = []
                for place, flow in enumerate(section.columns[first : first + self._side_by_side]):
                    marks += flow.marks(
                        self.room.left + place * (self.column.width + _BETWEEN), self.room.top
                    )
                laid.append((section, marks))
        return tuple(self._finished(s, m, n, len(laid), what) for n, (s, m) in enumerate(laid, 1))

    def _finished(self, section: Section, marks: list[Mark], number: int, count: int, what: str) -> Drawing:
        foot: list[Mark] = []
        last = len(section.foot) - 1
        for row, said in enumerate(section.foot):
            text, size = fitted(said, self.room.width - 30.0, 3.0, least=1.8)
            foot.append(Text(Point(self.room.left, EDGE + _FOOT_LINE * (last - row)), text, size))
        of = Text(Point(self.room.right, EDGE), f"page {number} of {count}", 3.8, anchor="end")
        title = f"{what}: {section.title}"
        page = Drawing(self.page.width, self.page.height, (*marks, *foot, of), title)
        if self._shrunk == 1.0:
            return page
        inset = Inset(page, Point(0.0, 0.0), self._shrunk, self._shrunk)
        return Drawing(page.width * self._shrunk, page.height * self._shrunk, (inset,), title)
