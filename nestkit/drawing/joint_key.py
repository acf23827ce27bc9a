"""The words of a joint's picture: what it is, whose lines are whose, how parts lie, what rings mean."""

from __future__ import annotations

from collections.abc import Iterable

from nestkit.drawing.joint_rings import Exaggeration
from nestkit.drawing.joint_view import style_of
from nestkit.drawing.model import Drawing, line
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.whole import put_whole
from nestkit.fit.assembly import Assembly, Layer, Loose
from nestkit.fit.odds import turn_said
from nestkit.fit.tube_planes import looks_up
from nestkit.geometry.points import Point
from nestkit.parts.joint import Joint
from nestkit.parts.tube import Tube
from nestkit.text import number_list
from nestkit.units import Unit, decimal_text, inches_text, with_unit

LETTERS = tuple("PQRSTUVWXYZ") + tuple(f"P{i}" for i in range(2, 60))
"""What parts are called in the picture: A to D are faces of tubes."""

_TYPE, _SMALL = 4.8, 4.3
_SAMPLE = 14.0
_MOST = 8
"""Parts that the key names at most."""


def put_title(flow: Flow, joint: Joint, unit: Unit) -> None:
    """Add what the picture shows."""
    put_whole(flow, joint.name, 7.0, least=4.8, bold=True)
    fastener = joint.fastener
    screws = f"{with_unit(fastener.dia, unit)} blind rivets"
    if fastener.kind != "rivet":
        screws = f"{fastener.size} {fastener.kind}s"
    flow.text(f"{screws}, seen from the heads", 5.0)


def put_key(flow: Flow, assembly: Assembly, shown: Exaggeration, unit: Unit, notes: Iterable[str]) -> None:
    """Add a line for each part, from the heads on, and what rings and arrows are."""
    flow.text("From the heads on:", _SMALL)
    for index, layer in enumerate(assembly.layers[:_MOST]):
        row = Flow(_SAMPLE)
        style = style_of(index)
        row.picture(Drawing(_SAMPLE, 6.2, (line(Point(0.0, 3.1), Point(_SAMPLE - 2.0, 3.1), style),)))
        words = Flow(flow.width - _SAMPLE)
        words.text(f"{LETTERS[index]}  {layer_said(layer)}", _TYPE)
        flow.beside(row, words, _SAMPLE)
        for loose in assembly.loose:
            if loose.after == index + 1:
                flow.text(f"{_loose_said(loose, unit)}, behind {LETTERS[index]}", _TYPE)
    if len(assembly.layers) > _MOST:
        flow.text(f"and {len(assembly.layers) - _MOST} more parts behind them", _TYPE)
    for text in (*_meaning(shown, unit), *notes):
        flow.text(text, _SMALL)


def layer_said(layer: Layer) -> str:
    """Return a part, its holes, and how it lies: ``hinge: holes 1, 2; turned 90 degrees to the left``."""
    numbers = number_list(layer.numbers)
    said = [f"{layer.part.name}: hole{'' if len(layer.numbers) == 1 else 's'} {numbers}"]
    if layer.plane.mate.opposite:
        said.append("opposite hand")
    mirrored = layer.plane.mirrored != layer.placement.mirrored
    if isinstance(layer.part, Tube):
        up = looks_up(layer.part, layer.plane.numbers[0], layer.plane.local[0], inside=mirrored)
        said += [f"{up} to the heads"] if up else []
    elif mirrored:
        said.append("turned over")
    if turn := turn_said(layer.placement.turn_deg):
        said.append(turn)
    if layer.plane.holds_thread:
        said.append("holds the screws")
    return "; ".join(said)


def _loose_said(loose: Loose, unit: Unit) -> str:
    long = f", {with_unit(loose.length, unit)}" if loose.length else ""
    return f"{loose.part.name}{long}, loose over each screw"


def _meaning(shown: Exaggeration, unit: Unit) -> list[str]:
    """What rings and arrows are, and how many times true size they are drawn."""
    sizes = [ring.radius for ring in shown.rings]
    times = f"{shown.factor} x" if shown.factor != 1 else "at true size"
    said = []
    if any(sizes):
        low, high = (decimal_text(v, 2) if unit == "mm" else inches_text(v) for v in (min(sizes), max(sizes)))
        room = f"{high} {unit}" if low == high else f"{low} to {high} {unit}"
        said.append(f"Grey zone: a screw's holes may be {room} out of line; shown {times}.")
    else:
        said.append("No grey zone: the holes leave the screws no room.")
    if shown.offsets:
        said.append(f"Arrow: how far the other part's hole lies off; shown {times}.")
    return said
