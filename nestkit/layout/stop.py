"""When a search ends: small rules that are asked once a round. None of them reads a clock."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

Score = tuple[int, Fraction, int]
"""Parts without a place, cost, sheets: less is better, the first first."""

Stop = Callable[[Score], bool]
"""Asked once a round with the best score so far; True ends the search."""


class Rounds:
    """Stops after a number of rounds."""

    def __init__(self, rounds: int) -> None:
        if rounds < 0:
            raise ValueError(f"rounds must be 0 or more, got {rounds}")
        self._left = rounds

    def __call__(self, score: Score) -> bool:
        """Say whether to stop, given the best score so far."""
        self._left -= 1
        return self._left < 0


class NoGain:
    """Stops after ``rounds`` rounds in a row without a better score."""

    def __init__(self, rounds: int) -> None:
        if rounds < 1:
            raise ValueError(f"rounds must be 1 or more, got {rounds}")
        self._rounds = rounds
        self._best: Score | None = None
        self._flat = 0

    def __call__(self, score: Score) -> bool:
        """Say whether to stop, given the best score so far."""
        better = self._best is None or score < self._best
        self._flat = 0 if better else self._flat + 1
        self._best = score if better else self._best
        return self._flat >= self._rounds


class Reached:
    """Stops once all parts are placed and neither cost nor sheets can be less."""

    def __init__(self, least_cost: Fraction, least_sheets: int) -> None:
        self._cost, self._sheets = least_cost, least_sheets

    def __call__(self, score: Score) -> bool:
        """Say whether to stop, given the best score so far."""
        left, cost, sheets = score
        return left == 0 and cost <= self._cost and sheets <= self._sheets


class CostMet:
    """Stops some rounds after all parts are placed at the least cost: only fewer sheets are still open."""

    def __init__(self, least_cost: Fraction, rounds: int) -> None:
        self._cost, self._left = least_cost, rounds

    def __call__(self, score: Score) -> bool:
        """Say whether to stop, given the best score so far."""
        left, cost, _ = score
        if left or cost > self._cost:
            return False
        self._left -= 1
        return self._left < 0


class Kept:
    """Passes a rule's answer on, and remembers whether it was ever True."""

    def __init__(self, rule: Stop) -> None:
        self._rule = rule
        self.answered = False

    def __call__(self, score: Score) -> bool:
        """Say whether to stop, given the best score so far."""
        self.answered = self.answered or self._rule(score)
        return self.answered


class AnyOf:
    """Stops as soon as one of its rules does; every rule is asked every time."""

    def __init__(self, *rules: Stop) -> None:
        self._rules = rules

    def __call__(self, score: Score) -> bool:
        """Say whether to stop, given the best score so far."""
        answers = [rule(score) for rule in self._rules]
        return any(answers)
