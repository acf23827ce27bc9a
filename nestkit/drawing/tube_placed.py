"""A long tube on those pages alone that show an end or something to mark, laid by a measured line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from nestkit.drawing.model import Drawing, Mark
from nestkit.drawing.rulers import accepted
from nestkit.drawing.template_page import PageShape, rulers, window_on
from nestkit.drawing.template_set import HEAD, LINE, page_head
from nestkit.drawing.tube_checks import CUT_RULE, tube_checks
from nestkit.drawing.tube_facts import TubeFacts
from nestkit.drawing.tube_lines import piece_lines
from nestkit.drawing.tube_map import stretches_map
from nestkit.drawing.tube_stack import grouped
from nestkit.drawing.tube_windows import Stretch, stretches
from nestkit.drawing.tube_words import window_words
from nestkit.geometry.points import Point
from nestkit.parts.tube import WallMark
from nestkit.trade.rules import rule
from nestkit.units import with_unit

LEAST_PAGE = 80.0
"""Pages that show less than this either way are no use."""


@dataclass(frozen=True, slots=True)
class PlacedTube:
    """Pages that are not joined: for each stack of pieces its stretches, from end 0 on."""

    facts: TubeFacts
    runs: tuple[tuple[Stretch, ...], ...]
    shape: PageShape

    @property
    def count(self) -> int:
        """See :class:`~nestkit.drawing.template_set.PageSet`."""
        return sum(map(len, self.runs))

    @property
    def title(self) -> str:
        """See :class:`~nestkit.drawing.template_set.PageSet`."""
        return "Only the pages with something to mark"

    def small(self, width: float, height: float, *, first_page: int, here: int = 0) -> Drawing:
        """See :class:`~nestkit.drawing.template_set.PageSet`."""
        rows = []
        for run in self.runs:
            # The first stretch of a run has end 0 and all pieces.
            spans = [(max(one.window.left, float(one.line)), one.window.right) for one in run]
            rows.append((run[0].stack.name, spans))
        long = (0.0, max(span[1] for _, spans in rows for span in spans))
        return stretches_map(rows, long, width, height, before=first_page - 1, here=here)

    def steps(self, first_page: int) -> list[str]:
        """See :class:`~nestkit.drawing.template_set.PageSet`."""
        facts = self.facts
        return [
            facts.saw,
            *self._measured_first(),
            f"Square a line {_where_to(facts)} at each of these, all measured from END 0 with a steel rule "
            f"or tape, never from line to line: {self._lines(first_page)}.",
            "The pages are not joined: each is laid by itself, as the line at its head says. What has a bold "
            "line is cut off along it, and that edge goes on the line of its size.",
            facts.lay,
        ]

    def _lines(self, first_page: int) -> str:
        """The lines to square, nearest first, each with its pages."""
        pages: dict[str, list[str]] = {}
        laid = [one for run in self.runs for one in run]
        numbered = enumerate(laid, first_page)
        for number, one in sorted(numbered, key=lambda pair: (pair[1].line, pair[0])):
            if one.line:
                pages.setdefault(with_unit(one.line, self.facts.unit), []).append(str(number))
        return "; ".join(
            f"{size} (page{'s' if len(numbers) > 1 else ''} {', '.join(numbers)})"
            for size, numbers in pages.items()
        )

    def _measured_first(self) -> list[str]:
        """End 1 lies where it was sawn, its page where it was measured: both agree on a true length only."""
        view, cut = self.facts.view, rule(CUT_RULE)
        over = " over the long points" if any(view.mitres) else ""
        reads = accepted(view.length, cut.mm(cut.typical), self.facts.unit)
        return [f"Measure the tube{over}: {reads}. If it is out, true it first."]

    def pages(self, before: int) -> tuple[tuple[Drawing, ...], tuple[int, ...]]:
        """Return the pages after a cover of ``before``, and the holes that found no room for a label."""
        drawn: list[Drawing] = []
        unlabelled: set[int] = set()
        for number, one in enumerate((one for run in self.runs for one in run), start=1):
            words = window_words(one.stack, self.facts.unit, one.window)
            unlabelled.update(words.unlabelled)
            lines = [mark for standing in one.stack.standing for mark in piece_lines(standing)]
            drawn.append(self._page(number, one, (*lines, *words.marks), before))
        return tuple(drawn), tuple(sorted(unlabelled))

    def _page(self, number: int, one: Stretch, marks: tuple[Mark, ...], before: int) -> Drawing:
        shape, window = self.shape, one.window
        top = shape.inner.top - HEAD - LINE
        at = Point(shape.inner.left, top - window.height / shape.scale_y)
        content = (
            window_on(Drawing(one.stack.area.width, one.stack.area.height, marks), window, at, shape),
            *page_head(
                self.facts, self, shape, number=number, before=before, own_lines=(_laid_by(one, self.facts),)
            ),
            *rulers(shape, self.facts.unit),
        )
        return Drawing(shape.width, shape.height, content, f"{self.facts.title} {number + before}")


def placed_tube(facts: TubeFacts, shapes: Sequence[PageShape]) -> PlacedTube | None:
    """Return the template on the fewest such pages, or None where it cannot be printed in this way.

    Off a roll nothing is gained; paper that goes round is no higher than a page.
    """
    best: PlacedTube | None = None
    for shape in shapes:
        wide = shape.inner.width * shape.scale_x
        high = (shape.inner.height - HEAD - LINE) * shape.scale_y
        if shape.open_along or min(wide, high) < LEAST_PAGE:
            continue
        stacks = grouped(facts.pieces, high)
        if any(stack.area.height > high for stack in stacks):
            continue
        runs = [run for run in (stretches(stack, wide, facts.unit) for stack in stacks) if run]
        if len(runs) == len(stacks) and (best is None or sum(map(len, runs)) < best.count):
            best = PlacedTube(facts, tuple(runs), shape)
    return best and replace(best, facts=_laid_by_hand(best))


def _laid_by_hand(placed: PlacedTube) -> TubeFacts:
    """Return the facts of pages that are each laid by hand: how, and what may be read between their marks."""
    facts = placed.facts
    page_of: dict[WallMark, int] = {}
    for run in placed.runs:
        for number, one in enumerate(run):
            page_of |= {p.mark: number for s in one.stack.standing for p in s.piece.punches}
    lay = facts.lay.replace("END 0 line on end 0", "END 0 line on end 0 or bold line on its squared line")
    return replace(facts, lay=lay, checks=tube_checks(facts.view, facts.unit, page_of.__getitem__))


def _where_to(facts: TubeFacts) -> str:
    """Return over what a line is squared."""
    if facts.view.section.is_round:
        return "right round, along the straight edge of a strip of paper,"
    return "right round" if facts.view.section.kind == "tube" else "across each face"


def _laid_by(one: Stretch, facts: TubeFacts) -> str:
    """Return how a page is laid on the tube, in one sentence."""
    if not one.line:
        return "Lay the END 0 line on end 0."
    return f"Cut along the bold line. Lay it on a line squared {with_unit(one.line, facts.unit)} from END 0."
