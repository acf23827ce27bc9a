"""Sentences about patterns of holes that do not meet, and their remedies."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import combinations

from nestkit.fit.assembly import Fault, Layer, Plane
from nestkit.fit.laid import Laid
from nestkit.fit.meets import NOTHING, plays_of
from nestkit.fit.placing import EXACT, FAR, SAME, Match, best_placement
from nestkit.job.model import Job, Part
from nestkit.job.shown import shown
from nestkit.parts.bought import Bought
from nestkit.parts.joint import Joint
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube
from nestkit.text import counted, number_list
from nestkit.units import Unit, decimal_text, length_text, with_unit

Said = tuple[str, Laid]
"""A part with the words for it."""

_MOST = 3
"""Parts or groups that a remedy spells out at most."""


def labels(joint: Joint, names: Sequence[str]) -> list[str]:
    """Return the words for each part: its name, and its place from the heads where it is there twice."""
    holed = [i + 1 for i, mate in enumerate(joint.mates) if mate.holes]
    return [
        shown(name) if names.count(name) == 1 else f"{shown(name)} (part {place} from the heads)"
        for name, place in zip(names, holed, strict=True)
    ]


def both(names: Sequence[str]) -> str:
    """Return names in one breath: ``a, b and c``."""
    return f"{', '.join(names[:-1])} and {names[-1]}"


def holes(numbers: Sequence[int]) -> str:
    """Return ``hole 3`` or ``holes 1 to 4, 7``."""
    return f"{'hole' if len(numbers) == 1 else 'holes'} {number_list(numbers)}"


def small_fault(job: Job, joint: Joint, name: str, plane: Plane, small: Sequence[int]) -> Fault:
    """Say that a hole is smaller than what must pass it; ``small`` are places in the plane."""
    thing = joint.fastener
    least = min(plane.dias[i] for i in small)
    one = len(small) == 1
    return Fault(
        f"{holes([plane.numbers[i] for i in small])} of {name} {'is' if one else 'are'} "
        f"{with_unit(least, job.unit)} wide, and the {thing.kind} {with_unit(thing.dia, job.unit)}: "
        "it does not pass",
        f"make {'the hole' if one else 'the holes'} larger, or take a thinner {thing.kind}",
    )


def count_fault(first: Said, other: Said, meets: bool) -> Fault:
    """Say that two parts have unlike numbers of holes, and name those that are meant where that is clear."""
    more, fewer = sorted((first, other), key=lambda said: -len(said[1].plane.points))
    wanted, plane = len(fewer[1].plane.points), more[1].plane
    text = f"{more[0]} has {counted(len(more[1].plane.points), 'hole')} here, {fewer[0]} {wanted}"
    if not meets:
        some = _entry(plane, plane.numbers[:wanted])
        return Fault(
            f"{text}: each screw needs one hole of each part",
            f"name the {wanted} holes that are meant, as {some}",
        )
    side = 1 if more is other else 0
    met = sorted(pair[side] for pair in other[1].match.pairs)
    left = [n for i, n in enumerate(plane.numbers) if i not in met]
    return Fault(
        f"{text}: {holes(left)} of {more[0]} {'has' if len(left) == 1 else 'have'} no partner",
        f"name {'the one that is' if wanted == 1 else f'the {wanted} that are'} meant, "
        f"as {_entry(plane, [plane.numbers[i] for i in met])}",
    )


def unmet_fault(job: Job, first: Said, other: Said) -> Fault:
    """Say which holes have no partner though both parts have as many."""
    mine, its = other[1].unmet(first[1].plane), other[1].alone()
    count = len(first[1].plane.points)
    text = (
        f"{count - len(mine)} of {count} holes of {other[0]} come within "
        f"{with_unit(FAR, job.unit)} of those of {first[0]}"
    )
    if 2 * len(mine) > count:
        return Fault(
            f"the two patterns are not alike: at best {text}", "look whether the right holes are named"
        )
    return Fault(
        f"only {text}: {holes(mine)} of {first[0]} and {holes(its)} of {other[0]} have no partner",
        "mend their places, or name the holes that are meant",
    )


def mirrored_fault(job: Job, first: str, other: Said) -> Fault:
    """Say that a part's pattern is the mirror image of what it should be."""
    name, laid = other
    return Fault(
        f"the holes of {name} meet those of {first} only as their mirror image",
        "; or ".join(_other_sides(job, laid.plane)),
    )


