"""A large template on those pages alone that have something to mark, laid by edges or a measured mark."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from nestkit.drawing.clusters import Cluster, clusters
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Mark, Text, line
from nestkit.drawing.punch import reach
from nestkit.drawing.rulers import accepted
from nestkit.drawing.template_checks import PEN_RULE
from nestkit.drawing.template_facts import Facts
from nestkit.drawing.template_labels import Field
from nestkit.drawing.template_map import placed_map
from nestkit.drawing.template_page import PageShape, rulers, window_on
from nestkit.drawing.template_part import part_field, part_labels, part_lines
from nestkit.drawing.template_set import HEAD, LINE, page_head
from nestkit.drawing.template_sides import Item, Span, items_to_mark, straight_sides
from nestkit.drawing.type import ASCENT
from nestkit.geometry.points import Point, Rect
from nestkit.trade.rules import rule
from nestkit.units import MM_PER_INCH, length_text

LEAST_EDGE = 40.0
"""A page is laid along an edge of which it shows this much or more."""
_AWAY = 8.0
"""A mark line keeps this far from the sides of its page."""
_TYPES = (3.4, 3.0, 2.6)
"""Type of the words along a line: the largest of these that finds room."""
_STEP = 2.5
"""Places for the words of a line are tried this far apart."""


@dataclass(frozen=True, slots=True)
class Page:
    """A window, the box ``around`` what is marked through it, the holes' numbers, what it is laid by.

    ``edges`` are the sides of the part that it shows. Where none lies along an axis, ``mark_x`` or
    ``mark_y`` is the place of a line to measure, in the part's frame.
    """

    window: Rect
    around: Rect
    holes: frozenset[int]
    edges: tuple[str, ...]
    mark_x: float | None
    mark_y: float | None


@dataclass(frozen=True, slots=True)
class Placed:
    """Pages that are not joined."""

    facts: Facts
    sheets: tuple[Page, ...]
    shape: PageShape

    @property
    def count(self) -> int:
        """See :class:`~nestkit.drawing.template_set.PageSet`."""
        return len(self.sheets)

    @property
    def title(self) -> str:
        """See :class:`~nestkit.drawing.template_set.PageSet`."""
        return "Only the pages with something to mark"

    def small(self, width: float, height: float, *, first_page: int, here: int = 0) -> Drawing:
        """See :class:`~nestkit.drawing.template_set.PageSet`."""
        windows, marked = [p.window for p in self.sheets], [p.around for p in self.sheets]
        return placed_map(self.facts, windows, marked, width, height, first_page=first_page, here=here)

    def steps(self, first_page: int) -> list[str]:
        """See :class:`~nestkit.drawing.template_set.PageSet`."""
        steps = [
            self.facts.order,
            *self._measured_first(),
            "The pages are not joined: each is laid by itself, as the line at its head says. Cut the paper "
            "along the edge lines that it names, and tape it.",
        ]
        if any(page.mark_x is not None or page.mark_y is not None for page in self.sheets):
            steps.append("Draw the lines to measure with rule and square, from the edges that meet at DATUM.")
        if not self.facts.by_machine and (
            self.facts.view.openings or len(self.facts.view.outline.vertices) > 4
        ):
            steps.append("Where a straight line to cut runs from page to page, draw it along a rule.")
        return steps

    def _measured_first(self) -> list[str]:
        """Pages laid by the far edges hang on the part's own size: it is measured before they are."""
        view, unit, said = self.facts.view, self.facts.unit, []
        far = "left" if self.facts.back else "right"
        by = rule(PEN_RULE)
        for side, word, size in ((far, "width", view.width), ("upper", "height", view.height)):
            if any(side in page.edges for page in self.sheets):
                said.append(f"{word} {accepted(size, by.mm(by.typical), unit)}")
        return [f"Measure the part: {'; '.join(said)}. If it is out, true it first."] if said else []

    def pages(self, before: int) -> tuple[tuple[Drawing, ...], tuple[int, ...]]:
        """Return the pages after a cover of ``before``, and the holes that found no room for a label."""
        drawn: list[Drawing] = []
        unlabelled: set[int] = set()
        for number, page in enumerate(self.sheets, start=1):
            holes = [h for h in self.facts.view.holes if h.number in page.holes]
            lines = _mark_lines(page, self.facts)
            labels = part_labels(self.facts, holes, page.window, [m.bounds.grown(0.5) for m in lines])
            unlabelled.update(labels.unlabelled)
            drawn.append(
                self._page(number, page, (*part_lines(self.facts, holes), *lines, *labels.marks), before)
            )
        return tuple(drawn), tuple(sorted(unlabelled))

    def _page(self, number: int, page: Page, marks: tuple[Mark, ...], before: int) -> Drawing:
        shape, area = self.shape, self.facts.area
        seen = Drawing(area.width, area.height, marks)
        content = (
            window_on(seen, page.window, Point(shape.inner.left, shape.inner.bottom), shape),
            *page_head(
                self.facts, self, shape, number=number, before=before, own_lines=(_laid_by(page, self.facts),)
            ),
            *rulers(shape, self.facts.unit),
        )
        return Drawing(shape.width, shape.height, content, f"{self.facts.title} {number + before}")


