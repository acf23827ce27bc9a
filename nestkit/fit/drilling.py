"""The drill schedule: every drill that a job takes, the smallest first, what it makes and in which order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from nestkit.fit.drill_choice import instead_of, merges
from nestkit.fit.drill_words import drill_name, for_said, row_drill
from nestkit.fit.drilled import Drilled, Purpose, drilled_holes
from nestkit.fit.result import DrillUse
from nestkit.job.model import Job
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube
from nestkit.trade.pilots import is_large, pilots_for, spoken
from nestkit.trade.speeds import drill_speed


class _Line(NamedTuple):
    """What is said of holes that share a line of the schedule, in the order by which lines are sorted."""

    dia: float
    name: str
    final: bool
    use: str
    order: tuple[str, ...]
    speed: str
    instead: str


def drill_schedule(job: Job) -> tuple[DrillUse, ...]:
    """Return the drills of all holes that are made by hand, the smallest first.

    A drill has a line for each use and order: in polycarbonate it may follow a pilot, in aluminium not.
    Pilots have lines of their own.
    """
    holes = tuple(drilled_holes(job))
    steps = [step for hole in holes for step in _steps(job, hole)]
    instead = _instead(job, [made for made, _ in steps])
    lines: dict[_Line, list[Drilled]] = {}
    for made, order in steps:
        lines.setdefault(_line(job, made, order, instead[_alike(made)]), []).append(made)
    pilots = [same[0].drill for line, same in lines.items() if not line.final]
    other = merges(holes, pilots, job.unit)
    return tuple(
        _use(line, same, other.get((line.dia, line.name), "")) for line, same in sorted(lines.items())
    )


def _steps(job: Job, hole: Drilled) -> Iterator[tuple[Drilled, tuple[str, ...]]]:
    """Yield what is drilled for a hole, one after another, each with the drills up to it."""
    order: tuple[str, ...] = ()
    for row in pilots_for(hole.drill.dia, hole.part.material, job.unit):
        order = (*order, spoken(row))
        yield replace(hole, drill=row_drill(row), purpose=Purpose("pilot")), order
    yield hole, (*order, drill_name(hole.drill, job.unit))


_Alike = tuple[float, str, str, Purpose]
"""What must be alike of holes for which the same other drill will do."""


def _alike(hole: Drilled) -> _Alike:
    return hole.drill.dia, hole.drill.name, hole.drill.tap or "", hole.purpose


def _instead(job: Job, holes: Iterable[Drilled]) -> dict[_Alike, str]:
    groups: dict[_Alike, list[Drilled]] = {}
    for hole in holes:
        groups.setdefault(_alike(hole), []).append(hole)
    owned = job.shop_drills
    return {
        key: instead_of(same[0].drill, same, owned, job.unit) if owned is not None else ""
        for key, same in groups.items()
    }


def _line(job: Job, hole: Drilled, order: tuple[str, ...], instead: str) -> _Line:
    drill, final = hole.drill, hole.purpose.kind != "pilot"
    # The rules are for twist drills: they say nothing of a step drill or a hole saw.
    speed = "" if is_large(drill.dia) else drill_speed(drill.dia, hole.part.material, job.unit)
    return _Line(drill.dia, drill.name, final, for_said(drill, pilot=not final), order, speed, instead)


def _use(line: _Line, same: Sequence[Drilled], other: str) -> DrillUse:
    parts: dict[str, Panel | Tube] = {}
    counts: dict[str, int] = {}
    for hole in same:
        parts[hole.part.name] = hole.part
        counts[hole.part.name] = counts.get(hole.part.name, 0) + hole.times
    return DrillUse(
        drill=same[0].drill,
        holes=tuple((part, counts[name], part.needed) for name, part in parts.items()),
        order=line.order,
        speed=line.speed,
        instead=line.instead,
        merge=other if line.final else "",
        pilot=not line.final,
    )
