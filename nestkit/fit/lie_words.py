"""How the parts of a joint lie on one another, in words."""

from __future__ import annotations

import math

from nestkit.fit.accuracy_words import caliper
from nestkit.fit.assembly import Assembly, Layer, Placement
from nestkit.fit.odds import turn_said
from nestkit.fit.result import JointFit
from nestkit.fit.tube_planes import looks_up
from nestkit.job.model import Job
from nestkit.parts.tube import Tube
from nestkit.text import counted, number_list
from nestkit.units import Unit, with_unit

OFF = 0.05
"""Millimetres from which holes that do not meet are told: less is what rounding of sizes leaves."""
_BENDS = ("cable tie", "hook-and-loop")
"""What goes round corners: nobody knows how its parts lie."""
_FASTENERS = {
    "screw": "{} screws",
    "rivet": "{} blind rivets",
    "wood screw": "{} wood screws",
    "cable tie": "cable ties {} wide",
    "hook-and-loop": "hook-and-loop tape {} wide",
}


def through_said(job: Job, assembly: Assembly) -> str:
    """Return what goes through which holes of which parts, the heads' side first."""
    joint = assembly.joint
    fastener = joint.fastener
    size = fastener.size if fastener.kind in ("screw", "wood screw") else with_unit(fastener.dia, job.unit)
    said = _FASTENERS[fastener.kind].format(size)
    parts = [_layer_said(layer) for layer in assembly.layers] or [mate.part for mate in joint.mates]
    for loose in reversed(assembly.loose):
        parts.insert(loose.after, f"{loose.part.name} (loose)")
    held = f", {fastener.held_by}" if fastener.held_by != "itself" else ""
    together = ", drilled together" if joint.together else ""
    return f"{said} through {', then '.join(parts)}{held}{together}; made {joint.quantity} x"


def _layer_said(layer: Layer) -> str:
    hands = [" opposite hand"] if layer.plane.mate.opposite else []
    hands += [" turned over"] if layer.plane.mate.turned_over else []
    numbers = f" {number_list(layer.numbers)}" if layer.numbers else ""
    return f"{layer.part.name}{','.join(hands)}{numbers}"


def lie_said(job: Job, assembly: Assembly) -> str:
    """Return how the parts lie on the first one, seen from the heads; empty where there is but one."""
    if assembly.joint.fastener.kind in _BENDS:
        return ""
    said = [_placed_said(job.unit, layer) for layer in assembly.layers[1:]]
    if not said:
        return ""
    either = "; another way round fits as well" if assembly.symmetric else ""
    first = assembly.layers[0]
    return f"on {first.part.name}{_looks(first)}, seen from the heads: {'; '.join(said)}{either}"


def _placed_said(unit: Unit, layer: Layer) -> str:
    placement: Placement = layer.placement
    turned = turn_said(placement.turn_deg) or "as drawn"
    where = "END 0" if isinstance(layer.part, Tube) else "origin"
    x, y = (with_unit(v, unit) if v >= 0 else f"-{with_unit(-v, unit)}" for v in placement.move)
    return f"{layer.part.name} {turned}{_looks(layer)}, {where} at {x}, {y}"


def _looks(layer: Layer) -> str:
    """Say what of a part looks to the heads: nothing of a panel as drawn, the face of a tube."""
    plane = layer.plane
    if isinstance(layer.part, Tube):
        up = looks_up(layer.part, plane.numbers[0], plane.local[0], inside=plane.mirrored)
        return f", {up} to the heads" if up else ""
    return ", its back to the heads" if plane.mirrored else ""


def off_said(job: Job, fit: JointFit) -> str:
    """Return which holes are off as drawn though clearance takes it up; empty where a fault says more."""
    if fit.assembly.faults or fit.assembly.joint.together:
        return ""
    pairs = zip(fit.assembly.layers, fit.accuracies, strict=False)
    through = {layer.part.name for layer, one in pairs if one.method == "match drilled"}
    off = [(miss, math.hypot(miss.dx, miss.dy)) for miss in fit.assembly.misses
           if miss.dx is not None and miss.dy is not None and not {miss.part, miss.of} & through]  # fmt: skip
    off = [(miss, far) for miss, far in off if far >= OFF]
    if not off:
        return ""
    miss, far = max(off, key=lambda pair: round(pair[1], 6))
    others = f"; {counted(len(off) - 1, 'more hole')} off too" if len(off) > 1 else ""
    return (
        f"hole {miss.number} of {miss.part} lies {caliper(far, job.unit)} off "
        f"hole {miss.of_number} of {miss.of}{others}; the clearance takes it up, and less of it is left for "
        "marking"
    )
