"""Drills in words: what one is called, and the list of all that are laid out for a job."""

from __future__ import annotations

from collections.abc import Sequence

from nestkit.fit.result import DrillUse
from nestkit.job.model import Job
from nestkit.parts.holes import Drill
from nestkit.parts.tube import Tube
from nestkit.text import columns, counted, sentence, wrapped
from nestkit.trade.drills import DrillRow
from nestkit.trade.materials import family
from nestkit.trade.pilots import LARGE_TOOL, LARGEST_RULE, is_large
from nestkit.trade.speeds import cooling
from nestkit.units import Unit, decimal_text, inches_text

_WIDTH = 100


def drill_name(drill: Drill, unit: Unit) -> str:
    """Return what a drill is called, with the unit that a fraction alone leaves open: ``1/8 in``, ``#7``."""
    if drill.name:
        return f"{drill.name} in" if "/" in drill.name else drill.name
    return f"Ø{dia_text(drill, unit)} {unit}"


def dia_text(drill: Drill, unit: Unit) -> str:
    """Return a drill's diameter as drill tables print it: ``.221``, in mm ``5.61``."""
    return decimal_text(drill.dia, 2) if unit == "mm" else inches_text(drill.dia)


def drill_said(drill: Drill, unit: Unit) -> str:
    """Return a drill with its diameter in the job's unit: ``#2 (.221)``, ``1/4 in (.250)``, ``5.5 mm``."""
    dia, name = dia_text(drill, unit), drill_name(drill, unit)
    if not drill.name:
        # Over the largest twist drill no drill of a table is looked for.
        return name if is_large(drill.dia) else f"{name}, no drill of the tables"
    return name if name == f"{dia} {unit}" else f"{name} ({dia})"


def row_drill(row: DrillRow) -> Drill:
    """Return a drill of the table as what makes a hole."""
    return Drill(float(row.dia), row.name, row.source)


def order_said(use: DrillUse) -> str:
    """Return the drills of a hole in the order of use, the tap last: ``1/8 in, then #2``."""
    return ", then ".join((*use.order, *([f"tap {use.drill.tap}"] if use.drill.tap else [])))


def hole_count(use: DrillUse) -> int:
    """Return how many holes a drill makes, or begins, in all copies of all parts."""
    return sum(holes * copies for _, holes, copies in use.holes)


def holes_said(use: DrillUse) -> str:
    """Return the holes by part: ``console lid 4, console side 4 in each of 2``."""
    return ", ".join(
        f"{part.name} {holes}" + (f" in each of {copies}" if copies > 1 else "")
        for part, holes, copies in use.holes
    )


def drills_in_all(schedule: Sequence[DrillUse]) -> int:
    """Return how many different drills there are to lay out, pilots too."""
    return len({(use.drill.dia, use.drill.name) for use in schedule})


def laid_out_said(schedule: Sequence[DrillUse]) -> str:
    """Return how many drills to lay out, and how many fewer would do."""
    count = drills_in_all(schedule)
    spared = len({(use.drill.dia, use.drill.name) for use in schedule if use.merge})
    fewer = f"; {count - spared} would do" if spared else ""
    return f"{counted(count, 'drill')} to lay out{fewer}."


def merged_said(schedule: Sequence[DrillUse], unit: Unit) -> list[str]:
    """Return a sentence for each drill that another one can stand in for."""
    found = {drill_said(use.drill, unit): use.merge for use in schedule if use.merge}
    return [f"{name} can be left out: {other}, spoils no joint." for name, other in found.items()]


def missing_said(schedule: Sequence[DrillUse], unit: Unit) -> list[str]:
    """Return a sentence for each drill that the shop does not own: what to use, or to buy."""
    said = (f"{_for_what(use, unit)} is not here: {use.instead}." for use in schedule if use.instead)
    return list(dict.fromkeys(said))


def use_said(use: DrillUse) -> str:
    """Return what a drill's holes are for, as far as the job says: ``pilot``, ``tap 10-32``."""
    return for_said(use.drill, pilot=use.pilot)


def for_said(drill: Drill, *, pilot: bool) -> str:
    """Return what holes of a drill are for, see :func:`use_said`."""
    if pilot:
        return "pilot"
    if drill.tap:
        return f"tap {drill.tap}"
    return f"{drill.screw} {drill.fit or ''}".strip() if drill.screw else ""


def care_said(schedule: Sequence[DrillUse], unit: Unit) -> list[str]:
    """Return what to heed: what makes large holes, how to cool, how holes of tubes are counted."""
    said = []
    large = dict.fromkeys(drill_name(u.drill, unit) for u in schedule if is_large(u.drill.dia))
    if large:
        said.append(f"{', '.join(large)}: {LARGE_TOOL}, the work clamped ({LARGEST_RULE}).")
    materials = {family(part.material): part.material for u in schedule for part, _, _ in u.holes}
    said += [f"{sentence(name)[:-1]}: {how}." for name in materials.values() if (how := cooling(name))]
    tubes = (part for use in schedule for part, _, _ in use.holes if isinstance(part, Tube))
    if any(hole.through and tube.section.two_walls for tube in tubes for hole in tube.holes):
        said.append("A hole through both walls of a tube counts as two.")
    return said


def drill_lines(job: Job, schedule: Sequence[DrillUse]) -> list[str]:
    """Return the schedule as lines for people: a table, the holes by part, notes, how many to lay out."""
    if not schedule:
        return ["No hole is drilled by hand."]
    unit = job.unit
    rows = [("drill", "size", "holes", "parts", "for", "in this order", "speed")]
    for use in schedule:
        size = f"{dia_text(use.drill, unit)} {unit}"
        count, parts = str(hole_count(use)), str(len(use.holes))
        rows.append(
            (drill_name(use.drill, unit), size, count, parts, use_said(use), order_said(use), use.speed)
        )
    lines = columns(rows, right=frozenset({1, 2, 3}))
    for use in schedule:
        lines += wrapped(f"{_called(use, unit)}: {holes_said(use)}.", rest="  ", width=_WIDTH)
    notes = (*missing_said(schedule, unit), *merged_said(schedule, unit), *care_said(schedule, unit))
    return [*lines, *notes, laid_out_said(schedule)]


def _for_what(use: DrillUse, unit: Unit) -> str:
    return ", ".join(filter(None, (drill_name(use.drill, unit), use_said(use))))


def _called(use: DrillUse, unit: Unit) -> str:
    """A drill with what it is for and what it drills, so that two lines of one drill are told apart."""
    materials = {part.material for part, _, _ in use.holes}
    return f"{_for_what(use, unit)}, in {materials.pop()}" if len(materials) == 1 else _for_what(use, unit)
