"""From a joint's parts in place to what may be off about their holes, in numbers."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nestkit.fit.accuracy import accuracy, method_of, practised
from nestkit.fit.assembly import Assembly, Layer
from nestkit.fit.spread import Freedom, Shared, Slot, Spread, Wall
from nestkit.fit.zones import radial_play
from nestkit.geometry.points import Point, middle
from nestkit.job.model import Job
from nestkit.parts.gangs import Gang
from nestkit.parts.marking import PRINT_LIMIT, rounded
from nestkit.parts.methods import BY_TABLE, Method
from nestkit.parts.tube import Tube
from nestkit.trade.materials import density
from nestkit.trade.rules import rule

LEAN_RULES = {False: "R095", True: "R096"}
"""How far a drill leans: by hand, at a press."""
_LINE_RULE = "R130"
_TEMPLATE_RULE = "R049"
_ZERO = Point(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Plan:
    """How a joint's holes are made; advice varies it. A value, or a row of values, for each layer.

    ``slot`` is the layer and the screw whose hole is a slot, towards the middle of the others, ``slot_by`` mm
    longer to each side.
    """

    methods: tuple[Method, ...]
    dias: tuple[tuple[float, ...], ...]
    together: bool = False
    slot: tuple[int, int] | None = None
    slot_by: float = 0.0


def plan_of(job: Job, assembly: Assembly) -> Plan:
    """Return how a joint is made as the job has it."""
    layers = assembly.layers
    methods = tuple(method_of(job, layer.part, layer.dias) for layer in layers)
    return Plan(methods, tuple(layer.dias for layer in layers), assembly.joint.together)


def spread_of(
    job: Job, assembly: Assembly, plan: Plan, gangs: Sequence[Gang] = (), warmer: float = 0.0
) -> Spread:
    """Return what may be off about a joint's holes, ``warmer`` degrees C above when they were made.

    Sure is what the patterns are off by as drawn, what a marking-out table rounds, and what unlike materials
    grow apart. Each hole has its method's error; a template has its print's scale too; tubes that are marked
    together share where their holes lie along them.
    """
    return _Reckoning(job, assembly, plan, gangs, warmer).spread()


class _Reckoning:
    """One joint while its errors are gathered."""

    def __init__(
        self, job: Job, assembly: Assembly, plan: Plan, gangs: Sequence[Gang], warmer: float
    ) -> None:
        self.job, self.plan, self.warmer = job, plan, warmer
        self.layers = assembly.layers
        self.fastener = assembly.joint.fastener.dia
        self.held = assembly.joint.held
        self.screws = range(assembly.screws)
        self.leader = self._leader()
        # Of parts drilled together only the first is marked.
        self.ganged = () if plan.together else tuple(_together(self.layers, plan.methods, gangs))

    def _leader(self) -> int:
        """The layer that the others are drilled through, or the first that is not drilled through another."""
        if self.plan.together:
            return 0
        return next((i for i, m in enumerate(self.plan.methods) if m != "match drilled"), 0)

    def _follows(self, number: int) -> bool:
        drilled = self.plan.together or self.plan.methods[number] == "match drilled"
        return drilled and number != self.leader

    def spread(self) -> Spread:
        """Return all of it; the layer that others are drilled through comes first."""
        order = sorted(range(len(self.layers)), key=lambda i: i != self.leader)
        walls: list[Wall] = []
        places: list[tuple[int, int]] = []
        for number in order:
            for depth in range(_walls_met(self.layers[number])):
                walls.append(self._wall(number, depth, len(walls)))
                places.append((number, depth))
        shared = (*self._print_errors(places), *self._gang_errors(places))
        freedom: Freedom = "none" if self.held else "slide and turn"
        # Joints that are alike, wherever they lie, are one and the same to whoever reckons with them.
        first = self.layers[0].points[0]
        points = tuple(_rounded(point.less(first)) for point in self.layers[0].points)
        return Spread(points, tuple(walls), shared, freedom)

    def _wall(self, number: int, depth: int, before: int) -> Wall:
        """Return one wall of a layer; ``before`` walls stand before it in the list."""
        layer = self.layers[number]
        holds = layer.plane.holds_thread
        plays = tuple(
            0.0 if holds else max(0.0, radial_play(d, self.fastener)) for d in self.plan.dias[number]
        )
        slots = tuple(self._slot(number, screw) for screw in self.screws)
        turn = _turn_deg(layer)
        if self._follows(number) or (self.plan.together and depth):
            sigma = accuracy(self.job, "match drilled").sigma
            growth = self._growth(number), self._growth(self.leader)
            bias = tuple(own.less(led) for own, led in zip(*growth, strict=True))
            return Wall(number, plays, bias, (sigma, sigma), turn, 0, slots)
        if depth and self.job.fitting.in_one_go:
            lean = rule(LEAN_RULES[self.job.fitting.press])
            off = math.tan(math.radians(float(lean.typical or 0))) * layer.plane.depth / 2
            return Wall(number, plays, (_ZERO,) * len(self.screws), (off, off), turn, before - 1, slots)
        sigma = self._sigma(number)
        line = rule(_LINE_RULE)
        along = float(line.mm(line.typical)) / 2 if self._in_gang(number) else sigma
        return Wall(number, plays, self._bias(number), (along, sigma), turn, None, slots)

    def _sigma(self, number: int) -> float:
        method = self.plan.methods[number]
        if method == "match drilled":
            # The layer that all others follow is itself drilled by hand.
            method = self.job.fitting.method or "template"
        return accuracy(self.job, method).sigma

    def _bias(self, number: int) -> tuple[Point, ...]:
        """Return how far a layer's holes are off for certain: as drawn, by rounded marks, by growth."""
        layer, first = self.layers[number], self.layers[0]
        growth = self._growth(number)
        found = []
        for screw in self.screws:
            drawn = layer.points[screw].less(first.points[screw])
            mark = self._rounding(number, screw).moved(*self._habit(number))
            found.append(_rounded(drawn.moved(*mark).moved(*growth[screw])))
        return tuple(found)

    def _rounding(self, number: int, screw: int) -> Point:
        layer = self.layers[number]
        if self.plan.methods[number] not in BY_TABLE:
            return _ZERO
        at, step = layer.local[screw], self.job.marking_to
        # A line in the middle of a tube's face is not measured from an edge, and a round one has none.
        across = 0.0 if _in_middle(layer, screw) else float(rounded(at.y, step).error)
        return _direction(layer, float(rounded(at.x, step).error), across)

    def _habit(self, number: int) -> Point:
        """Return what all marks of a part are off by alike, where a practice piece shows that they are."""
        method = self.plan.methods[number]
        pieces = [piece for piece in self.job.fitting.practice if piece.method == method]
        own = practised(pieces) if pieces else None
        if own is None or not own.drifts:
            return _ZERO
        return _direction(self.layers[number], own.mean_x, own.mean_y)

    def _growth(self, number: int) -> tuple[Point, ...]:
        layer = self.layers[number]
        row = density(layer.part.material) if self.warmer else None
        share = float(row.growth or 0) * 1e-6 * self.warmer if row is not None else 0.0
        points = self.layers[0].points
        centre = middle(points)
        return tuple(Point(share * (p.x - centre.x), share * (p.y - centre.y)) for p in points)

    def _slot(self, number: int, screw: int) -> Slot | None:
        if self.plan.slot != (number, screw):
            return None
        points = self.layers[0].points
        along = points[screw].less(middle(points))
        return Slot(self.plan.slot_by, math.degrees(math.atan2(along.y, along.x)))

    def _print_errors(self, places: Sequence[tuple[int, int]]) -> Iterator[Shared]:
        """Yield what a template's print is out by, along and across its part."""
        for number, layer in enumerate(self.layers):
            if self.plan.methods[number] != "template" or self._follows(number):
                continue
            whose = {number} | (
                {n for n, _ in places if self._follows(n)} if number == self.leader else set()
            )
            for axis in (0, 1):
                reach = max(abs(at[axis]) for at in layer.local)
                share = print_share(reach)
                moves = [share * at[axis] for at in layer.local]
                ways = [_direction(layer, *((m, 0.0) if axis == 0 else (0.0, m))) for m in moves]
                if any(moves):
                    still = (_ZERO,) * len(ways)
                    yield Shared(tuple(tuple(ways) if n in whose else still for n, _ in places))

    def _in_gang(self, number: int) -> bool:
        return any(number in pair for pair in self.ganged)

    def _gang_errors(self, places: Sequence[tuple[int, int]]) -> Iterator[Shared]:
        """Yield for each line that is squared across tubes what it is out by along them.

        What is drilled through a tube's first wall has what that wall has.
        """
        for members in self.ganged:
            sigma = self._sigma(min(members))
            ways = {n: _direction(self.layers[n], sigma, 0.0) for n in members}
            for depth in range(max(_walls_met(self.layers[n]) for n in members)):
                moved = [
                    ways.get(n, _ZERO) if d == depth and not self._follows(n)
                    else ways.get(self.leader, _ZERO) if depth == 0 and self._follows(n)
                    else _ZERO
                    for n, d in places
                ]  # fmt: skip
                for screw in self.screws:
                    yield Shared(
                        tuple(tuple(way if s == screw else _ZERO for s in self.screws) for way in moved)
                    )


