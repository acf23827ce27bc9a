"""What is known of a job's joints: chance, zones, advice, hardware, drills."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from nestkit.fit.assembly import Assembly
from nestkit.job.model import Part
from nestkit.parts.holes import Drill
from nestkit.parts.methods import Method


@dataclass(frozen=True, slots=True)
class Chance:
    """A chance from 0 to 1.

    ``error`` is the standard error of trials, 0 where it comes from a closed form.
    """

    value: float
    error: float = 0.0
    trials: int = 0


@dataclass(frozen=True, slots=True)
class Accuracy:
    """How exactly a part's holes come out: ``sigma`` mm per axis, and where the figure comes from."""

    method: Method
    sigma: float
    source: str


@dataclass(frozen=True, slots=True)
class Zone:
    """The position zone left to one hole of a part: a diameter in mm, and +- mm per axis (0.3536 of it)."""

    part: str
    hole: int
    diameter: float

    @property
    def per_axis(self) -> float:
        """Half the side of the square that fits inside the round zone."""
        return self.diameter / (2 * 2**0.5)


@dataclass(frozen=True, slots=True)
class ScrewFit:
    """One screw of a joint: number, the hole of each layer, its chance with the parts held as drawn."""

    number: int
    holes: tuple[tuple[str, int], ...]
    chance: Chance
    clearance: float


AdviceKind = Literal["hole", "method", "together", "slot", "after fit-up"]


@dataclass(frozen=True, slots=True)
class Advice:
    """A change to a joint: what to do, the chance that it gives, and a warning where it costs something."""

    kind: AdviceKind
    text: str
    chance: Chance
    warning: str = ""


@dataclass(frozen=True, slots=True)
class Warmth:
    """What temperatures do to a joint: its chance as it is made, and how far its holes move apart, in mm."""

    as_made: Chance
    apart: float


@dataclass(frozen=True, slots=True)
class JointFit:
    """A joint: how its parts lie, the zones, the chance, and the advice, best first.

    No chance with faults. ``chance`` is that at the worst of the temperatures that the joint must bear;
    ``warmth`` is None where there are none, or all parts grow alike.
    """

    assembly: Assembly
    accuracies: tuple[Accuracy, ...]
    zones: tuple[Zone, ...]
    chance: Chance | None
    screws: tuple[ScrewFit, ...]
    goal: Fraction
    advice: tuple[Advice, ...] = ()
    warmth: Warmth | None = None

    @property
    def name(self) -> str:
        """The joint's name."""
        return self.assembly.joint.name


@dataclass(frozen=True, slots=True)
class Item:
    """A line of the hardware list: what, which size and length (mm, None where it has none), how many.

    ``count`` are needed, ``spares`` more to have; ``joints`` are those that need it; ``source`` of its sizes.
    """

    what: str
    size: str
    length: float | None
    count: int
    spares: int
    joints: tuple[str, ...]
    source: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Conflict:
    """Something about a joint's hardware that needs care; ``error``: it cannot be put together so.

    ``also`` are other joints of which the same is to be said.
    """

    joint: str
    error: bool
    text: str
    remedy: str
    rule: str = ""
    also: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Hardware:
    """All that is bought for the joints.

    ``stacks`` are joints by name, each with what its screws pass and their length in one line.
    """

    items: tuple[Item, ...] = ()
    conflicts: tuple[Conflict, ...] = ()
    stacks: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class DrillUse:
    """A drill of the job: the holes that it makes by part (number in one copy, copies), and what comes
    before it.

    ``order`` are the drills in the order of use, the last is this one. ``speed`` says rpm and feed where the
    rules have one; ``instead`` what to use where the shop has no such drill; ``merge`` a size that may
    replace it. A ``pilot`` only begins holes that another drill finishes. A hole through both walls of a tube
    counts as two.
    """

    drill: Drill
    holes: tuple[tuple[Part, int, int], ...]
    order: tuple[str, ...]
    speed: str = ""
    instead: str = ""
    merge: str = ""
    pilot: bool = False


@dataclass(frozen=True, slots=True)
class JobFit:
    """All joints of a job, its hardware, its drills.

    ``chance`` of all joints together; None without joints. ``not_made`` are the names of joints of which none
    is made: they are not among ``joints``.
    """

    joints: tuple[JointFit, ...]
    chance: Chance | None
    hardware: Hardware
    drills: tuple[DrillUse, ...]
    not_made: tuple[str, ...] = ()
