"""What is drilled through what, clamping by clamping: the holes in the order in which they are made."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from nestkit.fit.assemble import assemble
from nestkit.fit.assembly import Assembly, Layer, Placement
from nestkit.geometry.points import Point
from nestkit.job.model import Job
from nestkit.job.pairs import Pair, pairs_of
from nestkit.parts.holes import Drill
from nestkit.parts.joint import Mate
from nestkit.trade.drills import DrillRow
from nestkit.trade.pilots import pilots_for
from nestkit.units import Unit

_SAME = 0.02
"""Millimetres within which two drills are one."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where one screw goes: the hole that is there, the holes to drill through it, and their drills.

    ``through`` goes through all parts at once: no hole of theirs is smaller. ``pilots`` come before it.
    """

    number: int
    drill: Drill
    numbers: tuple[int, ...]
    drills: tuple[Drill, ...]
    through: Drill
    pilots: tuple[DrillRow, ...]

    @property
    def spotted(self) -> bool:
        """Say whether the drill of the hole that is there only makes a cone for a smaller one to start in."""
        return bool(self.pilots) or self.through.dia < self.drill.dia - _SAME

    def opened(self, follower: int) -> Drill | None:
        """Return the drill that opens a follower's hole up at the end, by the follower's place."""
        drill = self.drills[follower]
        return drill if drill.dia > self.through.dia + _SAME else None


@dataclass(frozen=True, slots=True)
class Setup:
    """Parts that are clamped on one another and drilled in one go.

    The leader lies on top, the ``followers`` below it in this order. ``turned``: the leader is not at the
    heads' side, so the stack is looked at from behind. ``places`` are in the order of drilling: one end, the
    far end, the rest.
    """

    pair: Pair
    assembly: Assembly
    leader: Layer
    followers: tuple[Layer, ...]
    turned: bool
    places: tuple[Place, ...]

    @property
    def layers(self) -> tuple[Layer, ...]:
        """All parts from the top down."""
        return self.leader, *self.followers


@dataclass(frozen=True, slots=True)
class Stuck:
    """A joint whose holes cannot be drilled so, since its parts cannot meet as drawn."""

    pair: Pair
    assembly: Assembly


def setups_of(job: Job, only: frozenset[str] | None = None) -> tuple[Setup | Stuck, ...]:
    """Return every clamping that a job takes, in the order of its joints; with ``only``, of these parts.

    A leader between its followers takes two, one for each side.
    """
    found: list[Setup | Stuck] = []
    for pair in pairs_of(job):
        names = {mate.part for mate in (pair.leader, *pair.followers)}
        if pair.followers and (only is None or names & only):
            assembly = assemble(job, pair.joint)
            found += [Stuck(pair, assembly)] if assembly.faults else _setups(job, pair, assembly)
    return tuple(found)


def _setups(job: Job, pair: Pair, assembly: Assembly) -> Iterator[Setup]:
    layers = assembly.layers
    at = next(i for i, layer in enumerate(layers) if layer.plane.mate == pair.leader)
    behind = tuple(layer for layer in layers[at + 1 :] if layer.plane.mate in pair.followers)
    before = tuple(layer for layer in layers[:at] if layer.plane.mate in pair.followers)
    if behind:
        yield _setup(job.unit, pair, assembly, (layers[at], *behind), turned=False)
    if before:
        stack = tuple(_from_behind(layer) for layer in (layers[at], *reversed(before)))
        yield _setup(job.unit, pair, assembly, stack, turned=True)


def _setup(unit: Unit, pair: Pair, assembly: Assembly, layers: Sequence[Layer], *, turned: bool) -> Setup:
    leader, followers = layers[0], tuple(layers[1:])
    order = drilling_order(leader.points, leader.numbers)
    places = tuple(_place(unit, leader, followers, screw) for screw in order)
    return Setup(pair, assembly, leader, followers, turned, places)


def drilling_order(points: Sequence[Point], numbers: Sequence[int]) -> tuple[int, ...]:
    """Return holes in the order of drilling: one end, the one furthest from it, the rest by their numbers.

    >>> drilling_order([Point(0, 0), Point(5, 0), Point(9, 0)], [4, 5, 6])
    (0, 2, 1)
    """
    by_number = sorted(range(len(points)), key=lambda i: numbers[i])
    if len(points) < 2:
        return tuple(by_number)
    # Of equal pairs the first by their numbers.
    first, far = max(combinations(by_number, 2), key=lambda two: round(points[two[0]].to(points[two[1]]), 6))
    return (first, far, *(i for i in by_number if i not in (first, far)))


def _place(unit: Unit, leader: Layer, followers: Sequence[Layer], screw: int) -> Place:
    own = _drill(leader, screw)
    drills = tuple(_drill(layer, screw) for layer in followers)
    least = min(drills, key=lambda drill: drill.dia)
    through = least if least.dia <= own.dia + _SAME else own
    materials = [layer.part.material for layer in followers]
    pilots = max((pilots_for(through.dia, material, unit) for material in materials), key=len)
    numbers = tuple(layer.numbers[screw] for layer in followers)
    return Place(leader.numbers[screw], own, numbers, drills, through, pilots)


def _drill(layer: Layer, screw: int) -> Drill:
    number = layer.numbers[screw]
    return next(hole.drill for hole in layer.part.holes if hole.number == number)


def _from_behind(layer: Layer) -> Layer:
    """Return a layer as it looks from the side that the screws come out of: x becomes -x."""
    placed = layer.placement
    move = Point(-placed.move.x, placed.move.y)
    seen = Placement(-placed.turn_deg, move, not placed.mirrored)
    return replace(layer, placement=seen, points=tuple(Point(-p.x, p.y) for p in layer.points))


def follower_names(setup: Setup | Stuck) -> tuple[Mate, ...]:
    """Return the parts that are drilled, each once."""
    mates = setup.pair.followers
    if isinstance(setup, Setup):
        mates = tuple(layer.plane.mate for layer in setup.followers)
    return tuple(dict.fromkeys(mates))
