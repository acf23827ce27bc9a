"""What would make a joint go together more often, each change with the chance that it gives."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from nestkit.fit.accuracy import accuracy
from nestkit.fit.assembly import Assembly, Layer
from nestkit.fit.chance import chance_as_planned
from nestkit.fit.result import Advice, AdviceKind, Chance
from nestkit.fit.room import room_lost
from nestkit.fit.spread_of import Plan
from nestkit.geometry.points import middle
from nestkit.job.model import Job
from nestkit.parts.bought import Bought
from nestkit.parts.gangs import Gang
from nestkit.parts.holes import Drill
from nestkit.parts.methods import Method
from nestkit.trade import drills, screws
from nestkit.units import MM_PER_INCH, with_unit

_ORDER: tuple[AdviceKind, ...] = ("method", "hole", "slot", "together", "after fit-up")
"""Of changes that buy as much the one that is less work comes first."""
_BY_HAND: tuple[Method, ...] = ("tape and marker", "rule and pencil", "template", "scribe and punch")
_WORTH = 0.01
"""A change that raises the chance by less is not told."""
_SLOT = {"in": MM_PER_INCH / 16, "mm": Fraction(3, 2)}
"""How much longer to each side a slot is made."""
_FILLS = ("rivet",)
"""What fills its hole: it holds nothing in a slot, nor in a hole that was opened (R108)."""
_LARGEST = 2.0
"""Holes are opened after fit-up to at most so many times the screw: beyond, no washer covers them."""

Try = Callable[[Plan], Chance]


def advice_for(
    job: Job,
    assembly: Assembly,
    plan: Plan,
    gangs: Sequence[Gang],
    *,
    now: Chance,
    goal: Fraction,
    trials: int,
    seed: int,
) -> tuple[Advice, ...]:
    """Return the changes that raise a joint's chance, those that buy most first."""

    def tried(changed: Plan) -> Chance:
        return chance_as_planned(job, assembly, changed, gangs, trials, seed)

    found = [
        *_larger_holes(job, assembly, plan, tried),
        *_better_marks(job, assembly, plan, tried),
        *_together(assembly, plan, tried),
        *_slot(job, assembly, plan, tried),
        *_after(job, assembly, plan, tried, float(goal)),
    ]
    worth = [a for a in found if a.chance.value > now.value + max(_WORTH, 2 * a.chance.error)]
    return tuple(sorted(worth, key=lambda a: (-round(a.chance.value, 2), _ORDER.index(a.kind))))


def _larger_holes(job: Job, assembly: Assembly, plan: Plan, tried: Try) -> Iterator[Advice]:
    """Yield the clearance holes of the screw's standard that are larger than those drawn."""
    if assembly.joint.fastener.kind != "screw":
        return
    clear = [i for i, layer in enumerate(assembly.layers) if not layer.plane.holds_thread]
    for row in _clearances(assembly.joint.fastener.size):
        dia = float(row.hole)
        smaller = [i for i in clear if min(plan.dias[i]) < dia - 1e-6]
        if not smaller:
            continue
        own = [i for i in smaller if not isinstance(assembly.layers[i].part, Bought)] or smaller
        changed = replace(plan, dias=_with_dia(plan, own, dia))
        drill = Drill(dia, row.drill, row.source, row.screw, row.fit, None, float(row.major))
        warning = "; ".join(filter(None, (room_lost(job, assembly.layers[i], drill) for i in own)))
        names = _names([assembly.layers[i] for i in own])
        text = f"drill {row.drill} ({with_unit(dia, job.unit)}, {row.fit} fit) in {names}"
        yield Advice("hole", text, tried(changed), warning)


def _clearances(screw: str) -> list[screws.ClearanceRow]:
    return [screws.clearance(screw, fit) for fit in screws.FITS[screws.clearance(screw).system]]


def _with_dia(plan: Plan, layers: Sequence[int], dia: float) -> tuple[tuple[float, ...], ...]:
    return tuple(
        tuple(max(old, dia) for old in dias) if i in layers else dias for i, dias in enumerate(plan.dias)
    )


