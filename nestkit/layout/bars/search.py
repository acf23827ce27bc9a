"""The best cut list and the best bound so far, and the order in which both are made better."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from fractions import Fraction
from math import inf
from random import Random

from nestkit.layout.bars.closing import cheaper
from nestkit.layout.bars.columns import Answer, Columns
from nestkit.layout.bars.dives import Diver, less
from nestkit.layout.bars.problem import CutList, LengthProblem, Load, measure_of, most_sticks, score_of
from nestkit.layout.bars.quick import quick, tightened
from nestkit.layout.bars.sums import Sums

GROW = 2000
"""Rounds of pricing before the first dive."""
DIVES = 60
MOST_WORK = 3 * 10**9
"""Steps of looking for loads after which a round of dives ends early: some seconds."""
DIVES_FIRST, CLOSING = 8, 2 * 10**7
"""Dives after which all choices of loads are first looked at, and the work of that: a second or so.

Where a list that meets the bound is there, dives mostly find it sooner; where none is, that is proved here.
"""
BY_WAYS = "no mix of the best ways to cut a stick comes to less"
BY_LENGTH = "all parts and cuts together take that much length"
BY_TRYING = "of all ways to cut a stick, no choice comes to less"

Heard = Callable[[CutList, Fraction, str], None]
"""Told, now and then, the best list so far, the least that any can cost, and why that is."""


class Search:
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
        self._looked: tuple[Fraction, int] | None = None

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
        return self.raised(total * min(rates))

    def _by_takes(self) -> tuple[float, ...]:
        """Return prices of pieces by what they take, at the best price for a length."""
        rate = min(c / room for c, room in zip(self.costs, self.measure.rooms, strict=True) if room)
        return tuple(float(take * rate) for take in self.measure.takes)

    def raised(self, bound: Fraction) -> Fraction:
        """Return the least sum of prices that is no less than a bound."""
        return self.sums.least_from(bound)

    def least(self) -> Fraction:
        """Return the bound in the problem's own money."""
        return self.bound * self.scale if any(s.cost for s in self.problem.sticks) else Fraction(0)

    def value(self) -> Fraction:
        """Return what the best list costs, as a share of the dearest stick."""
        return self.cost(self.best.loads)

    def cost(self, loads: Sequence[Load]) -> Fraction:
        """Return what loads cost, as a share of the dearest stick."""
        numbers = Counter(load.stick for load in loads)
        return sum((self.costs[s] * n for s, n in numbers.items()), Fraction(0))

    def met(self) -> bool:
        """Say whether the best list costs no more than the bound."""
        return not self.wanting and self.value() <= self.bound

    def free(self, loads: Sequence[Load]) -> list[float]:
        """Return how many sticks of each stock are left beside some loads."""
        free = [most_sticks(self.problem, s) for s in range(len(self.problem.sticks))]
        for load in loads:
            free[load.stick] -= 1
        return free

    def completed(self, wanted: list[int], loads: list[Load]) -> None:
        """Give what is still wanted by quick lists, and keep the whole if it is better than the best."""
        free = self.free(loads)
        if min(free, default=inf) < 0:
            return
        rest = quick(less(self.problem, free), self.measure, wanted)
        found = tightened(self.problem, self.measure, CutList((*loads, *rest.loads), rest.left_over))
        found = self.with_missing(found)
        if score_of(self.problem, found) < score_of(self.problem, self.best):
            self.best = found

    def _tell(self) -> None:
        if self.heard is not None:
            self.heard(self.best, self.least(), self.why)

    def run(self, rounds: int, stop: Callable[[], bool]) -> bool:
        """Search until the bound is met, rounds are over, or the user ends it; say whether that was so."""
        self._tell()
        if self.met() or self.wanting or not any(self.wanted):
            return False
        columns = Columns(self.problem, self.measure, self.costs)
        self._begin(columns)
        bound, _ = columns.grown(self.wanted, self._enough, GROW, self._by_takes())
        self._bounded(bound, BY_WAYS)
        diver = Diver(self, columns)
        for done in range(rounds):
            begun = columns.work
            for noise in range(DIVES):
                if stop():
                    return True
                if self.met():
                    return False
                if noise and columns.work - begun > MOST_WORK:
                    break
                diver.dive(0.0 if noise == 0 else 0.5)
                self._tell()
                if noise == DIVES_FIRST:
                    self._close(columns, CLOSING, stop)
            diver.whole(stop)
            self._close(columns, 2 * CLOSING * (done + 1), stop)
        return False

    def _bounded(self, bound: Fraction, why: str) -> None:
        """Keep a bound if it is better than the best."""
        if self.raised(bound) > self.bound:
            self.bound, self.why = self.raised(bound), why

    def _begin(self, columns: Columns) -> None:
        """Give the program the sticks of the best list, and for each piece one with as many as fit."""
        for load in self.best.loads:
            columns.add(load.stick, load.pieces)
        for piece, number in enumerate(self.wanted):
            for s in columns.stocks:
                most = min(number, self.measure.rooms[s] // self.measure.takes[piece])
                if most:
                    columns.add(s, ((piece, most),))
        columns.ask(self.wanted, self.free([]))

    def _enough(self, bound: Fraction, relaxed: float) -> bool:
        """Say whether a bound cannot come to more by going on."""
        raised = self.raised(max(bound, Fraction(0)))
        return raised >= self.value() or raised >= self.raised(Fraction(relaxed))

    def _close(self, columns: Columns, work: int, stop: Callable[[], bool]) -> None:
        """Look at all choices of loads that could cost less than the best list, if they are not too many.

        Not again where as much work has been done for a list of that cost already.
        """
        answer: Answer | None = None
        while not self.met() and self._looked != (self.value(), work):
            if answer is None:
                # The best prices leave the fewest loads; so far they only had to be good enough.
                bound, answer = columns.grown(self.wanted, lambda bound, relaxed: False, GROW)
                self._bounded(bound, BY_WAYS)
                if answer is None:
                    return
            self._looked = (self.value(), work)
            # All sums of prices are whole steps, so this is the most that a cheaper list can cost.
            closed = cheaper(columns, answer, self.wanted, self.value() - self.sums.step, work, stop)
            if closed.proved:
                self._bounded(self.value(), BY_TRYING)
            if closed.columns:
                self.completed([0] * len(self.wanted), [Load(*column) for column in closed.columns])
