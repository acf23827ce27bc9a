"""The sheets of a job: what can be bought, and what is here."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import get_args

from nestkit.job.entry import Entry
from nestkit.job.settling import settled_by_rules
from nestkit.job.shown import shown
from nestkit.job.values import choice, count, flag, length, number, pair, text
from nestkit.parts.panel import Grain
from nestkit.stock.sheet import Sheet
from nestkit.stock.ways import Way
from nestkit.trade.materials import plain_name
from nestkit.units import with_unit

DEAREST = 10**9


def read_sheets(top: Entry, ways: Mapping[str, Way | None]) -> tuple[Sheet, ...]:
    """Return all sheets that have no mistake, and note what does not agree between them."""
    found: list[tuple[Entry, Sheet]] = []
    names: set[str] = set()
    for entry in top.children("sheet", "sheet"):
        sheet = _sheet(entry, ways)
        name = entry.data.get("name")
        if isinstance(name, str):
            if name.strip() in names:
                entry.wrong("name", f"two kinds of stock are called {shown(name)}", "Give each its own name")
            names.add(name.strip())
        if sheet is not None:
            found.append((entry, sheet))
    _agree(found)
    for entry, sheet in found:
        _check_room(entry, sheet, ways.get(sheet.cut))
    return tuple(sheet for _, sheet in found)


def _sheet(entry: Entry, ways: Mapping[str, Way | None]) -> Sheet | None:
    before = len(entry.notes)
    name = text(entry, "name", required=True)
    material = text(entry, "material", required=True)
    thickness = length(entry, "thickness", required=True)
    sold_as = length(entry, "sold_as")
    size = _size(entry)
    price = _price(entry)
    on_hand = count(entry, "on_hand", 0)
    buy = flag(entry, "buy", True)
    grain = choice(entry, "grain", get_args(Grain), "none")
    cut = text(entry, "cut")
    if cut and cut not in ways:
        known = [shown(w) for w in ways if w]
        remedy = f"Write {' or '.join(known)}" if known else "Add [cutting.NAME], or leave it out"
        entry.wrong("cut", f"{shown(cut)} is no way of cutting of this job", remedy)
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
        cut=cut or "",
        line=entry.line,
    )


def _size(entry: Entry) -> tuple[Fraction, Fraction] | None:
    value = entry.data.get("size")
    if isinstance(value, list) and any(isinstance(v, str) and v.strip() == "roll" for v in value):
        index = [isinstance(v, str) and v.strip() == "roll" for v in value].index(True)
        remedy = "Write the size of a sheet"
        entry.wrong("size", "goods off a roll are not available in this version", remedy, index)
        return None
    return pair(entry, "size", required=True)


def _price(entry: Entry) -> Fraction | None:
    if "price" not in entry:
        return None
    remedy = "Write what one sheet costs as a plain number, without a currency"
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
            text = f"the margins of {with_unit(sides, unit)} in all leave nothing of {with_unit(room, unit)}"
            entry.wrong("size", text, f"Make the margin of {way.place} smaller", index)


def _agree(found: list[tuple[Entry, Sheet]]) -> None:
    """Note where stock of one material and thickness is not priced or not cut alike."""
    first: dict[tuple[str, Fraction], Sheet] = {}
    priced: dict[tuple[str, Fraction], Sheet] = {}
    for entry, sheet in found:
        key = plain_name(sheet.material), sheet.thickness
        other = first.setdefault(key, sheet)
        if sheet.cut != other.cut:
            entry.wrong(
                "cut",
                f"stock of one material and thickness is cut one way, and {shown(other.name)} is cut another",
                "Give all of it the same way of cutting",
            )
        if not sheet.buy:
            continue
        bought = priced.setdefault(key, sheet)
        if (sheet.price is None) != (bought.price is None):
            without = sheet if sheet.price is None else bought
            entry.wrong(
                "price",
                f"{shown(without.name)} has no price, while other stock like it has one",
                "Give a price to all that can be bought of one material and thickness, or to none",
            )
