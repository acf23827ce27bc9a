"""Shares of a sheet for each kind of part, as large as they can be, by column generation.

Any shares make a bound: where no parts that fit together have more than one sheet's worth, no layout has
more worth than its sheets. The best shares are the duals of the linear program that covers all parts by sets
of parts; sets that are worth too much are looked for and taken in until there is none (Gilmore and Gomory,
"A linear programming approach to the cutting-stock problem", Operations Research 9, 1961, from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from nestkit.layout.bounding.covering import Demand
from nestkit.layout.bounding.sheets import SheetOf
from nestkit.layout.linear import quiet_solver

SCALE = 10**7
"""Shares are whole numbers of this part of the dearest sheet; with them every bound is exact."""
NEAR = 1e-6
"""What a linear program is taken to be off by when its value is read; no bound depends on it."""
FURTHER, FURTHER_WORK = 12, 1000
"""Searches for further sets a round, and work for one; of each the best set is taken."""
WHOLE = 1e-2
"""Above this a step between values is worth a search of its own; below, half of what is open is tried."""
DUAL, PRIMAL = 1, 4
"""Names of the linear solver for its ways to go on from the last answer."""
A_ROUND, ROWS = 20, 100
"""What solving the program once counts for, a row; with more rows than these each takes longer."""

Set = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Aim:
    """What shares are sought for: the price of a sheet of each stock, and how many there are of it.

    Prices are shares of the dearest. With ``sheets`` the question is another: do these together hold all?
    """

    prices: tuple[float, ...]
    counts: tuple[int | None, ...]
    sheets: tuple[int, ...] | None = None


@dataclass(frozen=True, slots=True)
class Shares:
    """What the program says: its value, the share of each kind, what a sheet of each stock is worth."""

    value: float
    parts: Any
    worth: Any


class Program:
    """The linear program: cover what is needed of each kind by sets, each on a sheet of one stock."""

    def __init__(self, needed: Sequence[int], stocks: int) -> None:
        import highspy

        self._highs = quiet_solver()
        self._needed, self._stocks = tuple(needed), stocks
        self._infinite = highspy.kHighsInf
        self._columns: list[tuple[int, Set]] = []
        self._sure: set[int] = set()
        self._dropped = False
        self._aim: Aim | None = None
        self._known: set[tuple[int, Set]] = set()
        for n in self._needed:
            self._highs.addRow(float(n), self._infinite, 0, [], [])
        for _ in range(stocks):
            self._highs.addRow(-self._infinite, self._infinite, 0, [], [])
        # How many times the sheets of an aim are needed.
        self._highs.addCol(0.0, 0.0, self._infinite, 0, [], [])

    def add(self, stock: int, parts: Set) -> bool:
        """Take in a set of kinds on a stock; False if it is known."""
        key = stock, tuple(sorted(parts))
        if key in self._known:
            return False
        self._known.add(key)
        kinds = sorted(set(parts))
        rows = [*kinds, len(self._needed) + stock]
        values = [*(float(parts.count(k)) for k in kinds), 1.0]
        self._highs.addCol(self._cost(stock), 0.0, self._infinite, len(rows), rows, values)
        self._columns.append(key)
        return True

    def used(self) -> list[tuple[int, int, Set]]:
        """Return the sets that the last answer makes use of and that were not asked for before."""
        share = list(self._highs.getSolution().col_value)[1:]
        found = [i for i, v in enumerate(share) if v > NEAR and i not in self._sure]
        self._sure.update(found)
        return [(i, *self._columns[i]) for i in found]

    def drop(self, column: int) -> None:
        """Make no more use of a set."""
        self._highs.changeColBounds(column + 1, 0.0, 0.0)
        self._dropped = True

    def solved(self, aim: Aim) -> Shares | None:
        """Return the program's answer to an aim; None if the sets known cannot serve it."""
        import highspy
        import numpy

        if aim is not self._aim:
            self._turn_to(aim)
        rows = len(self._needed)
        # After new columns the last answer is still an answer; after columns dropped it is still a bound.
        self._highs.setOptionValue("simplex_strategy", DUAL if self._dropped else PRIMAL)
        self._dropped = False
        self._highs.run()
        if self._highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        dual = numpy.array(self._highs.getSolution().row_dual)
        worth = numpy.maximum(0.0, -dual[rows:])
        if aim.sheets is None:
            worth = worth + numpy.array(aim.prices)
        value = self._highs.getInfo().objective_function_value
        return Shares(value, numpy.maximum(0.0, dual[:rows]), worth)

    def _cost(self, stock: int) -> float:
        return 0.0 if self._aim is None or self._aim.sheets is not None else self._aim.prices[stock]

    def _turn_to(self, aim: Aim) -> None:
        self._aim = aim
        highs, several = self._highs, aim.sheets
        for s in range(self._stocks):
            row = len(self._needed) + s
            count = 0 if several is not None else aim.counts[s]
            highs.changeRowBounds(row, -self._infinite, self._infinite if count is None else float(count))
            highs.changeCoeff(row, 0, 0.0 if several is None else -float(several[s]))
        highs.changeColCost(0, 0.0 if several is None else 1.0)
        for i, (s, _) in enumerate(self._columns):
            highs.changeColCost(i + 1, self._cost(s))


