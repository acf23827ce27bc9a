"""Hardware in tubes: nuts that no hand reaches, screws that meet the far wall, walls that are crushed."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from nestkit.fit.case import Case
from nestkit.fit.hollow import REACH, Hollow, hollow_at
from nestkit.fit.length_of import Trouble
from nestkit.job.shown import shown
from nestkit.parts.tube import Tube
from nestkit.text import number_list
from nestkit.trade.fasteners import head, nut, washer
from nestkit.units import with_unit

_CORNERS = 1.1547
"""Width across corners of a hexagon over its width across flats."""
_TWICE = 2.0
"""Head of a screw over its diameter, where the tables have no head."""


def nut_in_hollow(case: Case) -> Iterator[Trouble]:
    """A nut in a closed tube can be held from an open end near by, or through an access hole, else not."""
    hollow = hollow_at(case.assembly, head=False)
    if hollow is not None and case.in_nuts:
        yield from _out_of_reach(case, hollow, "nut", _nut_size(case))


def head_in_hollow(case: Case) -> Iterator[Trouble]:
    """A head in a closed tube can be put in from an open end near by, or through an access hole, else not."""
    hollow = hollow_at(case.assembly, head=True)
    if hollow is not None:
        yield from _out_of_reach(case, hollow, "head", _head_size(case))


def _out_of_reach(case: Case, hollow: Hollow, what: str, size: float) -> Iterator[Trouble]:
    shut = hollow.beside(size)
    if not shut:
        return
    far = [hole.number for hole in shut if not hollow.near_an_end(hole)]
    tube = shown(hollow.tube.name)
    if far:
        holes = f"{'hole' if len(far) == 1 else 'holes'} {number_list(far)}"
        text = f"the {what}s at {holes} of {tube} would sit inside the closed tube, out of reach"
        other = "rivet nuts or blind rivets" if what == "nut" else 'the other side (head_on = "...")'
        remedy = f"write through = true for the holes and use longer screws, or use {other}"
        yield Trouble(True, text, remedy)
    else:
        ends = f"at most {with_unit(REACH, case.unit)} from an end"
        text = f"the {what}s sit inside {tube}, {ends} (common practice)"
        yield Trouble(False, text, f"put each {what} in through the open end, before that end is closed")


def _nut_size(case: Case) -> float:
    """Return the size of an access hole that lets a nut and its washer pass, in mm."""
    held = case.stack.fastener.held_by
    made = case.stack.thread
    row = nut("lock nut" if held == "lock nut" else "nut", made.size) if made else None
    across = _CORNERS * float(row.across) if row else _TWICE * case.stack.fastener.dia
    under = washer(case.stack.washer_size) if case.stack.washers[1] else None
    return max(across, float(under.outside) if under else 0.0)


def _head_size(case: Case) -> float:
    fastener, made = case.stack.fastener, case.stack.thread
    row = head(fastener.head, made.size) if made else None
    under = washer(case.stack.washer_size) if case.stack.washers[0] else None
    dia = float(row.dia) if row else _TWICE * fastener.dia
    return max(dia, float(under.outside) if under else 0.0)


def too_long_for_hollow(case: Case) -> Iterator[Trouble]:
    """A screw that goes into a closed tube ends before the far wall, or goes out by a hole there."""
    hollow = hollow_at(case.assembly, head=False)
    out = _inside(case)
    if hollow is None or out is None or float(out) <= hollow.room:
        return
    shut = hollow.beside(case.stack.fastener.dia)
    if shut:
        text = (
            f"the screw stands {with_unit(out, case.unit)} into {shown(hollow.tube.name)}, whose hollow is "
            f"{with_unit(hollow.room, case.unit)} deep: the far wall is in the way"
        )
        yield Trouble(True, text, "use a shorter screw, or write through = true for the holes")


def _inside(case: Case) -> Fraction | None:
    """Return how far a screw, or the body of a rivet nut, stands into the hollow behind the last part."""
    stack, out = case.stack, case.length.out
    if stack.fastener.kind != "screw":
        return None
    body = stack.entries[-1] if stack.entries else None
    if body is None or body.kind != "rivet nut" or body.thickness is None or stack.far is None:
        return out
    return max(out or Fraction(0), body.thickness - stack.far)


def hollow_crushed(case: Case) -> Iterator[Trouble]:
    """A screw through both walls of a hollow tube crushes it when it is tightened hard (rule R112)."""
    if case.stack.fastener.kind not in ("screw", "rivet"):
        return
    through = any(
        isinstance(layer.part, Tube)
        and layer.part.section.kind in ("tube", "round")
        and len(layer.plane.walls) > 1
        and not layer.plane.holds_thread
        for layer in case.assembly.layers
    )
    if not through:
        return
    if case.stack.fastener.kind == "rivet":
        text = "the rivets go through both walls of a tube: setting them pulls the walls together"
        yield Trouble(False, text, "rivet to one wall only, or use screws and lock nuts", "R112")
        return
    text = "the screws go through both walls of a tube, which is crushed if they are drawn tight"
    remedy = "tighten until snug, no more"
    if case.stack.fastener.held_by == "nut":
        remedy = "use lock nuts, and tighten until snug, no more"
    yield Trouble(False, text, remedy, "R112")
