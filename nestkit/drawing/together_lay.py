"""How parts lie on one another while they are drilled together, in words."""

from __future__ import annotations

from nestkit.drawing.later_words import hand_said
from nestkit.drawing.together_plan import Setup
from nestkit.fit.assembly import Layer
from nestkit.fit.odds import turn_said
from nestkit.geometry.points import Point
from nestkit.geometry.section import FACES, Face
from nestkit.parts.bought import Bought
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube
from nestkit.units import Unit, decimal_text, with_unit

_FACES: dict[str, Face] = {face: face for face in FACES}
_ZERO = 1e-6


def clamp_said(setup: Setup, unit: Unit) -> str:
    """Say how the parts are laid on one another."""
    loose = list(dict.fromkeys(some.part.name for some in setup.assembly.loose))
    leave = f" Leave {' and '.join(loose)} out for now." if loose else ""
    lies = " ".join(f"{_lies(unit, setup, layer)}." for layer in setup.followers)
    top = [f"{hand_said(setup.leader.plane.mate)} on top", *_up(setup, setup.leader)]
    way = " Another way round would fit too: lay them as in the picture." if setup.assembly.symmetric else ""
    return f"Clamp them as in the picture, {', '.join(top)}; scrap below. {lies}{way}{leave}"


def _lies(unit: Unit, setup: Setup, layer: Layer) -> str:
    """Say where a follower lies, by its datum and that of the leader."""
    here, there = (one.placement(Point(0.0, 0.0)) for one in (setup.leader, layer))
    x, y = there.x - here.x, there.y - here.y
    moves = [
        f"{with_unit(abs(v), unit)} {plus if v > 0 else minus}"
        for v, plus, minus in ((x, "right", "left"), (y, "up", "down"))
        if abs(v) > _ZERO
    ]
    origin = _origin(setup.leader)
    article = "" if origin.startswith("END") else "the "
    base = f"{article}{origin} of {hand_said(setup.leader.plane.mate)}"
    where = f"{' and '.join(moves)} from {base}" if moves else f"on {base}"
    turn = turn_said(layer.placement.turn_deg - setup.leader.placement.turn_deg)
    said = [hand_said(layer.plane.mate), *_up(setup, layer), *([turn] if turn else [])]
    return f"{', '.join(said)}: its {_origin(layer)} {where}"


def _up(setup: Setup, layer: Layer) -> list[str]:
    """Say which side of a part is up, where that is not plain: of a panel only that its back is."""
    up = layer.plane.mirrored == setup.turned
    if isinstance(layer.part, Tube):
        face = _face(layer, layer.part)
        return [f"{face} {'up' if up else 'down'}"]
    return [] if up else ["turned over, its back up"]


def _face(layer: Layer, tube: Tube) -> str:
    """Return the face of a tube whose holes the joint looks at, of a round one the angle."""
    hole = next(h for h in tube.holes if h.number == layer.numbers[0])
    spot = hole.spot
    if spot.face is None:
        return f"the line at {decimal_text(spot.at_deg, 2)}°"
    back = spot.opposite(tube.section)
    other = abs(layer.local[0].y - float(spot.across)) > _ZERO and tube.section.two_walls
    return f"face {back.face if other else spot.face}"


def _origin(layer: Layer) -> str:
    """Return what a part is measured from: a panel its datum corner, a tube the corner at end 0."""
    part = layer.part
    if isinstance(part, Panel):
        return "DATUM corner"
    if isinstance(part, Bought):
        return "origin"
    kind = part.section.kind
    if part.section.is_round:
        return "END 0, in line with the holes,"
    if kind == "angle":
        return "heel at END 0"
    face = _face(layer, part).removeprefix("face ")
    edge = "near" if kind == "strip" else part.section.next_face(_FACES[face])
    return f"END 0 at the {edge} edge"
