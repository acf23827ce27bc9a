"""Whether there are as many copies of a part as its joints use."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from nestkit.fit.assembly import Assembly
from nestkit.fit.case import Case
from nestkit.fit.result import Conflict
from nestkit.job.model import Job, Part
from nestkit.job.shown import shown
from nestkit.parts.bought import Bought
from nestkit.text import counted

_Hole = tuple[str, bool, int]
"""A part, whether it is the opposite hand, and the number of a hole; 0 for a part that is taped."""

_REMEDY = "raise its quantity, or lower the quantity of the joint"


def too_few_copies(job: Job, cases: Sequence[Case]) -> Iterator[Conflict]:
    """A hole takes one fastener: as many copies of a part are made as the joints of any hole of it need.

    Spares do not count, nor copies of the other hand, unless the part is either hand. The last joint that
    uses the hole is the one named.
    """
    parts = {part.name: part for part in job.every_part}
    last, uses = _uses(parts, cases)
    most: dict[tuple[str, bool], tuple[int, str]] = {}
    for (name, opposite, number), count in uses.items():
        if count > most.get((name, opposite), (0, ""))[0]:
            most[name, opposite] = count, last[name, opposite, number]
    for (name, opposite), (count, joint) in most.items():
        have = _made(parts[name], opposite)
        if have < count:
            hand = " of the opposite hand" if opposite else ""
            there = f"{counted(have, 'copy') if have == 1 else f'{have} copies'}{hand}"
            text = f"the joints use {count} of {shown(name)}, there {'is' if have == 1 else 'are'} {there}"
            yield Conflict(joint, False, text, _REMEDY)
    yield from _too_few_spacers(parts, cases)
    yield from _hands_left_out(parts, cases)


def _hands_left_out(parts: dict[str, Part], cases: Sequence[Case]) -> Iterator[Conflict]:
    """A part that is made in both hands is joined in both: a joint counts for one hand alone."""
    named: dict[str, str] = {}
    other: set[str] = set()
    for case in cases:
        for mate in case.assembly.joint.mates:
            part = parts.get(mate.part)
            if part is None or isinstance(part, Bought) or not mate.holes:
                continue
            if part.opposite_hand and not part.either_hand:
                named.setdefault(part.name, case.name)
            if mate.opposite:
                other.add(part.name)
    for name, joint in named.items():
        if name not in other:
            text = f"the opposite hand of {shown(name)} is made too, and is in no joint"
            yield Conflict(joint, False, text, f"write one more joint, with opposite_hand = [{shown(name)}]")


def _uses(parts: dict[str, Part], cases: Sequence[Case]) -> tuple[dict[_Hole, str], Counter[_Hole]]:
    """Return the last joint that uses each hole, and how often it is used."""
    uses: Counter[_Hole] = Counter()
    last: dict[_Hole, str] = {}
    for case in cases:
        joint = case.assembly.joint
        tape = joint.fastener.kind == "hook-and-loop"
        for mate in joint.mates:
            if mate.part not in parts or not (mate.holes or tape):
                continue
            opposite = mate.opposite and not _either(parts[mate.part])
            for number in mate.holes or (0,):
                last[mate.part, opposite, number] = joint.name
                uses[mate.part, opposite, number] += joint.quantity
    return last, uses


def _too_few_spacers(parts: dict[str, Part], cases: Sequence[Case]) -> Iterator[Conflict]:
    uses: Counter[str] = Counter()
    last: dict[str, str] = {}
    for case in cases:
        for name in _spacers(case.assembly):
            uses[name] += case.screws * case.assembly.joint.quantity
            last[name] = case.name
    for name, count in uses.items():
        have = _made(parts[name], False) if name in parts else 0
        if have < count:
            text = (
                f"the joints use {count} of the spacer {shown(name)}, one over each screw; there are {have}"
            )
            yield Conflict(last[name], False, text, "raise its quantity")


def _spacers(assembly: Assembly) -> list[str]:
    if assembly.joint.fastener.kind == "hook-and-loop":
        return []
    return [mate.part for mate in assembly.joint.mates if not mate.holes]


def _either(part: Part) -> bool:
    return not isinstance(part, Bought) and part.either_hand


def _made(part: Part, opposite: bool) -> int:
    """Return how many copies of a hand are made, spares left out."""
    if isinstance(part, Bought):
        return part.quantity
    return part.opposite_hand if opposite else part.as_drawn
