"""How the parts of a joint lie on one another: the stack, the side of the heads, hands, positions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nestkit.geometry.points import Point
from nestkit.job.entry import LONGEST_NAME, Entry
from nestkit.job.fasteners import GO_THROUGH
from nestkit.job.named import listed
from nestkit.job.nearest import Nearest
from nestkit.job.shown import shown
from nestkit.job.through import Layer, Through
from nestkit.job.values import number, pair, text
from nestkit.parts.bought import Bought
from nestkit.parts.joint import FastenerKind, Position
from nestkit.parts.panel import Panel

_TURN = "Write degrees from -360 to 360, counter-clockwise"


@dataclass(frozen=True, slots=True)
class Lie:
    """Which parts look back to the heads, which are the opposite hand, and where some of them lie."""

    turned_over: frozenset[str]
    opposite_hand: frozenset[str]
    positions: tuple[tuple[str, Position], ...]

    def placed(self, joint: Entry, layers: Sequence[Layer]) -> tuple[Position | None, ...]:
        """Return the position of each layer, from the heads on; one that no layer can have is noted.

        Positions count from the first part with holes. Several of one name go to its copies in their order.
        """
        still = next((i for i, layer in enumerate(layers) if layer.holes), 0)
        found: list[Position | None] = [None] * len(layers)
        for name in dict.fromkeys(name for name, _ in self.positions):
            given = [position for other, position in self.positions if other == name]
            free = [i for i, lay in enumerate(layers) if lay.name == name and lay.holes and i != still]
            if not free:
                text = f"{shown(name)} goes loose over each screw, and has no place of its own"
                remedy = "Leave its position out"
                if name == layers[still].name:
                    text = f"{shown(name)} is nearest to the heads: all positions count from it"
                    remedy = "Write where the others lie, seen from the heads"
                joint.wrong("position", text, remedy)
            elif len(given) not in (1, len(free)):
                text = f"{shown(name)} has {len(given)} positions, and lies there {len(free)} times"
                joint.wrong("position", text, "Write one for all of its copies, or one for each")
            else:
                for n, i in enumerate(free):
                    found[i] = given[n % len(given)]
        return tuple(found)


def read_lie(joint: Entry, through: Through, nearest: Nearest) -> Lie:
    """Return how the parts lie, as the joint says it; what names no part of the joint is noted."""
    over = _names(joint, "turned_over", through, nearest)
    opposite = _names(joint, "opposite_hand", through, nearest)
    for layer in {layer.name: layer for layer in through.layers}.values():
        _check_hand(joint, layer, opposite=layer.name in opposite)
    if "head_on" in joint:
        head = text(joint, "head_on")
        if head and through.names is not None and head not in (through.names[0], through.names[-1]):
            if head in through.names:
                ends = listed(dict.fromkeys((through.names[0], through.names[-1])))
                words = f"{shown(head)} lies between others, where no head can be"
                joint.wrong("head_on", words, f"Write the first or the last part of through: {ends}")
            else:
                _note_stranger(joint, "head_on", head, through.names, nearest)
    return Lie(frozenset(over), frozenset(opposite), tuple(_positions(joint, through, nearest)))


def from_the_heads(joint: Entry, layers: tuple[Layer, ...]) -> tuple[Layer, ...]:
    """Return the layers from the heads on."""
    head = joint.data.get("head_on")
    turned = isinstance(head, str) and head.strip() != layers[0].name
    return layers[::-1] if turned else layers


def check_stack(joint: Entry, kind: FastenerKind, through: Through) -> bool:
    """Note layers that a kind of fastener does not hold together; say whether it holds them all."""
    before = len(joint.notes)
    for layer in through.layers:
        if kind == "hook-and-loop" and layer.holes:
            text = f"hook-and-loop holds faces, and {shown(layer.name)} is named with holes"
            joint.wrong("through", text, f"Write {shown(layer.name)} alone", layer.index)
        elif kind in GO_THROUGH and not layer.holes:
            _check_alone(joint, layer)
    if through.whole and len(joint.notes) == before:
        _check_count(joint, kind, through.layers)
    return through.whole and len(joint.notes) == before


def _check_count(joint: Entry, kind: FastenerKind, layers: Sequence[Layer]) -> None:
    """Note where fewer parts, or fewer holes, are named than a fastener goes through."""
    drilled = sum(bool(layer.holes) for layer in layers)
    if kind == "hook-and-loop":
        if len(layers) < 2:
            joint.wrong("through", "hook-and-loop holds two parts, and one is named", "Add the other part")
    elif drilled < 1:
        kind_said = "a cable tie" if kind == "cable tie" else f"a {kind}"
        joint.wrong("through", f"no hole is named that {kind_said} goes through", "Write PART / GROUP of one")
    elif drilled < 2 and kind in GO_THROUGH:
        text = "only one part is named with holes, and a joint holds two together"
        remedy, entries = "Add the other part", joint.data["through"]
        if isinstance(entries, list) and len(layers) == 1 and len(entries) > 1:
            text = f"all entries are holes of one {shown(layers[0].name)}, side by side"
            remedy = "Add the other part; a second copy of the same one has the same numbers of holes"
        joint.wrong("through", text, remedy)


def _check_alone(joint: Entry, layer: Layer) -> None:
    """Note a part without its holes that cannot go loose over a screw."""
    part, groups = layer.named.part, layer.named.groups or {}
    if not isinstance(part, Panel) and not layer.named.holes:
        return
    text = f"{layer.named.kind} {shown(layer.name)} is named without its holes"
    if groups:
        example = f"{layer.name} / {next(iter(groups))}"
        remedy = f"Write {shown(example)}: its groups of holes are {listed(groups)}"
    elif layer.named.holes:
        remedy = "Give its group of holes a name, and write that behind a slash"
    else:
        remedy = "Give it holes; only a tube or a bought part without holes goes loose over a screw"
    joint.wrong("through", text, remedy, layer.index)


def _check_hand(joint: Entry, layer: Layer, *, opposite: bool) -> None:
    """Note a hand that a joint asks for and that is not made."""
    part = layer.named.part
    if part is None:
        return
    if not opposite:
        if not isinstance(part, Bought) and part.hands == (True,):
            text = f"of {shown(layer.name)} only the opposite hand is made"
            joint.wrong("through", text, f"Write opposite_hand = [{shown(layer.name)}]", layer.index)
    elif isinstance(part, Bought):
        text = f"{shown(layer.name)} is bought, and has no opposite hand"
        joint.wrong("opposite_hand", text, "Take it out; add the other hand as a bought part of its own")
    elif not part.opposite_hand:
        text = f"no opposite hand of {shown(layer.name)} is made"
        joint.wrong("opposite_hand", text, f"Give {part.place} its opposite_hand, or take it out here")


def _names(joint: Entry, key: str, through: Through, nearest: Nearest) -> set[str]:
    """Return the parts of the joint that a key lists; any other is noted."""
    if key not in joint:
        return set()
    value = joint.data[key]
    example = next(iter(through.names or ()), "hinge")
    remedy = f"Write a list of parts, {key} = [{shown(example)}]"
    if not isinstance(value, list):
        joint.wrong(key, f"a list of parts is wanted, not {shown(value)}", remedy)
        return set()
    found = set()
    for index, name in enumerate(value):
        if not isinstance(name, str) or not name.strip():
            joint.wrong(key, f"the name of a part is wanted, not {shown(name)}", remedy, index)
        elif through.names is not None and name.strip() not in through.names:
            _note_stranger(joint, key, name.strip(), through.names, nearest, index)
        else:
            found.add(name.strip())
    return found


def _note_stranger(
    entry: Entry, key: str, name: str, names: Sequence[str], nearest: Nearest, *index: int
) -> None:
    near = nearest(name[:LONGEST_NAME], names)
    own = listed(dict.fromkeys(names))
    remedy = f"Did you mean {shown(near)}" if near else f"Write one of its parts: {own}"
    entry.wrong(key, f"{shown(name)} is no part of this joint", remedy, *index)


def _positions(joint: Entry, through: Through, nearest: Nearest) -> list[tuple[str, Position]]:
    """Return the parts that a joint gives a place, and where their origins lie."""
    if isinstance(joint.data.get("position"), list):
        tables = list(joint.children("position", "position"))
    else:
        one = joint.child("position", "position", named=True)
        tables = [one] if one is not None else []
    found = []
    for table in tables:
        name = text(table, "part", required=True)
        at = pair(table, "at", "place", required=True)
        turn = number(table, "turn_deg", 0, least=-360, most=360, remedy=_TURN)
        if name and through.names is not None and name not in through.names:
            _note_stranger(table, "part", name, through.names, nearest)
        elif name and at is not None and turn is not None:
            found.append((name, Position(Point(float(at[0]), float(at[1])), float(turn))))
    return found
