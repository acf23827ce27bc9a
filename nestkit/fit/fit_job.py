"""All joints of a job: from the job to what is known of them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from nestkit.fit.accuracy import accuracy
from nestkit.fit.assemble import assemble
from nestkit.fit.assembly import Assembly
from nestkit.fit.chance import chance_as_planned, chance_of_screws
from nestkit.fit.hardware import hardware
from nestkit.fit.result import Accuracy, Advice, Chance, DrillUse, JobFit, JointFit, ScrewFit, Zone
from nestkit.fit.spread_of import Plan, plan_of, spread_of
from nestkit.fit.warmth import warmth_of
from nestkit.fit.zones import fixed_zone, floating_zone, radial_play
from nestkit.job.model import Job
from nestkit.job.pairs import gangs_to_mark
from nestkit.parts.gangs import Gang
from nestkit.parts.methods import BY_TABLE

ADVICE_TRIALS = 4_000
"""Trials of each change that is advised."""

_RIGID = ("screw", "rivet", "wood screw")
"""Fasteners whose holes must meet; ties and tapes bend."""


@dataclass(frozen=True, slots=True)
class _Shop:
    """What all joints of a job have in common."""

    job: Job
    gangs: tuple[Gang, ...]
    trials: int
    seed: int
    advise: bool


def fit_job(job: Job, *, trials: int, seed: int = 1, advise: bool = True) -> JobFit:
    """Return what is known of a job's joints; the same seed gives the same figures.

    Without ``advise`` nothing is said of changes, of each screw by itself, and of drills.
    """
    made = [joint for joint in job.joints if joint.quantity]
    assemblies = [assemble(job, joint) for joint in made]
    plans = [plan_of(job, assembly) for assembly in assemblies]
    by_table = any(method in BY_TABLE for plan in plans for method in plan.methods)
    shop = _Shop(job, gangs_to_mark(job) if by_table else (), trials, seed, advise)
    joints = tuple(_fit(shop, *pair) for pair in zip(assemblies, plans, strict=True))
    drills = _drills(job) if advise else ()
    not_made = tuple(joint.name for joint in job.joints if not joint.quantity)
    return JobFit(joints, _together(joints), hardware(job, assemblies), drills, not_made)


def _drills(job: Job) -> tuple[DrillUse, ...]:
    # A check, which does without, need not load it.
    from nestkit.fit.drilling import drill_schedule

    return drill_schedule(job)


def _fit(shop: _Shop, assembly: Assembly, plan: Plan) -> JointFit:
    job, joint = shop.job, assembly.joint
    goal = joint.chance if joint.chance is not None else job.fitting.chance
    if assembly.faults or joint.fastener.kind not in _RIGID:
        return JointFit(assembly, (), (), None, (), goal)
    chance = chance_as_planned(job, assembly, plan, shop.gangs, shop.trials, shop.seed)
    advice: tuple[Advice, ...] = ()
    if shop.advise and chance.value < goal:
        # A check, which does without, need not load it.
        from nestkit.fit.advice import advice_for

        few = min(shop.trials, ADVICE_TRIALS)
        advice = advice_for(
            job, assembly, plan, shop.gangs, now=chance, goal=goal, trials=few, seed=shop.seed
        )
    return JointFit(
        assembly,
        tuple(_accuracies(job, plan)),
        tuple(zones_of(assembly)),
        chance,
        _screws(shop, assembly, plan) if shop.advise else (),
        goal,
        advice,
        warmth_of(job, assembly, plan, shop.gangs, shop.trials, shop.seed) if shop.advise else None,
    )


def _accuracies(job: Job, plan: Plan) -> list[Accuracy]:
    """Return the accuracy of each layer; drilled through another, that of drilling so."""
    drilled: Literal["match drilled"] = "match drilled"
    methods = [drilled if plan.together and i else method for i, method in enumerate(plan.methods)]
    return [accuracy(job, method) for method in methods]


def zones_of(assembly: Assembly) -> list[Zone]:
    """Return the position zone left to each hole: T = H - F, or half of it each where one holds the screw.

    The hole that holds the screw shares the smallest zone of those that the screw goes through to it.
    """
    fastener = assembly.joint.fastener.dia
    held = any(layer.plane.holds_thread for layer in assembly.layers)
    zone = fixed_zone if held else floating_zone
    found = []
    for layer in assembly.layers:
        for screw, number in enumerate(layer.numbers):
            through = [
                other.dias[screw]
                for other in assembly.layers
                if not other.plane.holds_thread and (layer.plane.holds_thread or other is layer)
            ]
            least = min(through, default=fastener)
            found.append(Zone(layer.part.name, number, zone(least, fastener)))
    return found


def _screws(shop: _Shop, assembly: Assembly, plan: Plan) -> tuple[ScrewFit, ...]:
    spread = spread_of(shop.job, assembly, plan, shop.gangs)
    chances = chance_of_screws(spread, min(shop.trials, ADVICE_TRIALS), shop.seed)
    return tuple(
        ScrewFit(
            screw + 1,
            tuple((layer.part.name, layer.numbers[screw]) for layer in assembly.layers),
            chances[screw],
            clearance_of(assembly, screw),
        )
        for screw in range(assembly.screws)
    )


def clearance_of(assembly: Assembly, screw: int) -> float:
    """Return how far the centres of a screw's two tightest holes may be apart, in mm."""
    fastener = assembly.joint.fastener.dia
    plays = sorted(
        0.0 if layer.plane.holds_thread else radial_play(layer.dias[screw], fastener)
        for layer in assembly.layers
    )
    return sum(plays[:2])


def _together(joints: Sequence[JointFit]) -> Chance | None:
    """Return the chance that all joints go together, each as often as it is made, none helping another."""
    known = [fit for fit in joints if fit.chance is not None]
    if not known or any(fit.assembly.faults for fit in joints):
        return None
    value, share = 1.0, 0.0
    for fit in known:
        chance, times = fit.chance or Chance(1.0), fit.assembly.joint.quantity
        value *= chance.value**times
        share += (times * chance.error / chance.value) ** 2 if chance.value else 0.0
    return Chance(value, value * math.sqrt(share), max(fit.chance.trials for fit in known if fit.chance))