def placed_pages(facts: Facts, shapes: Sequence[PageShape]) -> Placed | None:
    """Return the template on the fewest such pages, or None where it cannot be used in this way.

    Edges must be there before it is used: those at the datum, and straight ones. Off a roll nothing
    is gained.
    """
    sides, area = straight_sides(facts), facts.area
    if "lower" not in sides or _datum_side(facts) not in sides:
        return None
    best: Placed | None = None
    for shape in shapes:
        wide = shape.inner.width * shape.scale_x
        high = (shape.inner.height - HEAD - LINE) * shape.scale_y
        if shape.open_along or min(wide, high) < 2 * LEAST_EDGE:
            continue
        items = items_to_mark(facts, wide, high)
        found = clusters([item.box.common(area) for item in items], area, wide, high)
        if found and (best is None or len(found) < best.count):
            pages = (_sheet(c, [items[i] for i in c.members], facts, sides) for c in found)
            best = Placed(facts, tuple(pages), shape)
    return best and replace(best, facts=_looser(best))


def _looser(placed: Placed) -> Facts:
    """Return the facts with what may be read between marks of two pages: each page is laid by hand, too."""
    by, facts = rule(PEN_RULE), placed.facts
    page_of = {n: i for i, page in enumerate(placed.sheets) for n in page.holes}
    checks = []
    for check in facts.checks:
        pages = {page_of[n] for n in check.holes}
        out = check.out + (len(pages) if check.corner or len(pages) > 1 else 0) * by.mm(by.typical)
        checks.append(replace(check, out=out, says=accepted(Fraction(check.length), out, facts.unit)))
    return replace(facts, checks=tuple(checks))


def _datum_side(facts: Facts) -> str:
    return "right" if facts.back else "left"


def _sheet(cluster: Cluster, items: Sequence[Item], facts: Facts, sides: dict[str, Span]) -> Page:
    window = cluster.window
    # The edge at the datum is the better one to lay a page by where it shows both.
    across = next((s for s in (_datum_side(facts), "left", "right") if _shows(window, s, facts, sides)), None)
    up = next((s for s in ("lower", "upper") if _shows(window, s, facts, sides)), None)
    holes = frozenset[int]().union(*(item.holes for item in items))
    clear = [Rect(*h.at, *h.at).grown(reach(h.dia)) for h in facts.view.holes if h.number in holes]
    for outline in facts.view.outlines:
        # A line to measure that runs along one to cut would be taken for it.
        edges = [Rect(min(a.x, b.x), min(a.y, b.y), max(a.x, b.x), max(a.y, b.y)) for a, b in outline.edges()]
        clear += [e.grown(0.8) for e in edges if min(e.width, e.height) < 1e-6]
    return Page(
        window=window,
        around=cluster.around,
        holes=holes,
        edges=tuple(s for s in (across, up) if s),
        mark_x=None if across else _mark_place(window, clear, facts, "x"),
        mark_y=None if up else _mark_place(window, clear, facts, "y"),
    )


