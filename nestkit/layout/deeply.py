"""The long search on sheets: bounds are raised before it and in its course; then other seeds have a turn."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from nestkit.layout.bounding import form as pricing
from nestkit.layout.bounding.stronger import stronger
from nestkit.layout.bounds import Bounds, holds_for_all
from nestkit.layout.efforts import Effort, flat_rounds
from nestkit.layout.members import best_of
from nestkit.layout.problem import Layout, Problem
from nestkit.layout.rects.deep import Deep
from nestkit.layout.rects.engine.twin import Form, compiled, is_kept, plain
from nestkit.layout.rects.space import score_of
from nestkit.layout.solved import Telling, reached
from nestkit.layout.stop import AnyOf, CostMet, Kept, NoGain, Score, Stop

SMALL, SMALL_WORK = 40, 4000
"""With no more parts than these so much work for bounds is done in plain Python, before what is compiled is
loaded, which takes longer."""
FOR_SHEETS = 15
"""Rounds for fewer sheets where it is proved that none cost less."""
FIRST_WORK, FIRST_ROUNDS = 200_000, 40
"""Work for bounds before the long search, a tenth of a second; and rounds before more is spent on them."""


@dataclass(slots=True)
class Known:
    """The bounds of a problem so far: for all layouts, and for those that solvers lay.

    ``telling`` hears of those for all layouts whenever they are raised.
    """

    problem: Problem
    bounds: Bounds
    reach: Bounds
    telling: Telling | None

    def raise_by(self, work: int | None, best: Layout, ended: Callable[[], bool], form: Form) -> None:
        """Make the bounds better by some work, in a form of what prices sheets."""
        problem = self.problem
        self.bounds = stronger(problem, self.bounds, best, form=form, work=work, ended=ended)
        if holds_for_all(problem):
            self.reach = self.bounds
        else:
            self.reach = stronger(
                problem, self.reach, best, form=form, work=work, boxes_only=True, ended=ended
            )
        if self.telling is not None:
            self.telling.know(self.bounds)

    def preparing(self, best: Layout) -> None:
        """Tell that the fast search is being compiled, if it is."""
        if self.telling is not None and not is_kept():
            self.telling.preparing(score_of(self.problem, best))


@dataclass(frozen=True, slots=True)
class Seeded:
    """A long search: from which layout, what cannot be beaten, with which seed, for how many rounds."""

    problem: Problem
    start: Layout
    reach: Bounds
    seed: int
    rounds: int

    def run(self, ended: Callable[[], bool]) -> Layout:
        """Return the best layout found, in this process."""
        stop = AnyOf(lambda score: ended(), *_ends(self.problem, self.reach))
        return Deep(self.problem, seed=self.seed)(self.start, stop, self.rounds, ended)

    def rank(self, found: Layout) -> Score:
        """Return what a layout is worth; less is better."""
        return score_of(self.problem, found)

    def met(self, found: Layout) -> bool:
        """Say whether no layout can be better."""
        return any(rule(self.rank(found)) for rule in reached(self.reach))


def _ends(problem: Problem, reach: Bounds) -> list[Stop]:
    """Return the rules that end a search which cannot gain any more, or has not for long."""
    rules: list[Stop] = [*reached(reach), NoGain(flat_rounds(sum(b.quantity for b in problem.boxes)))]
    return rules if reach.cost is None else [*rules, CostMet(reach.cost.value, FOR_SHEETS)]


def _cost_met(bounds: Bounds, best: Score) -> bool:
    left, cost, _ = best
    return not left and bounds.cost is not None and cost <= bounds.cost.value


def deeply(
    known: Known, best: Layout, *, seed: int, heard: list[Stop], asked: Kept, effort: Effort
) -> tuple[Layout, Form]:
    """Return what the long search makes of a layout, and the form of the engine that was needed.

    The bounds known are raised as it goes.
    """
    problem = known.problem
    start = score_of(problem, best)

    def ended() -> bool:
        return asked(start)

    if sum(b.quantity for b in problem.boxes) <= SMALL:
        known.raise_by(SMALL_WORK, best, ended, pricing.plain())
        if AnyOf(*heard, *reached(known.reach))(start):
            return best, plain()
    known.preparing(best)
    form, prices = compiled(), pricing.compiled()
    known.raise_by(FIRST_WORK, best, ended, prices)
    ends = _ends(problem, known.reach)
    stop = AnyOf(*heard, *ends)
    if stop(start):
        return best, form
    deep = Deep(problem, seed=seed)
    best = deep(best, stop, min(FIRST_ROUNDS, effort.deep), ended)
    score, rest = score_of(problem, best), effort.deep - FIRST_ROUNDS
    if not _cost_met(known.reach, score):
        known.raise_by(None, best, ended, prices)
    stop = AnyOf(*heard, *reached(known.reach), *ends)
    if stop(score) or rest <= 0 or _cost_met(known.reach, score):
        return best, form
    others = [Seeded(problem, best, known.reach, seed + n, effort.deep) for n in range(1, effort.seeds)]
    return best_of(lambda: deep(best, stop, rest, ended), others, ended, kept=is_kept()), form
