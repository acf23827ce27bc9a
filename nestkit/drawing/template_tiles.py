"""A template on pages to join: windows on the whole part, crosses on both pages, neighbours named."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from nestkit.drawing.crosses import cross_box, cross_marks
from nestkit.drawing.datum import datum_word
from nestkit.drawing.model import Drawing, Mark
from nestkit.drawing.punch import reach
from nestkit.drawing.rulers import accepted
from nestkit.drawing.template_facts import Facts
from nestkit.drawing.template_labels import Field
from nestkit.drawing.template_map import tile_map
from nestkit.drawing.template_page import LONGEST_PAGE, PageShape, rulers, window_on
from nestkit.drawing.template_part import part_field, part_labels, part_lines
from nestkit.drawing.template_set import HEAD, page_head
from nestkit.drawing.tile_edges import RIGHT, cut_here, neighbours, seam_edges, trim_lines
from nestkit.drawing.tiles import OVERLAP, Tile, Tiling, tile_count, tiling
from nestkit.errors import UserError
from nestkit.geometry.points import Point, Rect
from nestkit.parts.holes import Hole
from nestkit.parts.marking import PRINT_LIMIT
from nestkit.units import MM_PER_INCH, with_unit

MOST_PAGES = 600
READ_TO = MM_PER_INCH / 64
"""What was joined cannot be read more closely than this with a rule."""


@dataclass(frozen=True, slots=True)
class Joined:
    """Pages to join. ``shape`` is the paper as it lies, shortened where it comes off a roll."""

    facts: Facts
    plan: Tiling
    shape: PageShape

    @property
    def count(self) -> int:
        """See :class:`~nestkit.drawing.template_set.PageSet`."""
        return len(self.plan.tiles)

    @property
    def title(self) -> str:
        """See :class:`~nestkit.drawing.template_set.PageSet`."""
        return f"Tile map: {self.plan.columns} across, {self.plan.rows} up" if self.count > 1 else ""

    def small(self, width: float, height: float, *, first_page: int, here: int = 0) -> Drawing:
        """See :class:`~nestkit.drawing.template_set.PageSet`."""
        return tile_map(self.facts, self.plan, width, height, first_page=first_page, here=here)

    def steps(self, first_page: int) -> list[str]:
        """See :class:`~nestkit.drawing.template_set.PageSet`."""
        # An edge that the print is laid on is sawn before there is anything to lay.
        steps = [self.facts.order] if self.facts.sawn_first else []
        if self.count > 1:
            steps.append(
                f"Start with page {first_page}. Cut each next page along its dashed left and lower line, lay "
                f"it over its neighbours (overlap {with_unit(self.plan.overlap, 'mm')}) so that crosses of "
                "the same letter meet, and tape it."
            )
            steps += _after_joining(self.facts)
        if not self.facts.sawn_first:
            steps.append(self.facts.order)
        if self.facts.drilled or not self.facts.view.holes:
            steps.append(_lay(self.facts))
        return steps

    def pages(self, before: int) -> tuple[tuple[Drawing, ...], tuple[int, ...]]:
        """Return the pages after a cover of ``before``, and the holes that found no room for a label."""
        facts, plan = self.facts, self.plan
        kept_free = [*seam_edges(plan), *(cross_box(cross) for cross in plan.crosses)]
        crosses = [mark for cross in plan.crosses for mark in cross_marks(cross)]
        marks = (*part_lines(facts, facts.view.holes), *crosses)
        content = [(mark, mark.bounds.grown(1.0)) for mark in marks]
        drawn: list[Drawing] = []
        unlabelled: set[int] = set()
        for tile in plan.tiles:
            shown = [h for h in facts.view.holes if tile.window.holds(_to_label(h, plan))]
            labels = part_labels(facts, shown, tile.window, kept_free)
            unlabelled.update(labels.unlabelled)
            here = [mark for mark, box in content if box.meets(tile.window)]
            drawn.append(self._page(tile, (*here, *labels.marks), before))
        return tuple(drawn), tuple(sorted(unlabelled))

    def _page(self, tile: Tile, here: tuple[Mark, ...], before: int) -> Drawing:
        facts, shape, area = self.facts, self.shape, self.facts.area
        shown = Rect(
            shape.inner.left,
            shape.inner.bottom,
            shape.inner.left + tile.window.width / shape.scale_x,
            shape.inner.bottom + tile.window.height / shape.scale_y,
        )
        seen = Drawing(area.width, area.height, (*here, *trim_lines(tile, self.plan.overlap)))
        marks = (
            window_on(seen, tile.window, Point(shape.inner.left, shape.inner.bottom), shape),
            *page_head(facts, self, shape, number=tile.number, before=before),
            *neighbours(tile, shown, before),
            *rulers(shape, facts.unit, below=cut_here(tile.below, before), left=cut_here(tile.left, before)),
        )
        return Drawing(shape.width, shape.height, marks, f"{facts.title} {tile.number + before}")


def joined_pages(facts: Facts, shapes: Sequence[PageShape], paper: str) -> Joined:
    """Return the template on as few pages to join as the paper, upright or lying, allows.

    Raises :class:`~nestkit.errors.UserError` where the paper is too small to be joined.
    """
    shape = _best(facts, shapes, paper)
    usable_x, usable_y = _usable(shape)
    plan = _plan(facts, usable_x * shape.scale_x, usable_y * shape.scale_y)
    return Joined(facts, plan, shape.shortened(*_page_size(plan, shape)))


def _usable(shape: PageShape) -> tuple[float, float]:
    inner = shape.inner
    return inner.width - RIGHT, inner.height - HEAD


def fewest_tiles(facts: Facts, shapes: Sequence[PageShape]) -> int | None:
    """Return the fewest pages to join that show the whole part; None where the paper is too small."""
    return min((count for count, _ in _counts(facts, shapes)), default=None)


def _counts(facts: Facts, shapes: Sequence[PageShape]) -> list[tuple[int, PageShape]]:
    counts = []
    for shape in shapes:
        width, height = (u * s for u, s in zip(_usable(shape), (shape.scale_x, shape.scale_y), strict=True))
        if min(width, height) >= 4 * OVERLAP:
            columns, rows = tile_count(facts.area.width, facts.area.height, width, height)
            counts.append((columns * rows, shape))
    return counts


def _best(facts: Facts, shapes: Sequence[PageShape], paper: str) -> PageShape:
    counts = _counts(facts, shapes)
    if not counts:
        raise UserError(
            f'[printing] paper "{paper}" is too small for a template of "{facts.title}" in pages to join; '
            "choose a larger paper or a roll"
        )
    pages, best = min(counts, key=lambda c: c[0])
    if pages > MOST_PAGES:
        raise UserError(
            f'the template of "{facts.title}" would take {pages} pages of "{paper}", more than anyone can '
            f"join ({MOST_PAGES} are the most); choose a larger [printing] paper or a roll"
        )
    return best


def _plan(facts: Facts, usable_x: float, usable_y: float) -> Tiling:
    """Return the tiling; a hole that no page would show as a whole asks for a wider overlap."""
    holes = facts.view.holes
    keep_off = [Rect(*h.at, *h.at).grown(reach(h.dia)) for h in holes]
    seen = [mark.bounds.grown(1.0) for mark in part_lines(facts, holes)]
    lines = _Lines(facts)

    def shows(window: Rect) -> bool:
        return lines.meet(window) or any(box.meets(window) for box in seen[1:])

    plan = tiling(facts.area, usable_x, usable_y, keep_off, shows=shows, field=_room_for_crosses(facts))
    if all(plan.whole(Rect(*h.at, *h.at).grown(h.dia / 2)) for h in holes):
        return plan
    # A hole too large for any overlap is on several pages whatever is done: it asks for none.
    widest = min(usable_x, usable_y) / 4
    asking = [h.dia for h in holes if math.ceil(h.dia) + 1.0 <= widest]
    overlap = max(OVERLAP, math.ceil(max(asking, default=0.0)) + 1.0)
    return tiling(facts.area, usable_x, usable_y, keep_off, overlap, shows, _room_for_crosses(facts))


def _room_for_crosses(facts: Facts) -> Field:
    """Return what of the whole drawing crosses and their letters keep off."""
    field = part_field(facts, facts.area)
    field.take(datum_word(facts.part_box, back=facts.back).bounds)
    return field


class _Lines:
    """The lines of a part's outline and openings, as short straight pieces."""

    def __init__(self, facts: Facts) -> None:
        self._pieces = []
        for loop in facts.view.outlines:
            points = loop.flattened(0.5)
            self._pieces += list(zip(points, points[1:] + points[:1], strict=True))

    def meet(self, window: Rect) -> bool:
        """Say whether a line shows in a window."""
        return any(_crosses(a, b, window) for a, b in self._pieces)


