"""The joints of a job: which holes one set of screws goes through, and how the parts lie."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from nestkit.job.entry import Entry
from nestkit.job.fasteners import GO_THROUGH, FastenerRead, fastener_kind, read_fastener
from nestkit.job.holding import holder
from nestkit.job.named import AnyPart, named_parts
from nestkit.job.shown import shown
from nestkit.job.stacking import Lie, check_stack, from_the_heads, read_lie
from nestkit.job.through import Layer, ThroughReader
from nestkit.job.values import choice, count, flag, number, text
from nestkit.parts.bought import Bought
from nestkit.parts.joint import Fastener, FastenerKind, Joint, Mate

CHANCE = Fraction(5, 10), Fraction(9999, 10_000)
CHANCE_REMEDY = "Write a plain number from 0.5 to 0.9999: 0.95 means 95 in 100"
Made = Literal["apart", "together"]


def read_joints(
    top: Entry, entries: Iterable[tuple[Entry, AnyPart | None]], *, all_there: bool
) -> tuple[Joint, ...]:
    """Return all joints that have no mistake. ``entries`` are the parts of the job where they were read."""
    if "joint" not in top:
        return ()
    reader = ThroughReader(named_parts(top, entries, all_there=all_there))
    joints: list[Joint] = []
    names: set[str] = set()
    for entry in top.children("joint", "joint"):
        joint = _joint(entry, reader)
        name = entry.data.get("name")
        if isinstance(name, str) and name.strip():
            if name.strip() in names:
                entry.wrong("name", f"two joints are called {shown(name.strip())}", "Give each its own name")
            names.add(name.strip())
        if joint is not None:
            joints.append(joint)
    return tuple(joints)


@dataclass(frozen=True, slots=True)
class _Asked:
    """What a joint says besides its parts and what holds it."""

    name: str | None
    quantity: int | None
    together: bool
    held: bool
    chance: Fraction | None


def _joint(entry: Entry, reader: ThroughReader) -> Joint | None:
    before = len(entry.notes)
    asked = _asked(entry)
    kind = fastener_kind(entry)
    fastener = read_fastener(entry, kind)
    through = reader.read(entry)
    before_lie = len(entry.notes)
    lie = read_lie(entry, through, reader.nearest)
    if kind is None or not check_stack(entry, kind, through) or len(entry.notes) > before_lie:
        return None
    layers = from_the_heads(entry, through.layers)
    quantity = asked.quantity if "quantity" in entry else _quantity(entry, kind, layers, lie)
    held = _fastener(entry, fastener, layers) if fastener is not None else None
    mates = _mates(entry, layers, lie)
    if len(entry.notes) > before or held is None or quantity is None or not asked.name:
        return None
    return Joint(
        name=asked.name,
        place=f"joint {shown(asked.name)}",
        fastener=held,
        mates=mates,
        quantity=quantity,
        together=asked.together,
        held=asked.held,
        chance=asked.chance,
        line=entry.line,
    )


def _asked(entry: Entry) -> _Asked:
    name = text(entry, "name", required=True, slash=False)
    quantity = count(entry, "quantity", 1)
    made: Made | None = choice(entry, "made", ("apart", "together"), "apart")
    held = flag(entry, "held", False)
    chance = number(entry, "chance", 1, least=CHANCE[0], most=CHANCE[1], remedy=CHANCE_REMEDY)
    return _Asked(name, quantity, made == "together", held, chance if "chance" in entry else None)


def _quantity(entry: Entry, kind: FastenerKind, layers: Sequence[Layer], lie: Lie) -> int | None:
    """Return how often a joint can be made of the copies of its parts; None where these are too few for one.

    A part that goes loose over each screw is there once a screw.
    """
    screws = next((len(layer.holes) for layer in layers if layer.holes), 1)
    times: dict[str, int] = {}
    copies: dict[str, int] = {}
    for layer in layers:
        loose = kind in GO_THROUGH and not layer.holes
        times[layer.name] = times.get(layer.name, 0) + (screws if loose else 1)
        copies[layer.name] = _copies(layer, opposite=layer.name in lie.opposite_hand)
    for layer in layers:
        has, takes = copies[layer.name], times[layer.name]
        if 0 < has < takes:
            text = f"one such joint takes {takes} of {shown(layer.name)}, and {has} {_is(has)} there"
            entry.wrong("through", text, "Raise its quantity, or write that of the joint", layer.index)
            return None
    return min(copies[name] // takes for name, takes in times.items())


def _is(count: int) -> str:
    return "is" if count == 1 else "are"


def _copies(layer: Layer, *, opposite: bool) -> int:
    """Return how many copies of a part there are for use, of one hand, without spares."""
    part = layer.named.part
    if part is None or isinstance(part, Bought):
        return part.quantity if part is not None else 0
    return part.opposite_hand if opposite and not part.either_hand else part.as_drawn


def _fastener(entry: Entry, read: FastenerRead, layers: Sequence[Layer]) -> Fastener | None:
    held_by = holder(entry, read, layers[-1])
    if held_by is None:
        return None
    return Fastener(
        kind=read.kind,
        size=read.size,
        dia=float(read.dia),
        held_by=held_by,
        head=read.head,
        washers=read.washers,
        length=read.length,
        thread_locker=read.thread_locker,
    )


def _mates(entry: Entry, layers: Sequence[Layer], lie: Lie) -> tuple[Mate, ...]:
    """Return the parts from the heads on, each as it lies."""
    positions = lie.placed(entry, layers)
    return tuple(
        Mate(
            part=layer.name,
            holes=layer.holes,
            turned_over=layer.name in lie.turned_over,
            opposite=layer.name in lie.opposite_hand,
            position=position,
        )
        for layer, position in zip(layers, positions, strict=True)
    )