def position_fault(job: Job, first: Said, other: Said, free: Match) -> Fault:
    """Say how far off the holes are where the joint puts a part, and where they would meet."""
    plane, match = other[1].plane, other[1].match
    text = f"at its position {len(match.pairs)} of {len(plane.points)} holes of {other[0]} find partners"
    if len(match.pairs) == len(plane.points):
        i = max(other[1].partner, key=lambda i: abs(other[1].off(first[1].plane, i)))
        text = f"at its position {_lies(job.unit, first, other, i)} {_seen(first)}"
    at = ", ".join(f'"{length_text(v, job.unit)}"' for v in free.placement.move)
    turn = f", turn_deg = {decimal_text(free.placement.turn_deg, 3)}" if free.placement.turn_deg else ""
    return Fault(text, f"leave its position out, or write at = [{at}]{turn}")


def apart_fault(
    job: Job, joint: Joint, laid: Sequence[Laid], layers: Sequence[Layer], names: Sequence[str]
) -> Fault:
    """Say which holes are too far off with the parts laid as well as they can be, and what would help."""
    bad = sorted(_too_far(joint, layers), key=lambda far: (-far[0], *far[1:]))
    if not bad:
        return Fault(
            f"any two of {both(list(names))} meet, but no place suits the screws in all of them",
            "mend the places, or make the holes larger",
        )
    excess, a, b, screw = bad[0]
    one, other = layers[a], layers[b]
    off = complex(*other.points[screw]) - complex(*one.points[screw])
    room = abs(off) - excess
    text = (
        f"hole {other.numbers[screw]} of {names[b]} is {_direction(off, job.unit)} for hole "
        f"{one.numbers[screw]} of {names[a]} {_seen((names[0], laid[0]))}"
    )
    takes = f"the holes take up {with_unit(room, job.unit) if room > NOTHING else 'nothing'}"
    odd = _odd_ones(job.unit, (names[0], laid[0]), (names[b], laid[b])) if a == 0 and _found(laid[b]) else ""
    more = sorted({other.numbers[s] for _, c, d, s in bad if (c, d) == (a, b)} - {other.numbers[screw]})
    if odd:
        text = (
            f"{odd}; laid as well as they can be, they are {with_unit(abs(off), job.unit)} off, and {takes}"
        )
    else:
        on = f" on {names[0]}" if a else ""
        laid_so = f"laid as well as they can be{on}, " if _found(laid[b]) else "at its position "
        text = f"{laid_so}{text}, and {takes}"
        if more:
            text += f"; {holes(more)} {'is' if len(more) == 1 else 'are'} too far off as well"
    return Fault(text, f"mend the places{_wider(excess, one, other, job.unit)}")


def _found(laid: Laid) -> bool:
    return laid.plane.mate.position is None


def _too_far(joint: Joint, layers: Sequence[Layer]) -> Iterator[tuple[float, int, int, int]]:
    """Yield how much too far off holes of two parts are, the two parts, and the screw."""
    plays = [plays_of(layer.plane, layer.dias, joint.fastener.dia) for layer in layers]
    for a, b in combinations(range(len(layers)), 2):
        for s, (p, q) in enumerate(zip(layers[a].points, layers[b].points, strict=True)):
            excess = p.to(q) - plays[a][s] - plays[b][s]
            if excess > NOTHING:
                # Rounded, so that of equal ones the first parts and screws come first.
                yield round(excess, 6), a, b, s


