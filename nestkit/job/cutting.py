"""The ways of cutting: the usual one, and those with a name of their own."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import get_args

from nestkit.job.entry import Entry
from nestkit.job.schema import LEVELS
from nestkit.job.shown import shown
from nestkit.job.tabs import read_tabs
from nestkit.job.values import choice, count, length, name_fault
from nestkit.stock.ways import First, How, Margin, Prefer, Relief, Way
from nestkit.units import with_unit

WIDEST_CUT = Fraction(100)
"""Millimetres of kerf at most: no saw or cutter takes more."""

_KEYS = frozenset(LEVELS["cutting"].keys)
_SIDES = ("left", "right", "bottom", "top")


def read_ways(top: Entry) -> dict[str, Way | None]:
    """Return the ways of cutting by name, the usual one under the empty name.

    A way with mistakes is None, so that a sheet that names it is not blamed as well.
    """
    if "cutting" not in top:
        top.missing("cutting", "Add [cutting] with how and kerf")
        return {"": None}
    table = top.data["cutting"]
    if not isinstance(table, dict):
        top.wrong("cutting", f"a table is wanted, not {shown(table)}", "Write [cutting] and its keys below")
        return {"": None}
    named = frozenset(k for k, v in table.items() if isinstance(v, dict) and k not in _KEYS)
    usual = Entry(top.notes, table, ("cutting",), "cutting", "cutting", besides=named)
    ways = {"": _way(usual, "", None)}
    for name in (k for k in table if k in named):
        ways[name] = _named(usual, name, table[name], ways[""])
    return ways


def _named(usual: Entry, name: str, table: Mapping[str, object], base: Way | None) -> Way | None:
    fault = name_fault(name) if name.strip() else ("a way of cutting has an empty name", "Give it a name")
    if fault:
        usual.wrong(name, *fault)
        return None
    entry = Entry(usual.notes, table, (*usual.path, name), f"cutting.{shown(name)[1:-1]}", "way")
    if base is None and not {"how", "kerf"} <= set(table):
        # The usual way is wrong and said to be; what this one would inherit is not known.
        return None
    return _way(entry, name, base)


def _way(entry: Entry, name: str, base: Way | None) -> Way | None:
    """Read a way; what it does not say comes from ``base``, unless it cuts by another machine."""
    before = len(entry.notes)
    how = choice(entry, "how", get_args(How), base.how if base else None)
    if base is not None and how != base.how:
        base = None
    kerf = _kerf(entry, base)
    gap = length(entry, "gap", "amount") if "gap" in entry else (base.gap if base else None)
    margin = _margin(entry) if "margin" in entry else (base.margin if base else None)
    stages = count(entry, "stages", base.stages if base else 3, most=99)
    first: First | None = choice(entry, "first", get_args(First), base.first if base else "any")
    prefer: Prefer | None = choice(entry, "prefer", get_args(Prefer), base.prefer if base else "offcut")
    tabs = read_tabs(entry, how, base.tabs if base else None)
    relief = _relief(entry, how, base)
    if gap is not None and kerf is not None and gap < kerf:
        unit = entry.notes.unit
        key = "gap" if "gap" in entry else "kerf"
        entry.wrong(
            key,
            f"the gap of {with_unit(gap, unit)} is below the kerf of {with_unit(kerf, unit)}",
            "Make the gap at least the kerf, or leave it out",
        )
    if len(entry.notes) > before or how is None or kerf is None or stages is None or not (first and prefer):
        return None
    return Way(name, how, kerf, gap, margin, stages, first, prefer, entry.place, tabs, relief)


def _relief(entry: Entry, how: How | None, base: Way | None) -> Relief:
    """Return whether inner corners are relieved, which only a cutter's round needs."""
    relief: Relief | None = choice(entry, "relief", get_args(Relief), base.relief if base else "none")
    if relief == "corners" and how not in (None, "router"):
        entry.wrong(
            "relief",
            f"a {how} leaves no cutter's radius in a corner",
            "Leave relief out: it is for a router",
        )
    return relief or "none"


def _kerf(entry: Entry, base: Way | None) -> Fraction | None:
    if "kerf" not in entry and base is not None:
        return base.kerf
    kerf = length(entry, "kerf", "amount", required=True)
    if kerf is not None and kerf > WIDEST_CUT:
        entry.wrong(
            "kerf", f"{shown(entry.data['kerf'])} is wider than any saw or cutter", "Write it as measured"
        )
    return kerf


def _margin(entry: Entry) -> Margin | None:
    """Read a margin: one length for all four sides, or a table of sides."""
    if not isinstance(entry.data["margin"], dict):
        around = length(entry, "margin", "amount")
        return None if around is None else Margin(around, around, around, around)
    sides = entry.child("margin", "margin", named=True)
    found = {side: length(sides, side, "amount") for side in _SIDES if side in sides} if sides else {}
    return Margin(**{side: value for side, value in found.items() if value is not None})
