"""What the note for the shop says of tabs, of small parts that may come loose, and of relieved corners."""

from __future__ import annotations

from nestkit.drawing.layers import Layer
from nestkit.layout.result import GroupLayout
from nestkit.parts.loose import is_small, small_said
from nestkit.parts.panel import Panel
from nestkit.stock.relief import as_relieved
from nestkit.stock.tabs import tabs_on, tabs_wanted
from nestkit.stock.ways import MACHINES
from nestkit.text import counted
from nestkit.trade.rules import rule
from nestkit.units import Unit, with_unit


def holds(laid: GroupLayout) -> bool:
    """Say whether any part on the sheets of a group has a holding tab."""
    way = laid.group.way
    return any(tabs_on(panel.outline, way) for panel in _panels(laid))


def held_lines(laid: GroupLayout, unit: Unit) -> list[tuple[str, str]]:
    """Return lines about holding and corners, each with its indent; none where nothing needs a word."""
    return [*_tab_lines(laid, unit), *_small_lines(laid), *_relief_lines(laid)]


def _tab_lines(laid: GroupLayout, unit: Unit) -> list[tuple[str, str]]:
    """Say how many tabs there are, a line for each part, and which parts have fewer than were asked for."""
    way = laid.group.way
    if way.tabs is None:
        return []
    total = sum(len(tabs_on(part.panel.outline, way)) for sheet in laid.sheets for part in sheet.parts)
    text = (
        f"Holding tabs: {total} on these sheets, each {with_unit(way.tabs.width, unit)} wide; a line of "
        f"{Layer.HOLDING_TAB} crosses the edge in the middle of each. Openings have none: what is cut out "
        "of them is loose. Tabs on a part:"
    )
    lines = [(text, "  ")]
    for panel in _panels(laid):
        has, wanted = len(tabs_on(panel.outline, way)), tabs_wanted(panel.outline, way)
        fewer = "" if has == wanted else f" of {wanted}; no edge is straight enough for more"
        lines.append((f"{panel.name}: {has or 'none'}{fewer}", "    "))
    return lines


def _small_lines(laid: GroupLayout) -> list[tuple[str, str]]:
    """Name the small parts, which may come loose, and what holds them."""
    way, by = laid.group.way, rule("R131")
    small = [p for p in _panels(laid) if is_small(p.outline)] if way.how in MACHINES else []
    lines = [(f"Small parts, which may come loose ({by.said()}):", "  ")] if small else []
    for panel in small:
        tabs = len(tabs_on(panel.outline, way))
        held = (
            f"held by {counted(tabs, 'tab')}" if tabs else "no tab holds it; tape, vacuum or a tab of yours"
        )
        lines.append((f"{panel.name}, {small_said(panel.outline)}: {held}", "    "))
    return lines


def _relief_lines(laid: GroupLayout) -> list[tuple[str, str]]:
    """Say which inner corners were relieved, so that nobody takes the rounds for a fault."""
    way = laid.group.way
    if way.relief == "none":
        return []
    rows = []
    for panel in _panels(laid):
        lines = [(panel.outline, False), *((o.outline, True) for o in panel.openings)]
        made = [as_relieved(outline, way, opening=opening) for outline, opening in lines]
        count, left = sum(m.count for m in made), sum(len(m.left) for m in made)
        if count or left:
            rest = f"; {left} left as they are, too acute or too near another" if left else ""
            rows.append((f"{panel.name}: {counted(count, 'corner')}{rest}", "    "))
    if not rows:
        return []
    text = "Inner corners relieved, as drawn: a round through the corner's tip that the cutter can follow:"
    return [(text, "  "), *rows]


def _panels(laid: GroupLayout) -> list[Panel]:
    """Return each panel on the sheets once, in the order in which it first lies there."""
    return list({part.panel.name: part.panel for sheet in laid.sheets for part in sheet.parts}.values())
