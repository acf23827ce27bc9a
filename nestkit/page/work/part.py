"""One part for the page: its picture large and to scale, its holes with their drills, what was understood."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Any

from nestkit.drawing.bench_picture import part_picture
from nestkit.drawing.end_view import end_view
from nestkit.drawing.model import Drawing
from nestkit.drawing.sheet import size_text, thickness_text
from nestkit.drawing.sheet_picture import long_scale, sheet_plan
from nestkit.drawing.tube_card_picture import tube_picture
from nestkit.drawing.tube_facts import tube_facts
from nestkit.estimate.words import drill_text
from nestkit.geometry.points import Rect
from nestkit.job.model import Group, Job
from nestkit.job.one_part import OnePart, PartKind, read_one_part
from nestkit.job.settling import settled_by_rules
from nestkit.job.understood import how_many, made_by
from nestkit.job.understood_bars import copies_said, tube_drilled, tube_ends
from nestkit.job.understood_joints import holes_said
from nestkit.layout.result import CutSheet
from nestkit.page.objects import Object, mistake_object
from nestkit.parts.bought import Bought
from nestkit.parts.holes import Hole
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube, TubeHole
from nestkit.stock.bar import Bar
from nestkit.stock.section import section_text
from nestkit.stock.sheet import Sheet
from nestkit.units import Unit, decimal_text, length_text, sides_text, with_unit
from nestkit.writers.svg import svg_inline

WIDTH, MOST_HIGH = 180.0, 150.0
"""Room in mm for the picture of a part; a screen shows it as wide as it is itself."""
_SHEET_ROOM = Rect(0.0, 0.0, 180.0, 110.0)
"""The same of a sheet, which is drawn to a scale: low, so that the words of a tall one can be read."""


def part_object(
    head: Mapping[str, Any],
    item: Mapping[str, Any],
    kind: PartKind,
    index: int,
    folder: Path,
    *,
    opposite: bool,
) -> Object:
    """Return what is shown of one part, stock or bought thing of a draft."""
    read = read_one_part(head, item, kind, index, folder)
    found: Object = {
        "mistakes": [mistake_object(mistake) for mistake in read.mistakes],
        "svg": None,
        "title": "",
        "holes": [],
        "understood": "",
    }
    if read.part is not None and not read.mistakes:
        drawing, title, understood = _shown(read, opposite)
        found["title"], found["understood"] = title, understood
        found["svg"] = None if drawing is None else svg_inline(drawing, prefix=f"{kind}-{index}")
        found["holes"] = list(_holes(read.part, item, (kind, index), read.job.unit, opposite))
    return found


def _shown(read: OnePart, opposite: bool) -> tuple[Drawing | None, str, str]:
    """Return a picture, a title, and a line of what was understood."""
    job, part, unit = read.job, read.part, read.job.unit
    if isinstance(part, Panel):
        return _panel_picture(job, part, opposite), panel_title(job, part), panel_line(part, unit)
    if isinstance(part, Tube):
        return _tube_picture(job, part, opposite), tube_title(part, unit), tube_line(part, unit)
    if isinstance(part, Sheet):
        return _sheet_picture(job, part), sheet_title(part, unit), stock_line(part)
    if isinstance(part, Bar):
        return end_view(part.section), bar_title(part, unit), stock_line(part)
    assert isinstance(part, Bought)
    return None, bought_title(part, unit), bought_line(part, unit)


def _panel_picture(job: Job, panel: Panel, opposite: bool) -> Drawing:
    view = panel.mirrored() if opposite else panel
    way = job.way_of(panel)
    cut = frozenset(hole.number for hole in view.holes if not way.by_hand(hole.dia))
    return part_picture(view, cut, job.unit, WIDTH, MOST_HIGH).drawing


def _tube_picture(job: Job, tube: Tube, opposite: bool) -> Drawing | None:
    """Return a tube's faces; none of what comes off a roll, which has nothing to mark."""
    if tube.section.kind == "roll":
        return None
    return tube_picture(tube_facts(job, tube, opposite=opposite, corrected=False), WIDTH, MOST_HIGH).drawing


