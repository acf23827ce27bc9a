"""Whether a laid-out group can be made as it stands. Trusts no solver and imports none.

Everything is checked anew from the job's own numbers: places, gaps, turns, hands, counts, stock, prices,
bounds, every saw cut and every offcut. The first thing found wrong is raised.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from nestkit.errors import ToolFault
from nestkit.layout.judging import Key, judge_bounds, judge_copies, judge_supply, steps_of
from nestkit.layout.replay import PlannedCut, Rect, replay
from nestkit.layout.result import CutSheet, GroupLayout, PlacedPart
from nestkit.layout.verify_marks import (
    verify_clear,
    verify_holds,
    verify_numbers,
    verify_rests_clear,
    verify_whole,
)
from nestkit.parts.panel import Panel, allowed_turns
from nestkit.stock.sheet import Sheet
from nestkit.units import grid_down, grid_up


def verify(layout: GroupLayout) -> None:
    """Raise :class:`~nestkit.errors.ToolFault` naming what is wrong; return if nothing is."""
    verify_lists(layout)
    for sheet in layout.sheets:
        _verify_places(layout, sheet)
        if layout.group.way.edge_to_edge:
            _verify_cuts(layout, sheet)
        else:
            _verify_free_rests(layout, sheet)
            verify_clear(layout, sheet)


def verify_lists(layout: GroupLayout) -> None:
    """Judge all but what lies where: copies, stock, prices and bounds."""
    _verify_copies(layout)
    _verify_stock(layout)
    _verify_bounds(layout)
    verify_holds(layout)
    for sheet in layout.sheets:
        verify_rests_clear(sheet)


def _name(sheet: CutSheet) -> str:
    return f'sheet "{sheet.stock.name}" {sheet.number}'


def _rect(part: PlacedPart, where: str) -> Rect:
    what = f'{where}: the place of "{part.panel.name}" {part.copy}'
    x, y = steps_of(part.x, what), steps_of(part.y, what)
    return x, y, x + steps_of(part.width, what), y + steps_of(part.height, what)


def _copy_keys(panel: Panel, copies: range) -> list[tuple[bool, int]]:
    """Return hand and number of a panel's copies ``copies`` of those that are needed, then of the extras."""
    if panel.faces == "alike":
        every = [(False, n + 1) for n in range(panel.needed + panel.spare_if_room)]
    else:
        drawn = [(False, n + 1) for n in range(panel.quantity + panel.spare)]
        opposite = [(True, n + 1) for n in range(panel.opposite_hand)]
        first = panel.quantity + panel.spare + 1
        every = drawn + opposite + [(False, first + n) for n in range(panel.spare_if_room)]
    return [every[i] for i in copies]


def _verify_copies(layout: GroupLayout) -> None:
    """Every needed copy is placed or listed as unplaced, once; extras at most once; nothing else."""
    panels = {p.name: p for p in layout.group.panels}
    seen: Counter[Key] = Counter()
    missing: Counter[Key] = Counter()
    rows = [(p.panel, p.copy, p.opposite_hand, seen) for s in layout.sheets for p in s.parts]
    rows += [(u.panel, u.copy, u.opposite_hand, missing) for u in layout.unplaced]
    for panel, copy, opposite, counter in rows:
        if panels.get(panel.name) != panel:
            raise ToolFault(f'part "{panel.name}" is not a panel of this group')
        # With faces alike the hand says only how the outline lies.
        counter[panel.name, opposite and panel.faces != "alike", copy] += 1
    needed: list[Key] = []
    extras: list[Key] = []
    for p in panels.values():
        needed += [(p.name, *key) for key in _copy_keys(p, range(p.needed))]
        extras += [(p.name, *key) for key in _copy_keys(p, range(p.needed, p.needed + p.spare_if_room))]
    judge_copies(needed, extras, seen, missing)


