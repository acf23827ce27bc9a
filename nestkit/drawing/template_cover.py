"""The cover of a template in tiles: everything said once and large, and the map to join by."""

from __future__ import annotations

import math
from fractions import Fraction

from nestkit.drawing.model import Drawing
from nestkit.drawing.rulers import reading
from nestkit.drawing.template_facts import AT_FULL_SIZE, Facts
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.template_info import BODY, head, hole_table
from nestkit.drawing.template_map import tile_map
from nestkit.drawing.template_page import PageShape, rulers
from nestkit.drawing.tiles import Tiling
from nestkit.units import with_unit

ROLL_COVER = 300.0
"""Length of a cover off a roll."""
FACTS = 3.6
FOLLOWING = 6.0
"""Type of the title on the pages that follow the first."""
CAUTION = 2.8
WORD = 30.0
"""Width of the column of words before the facts."""


def cover_pages(facts: Facts, plan: Tiling, shape: PageShape, paper: str) -> tuple[Drawing, ...]:
    """Return the cover, on more pages than one where the hole table is long."""
    if shape.open_along:
        across = shape.height if shape.open_along == "x" else shape.width
        wide, high = (ROLL_COVER, across) if shape.open_along == "x" else (across, ROLL_COVER)
        shape = PageShape(wide, high, shape.scale_x, shape.scale_y)
    count = 1
    while True:
        parts = _parts(facts, plan, shape, paper, covers=count)
        pages = _filled(parts, shape, facts, total=count + len(plan.tiles))
        if len(pages) <= count:
            return pages
        count = len(pages)


def _filled(parts: list[Flow], shape: PageShape, facts: Facts, *, total: int) -> tuple[Drawing, ...]:
    """Put the parts on pages, one below the other, a new page where one does not fit."""
    inner = shape.inner
    pages: list[Flow] = [Flow(inner.width)]
    for part in parts:
        if pages[-1].height and pages[-1].height + part.height > inner.height:
            pages.append(Flow(inner.width))
            pages[-1].title(facts.title, FOLLOWING, least=FOLLOWING)
            pages[-1].text(f"page {len(pages)} of {total}   {facts.face}   {facts.hand}", FACTS, bold=True)
        pages[-1].add(part)
    return tuple(
        Drawing(
            shape.width,
            shape.height,
            (*page.marks(inner.left, inner.top), *rulers(shape, facts.unit)),
            f"{facts.title} {number}",
        )
        for number, page in enumerate(pages, start=1)
    )


def _parts(facts: Facts, plan: Tiling, shape: PageShape, paper: str, *, covers: int) -> list[Flow]:
    width = shape.inner.width
    total = covers + len(plan.tiles)
    top = Flow(width)
    head(facts, top)
    top.gap(1.5)
    top.row(("This is page", f"1 of {total}"), (WORD, width - WORD), FACTS, bold=True)
    parts = [top, _facts_and_map(facts, plan, shape, first_page=covers + 1)]
    parts += hole_table(facts, width)
    steps = Flow(width)
    steps.gap(2.0)
    steps.text("Order of work", FACTS, bold=True)
    for number, step in enumerate(_steps(facts, plan, paper, first_page=covers + 1), start=1):
        steps.row((f"{number}", step), (7.0, width - 7.0), BODY)
    parts.append(steps)
    for i, caution in enumerate(facts.cautions):
        flow = Flow(width)
        if i == 0:
            flow.gap(2.0)
            flow.text("Cautions", FACTS, bold=True)
        flow.row(("-", caution), (4.0, width - 4.0), CAUTION)
        parts.append(flow)
    return parts


def _facts_and_map(facts: Facts, plan: Tiling, shape: PageShape, *, first_page: int) -> Flow:
    """Facts on the left, the tile map on the right of them."""
    inner = shape.inner
    flow = Flow(inner.width)
    if len(plan.tiles) == 1:
        for word, what in facts.facts:
            flow.row((word, what), (WORD, inner.width - WORD), FACTS)
        return flow
    at = inner.width * 0.52
    left, right = Flow(at - 4.0), Flow(inner.width - at)
    for word, what in facts.facts:
        left.row((word, what), (WORD, left.width - WORD), FACTS)
    right.text(f"Tile map: {plan.columns} across, {plan.rows} up", FACTS, bold=True)
    right.gap(1.5)
    right.picture(tile_map(facts, plan, right.width, inner.height * 0.3, first_page=first_page))
    flow.beside(left, right, at)
    flow.gap(1.5)
    return flow


def _steps(facts: Facts, plan: Tiling, paper: str, *, first_page: int) -> list[str]:
    """What to do with the pages, in order."""
    steps = [f"{AT_FULL_SIZE} Paper: {paper}."]
    if len(plan.tiles) > 1:
        steps.append(
            f"Start with page {first_page}. Cut each next page along its dashed left and lower line, lay it "
            f"over its neighbours (overlap {with_unit(plan.overlap, 'mm')}) so that crosses of the same "
            "letter meet, and tape it."
        )
        steps += _after_joining(facts)
    steps.append(facts.order)
    if len(facts.cut) < len(facts.view.holes) or not facts.view.holes:
        which = "every hole that is not cut already" if facts.cut else "every hole"
        steps.append(
            f"Lay the datum corner on that of the sheet, tape it from there outwards, punch {which}, then "
            "measure two diagonals before the first drill."
        )
    return steps


def _after_joining(facts: Facts) -> list[str]:
    """Lengths to check once the pages are joined; diagonals where the part has four true corners."""
    width, height = facts.view.width, facts.view.height
    sizes = [("across", float(width)), ("up", float(height))]
    if facts.view.shape == "rectangle" and len(facts.view.outline.vertices) == 4:
        sizes.append(("both diagonals", math.hypot(width, height)))
    readings = [f"{name} {reading(Fraction(size), facts.unit)}" for name, size in sizes]
    return [f"Measure what was joined: {'; '.join(readings)}."]
