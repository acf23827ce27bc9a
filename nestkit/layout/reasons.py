"""Why a part found no place, in words that say what to change."""

from __future__ import annotations

from collections.abc import Iterable

from nestkit.job.model import Group
from nestkit.layout.build import Copy
from nestkit.layout.result import Unplaced
from nestkit.parts.panel import Panel, Turn, allowed_turns
from nestkit.stock.sheet import Sheet
from nestkit.units import grid_down, grid_mm, grid_up


def unplaced_of(group: Group, copies: Iterable[Copy]) -> tuple[Unplaced, ...]:
    """Return needed copies without a place, in job order, each with the reason."""
    order = {p.name: i for i, p in enumerate(group.panels)}
    found = [Unplaced(c.panel, c.number, c.opposite_hand, why_unplaced(group, c.panel)) for c in copies]
    return tuple(sorted(found, key=lambda u: (order[u.panel.name], u.opposite_hand, u.copy)))


def why_unplaced(group: Group, panel: Panel) -> str:
    """Return the reason why a copy of a panel has no place in its group's layout."""
    sheets = [s for s in group.sheets if s.to_be_had]
    if not group.sheets:
        return "there is no stock of this material and thickness"
    if not sheets:
        return "none of the sheets is on hand and none can be bought"
    stock = "the roll" if group.off_a_roll else "a sheet"
    if any(_fits(group, panel, s, panel.turn, grain=True) for s in sheets):
        if group.fixed:
            return _around_fixed(group, sheets)
        return _off_no_roll(group, panel) if group.off_a_roll else _too_few(sheets)
    if any(_fits(group, panel, s, panel.turn, grain=False) for s in sheets):
        return f"the grain forbids the turn in which it would fit {stock}"
    if any(_fits(group, panel, s, "quarter", grain=False) for s in sheets):
        return f'it would fit {stock} only turned by 90 degrees, which turn = "{panel.turn}" forbids'
    return _too_small(group, panel, sheets)


def _room(group: Group, sheet: Sheet) -> tuple[int, int]:
    margin = group.margin
    width = grid_down(sheet.width) - grid_up(margin.left) - grid_up(margin.right)
    return width, grid_down(sheet.height) - grid_up(margin.bottom) - grid_up(margin.top)


def _fits(group: Group, panel: Panel, sheet: Sheet, turn: Turn, *, grain: bool) -> bool:
    turns = allowed_turns(turn, panel.grain if grain else "none", sheet.grain)
    room_w, room_h = _room(group, sheet)
    size = (grid_up(panel.width), grid_up(panel.height))
    return any(w <= room_w and h <= room_h for w, h in (size[::-1] if t % 180 else size for t in turns))


def _off_no_roll(group: Group, panel: Panel) -> str:
    """Say why a part that some roll has room for is not on the one piece that is cut off."""
    if all(_fits(group, panel, s, panel.turn, grain=True) for s in group.sheets):
        longest = sum(p.needed * (max(p.width, p.height) + group.gap) for p in group.panels)
        if group.way.edge_to_edge and longest <= min(grid_mm(_room(group, s)[1]) for s in group.sheets):
            return "all parts come off one piece, and the cuts that first and stages allow cannot part them"
        return "with the other parts the piece would be longer than any that is cut off a roll"
    return "all parts come off one piece, and no roll is wide enough for all of them"


def _too_few(sheets: list[Sheet]) -> str:
    on_hand = sum(s.on_hand for s in sheets)
    noun = "sheet is" if on_hand == 1 else "sheets are"
    return f"only {on_hand} {noun} on hand and none can be bought"


def _around_fixed(group: Group, sheets: list[Sheet]) -> str:
    """Say why a part that a whole sheet has room for lies on none of which something is asked."""
    if any(s.buy for s in sheets):
        return "what is kept clear on the sheets leaves no room for it"
    what = [word for word, there in (("held", group.holds), ("kept clear", _clear(sheets))) if there]
    return f"{_too_few(sheets)}, less what is {' and '.join(what)} there"


def _clear(sheets: list[Sheet]) -> bool:
    return any(s.keep_clear for s in sheets)


def _too_small(group: Group, panel: Panel, sheets: list[Sheet]) -> str:
    rooms = [_room(group, s) for s in sheets]
    long = max(grid_up(panel.width), grid_up(panel.height))
    short = min(grid_up(panel.width), grid_up(panel.height))
    if group.off_a_roll:
        return _too_small_roll(group, short, sheets)
    margin = " inside its margin" if any(room != (grid_down(s.width), grid_down(s.height))
                                         for room, s in zip(rooms, sheets, strict=True)) else ""  # fmt: skip
    if panel.turn == "any" and not group.way.edge_to_edge:
        return f"no sheet of this thickness was found to hold it, at any angle{margin}"
    if all(max(room) < long for room in rooms):
        return f"no sheet of this thickness is long enough{margin}"
    if all(min(room) < short for room in rooms):
        return f"no sheet of this thickness is wide enough{margin}"
    return f"no sheet of this thickness is long and wide enough{margin}"


def _too_small_roll(group: Group, short: int, rolls: list[Sheet]) -> str:
    """Say it of a roll: margins at its edges narrow it, those at the ends of the piece only shorten that."""
    margin = group.margin
    if all(_room(group, roll)[0] < short for roll in rolls):
        between = " between the margins at its edges" if margin.left + margin.right else ""
        return f"no roll of this thickness is wide enough{between}"
    ends = " less the margins at its ends" if margin.bottom + margin.top else ""
    return f"no piece that is cut off a roll is long enough{ends}"
