"""Parts that no sheet can hold, and groups that have no sheet."""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

from nestkit.checks.findings import Finding, listed, measured
from nestkit.geometry.points import Point
from nestkit.job.model import Group, Job
from nestkit.parts.panel import Panel, allowed_turns
from nestkit.stock.sheet import Sheet
from nestkit.trade.materials import family, plain_name
from nestkit.units import Unit, grid_down, grid_up, length_text, with_unit

STEP_DEG = 1.0
"""Degrees between the turns tried for a part that may be turned freely."""


def no_stock(job: Job) -> Iterator[Finding]:
    """Every panel has stock of its material and thickness that is here or can be bought."""
    for group in job.groups:
        if not group.panels or any(sheet.to_be_had for sheet in group.sheets):
            continue
        names = listed([f'"{panel.name}"' for panel in group.panels])
        kind = f"{group.material} {with_unit(group.thickness, job.unit)}"
        if group.sheets:
            known = listed([f'"{sheet.name}"' for sheet in group.sheets])
            text = f"{known} can neither be bought nor is any on hand, and {names} must be cut from it"
            remedy = "write buy = true, or how many are on_hand"
        else:
            text = f"there is no sheet of {kind} to cut {names} from; {_what_there_is(job, group)}"
            remedy = f"add a [[sheet]] of {kind}, or {_other_words(job, group)}"
        yield measured(group.panels[0].place, text, remedy)


def _what_there_is(job: Job, group: Group) -> str:
    alike = [s for s in job.sheets if plain_name(s.material) == plain_name(group.material)]
    if alike:
        words = dict.fromkeys(f'{with_unit(s.thickness, job.unit)} ("{s.name}")' for s in alike)
        return f"of {group.material} there is {listed(words)}"
    materials = dict.fromkeys(sheet.material for sheet in job.sheets)
    return f"the sheets are of {listed(materials)}" if materials else "the job has no sheet at all"


def _other_words(job: Job, group: Group) -> str:
    """The likeliest slip: the material under another name, or the thickness as neither measured nor sold."""
    names = {plain_name(sheet.material): sheet.material for sheet in job.sheets}
    kin = [
        name
        for plain, name in names.items()
        if family(group.material) and family(name) == family(group.material)
    ]
    if plain_name(group.material) not in names and kin:
        return f'write the material as the sheet does: "{kin[0]}"'
    return "write the thickness or the sold_as of one that is there"


def too_large_for_sheets(job: Job) -> Iterator[Finding]:
    """Some sheet of its group can hold each panel, in a turn that turn and grain allow."""
    for group in job.groups:
        sheets = [sheet for sheet in group.sheets if sheet.to_be_had]
        for panel in group.panels:
            if sheets and not any(_can_hold(sheet, panel, group) for sheet in sheets):
                yield measured(panel.place, *_too_large(panel, group, sheets, job.unit))


def _can_hold(sheet: Sheet, panel: Panel, group: Group) -> bool:
    """Say whether a sheet less its margin may hold a panel; in doubt yes."""
    # Rounded as the layout rounds, so that both say the same of a part as large as its sheet.
    width, height = grid_up(panel.width), grid_up(panel.height)
    margin = group.margin
    room_x = grid_down(sheet.width) - grid_up(margin.left) - grid_up(margin.right)
    room_y = grid_down(sheet.height) - grid_up(margin.bottom) - grid_up(margin.top)
    for turn in allowed_turns(panel.turn, panel.grain, sheet.grain):
        across, up = (width, height) if turn % 180 == 0 else (height, width)
        if across <= room_x and up <= room_y:
            return True
    free = panel.turn == "any" and not group.way.edge_to_edge and "none" in (panel.grain, sheet.grain)
    usable = (
        float(sheet.width - margin.left - margin.right),
        float(sheet.height - margin.bottom - margin.top),
    )
    return free and _may_fit_turned(panel, *usable)


def _may_fit_turned(panel: Panel, room_x: float, room_y: float) -> bool:
    """Say whether the outline might fit at some angle; no means that it fits at none."""
    points = panel.outline.flattened(0.05)
    centre = panel.outline.bounds.centre
    reach = max(p.to(centre) for p in points)
    # Between two angles tried no point moves further than this from where it was tried, and a
    # chord may stray from its arc by the tolerance above.
    slack = 2 * (2 * reach * math.sin(math.radians(STEP_DEG) / 4) + 0.05)
    for step in range(int(180 / STEP_DEG)):
        turned = [Point(p.x, p.y).turned(step * STEP_DEG) for p in points]
        xs, ys = [p.x for p in turned], [p.y for p in turned]
        if max(xs) - min(xs) <= room_x + slack and max(ys) - min(ys) <= room_y + slack:
            return True
    return False


def _too_large(panel: Panel, group: Group, sheets: list[Sheet], unit: Unit) -> tuple[str, str]:
    if group.off_a_roll:
        return _too_wide(panel, group, sheets, unit)
    margin = group.margin
    rooms = []
    for sheet in sheets:
        x = sheet.width - margin.left - margin.right
        y = sheet.height - margin.bottom - margin.top
        rooms.append(f'"{sheet.name}" leaves {_size(x, y, unit)}')
    why = " inside the margin" if any((margin.left, margin.right, margin.bottom, margin.top)) else ""
    turned = _fits_if_turned(panel, group, sheets)
    bound = "; only turn or grain forbids the turn that would fit" if turned else ""
    text = f"no sheet can hold it, {_size(panel.width, panel.height, unit)}: {listed(rooms)}{why}{bound}"
    if turned:
        return text, "allow the turn, or take a sheet with its grain the other way"
    return text, "add a larger [[sheet]], make the part of two, or lessen the margin"


def _too_wide(panel: Panel, group: Group, rolls: list[Sheet], unit: Unit) -> tuple[str, str]:
    """Say it of rolls: only the margins at their edges, not those at the ends of a piece, narrow them."""
    sides = group.margin.left + group.margin.right
    rooms = [f'"{roll.name}" leaves {with_unit(roll.width - sides, unit)}' for roll in rolls]
    turned = _fits_if_turned(panel, group, rolls)
    where = " between the margins at its edges" if sides else ""
    bound = "; only turn or grain forbids the turn that would fit" if turned else ""
    size = _size(panel.width, panel.height, unit)
    text = f"no roll is wide enough for it, {size}: {listed(rooms)}{where}{bound}"
    if turned:
        return text, "allow the turn, or take a roll with its grain the other way"
    lessen = (
        ", make the part of two, or lessen the margins at its edges" if sides else ", or make the part of two"
    )
    return text, f"add a wider roll{lessen}"


def _size(x: Fraction, y: Fraction, unit: Unit) -> str:
    return f"{length_text(x, unit)} x {with_unit(y, unit)}"


def _fits_if_turned(panel: Panel, group: Group, sheets: list[Sheet]) -> bool:
    short, long = sorted((panel.width, panel.height))
    margin = group.margin
    for sheet in sheets:
        room = sorted((sheet.width - margin.left - margin.right, sheet.height - margin.bottom - margin.top))
        if short <= room[0] and long <= room[1]:
            return True
    return False
