"""From a length problem to its best cut list: quick lists, then loads by price, dives, whole numbers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from math import floor, inf
from random import Random

from nestkit.layout.bars.check import check_cut_list
from nestkit.layout.bars.columns import Answer, Column, Columns
from nestkit.layout.bars.problem import (
    CutList,
    LengthProblem,
    Load,
    Piece,
    measure_of,
    most_sticks,
    score_of,
)
from nestkit.layout.bars.quick import quick, tightened
from nestkit.layout.bars.scarce import as_many_as_fit, with_borrowed, without_borrowed
from nestkit.layout.bars.sums import Sums

GROW, GROW_AGAIN = 2000, 40
"""Rounds of pricing at first, and after each step of a dive."""
SURE = 0.75
"""A column taken so much more than whole times is rounded up with the others that are."""
AT_ONCE = 0.1
"""Share of the columns in use that are rounded up at once at most."""
FEW_COLUMNS = 6
"""Columns for each piece among which whole numbers are looked for."""
NODES = 400
"""Nodes in which whole numbers are looked for, after each round of dives."""
DIVES = 60
MOST_WORK = 3 * 10**9
"""Steps of looking for loads after which a round of dives ends early: some seconds."""
BY_WAYS = "no mix of the best ways to cut a stick comes to less"
BY_LENGTH = "all parts and cuts together take that much length"


@dataclass(frozen=True, slots=True)
class LengthsSolved:
    """The best cut list, the least that any could cost, whether that is proved, whether the user ended it."""

    found: CutList
    least_cost: Fraction
    why: str
    stopped: bool

    def proved(self, problem: LengthProblem) -> bool:
        """Say whether nothing can cost less."""
        return not any(self.found.left_over) and self.found.cost(problem) <= self.least_cost


Heard = Callable[[CutList, Fraction, str], None]
"""Told, now and then, the best list so far, the least that any can cost, and why that is."""


def solve_lengths(
    problem: LengthProblem,
    *,
    seed: int,
    rounds: int,
    stop: Callable[[], bool] = lambda: False,
    heard: Heard | None = None,
) -> LengthsSolved:
    """Return the best cut list found in so many rounds of dives; the same for the same seed and rounds."""
    search = _Search(problem, seed, heard)
    stopped = search.run(rounds, stop)
    if not stopped and search.wanting:
        search.best = _with_few_sticks(problem, search, seed, rounds, stop)
        stopped = search.run(rounds, stop)
    check_cut_list(problem, search.best)
    return LengthsSolved(search.best, search.least(), search.why, stopped)


def _with_few_sticks(
    problem: LengthProblem, search: _Search, seed: int, rounds: int, stop: Callable[[], bool]
) -> CutList:
    """Return a list that leaves fewer parts over than quick lists do, if one is found."""

    def solver(some: LengthProblem) -> CutList:
        lent, borrowed = with_borrowed(some)
        found = solve_lengths(lent, seed=seed, rounds=rounds, stop=stop).found
        return without_borrowed(some, found, borrowed)

    pieces = tuple(Piece(p.length, n) for p, n in zip(problem.pieces, search.wanted, strict=True))
    fitting = replace(problem, pieces=pieces)
    found = solver(fitting)
    if any(found.left_over):
        found = min(found, as_many_as_fit(fitting, solver), key=lambda f: score_of(fitting, f))
    return min(search.best, search.with_missing(found), key=lambda f: score_of(problem, f))


class _Search:
    """The best cut list and the best bound so far, and what makes them better."""

    def __init__(self, problem: LengthProblem, seed: int, heard: Heard | None) -> None:
        self.problem, self.measure, self.rng = problem, measure_of(problem), Random(seed)
        self.heard = heard
        most = max(self.measure.rooms, default=0)
        fits = [take <= most for take in self.measure.takes]
        self.wanted = [p.quantity if fit else 0 for p, fit in zip(problem.pieces, fits, strict=True)]
        self.missing = [p.quantity - n for p, n in zip(problem.pieces, self.wanted, strict=True)]
        dearest = max((s.cost for s in problem.sticks), default=Fraction(0))
        # Where nothing costs anything, sticks count.
        self.scale = dearest or Fraction(1)
        self.costs = [s.cost / dearest if dearest else Fraction(1) for s in problem.sticks]
        self.sums = Sums(problem.sticks, self.costs)
        self.best = self.with_missing(quick(problem, self.measure, self.wanted))
        self.bound, self.why = self._by_length(), BY_LENGTH

    @property
    def wanting(self) -> bool:
        """Say whether parts are left over that some stick is long enough for."""
        return self.best.left_over != tuple(self.missing)

    def with_missing(self, found: CutList) -> CutList:
        """Return a list in which those that no stick is long enough for are left over too."""
        return CutList(found.loads, tuple(a + b for a, b in zip(found.left_over, self.missing, strict=True)))

    def _by_length(self) -> Fraction:
        """Return what the length of all pieces costs at the best price for a length."""
        rates = [c / room for c, room in zip(self.costs, self.measure.rooms, strict=True) if room]
        if not rates:
            return Fraction(0)
        total = sum(t * n for t, n in zip(self.measure.takes, self.wanted, strict=True))
        return self._raised(total * min(rates))

    def _raised(self, bound: Fraction) -> Fraction:
        """Return the least sum of prices that is no less than a bound."""
        return self.sums.least_from(bound)

    def least(self) -> Fraction:
        """Return the bound in the problem's own money."""
        return self.bound * self.scale if any(s.cost for s in self.problem.sticks) else Fraction(0)

    def _value(self, found: CutList) -> Fraction:
        return self._cost(found.loads)

    def _cost(self, loads: Sequence[Load]) -> Fraction:
        numbers = Counter(load.stick for load in loads)
        return sum((self.costs[s] * n for s, n in numbers.items()), Fraction(0))

    def _met(self) -> bool:
        return not self.wanting and self._value(self.best) <= self.bound

    def _tell(self) -> None:
        if self.heard is not None:
            self.heard(self.best, self.least(), self.why)

    def run(self, rounds: int, stop: Callable[[], bool]) -> bool:
        """Search until the bound is met, rounds are over, or the user ends it; say whether that was so."""
        self._tell()
        if self._met() or self.wanting or not any(self.wanted):
            return False
        columns = Columns(self.problem, self.measure, self.costs)
        self._begin(columns)
        bound, _ = columns.grown(self.wanted, self._enough, GROW, self._by_takes())
        if self._raised(bound) > self.bound:
            self.bound, self.why = self._raised(bound), BY_WAYS
        for _ in range(rounds):
            begun = columns.work
            for noise in range(DIVES):
                if stop():
                    return True
                if self._met():
                    return False
                if noise and columns.work - begun > MOST_WORK:
                    break
                self._dive(columns, 0.0 if noise == 0 else 0.5)
                self._tell()
            self._whole(columns, stop)
        return False

    def _begin(self, columns: Columns) -> None:
        """Give the program the sticks of the best list, and for each piece one with as many as fit."""
        for load in self.best.loads:
            columns.add(load.stick, load.pieces)
        for piece, number in enumerate(self.wanted):
            for s in columns.stocks:
                most = min(number, self.measure.rooms[s] // self.measure.takes[piece])
                if most:
                    columns.add(s, ((piece, most),))
        columns.ask(self.wanted, self._free([]))

    def _by_takes(self) -> tuple[float, ...]:
        """Return prices of pieces by what they take, at the best price for a length."""
        rate = min(c / room for c, room in zip(self.costs, self.measure.rooms, strict=True) if room)
        return tuple(float(take * rate) for take in self.measure.takes)

    def _free(self, loads: list[Load]) -> list[float]:
        free = [most_sticks(self.problem, s) for s in range(len(self.problem.sticks))]
        for load in loads:
            free[load.stick] -= 1
        return free

    def _enough(self, bound: Fraction, relaxed: float) -> bool:
        """Say whether a bound cannot come to more by going on."""
        raised = self._raised(max(bound, Fraction(0)))
        return raised >= self._value(self.best) or raised >= self._raised(Fraction(relaxed))

    def _will_do(self, spent: Fraction, bound: Fraction, relaxed: float) -> bool:
        """Say whether nothing cheaper than what is spent and a relaxed cost can be hoped for."""
        return self._raised(spent + Fraction(relaxed)) <= self.bound

    def _dive(self, columns: Columns, noise: float) -> None:
        """Round what the relaxed program takes, ask for the rest, and so on; keep what is better."""
        wanted, loads = list(self.wanted), list[Load]()
        spent = Fraction(0)
        while any(wanted):
            columns.ask(wanted, self._free(loads))
            _, answer = columns.grown(wanted, partial(self._will_do, spent), GROW_AGAIN)
            self._completed(wanted, loads)
            if answer is None or self._raised(spent + Fraction(answer.cost)) >= self._value(self.best):
                break
            new = self._rounded(columns, answer, wanted, noise)
            loads += new
            spent += self._cost(new)
        else:
            self._completed(wanted, loads)
        columns.ask(self.wanted, self._free([]))

    def _rounded(self, columns: Columns, answer: Answer, wanted: list[int], noise: float) -> list[Load]:
        """Take the whole part of what the answer takes, else its largest fractions; make ``wanted`` less."""
        times = [(x, c) for x, c in zip(answer.times, columns.columns, strict=True) if x > 1e-6]
        new: list[Load] = []
        for x, column in times:
            for _ in range(floor(x + 1e-6)):
                new += _taken(column, wanted)
        if new:
            return new
        ranked = sorted(
            ((x * (1 - noise + 2 * noise * self.rng.random()), i) for i, (x, _) in enumerate(times)),
            key=lambda r: (-r[0], r[1]),
        )
        most = max(1, int(AT_ONCE * len(ranked)))
        for place, (x, i) in enumerate(ranked[:most]):
            if place == 0 or x >= SURE:
                new += _taken(times[i][1], wanted)
        return new

    def _completed(self, wanted: list[int], loads: list[Load]) -> None:
        """Give what is still wanted by quick lists, and keep the whole if it is better than the best."""
        free = self._free(loads)
        if min(free, default=inf) < 0:
            return
        rest = quick(_less(self.problem, free), self.measure, wanted)
        found = tightened(self.problem, self.measure, CutList((*loads, *rest.loads), rest.left_over))
        found = self.with_missing(found)
        if score_of(self.problem, found) < score_of(self.problem, self.best):
            self.best = found

    def _whole(self, columns: Columns, stop: Callable[[], bool]) -> None:
        """Look for whole numbers of good columns, beside most of what the program takes of each in whole."""
        if self._met():
            return
        wanted, loads = list(self.wanted), list[Load]()
        answer = columns.relaxed()
        if answer is None:
            return
        for x, column in zip(answer.times, columns.columns, strict=True):
            for _ in range(floor(x + 1e-6) - 1):
                loads += _taken(column, wanted)
        spent = self._cost(loads)
        few = Columns(self.problem, self.measure, self.costs)
        for column in sorted(columns.columns, key=lambda c: columns.excess(c, answer))[
            : FEW_COLUMNS * len(self.wanted)
        ]:
            few.add(*column)
        few.ask(wanted, self._free(loads))
        most = float(self._value(self.best) - self.sums.step - spent) + 1e-6
        for column in few.whole(most, NODES, stop):
            loads += _taken(column, wanted)
        self._completed(wanted, loads)


def _taken(column: Column, wanted: list[int]) -> list[Load]:
    """Return a column as a load of what is still wanted of it, if anything; ``wanted`` gets less."""
    stick, pieces = column
    some = tuple((p, min(n, wanted[p])) for p, n in pieces if wanted[p])
    for p, n in some:
        wanted[p] -= n
    return [Load(stick, some)] if some else []


def _less(problem: LengthProblem, free: list[float]) -> LengthProblem:
    """Return a problem with so many sticks left of each stock."""
    sticks = tuple(
        s if s.count is None else replace(s, count=int(n)) for s, n in zip(problem.sticks, free, strict=True)
    )
    return replace(problem, sticks=sticks)
