"""From a problem and a layout to the engine's rows, and back."""

from __future__ import annotations

import math
from itertools import repeat
from random import Random

from nestkit.errors import ToolFault
from nestkit.layout.problem import Problem
from nestkit.layout.rects.engine.arrays import (
    BEST_PAID,
    BEST_POOL,
    BEST_SHEETS,
    BOTTOM,
    COUNTS,
    KIND,
    KIND_FACTS,
    LEFT,
    MONEY,
    NEW_ROW,
    OF_TYPE,
    PAID,
    PART,
    PARTS,
    POOL,
    POOL_COST,
    RANDOM,
    RIGHT,
    RULES,
    SHEET_FACTS,
    SHEETS,
    SIZE,
    TOP,
    TYPE_FACTS,
    UNIT,
    Row,
    Shop,
    State,
)
from nestkit.layout.rects.filling import sort_keys
from nestkit.layout.rects.space import Laid, Sheets, Space

HEATS, LUCKS = 256, 1024
LARGEST_KEY = 1 << 20
PLENTY = 1 << 40
"""How many sheets are left of what can be bought."""


def row_of(row: NEW_ROW, values: list[int]) -> Row:
    """Return a row with these values."""
    made = row(max(1, len(values)))
    for i, v in enumerate(values):
        made[i] = v
    return made


def heats(hot: float, cold: float) -> list[int]:
    """Return the heat over a cycle, falling evenly from hot to cold by shares, in parts of UNIT."""
    # Rounded to whole numbers, so that the last bit of a power or a logarithm cannot matter.
    return [round(UNIT * hot * (cold / hot) ** (i / (HEATS - 1))) for i in range(HEATS)]


def lucks() -> list[int]:
    """Return the negative logarithms of even chances, in thousandths."""
    return [round(-1000 * math.log((i + 0.5) / LUCKS)) for i in range(LUCKS)]


def pieces_of(problem: Problem) -> int:
    """Return how many parts there are, extras too, since these lie on sheets that are laid anew."""
    return sum(b.quantity for b in problem.boxes) + sum(problem.extra)


