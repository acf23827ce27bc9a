"""Inner corners without a radius: what a round tool leaves there, and what cracks there."""

from __future__ import annotations

from collections.abc import Iterator

from nestkit.checks.findings import NOTHING, Finding, by_rule, panels_with_group, place_said, places_said
from nestkit.geometry.distances import boundary
from nestkit.geometry.pieces import Bow
from nestkit.geometry.reach import Corner, sharp_places
from nestkit.job.model import Job
from nestkit.parts.panel import Panel
from nestkit.stock.relief import as_relieved
from nestkit.stock.ways import Way
from nestkit.text import counted
from nestkit.trade.materials import is_plastic, is_wood
from nestkit.trade.rules import rule
from nestkit.units import with_unit


def corners_get_cutter_radius(job: Job) -> Iterator[Finding]:
    """A router leaves its cutter's radius in an inner corner that has none and is not relieved."""
    by = rule("R016")
    for panel, group in panels_with_group(job):
        radius = group.way.kerf / 2
        found = _sharp_places(panel, float(radius), group.way) if group.way.round_tool else []
        if found:
            corners = counted(len(found), "inner corner")
            worst = max(found, key=lambda corner: (round(corner.left, 6), corner.at))
            acute = ""
            if worst.left > float(radius) + NOTHING:
                short = with_unit(worst.left, job.unit)
                acute = f"; {place_said(worst.at, job.unit)} it stops {short} short of the tip"
            places = places_said((corner.at for corner in found), job.unit)
            yield by_rule(
                "advice",
                by,
                panel.place,
                f"{corners} without a radius: the cutter leaves {with_unit(radius, job.unit)} there, "
                f"{places}{acute}",
                f"give it a radius of at least that; where a square part sits in it, {_or_else(group.way)}",
            )


def _or_else(way: Way) -> str:
    """Say what can be done where a corner must be square."""
    if way.relief == "corners":
        return "file it out: it is too acute, or too near another corner, to be relieved"
    return 'file it out, or have a round cut through each: relief = "corners" in its way of cutting'


def corners_by_hand(job: Job) -> Iterator[Finding]:
    """By saw or jigsaw in plastic and wood an inner corner is drilled first: a sawn one cracks."""
    by = rule("R104")
    for panel, group in panels_with_group(job):
        by_hand = group.way.how in ("saw", "jigsaw") and (
            is_plastic(panel.material) or is_wood(panel.material)
        )
        # By hand there is no tool radius; a drill of the usual size stands for it.
        count = _sharp(panel, float(by.mm(by.least)) / 2) if by_hand else 0
        if count:
            corners = counted(count, "inner corner")
            least, usual = by.mm(by.least), by.mm(by.typical)
            yield by_rule(
                "advice",
                by,
                panel.place,
                f"{corners} without a radius: sawn sharp, a corner is where the sheet cracks",
                f"drill the corner first, {with_unit(least, job.unit)} to {with_unit(usual, job.unit)}, "
                "and saw into the hole",
            )


def corners_by_waterjet(job: Job) -> Iterator[Finding]:
    """A waterjet wants a small radius in inner corners."""
    by = rule("R018")
    least = by.mm(by.least)
    for panel, group in panels_with_group(job):
        if group.way.how != "waterjet":
            continue
        count = _sharp(panel, float(least)) + _small_bows(panel, float(least))
        if count:
            corners = counted(count, "inner corner")
            yield by_rule(
                "advice",
                by,
                panel.place,
                f"{corners} with less than {with_unit(least, job.unit)} radius",
                "write a corner_radius of that or more, or take what the jet leaves",
            )


def _sharp(panel: Panel, radius: float) -> int:
    return len(_sharp_places(panel, radius))


def _sharp_places(panel: Panel, radius: float, way: Way | None = None) -> list[Corner]:
    """Return the inner corners without a radius; with a way of cutting those that it leaves so."""
    found: list[Corner] = []
    for outline, opening in ((panel.outline, False), *((o.outline, True) for o in panel.openings)):
        cut = outline if way is None else as_relieved(outline, way, opening=opening).outline
        found.extend(sharp_places(cut, radius, opening=opening))
    return found


def _small_bows(panel: Panel, radius: float) -> int:
    lines = [(panel.outline, False), *((o.outline, True) for o in panel.openings)]
    return sum(
        isinstance(piece, Bow) and (piece.sweep > 0) == opening and piece.radius < radius - 1e-6
        for outline, opening in lines
        for piece in boundary(outline).pieces
    )
