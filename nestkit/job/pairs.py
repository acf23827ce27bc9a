"""Holes that no print marks: they are drilled through the part that theirs is bolted to.

A joint that is made together has its first part drilled as usual, the leader; the holes of the others, the
followers, are drilled through it. A part whose method is match drilled follows in each of its joints.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TypeVar

from nestkit.job.model import Job, Part
from nestkit.parts.bought import Bought
from nestkit.parts.gangs import Gang, all_holes, gangs_of
from nestkit.parts.joint import Joint, Mate
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube

RIGID = ("screw", "rivet", "wood screw")
"""Fasteners whose holes must meet; ties and tapes bend, and nothing is drilled through anything for them."""
_METHOD = "match drilled"

OfHand = TypeVar("OfHand", Panel, Tube)
Hand = tuple[str, bool]
"""A part, and whether it is the opposite hand; of a part that is either hand always False."""

_Hole = tuple[Hand, int]


@dataclass(frozen=True, slots=True)
class Pair:
    """A joint in which holes are drilled through others.

    The ``leader`` is drilled first, as its own prints say; the ``followers`` through it, in the order of the
    joint. ``ringed`` are parts that should follow but cannot: the leader's holes are drilled through theirs,
    or are the very same. They are marked and drilled as usual.
    """

    joint: Joint
    leader: Mate
    followers: tuple[Mate, ...]
    ringed: tuple[Mate, ...] = ()


Later = Mapping[int, tuple[Pair, ...]]
"""Hole numbers of one part and hand that are drilled later, and through what: often one pair, seldom more."""


def pairs_of(job: Job) -> tuple[Pair, ...]:
    """Return the joints of a job in which holes are drilled through others, in the order of the job.

    Joints that are made no times are left out. Nothing would be drilled first where each of two parts is to
    be drilled through the other: the joint that closes such a ring has the part among its ``ringed``.
    """
    if not _any(job):
        return ()
    parts = _parts(job)
    found: list[Pair] = []
    needs: dict[_Hole, set[_Hole]] = {}
    for joint in job.joints:
        if not joint.quantity or joint.fastener.kind not in RIGID:
            continue
        leader, asked = _roles(job, joint, parts)
        if leader is None or not asked:
            continue
        first = _holes(leader, parts)
        before = _all_before(first, needs)
        ringed = tuple(mate for mate in asked if _holes(mate, parts) & before)
        followers = tuple(mate for mate in asked if mate not in ringed)
        for mate in followers:
            for hole in _holes(mate, parts):
                needs.setdefault(hole, set()).update(first)
        found.append(Pair(joint, leader, followers, ringed))
    return tuple(found)


class _TheVery:
    """A job as a key: that one itself, as to compare equal ones would take longer than what is kept."""

    __slots__ = ("job",)

    def __init__(self, job: Job) -> None:
        self.job = job

    def __hash__(self) -> int:
        return id(self.job)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _TheVery) and other.job is self.job


def drilled_later(job: Job) -> Mapping[Hand, Later]:
    """Return for each part and hand the holes that are drilled through another part, and in which pairs."""
    return _drilled_later(_TheVery(job)) if job.joints else {}


@lru_cache(maxsize=2)
def _drilled_later(key: _TheVery) -> Mapping[Hand, Later]:
    """Kept: every print of every part asks for it."""
    job = key.job
    parts = _parts(job)
    found: dict[Hand, dict[int, tuple[Pair, ...]]] = {}
    for pair in pairs_of(job):
        for hand, number in sorted({h for mate in pair.followers for h in _holes(mate, parts)}):
            of = found.setdefault(hand, {})
            of[number] = (*of.get(number, ()), pair)
    return found


def later_of(job: Job, part: Panel | Tube, opposite: bool) -> Later:
    """Return what :func:`drilled_later` has of one part and hand."""
    return drilled_later(job).get((part.name, opposite and not part.either_hand), {})


def to_mark(job: Job, part: OfHand, opposite: bool) -> OfHand:
    """Return a part as drawn with only the holes that are marked and drilled by its own prints."""
    later = later_of(job, part, opposite)
    return without(part, later) if later else part


def without(part: OfHand, numbers: Iterable[int]) -> OfHand:
    """Return a part without some of its holes; the others keep their numbers."""
    gone = frozenset(numbers)
    if isinstance(part, Tube):
        return replace(part, holes=tuple(h for h in part.holes if h.number not in gone))
    return replace(part, holes=tuple(h for h in part.holes if h.number not in gone))


def gangs_to_mark(job: Job, tubes: Iterable[Tube] | None = None) -> tuple[Gang, ...]:
    """Return the gangs of a job's tubes, or of some, by the holes that are marked on them."""

    later = drilled_later(job)

    def shown(tube: Tube, opposite: bool) -> Tube:
        return without(tube, later.get((tube.name, opposite and not tube.either_hand), ()))

    return gangs_of(tuple(job.tubes if tubes is None else tubes), shown if later else all_holes)


def copies_drilled(pairs: Iterable[Pair], name: str, opposite: bool) -> int:
    """Return how many copies of a follower of one hand the joints of some pairs drill.

    Where a hole is one of either hand's, ``opposite`` is False and both count.
    """
    return sum(
        pair.joint.quantity * sum(m.part == name and (m.opposite or not opposite) for m in pair.followers)
        for pair in pairs
    )


def _any(job: Job) -> bool:
    """Say whether there is any pair at all: most jobs have none, and are asked often."""
    if not job.joints:
        return False
    by_method = job.fitting.method == _METHOD or any(p.method == _METHOD for p in job.every_part)
    return by_method or any(joint.together for joint in job.joints)


def _parts(job: Job) -> dict[str, Part]:
    return {part.name: part for part in job.every_part}


def _roles(job: Job, joint: Joint, parts: Mapping[str, Part]) -> tuple[Mate | None, tuple[Mate, ...]]:
    """Return the part that is drilled first, and those that are to be drilled through it."""
    mates = [mate for mate in joint.mates if mate.holes]
    if len(mates) < 2:
        return None, ()
    if joint.together:
        return mates[0], tuple(mates[1:])
    drilled = [_match_drilled(job, mate, parts) for mate in mates]
    first = drilled.index(False) if False in drilled else 0
    return mates[first], tuple(m for i, m in enumerate(mates) if drilled[i] and i != first)


def _match_drilled(job: Job, mate: Mate, parts: Mapping[str, Part]) -> bool:
    """Say whether a part is drilled through others by its method, or by the job's where it has none.

    What a machine cuts keeps its machine's holes, unless it says otherwise itself.
    """
    part = parts.get(mate.part)
    if part is None:
        return False
    if part.method is not None:
        return part.method == _METHOD
    if isinstance(part, Bought) or job.fitting.method != _METHOD:
        return False
    if isinstance(part, Tube):
        return True
    way = job.way_of(part)
    return any(way.by_hand(hole.dia) for hole in part.holes if hole.number in mate.holes)


def _holes(mate: Mate, parts: Mapping[str, Part]) -> set[_Hole]:
    part = parts.get(mate.part)
    either = isinstance(part, Panel | Tube) and part.either_hand
    return {((mate.part, mate.opposite and not either), number) for number in mate.holes}


def _all_before(holes: Iterable[_Hole], needs: Mapping[_Hole, set[_Hole]]) -> set[_Hole]:
    """Return some holes with all that must be there before them."""
    found: set[_Hole] = set()
    ask = list(holes)
    while ask:
        hole = ask.pop()
        if hole not in found:
            found.add(hole)
            ask += needs.get(hole, ())
    return found
