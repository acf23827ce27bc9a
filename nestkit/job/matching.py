"""Panels and sheets brought together: which stock a panel is cut from, and what each way leaves open."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from nestkit.job.entry import Notes
from nestkit.job.lines import KeyPath
from nestkit.job.model import Group
from nestkit.parts.panel import Panel
from nestkit.stock.sheet import Sheet
from nestkit.stock.ways import Margin, Way
from nestkit.trade.materials import plain_name
from nestkit.trade.rules import Rule, rule
from nestkit.units import with_unit


@dataclass(frozen=True, slots=True)
class Asked:
    """A panel with where it was read, for mistakes that show only beside the stock."""

    panel: Panel
    path: KeyPath
    place: str
    in_file: bool


def groups_of(
    asked: Sequence[Asked], sheets: Sequence[Sheet], ways: Mapping[str, Way | None], notes: Notes
) -> tuple[Group, ...]:
    """Return one group for each material, real thickness and way that has panels, in their order."""
    usual = ways.get("")
    found: dict[tuple[str, Fraction, str], list[Panel]] = {}
    stock: dict[tuple[str, Fraction, str], tuple[Sheet, ...]] = {}
    for ask in asked:
        match = _matching(ask, sheets, notes)
        panel = replace(ask.panel, thickness=match[0].thickness) if match else ask.panel
        key = plain_name(panel.material), panel.thickness, match[0].cut if match else ""
        found.setdefault(key, []).append(panel)
        stock[key] = match
    groups = []
    for key, panels in found.items():
        way = ways.get(key[2]) if stock[key] else usual
        if way is None:
            continue
        gap, margin, settled = settled_by_rules(way, key[1])
        _check_room(stock[key], margin, notes)
        material = stock[key][0].material if stock[key] else panels[0].material
        groups.append(Group(material, key[1], way, gap, margin, tuple(panels), stock[key], settled))
    return tuple(groups)


def _matching(ask: Asked, sheets: Sequence[Sheet], notes: Notes) -> tuple[Sheet, ...]:
    """Return the sheets that a panel's material and thickness name; empty where there are none."""
    wanted = ask.panel.thickness
    named = [s for s in sheets if plain_name(s.material) == plain_name(ask.panel.material)]
    match = [s for s in named if wanted in (s.thickness, s.sold_as)]
    real = sorted({s.thickness for s in match})
    if len(real) > 1:
        both = " and ".join(with_unit(t, notes.unit) for t in real)
        place = f"{ask.place}, thickness"
        text = f"{with_unit(wanted, notes.unit)} names stock of more than one real thickness: {both}"
        remedy = "Write the real thickness that is wanted"
        notes.add((*ask.path, "thickness"), place, text, remedy, in_file=ask.in_file)
        return ()
    # All stock of that real thickness serves, whatever name it is sold by.
    return tuple(s for s in named if real and s.thickness == real[0])


def _check_room(sheets: tuple[Sheet, ...], margin: Margin, notes: Notes) -> None:
    for sheet in sheets:
        if margin.left + margin.right < sheet.width and margin.bottom + margin.top < sheet.height:
            continue
        path: KeyPath = next((p for p, line in notes.lines.items() if line == sheet.line), ("sheet",))
        notes.add(
            path,
            f"{sheet.place}, size",
            "the margin of its way of cutting leaves nothing of the sheet",
            "Make the margin smaller",
        )


def settled_by_rules(way: Way, thickness: Fraction) -> tuple[Fraction, Margin, tuple[str, ...]]:
    """Return gap and margin of a way for stock of a thickness, and which rules gave what it leaves open."""
    said = []
    gap, margin = way.gap, way.margin
    if gap is None:
        gap, by = _usual_gap(way, thickness)
        gap = max(gap, way.kerf)
        said.append(f"gap by {by.said()}")
    if margin is None:
        around, rule_of_margin = _usual_margin(way)
        margin = Margin(around, around, around, around)
        if rule_of_margin is not None:
            said.append(f"margin by {rule_of_margin.said()}")
    return gap, margin, tuple(said)


def _usual_gap(way: Way, thickness: Fraction) -> tuple[Fraction, Rule]:
    if way.how == "saw":
        return way.kerf, rule("R027")
    if way.how == "router":
        by = rule("R026")
        return (by.typical or Fraction(2)) * way.kerf, by
    if way.how == "jigsaw":
        by = rule("R105")
        return by.mm(by.typical), by
    by, floor = (rule("R028"), rule("R116")) if way.how == "laser" else (rule("R114"), rule("R115"))
    times = (by.least or Fraction(1)) * thickness
    least = floor.mm(floor.typical)
    return (times, by) if times >= least else (least, floor)


def _usual_margin(way: Way) -> tuple[Fraction, Rule | None]:
    """Return the border not used; a saw uses the whole sheet."""
    if way.how == "saw":
        return Fraction(0), None
    by = rule({"router": "R029", "jigsaw": "R119", "laser": "R117", "waterjet": "R118"}[way.how])
    return by.mm(by.typical), by
