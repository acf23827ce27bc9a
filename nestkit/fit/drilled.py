"""The holes of a job that are drilled by hand, and what each is for: that says which other drill would do."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from nestkit.job.model import Job
from nestkit.job.pairs import drilled_later
from nestkit.parts.holes import Drill
from nestkit.parts.joint import Joint
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube

Kind = Literal["clearance", "tap", "exact", "plain", "pilot"]


@dataclass(frozen=True, slots=True, order=True)
class Purpose:
    """What a hole is for: room for a screw, a thread, what must fit exactly (rivets, rivet nuts), or unknown.

    ``screw`` is that of a clearance hole, as the job writes it.
    """

    kind: Kind
    screw: str = ""


@dataclass(frozen=True, slots=True)
class Drilled:
    """A hole to drill in each copy of a part; ``times`` is 2 where it goes through two walls."""

    part: Panel | Tube
    number: int
    drill: Drill
    times: int
    purpose: Purpose
    in_joint: bool


def drilled_holes(job: Job) -> Iterator[Drilled]:
    """Yield every hole that is drilled by hand, as templates and cards have it: panels first, in file order.

    What a machine cuts with the part is left out, unless it is drilled through another part; and so are parts
    of which none is needed.
    """
    joined, later = _joined(job), drilled_later(job)
    for panel in job.panels:
        way = job.way_of(panel)
        through = {number for hand in (False, True) for number in later.get((panel.name, hand), ())}
        for hole in panel.holes if panel.needed else ():
            if hole.number in through or way.by_hand(hole.dia):
                joints = joined.get((panel.name, hole.number), ())
                yield Drilled(panel, hole.number, hole.drill, 1, _purpose(hole.drill, joints), bool(joints))
    for tube in job.tubes:
        for bore in tube.holes if tube.needed else ():
            joints = joined.get((tube.name, bore.number), ())
            times = 2 if bore.through and tube.section.two_walls else 1
            yield Drilled(tube, bore.number, bore.drill, times, _purpose(bore.drill, joints), bool(joints))


_Role = tuple[Joint, bool]
"""A joint that a hole belongs to, and whether its part is at the far end."""


def _joined(job: Job) -> Mapping[tuple[str, int], list[_Role]]:
    found: dict[tuple[str, int], list[_Role]] = defaultdict(list)
    for joint in job.joints:
        mates = [mate for mate in joint.mates if mate.holes]
        for mate in mates:
            for number in mate.holes:
                found[mate.part, number].append((joint, mate is mates[-1]))
    return found


def _purpose(drill: Drill, roles: list[_Role] | tuple[()]) -> Purpose:
    if drill.tap:
        return Purpose("tap")
    for joint, far in roles:
        fastener = joint.fastener
        if fastener.kind == "rivet" or (far and fastener.held_by in ("rivet nut", "wood", "tapped hole")):
            return Purpose("exact")
    if drill.screw:
        return Purpose("clearance", drill.screw)
    screws = [joint.fastener.size for joint, _ in roles if joint.fastener.kind in ("screw", "wood screw")]
    return Purpose("clearance", screws[0]) if screws else Purpose("plain")
