"""The words of a template in columns: title, facts, order of work, holes and drills, cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nestkit.drawing.template_facts import AT_FULL_SIZE
from nestkit.drawing.template_flow import GUTTER, Flow
from nestkit.drawing.template_words import Words
from nestkit.drawing.type import text_width
from nestkit.trade.cautions import cautions

TITLE, LEAST_TITLE = 8.0, 6.0
FACE = 5.0
ORDER = 4.0
BODY = 3.0
SMALL = 2.6
SHARES = (0.10, 0.11, 0.16, 0.22, 0.21, 0.20)
"""Columns of the hole table, as shares of its width."""

FRAME = 1.5
"""Room inside a framed box."""
WIDEST = 240.0
"""A wider table is hard to read along its rows."""
HEADINGS = ("Hole", "Pilot", "Drill", "Finished", "For", "Table")


def head(facts: Words, flow: Flow) -> None:
    """Add the title, the face and hand, and the order of work."""
    flow.title(facts.title, TITLE, least=LEAST_TITLE)
    flow.text(f"{facts.face}   {facts.hand}".strip(), FACE, bold=True)
    flow.gap(0.5)
    flow.text(facts.order, ORDER, bold=True)


def facts_in_a_row(facts: Words) -> str:
    """Return all facts in one line of text."""
    return " · ".join(f"{word}: {what}" for word, what in facts.facts)


def hole_table(facts: Words, width: float) -> Iterator[Flow]:
    """Yield the hole table as a heading and rows, then the places of holes without a label."""
    rows = [(row.numbers, row.pilot, row.drill, row.dia, row.use, row.source) for row in facts.holes]
    widths = _columns(rows, min(width, WIDEST))
    if rows:
        flow = Flow(width)
        flow.gap(1.0)
        flow.row(HEADINGS, widths, BODY, bold=True)
        yield flow
    for row in rows:
        flow = Flow(width)
        flow.row(row, widths, BODY)
        yield flow
    if facts.places:
        flow = Flow(width)
        flow.gap(1.0)
        flow.text(f"Where the holes are ({facts.unit}), {facts.places_from}:", BODY, bold=True)
        yield flow
        columns = max(1, int(width // 38.0))
        for start in range(0, len(facts.places), columns):
            cells = facts.places[start : start + columns]
            flow = Flow(width)
            flow.row(cells, [width / columns] * len(cells), SMALL)
            yield flow


def _columns(rows: Sequence[Sequence[str]], width: float) -> list[float]:
    """Return the widths of the hole table's columns; in a narrow one none so narrow as to break a word."""
    usual = [share * width for share in SHARES]
    longest = [
        max([text_width(heading, BODY, bold=True), *(text_width(w, BODY) for c in cells for w in c.split())])
        for heading, *cells in zip(HEADINGS, *rows, strict=True)
    ]
    least = [wide + GUTTER + 0.01 for wide in longest]
    spare = width - sum(least)
    if spare < 0 or all(few <= many for few, many in zip(least, usual, strict=True)):
        return usual
    return [few + share * spare for few, share in zip(least, SHARES, strict=True)]


def check_box(facts: Words, width: float) -> Flow:
    """Return the framed box of distances to measure before the first drill, empty where there are none."""
    flow = Flow(width)
    if not facts.checks:
        return flow
    inside = Flow(min(width, WIDEST) - 2 * FRAME)
    inside.gap(FRAME)
    inside.text("BEFORE THE FIRST DRILL, measure the marks:", BODY, bold=True)
    for check in facts.checks:
        inside.text(f"{check.between}: {check.says}  ________", BODY)
    inside.gap(FRAME)
    flow.gap(1.0)
    flow.framed(inside, FRAME)
    return flow


def info_block(facts: Words, width: float, page: str) -> Flow:
    """Return everything that a template on a single page says, as one column."""
    flow = Flow(width)
    head(facts, flow)
    flow.gap(0.8)
    flow.text(f"{facts_in_a_row(facts)} · Page: {page}", BODY)
    flow.gap(0.8)
    for part in hole_table(facts, width):
        flow.add(part)
    if facts.punch:
        flow.gap(1.0)
        flow.text(facts.punch, BODY, bold=True)
    flow.add(check_box(facts, width))
    flow.gap(1.2)
    flow.text(AT_FULL_SIZE, BODY, bold=True)
    flow.text(f"{facts.footer} {cautions('defer')[0]}", SMALL)
    flow.gap(2.0)
    return flow