def _wider(excess: float, one: Layer, other: Layer, unit: Unit) -> str:
    clear = [not layer.plane.holds_thread for layer in (one, other)]
    if not any(clear):
        return ", or let one of the two have clearance holes"
    step = 25.4 / 1000 if unit == "in" else 0.1
    more = math.ceil(excess * (1 if all(clear) else 2) / step - 1e-6) * step
    which = "in both" if all(clear) else "in the one that does not hold the screw"
    return f", or make the holes {with_unit(more, unit)} wider {which}" if more < 3 else ""


def _odd_ones(unit: Unit, first: Said, other: Said) -> str:
    """Say which holes are off where most of them meet exactly; empty where most do not."""
    a, b = first[1].plane, other[1].plane
    match = best_placement(a.points, b.points, within=EXACT)
    left = sorted(set(other[1].partner.items()) - set(match.pairs))
    if len(match.pairs) < 3 or len(left) != len(a.points) - len(match.pairs) or 4 * len(left) > len(a.points):
        return ""
    laid = Laid(b, Match(match.placement, tuple(sorted((*match.pairs, *left))), 0.0))
    said = ", ".join(_lies(unit, first, (other[0], laid), i) for i, _ in left[:_MOST])
    return f"where the others meet, {said} {_seen(first)}"


def _lies(unit: Unit, first: Said, other: Said, i: int) -> str:
    plane, laid = first[1].plane, other[1]
    return (
        f"hole {laid.plane.numbers[laid.partner[i]]} of {other[0]} is "
        f"{_direction(laid.off(plane, i), unit)} for hole {plane.numbers[i]} of {first[0]}"
    )


def _direction(off: complex, unit: Unit) -> str:
    """Return how far and which way, in words: ``1 mm too far right and 0.2 mm too far up``."""
    said = []
    if abs(off.real) > SAME:
        said.append(f"{with_unit(abs(off.real), unit)} too far {'right' if off.real > 0 else 'left'}")
    if abs(off.imag) > SAME:
        said.append(f"{with_unit(abs(off.imag), unit)} too far {'up' if off.imag > 0 else 'down'}")
    return " and ".join(said) or f"{with_unit(abs(off), unit)} away"


def _seen(first: Said) -> str:
    """Say which way round the first part is looked at, for right and up."""
    name, laid = first
    plane = laid.plane
    if isinstance(plane.part, Tube):
        return f"(seen from the heads, end 0 of {name} at the {'left' if plane.axes[0].x > 0 else 'right'})"
    return f"(seen from the heads, {name} turned over)" if plane.mirrored else f"(as {name} is drawn)"


def _entry(plane: Plane, numbers: Sequence[int]) -> str:
    """Return how a joint names holes of a part, group by group."""
    groups: dict[str, list[int]] = defaultdict(list)
    for hole in plane.part.holes:
        if hole.number in numbers:
            groups[hole.group].append(hole.number)
    return ", ".join(
        f'"{plane.part.name} / {group} : {",".join(map(str, some))}"' for group, some in groups.items()
    )


def _other_sides(job: Job, plane: Plane) -> Iterator[str]:
    """Yield what gives a part the other way round."""
    part, mate = plane.part, plane.mate
    name = shown(part.name)
    if not isinstance(part, Bought):
        if mate.opposite:
            yield f"leave {name} out of opposite_hand"
        elif _drawn(job, part).opposite_hand:
            yield f"write opposite_hand = [{name}] in the joint"
        else:
            yield f"make its opposite hand, and write opposite_hand = [{name}] in the joint"
    if mate.turned_over:
        yield f"leave {name} out of turned_over"
    elif not isinstance(part, Tube):
        yield f"write turned_over = [{name}] if its back looks to the heads"
    if isinstance(part, Panel) and part.faces == "differ" and not mate.turned_over:
        yield 'faces = "alike" in the panel if it may lie either way'


def _drawn(job: Job, part: Part) -> Panel | Tube:
    return next(p for p in job.parts if p.name == part.name)
