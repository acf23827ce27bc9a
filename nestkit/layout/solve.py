"""From a problem to its best layout: quick solvers first, the search after them, then the finish."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
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


class Met:
    """Stops once all parts are placed and the bounds are met."""

    def __init__(self, bounds: Bounds) -> None:
        self._bounds = bounds

    def __call__(self, score: Score) -> bool:
        """Say whether to stop, given the best score so far."""
        left, cost, sheets = score
        return left == 0 and self._bounds.reached_by(cost, sheets)


class _Telling:
    """A stop rule that never stops, but tells of each round."""

    def __init__(self, on_event: Callable[[Progress], None], group: int, bounds: Bounds) -> None:
        self._on_event, self._group = on_event, group
        least = bounds.sheets, bounds.cost
        self._least = tuple(b.value if b else Fraction(0) for b in least)
        self._why = bounds.sheets.why if bounds.sheets else "not all parts can be placed"
        self._round = 0

    def __call__(self, score: Score) -> bool:
        self._round += 1
        left, cost, sheets = score
        least_sheets, least_cost = self._least
        self._on_event(
            Progress(self._group, sheets, cost, left, least_sheets, least_cost, self._why, self._round)
        )
        return False


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
    always: list[Stop] = [asked]
    if on_event is not None:
        always.append(_Telling(on_event, group, bounds))
    ends: list[Stop] = []
    if reach.sheets is not None and reach.cost is not None:
        ends.append(Reached(reach.cost.value, int(reach.sheets.value)))
    always += ends
    best = Layout((), tuple(b.quantity for b in problem.boxes))
    if not problem.stocks or not any(best.left_over):
        return Solved(best, bounds, asked.answered)
    for turn in SOLVERS:
        if turn.rounds and turn.solver.supports(problem) and turn.solver.name != "packed":
            # One try each comes before anyone is asked: a user who stops at once still gets a layout.
            once = AnyOf(*ends, Rounds(1))
            best = _better(problem, best, turn.solver(problem, seed=seed, stop=once, start=best))
    alone = not can_compile()
    for turn in SOLVERS:
        if not asked.answered and _wanted(turn, problem):
            rounds = turn.rounds or effort.rounds * (ALONE if alone and effort.deep else 1)
            rules: list[Stop] = [*always, Rounds(rounds)]
            if turn.rounds is None:
                rules.append(NoGain(effort.no_gain))
            found = turn.solver(problem, seed=seed, stop=AnyOf(*rules), start=best)
            best = _better(problem, best, found)
    form = plain()
    if (
        effort.deep
        and not alone
        and can_run_compiled(problem)
        and not AnyOf(*always)(score_of(problem, best))
    ):
        from nestkit.layout.bounding import form as pricing
        from nestkit.layout.bounding.stronger import stronger
        from nestkit.layout.rects.deep import searched

        if on_event is not None and not is_kept():
            left, cost, sheets = score_of(problem, best)
            zero = Fraction(0)
            on_event(Progress(group, sheets, cost, left, zero, zero, "", 0, preparing=True))
        form, priced = compiled(), pricing.compiled()
        bounds = stronger(problem, bounds, best, form=priced)
        if holds_for_all(problem):
            reach = bounds
        else:
            reach = stronger(problem, reach, best, form=priced, boxes_only=True)
        always = [rule for rule in always if rule not in ends] + [Met(reach)]
        if not reach.reached_by(best.cost(problem), len(best.sheets)):
            best = searched(
                problem,
                best,
                seed=seed,
                stop=AnyOf(*always),
                ended=lambda: asked(score_of(problem, best)),
                rounds=effort.deep,
            )
    tidy = 0 if asked.answered else effort.tidy
    layout = finished(problem, best, seed=seed, tries=tidy, form=form)
    return Solved(layout, bounds, asked.answered, form.name)


def _better(problem: Problem, one: Layout, two: Layout) -> Layout:
    return two if score_of(problem, two) < score_of(problem, one) else one


def _wanted(turn: Turn, problem: Problem) -> bool:
    """Say whether a solver has its turn."""
    if turn.solver.name == "packed" and sum(b.quantity for b in problem.boxes) > PACKED_AT_MOST:
        return False
    return turn.solver.supports(problem)