def _sheet_picture(job: Job, sheet: Sheet) -> Drawing | None:
    """Return an empty sheet with its margin and grain; none of a roll, which has no length."""
    if sheet.roll:
        return None
    way = next((w for w in job.ways if w.name == sheet.cut), job.ways[0])
    gap, margin, _ = settled_by_rules(way, sheet.thickness)
    group = Group(sheet.material, sheet.thickness, way, gap, margin, (), (sheet,))
    empty = CutSheet(sheet, 1, sheet.on_hand > 0, Fraction(0), (), (), ())
    return sheet_plan(empty, group, unit=job.unit, scale=long_scale(empty, _SHEET_ROOM)).drawing


def panel_title(job: Job, panel: Panel) -> str:
    """Return a panel's size and what it is cut from: ``14 1/2 x 9 3/4 in, polycarbonate, .118 in``."""
    size = sides_text(panel.width, panel.height, job.unit)
    return f"{size}, {panel.material}, {with_unit(panel.thickness, job.unit)}"


def panel_line(panel: Panel, unit: Unit) -> str:
    """Return how many of a panel are made and what is cut into each."""
    return "; ".join(filter(None, (how_many(panel), made_by(panel, unit))))


def tube_title(tube: Tube, unit: Unit) -> str:
    """Return a tube's length and what it is cut from."""
    section = f"{section_text(tube.section, unit)} {unit}"
    return f"{with_unit(tube.length, unit)} long, {tube.material}, {section}"


def tube_line(tube: Tube, unit: Unit) -> str:
    """Return how many of a tube are made, its holes and its ends."""
    return "; ".join(filter(None, (copies_said(tube), tube_drilled(tube, unit), tube_ends(tube))))


def sheet_title(sheet: Sheet, unit: Unit) -> str:
    """Return a sheet's size, material and thickness."""
    if sheet.roll:
        return f"{with_unit(sheet.width, unit)} wide, off the roll, {sheet.material}"
    return f"{size_text(sheet, unit)}, {sheet.material}, {thickness_text(sheet, unit)}"


def bar_title(bar: Bar, unit: Unit) -> str:
    """Return a bar's length, material and section."""
    return f"{with_unit(bar.length, unit)} long, {bar.material}, {section_text(bar.section, unit)} {unit}"


def stock_line(stock: Sheet | Bar) -> str:
    """Return what is here of a stock, and whether more can be bought."""
    here = f"{stock.on_hand} on hand" if stock.on_hand else "none on hand"
    return f"{here}; {'more can be bought' if stock.buy else 'not to be bought'}"


def bought_title(part: Bought, unit: Unit) -> str:
    """Return what is known of a bought part: its material, its thickness."""
    thick = "" if part.thickness is None else with_unit(part.thickness, unit)
    return ", ".join(filter(None, (part.material, thick))) or "bought ready made"


def bought_line(part: Bought, unit: Unit) -> str:
    """Return how many are bought, and the holes of each."""
    holes = holes_said(part.holes, unit) if part.holes else ""
    return "; ".join(filter(None, (f"{part.quantity} to buy" if part.quantity else "none to buy", holes)))


def _holes(
    part: object, item: Mapping[str, Any], path: tuple[str, int], unit: Unit, opposite: bool
) -> Iterator[Object]:
    """Yield each hole with its drill, its place in the part's frame, and where the job file has it."""
    if not isinstance(part, Panel | Tube | Bought):
        return
    if opposite and isinstance(part, Panel | Tube):
        part = part.mirrored()
    groups = _groups(item)
    for hole in part.holes:
        place = groups.get(hole.group)
        yield {
            "number": hole.number,
            "group": hole.group,
            "path": None if place is None else [*path, "holes", place],
            "drill": drill_text(hole.drill, unit),
            **_at(hole, unit),
        }


def _at(hole: Hole | TubeHole, unit: Unit) -> Object:
    if isinstance(hole, TubeHole):
        spot = hole.spot
        around = length_text(spot.across, unit) if spot.face else f"{decimal_text(spot.at_deg, 2)} deg"
        return {"x": length_text(spot.at, unit), "y": around, "face": spot.face or ""}
    return {"x": length_text(hole.at.x, unit), "y": length_text(hole.at.y, unit)}


def _groups(item: Mapping[str, Any]) -> dict[str, int]:
    """Return the place of each group of holes by its name; none of a name that several have."""
    listed: Sequence[Any] = item.get("holes", [])
    names = [str(group.get("name", "")).strip() for group in listed if isinstance(group, dict)]
    return {name: names.index(name) for name in names if names.count(name) == 1}
