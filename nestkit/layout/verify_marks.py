"""Whether what the job holds lies there, what it keeps clear is clear, and sheets have their own numbers.

Judged from the job alone. Knows no solver.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from fractions import Fraction

from nestkit.errors import ToolFault
from nestkit.layout.judging import steps_of
from nestkit.layout.replay import Rect
from nestkit.layout.result import CutSheet, GroupLayout
from nestkit.layout.verify_clear import meets_none
from nestkit.units import grid_down


def verify_holds(layout: GroupLayout) -> None:
    """Every held copy lies exactly where the job says, and no other says that it is held."""
    found: Counter[tuple[object, ...]] = Counter()
    for sheet in layout.sheets:
        for part in sheet.parts:
            if part.held:
                lies = sheet.stock.name, sheet.number, part.x, part.y, part.turn % 360
                found[part.panel.name, part.copy, part.opposite_hand, *lies] += 1
    for hold in layout.group.holds:
        key = (
            hold.panel, hold.copy, hold.opposite_hand, hold.sheet, hold.on, hold.x, hold.y, hold.turn % 360,
        )  # fmt: skip
        found[key] -= 1
        if found[key] < 0:
            where = f'sheet "{hold.sheet}" {hold.on}'
            raise ToolFault(f'"{hold.panel}" {hold.copy} is not where it is held, on {where}')
    for name, copy, *_ in +found:
        raise ToolFault(f'"{name}" {copy} is said to be held, which the job does not ask for')


def verify_numbers(layout: GroupLayout, numbers: Mapping[str, Sequence[int]]) -> None:
    """Sheets of a stock have each a number of their own, those on hand the first ones.

    Those of which the job asks nothing by their number have the lowest that there are for them.
    """
    holds = {(h.sheet, h.on) for h in layout.group.holds}
    for stock in layout.group.sheets:
        name = stock.name
        used = sorted(numbers.get(name, ()))
        if len(set(used)) != len(used):
            raise ToolFault(f'two sheets "{name}" have one number')
        special = {r.on for r in stock.keep_clear if r.on is not None} | {n for s, n in holds if s == name}
        for here in (True, False):
            plain = [n for n in used if (n <= stock.on_hand) is here and n not in special]
            number = 0 if here else stock.on_hand
            wanted: list[int] = []
            while len(wanted) < len(plain):
                number += 1
                if number not in special:
                    wanted.append(number)
            if plain != wanted:
                raise ToolFault(f'sheets "{name}" are not numbered in turn')
    for sheet in layout.sheets:
        if sheet.on_hand is not (sheet.number <= sheet.stock.on_hand):
            raise ToolFault(f'sheet "{sheet.stock.name}" {sheet.number}: those on hand come first')


def verify_clear(layout: GroupLayout, sheet: CutSheet) -> None:
    """Where any path can be cut, parts keep the kerf from every region."""
    for part in sheet.parts:
        if not meets_none(part, sheet.keep_clear, layout.group.way.kerf):
            where = f'sheet "{sheet.stock.name}" {sheet.number}'
            raise ToolFault(f'{where}: "{part.panel.name}" {part.copy} is on or beside what is kept clear')


def verify_whole(sheet: CutSheet, rests: Sequence[Rect]) -> None:
    """Under a saw the box around every region is left whole in one of the pieces without part."""
    width, height = grid_down(sheet.stock.width), grid_down(sheet.stock.height)
    for region in sheet.keep_clear:
        left, bottom, right, top = region.steps
        box = max(left, 0), max(bottom, 0), min(right, width), min(top, height)
        if not any(r[0] <= box[0] and r[1] <= box[1] and r[2] >= box[2] and r[3] >= box[3] for r in rests):
            where = f'sheet "{sheet.stock.name}" {sheet.number}'
            raise ToolFault(f"{where}: saw cuts or parts run through what is kept clear, {box}")


def verify_rests_clear(sheet: CutSheet) -> None:
    """No offcut has any of a region in it."""
    where = f'sheet "{sheet.stock.name}" {sheet.number}: an offcut'
    for offcut in sheet.offcuts:
        left, bottom = steps_of(offcut.x, where), steps_of(offcut.y, where)
        right = left + steps_of(offcut.width, where)
        top = bottom + steps_of(offcut.height, where)
        for region in sheet.keep_clear:
            box = Fraction(left), Fraction(bottom), Fraction(right), Fraction(top)
            if region.nearer_than(0, box):
                raise ToolFault(f"{where} has a region in it that is kept clear")