def _walls_met(layer: Layer) -> int:
    """Return how many walls of a part the screws pass: of one that holds them the first, where they end."""
    return 1 if layer.plane.holds_thread else len(layer.plane.walls)


def print_share(reach: float) -> float:
    """Return one sigma of a template's scale, as a share, for holes up to ``reach`` mm from its datum.

    Its rulers are good to 0.2 percent, and two diagonals are measured before the first drill: those may be
    out by two marks (R049). Both limits count as 2 sigma.
    """
    if reach <= 0:
        return 0.0
    marks = rule(_TEMPLATE_RULE)
    limit = min(float(PRINT_LIMIT) * reach, 2 * float(marks.mm(marks.typical)))
    return limit / 2 / reach


def _together(
    layers: Sequence[Layer], methods: Sequence[Method], gangs: Sequence[Gang]
) -> Iterator[frozenset[int]]:
    """Yield the layers that are tubes marked in one gang, with all holes at the same places along them."""
    taken: set[int] = set()
    for gang in gangs:
        names = {(member.tube.name, member.opposite) for member in gang.members}
        found = [
            i
            for i, layer in enumerate(layers)
            if isinstance(layer.part, Tube)
            and methods[i] in BY_TABLE
            and i not in taken
            and (layer.part.name, layer.plane.mate.opposite) in names
        ]
        alike = [i for i in found if _along(layers[i]) == _along(layers[found[0]])]
        if len(alike) > 1:
            taken.update(alike)
            yield frozenset(alike)


def _along(layer: Layer) -> tuple[float, ...]:
    return tuple(round(at.x, 6) for at in layer.local)


def _in_middle(layer: Layer, screw: int) -> bool:
    part, number = layer.part, layer.numbers[screw]
    if not isinstance(part, Tube):
        return False
    spots = [hole.spot for hole in part.holes if hole.number == number]
    return all(s.face is None or 2 * s.across == part.section.width(s.face) for s in spots)


def _direction(layer: Layer, x: float, y: float) -> Point:
    """Return a direction as it is measured on a part as one of the joint's plane."""
    along, across = layer.plane.axes
    return layer.placement.direction(along.x * x + across.x * y, along.y * x + across.y * y)


def _turn_deg(layer: Layer) -> float:
    along = _direction(layer, 1.0, 0.0)
    return math.degrees(math.atan2(along.y, along.x))


def _rounded(point: Point) -> Point:
    return Point(round(point.x, 9) + 0.0, round(point.y, 9) + 0.0)
