"""The sheets of a job, and goods off a roll: what can be bought, and what is here."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from fractions import Fraction
from typing import get_args

from nestkit.job.entry import Entry
from nestkit.job.keep_clear import read_keep_clear
from nestkit.job.settling import settled_by_rules
from nestkit.job.shown import shown
from nestkit.job.stock import DEAREST, note_twice, note_unlike, read_cut
from nestkit.job.values import choice, count, flag, length, length_at, number, pair, text
from nestkit.parts.panel import Grain
from nestkit.stock.sheet import Sheet
from nestkit.stock.ways import Way
from nestkit.trade.materials import plain_name
from nestkit.units import LARGEST, Unit, with_unit

PRICED_BY: dict[Unit, Fraction] = {"in": Fraction("304.8"), "mm": Fraction(1000)}
"""The length in mm that the price of goods off a roll is for: a foot, or a metre."""

_PIECE_HERE = "a piece that is here is a sheet in a job of its own: size = [24, 60]"


def read_sheets(top: Entry, ways: Mapping[str, Way | None]) -> tuple[Sheet, ...]:
    """Return all sheets that have no mistake, and note what does not agree between them."""
    found: list[tuple[Entry, Sheet]] = []
    names: set[str] = set()
    for entry in top.children("sheet", "sheet"):
        sheet = _sheet(entry, ways)
        note_twice(entry, names)
        if sheet is not None:
            found.append((entry, sheet))
    note_unlike(found, _kind, "one material and thickness")
    _note_rolls(found)
    for entry, sheet in found:
        _check_room(entry, sheet, ways.get(sheet.cut))
    return tuple(sheet for _, sheet in found)


def _sheet(entry: Entry, ways: Mapping[str, Way | None]) -> Sheet | None:
    before = len(entry.notes)
    name = text(entry, "name", required=True)
    material = text(entry, "material", required=True)
    thickness = length(entry, "thickness", required=True)
    sold_as = length(entry, "sold_as")
    roll = _is_roll(entry)
    size = _roll_size(entry) if roll else pair(entry, "size", required=True)
    price = _price(entry, roll=roll)
    on_hand = count(entry, "on_hand", 0)
    buy = flag(entry, "buy", True)
    if roll and on_hand:
        remedy = f"Leave on_hand out; {_PIECE_HERE}"
        entry.wrong("on_hand", "goods off a roll are bought by length, and not counted in pieces", remedy)
    if roll and not buy:
        remedy = f"Leave buy out; {_PIECE_HERE}"
        entry.wrong("buy", "from a roll that is not to be bought nothing can be cut", remedy)
    grain = choice(entry, "grain", get_args(Grain), "none")
    cut = read_cut(entry, ways)
    clear = read_keep_clear(entry, roll=roll, size=size, most=None if buy else on_hand)
    if len(entry.notes) > before or not (name and material and grain and size) or thickness is None:
        return None
    return Sheet(
        name=name,
        place=entry.place,
        material=material,
        thickness=thickness,
        width=size[0],
        height=size[1],
        sold_as=sold_as,
        price=price,
        on_hand=on_hand or 0,
        buy=buy,
        grain=grain,
        cut=cut,
        line=entry.line,
        priced_by=PRICED_BY[entry.notes.unit] if roll else None,
        keep_clear=clear,
    )


def _is_roll(entry: Entry) -> bool:
    """Say whether a size speaks of a roll, rightly or not."""
    value = entry.data.get("size")
    return any(map(_says_roll, value)) if isinstance(value, list) else _says_roll(value)


def _says_roll(value: object) -> bool:
    """Say whether a value is the word roll, or has it, or a misspelling of it, beside others."""
    if not isinstance(value, str) or len(value) > 60:
        return False
    words = "".join(c if c.isalpha() else " " for c in value.lower()).split()
    return any(difflib.get_close_matches(word, ("roll", "rolls"), n=1, cutoff=0.75) for word in words)


def _roll_size(entry: Entry) -> tuple[Fraction, Fraction] | None:
    """Return the width of a roll, and the longest piece that may be cut off."""
    value = entry.data["size"]
    remedy = 'Write its width, then "roll": size = [24, "roll"]'
    if not isinstance(value, list) or len(value) != 2:
        entry.wrong("size", f"the width of the roll and the word are wanted, not {shown(value)}", remedy)
        return None
    if _says_roll(value[0]):
        what = "two rolls" if _says_roll(value[1]) else "the roll stands before its width"
        entry.wrong("size", f"{what}: y runs along the length", remedy, 0)
        return None
    if value[1].strip().lower() != "roll":
        entry.wrong("size", f"{shown(value[1])} is neither a length nor a roll", remedy, 1)
        return None
    width = length_at(entry, "size", 0)
    return None if width is None else (width, LARGEST)


def _price(entry: Entry, *, roll: bool) -> Fraction | None:
    if "price" not in entry:
        return None
    per = "one sheet" if not roll else "a foot of it" if entry.notes.unit == "in" else "a metre of it"
    remedy = f"Write what {per} costs as a plain number, without a currency"
    return number(entry, "price", 0, least=0, most=DEAREST, remedy=remedy)


def _check_room(entry: Entry, sheet: Sheet, way: Way | None) -> None:
    """Note a sheet that the margin of its way of cutting uses up."""
    if way is None:
        return
    margin = settled_by_rules(way, sheet.thickness)[1]
    for index, (sides, room) in enumerate(
        ((margin.left + margin.right, sheet.width), (margin.bottom + margin.top, sheet.height))
    ):
        if sides >= room:
            unit = entry.notes.unit
            along = sheet.roll and index == 1
            left = "any roll" if along else with_unit(room, unit)
            text = f"the margins of {with_unit(sides, unit)} in all leave nothing of {left}"
            entry.wrong("size", text, f"Make the margin of {way.place} smaller", index)


def _kind(sheet: Sheet) -> tuple[str, Fraction]:
    return plain_name(sheet.material), sheet.thickness


def _note_rolls(found: list[tuple[Entry, Sheet]]) -> None:
    """Note where stock of one material and thickness comes both in sheets and off a roll."""
    first: dict[tuple[str, Fraction], Sheet] = {}
    for entry, sheet in found:
        other = first.setdefault(_kind(sheet), sheet)
        if sheet.roll != other.roll:
            off, flat = (sheet, other) if sheet.roll else (other, sheet)
            entry.wrong(
                "size",
                f"{shown(off.name)} comes off a roll and {shown(flat.name)} in sheets, of one material and "
                "thickness",
                "Keep one of the two here, and make a job of its own for the other",
            )