def _better_marks(job: Job, assembly: Assembly, plan: Plan, tried: Try) -> Iterator[Advice]:
    """Yield ways of marking by hand that are finer than those in use."""
    hand = [i for i, method in enumerate(plan.methods) if method in _BY_HAND]
    sigmas = {method: accuracy(job, method).sigma for method in _BY_HAND}
    for method in ("template", "scribe and punch"):
        coarser = [i for i in hand if sigmas[plan.methods[i]] > sigmas[method] * 1.02]
        if coarser:
            methods = tuple(method if i in coarser else old for i, old in enumerate(plan.methods))
            names = _names([assembly.layers[i] for i in coarser])
            instead = " and ".join(sorted({plan.methods[i] for i in coarser}))
            text = f"mark {names} by {method} instead of {instead}"
            yield Advice("method", text, tried(replace(plan, methods=methods)))


def _together(assembly: Assembly, plan: Plan, tried: Try) -> Iterator[Advice]:
    """Yield drilling the other parts through the first one, or ours through the one that is bought."""
    if plan.together or "match drilled" in plan.methods:
        return
    bought = [i for i, layer in enumerate(assembly.layers) if isinstance(layer.part, Bought)]
    own = [i for i in range(len(assembly.layers)) if i not in bought]
    warning = "they are a marked pair from then on, and a spare stays undrilled"
    if bought in ([], [0]) and len(assembly.layers) > 1:
        followers = _names(assembly.layers[1:])
        text = f'drill {followers} through {assembly.layers[0].part.name} (made = "together")'
        yield Advice("together", text, tried(replace(plan, together=True)), warning)
    elif len(bought) == 1 and own:
        methods = tuple(old if i in bought else "match drilled" for i, old in enumerate(plan.methods))
        names, leader = _names([assembly.layers[i] for i in own]), assembly.layers[bought[0]].part.name
        text = f'drill {names} through {leader} (method = "match drilled")'
        yield Advice("together", text, tried(replace(plan, methods=methods)), warning)


def _slot(job: Job, assembly: Assembly, plan: Plan, tried: Try) -> Iterator[Advice]:
    """Yield a slot for the hole that is furthest from the middle of the others, in the first part of ours."""
    points = assembly.layers[0].points
    if len(points) < 2 or plan.slot is not None or assembly.joint.fastener.kind in _FILLS:
        return
    own = [i for i in _ours(assembly) if len(assembly.layers[i].plane.walls) == 1]
    if not own:
        return
    centre = middle(points)
    far = [(p.x - centre.x) ** 2 + (p.y - centre.y) ** 2 for p in points]
    screw = max(range(len(points)), key=lambda s: (round(far[s], 6), s))
    by = _SLOT[job.unit]
    layer = assembly.layers[own[0]]
    text = (
        f"make hole {layer.numbers[screw]} of {layer.part.name} a slot, {with_unit(2 * by, job.unit)} longer "
        "than wide, pointing to the middle of the others"
    )
    yield Advice("slot", text, tried(replace(plan, slot=(own[0], screw), slot_by=float(by))))


def _after(job: Job, assembly: Assembly, plan: Plan, tried: Try, goal: float) -> Iterator[Advice]:
    """Yield the drill to which the holes that miss are opened once all screws that go in are in."""
    if assembly.joint.fastener.kind in _FILLS:
        return
    clear = _ours(assembly)
    screw = assembly.joint.fastener.dia
    series = ("number", "letter", "fraction") if job.unit == "in" else ("metric",)
    largest = max((max(plan.dias[i]) for i in clear), default=screw)
    sizes = sorted(
        (
            row
            for row in drills.all_drills()
            if row.series in series and largest < row.dia <= _LARGEST * screw
        ),
        key=lambda row: row.dia,
    )
    low, high, best = 0, len(sizes) - 1, None
    while clear and low <= high:
        middle = (low + high) // 2
        chance = tried(replace(plan, dias=_with_dia(plan, clear, float(sizes[middle].dia))))
        if chance.value >= goal:
            best, high = (sizes[middle], chance), middle - 1
        else:
            low = middle + 1
    if best is not None:
        row, chance = best
        names = _names([assembly.layers[i] for i in clear])
        text = (
            f"put it together loosely, fix one end, then open the holes that miss: up to {row.name} "
            f"({with_unit(row.dia, job.unit)}) through {names}"
        )
        yield Advice("after fit-up", text, chance, "wide washers over opened holes")


def _ours(assembly: Assembly) -> list[int]:
    """Return which layers are of our making and have clearance holes."""
    return [
        i
        for i, layer in enumerate(assembly.layers)
        if not layer.plane.holds_thread and not isinstance(layer.part, Bought)
    ]


def _names(layers: Sequence[Layer]) -> str:
    return " and ".join(dict.fromkeys(layer.part.name for layer in layers))
