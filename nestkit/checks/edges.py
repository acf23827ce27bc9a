"""Room around holes and openings: to the edge of the part, to an opening, and to each other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from nestkit.checks.findings import (
    NOTHING,
    AnyHole,
    Finding,
    by_rule,
    holes_said,
    opening_said,
    panels_with_group,
    place_said,
)
from nestkit.checks.near import close_pairs
from nestkit.geometry.distances import Boundary, boundary
from nestkit.geometry.reach import necks
from nestkit.job.model import Job
from nestkit.parts.holes import Drill, Hole
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
class Room:
    """A hole with too little room: what it has, what it should have, and to what."""

    hole: AnyHole
    has: float
    wants: float
    to: str


@dataclass(frozen=True, slots=True)
class EdgeRule:
    """How far holes of a material stay from an edge: by the hole or its fastener, from its centre or edge."""

    by: Rule

    @property
    def from_edge(self) -> bool:
        """Say whether the rule measures from the hole's edge."""
        return "EDGE" in self.by.quantity

    def wants(self, drill: Drill) -> float:
        """Return the least distance in mm from a hole's centre to an edge."""
        fastener = drill.fastener_dia if self.by.unit == "fastener_dia" else None
        own = drill.dia / 2 if self.from_edge else 0.0
        return float(self.by.least or 0) * (fastener or drill.dia) + own


def edge_rule(material: str) -> EdgeRule | None:
    """Return the rule of a material; None where no rule is known for it."""
    rule_id = _EDGE_RULES.get(family(material))
    return EdgeRule(rule(rule_id)) if rule_id else None


def edge_distance(job: Job) -> Iterator[Finding]:
    """A hole keeps its distance from the part's edge and from openings, by its material's rule.

    Polycarbonate's rule measures from the hole's EDGE, the others from its CENTRE; the metals' go by
    the fastener's diameter where the job names a fastener, the others by the hole's.
    """
    for panel in job.panels:
        by = edge_rule(panel.material)
        if by is not None and panel.holes:
            yield from too_near(panel.place, rooms_of(panel, by), by, job.unit)


def rooms_of(panel: Panel, by: EdgeRule) -> Iterator[Room]:
    """Yield each hole of a panel with the room that it has to the nearest edge, and should have."""
    outer = boundary(panel.outline)
    openings = [(boundary(o.outline), opening_said(o, panel)) for o in panel.openings]
    for hole in panel.holes:
        wants = by.wants(hole.drill)
        has, to = _least_room(hole, wants, outer, openings)
        yield Room(hole, has, wants, to)


def too_near(place: str, rooms: Iterable[Room], by: EdgeRule, unit: Unit) -> tuple[Finding, ...]:
    """Return one advice for the holes of a part that lie nearer to an edge than its material's rule asks.

    A hole that runs over an edge is an error already, and left out.
    """
    short = [r for r in rooms if r.hole.drill.dia / 2 + NOTHING < r.has < r.wants - NOTHING]
    if not short:
        return ()
    worst = min(short, key=lambda room: _share(room, by))
    drill = worst.hole.drill
    side, less = ("edge", drill.dia / 2) if by.from_edge else ("centre", 0.0)
    of = "fastener" if by.by.unit == "fastener_dia" and drill.fastener_dia else "hole"
    all_of_them = f"{holes_said(r.hole for r in short)}: " if len({r.hole.number for r in short}) > 1 else ""
    text = (
        f"{all_of_them}from the {side} of hole {worst.hole.number} to "
        f"{worst.to} there is {with_unit(worst.has - less, unit)}; {decimal_text(float(by.by.least or 0))} "
        f"{of} diameters are {with_unit(worst.wants - less, unit)}"
    )
    remedy = "move the hole inwards, or let the part grow there"
    return (by_rule("advice", by.by, place, text, remedy),)


def _share(room: Room, by: EdgeRule) -> float:
    less = room.hole.drill.dia / 2 if by.from_edge else 0.0
    return (room.has - less) / (room.wants - less)


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
    """Between openings, edges and across any neck a web stays: the thickness, routed plastic 2 mm."""
    for panel, group in panels_with_group(job):
        by, bridge = rule("R014"), rule("R015")
        wants = float(by.least or 0) * float(panel.thickness)
        routed = group.way.round_tool and is_plastic(panel.material)
        if routed and float(bridge.mm(bridge.least)) > wants:
            by, wants = bridge, float(bridge.mm(bridge.least))
        thin = sorted([*_thin_webs(panel, wants), *_necks(panel, wants, job.unit)])
        if thin:
            has, where = thin[0]
            more = f"; {len(thin) - 1} more" if len(thin) > 1 else ""
            yield by_rule(
                "advice",
                by,
                panel.place,
                f"{where} there is {with_unit(has, job.unit)} of material; "
                f"{with_unit(wants, job.unit)} is the least{more}",
                "move the opening, or make it smaller; let a neck grow wider",
            )


def _necks(panel: Panel, wants: float, unit: Unit) -> Iterator[tuple[float, str]]:
    """Yield where the part itself is too narrow: across its own outline, or a tongue in an opening."""
    for neck in necks(panel.outline, wants, opening=False):
        yield neck.size, f"across the part {place_said(neck.at, unit)}"
    for opening in panel.openings:
        for neck in necks(opening.outline, wants, opening=True):
            yield neck.size, f"across a tongue in {opening_said(opening, panel)} {place_said(neck.at, unit)}"


def _thin_webs(panel: Panel, wants: float) -> Iterator[tuple[float, str]]:
    lines = [(boundary(o.outline), opening_said(o, panel)) for o in panel.openings]
    outer = boundary(panel.outline)
    for i, (line, words) in enumerate(lines):
        if NOTHING < (has := outer.apart(line, wants)) < wants - NOTHING:
            yield has, f"between {words} and the edge of the part"
        for other, others in lines[i + 1 :]:
            if (
                line.near_box(other.box, wants)
                and NOTHING < (has := line.apart(other, wants)) < wants - NOTHING
            ):
                yield has, f"between {words} and {others}"
