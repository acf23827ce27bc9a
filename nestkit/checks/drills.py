"""Drills that are mistaken for one another at the bench, are not there, or are too large by hand."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations

from nestkit.checks.findings import AnyHole, Finding, by_rule, holes_said, listed, parts_with_holes
from nestkit.job.model import Job
from nestkit.parts.holes import Drill
from nestkit.trade.drills import nearest
from nestkit.trade.rules import rule
from nestkit.units import Unit, with_unit

ALIKE = 0.025
"""Millimetres between two drills that make the same hole for any purpose here: no trap."""

_SEARCH = Fraction(1, 2)
"""Millimetres around a diameter in which the nearest drills are looked for."""


def drill_names_alike(job: Job) -> Iterator[Finding]:
    """Drill names with the same figure are traps: #7 and 7 mm, #10 and a No. 10 screw.

    Each trap is told once a job, at the first part that has one of the two names.
    """
    by = rule("R102")
    parts = tuple(parts_with_holes(job))
    drills = tuple(dict.fromkeys(hole.drill for part in parts for hole in part.holes))
    names = {drill.name for drill in drills if drill.name}
    traps = [*_figure_traps(names), *_screw_traps(drills, job.unit)]
    told: set[str] = set()
    for part in parts:
        own = {hole.drill.name for hole in part.holes}
        here = [words for owners, words in traps if owners & own and words not in told]
        if here:
            told.update(here)
            yield by_rule(
                "advice",
                by,
                part.place,
                f"drill names easily mistaken for one another: {listed(here)}",
                "lay out only the drill in use, and measure it with a caliper before the first hole",
            )


def _figure_traps(names: set[str]) -> Iterator[tuple[set[str], str]]:
    for name in sorted(n for n in names if n.startswith("#")):
        figure = name.removeprefix("#")
        others = [f"{figure} mm"] + (["7/32"] if figure == "7" else [])
        for other in others:
            if other in names:
                yield {name, other}, f"{name} and {other}"


def _screw_traps(drills: Sequence[Drill], unit: Unit) -> Iterator[tuple[set[str], str]]:
    """A number drill named as such in the job, that has the number of a screw but is not its hole."""
    screws = {_screw_number(drill.screw or drill.tap or "") for drill in drills}
    named = {
        drill.name: drill.dia
        for drill in drills
        if drill.name.startswith("#") and drill.screw is None and drill.tap is None
    }
    for name, dia in sorted(named.items()):
        # #10 is always told: it is .0035 in over the screw, so it looks right and binds.
        if name.removeprefix("#") in screws | {"10"}:
            number = name.removeprefix("#")
            yield (
                {name},
                f"the {name} drill ({with_unit(dia, unit)}) is not the hole for a No. {number} screw",
            )


def _screw_number(screw: str) -> str:
    found = re.match(r"\s*(?:#|no\.?|number)?\s*([0-9]{1,2})(?:\s*-\s*[0-9]|\s*$)", screw, re.IGNORECASE)
    return found[1].lstrip("0") if found else ""


def drill_sizes_near(job: Job) -> Iterator[Finding]:
    """Drills of one part that differ by less than .010 in but by more than nothing are easily swapped."""
    by = rule("R102")
    for part in parts_with_holes(job):
        sizes: dict[str, float] = {}
        for hole in part.holes:
            sizes.setdefault(_name(hole, job.unit), hole.drill.dia)
        near = [
            f"{a} and {b}, {with_unit(abs(x - y), job.unit)} apart"
            for (a, x), (b, y) in combinations(sorted(sizes.items(), key=lambda item: item[1]), 2)
            if abs(x - y) > ALIKE and nearly_alike(x, y)
        ]
        if near:
            yield by_rule(
                "advice",
                by,
                part.place,
                f"drills of nearly one size in one part: {listed(near)}",
                "use one size for all where the larger will do, or mark the two kinds of hole differently",
            )


def nearly_alike(a: float, b: float) -> bool:
    """Say whether two drills are so near in size, by rule R102, that one is taken for the other."""
    by = rule("R102")
    return abs(a - b) < float(by.mm(by.least)) - 1e-6


def _name(hole: AnyHole, unit: Unit) -> str:
    return hole.drill.name or with_unit(hole.drill.dia, unit)


def too_large_by_hand(job: Job) -> Iterator[Finding]:
    """Over 1/2 in a hole made by hand takes a step drill or a hole saw, not a twist drill."""
    by = rule("R103")
    most = by.mm(by.typical)
    for part in parts_with_holes(job):
        if not part.by_hand:
            continue
        large = [hole for hole in part.holes if hole.drill.dia > float(most) + 1e-6]
        if large:
            yield by_rule(
                "advice",
                by,
                part.place,
                f"{holes_said(large)}: over {with_unit(most, job.unit)}, the largest twist drill by hand",
                "use a step drill or a hole saw, the work clamped",
            )


def no_such_drill(job: Job) -> Iterator[Finding]:
    """A bare diameter that is drilled has a drill that makes it; else the nearest ones are named."""
    by_twist_drill = float(rule("R103").mm(rule("R103").typical))
    for part in parts_with_holes(job):
        unnamed = [
            hole
            for hole in part.holes
            if not hole.drill.name
            and hole.drill.dia <= by_twist_drill
            and (part.by_hand or (part.cutter is not None and hole.drill.dia < part.cutter - 1e-6))
        ]
        if unnamed:
            sizes = dict.fromkeys(hole.drill.dia for hole in unnamed)
            words = [f"{with_unit(dia, job.unit)} ({_nearest_said(dia, job.unit)})" for dia in sizes]
            yield Finding(
                "advice",
                "",
                part.place,
                f"{holes_said(unnamed)}: no drill of the tables has the diameter {listed(words)}",
                "name the drill that is to be used, so that the prints say it",
                "drill table",
            )


def _nearest_said(dia: float, unit: Unit) -> str:
    around = nearest(Fraction(dia), _SEARCH)
    below = next((row for row in around if row.dia < dia), None)
    above = next((row for row in around if row.dia > dia), None)
    near = [f"{row.name}, {with_unit(row.dia, unit)}" for row in (below, above) if row]
    return f"nearest: {'; '.join(near)}"
