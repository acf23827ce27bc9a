"""The chance that a joint goes together: in closed form where there is one, else by seeded trials."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from nestkit.fit.assembly import Assembly
from nestkit.fit.closed import closed_chance
from nestkit.fit.result import Chance
from nestkit.fit.spread import Shared, Spread
from nestkit.fit.spread_of import Plan, spread_of
from nestkit.job.model import Job
from nestkit.parts.gangs import Gang

TRIALS = {"quick": 4_000, "normal": 20_000, "thorough": 100_000}
"""Trials of a joint by effort."""


@lru_cache(maxsize=4096)
def chance_of(spread: Spread, trials: int, seed: int) -> Chance:
    """Return the chance that all screws of a joint pass; joints that are alike are reckoned once."""
    closed = closed_chance(spread)
    if closed is not None:
        return Chance(closed)
    from nestkit.fit.trials import tried

    return tried(spread, trials, seed)


@lru_cache(maxsize=1024)
def chance_of_screws(spread: Spread, trials: int, seed: int) -> tuple[Chance, ...]:
    """Return the chance of each screw by itself, with the parts held where they are drawn."""
    closed = [closed_chance(only(spread.held(), screw)) for screw in range(len(spread.points))]
    if all(chance is not None for chance in closed):
        return tuple(Chance(chance) for chance in closed if chance is not None)
    from nestkit.fit.trials import screws_tried

    return screws_tried(spread, trials, seed)


def only(spread: Spread, screw: int) -> Spread:
    """Return a joint with one of its screws alone."""
    walls = tuple(
        replace(w, plays=w.plays[screw : screw + 1], bias=w.bias[screw : screw + 1],
                slots=w.slots[screw : screw + 1])
        for w in spread.walls
    )  # fmt: skip
    shared = tuple(Shared(tuple(wall[screw : screw + 1] for wall in e.moves)) for e in spread.shared)
    return replace(spread, points=spread.points[screw : screw + 1], walls=walls, shared=shared)


def worst_spread(job: Job, assembly: Assembly, plan: Plan, gangs: Sequence[Gang]) -> tuple[Spread, ...]:
    """Return a joint at the temperatures that it must bear: one, where the job names none."""
    range_ = job.fitting.temperatures
    if range_ is None or len(assembly.layers) < 2:
        return (spread_of(job, assembly, plan, gangs),)
    steps = (range_.low - range_.made_at, range_.high - range_.made_at)
    found = [spread_of(job, assembly, plan, gangs, warmer) for warmer in dict.fromkeys((0.0, *steps))]
    return tuple(dict.fromkeys(found))


def chance_as_planned(
    job: Job, assembly: Assembly, plan: Plan, gangs: Sequence[Gang], trials: int, seed: int
) -> Chance:
    """Return the chance of a joint made so, at the worst of the temperatures that it must bear."""
    chances = (chance_of(s, trials, seed) for s in worst_spread(job, assembly, plan, gangs))
    return min(chances, key=lambda chance: chance.value)
