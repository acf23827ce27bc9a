"""Room around holes and openings: to the edge of the part, to an opening, and to each other."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from nestkit.checks.findings import NOTHING, Finding, by_rule, holes_said, opening_said, panels_with_group
from nestkit.checks.near import close_pairs
from nestkit.geometry.distances import Boundary, boundary
from nestkit.job.model import Job
from nestkit.parts.holes import Hole
from nestkit.parts.panel import Panel
from nestkit.trade.materials import family, is_metal, is_plastic
from nestkit.trade.rules import Rule, rule
from nestkit.units import Unit, decimal_text, with_unit

_EDGE_RULES = {
    "polycarbonate": "R001",
    "acrylic": "R003",
    "hdpe": "R004",
    "aluminium": "R005",
    "steel": "R007",
    "plywood": "R008",
    "mdf": "R009",
    "g10_fr4": "R010",
    "pvc": "R121",
}


@dataclass(frozen=True, slots=True)
class _Room:
    """A hole with too little room: what it has, what it should have, and to what."""

    hole: Hole
    has: float
    wants: float
    to: str


def edge_distance(job: Job) -> Iterator[Finding]:
    """A hole keeps its distance from the part's edge and from openings, by its material's rule.

    Polycarbonate's rule measures from the hole's EDGE, the others from its CENTRE; the metals' go by
    the fastener's diameter where the job names a fastener, the others by the hole's.
    """
    for panel in job.panels:
        rule_id = _EDGE_RULES.get(family(panel.material))
        if rule_id and panel.holes:
            yield from _edge_distance(panel, rule(rule_id), job.unit)


def _edge_distance(panel: Panel, by: Rule, unit: Unit) -> Iterator[Finding]:
    share = float(by.least or 0)
    from_edge = "EDGE" in by.quantity
    outer = boundary(panel.outline)
    openings = [(boundary(o.outline), opening_said(o, panel)) for o in panel.openings]
    short = []
    for hole in panel.holes:
        fastener = hole.drill.fastener_dia if by.unit == "fastener_dia" else None
        wants = share * (fastener or hole.dia) + (hole.dia / 2 if from_edge else 0.0)
        has, to = _least_room(hole, wants, outer, openings)
        # A hole that runs over an edge is an error already.
        if hole.dia / 2 + NOTHING < has < wants - NOTHING:
            less = hole.dia / 2 if from_edge else 0.0
            short.append(_Room(hole, has - less, wants - less, to))
    if short:
        worst = min(short, key=lambda room: room.has / room.wants)
        side = "edge" if from_edge else "centre"
        of = "fastener" if by.unit == "fastener_dia" and worst.hole.drill.fastener_dia else "hole"
        all_of_them = f"{holes_said(room.hole for room in short)}: " if len(short) > 1 else ""
        yield by_rule(
            "advice",
            by,
            panel.place,
            f"{all_of_them}from the {side} of hole {worst.hole.number} to "
            f"{worst.to} there is {with_unit(worst.has, unit)}; {decimal_text(share)} "
            f"{of} diameters are {with_unit(worst.wants, unit)}",
            "move the hole inwards, or let the part grow there",
        )


def _least_room(
    hole: Hole, limit: float, outer: Boundary, openings: list[tuple[Boundary, str]]
) -> tuple[float, str]:
    """Return the distance from a hole's centre to the nearest edge, and what edge that is."""
    has, to = outer.distance(hole.at), "the edge of the part"
    for line, words in openings:
        if line.near(hole.at, limit) and (away := line.distance(hole.at)) < has:
            has, to = away, words
    return has, to


def web_between_holes(job: Job) -> Iterator[Finding]:
    """Between two holes a web stays: by the fastener in metals, the hole in polycarbonate, else the sheet."""
    for panel in job.panels:
        name = family(panel.material)
        if is_metal(panel.material):
            by, metal = rule("R012"), True
        else:
            by, metal = rule("R013" if name == "polycarbonate" else "R014"), False
        thin = []
        most = _web_wanted(by, panel, max((h.dia for h in panel.holes), default=0.0))
        for a, b in close_pairs(panel.holes, most):
            dia = (
                max(a.drill.fastener_dia or a.dia, b.drill.fastener_dia or b.dia)
                if metal
                else max(a.dia, b.dia)
            )
            wants = _web_wanted(by, panel, dia)
            has = a.at.to(b.at) - (0.0 if metal else (a.dia + b.dia) / 2)
            touching = a.at.to(b.at) - (a.dia + b.dia) / 2 <= NOTHING
            if has < wants - NOTHING and not touching:
                thin.append((has / wants, has, wants, a, b))
        if thin:
            _, has, wants, a, b = min(thin, key=lambda pair: pair[0])
            what = "centres" if metal else "edges"
            yield by_rule(
                "advice",
                by,
                panel.place,
                f"{holes_said(h for pair in thin for h in pair[3:])}: between the {what} of {a.number} and "
                f"{b.number} there is {with_unit(has, job.unit)}; {with_unit(wants, job.unit)} is the least "
                f"({_multiple(by)})",
                "move the holes apart, or use a smaller fastener",
            )


def _web_wanted(by: Rule, panel: Panel, dia: float) -> float:
    share = float(by.least or 0)
    return share * (float(panel.thickness) if by.unit == "thickness" else dia)


def _multiple(by: Rule) -> str:
    of = {"thickness": "the thickness", "fastener_dia": "the fastener", "hole_dia": "the larger hole"}[
        by.unit
    ]
    return f"{decimal_text(by.least or 0)} x {of}"


def web_at_openings(job: Job) -> Iterator[Finding]:
    """Between openings, and from an opening to the edge, a web stays: the thickness, routed plastic 2 mm."""
    for panel, group in panels_with_group(job):
        if not panel.openings:
            continue
        by, bridge = rule("R014"), rule("R015")
        wants = float(by.least or 0) * float(panel.thickness)
        routed = group.way.round_tool and is_plastic(panel.material)
        if routed and float(bridge.mm(bridge.least)) > wants:
            by, wants = bridge, float(bridge.mm(bridge.least))
        thin = sorted(_thin_webs(panel, wants))
        if thin:
            has, where = thin[0]
            more = f"; {len(thin) - 1} more" if len(thin) > 1 else ""
            yield by_rule(
                "advice",
                by,
                panel.place,
                f"between {where} there is {with_unit(has, job.unit)} of material; "
                f"{with_unit(wants, job.unit)} is the least{more}",
                "move the opening, or make it smaller",
            )


def _thin_webs(panel: Panel, wants: float) -> Iterator[tuple[float, str]]:
    lines = [(boundary(o.outline), opening_said(o, panel)) for o in panel.openings]
    outer = boundary(panel.outline)
    for i, (line, words) in enumerate(lines):
        if NOTHING < (has := outer.apart(line, wants)) < wants - NOTHING:
            yield has, f"{words} and the edge of the part"
        for other, others in lines[i + 1 :]:
            if (
                line.near_box(other.box, wants)
                and NOTHING < (has := line.apart(other, wants)) < wants - NOTHING
            ):
                yield has, f"{words} and {others}"
