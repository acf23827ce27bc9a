"""The keys of a panel that say how its outline file is read."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import get_args

from nestkit.job.entry import Entry
from nestkit.job.outlines.layers import Layers
from nestkit.job.shown import shown
from nestkit.job.values import choice, count, length, text
from nestkit.trade.rules import rule
from nestkit.units import Unit, with_unit

WITH_OUTLINE = ("outline_part", "outline_layers", "outline_unit", "join", "drill_up_to")
"""Keys that go with ``outline`` only."""

JOIN = Fraction(5, 100)
"""Millimetres between two ends that are joined where the job does not say."""

WIDEST_JOIN = Fraction(1)
LARGEST_DRILLED = Fraction(100)


@dataclass(frozen=True, slots=True)
class Options:
    """How a file is read. ``part`` is a number from 1 or a name; ``drill_up_to`` in mm, ``join`` too."""

    part: int | str | None
    layers: Layers
    unit: Unit | None
    join: Fraction
    drill_up_to: Fraction


def read_options(entry: Entry) -> Options | None:
    """Return how the outline file of a panel is read; None where a key of it is wrong."""
    before = len(entry.notes)
    part = _part(entry)
    layers = _layers(entry)
    unit: Unit | None = choice(entry, "outline_unit", get_args(Unit)) if "outline_unit" in entry else None
    join = _at_most(entry, "join", WIDEST_JOIN, "a wider gap is no slip of the drawing")
    up_to = _at_most(entry, "drill_up_to", LARGEST_DRILLED, "a larger round opening is a cut-out")
    if len(entry.notes) > before:
        return None
    if up_to is None:
        # Where layers say which circles are drilled, the others are not, whatever their size.
        by_hand = rule("R103")
        up_to = Fraction(0) if layers.holes else by_hand.mm(by_hand.typical)
    return Options(part, layers, unit, JOIN if join is None else join, up_to)


def _at_most(entry: Entry, key: str, most: Fraction, why: str) -> Fraction | None:
    if key not in entry:
        return None
    found = length(entry, key, "amount")
    if found is not None and found > most:
        entry.wrong(
            key,
            f"{shown(entry.data[key])} is too much",
            f"Write at most {with_unit(most, entry.notes.unit)}: {why}",
        )
        return None
    return found


def _part(entry: Entry) -> int | str | None:
    if "outline_part" not in entry:
        return None
    if isinstance(entry.data["outline_part"], str):
        return text(entry, "outline_part")
    return count(entry, "outline_part", least=1)


def _layers(entry: Entry) -> Layers:
    table = entry.child("outline_layers", "outline layers")
    if table is None:
        return Layers()
    edge, holes, ignore = (_names(table, key) for key in ("edge", "holes", "ignore"))
    twice = sorted((edge & holes) | (edge & ignore) | (holes & ignore))
    if twice:
        entry.wrong("outline_layers", f"{shown(twice[0])} stands there twice", "List each layer once")
    return Layers(edge, holes, ignore)


def _names(table: Entry, key: str) -> frozenset[str]:
    if key not in table:
        return frozenset()
    value = table.data[key]
    if (
        not isinstance(value, list)
        or not value
        or not all(isinstance(name, str) and name.strip() for name in value)
    ):
        table.wrong(key, f"a list of layers is wanted, not {shown(value)}", f'Write {key} = ["OUTLINE"]')
        return frozenset()
    return frozenset(name.strip().casefold() for name in value)
