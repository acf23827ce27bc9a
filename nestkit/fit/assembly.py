"""The parts of a joint as the screws meet them: every hole laid into one plane, seen from the heads."""

from __future__ import annotations

from dataclasses import dataclass

from nestkit.geometry.points import Point
from nestkit.job.model import Part
from nestkit.parts.joint import Joint, Mate

_HERE = Point(0.0, 0.0)
_AXES = Point(1.0, 0.0), Point(0.0, 1.0)


@dataclass(frozen=True, slots=True)
class Placement:
    """How a part's plane is laid into the joint's: mirrored first (x becomes -x), then turned, then moved.

    The joint's plane is the plane of the first part with holes, as seen from the heads.
    """

    turn_deg: float = 0.0
    move: Point = _HERE
    mirrored: bool = False

    def __call__(self, point: Point) -> Point:
        """Return where a point of the part's plane comes to lie in the joint's."""
        flipped = Point(-point.x, point.y) if self.mirrored else point
        return flipped.turned(self.turn_deg).moved(*self.move)

    def direction(self, x: float, y: float) -> Point:
        """Return a direction of the part's plane as one of the joint's: mirrored and turned, not moved."""
        return Point(-x if self.mirrored else x, y).turned(self.turn_deg)


@dataclass(frozen=True, slots=True)
class Plane:
    """The holes of one part of a joint in its own plane, seen from the heads, before they are placed.

    All tuples run alike, a hole each, in the order of ``numbers``. ``points`` are in a right-handed plane:
    of a panel or a bought part as drawn (turned over: mirrored), of a tube x along it from end 0 and y
    across, as the face looks from outside (from inside: mirrored). ``local`` are the same holes as they are
    measured: panel x, y from the datum corner; tube x from end 0, y across the face. ``walls`` are the
    thicknesses that are drilled, the heads' side first: two where a tube is drilled through; ``depth`` is
    what a screw passes in all; 0 where it is not known. ``axes`` are how x and y of ``local``
    run in the plane.
    """

    mate: Mate
    part: Part
    numbers: tuple[int, ...]
    points: tuple[Point, ...]
    local: tuple[Point, ...]
    dias: tuple[float, ...]
    walls: tuple[float, ...]
    depth: float
    holds_thread: bool = False
    mirrored: bool = False
    axes: tuple[Point, Point] = _AXES


@dataclass(frozen=True, slots=True)
class Layer:
    """A part of a joint in its place. Its holes run in the joint's order: one of each layer for each screw.

    ``points`` are the nominal centres in the joint's plane.
    """

    plane: Plane
    placement: Placement
    numbers: tuple[int, ...]
    points: tuple[Point, ...]
    local: tuple[Point, ...]
    dias: tuple[float, ...]

    @property
    def part(self) -> Part:
        """The part itself."""
        return self.plane.part


@dataclass(frozen=True, slots=True)
class Loose:
    """A spacer that goes over each screw, behind so many layers, and its length in mm; 0 where not known."""

    part: Part
    after: int
    length: float


@dataclass(frozen=True, slots=True)
class Miss:
    """Holes that do not meet: hole ``number`` of ``part`` lies ``dx, dy`` mm from where ``of`` has its own.

    The direction is that of the first part's drawing. ``dx`` and ``dy`` are None where it has no partner at
    all.
    """

    part: str
    number: int
    of: str
    of_number: int | None
    dx: float | None
    dy: float | None


@dataclass(frozen=True, slots=True)
class Fault:
    """Why a joint cannot meet as described: what is wrong and what to do, in words."""

    text: str
    remedy: str


@dataclass(frozen=True, slots=True)
class Assembly:
    """A joint with its parts in place, the heads' side first. With ``faults`` it cannot go together as drawn.

    ``misses`` are how far the nominal patterns are off one another, also where clearance takes it up.
    ``symmetric`` says that another way of laying the parts fits as well: which one was taken is shown.
    """

    joint: Joint
    layers: tuple[Layer, ...]
    loose: tuple[Loose, ...] = ()
    misses: tuple[Miss, ...] = ()
    faults: tuple[Fault, ...] = ()
    symmetric: bool = False

    @property
    def screws(self) -> int:
        """How many screws one such joint takes."""
        return len(self.layers[0].points) if self.layers else 0