def least_paid(
    prices: Sequence[float], counts: Sequence[int | None], gives: Sequence[int], need: int
) -> float:
    """Return the least that sheets in part cost, of which each stock gives so much; infinite if too few."""
    paid, rest = 0.0, float(need)
    for s in sorted((s for s, g in enumerate(gives) if g), key=lambda s: (prices[s] / gives[s], s)):
        count = counts[s]
        if count is None or rest <= count * gives[s]:
            return paid + prices[s] * max(0.0, rest) / gives[s]
        paid += count * prices[s]
        rest -= count * gives[s]
    return paid if rest <= 0 else float("inf")


@dataclass(slots=True)
class Columns:
    """Sets of parts that are known to matter, and the search for more of them."""

    sheets: tuple[SheetOf, ...]
    needed: tuple[int, ...]
    program: Program
    work: int
    """Work that is left: it is counted, not timed, so that every machine finds the same."""
    ended: Callable[[], bool] = lambda: False

    def goes_on(self) -> bool:
        """Say whether there is work left and the user has not ended it."""
        return self.work > 0 and not self.ended()

    def _demand(self, shares: Shares, looser: float, why: str) -> tuple[Demand, int]:
        """Return the demand that shares make, and the number of new sets found for it.

        Sets are looked for that are worth more than so many times what a sheet is.
        """
        value = [int(v * SCALE) for v in shares.parts]
        gives, new = [], 0
        for s, sheet in enumerate(self.sheets):
            least = int(shares.worth[s] * looser * SCALE)
            priced = sheet.priced(value, least, self.work)
            self.work -= priced.work
            gives.append(priced.most)
            taken: list[int] = []
            # Sets of the parts that are left make up a layout with the first: the program needs both.
            for _ in range(FURTHER):
                new += sum(self.program.add(s, parts) for parts in priced.sets[-1:])
                if not priced.sets or not self.goes_on():
                    break
                taken += priced.sets[-1]
                priced = sheet.priced(value, least, min(self.work, FURTHER_WORK), taken)
                self.work -= priced.work
        need = sum(v * n for v, n in zip(value, self.needed, strict=True))
        return Demand(need, tuple(gives), why), new

    def best(self, aim: Aim, why: str, known: float, enough: float, whole: float) -> Demand | None:
        """Return the demand found that asks most of an aim's sheets; None if none was looked for.

        Values are what the sheets cost in part, or with an aim's ``sheets`` how many times they are needed.
        The search ends when ``enough`` is exceeded, or when at best the value could still rise to the same
        multiple of ``whole`` as that found, or as the one ``known`` before.
        """
        found, most = None, known
        while self.goes_on():
            rows = len(self.needed) + len(self.sheets)
            self.work -= A_ROUND * rows * max(ROWS, rows) // ROWS
            shares = self.program.solved(aim)
            if shares is None:
                break
            target = -(-(most - NEAR) // whole) * whole
            if shares.value - NEAR <= target:
                if self._thinned():
                    continue
                break
            target = min(max(target, (most + shares.value) / 2), enough) if whole < WHOLE else target
            looser = self._worth(aim, shares) / target * (1 - NEAR) if target else 1.0
            demand, new = self._demand(shares, max(1.0, looser), why)
            value = self._value(aim, demand)
            if value > most or found is None:
                found, most = demand, max(value, most)
            if most > enough + NEAR or (not new and most < target):
                break
        return found

    def _thinned(self) -> bool:
        """Say whether sets that the program makes use of turned out not to fit, and drop them."""
        dropped = False
        for column, s, parts in self.program.used():
            if self.work > 0:
                fits, work = self.sheets[s].may_hold(parts)
                self.work -= work
                if not fits:
                    self.program.drop(column)
                    dropped = True
        return dropped

    def _worth(self, aim: Aim, shares: Shares) -> float:
        """Return the value that shares would prove if no set were worth more than its sheet."""
        total = float(sum(n * v for n, v in zip(self.needed, shares.parts, strict=True)))
        if aim.sheets is not None:
            return total
        spare = (
            count * (w - p) for count, w, p in zip(aim.counts, shares.worth, aim.prices, strict=True) if count
        )
        return total - float(sum(spare))

    def _value(self, aim: Aim, demand: Demand) -> float:
        if aim.sheets is None:
            return least_paid(aim.prices, aim.counts, demand.gives, demand.need)
        held = sum(n * g for n, g in zip(aim.sheets, demand.gives, strict=True))
        return demand.need / held if held else float("inf")
