"""Sheets as what shares of parts are priced on: the kinds of parts in rows of numbers, one table a sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nestkit.layout.bounding import price
from nestkit.layout.bounding.price import DONE, ENOUGH, FOUND, LEAST, WORK, Hand
from nestkit.layout.bounding.together import DEPTH, MOST, Kinds
from nestkit.layout.bounding.view import View
from nestkit.layout.rects.engine.twin import Form

TABLE_BITS = {"plain": 14, "compiled": 19}
"""Sets that a sheet's table has places for, as a power of two."""
MOST_TRIES, MANY_TRIES = 40, 1000
"""Tries to lay the parts of one set; after these they count as fitting. Many are for sets that decide."""
SETS_A_SEARCH = 24
ENOUGH_WORK = 5000


@dataclass(frozen=True, slots=True)
class Priced:
    """What a search for the most worth on a sheet gave: no set is worth more than ``most``."""

    most: int
    sets: tuple[tuple[int, ...], ...]
    work: int


class SheetOf:
    """One stock, on which sets of parts are priced. Kinds are numbered as in ``order``, by falling area."""

    def __init__(self, view: View, stock: int, order: Sequence[int], form: Form) -> None:
        self._may_fit = form.functions["may_fit_after_all"]
        self._worth = form.functions["most_worth"]
        self._row = form.row
        number = len(order)
        self.room, self.full = view.rooms[stock], view.full[stock]
        self.kinds = Kinds(form.row(number), form.row(number), form.row(4 * number))
        self.fits = [bool(view.ways[b][stock]) for b in order]
        for i, b in enumerate(order):
            self.kinds.area[i] = view.area[b]
            # Of the boxes that a part surely fills in a turn the largest serves.
            cores = [max(inner, key=lambda c: (c[0] * c[1], c)) for inner in view.ways[b][stock] if inner]
            self.kinds.solid[i] = min((w * h for w, h in cores), default=0)
            for j, (w, h) in enumerate(cores[:2]):
                self.kinds.ways[4 * i + 2 * j], self.kinds.ways[4 * i + 2 * j + 1] = w, h
        self._copies = form.row(number)
        self._most = [min(view.quantity[b], self.full // max(1, view.area[b])) for b in order]
        least = min((view.area[b] for b in order), default=1)
        depth = min(sum(view.quantity[b] for b in order), self.full // max(1, least)) + 2
        bits = TABLE_BITS[form.name]
        self._hand = Hand(
            next=form.row((depth + 1) * number),
            level=form.row(depth * price.LEVEL),
            chosen=form.row(depth),
            parts=form.row(depth),
            stack=form.row((MOST + 2) * DEPTH),
            sets=form.row((SETS_A_SEARCH + 1) * (depth + 1)),
            count=form.row(2),
            known=form.row(1 << bits),
        )
        self._rule = form.row(price.RULE)
        self._value = form.row(number)
        for name, n in (
            (price.WIDTH, self.room[0]),
            (price.HEIGHT, self.room[1]),
            (price.FULL, self.full),
            (price.SETS, SETS_A_SEARCH),
            (price.TRIES, MOST_TRIES),
            (price.BITS, (number + 1).bit_length()),
            (price.MASK, (1 << bits) - 1),
        ):
            self._rule[name] = n

    def priced(self, value: Sequence[int], least: int, work: int, without: Sequence[int] = ()) -> Priced:
        """Return what no set exceeds, not below ``least``, and sets of more than that.

        ``without`` are kinds of which a copy is already taken; then the answer holds for the others only.
        """
        area = self.kinds.area
        for i, v in enumerate(value):
            self._value[i], self._copies[i] = v, self._most[i]
        for i in without:
            self._copies[i] -= 1
        order = [i for i, v in enumerate(value) if v > 0 and self.fits[i] and self._copies[i] > 0]
        order.sort(key=lambda i: (-value[i] / max(1, area[i]), i))
        for place, i in enumerate(order):
            self._hand.next[place] = i
        for name, n in ((LEAST, least), (WORK, work), (ENOUGH, min(work, ENOUGH_WORK))):
            self._rule[name] = n
        most = self._worth(self.kinds, self._value, self._copies, self._rule, self._hand, len(order))
        sets, at = [], 0
        for _ in range(self._hand.count[FOUND]):
            n = int(self._hand.sets[at])
            sets.append(tuple(int(k) for k in self._hand.sets[at + 1 : at + 1 + n]))
            at += 1 + n
        return Priced(int(most), tuple(sets), int(self._hand.count[DONE]))

    def may_hold(self, parts: Sequence[int]) -> tuple[bool, int]:
        """Say whether a set may fit after all, with many tries, and the work that took."""
        for i, k in enumerate(parts):
            self._hand.chosen[i] = k
        self._hand.count[DONE] = 0
        fits = self._may_fit(self.kinds, self._rule, self._hand, len(parts), MANY_TRIES)
        return bool(fits), int(self._hand.count[DONE])
