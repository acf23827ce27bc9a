"""All pieces on few or cheap plates: searches with one seed or several, the best of them finished."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from nestkit.layout.efforts import Effort
from nestkit.layout.members import best_of
from nestkit.layout.rects.engine.twin import Form, can_compile
from nestkit.layout.shapes.begin import laid_one_by_one
from nestkit.layout.shapes.engine import SHAPES, compiled, plain
from nestkit.layout.shapes.placeable import narrowed, placeable, widened
from nestkit.layout.shapes.problem import LaidPlate, Least, ShapesLayout, ShapesProblem, Worth, worth_of
from nestkit.layout.shapes.sheet_search import NOTHING_KNOWN, SheetSearch, model_for

TIDY = 4
"""The share of the work that is spent on the rest of the emptiest plate is one in so many."""


@dataclass(frozen=True, slots=True)
class Seeded:
    """A search with a seed of its own: plain data that pickles."""

    problem: ShapesProblem
    start: ShapesLayout
    least: Least
    seed: int
    work: int

    def run(self, ended: Callable[[], bool]) -> ShapesLayout:
        """Return the best layout found, in this process."""
        search = SheetSearch(self.problem, self.seed, self.start, self.least)
        search.run(self.work, ended, lambda layout: None)
        return search.layout()

    def rank(self, found: ShapesLayout) -> Worth:
        """Return what a layout is worth; less is better."""
        return worth_of(self.problem, found)

    def met(self, found: ShapesLayout) -> bool:
        """Say whether no layout can be better."""
        left, cost, plates = self.rank(found)
        return left == 0 and self.least.met_by(cost, plates)


def solve(
    problem: ShapesProblem,
    *,
    seed: int,
    effort: Effort,
    stop: Callable[[], bool] = lambda: False,
    on_event: Callable[[ShapesLayout], None] = lambda layout: None,
    start: ShapesLayout | None = None,
    least: Least = NOTHING_KNOWN,
    form: Form | None = None,
) -> ShapesLayout:
    """Return the best layout found within the effort, the same for the same problem, seed and effort.

    ``stop`` is asked once a round, and True ends the search with the best so far; ``on_event`` is told that
    best. ``start`` is a layout that is known already, without overlap. Without the compiler it is the first
    fit, or ``start`` if that is better.
    """
    form = form or (compiled() if can_compile() else plain())
    own, kept = placeable(problem)

    def heard(layout: ShapesLayout) -> None:
        on_event(widened(layout, kept, problem))

    if not kept:
        plates = (LaidPlate(n, ()) for n, plate in enumerate(own.plates) if plate.must)
        best = ShapesLayout(tuple(plates), ())
        heard(best)
    elif form.name == "plain":
        simple = laid_one_by_one(own)
        best = min((narrowed(start, kept) if start else simple, simple), key=partial(worth_of, own))
        heard(best)
    else:
        try:
            best = _searched(own, seed, effort, stop, heard, narrowed(start, kept) if start else None, least)
        finally:
            # The tables are large, and nobody else needs them.
            model_for.cache_clear()
    return widened(best, kept, problem)


def _searched(
    problem: ShapesProblem,
    seed: int,
    effort: Effort,
    stop: Callable[[], bool],
    on_event: Callable[[ShapesLayout], None],
    start: ShapesLayout | None,
    least: Least,
) -> ShapesLayout:
    """Return the best layout of searches with all seeds, finished."""
    search = SheetSearch(problem, seed, start, least)
    on_event(search.layout())

    def first() -> ShapesLayout:
        search.run(effort.shapes, stop, on_event)
        return search.layout()

    others = [
        Seeded(problem, search.layout(), least, seed + n, effort.shapes) for n in range(1, effort.seeds)
    ]
    found = best_of(first, others, stop, kept=SHAPES.is_kept())
    search.take(found)
    finished = search.finished(seed, effort.shapes // TIDY, stop)
    on_event(finished)
    return finished