def _verify_stock(layout: GroupLayout) -> None:
    """Sheets come from the group's stock, within what is on hand, at their price, numbered from 1."""
    stock = {s.name: s for s in layout.group.sheets}
    used: Counter[tuple[str, bool]] = Counter()
    numbers: dict[str, list[int]] = {}
    priced = any(s.price is not None for s in layout.group.sheets)
    if layout.cost_in != ("price" if priced else "m2"):
        raise ToolFault(f"the cost is said to be in {layout.cost_in}, which the stock does not bear out")
    for sheet in layout.sheets:
        kind = stock.get(sheet.stock.name)
        if kind is not None and kind.roll:
            _verify_length(layout, sheet, kind)
            kind = kind.cut_off(sheet.stock.height)
        if kind != sheet.stock:
            raise ToolFault(f'sheet "{sheet.stock.name}" is not stock of this group')
        if not sheet.parts:
            raise ToolFault(f"{_name(sheet)} is used for nothing")
        used[sheet.stock.name, sheet.on_hand] += 1
        numbers.setdefault(sheet.stock.name, []).append(sheet.number)
        price = sheet.stock.full_price if priced else sheet.stock.area_m2
        if sheet.cost != (Fraction(0) if sheet.on_hand else price):
            raise ToolFault(f"{_name(sheet)} is said to cost {sheet.cost}, not what the job says")
    if layout.group.fixed:
        verify_numbers(layout, numbers)
        numbers = {}
    judge_supply(stock.values(), used, numbers, kind="sheet", piece="sheet")
    if layout.cost != sum((s.cost for s in layout.sheets), Fraction(0)):
        raise ToolFault(f"the cost {layout.cost} is not the sum over the sheets")


def _verify_length(layout: GroupLayout, sheet: CutSheet, roll: Sheet) -> None:
    """Of a roll one piece is cut off, just as long as its parts and the border ask."""
    where = _name(sheet)
    length = steps_of(sheet.stock.height, f"{where}: its length")
    top = max((_rect(p, where)[3] for p in sheet.parts), default=0)
    if length != top + grid_up(layout.group.margin.top):
        raise ToolFault(f"{where} is not as long as its parts and the border ask")
    if sheet.stock.height > roll.height:
        raise ToolFault(f"{where} is longer than a roll may be")
    if len(layout.sheets) != 1:
        raise ToolFault("more than one piece is cut off rolls")


def _verify_places(layout: GroupLayout, sheet: CutSheet) -> None:
    """Parts have their size, lie inside the border in a turn that is allowed, and keep the gap."""
    margin, where = layout.group.margin, _name(sheet)
    left, bottom = grid_up(margin.left), grid_up(margin.bottom)
    right = grid_down(sheet.stock.width) - grid_up(margin.right)
    top = grid_down(sheet.stock.height) - grid_up(margin.top)
    rects = []
    for part in sheet.parts:
        panel, name = part.panel, f'{where}: "{part.panel.name}" {part.copy}'
        if part.turn not in allowed_turns(panel.turn, panel.grain, sheet.stock.grain):
            raise ToolFault(f"{name} is turned by {part.turn} degrees, which turn and grain do not allow")
        rect = _rect(part, where)
        size = (grid_up(panel.width), grid_up(panel.height))
        if (rect[2] - rect[0], rect[3] - rect[1]) != (size[::-1] if part.turn % 180 else size):
            raise ToolFault(f"{name} has not the size of its panel")
        if rect[0] < left or rect[1] < bottom or rect[2] > right or rect[3] > top:
            raise ToolFault(f"{name} lies over the sheet's border")
        rects.append((rect, name))
    for (a, name), (b, other) in near_pairs(rects, grid_up(layout.group.gap)):
        raise ToolFault(f"{name} and {other} overlap or are nearer than the gap: {a}, {b}")


Named = tuple[Rect, str]


