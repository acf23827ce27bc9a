"""What holds the far end: threads in parts, rivets and rivet nuts, wood; and the holes that they need."""

from __future__ import annotations

from collections.abc import Iterator

from nestkit.fit.assembly import Layer
from nestkit.fit.case import Case, drills_of
from nestkit.fit.length_of import Trouble
from nestkit.fit.stack import exact_dia, is_soft_plastic
from nestkit.job.shown import shown
from nestkit.trade.fasteners import thread
from nestkit.trade.materials import is_metal
from nestkit.trade.rivets import rivet_nut, rivets
from nestkit.units import inches_text, with_unit

_SAME = 0.01
"""Millimetres within which a hole is as large as a screw."""
_NEAR = 0.02
"""Millimetres that a rivet's hole may be off its limits: #30 is .0005 in under the least that R108 gives."""
_RIVET_NUT = 0.1
"""Millimetres that the hole of a rivet nut may be off."""


def threads_in_parts(case: Case) -> Iterator[Trouble]:
    """One part holds the thread, the last one; two that hold it cannot be drawn together."""
    fastener, layers = case.stack.fastener, case.assembly.layers
    if fastener.kind != "screw" or not layers:
        return
    holding = [layer for layer in layers if layer.plane.holds_thread]
    names = " and ".join(shown(layer.part.name) for layer in holding)
    if len(holding) > 1:
        text = f"{names} both hold the thread: the screw cannot draw them together"
        yield Trouble(True, text, f"make a clearance hole in {shown(holding[0].part.name)}")
    elif holding and case.in_nuts:
        text = f"{names} is tapped, and the joint has a nut as well"
        yield Trouble(False, text, 'make a clearance hole there, or write held_by = "tapped hole"')
    if fastener.held_by in ("tapped hole", "rivet nut", "wood"):
        yield from _spacer_behind(case)
    if fastener.held_by == "tapped hole":
        yield from _not_tapped(case, layers[-1])


def _spacer_behind(case: Case) -> Iterator[Trouble]:
    behind = [loose.part.name for loose in case.assembly.loose if loose.after >= len(case.assembly.layers)]
    if behind:
        held = shown(case.assembly.layers[-1].part.name)
        text = f"the spacer {shown(behind[0])} lies behind {held}, which holds the screw: it would fall off"
        yield Trouble(True, text, 'put it before that part in through, or write held_by = "lock nut"')


def _not_tapped(case: Case, last: Layer) -> Iterator[Trouble]:
    """The holes of the last part must take the joint's own thread."""
    made = case.stack.thread
    name = shown(last.part.name)
    if any(dia > case.stack.fastener.dia + _SAME for dia in last.dias):
        text = f"{name} is to hold the thread, but its holes are as large as the screw or larger"
        yield Trouble(
            True, text, f'write tap = "{case.stack.fastener.size}" for them, or held_by = "lock nut"'
        )
        return
    other = [d.tap for d in drills_of(last) if d.tap is not None and made and thread(d.tap).text != made.text]
    if other and made and not made.open:
        text = f"{name} is tapped {other[0]}, the screw is {made.text}"
        yield Trouble(True, text, "give both the same thread")


def rivet_holes(case: Case) -> Iterator[Trouble]:
    """A blind rivet goes through its hole, and fills it (rule R108)."""
    fastener = case.stack.fastener
    rows = rivets(exact_dia(fastener)) if fastener.kind == "rivet" else ()
    if not rows:
        return
    least, most = float(rows[0].hole_least), float(rows[0].hole_most)
    for layer in case.assembly.layers:
        name, drilled = shown(layer.part.name), f"drill {rows[0].drill}"
        small, large = min(layer.dias, default=least), max(layer.dias, default=most)
        if small <= fastener.dia + 1e-6:
            text = f"the rivet of {fastener.size} does not go into its hole in {name}, {_hole(case, small)}"
            yield Trouble(True, text, drilled, "R108")
        elif small < least - _NEAR or large > most + _NEAR:
            hole = small if small < least - _NEAR else large
            text = f"the hole for the rivet in {name} is {_hole(case, hole)}; {_hole(case, least)} to "
            yield Trouble(False, f"{text}{_hole(case, most)} are asked for", drilled, "R108")


def _hole(case: Case, dia: float) -> str:
    return f"{inches_text(dia)} in" if case.unit == "in" else with_unit(dia, case.unit)


def rivet_nut_fits(case: Case) -> Iterator[Trouble]:
    """A rivet nut grips a wall of its range, in a hole of its size; makers differ."""
    stack = case.stack
    row = rivet_nut(stack.thread.text) if stack.thread and stack.fastener.held_by == "rivet nut" else None
    if row is None or not case.assembly.layers:
        return
    last = case.assembly.layers[-1]
    name = shown(last.part.name)
    remedy = "look up the grip of the rivet nut that you have, and take one that grips this"
    if stack.far is not None and not row.grip_least <= stack.far <= row.grip_most:
        grips = f"{_hole(case, float(row.grip_least))} to {_hole(case, float(row.grip_most))} (from memory)"
        here = f"{name} is {_hole(case, float(stack.far))} thick there"
        yield Trouble(False, f"a usual rivet nut {row.thread} grips {grips}, {here}", remedy)
    off = [dia for dia in last.dias if abs(dia - float(row.hole)) > _RIVET_NUT]
    if off:
        asked = f"a usual rivet nut {row.thread} wants a hole of {_hole(case, float(row.hole))} (from memory)"
        yield Trouble(
            False,
            f"{asked}, {name} has {_hole(case, off[0])}",
            "drill for the rivet nut that you have, try it in an offcut first",
        )


def wood_screw_in_wood(case: Case) -> Iterator[Trouble]:
    """A wood screw ends in wood."""
    if case.stack.fastener.kind != "wood screw" or not case.assembly.layers:
        return
    part = case.assembly.layers[-1].part
    if is_metal(part.material) or is_soft_plastic(part.material):
        text = f"the wood screws end in {shown(part.name)}, which is {part.material}"
        yield Trouble(False, text, 'write screw and held_by = "tapped hole" or "lock nut"')
