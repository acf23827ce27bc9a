"""The long search, for what quick layouts leave open: compiled moves, and between them what they have seen.

It begins with sheets ripped into well-filled strips, where a sheet holds more than a few parts. With sheets
of one size sheet after sheet is emptied; in between the sheets seen are put together anew by a set cover.
With several sizes exchanges and swaps take turns; a cover took long there and gave little.
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random

from nestkit.layout.problem import Layout, Problem
from nestkit.layout.rects import rips
from nestkit.layout.rects.cover import Cover, Relaxed
from nestkit.layout.rects.engine import twin
from nestkit.layout.rects.rips import Ripped, worth_ripping
from nestkit.layout.rects.search import EVERYTHING, Search, Switches, can_empty, one_size
from nestkit.layout.rects.space import score_of
from nestkit.layout.rects.swaps import Swaps
from nestkit.layout.stop import AnyOf, Kept, Rounds, Stop

FIRST_COVER = 25
"""Rounds before what was seen is put together anew; after that, whenever they have doubled."""
FIRST_WHOLE = 100
"""Rounds before whole numbers of the sheets seen are looked for, which takes long."""
STARTS, ROUNDS_A_START = 8, 2
"""How often the search goes on from sheets of the relaxed cover, and for how many rounds."""
TURN = 10
"""Rounds of exchanges, and of swaps, that take turns."""


class Deep:
    """The long search on a problem. It goes on where it was when it is asked again for more rounds."""

    def __init__(self, problem: Problem, *, seed: int, switches: Switches = EVERYTHING) -> None:
        self.problem, self.seed, self.switches = problem, seed, switches
        self.search = Search(problem, twin.compiled(), seed=seed, switches=switches)
        self._cover: Cover | None = None
        self._swaps: Swaps | None = None
        self._done, self._next_cover = 0, FIRST_COVER

    def __call__(
        self, best: Layout, stop: Stop, rounds: int, ended: Callable[[], bool] = lambda: False
    ) -> Layout:
        """Return the best layout found in so many rounds, or before ``stop`` ends the search.

        ``ended`` says whether the user ended it, and is asked where no round passes.
        """
        asked = Kept(stop)
        if rounds and not self._done and self.switches.rips and worth_ripping(self.problem, best):
            best = Ripped(self.problem, rips.compiled(), seed=self.seed)(best, asked, ended)
        several = not one_size(self.problem)
        last = self._done + rounds
        while self._done < last and not asked.answered:
            until = min(self._next_cover, last)
            if several:
                best = self._in_turns(best, asked, until - self._done)
            else:
                best = self.search(best, AnyOf(asked, Rounds(until - self._done)))
            self._done = until
            if until == self._next_cover:
                self._next_cover *= 2
                if not (several or asked.answered or any(best.left_over)) and self.switches.cover:
                    best = self._covered(best, asked, ended)
        return best

    def _in_turns(self, best: Layout, stop: Kept, rounds: int) -> Layout:
        """Return what exchanges and swaps make of a layout, each for a few rounds in turn."""
        while rounds > 0 and not stop.answered:
            turn = min(TURN, rounds)
            best = self.search(best, AnyOf(stop, Rounds(turn)))
            rounds -= turn
            if rounds > 0 and not any(best.left_over):
                turn = min(TURN, rounds)
                self._swaps = self._swaps or Swaps(self.search)
                best = self._swaps(best, stop, turn)
                rounds -= turn
        return best

    def _covered(self, best: Layout, stop: Kept, ended: Callable[[], bool]) -> Layout:
        """Return what the sheets seen, put together anew, make of a layout."""
        cover = self._cover = self._cover or Cover(self.search.space, best)
        cover.add(self.search.forget())
        relaxed = cover.relaxed()
        if relaxed.cost > cover.most_for(best):
            return best
        if can_empty(self.problem, best):
            best = self._from_cover(cover, relaxed, best, stop)
        if self._next_cover > FIRST_WHOLE:
            best = cover.better_than(best, relaxed, ended) or best
        return best

    def _from_cover(self, cover: Cover, relaxed: Relaxed, best: Layout, stop: Stop) -> Layout:
        """Search on from sheets that the relaxed cover is made of."""
        fewer, rng = len(best.sheets) - 1, Random(self.seed + self._done)
        for _ in range(STARTS):
            self.search.go_on_from(best, *cover.rounded(relaxed, fewer, rng))
            best = self.search(best, AnyOf(stop, Rounds(ROUNDS_A_START)))
            if len(best.sheets) <= fewer or stop(score_of(self.problem, best)):
                break
        return best