def most_parts(space: Space) -> int:
    """Return how many parts can lie on one sheet at most."""
    pieces = pieces_of(space.problem)
    boxes = zip(space.area, space.problem.boxes, space.problem.extra or repeat(0), strict=False)
    least = min((area for area, box, extra in boxes if box.quantity + extra), default=1)
    return max(1, min(pieces, max(space.sheet_area, default=1) // max(1, least)))


def shop_of(
    space: Space,
    row: NEW_ROW,
    *,
    extents: list[tuple[int, int]],
    stocks: list[int],
    price: list[int],
    money: list[int],
    heat: tuple[float, float],
    rule: dict[int, int],
) -> Shop:
    """Return what does not change in a search over sheet types.

    ``extents`` are the types' rooms and ``stocks`` the stock that each is of, whose turns hold there.
    ``price`` and ``money`` are as in a record of a type.
    """
    kinds = len(space.area)
    whole = max((w * h for w, h in extents), default=1) or 1
    thin, low = [1 << 62] * kinds, [1 << 62] * kinds
    ways = []
    for stock, (room_w, room_h) in zip(stocks, extents, strict=True):
        for kind in range(kinds):
            fit = [(w, h) for w, h, _ in space.sizes[stock][kind] if w <= room_w and h <= room_h]
            ways.append(len(fit))
            ways += [n for pair in [*fit, (0, 0), (0, 0)][:2] for n in pair]
            for w, h in fit:
                thin[kind], low[kind] = min(thin[kind], w), min(low[kind], h)
    keys = [[k * LARGEST_KEY // (max(key, default=1) or 1) for k in key] for key in sort_keys(space)]
    rng = Random(len(keys))
    facts = []
    for kind in range(kinds):
        facts += [space.area[kind] * UNIT // whole, thin[kind], low[kind], rng.getrandbits(60)]
        facts += [key[kind] for key in keys]
    types = []
    for (w, h), *costs in zip(extents, price, money, strict=True):
        types += [w, h, -(-w * h * UNIT // whole), *costs, rng.getrandbits(60)]
    return Shop(
        type=row_of(row, types),
        kind=row_of(row, facts),
        way=row_of(row, ways),
        heat=row_of(row, heats(*heat)),
        luck=row_of(row, lucks()),
        rule=row_of(row, [rule.get(i, 0) for i in range(RULES)]),
    )


def state_of(
    space: Space,
    shop: Shop,
    row: NEW_ROW,
    sheets: Sheets,
    pool: list[int],
    seed: int,
    most: int,
    *,
    room: int = 0,
) -> State:
    """Return a state with these sheets (type and what lies there) and this pool of kinds.

    ``room`` is the number of sheets there may be; with it a part in the pool counts more than any sheet, and
    the score to beat is that of these sheets.
    """
    if any(len(laid) > most for _, laid in sheets):
        raise ToolFault("a sheet holds more parts than the search has room for")
    size = [int(shop.kind[k * KIND_FACTS + SIZE]) for k in range(len(space.area))]
    sheets_at_most = max(1, room, len(sheets))
    facts, parts = [0] * (sheets_at_most * SHEET_FACTS), [0] * (sheets_at_most * most * PART)
    money = [int(shop.type[t * TYPE_FACTS + MONEY]) for t in range(len(shop.type) // TYPE_FACTS)]
    free = [PLENTY if s.count is None else s.count for s in space.problem.stocks]
    for s, (type_, laid) in enumerate(sheets):
        area = sum(size[kind] for kind, _ in laid)
        facts[s * SHEET_FACTS : (s + 1) * SHEET_FACTS] = [type_, len(laid), area]
        if type_ < len(free):
            free[type_] -= 1
        for i, (kind, (x, y, w, h, _)) in enumerate(laid):
            to = (s * most + i) * PART
            parts[to : to + PART] = [kind, x, y, x + w, y + h]
    cost = [3 * UNIT + a if room else max(1, a) for a in size]
    count = [0] * COUNTS
    paid = sum(money[t] for t, _ in sheets)
    count[SHEETS], count[POOL], count[RANDOM] = len(sheets), len(pool), seed_number(seed)
    count[PAID] = paid
    count[BEST_POOL], count[BEST_PAID], count[BEST_SHEETS] = len(pool), paid, len(sheets)
    count[POOL_COST] = sum(cost[k] for k in pool)
    pieces = sum(len(laid) for _, laid in sheets) + len(pool)
    return State(
        sheet=row_of(row, facts),
        part=row_of(row, parts),
        pool=row_of(row, pool + [0] * (pieces + 1 - len(pool))),
        kind=row_of(row, [n for c in cost for n in (c, 1000)]),
        free=row_of(row, free),
        counts=row_of(row, count),
    )


def seed_number(seed: int) -> int:
    """Return a start for the random numbers, never 0."""
    return Random(seed).getrandbits(32) or 1


def sheets_in(space: Space, state: State, stocks: list[int], most: int) -> Sheets:
    """Return the sheets of a state, each with its type."""
    found = []
    for s in range(int(state.counts[SHEETS])):
        type_, number = (int(state.sheet[s * SHEET_FACTS + i]) for i in (OF_TYPE, PARTS))
        found.append((type_, laid_in(space, stocks[type_], state.part, s * most, number)))
    return found


def laid_in(space: Space, stock: int, part: Row, first: int, number: int) -> Laid:
    """Return ``number`` parts of a row from the ``first`` on, as they lie on a sheet of a stock."""
    found: Laid = []
    for at in range(first * PART, (first + number) * PART, PART):
        kind, x, y = int(part[at + KIND]), int(part[at + LEFT]), int(part[at + BOTTOM])
        w, h = int(part[at + RIGHT]) - x, int(part[at + TOP]) - y
        turn = next(t for a, b, t in space.sizes[stock][kind] if (a, b) == (w, h))
        found.append((kind, (x, y, w, h, turn)))
    return found