def _shows(window: Rect, side: str, facts: Facts, sides: dict[str, Span]) -> bool:
    """Say whether a window shows enough of a side to lay it by."""
    if side not in sides:
        return False
    part, (start, end) = facts.part_box, sides[side]
    if side in ("left", "right"):
        at = part.left if side == "left" else part.right
        inside, first, last = window.left <= at <= window.right, window.bottom, window.top
    else:
        at = part.bottom if side == "lower" else part.top
        inside, first, last = window.bottom <= at <= window.top, window.left, window.right
    return inside and min(end, last) - max(start, first) >= LEAST_EDGE


def _mark_place(window: Rect, clear: Sequence[Rect], facts: Facts, axis: str) -> float:
    """Return where a line to measure crosses a page: at a whole figure, off the holes if it can be."""
    step = float(MM_PER_INCH / 2) if facts.unit == "in" else 10.0
    low, high = (window.left, window.right) if axis == "x" else (window.bottom, window.top)
    middle = (low + high) / 2
    width = float(facts.view.width)
    mirrored = axis == "x" and facts.back
    places = [i * step for i in range(1, int(max(width, float(facts.view.height)) / step) + 1)]
    places = [width - p if mirrored else p for p in places]
    places = [p for p in places if low + _AWAY <= p <= high - _AWAY] or [middle]
    for room in (_TYPES[0] + 1.0, 0.5):
        for p in sorted(places, key=lambda p: abs(p - middle)):
            lane = Rect(p - room, window.bottom, p + 0.5, window.top)
            if axis == "y":
                lane = Rect(window.left, p - 0.5, window.right, p + room)
            if not any(lane.meets(box) for box in clear):
                return p
    return min(places, key=lambda p: abs(p - middle))


def _measured(page: Page, facts: Facts) -> tuple[str, str]:
    """How far the lines to measure are from the part's edges at the datum: across, and up."""
    x = y = ""
    if page.mark_x is not None:
        place = float(facts.view.width) - page.mark_x if facts.back else page.mark_x
        x = f"{length_text(place, facts.unit)} {facts.unit} from the {_datum_side(facts)} edge"
    if page.mark_y is not None:
        y = f"{length_text(page.mark_y, facts.unit)} {facts.unit} from the lower edge"
    return x, y


def _laid_by(page: Page, facts: Facts) -> str:
    """Return how a page is laid on the sheet, in one sentence."""
    x, y = _measured(page, facts)
    edges = " and the ".join(page.edges)
    if len(page.edges) == 2:
        return f"Lay the {edges} edge line on the part's edges."
    if page.edges:
        return f"Lay the {edges} edge line on the part's edge, the MARK line on a line {x or y}."
    return f"Lay the MARK lines on two lines: {x}, {y}."


def _mark_lines(page: Page, facts: Facts) -> list[Mark]:
    """The lines to measure, across the page, each with what it is written along it."""
    window, marks = page.window, list[Mark]()
    field = part_field(facts, window)
    x, y = _measured(page, facts)
    lines: list[tuple[str, Point, Point, float]] = []
    if page.mark_x is not None:
        upper, lower = Point(page.mark_x, window.top), Point(page.mark_x, window.bottom)
        lines.append((x, upper, lower, 90.0))
    if page.mark_y is not None:
        right, left = Point(window.right, page.mark_y), Point(window.left, page.mark_y)
        lines.append((y, right, left, 0.0))
    for _, end, start, _ in lines:
        marks.append(line(start, end, Layer.NOTE_NO_CUT))
        field.take_line(start, end)
    for place, end, start, turn in lines:
        for text in _written(place, end, start, turn, field):
            field.take(text.bounds)
            marks.append(text)
    return marks


def _written(place: str, end: Point, start: Point, turn_deg: float, field: Field) -> list[Text]:
    """The words along a line, at the first place from its end that is free on either side.

    Where there is none they are set smaller, then shorter: the line at the page's head says all of it.
    """
    for words in (f"MARK {place}", f"MARK {place.partition(' from ')[0]}", "MARK"):
        for height in _TYPES:
            for i in range(int(end.to(start) / _STEP)):
                back = 2.0 + i * _STEP
                for away in (1.2, -1.2 - ASCENT * height):
                    foot = end.moved(-away, -back) if turn_deg else end.moved(-back, away)
                    text = Text(foot, words, height, Layer.LABEL, "end", turn_deg, bold=True)
                    if field.free(text.bounds):
                        return [text]
    return []
