"""From a problem to its best layout: quick solvers first, the search after them, then the finish."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from nestkit.layout.bounds import Bounds, bounds_of, holds_for_all
from nestkit.layout.efforts import Effort
from nestkit.layout.events import Progress
from nestkit.layout.problem import Layout, Problem
from nestkit.layout.rects.engine.twin import can_compile, compiled, is_kept, plain
from nestkit.layout.rects.finish import finished
from nestkit.layout.rects.search import can_run_compiled
from nestkit.layout.rects.space import score_of
from nestkit.layout.roll import solve_roll
from nestkit.layout.solved import Solved, Telling, reached
from nestkit.layout.solvers import SOLVERS, Turn
from nestkit.layout.stop import AnyOf, Kept, NoGain, Rounds, Stop

PACKED_AT_MOST = 500
"""The packing library takes too long for more parts than this."""
FIRST_WORK, FIRST_ROUNDS = 200_000, 40
"""Work for bounds before the long search, a tenth of a second; and rounds before more is spent on them."""


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
    if problem.off_a_roll and any(b.quantity for b in problem.boxes):
        return solve_roll(problem, seed=seed, effort=effort, on_event=on_event, stop=stop, group=group)
    bounds = bounds_of(problem)
    reach = bounds if holds_for_all(problem) else bounds_of(problem, boxes_only=True)
    asked = Kept(lambda score: stop is not None and stop())
    telling = None if on_event is None else Telling(on_event, group, bounds)
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
        if telling is not None and not is_kept():
            telling.preparing(score_of(problem, best))
        form = compiled()
        known = _Known(problem, bounds, reach)
        best = _deeply(known, best, seed=seed, heard=heard, asked=asked, effort=effort)
        bounds = known.bounds
    tidy = 0 if asked.answered else effort.tidy
    layout = finished(problem, best, seed=seed, tries=tidy, form=form)
    return Solved(layout, bounds, asked.answered, form.name)


@dataclass(slots=True)
class _Known:
    """The bounds of a problem so far: for all layouts, and for those that solvers lay."""

    problem: Problem
    bounds: Bounds
    reach: Bounds

    def raise_by(self, work: int | None, best: Layout, ended: Callable[[], bool]) -> None:
        """Make the bounds better by some work."""
        from nestkit.layout.bounding import form as pricing
        from nestkit.layout.bounding.stronger import stronger

        problem, form = self.problem, pricing.compiled()
        self.bounds = stronger(problem, self.bounds, best, form=form, work=work, ended=ended)
        if holds_for_all(problem):
            self.reach = self.bounds
        else:
            self.reach = stronger(
                problem, self.reach, best, form=form, work=work, boxes_only=True, ended=ended
            )


def _deeply(
    known: _Known, best: Layout, *, seed: int, heard: list[Stop], asked: Kept, effort: Effort
) -> Layout:
    """Return what the long search makes of a layout; bounds are raised before it and in its course."""
    from nestkit.layout.members import Task, best_of
    from nestkit.layout.rects.deep import Deep

    problem = known.problem
    deep = Deep(problem, seed=seed)
    start = score_of(problem, best)

    def ended() -> bool:
        return asked(start)

    known.raise_by(FIRST_WORK, best, ended)
    stop = AnyOf(*heard, *reached(known.reach))
    if stop(start):
        return best
    best = deep(best, stop, min(FIRST_ROUNDS, effort.deep), ended)
    known.raise_by(None, best, ended)
    stop, rest = AnyOf(*heard, *reached(known.reach)), effort.deep - FIRST_ROUNDS
    if rest <= 0 or stop(score_of(problem, best)):
        return best
    others = [Task(problem, best, known.reach, seed + n, effort.deep) for n in range(1, effort.seeds)]
    return best_of(lambda: deep(best, stop, rest, ended), others, ended)


def _better(problem: Problem, one: Layout, two: Layout) -> Layout:
    return two if score_of(problem, two) < score_of(problem, one) else one


def _wanted(turn: Turn, problem: Problem) -> bool:
    """Say whether a solver has its turn."""
    if turn.solver.name == "packed" and sum(b.quantity for b in problem.boxes) > PACKED_AT_MOST:
        return False
    return turn.solver.supports(problem)
