"""What all parts demand of the sheets, by area, by size, and by what large parts block."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import isqrt

from nestkit.layout.bounding.counts import fit_only
from nestkit.layout.bounding.covering import Demand
from nestkit.layout.bounding.dual import Measure, measures
from nestkit.layout.bounding.in_words import AREA_WHY, BARE_AREA_WHY, BLOCK_WHY, CLIQUE_WHY
from nestkit.layout.bounding.round import discs_of
from nestkit.layout.bounding.view import View, Way

SCALE = 10**9
PAIRED, MIXED = 7, 8
"""Of so many measures each is paired with each other."""
MANY = 60_000
"""With many sizes fewer measures are tried, so that all of them together are looked at about this often."""


def demands_of(view: View) -> list[Demand]:
    """Return every demand worth keeping, the plainest first."""
    count = range(len(view.quantity))
    stocks = range(len(view.rooms))
    areas = view.full
    total = sum(a * n for a, n in zip(view.area, view.quantity, strict=True))
    demands = [Demand(total, areas, AREA_WHY if view.gap else BARE_AREA_WHY)]
    fits = [tuple(s for s in stocks if view.ways[b][s]) for b in count]
    for only in sorted(set(fits)):
        if len(only) < len(stocks):
            inside = [b for b in count if set(fits[b]) <= set(only)]
            need = sum(view.area[b] * view.quantity[b] for b in inside)
            gives = tuple(areas[s] if s in only else 0 for s in stocks)
            number = sum(view.quantity[b] for b in inside)
            demands.append(Demand(need, gives, fit_only(view, number, only)))
    demands.append(_clique(view))
    demands += discs_of(view)
    choices = _choices(view)
    tables = [_tables(view, choices, axis) for axis in (0, 1)]
    for worth in _worths(view):
        demands += _blocked(view, choices, tables, worth)
    return demands


def _worths(view: View) -> list[tuple[int, ...]]:
    """Return what a full sheet of each stock may count for: one, its area, its cost."""
    areas = [w * h for w, h in view.rooms]
    found = [(SCALE,) * len(areas)]
    for values in (areas, list(view.costs)):
        most = max(values, default=0)
        if most:
            worth = tuple(-int(-v * SCALE // most) for v in values)
            if worth not in found:
                found.append(worth)
    return found


def _clique(view: View) -> Demand:
    """Count parts of which no two can share a sheet, taken greedily from the largest."""
    order = sorted(range(len(view.quantity)), key=lambda b: (-view.area[b], b))
    chosen: list[int] = []
    number = 0
    for b in order:
        if any(_can_share(view, b, other) for other in chosen):
            continue
        chosen.append(b)
        number += 1 if _can_share(view, b, b) else view.quantity[b]
    gives = tuple(int(any(view.ways[b][s] for b in chosen)) for s in range(len(view.rooms)))
    return Demand(number, gives, CLIQUE_WHY.format(number))


def _can_share(view: View, a: int, b: int) -> bool:
    # Two cores side by side leave half of either's rim between each and the sheet's edge.
    rim = (view.rims[a] + view.rims[b]) // 2
    for s, (room_w, room_h) in enumerate(view.rooms):
        for one in view.ways[a][s]:
            for two in view.ways[b][s]:
                # Boxes inside both parts must lie apart, whichever of them are compared.
                if all(p[0] + q[0] + rim <= room_w or p[1] + q[1] + rim <= room_h for p in one for q in two):
                    return True
    return False


@dataclass(frozen=True, slots=True)
class _Choices:
    """All boxes that any part may fill, and for each part the alternatives it has.

    ``rows[b]`` are alternatives: the stock, and indices into ``sizes`` of what is surely filled there.
    """

    sizes: tuple[tuple[Way, Way], ...]
    rows: tuple[tuple[tuple[int, tuple[int, ...]], ...], ...]


def _choices(view: View) -> _Choices:
    index: dict[tuple[Way, Way], int] = {}
    rows = []
    for ways in view.ways:
        row = []
        for s, turns in enumerate(ways):
            for inner in turns:
                row.append((s, tuple(index.setdefault((way, view.rooms[s]), len(index)) for way in inner)))
        rows.append(tuple(row))
    return _Choices(tuple(index), tuple(rows))


def _few(choices: _Choices, most: int) -> int:
    """Return how many of the best measures are paired: the more sizes there are, the fewer."""
    return max(2, min(most, isqrt(MANY // max(1, len(choices.sizes)))))


def _tables(view: View, choices: _Choices, axis: int) -> list[list[int]]:
    """Return each measure of width or height, of every size, in parts of SCALE."""
    room = max((r[axis] for r in view.rooms), default=0)
    most = max(3, min(24, MANY // max(1, 4 * len(choices.sizes))))
    functions = measures([way[axis] for way, _ in choices.sizes], room, most)
    return [_table(choices, f, axis) for f in functions]


def _blocked(
    view: View, choices: _Choices, tables: Sequence[Sequence[list[int]]], worth: tuple[int, ...]
) -> list[Demand]:
    """Return the strongest demands by products of a measure of width and one of height."""
    across, up = tables
    turning = any(len(row) > 1 for row in choices.rows)
    rows = _rows(choices, worth)

    def need(i: int, j: int) -> int:
        return _need(rows, view.quantity, [a * b // SCALE for a, b in zip(across[i], up[j], strict=True)])

    # The plain measure leads both lists.
    found = {(i, 0): need(i, 0) for i in range(len(across))} | {(0, j): need(0, j) for j in range(len(up))}
    few = _few(choices, PAIRED)
    best_i = sorted(range(len(across)), key=lambda i: (-found[i, 0], i))[:few]
    best_j = sorted(range(len(up)), key=lambda j: (-found[0, j], j))[:few]
    for i in best_i:
        for j in best_j:
            if (i, j) not in found:
                found[i, j] = need(i, j)
    values = list(found.values())
    if turning:
        values += _mixed(view, rows, tables, _few(choices, MIXED))
    return [Demand(value, worth, BLOCK_WHY) for value in sorted(values, reverse=True)[:3]]


def _mixed(view: View, rows: _Rows, tables: Sequence[Sequence[list[int]]], few: int) -> list[int]:
    """Return what is needed by the mean of two products, one the other's with its axes exchanged.

    Half of one measure of area and half of another are a measure again. Where a sheet is square a part
    has the same mean however it is turned, while by one product it could turn to where it counts less.
    """
    across, up = tables
    count = min(len(across), len(up))

    def need(i: int, j: int) -> int:
        a, b, c, d = across[i], up[j], across[j], up[i]
        mean = [(p * q + r * t) // (2 * SCALE) for p, q, r, t in zip(a, b, c, d, strict=True)]
        return _need(rows, view.quantity, mean)

    found = {(i, 0): need(i, 0) for i in range(count)}
    best = sorted(range(count), key=lambda i: (-found[i, 0], i))[:few]
    for i in best:
        for j in best:
            if j <= i and (i, j) not in found:
                found[i, j] = need(i, j)
    return list(found.values())


def _table(choices: _Choices, measure: Measure, axis: int) -> list[int]:
    """Return a measure of every size, in parts of SCALE, rounded down."""
    known: dict[tuple[int, int], int] = {}
    found = []
    for way, room in choices.sizes:
        key = way[axis], room[axis]
        if key not in known:
            top, bottom = measure(*key)
            known[key] = top * SCALE // bottom
        found.append(known[key])
    return found


_Rows = list[list[tuple[int, tuple[int, ...]]]]
"""For each part its alternatives: what a full sheet counts for there, and sizes surely filled."""


def _rows(choices: _Choices, worth: tuple[int, ...]) -> _Rows:
    """Return the alternatives of each part, of equal ones that with the least worth."""
    found = []
    for row in choices.rows:
        least: dict[tuple[int, ...], int] = {}
        for s, sizes in row:
            least[sizes] = min(worth[s], least.get(sizes, worth[s]))
        found.append([(w, sizes) for sizes, w in least.items()])
    return found


def _need(rows: _Rows, quantity: tuple[int, ...], mass: list[int]) -> int:
    """Return what all parts need of a measure of area, each in the stock and turn where it needs least.

    ``mass`` is the measure of each size, in parts of SCALE of a sheet.
    """
    total = 0
    for row, count in zip(rows, quantity, strict=True):
        least = -1
        for worth, sizes in row:
            most = worth * (mass[sizes[0]] if len(sizes) == 1 else max([mass[i] for i in sizes], default=0))
            if least < 0 or most < least:
                least = most
        total += max(0, least) // SCALE * count
    return total
