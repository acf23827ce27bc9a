"""The cover of a template on many pages: everything said once and large, and the map of the pages."""

from __future__ import annotations

from nestkit.drawing.model import Drawing
from nestkit.drawing.template_facts import AT_FULL_SIZE
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.template_info import BODY, check_box, head, hole_table
from nestkit.drawing.template_page import PageShape, rulers
from nestkit.drawing.template_set import PageSet
from nestkit.drawing.template_words import Words

ROLL_COVER = 300.0
"""Length of a cover off a roll."""
FACTS = 3.6
FOLLOWING = 6.0
"""Type of the title on the pages that follow the first."""
CAUTION = (2.8, 2.5, 2.2)
"""Type of the cautions: the first with which the cover is one page."""
LEAST_MAP = 36.0
"""Height that the map may take at least."""
MOST_FACTS = 0.9
"""Share of a page's height that the facts may take beside the map."""
TWO_COLUMNS = 150.0
"""A page wider than this has its cautions in two columns."""
WORD = 30.0
"""Width of the column of words before the facts."""


def cover_pages(facts: Words, pages: PageSet, shape: PageShape, paper: str) -> tuple[Drawing, ...]:
    """Return the cover, on more pages than one where the hole table is long.

    Cautions are set smaller where that saves a second page.
    """
    if shape.open_along:
        across = shape.height if shape.open_along == "x" else shape.width
        wide, high = (ROLL_COVER, across) if shape.open_along == "x" else (across, ROLL_COVER)
        shape = PageShape(wide, high, shape.scale_x, shape.scale_y)
    tries = (_covers(facts, pages, shape, paper, type_size) for type_size in CAUTION)
    first = next(tries)
    return first if len(first) == 1 else next((t for t in tries if len(t) == 1), first)


def _covers(
    facts: Words, pages: PageSet, shape: PageShape, paper: str, caution: float
) -> tuple[Drawing, ...]:
    count = 1
    while True:
        parts = [
            *_parts(facts, pages, shape, paper, covers=count),
            _cautions(facts, shape.inner.width, caution),
        ]
        drawn = _filled(parts, shape, facts, total=count + pages.count)
        if len(drawn) <= count:
            return drawn
        count = len(drawn)


def _filled(parts: list[Flow], shape: PageShape, facts: Words, *, total: int) -> tuple[Drawing, ...]:
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


def _parts(facts: Words, pages: PageSet, shape: PageShape, paper: str, *, covers: int) -> list[Flow]:
    width = shape.inner.width
    total = covers + pages.count
    top = Flow(width)
    head(facts, top)
    top.gap(1.5)
    top.row(("This is page", f"1 of {total}"), (WORD, width - WORD), FACTS, bold=True)
    parts = [top, *_facts_and_map(facts, pages, shape, first_page=covers + 1)]
    parts += hole_table(facts, width)
    steps = Flow(width)
    steps.gap(2.0)
    steps.text("Order of work", FACTS, bold=True)
    todo = [f"{AT_FULL_SIZE} Paper: {paper}.", *pages.steps(covers + 1)]
    if facts.drilled:
        with_cross = " with a cross" if facts.later else ""
        which = f"every hole{with_cross}{' that is not cut already' if facts.cut else ''}"
        todo.append(f"Mark {which}. {facts.punch} Measure, then drill.")
    for number, step in enumerate(todo, start=1):
        steps.row((f"{number}", step), (7.0, width - 7.0), BODY)
    parts += [steps, check_box(facts, width)]
    return parts


def _cautions(facts: Words, width: float, height: float) -> Flow:
    """All cautions, in two columns where the page is wide."""
    columns = 2 if width > TWO_COLUMNS else 1
    each = width / columns
    sides = [Flow(each - 4.0) for _ in range(columns)]
    for caution in facts.cautions:
        side = min(sides, key=lambda flow: flow.height)
        side.row(("-", caution), (4.0, side.width - 4.0), height)
    flow = Flow(width)
    flow.gap(2.0)
    flow.text("Cautions", FACTS, bold=True)
    flow.beside(sides[0], sides[-1] if columns == 2 else Flow(0.0), each)
    return flow


def _facts_and_map(facts: Words, pages: PageSet, shape: PageShape, *, first_page: int) -> list[Flow]:
    """Facts on the left, the map on the right of them; below them where long names leave no room for both."""
    inner = shape.inner
    if not pages.title:
        return [_facts_in_rows(facts, inner.width)]
    at = inner.width * 0.52
    left, right = _facts_in_rows(facts, at - 4.0), Flow(inner.width - at)
    right.text(pages.title, FACTS, bold=True)
    right.gap(1.5)
    if left.height > inner.height * MOST_FACTS:
        right.picture(pages.small(right.width, LEAST_MAP, first_page=first_page))
        return [_facts_in_rows(facts, inner.width), right]
    room = max(LEAST_MAP, left.height - right.height)
    right.picture(pages.small(right.width, room, first_page=first_page))
    flow = Flow(inner.width)
    flow.beside(left, right, at)
    flow.gap(1.5)
    return [flow]


def _facts_in_rows(facts: Words, width: float) -> Flow:
    flow = Flow(width)
    for word, what in _gathered(facts):
        flow.row((word, what), (WORD, width - WORD), FACTS)
    return flow


def _gathered(facts: Words) -> list[tuple[str, str]]:
    """The facts in few rows: what is short shares one."""
    said = dict(facts.facts)
    said["Make"] += f", {said.pop('Hand')}"
    said["Print"] = ", ".join(said.pop(key) for key in ("Unit", "Scale"))
    return list(said.items())
