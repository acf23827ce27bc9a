"""Why the parts of a joint do not meet as drawn, in words with numbers, and what to do."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from nestkit.fit.assembly import Fault, Layer
from nestkit.fit.laid import Laid
from nestkit.fit.meets import NOTHING, all_pass, plays_of
from nestkit.fit.misfit_words import (
    apart_fault,
    both,
    count_fault,
    labels,
    mirrored_fault,
    position_fault,
    small_fault,
    unmet_fault,
)
from nestkit.fit.placing import WITHIN, Match, best_placement, refined
from nestkit.job.model import Job
from nestkit.parts.joint import Joint


def misfits(job: Job, joint: Joint, laid: Sequence[Laid], layers: Sequence[Layer]) -> Iterator[Fault]:
    """Yield what keeps a joint from going together when every part is made exactly as drawn."""
    names = labels(joint, [part.plane.part.name for part in laid])
    for name, part in zip(names, laid, strict=True):
        small = [i for i, dia in enumerate(part.plane.dias) if dia < joint.fastener.dia - NOTHING]
        if small and not part.plane.holds_thread:
            yield small_fault(job, joint, name, part.plane, small)
    patterns = list(_patterns(job, joint, laid, names))
    yield from patterns
    if not patterns and not _together(joint, laid, layers):
        yield apart_fault(job, joint, laid, layers, names)


def _patterns(job: Job, joint: Joint, laid: Sequence[Laid], names: Sequence[str]) -> Iterator[Fault]:
    """Yield, part by part, why its pattern is not that of the first part."""
    first = laid[0]
    over = []
    for name, part in zip(names[1:], laid[1:], strict=True):
        mine, its = len(first.plane.points), len(part.plane.points)
        if mine != its:
            yield count_fault((names[0], first), (name, part), fits(joint, first, part, part.match))
        elif fits(joint, first, part, part.match):
            continue
        elif _fits_mirrored(joint, first, part):
            over.append((name, part))
        elif part.plane.mate.position is not None and fits(joint, first, part, _free(first, part)):
            if joint.held or part.match.largest > WITHIN or len(part.match.pairs) < mine:
                yield position_fault(job, (names[0], first), (name, part), _free(first, part))
        elif len(part.match.pairs) < mine:
            yield unmet_fault(job, (names[0], first), (name, part))
    if len(over) == len(laid) - 1 > 1:
        yield mirrored_fault(job, both(names[1:]), (names[0], first))
    else:
        for name, part in over:
            yield mirrored_fault(job, names[0], (name, part))


def fits(joint: Joint, first: Laid, part: Laid, match: Match) -> bool:
    """Say whether all holes that can have a partner have one, near enough for the screws."""
    if len(match.pairs) < min(len(first.plane.points), len(part.plane.points)):
        return False
    play, own = (plays_of(p.plane, p.plane.dias, joint.fastener.dia) for p in (first, part))
    at, there = first.plane.points, part.plane.points
    return all(at[i].to(match.placement(there[j])) <= play[i] + own[j] + NOTHING for i, j in match.pairs)


def _free(first: Laid, part: Laid) -> Match:
    return best_placement(first.plane.points, part.plane.points)


def _fits_mirrored(joint: Joint, first: Laid, part: Laid) -> bool:
    """Say whether a pattern meets as its mirror image, where it does not meet as it is, wherever it lies."""
    match = best_placement(first.plane.points, part.plane.points, within=WITHIN, mirrored=True)
    return fits(joint, first, part, match) and not fits(joint, first, part, _free(first, part))


def _together(joint: Joint, laid: Sequence[Laid], layers: Sequence[Layer]) -> bool:
    """Say whether all screws pass; parts that may move are first laid as well as they can be."""
    if joint.held:
        return all_pass(layers, joint.fastener.dia, held=True)
    eased = [layers[0]]
    first = laid[0].plane.points
    for part, layer in zip(laid[1:], layers[1:], strict=True):
        if part.plane.mate.position is None:
            eased.append(layer)
            continue
        best = refined(first, part.plane.points, part.match.pairs).placement
        points = tuple(best(part.plane.points[part.partner[i]]) for i in sorted(part.partner))
        eased.append(replace(layer, placement=best, points=points))
    return all_pass(eased, joint.fastener.dia, held=False)
