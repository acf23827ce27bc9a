"""A tube's template on pages to join along it, all its pieces on each page where that is high enough."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from nestkit.drawing.crosses import cross_box, cross_marks
from nestkit.drawing.model import Drawing, Mark
from nestkit.drawing.rulers import accepted
from nestkit.drawing.template_labels import Field
from nestkit.drawing.template_page import LONGEST_PAGE, PageShape, rulers, window_on
from nestkit.drawing.template_set import HEAD, page_head
from nestkit.drawing.template_tiles import MOST_PAGES, READ_TO
from nestkit.drawing.tile_edges import RIGHT, cut_here, neighbours, seam_edges, trim_lines
from nestkit.drawing.tiles import OVERLAP, Tile, Tiling, tile_count, tiling
from nestkit.drawing.tube_facts import TubeFacts
from nestkit.drawing.tube_lines import crosses_keep_off, piece_lines
from nestkit.drawing.tube_map import rows_map
from nestkit.drawing.tube_stack import Stack, grouped
from nestkit.drawing.tube_words import window_words
from nestkit.errors import UserError
from nestkit.geometry.points import Point, Rect
from nestkit.parts.marking import PRINT_LIMIT
from nestkit.units import with_unit

_TOP = 3.5
"""Room above what a page shows, where it names the page that joins there."""


@dataclass(frozen=True, slots=True)
class Run:
    """Pieces that stand on the same pages, their tiling, its tiles numbered through all runs."""

    stack: Stack
    plan: Tiling
    tiles: tuple[Tile, ...]


@dataclass(frozen=True, slots=True)
class JoinedTube:
    """Pages to join. ``shape`` is the paper as it lies, shortened where it comes off a roll."""

    facts: TubeFacts
    runs: tuple[Run, ...]
    shape: PageShape

    @property
    def count(self) -> int:
        """See :class:`~nestkit.drawing.template_set.PageSet`."""
        return sum(len(run.tiles) for run in self.runs)

    @property
    def title(self) -> str:
        """See :class:`~nestkit.drawing.template_set.PageSet`."""
        return "Pages, END 0 at the left" if self.count > 1 else ""

    def small(self, width: float, height: float, *, first_page: int, here: int = 0) -> Drawing:
        """See :class:`~nestkit.drawing.template_set.PageSet`."""
        rows = []
        for run in self.runs:
            for row in reversed(range(run.plan.rows)):
                rows.append((run.stack.name, [t.number for t in run.tiles if t.row == row]))
        return rows_map(rows, width, height, before=first_page - 1, here=here)

    def steps(self, first_page: int) -> list[str]:
        """See :class:`~nestkit.drawing.template_set.PageSet`."""
        steps = [self.facts.saw]
        if any(len(run.tiles) > 1 for run in self.runs):
            overlap = with_unit(max(run.plan.overlap for run in self.runs), "mm")
            steps.append(
                f"Start with page {first_page}. Cut each next page along its dashed left line (and lower, if "
                f"it has one), lay it over its neighbour (overlap {overlap}) so that crosses of the same "
                "letter meet, and tape it."
            )
            steps.append(f"Measure what was joined: {'; '.join(self._readings())}.")
        return [*steps, self.facts.lay]

    def _readings(self) -> list[str]:
        """What each piece must measure along its lower edge, those alike once."""
        said: dict[str, list[str]] = {}
        for run in self.runs:
            for standing in run.stack.standing:
                piece = standing.piece
                long = Fraction(piece.far[0].x - piece.near[0].x)
                reading = accepted(long, max(long * PRINT_LIMIT, READ_TO), self.facts.unit)
                said.setdefault(reading, []).append(piece.name)
        if len(said) == 1:
            return [f"each lower edge line {reading}" for reading in said]
        return [f"lower edge line of {', '.join(names)} {reading}" for reading, names in said.items()]

    def pages(self, before: int) -> tuple[tuple[Drawing, ...], tuple[int, ...]]:
        """Return the pages after a cover of ``before``, and the holes that found no room for a label."""
        drawn: list[Drawing] = []
        unlabelled: set[int] = set()
        for run in self.runs:
            plan = run.plan
            free = [*seam_edges(plan), *(cross_box(cross) for cross in plan.crosses)]
            upright = [
                x for seam in plan.seams() if seam.height > seam.width for x in (seam.left, seam.right)
            ]
            lines = [mark for standing in run.stack.standing for mark in piece_lines(standing)]
            lines += [mark for cross in plan.crosses for mark in cross_marks(cross)]
            for tile in run.tiles:
                words = window_words(run.stack, self.facts.unit, tile.window, free, upright)
                unlabelled.update(words.unlabelled)
                here = [mark for mark in lines if mark.bounds.grown(1.0).meets(tile.window)]
                drawn.append(self._page(run, tile, (*here, *words.marks), before))
        return tuple(drawn), tuple(sorted(unlabelled))

    def _page(self, run: Run, tile: Tile, here: tuple[Mark, ...], before: int) -> Drawing:
        facts, shape, window = self.facts, self.shape, tile.window
        wide, high = window.width / shape.scale_x, window.height / shape.scale_y
        top = shape.inner.top - HEAD - _TOP
        shown = Rect(shape.inner.left, top - high, shape.inner.left + wide, top)
        seen = Drawing(
            run.stack.area.width, run.stack.area.height, (*here, *trim_lines(tile, run.plan.overlap))
        )
        marks = (
            window_on(seen, window, Point(shown.left, shown.bottom), shape),
            *page_head(facts, self, shape, number=tile.number, before=before),
            *neighbours(tile, shown, before),
            *rulers(shape, facts.unit, below=cut_here(tile.below, before), left=cut_here(tile.left, before)),
        )
        return Drawing(shape.width, shape.height, marks, f"{facts.title} {tile.number + before}")


def fewest_joined(facts: TubeFacts, shapes: Sequence[PageShape]) -> int | None:
    """Return the fewest pages to join that show the whole tube; None where the paper is too small."""
    return min((pages for pages, _, _, _ in _tries(facts, shapes)), default=None)


def _tries(facts: TubeFacts, shapes: Sequence[PageShape]) -> list[tuple[int, int, int, PageShape]]:
    """Return for each way to lay the paper how many pages and joints it takes, which it is, and itself."""
    tries = []
    for order, shape in enumerate(shapes):
        wide, high = _usable(shape)
        if min(wide, high) >= 4 * OVERLAP:
            counts = [_count(stack, wide, high) for stack in grouped(facts.pieces, high)]
            pages = sum(columns * rows for columns, rows in counts)
            tries.append((pages, pages - len(counts), order, shape))
    return tries


def joined_tube(facts: TubeFacts, shapes: Sequence[PageShape], paper: str) -> JoinedTube:
    """Return the template on as few pages as the paper, upright or lying, allows; of these the least joints.

    Raises :class:`~nestkit.errors.UserError` where the paper is too small to be joined.
    """
    tries = _tries(facts, shapes)
    if not tries:
        raise UserError(
            f'[printing] paper "{paper}" is too small for a template of "{facts.title}" in pages to join; '
            "choose a larger paper or a roll"
        )
    pages, _, _, shape = min(tries)
    if pages > MOST_PAGES:
        raise UserError(
            f'the template of "{facts.title}" would take {pages} pages of "{paper}", more than anyone can '
            f"join ({MOST_PAGES} are the most); choose a larger [printing] paper or a roll"
        )
    wide, high = _usable(shape)
    runs: list[Run] = []
    for stack in grouped(facts.pieces, high):
        plan = _plan(stack, wide, high)
        before = sum(len(run.tiles) for run in runs)
        runs.append(Run(stack, plan, tuple(_renumbered(tile, before) for tile in plan.tiles)))
    return JoinedTube(facts, tuple(runs), shape.shortened(*_page_size(runs, shape)))


def _usable(shape: PageShape) -> tuple[float, float]:
    """What of a page shows the drawing, in its own millimetres."""
    inner = shape.inner
    return (inner.width - RIGHT) * shape.scale_x, (inner.height - HEAD - _TOP) * shape.scale_y


def _count(stack: Stack, wide: float, high: float) -> tuple[int, int]:
    return tile_count(stack.area.width, stack.area.height, wide, high)


def _plan(stack: Stack, wide: float, high: float) -> Tiling:
    """Return the tiling; a hole that no page would show as a whole asks for a wider overlap."""
    rings = [(Rect(*at, *at).grown(dia / 2), dia) for at, dia in stack.punches()]
    plan = _tiled(stack, wide, high, OVERLAP)
    if all(plan.whole(ring) for ring, _ in rings):
        return plan
    # A hole too large for any overlap is on several pages whatever is done: it asks for none.
    asking = [dia for _, dia in rings if math.ceil(dia) + 1.0 <= min(wide, high) / 4]
    return _tiled(stack, wide, high, max(OVERLAP, math.ceil(max(asking, default=0.0)) + 1.0))


def _tiled(stack: Stack, wide: float, high: float, overlap: float) -> Tiling:
    """Return the tiling, its crosses off the strips, or on them where else one would have no letter."""
    for on_strips in (False, True):
        field = Field(stack.area)
        for box in crosses_keep_off(stack, on_strips=on_strips):
            field.take(box)
        plan = tiling(stack.area, wide, high, stack.mark_boxes(), overlap, field=field)
        if all(any(cross.way) for cross in plan.crosses):
            break
    return plan


def _renumbered(tile: Tile, before: int) -> Tile:
    """Return a tile with its number and those of its neighbours counted through all runs."""
    left, right, below, above = (n and n + before for n in (tile.left, tile.right, tile.below, tile.above))
    return replace(tile, number=tile.number + before, left=left, right=right, below=below, above=above)


def _page_size(runs: Sequence[Run], shape: PageShape) -> tuple[float, float]:
    """Length of a page off a roll: what its largest tile takes."""
    blank_x = shape.width - shape.inner.width + RIGHT
    blank_y = shape.height - shape.inner.height + HEAD + _TOP
    tiles = [tile.window for run in runs for tile in run.tiles]
    width = max(window.width for window in tiles) / shape.scale_x + blank_x
    height = max(window.height for window in tiles) / shape.scale_y + blank_y
    return min(LONGEST_PAGE, math.ceil(width)), min(LONGEST_PAGE, math.ceil(height))
