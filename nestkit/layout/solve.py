"""From a problem to its best layout: quick solvers first, the search after them, then the finish."""

from __future__ import annotations

from collections.abc import Callable

from nestkit.layout.bounds import bounds_of, holds_for_all
from nestkit.layout.efforts import Effort
from nestkit.layout.events import Progress
from nestkit.layout.problem import Layout, Problem
from nestkit.layout.rects.engine.twin import can_compile, plain
from nestkit.layout.rects.finish import finished
from nestkit.layout.rects.search import can_run_compiled
from nestkit.layout.rects.space import score_of
from nestkit.layout.roll import solve_roll
from nestkit.layout.solved import Solved, Telling, reached
from nestkit.layout.solvers import SOLVERS, Turn
from nestkit.layout.stop import AnyOf, Kept, NoGain, Rounds, Stop

PACKED_AT_MOST = 500
"""The packing library takes too long for more parts than this."""


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

    ``stop`` is asked once a round, and True ends the search with the best so far. The problem's extra copies
    lie on the sheets beside those that are needed, where there is room.
    """
    if problem.off_a_roll and any(b.quantity for b in problem.boxes):
        return solve_roll(problem, seed=seed, effort=effort, on_event=on_event, stop=stop, group=group)
    bounds = bounds_of(problem)
    reach = bounds if holds_for_all(problem) else bounds_of(problem, boxes_only=True)
    asked = Kept(lambda score: stop is not None and stop())
    by_cost = len({s.cost for s in problem.stocks}) > 1
    telling = None if on_event is None else Telling(on_event, group, bounds, by_cost=by_cost)
    heard: list[Stop] = [asked] if telling is None else [asked, telling]
    best = Layout((), tuple(b.quantity for b in problem.boxes))
    if not problem.stocks or not any(best.left_over):
        return Solved(best, bounds, asked.answered)
    for turn in SOLVERS:
        if turn.rounds and turn.solver.supports(problem) and turn.solver.name != "packed":
            # One try each comes before anyone is asked: a user who stops at once still gets a layout.
            once = AnyOf(*reached(reach), Rounds(1))
            best = _better(problem, best, turn.solver(problem, seed=seed, stop=once, start=best))
    compiles = effort.deep > 0 and can_compile()
    plain_rounds = effort.plain_rounds(compiles=compiles)
    if (
        effort.works_alone(compiles=compiles)
        and telling is not None
        and not AnyOf(*reached(reach))(score_of(problem, best))
    ):
        telling.plain_alone(score_of(problem, best))
    for turn in SOLVERS:
        if not asked.answered and _wanted(turn, problem):
            rules: list[Stop] = [*heard, *reached(reach), Rounds(turn.rounds or plain_rounds)]
            if turn.rounds is None:
                rules.append(NoGain(effort.no_gain))
            found = turn.solver(problem, seed=seed, stop=AnyOf(*rules), start=best)
            best = _better(problem, best, found)
    form = plain()
    if compiles and can_run_compiled(problem) and not AnyOf(*heard, *reached(reach))(score_of(problem, best)):
        from nestkit.layout.deeply import Known, deeply

        known = Known(problem, bounds, reach, telling)
        best, form = deeply(known, best, seed=seed, heard=heard, asked=asked, effort=effort)
        bounds = known.bounds
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
