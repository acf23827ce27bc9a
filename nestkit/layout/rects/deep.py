"""The long search, for what quick layouts leave open: compiled moves, with set covering between them."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

from nestkit.layout.problem import Layout, Problem
from nestkit.layout.rects.cover import Cover, Relaxed
from nestkit.layout.rects.engine import twin
from nestkit.layout.rects.search import EVERYTHING, Search, Switches, can_empty
from nestkit.layout.rects.space import score_of
from nestkit.layout.stop import AnyOf, Kept, Rounds, Stop

FIRST_COVER = 25
"""Rounds before what was seen is put together anew; after that, whenever they have doubled."""
FIRST_WHOLE = 200
"""Rounds before whole numbers of the sheets seen are looked for, which takes long."""
STARTS, ROUNDS_A_START = 8, 2
"""How often the search goes on from sheets of the relaxed cover, and for how many rounds."""


def searched(
    problem: Problem,
    best: Layout,
    *,
    seed: int,
    stop: Stop,
    ended: Callable[[], bool] = lambda: False,
    rounds: int,
    switches: Switches = EVERYTHING,
) -> Layout:
    """Return the best layout found in so many rounds, or before ``stop`` ends the search.

    ``ended`` says whether the user ended it, and is asked where no round passes.
    """
    search = Search(problem, twin.compiled(), seed=seed, switches=switches)
    asked = Kept(stop)
    cover: Cover | None = None
    done, until = 0, FIRST_COVER
    while done < rounds and not asked.answered:
        best = search(best, AnyOf(asked, Rounds(min(until, rounds) - done)))
        done, until = min(until, rounds), 2 * until
        if asked.answered or any(best.left_over) or not switches.cover:
            continue
        cover = cover or Cover(search.space, best)
        cover.add(search.forget())
        relaxed = cover.relaxed()
        if relaxed.cost > cover.most_for(best):
            continue
        if can_empty(problem, best):
            best = _from_cover(search, cover, relaxed, best, asked, Random(seed + done))
        if until > FIRST_WHOLE:
            best = cover.better_than(best, relaxed, ended) or best
    return best


def _from_cover(
    search: Search, cover: Cover, relaxed: Relaxed, best: Layout, stop: Stop, rng: Random
) -> Layout:
    """Search on from sheets that the relaxed cover is made of."""
    fewer = len(best.sheets) - 1
    for _ in range(STARTS):
        search.go_on_from(best, *cover.rounded(relaxed, fewer, rng))
        best = search(best, AnyOf(stop, Rounds(ROUNDS_A_START)))
        if len(best.sheets) <= fewer or stop(score_of(search.problem, best)):
            break
    return best