def _crosses(a: Point, b: Point, box: Rect) -> bool:
    """Say whether a straight piece enters a box: clipped by its four sides, something is left."""
    start, end = 0.0, 1.0
    for low, high, at, way in (
        (box.left, box.right, a.x, b.x - a.x),
        (box.bottom, box.top, a.y, b.y - a.y),
    ):
        if way == 0.0:
            if not low <= at <= high:
                return False
            continue
        enters, leaves = sorted(((low - at) / way, (high - at) / way))
        start, end = max(start, enters), min(end, leaves)
    return start <= end


def _to_label(hole: Hole, plan: Tiling) -> Rect:
    """Return what a page must show of a hole to name it: all of it, or its middle where no page shows all."""
    middle = Rect(*hole.at, *hole.at)
    ring = middle.grown(hole.dia / 2)
    return ring if plan.whole(ring) else middle


def _page_size(plan: Tiling, shape: PageShape) -> tuple[float, float]:
    """Length of a page off a roll: what its largest tile takes."""
    blank_x, blank_y = (shape.width - _usable(shape)[0], shape.height - _usable(shape)[1])
    width = max(t.window.width for t in plan.tiles) / shape.scale_x + blank_x
    height = max(t.window.height for t in plan.tiles) / shape.scale_y + blank_y
    return min(LONGEST_PAGE, math.ceil(width)), min(LONGEST_PAGE, math.ceil(height))


def _lay(facts: Facts) -> str:
    """Say what the joined print is laid on: sawn edges, an outline that is there, or the uncut sheet."""
    if facts.sawn_first:
        return (
            "Lay its lines on the sawn edges, its bracket on the DATUM corner; tape it from there outwards."
        )
    if facts.by_machine:
        return "Lay its outline on the edges of the part, the bracket at the lower left; tape it."
    return (
        "Tape it on the sheet where the picture of the sheet has this part, each copy in a place of its own."
    )


def _after_joining(facts: Facts) -> list[str]:
    """Lengths to check once the pages are joined; diagonals where the part has four true corners."""
    width, height = facts.view.width, facts.view.height
    sizes = [("across", float(width)), ("up", float(height))]
    if facts.view.shape == "rectangle" and len(facts.view.outline.vertices) == 4:
        sizes.append(("both diagonals", math.hypot(width, height)))
    readings = [
        f"{name} {accepted(Fraction(size), max(Fraction(size) * PRINT_LIMIT, READ_TO), facts.unit)}"
        for name, size in sizes
    ]
    return [f"Measure what was joined: {'; '.join(readings)}."]
