"""What the cutting tool cannot do: too small, too tight, too sharp, the wrong material."""

from __future__ import annotations

from collections.abc import Iterator

from nestkit.checks.findings import (
    Finding,
    by_rule,
    holes_said,
    listed,
    measured,
    opening_said,
    panels_with_group,
    place_said,
)
from nestkit.geometry.reach import Tight, tight_places
from nestkit.job.model import Group, Job
from nestkit.parts.panel import Panel
from nestkit.trade.materials import family
from nestkit.trade.rules import Rule, rule
from nestkit.units import Unit, decimal_text, with_unit

_NO_LASER = {"polycarbonate": "R078", "pvc": "R079", "hdpe": "R080", "g10_fr4": "R081"}
_TOOL = {"router": "cutter", "laser": "beam", "waterjet": "jet"}


def hole_below_cutter(job: Job) -> Iterator[Finding]:
    """A hole smaller than the router's cutter is drilled."""
    by = rule("R020")
    for panel, group in panels_with_group(job):
        if not group.way.round_tool:
            continue
        cutter = float(group.way.kerf)
        small = [hole for hole in panel.holes if hole.dia < cutter - 1e-6]
        if small:
            sizes = dict.fromkeys(_hole_words(hole.dia, hole.drill.name, job.unit) for hole in small)
            verb = "is" if len(small) == 1 else "are"
            yield by_rule(
                "advice",
                by,
                panel.place,
                f"{holes_said(small)} ({listed(sizes)}) {verb} smaller than the "
                f"{with_unit(cutter, job.unit)} cutter, so not routed but drilled",
                "tell the shop to drill them, or drill them yourself by the template",
            )


def _hole_words(dia: float, name: str, unit: Unit) -> str:
    return f"{name} = {with_unit(dia, unit)}" if name else with_unit(dia, unit)


def cutter_cannot_follow(job: Job) -> Iterator[Finding]:
    """No radius given is below the cutter's, and no slot, opening, notch or neck is narrower than the cut.

    An inner corner without a radius is none of these: there the cutter leaves its own.
    """
    for panel, group in panels_with_group(job):
        if group.way.how not in _TOOL:
            continue  # by hand a narrow place is drilled and filed
        tight = list(_tight_places(panel, group))
        if tight:
            way, by = group.way, rule("R016")
            words = dict.fromkeys(f"{where}: {_tight_words(t, group, job.unit)}" for where, t in tight)
            width = with_unit(way.kerf, job.unit)
            text = f"the {_TOOL[way.how]} ({width}) cannot follow the outline; {listed(words, 3)}"
            remedy = (
                "give inner corners half the width of the cut or more and openings the whole, "
                "or take a finer cutter"
            )
            if way.round_tool:
                yield by_rule("error", by, panel.place, text, remedy)
            else:
                yield measured(panel.place, text, remedy)


def _tight_places(panel: Panel, group: Group) -> Iterator[tuple[str, Tight]]:
    radius = float(group.way.kerf) / 2
    for found in tight_places(panel.outline, radius, opening=False):
        yield "the part's edge", found
    for opening in panel.openings:
        for found in tight_places(opening.outline, radius, opening=True):
            yield opening_said(opening, panel), found


def _tight_words(tight: Tight, group: Group, unit: Unit) -> str:
    where = place_said(tight.at, unit)
    if tight.kind == "radius":
        half = with_unit(group.way.kerf / 2, unit)
        return f"a radius of {with_unit(tight.size, unit)}, below {half}, {where}"
    if tight.kind == "side":
        return f"a side of {with_unit(tight.size, unit)} between two inner corners {where}"
    return f"a {tight.kind} of {with_unit(tight.size, unit)} {where}"


def material_not_for_laser(job: Job) -> Iterator[Finding]:
    """Some materials must not be cut by laser: they burn, or give off what harms people and machines."""
    for group in job.groups:
        rule_id = _NO_LASER.get(family(group.material)) if group.way.how == "laser" else None
        if rule_id and group.panels:
            by = rule(rule_id)
            names = listed([f'"{panel.name}"' for panel in group.panels])
            yield by_rule(
                "error",
                by,
                group.panels[0].place,
                f"{group.material} must not be cut by laser ({by.note}); it is the material of {names}",
                "cut it another way (router, saw, waterjet), or take another material",
            )


def hole_small_for_laser(job: Job) -> Iterator[Finding]:
    """A hole cut by laser is at least about as wide as the sheet is thick."""
    by = rule("R021")
    for panel, group in panels_with_group(job):
        least = float(by.least or 0) * float(panel.thickness)
        small = [hole for hole in panel.holes if group.way.how == "laser" and hole.dia < least - 1e-6]
        if small:
            yield _small_for(by, panel, holes_said(small), min(h.dia for h in small), least, job.unit)


def _small_for(by: Rule, panel: Panel, holes: str, has: float, least: float, unit: Unit) -> Finding:
    return by_rule(
        "advice",
        by,
        panel.place,
        f"{holes}, down to {with_unit(has, unit)}: a laser wants {with_unit(least, unit)} or more here "
        f"({decimal_text(by.least or 0)} x the thickness)",
        "let the laser mark the centre, and drill the hole",
    )
