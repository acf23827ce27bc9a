"""From a problem to its best layout: quick solvers first, the search after them, then the finish."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from nestkit.layout.bounds import Bounds, bounds_of, holds_for_all
from nestkit.layout.efforts import ALONE, Effort
from nestkit.layout.events import Progress
from nestkit.layout.problem import Layout, Problem
from nestkit.layout.rects.engine.twin import can_compile, compiled, is_kept, plain
from nestkit.layout.rects.finish import finished
from nestkit.layout.rects.search import can_run_compiled
from nestkit.layout.rects.space import score_of
from nestkit.layout.solvers import SOLVERS, Turn
from nestkit.layout.stop import AnyOf, Kept, NoGain, Reached, Rounds, Score, Stop

PACKED_AT_MOST = 500
"""The packing library takes too long for more parts than this."""


@dataclass(frozen=True, slots=True)
class Solved:
    """The best layout of a problem, its bounds, whether the user ended the search, what it ran on."""

    layout: Layout
    bounds: Bounds
    stopped: bool
    engine: Literal["plain", "compiled"] = "plain"


class _Telling:
    """A stop rule that never stops, but tells of each round."""

    def __init__(self, on_event: Callable[[Progress], None], group: int, bounds: Bounds) -> None:
        self._on_event, self._group = on_event, group
        self._least_sheets = bounds.sheets.value if bounds.sheets else Fraction(0)
        self._least_cost = bounds.cost.value if bounds.cost else Fraction(0)
        self._why = bounds.sheets.why if bounds.sheets else "not all parts can be placed"
        self._round = 0

    def __call__(self, score: Score) -> bool:
        self._round += 1
        self._on_event(self._event(score))
        return False

    def preparing(self, score: Score) -> None:
        """Tell that the fast search is being compiled."""
        self._on_event(replace(self._event(score), preparing=True))

    def _event(self, score: Score) -> Progress:
        left, cost, sheets = score
        return Progress(
            self._group, sheets, cost, left, self._least_sheets, self._least_cost, self._why, self._round
        )


def solve(
    problem: Problem,
    *,
    seed: int,
    effort: Effort,
    on_event: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
    group: int = 0,
) -> Solved:
    """Return the best layout found within the effort; the same for the same problem, seed and effort.

    ``stop`` is asked once a round, and True ends the search with the best so far. ``extra`` copies
    (indices of their boxes) lie on the sheets beside those that are needed.
    """
    bounds = bounds_of(problem)
    reach = bounds if holds_for_all(problem) else bounds_of(problem, boxes_only=True)
    asked = Kept(lambda score: stop is not None and stop())
    telling = None if on_event is None else _Telling(on_event, group, bounds)
    heard: list[Stop] = [asked] if telling is None else [asked, telling]
    best = Layout((), tuple(b.quantity for b in problem.boxes))
    if not problem.stocks or not any(best.left_over):
        return Solved(best, bounds, asked.answered)
    for turn in SOLVERS:
        if turn.rounds and turn.solver.supports(problem) and turn.solver.name != "packed":
            # One try each comes before anyone is asked: a user who stops at once still gets a layout.
            once = AnyOf(*_met(reach), Rounds(1))
            best = _better(problem, best, turn.solver(problem, seed=seed, stop=once, start=best))
    compiles = effort.deep > 0 and can_compile()
    plain_rounds = effort.rounds if compiles or not effort.deep else effort.rounds * ALONE
    for turn in SOLVERS:
        if not asked.answered and _wanted(turn, problem):
            rules: list[Stop] = [*heard, *_met(reach), Rounds(turn.rounds or plain_rounds)]
            if turn.rounds is None:
                rules.append(NoGain(effort.no_gain))
            found = turn.solver(problem, seed=seed, stop=AnyOf(*rules), start=best)
            best = _better(problem, best, found)
    form = plain()
    score = score_of(problem, best)
    if compiles and can_run_compiled(problem) and not AnyOf(*heard, *_met(reach))(score):
        if telling is not None and not is_kept():
            telling.preparing(score)
        form = compiled()
        bounds, reach = _raised(problem, bounds, reach, best)
        if not AnyOf(*_met(reach))(score):
            stop_deep = AnyOf(*heard, *_met(reach))
            best = _searched(problem, best, seed=seed, stop=stop_deep, asked=asked, rounds=effort.deep)
    tidy = 0 if asked.answered else effort.tidy
    layout = finished(problem, best, seed=seed, tries=tidy, form=form)
    return Solved(layout, bounds, asked.answered, form.name)


def _met(bounds: Bounds) -> list[Stop]:
    """Return the rule that ends a search once its bounds are met; none where they are not known."""
    if bounds.sheets is None or bounds.cost is None:
        return []
    return [Reached(bounds.cost.value, max(int(bounds.sheets.value), bounds.fewest))]


def _raised(problem: Problem, bounds: Bounds, reach: Bounds, best: Layout) -> tuple[Bounds, Bounds]:
    """Return bounds that took some work: for all layouts, and for those that solvers lay."""
    from nestkit.layout.bounding import form as pricing
    from nestkit.layout.bounding.stronger import stronger

    form = pricing.compiled()
    for_all = stronger(problem, bounds, best, form=form)
    if holds_for_all(problem):
        return for_all, for_all
    return for_all, stronger(problem, reach, best, form=form, boxes_only=True)


def _searched(problem: Problem, best: Layout, *, seed: int, stop: Stop, asked: Kept, rounds: int) -> Layout:
    """Return what the long search makes of a layout."""
    from nestkit.layout.rects.deep import searched

    score = score_of(problem, best)
    return searched(problem, best, seed=seed, stop=stop, ended=lambda: asked(score), rounds=rounds)


def _better(problem: Problem, one: Layout, two: Layout) -> Layout:
    return two if score_of(problem, two) < score_of(problem, one) else one


def _wanted(turn: Turn, problem: Problem) -> bool:
    """Say whether a solver has its turn."""
    if turn.solver.name == "packed" and sum(b.quantity for b in problem.boxes) > PACKED_AT_MOST:
        return False
    return turn.solver.supports(problem)
