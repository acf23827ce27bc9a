"""Whether copies can be held where a job wants them: inside the border, clear of each other and of regions.

Upright boxes are judged to the last digit, other outlines by their true lines, of which 1e-5 mm may lack.
Under a saw there must be cuts from edge to edge that free them all.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from math import inf
from typing import TYPE_CHECKING

from nestkit.geometry.edge_to_edge import Box
from nestkit.job.entry import Entry
from nestkit.job.model import Group, Hold
from nestkit.job.shown import shown
from nestkit.parts.lying import body_at, is_box, size_at
from nestkit.parts.panel import Panel
from nestkit.stock.keep_clear import KeepClear
from nestkit.stock.kept_whole import AXES, cuts_free, sawn_regions
from nestkit.stock.sheet import Sheet
from nestkit.units import GRID_PER_MM, Unit, grid_down, grid_mm, grid_up, with_unit

if TYPE_CHECKING:
    from nestkit.geometry.clearance import Body

SLIP = 1e-5
"""Millimetres by which true outlines may miss."""
MILLIONTHS = 10**6
Exact = tuple[Fraction, Fraction, Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Held:
    """A hold as it was read, with its panel and its sheet."""

    entry: Entry
    hold: Hold
    panel: Panel
    sheet: Sheet

    @property
    def box(self) -> Exact:
        """Its box on the sheet, exact, in grid steps."""
        hold = self.hold
        width, height = size_at(self.panel, hold.turn, opposite_hand=hold.opposite_hand)
        sides = (hold.x, hold.y, hold.x + width, hold.y + height)
        left, bottom, right, top = (side * GRID_PER_MM for side in sides)
        return left, bottom, right, top

    @property
    def body(self) -> Body:
        """Its true outline and openings on the sheet."""
        hold = self.hold
        return body_at(self.panel, hold.turn, (hold.x, hold.y), opposite_hand=hold.opposite_hand)

    @property
    def upright(self) -> bool:
        """Say whether it is a plain box as it lies."""
        return is_box(self.panel, self.hold.turn)


def check_place(entry: Entry, group: Group, held: Held) -> bool:
    """Say whether a place lies inside the border and off the regions; note it where it does not."""
    hold, unit = held.hold, entry.notes.unit
    step = GRID_PER_MM if group.way.edge_to_edge else MILLIONTHS
    if (hold.x * step) % 1 or (hold.y * step) % 1:
        finest = (
            "1/40 of a thousandth of a millimetre"
            if group.way.edge_to_edge
            else "a millionth of a millimetre"
        )
        entry.wrong("at", f"the place is no whole number of steps of {finest}", "Round it")
        return False
    margin = group.margin
    room = (
        grid_up(margin.left),
        grid_up(margin.bottom),
        grid_down(held.sheet.width) - grid_up(margin.right),
        grid_down(held.sheet.height) - grid_up(margin.top),
    )
    slip = Fraction(0) if hold.turn % 90 == 0 else Fraction(SLIP) * GRID_PER_MM
    box = held.box
    over = [max(room[i] - box[i], box[i + 2] - room[i + 2]) for i in (0, 1)]
    if max(over) > slip:
        sides = f"x {_span(box, 0, unit)}, y {_span(box, 1, unit)}"
        inside = f"x {_span(room, 0, unit)}, y {_span(room, 1, unit)}"
        entry.wrong("at", f"it would lie at {sides}, over the border: the room is {inside}", "Move it inside")
        return False
    for region in held.sheet.clear_on(hold.on):
        if near_region(group, held, region):
            what = (
                f"a region that is kept clear ({region.why})" if region.why else "a region that is kept clear"
            )
            beside = with_unit(group.way.kerf, unit)
            entry.wrong(
                "at",
                f"it would lie on {what}, or nearer to it than the cut is wide, {beside}",
                "Move it, or take the hold or the region out",
            )
            return False
    return True


def _span(box: Sequence[Fraction | int], axis: int, unit: Unit) -> str:
    low, high = (Fraction(box[axis + end]) / GRID_PER_MM for end in (0, 2))
    return f"{with_unit(low, unit)} to {with_unit(high, unit)}"


def near_region(group: Group, held: Held, region: KeepClear) -> bool:
    """Say whether a held part meets a region, or lies nearer to it than the kerf."""
    kerf = grid_up(group.way.kerf)
    if group.way.edge_to_edge:
        # The cuts leave the box around a region as a piece.
        return region.boxed.nearer_than(kerf, held.box)
    if held.upright:
        return region.nearer_than(kerf, held.box)
    from nestkit.geometry.clearance import Body, too_near

    return bool(too_near([held.body, Body(region.outline())], float(grid_mm(kerf)), SLIP))


def check_apart(group: Group, holds: Sequence[Held]) -> None:
    """Note held copies that are nearer to each other than the gap, or that no saw cuts can free."""
    on: dict[tuple[str, int], list[Held]] = defaultdict(list)
    for held in holds:
        on[held.hold.sheet, held.hold.on].append(held)
    gap = grid_up(group.gap)
    for rows in on.values():
        good = True
        for one, two in combinations(rows, 2):
            if _near(group, one, two, gap):
                good = False
                unit = two.entry.notes.unit
                two.entry.wrong(
                    "at",
                    f"it would overlap {shown(one.panel.name)} {one.hold.copy} of {one.entry.place}, or lie "
                    f"nearer to it than the gap, {with_unit(group.gap, unit)}",
                    "Move one of the two, or take it out",
                )
        if good and group.way.edge_to_edge:
            _check_sawn(group, rows)


def _near(group: Group, one: Held, two: Held, gap: int) -> bool:
    a, b = one.box, two.box
    dx, dy = max(a[0] - b[2], b[0] - a[2]), max(a[1] - b[3], b[1] - a[3])
    if group.way.edge_to_edge or (one.upright and two.upright):
        across, up = max(dx, Fraction(0)), max(dy, Fraction(0))
        return (dx < 0 and dy < 0) or across * across + up * up < gap * gap
    if max(dx, dy) >= gap:
        return False
    from nestkit.geometry.clearance import too_near

    return bool(too_near([one.body, two.body], float(grid_mm(gap)), SLIP))


def _check_sawn(group: Group, rows: Sequence[Held]) -> None:
    """Note copies on one sheet that no cuts free, within the stages and in the directions asked."""
    way, kerf = group.way, grid_up(group.way.kerf)
    parts = [_whole(h.box) for h in rows]
    sheet = rows[0].sheet
    clear = sawn_regions(sheet, rows[0].hold.on, kerf)
    if cuts_free(parts, clear, kerf, way.stages or inf, AXES[way.first]):
        return
    last = rows[-1].entry
    what = f"no cuts from edge to edge free what is held on sheet {shown(sheet.name)} {rows[0].hold.on}"
    if clear and cuts_free(parts, [], kerf, way.stages or inf, AXES[way.first]):
        last.wrong("at", f"{what} without running through a region that is kept clear", "Move or drop a hold")
    elif cuts_free(parts, clear, kerf, inf, (0, 1)):
        limit = f"stages = {way.stages}" + (f', first = "{way.first}"' if way.first != "any" else "")
        last.wrong("at", f"{what} within {limit}", "Move or drop a hold, or allow more stages")
    else:
        last.wrong("at", what, "Move one of the copies, or hold fewer of them")


def _whole(box: Exact) -> Box:
    left, bottom, right, top = (side.numerator for side in box)
    return left, bottom, right, top
