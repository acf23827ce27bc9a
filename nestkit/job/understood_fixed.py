"""What was understood of regions that are kept clear and of copies that are held, in words."""

from __future__ import annotations

from collections.abc import Iterator

from nestkit.job.model import Group, Hold
from nestkit.stock.keep_clear import KeepClear
from nestkit.stock.sheet import Sheet
from nestkit.units import Unit, decimal_text, length_text, with_unit


def fixed_said(group: Group, unit: Unit) -> Iterator[str]:
    """Yield a line for each region and each held copy of a group."""
    for sheet in group.sheets:
        for region in sheet.keep_clear:
            yield _region(sheet, region, unit)
    for hold in group.holds:
        yield _hold(hold, unit)


def _region(sheet: Sheet, region: KeepClear, unit: Unit) -> str:
    which = f"every sheet of {sheet.name}" if region.on is None else f"{sheet.name}, sheet {region.on}"
    why = f" ({region.why})" if region.why else ""
    return f"keep clear on {which}: {region_text(region, unit)}{why}"


def region_text(region: KeepClear, unit: Unit) -> str:
    """Say where a region lies: ``x 2 to 4, y 1 to 2 in``; of a disc its centre and diameter."""
    if region.disc:
        across = with_unit(region.right - region.left, unit)
        x, y = (region.left + region.right) / 2, (region.bottom + region.top) / 2
        return f"disc {across} across, centre x {length_text(x, unit)}, y {with_unit(y, unit)}"
    x_text = f"x {length_text(region.left, unit)} to {length_text(region.right, unit)}"
    return f"{x_text}, y {length_text(region.bottom, unit)} to {with_unit(region.top, unit)}"


def _hold(hold: Hold, unit: Unit) -> str:
    hand = ", opposite hand" if hold.opposite_hand else ""
    turn = f", turned {decimal_text(hold.turn, 1)} degrees" if hold.turn else ""
    place = f"at x {length_text(hold.x, unit)}, y {with_unit(hold.y, unit)}"
    return f"held: {hold.panel} {hold.copy}{hand}, on {hold.sheet}, sheet {hold.on}, {place}{turn}"
