"""What holds for sheets and bars alike: their names, their way of cutting, and what must agree."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping, Sequence
from typing import TypeVar

from nestkit.job.entry import Entry
from nestkit.job.shown import shown
from nestkit.job.values import text
from nestkit.stock.bar import Bar
from nestkit.stock.sheet import Sheet
from nestkit.stock.ways import Way

DEAREST = 10**9
"""The highest price that is taken for one."""


Kind = TypeVar("Kind", Sheet, Bar)


def note_twice(entry: Entry, names: set[str]) -> None:
    """Note a name that other stock has already, and remember it."""
    name = entry.data.get("name")
    if isinstance(name, str):
        if name.strip() in names:
            entry.wrong("name", f"two kinds of stock are called {shown(name)}", "Give each its own name")
        names.add(name.strip())


def names_of_sheets(top: Entry) -> set[str]:
    """Return the names that sheets have, also those of sheets that have mistakes."""
    tables = top.data.get("sheet")
    named = [t.get("name") for t in tables if isinstance(t, dict)] if isinstance(tables, list) else []
    return {name.strip() for name in named if isinstance(name, str)}


def read_cut(entry: Entry, ways: Mapping[str, Way | None]) -> str:
    """Return the name of the way that stock is cut; empty where it goes the usual way, or is wrong."""
    cut = text(entry, "cut")
    if cut and cut not in ways:
        known = [shown(w) for w in ways if w]
        remedy = f"Write {' or '.join(known)}" if known else "Add [cutting.NAME], or leave it out"
        entry.wrong("cut", f"{shown(cut)} is no way of cutting of this job", remedy)
    return cut or ""


def note_unlike(
    found: Sequence[tuple[Entry, Kind]], kind_of: Callable[[Kind], Hashable], called: str
) -> None:
    """Note where stock of one kind is not cut one way, or is priced in part; ``called`` names such a kind."""
    first: dict[Hashable, Kind] = {}
    priced: dict[Hashable, Kind] = {}
    for entry, stock in found:
        other = first.setdefault(kind_of(stock), stock)
        if stock.cut != other.cut:
            entry.wrong(
                "cut",
                f"stock of {called} is cut one way, and {shown(other.name)} is cut another",
                "Give all of it the same way of cutting",
            )
        if not stock.buy:
            continue
        bought = priced.setdefault(kind_of(stock), stock)
        if (stock.price is None) != (bought.price is None):
            without = stock if stock.price is None else bought
            entry.wrong(
                "price",
                f"{shown(without.name)} has no price, while other stock like it has one",
                f"Give a price to all that can be bought of {called}, or to none",
            )
