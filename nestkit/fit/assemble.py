"""From a joint to its parts in place: all holes in one plane, each screw through one hole of each part."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nestkit.fit.assembly import Assembly, Fault, Layer, Loose, Miss, Placement, Plane
from nestkit.fit.laid import Laid, completed
from nestkit.fit.misfits import misfits
from nestkit.fit.placing import SAME, Match, best_placement, placed
from nestkit.fit.planes import as_measured, named, planes_of
from nestkit.job.model import Job
from nestkit.parts.joint import Joint, Mate
from nestkit.parts.tube import Tube

_BENDS = ("cable tie", "hook-and-loop")
"""What goes round corners, so that no patterns need to meet."""


def assemble(job: Job, joint: Joint) -> Assembly:
    """Return a joint with its parts in place, and why it cannot go together where it cannot.

    The first part with holes is the reference; the holes of all run in its order. Layers hold the holes that
    have a partner in every part: all of them, unless there are faults. Where a part's own holes are at fault
    there are no layers. Ties and tapes bend: their parts are laid as they are measured, nothing is matched.
    """
    if joint.fastener.kind in _BENDS:
        return Assembly(
            joint,
            tuple(
                _layer(as_measured(job, mate), Placement(), range(len(mate.holes))) for mate in joint.mates
            ),
        )
    views: list[tuple[Plane, ...]] = []
    loose: list[Loose] = []
    faults: list[Fault] = []
    for index, mate in enumerate(joint.mates):
        if not mate.holes:
            loose.append(_loose(job, mate, len(views)))
            continue
        found = planes_of(job, joint, index)
        if isinstance(found, Fault):
            faults.append(found)
        else:
            views.append(found)
    if faults or not views:
        return Assembly(joint, (), tuple(loose), faults=tuple(faults))
    laid = _laid(views)
    first = laid[0]
    common = [i for i in range(len(first.plane.points)) if all(i in other.partner for other in laid)]
    layers = tuple(_layer(p.plane, p.match.placement, [p.partner[i] for i in common]) for p in laid)
    return Assembly(
        joint,
        layers,
        tuple(loose),
        tuple(miss for other in laid[1:] for miss in _misses(first.plane, other)),
        tuple(misfits(job, joint, laid, layers)),
        any(other.match.symmetric for other in laid[1:]),
    )


def _loose(job: Job, mate: Mate, after: int) -> Loose:
    part = named(job, mate.part)
    length = part.length if isinstance(part, Tube) else part.thickness
    return Loose(part, after, float(length or 0))


def _laid(views: Sequence[tuple[Plane, ...]]) -> tuple[Laid, ...]:
    """Return every part in the way of lying that lets most holes meet best; of equal ones the likelier."""
    ways = (_on(reference, views[1:]) for reference in views[0])
    best = next(ways)
    while not _perfect(best):
        other = next(ways, None)
        if other is None:
            break
        best = other if _better(other, best) else best
    return best


def _on(reference: Plane, others: Sequence[tuple[Plane, ...]]) -> tuple[Laid, ...]:
    own = tuple((i, i) for i in range(len(reference.points)))
    return Laid(reference, Match(Placement(), own, 0.0)), *(_best_view(reference, each) for each in others)


def _best_view(reference: Plane, views: tuple[Plane, ...]) -> Laid:
    best = Laid(views[0], _match(reference, views[0]))
    for plane in views[1:]:
        if not _perfect((best,)):
            other = Laid(plane, _match(reference, plane))
            best = other if _better((other,), (best,)) else best
    return best


def _match(reference: Plane, plane: Plane) -> Match:
    position = plane.mate.position
    if position is None:
        match = best_placement(reference.points, plane.points)
    else:
        match = placed(reference.points, plane.points, Placement(position.turn_deg, position.at))
    return completed(reference.points, plane.points, match)


def _better(one: Sequence[Laid], other: Sequence[Laid]) -> bool:
    pairs, others = (sum(len(p.match.pairs) for p in laid) for laid in (one, other))
    largest, its = (max(p.match.largest for p in laid) for laid in (one, other))
    return pairs > others or (pairs == others and largest < its - SAME)


def _perfect(laid: Sequence[Laid]) -> bool:
    return all(len(p.match.pairs) == len(p.plane.points) and p.match.largest <= SAME for p in laid)


def _layer(plane: Plane, placement: Placement, order: Sequence[int]) -> Layer:
    return Layer(
        plane,
        placement,
        tuple(plane.numbers[i] for i in order),
        tuple(placement(plane.points[i]) for i in order),
        tuple(plane.local[i] for i in order),
        tuple(plane.dias[i] for i in order),
    )


def _misses(reference: Plane, other: Laid) -> Iterator[Miss]:
    """Yield how far off pairs are that are not on one another, then the holes without a partner."""
    mine, its = reference.part.name, other.plane.part.name
    for i, j in other.match.pairs:
        off = other.off(reference, i)
        if abs(off) > SAME:
            of = reference.numbers[i]
            yield Miss(
                its, other.plane.numbers[j], mine, of, round(off.real, 9) + 0.0, round(off.imag, 9) + 0.0
            )
    for number in other.alone():
        yield Miss(its, number, mine, None, None, None)
    for number in other.unmet(reference):
        yield Miss(mine, number, its, None, None, None)
