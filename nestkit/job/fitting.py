"""How well holes are marked and drilled, what is asked of joints, practice pieces, and the shop's drills."""

from __future__ import annotations

import math
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from nestkit.geometry.points import Point
from nestkit.job.entry import Entry
from nestkit.job.holes import DRILL_REMEDY, LONGEST_DRILL_NAME, decimal_size
from nestkit.job.joints import CHANCE, CHANCE_REMEDY
from nestkit.job.methods import read_method
from nestkit.job.model import Fitting, Temperatures
from nestkit.job.shown import shown
from nestkit.job.values import choice, length, number, points, two_numbers
from nestkit.parts.methods import METHODS, Method, Practice
from nestkit.trade.drills import DrillRow, drill, named
from nestkit.units import Unit, with_unit

MOST_DRILLS = 1000
"""Drills of a shop at most."""
LEAST_POINTS = 5
"""Points of a practice piece at least."""
_NO_SCATTER = 0.001
"""Millimetres: marks that differ by less were not measured."""

_COLDEST, _HOTTEST = -60, 120
_TEMPERATURES = "Write the coldest and the hottest in degrees C, such as temperature = [0, 45]"
_FINEST, _COARSEST = Fraction(1, 1000), Fraction(5)
_FAR_OFF = 10.0
_USUAL = Fitting()

Hand = Literal["hand", "press"]
Walls = Literal["each", "in one go"]


def read_fitting(top: Entry) -> Fitting:
    """Return how well holes are made and what is asked of joints; what is wrong is noted."""
    practice = tuple(piece for entry in top.children("practice", "practice") if (piece := _practice(entry)))
    entry = top.child("fit", "fit", named=True)
    if entry is None:
        return Fitting(practice=practice)
    chance = number(entry, "chance", 1, least=CHANCE[0], most=CHANCE[1], remedy=CHANCE_REMEDY)
    method = read_method(entry)
    by: Hand | None = choice(entry, "drill", ("hand", "press"), "hand")
    walls: Walls | None = choice(entry, "tube_walls", ("each", "in one go"), "each")
    remedy = "Write a share from 0 to 1: 0.1 means one screw more for every ten"
    spares = number(entry, "spares", 0, least=0, most=1, remedy=remedy)
    return Fitting(
        chance=chance if "chance" in entry and chance is not None else _USUAL.chance,
        method=method,
        press=by == "press",
        in_one_go=walls == "in one go",
        temperatures=_temperatures(entry),
        accuracy=_accuracy(entry),
        practice=practice,
        spares=spares if "spares" in entry and spares is not None else _USUAL.spares,
    )


def _temperatures(entry: Entry) -> Temperatures | None:
    """Return the range that joints must bear, and how warm it is when the parts are made."""
    made_remedy = f"Write degrees C from {_COLDEST} to {_HOTTEST}"
    made = number(entry, "made_at", 20, least=_COLDEST, most=_HOTTEST, remedy=made_remedy)
    if "temperature" not in entry:
        if "made_at" in entry:
            entry.wrong("made_at", "it says nothing without temperature", _TEMPERATURES)
        return None
    found = two_numbers(entry, "temperature", least=_COLDEST, most=_HOTTEST, remedy=_TEMPERATURES)
    if found is None or made is None:
        return None
    if found[0] >= found[1]:
        text = f"{shown(entry.data['temperature'])} does not run from colder to hotter"
        entry.wrong("temperature", text, _TEMPERATURES)
        return None
    return Temperatures(float(found[0]), float(found[1]), float(made))


def _accuracy(entry: Entry) -> tuple[tuple[Method, Fraction], ...]:
    """Return the shop's own figures, +- mm per axis, in the order of the job."""
    own = entry.child("accuracy", "accuracy", named=True)
    found = []
    for key in own.data if own is not None else ():
        method = next((m for m in METHODS if m == key), None)
        figure = length(own, key, "amount") if own is not None and method is not None else None
        if own is None or method is None or figure is None:
            continue
        if _FINEST <= figure <= _COARSEST:
            found.append((method, figure))
        else:
            text = f"{shown(own.data[key])} is out of range"
            own.wrong(key, text, "Write how far off a hole may be each way, 0.001 to 5 mm")
    return tuple(found)


def _practice(entry: Entry) -> Practice | None:
    """Return a practice piece; None where it is wrong."""
    method = read_method(entry, required=True)
    wanted, measured = _marks(entry, "wanted"), _marks(entry, "measured")
    if method is None or wanted is None or measured is None:
        return None
    if len(wanted) != len(measured):
        text = f"{len(measured)} places for {len(wanted)} wanted ones"
        entry.wrong("measured", text, "Write one for each of wanted, in the same order")
        return None
    far = next((i for i in range(len(wanted)) if _apart(wanted[i], measured[i]) > _FAR_OFF), None)
    if far is not None:
        unit = entry.notes.unit
        off = with_unit(round(_apart(wanted[far], measured[far]), 1), unit)
        text = f"{off} away from where it was wanted"
        entry.wrong("measured", text, "Look for x and y exchanged, another order, or another unit", far)
        return None
    moves = [(m.x - w.x, m.y - w.y) for w, m in zip(wanted, measured, strict=True)]
    if all(math.dist(move, moves[0]) < _NO_SCATTER for move in moves):
        text = "all marks are off alike to a thousandth of a millimetre, which no hand does"
        entry.wrong("measured", text, "Measure each hole, to 0.1 mm or .005 in, and write what was read")
        return None
    return Practice(method, wanted, measured)


def _marks(entry: Entry, key: str) -> tuple[Point, ...] | None:
    if key not in entry:
        entry.missing(key, f"Write {LEAST_POINTS} places or more, such as [[1, 1], [2, 1]]")
        return None
    found = points(entry, key, least=LEAST_POINTS)
    return None if found is None else tuple(Point(float(x), float(y)) for x, y in found)


def _apart(first: Point, second: Point) -> float:
    return math.dist(first, second)


def read_shop_drills(top: Entry) -> tuple[DrillRow, ...] | None:
    """Return the drills that the shop owns, None where the job does not say."""
    shop = top.child("shop", "shop", named=True)
    if shop is None or "drills" not in shop:
        return None
    value = shop.data["drills"]
    if not isinstance(value, list) or not 1 <= len(value) <= MOST_DRILLS:
        text = f"a list of drills is wanted, not {shown(value)}"
        shop.wrong("drills", text, 'Write drills = ["#7", "1/4", "3 mm"], or leave it out')
        return None
    return tuple(dict.fromkeys(row for row in _owned(shop, value) if row is not None))


def _owned(shop: Entry, names: Sequence[object]) -> list[DrillRow | None]:
    rows = [_named(name, shop.notes.unit) for name in names]
    for index, row in enumerate(rows):
        if row is None:
            shop.wrong("drills", f"the drill tables have no {shown(names[index])}", DRILL_REMEDY, index)
    return rows


def _named(name: object, unit: Unit) -> DrillRow | None:
    """Return the drill of a name, or of a size that the tables have; a number without a unit is in mm."""
    if isinstance(name, bool) or not isinstance(name, str | int | Decimal):
        return None
    if isinstance(name, int) and abs(name) >= 10**9:
        return None
    text = str(name).strip()
    if len(text) > LONGEST_DRILL_NAME:
        return None
    size = decimal_size(text)
    return drill(text) or (named(size, unit) if size is not None else None)
