"""Lengths to be cut from sticks, and a plan of how: plain data in whole grid steps.

Along a stick, after what is lost at its ends, the parts follow one another, each with a cut after it. The
last cut may fall on the end of what can be used, or be left out there; so a part takes its length and a kerf,
of what can be used and a kerf.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from fractions import Fraction
from math import gcd, inf


@dataclass(frozen=True, slots=True)
class Piece:
    """A length to be cut, and how often."""

    length: int
    quantity: int


@dataclass(frozen=True, slots=True)
class Stick:
    """Stock of one length: what each end loses, how many there are (None: any number), what one costs."""

    length: int
    trim: int
    count: int | None
    cost: Fraction

    @property
    def usable(self) -> int:
        """The length between the trims, never less than 0."""
        return max(0, self.length - 2 * self.trim)


@dataclass(frozen=True, slots=True)
class LengthProblem:
    """Pieces to be cut from sticks with a kerf. ``pieces`` are all of different lengths."""

    pieces: tuple[Piece, ...]
    sticks: tuple[Stick, ...]
    kerf: int


@dataclass(frozen=True, slots=True)
class Load:
    """One stick: the index of its stock, and how many of which pieces it gives, by rising index."""

    stick: int
    pieces: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class CutList:
    """Loads of sticks, alike ones too, and how many of each piece are left over."""

    loads: tuple[Load, ...]
    left_over: tuple[int, ...]

    def cost(self, problem: LengthProblem) -> Fraction:
        """Return what all sticks cost."""
        numbers = Counter(load.stick for load in self.loads)
        return sum((problem.sticks[s].cost * n for s, n in numbers.items()), Fraction(0))


Score = tuple[int, Fraction, int]
"""Pieces left over, cost, sticks: less is better, the first first."""


def score_of(problem: LengthProblem, found: CutList) -> Score:
    """Return what a cut list is worth."""
    return sum(found.left_over), found.cost(problem), len(found.loads)


@dataclass(frozen=True, slots=True)
class Measure:
    """A problem in whole common steps: what each piece takes, and what each stick has, both with a kerf."""

    takes: tuple[int, ...]
    rooms: tuple[int, ...]


def measure_of(problem: LengthProblem) -> Measure:
    """Return a problem's lengths in the largest step that divides what all its pieces take."""
    takes = [p.length + problem.kerf for p in problem.pieces]
    step = gcd(*takes) or 1
    # Sums of pieces are whole steps, so what a stick has beyond is of no use.
    rooms = [(s.usable + problem.kerf) // step if s.usable else 0 for s in problem.sticks]
    return Measure(tuple(t // step for t in takes), tuple(rooms))


def most_sticks(problem: LengthProblem, stick: int) -> float:
    """Return how many sticks of a stock there are, infinite where they can be bought."""
    count = problem.sticks[stick].count
    return inf if count is None else count
