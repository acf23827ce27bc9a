"""Copies that are held where they lie: which copy, on which sheet, where, and how it is turned."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from nestkit.job.entry import Entry
from nestkit.job.holds_apart import Held, check_apart, check_place
from nestkit.job.keep_clear import check_number
from nestkit.job.model import Group, Hold
from nestkit.job.named import NamedParts, listed
from nestkit.job.nearest import Nearest
from nestkit.job.shown import shown
from nestkit.job.stock import names_of_sheets
from nestkit.job.values import MOST_PIECES, count, flag, number, pair, text
from nestkit.parts.panel import Panel, allowed_turns
from nestkit.stock.sheet import Sheet
from nestkit.units import with_unit

NINE = 10**9
_DEGREES = "Write degrees from -360 to 360, with nine decimals at most"


def with_holds(
    top: Entry, groups: tuple[Group, ...], parts: NamedParts, sheets: Sequence[Sheet]
) -> tuple[Group, ...]:
    """Return the groups with the copies that are held in each; every hold that cannot be is noted.

    ``sheets`` are those of the job that have no mistake.
    """
    held: list[list[Held]] = [[] for _ in groups]
    seen: dict[tuple[str, bool, int], str] = {}
    known = _Known(parts, names_of_sheets(top), {s.name for s in sheets}, Nearest())
    for entry in top.children("hold", "hold"):
        read = _read(entry, groups, known)
        if read is None:
            continue
        index, hold = read
        panel = hold.panel
        key = panel.name, hold.hold.opposite_hand and panel.faces != "alike", hold.hold.copy
        if key in seen:
            hand = ", opposite hand" if key[1] else ""
            text = f"copy {hold.hold.copy}{hand} of {shown(panel.name)} is held already, in {seen[key]}"
            entry.wrong("copy", text, "Hold another copy, or take one of the two out")
            continue
        seen[key] = entry.place
        if check_place(entry, groups[index], hold):
            held[index].append(hold)
    for group, holds in zip(groups, held, strict=True):
        if holds:
            check_apart(group, holds)
    return tuple(
        replace(g, holds=tuple(h.hold for h in holds)) for g, holds in zip(groups, held, strict=True)
    )


@dataclass(frozen=True, slots=True)
class _Known:
    """What a hold may name: parts, all sheets, and of these the ``sound`` ones, without a mistake."""

    parts: NamedParts
    sheets: set[str]
    sound: set[str]
    nearest: Nearest


def _read(entry: Entry, groups: Sequence[Group], known: _Known) -> tuple[int, Held] | None:
    """Return a hold and the index of its group; None where it has a mistake, or where its part has one."""
    before = len(entry.notes)
    name = text(entry, "part", required=True)
    stock = text(entry, "sheet", required=True)
    at = pair(entry, "at", "place", required=True)
    copy = count(entry, "copy", 1, least=1, most=MOST_PIECES)
    opposite = flag(entry, "opposite_hand", False)
    on = count(entry, "on", 1, least=1, most=MOST_PIECES)
    turn = number(entry, "turn_deg", 0, least=-360, most=360, remedy=_DEGREES)
    if name is not None:
        _check_part(entry, name, known)
    if stock is not None and stock not in known.sheets:
        near = known.nearest(stock, known.sheets)
        others = f"Write one of {listed(sorted(known.sheets))}" if known.sheets else "Add the [[sheet]]"
        remedy = f"Did you mean {shown(near)}" if near else others
        entry.wrong("sheet", f"{shown(stock)} is no sheet of this job", remedy)
    if len(entry.notes) > before or name is None or stock is None or at is None:
        return None
    if copy is None or on is None or turn is None:
        return None
    found = next(((i, p) for i, g in enumerate(groups) for p in g.panels if p.name == name), None)
    if found is None:
        return None
    group, panel = groups[found[0]], found[1]
    sheet = next((s for s in group.sheets if s.name == stock), None)
    if sheet is None:
        if stock in known.sound:
            # A sheet that is wrong itself is in no group.
            _note_other_stock(entry, panel, stock, groups)
        return None
    hold = Hold(name, copy, opposite, stock, on, at[0], at[1], _plain(turn), entry.place)
    _check_copy(entry, panel, hold)
    _check_turn(entry, group, panel, sheet, hold.turn)
    check_number(entry, on, None if sheet.buy else sheet.on_hand)
    if sheet.roll:
        entry.wrong("sheet", f"{shown(stock)} comes off a roll, of which one piece is cut", "Take it out")
    if len(entry.notes) > before:
        return None
    return found[0], Held(entry, hold, panel, sheet)


def _plain(turn: Fraction) -> int | Fraction:
    """Return a turn from 0 up to less than a whole one, a whole number where it is one."""
    turn %= 360
    return int(turn) if turn.denominator == 1 else turn


def _check_part(entry: Entry, name: str, known: _Known) -> None:
    """Note a part that is not there, or is no panel."""
    parts = known.parts.parts
    part = parts.get(name)
    if part is None:
        if known.parts.all_there:
            near = known.nearest(name, parts)
            panels = [n for n, p in parts.items() if p.kind == "panel"]
            remedy = f"Did you mean {shown(near)}" if near else f"Write one of {listed(panels)}"
            entry.wrong("part", f"{shown(name)} is no part of this job", remedy)
    elif part.kind in ("tube", "bought part"):
        what = "a tube, which is cut from a bar" if part.kind == "tube" else "bought, and cut from nothing"
        entry.wrong("part", f"{shown(name)} is {what}", "Hold panels only; they lie on sheets")


def _note_other_stock(entry: Entry, panel: Panel, stock: str, groups: Sequence[Group]) -> None:
    """Note a sheet that the part is not cut from."""
    unit = entry.notes.unit
    own = next((g for g in groups if any(p.name == panel.name for p in g.panels)), None)
    names = [s.name for s in own.sheets] if own is not None else []
    made = f"{panel.material}, {with_unit(panel.thickness, unit)}"
    entry.wrong(
        "sheet",
        f"{shown(panel.name)} is {made}, and is not cut from {shown(stock)}",
        f"Write {' or '.join(map(shown, names))}" if names else "Add a sheet of that material and thickness",
    )


def _check_copy(entry: Entry, panel: Panel, hold: Hold) -> None:
    """Note a copy or hand that is not made."""
    alike = panel.faces == "alike"
    if hold.opposite_hand and alike and panel.marks:
        text = f"{shown(panel.name)} has marks on the face that is up, and is not laid turned over"
        entry.wrong("opposite_hand", text, "Leave opposite_hand out")
        return
    rows = panel.numbered(one_hand=alike)
    hand = hold.opposite_hand and not alike
    numbers = [n for row in rows for n, opposite in row if opposite == hand]
    if hold.copy in numbers:
        return
    said = "opposite hand" if hand else "as drawn"
    if not numbers:
        entry.wrong(
            "opposite_hand", f"no copy of {shown(panel.name)} is made {said}",
            "Leave opposite_hand out" if hand else "Write opposite_hand = true, or give it a quantity",
        )  # fmt: skip
        return
    entry.wrong(
        "copy",
        f"there is no copy {hold.copy} of {shown(panel.name)}, {said}: {len(numbers)} made",
        f"Write a number from 1 to {len(numbers)}",
    )


def _check_turn(entry: Entry, group: Group, panel: Panel, sheet: Sheet, turn: int | Fraction) -> None:
    """Note a turn that the part's turn and grain do not allow on the sheet."""
    if (turn * NINE) % 1:
        entry.wrong("turn_deg", f"{shown(str(turn))} degrees are finer than can be kept", _DEGREES)
        return
    free = panel.turn == "any" and "none" in (panel.grain, sheet.grain)
    allowed = allowed_turns(panel.turn, panel.grain, sheet.grain)
    if (free and not group.way.edge_to_edge) or turn in allowed:
        return
    grained = "none" not in (panel.grain, sheet.grain)
    why = f'turn = "{panel.turn}"' + (" and the grain of part and sheet forbid" if grained else " forbids")
    said = " or ".join(map(str, allowed))
    text = f"it would be turned by {float(turn):g} degrees, which {why}"
    remedy = f"Write {said}" if said else "Take the hold out: it may lie on this sheet in no turn"
    entry.wrong("turn_deg", text, remedy)