def near_pairs(rects: list[Named], gap: int) -> Iterator[tuple[Named, Named]]:
    """Yield the pairs of boxes whose distance is below the gap, in whole steps, found by a sweep along x."""
    active: list[Named] = []
    for one in sorted(rects):
        a = one[0]
        active = [other for other in active if other[0][2] + gap > a[0]]
        for other in active:
            b = other[0]
            dx = max(a[0] - b[2], b[0] - a[2], 0)
            dy = max(a[1] - b[3], b[1] - a[3], 0)
            overlap = a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
            if overlap or dx * dx + dy * dy < gap * gap:
                yield other, one
        active.append(one)


def _full(sheet: CutSheet) -> Rect:
    return 0, 0, grid_down(sheet.stock.width), grid_down(sheet.stock.height)


def _rests(sheet: CutSheet) -> list[Rect]:
    where = f"{_name(sheet)}: an offcut"
    found = []
    for o in sheet.offcuts:
        x, y = steps_of(o.x, where), steps_of(o.y, where)
        found.append((x, y, x + steps_of(o.width, where), y + steps_of(o.height, where)))
    return found


def _verify_cuts(layout: GroupLayout, sheet: CutSheet) -> None:
    """Every cut, done again, frees exactly the parts, within the stages and in the direction asked for."""
    way, where = layout.group.way, _name(sheet)
    parts = [_rect(p, where) for p in sheet.parts]
    cuts = [
        PlannedCut(
            c.step, c.piece, "xy".index(c.axis), steps_of(c.at, where), steps_of(c.start, where),
            steps_of(c.end, where), c.trim,
        )
        for c in sheet.cuts
    ]  # fmt: skip
    try:
        done = replay(_full(sheet), parts, cuts, grid_up(way.kerf))
    except ToolFault as fault:
        raise ToolFault(f"{where}: {fault}") from fault
    if done.parts != tuple(sorted(parts)):
        raise ToolFault(f"{where}: the cuts do not free every part")
    if way.stages and done.stages > way.stages:
        raise ToolFault(
            f"{where}: the cuts change direction {done.stages} times in a row, {way.stages} allowed"
        )
    if way.first != "any" and done.first not in (None, {"x": 1, "y": 0}[way.first]):
        raise ToolFault(f"{where}: the first cut that sets parts apart does not run along {way.first}")
    verify_whole(sheet, done.rests)
    spare = Counter(done.rests)
    for rest in _rests(sheet):
        spare[rest] -= 1
        if spare[rest] < 0:
            raise ToolFault(f"{where}: the offcut {rest} is no piece that the cuts leave")


def _verify_free_rests(layout: GroupLayout, sheet: CutSheet) -> None:
    """Offcuts lie on the sheet, apart from each other and at least the gap away from every part."""
    where, rests, whole = _name(sheet), _rests(sheet), _full(sheet)
    if sheet.cuts:
        raise ToolFault(f"{where}: saw cuts in a layout that is not sawn")
    for rest in rests:
        if rest[0] < 0 or rest[1] < 0 or rest[2] > whole[2] or rest[3] > whole[3]:
            raise ToolFault(f"{where}: the offcut {rest} hangs over the sheet")
    for _ in near_pairs([(r, "") for r in rests], 0):
        raise ToolFault(f"{where}: two offcuts overlap")
    gap = grid_up(layout.group.gap)
    parts = [_rect(p, where) for p in sheet.parts]
    for rest in rests:
        for part in parts:
            for _ in near_pairs([(rest, ""), (part, "")], gap):
                raise ToolFault(f"{where}: the offcut {rest} is nearer to a part than the gap")


def _verify_bounds(layout: GroupLayout) -> None:
    """Bounds stand exactly where all parts are placed, and none is above the result."""
    results = (
        ("sheets", layout.least_sheets, Fraction(len(layout.sheets))),
        ("cost", layout.least_cost, layout.cost),
    )
    judge_bounds(results, complete=not layout.unplaced)
