"""What a tube's card asks for: the steps of one tube and hand in the order of the bench, sizes to measure."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction

from nestkit.drawing.bench_drills import Step, drill_steps
from nestkit.drawing.bench_steps import not_yet
from nestkit.drawing.marking_words import how_to_punch
from nestkit.drawing.rulers import as_read
from nestkit.drawing.tube_facts import TubeFacts
from nestkit.drawing.tube_marking import in_gangs
from nestkit.estimate.cut_words import mitre_text
from nestkit.geometry.mitre import Mitre
from nestkit.job.model import Job
from nestkit.job.pairs import later_of
from nestkit.parts.gangs import Gang
from nestkit.parts.tube import Tube, TubeHole
from nestkit.text import counted, number_list
from nestkit.units import Unit, decimal_text, with_unit

_BY_HAND = re.compile(r"\b(hack|hand) ?saw\b|\bby hand\b")
_POWERED = re.compile(r"power|machine|electric|cordless|battery")


def tube_copies(tube: Tube, opposite: bool) -> int:
    """Return how many of one hand are made, spares included."""
    return tube.opposite_hand if opposite else tube.as_drawn + tube.spare + tube.spare_if_room


def tube_sizes(facts: TubeFacts) -> tuple[tuple[str, str], ...]:
    """Return what is measured of a finished tube, with its nominal size.

    The length, of a mitred one also along its shortest side; then what proves the holes: of a mitred one not
    from its end, which is no longer square.
    """
    view, unit = facts.view, facts.unit
    found = [("Over long points" if any(view.mitres) else "Length", with_unit(view.length, unit))]
    if any(view.mitres):
        found.append(("Shortest side", with_unit(view.least_length, unit)))
    for check in (c for c in facts.checks if not (any(view.mitres) and c.between.startswith("END"))):
        name = check.between if check.between.startswith("END") else f"Hole {check.between}"
        found.append((name, with_unit(check.length, unit)))
    return tuple(found)


def sawn_by_hand(job: Job, tube: Tube) -> bool:
    """Say whether the way in which a tube is cut is named as a saw that the hand alone drives."""
    group = job.bar_group_of(tube)
    if group is None or group.way is None:
        return False
    name = re.sub(r"[_-]", " ", group.way.name.casefold())
    return _BY_HAND.search(name) is not None and _POWERED.search(name) is None


def tube_steps(
    job: Job, tube: Tube, facts: TubeFacts, opposite: bool, gangs: Sequence[Gang]
) -> tuple[Step, ...]:
    """Return the steps of one tube and hand, from the stick to the finished part.

    The mitres come last: a square end is easier to clamp, and sizes count from the long point. ``gangs``
    are those of the job, by which the marking-out numbers them.
    """
    by_hand = sawn_by_hand(job, tube)
    warning = not_yet(later_of(job, tube, opposite), tube, opposite)
    steps = [*_sawn(facts, by_hand), *warning, *_marked(tube, facts, opposite, gangs)]
    if facts.view.holes:
        steps += [*drill_steps(facts.view.holes, tube.material, job.unit, _told(facts.view))]
        hollow = tube.section.kind in {"tube", "round"}
        steps.append(Step("Deburr every hole, inside too." if hollow else "Deburr every hole, both sides."))
    if any(facts.view.mitres):
        what = "mitres last, beside their lines" if all(facts.view.mitres) else "mitre last, beside its line"
        steps.append(Step(f"Saw the {what}. Deburr.", signed_off=not by_hand))
    many = tube_copies(tube, opposite) > 1
    if many:
        doing = "drilling" if facts.view.holes else "finishing"
        steps.append(Step(f"Try the first one on the machine before {doing} the rest.", signature=True))
    steps.append(Step("Put its label on each." if many else "Put its label on."))
    return tuple(steps)


def _sawn(facts: TubeFacts, by_hand: bool) -> Iterator[Step]:
    view = facts.view
    long = with_unit(view.length, facts.unit)
    square, over = (" square", " over the long points") if any(view.mitres) else ("", "")
    yield Step(
        f"Saw{square} to {long}{over}, from the stick that the cut plan names. Mark ONE length, X the waste, "
        "saw beside the line.",
        signed_off=not by_hand,
    )
    hollow = " inside and out" if view.section.kind in {"tube", "round"} else ""
    yield Step(f"Deburr both ends{hollow}. Measure the length, write it in.")


def _marked(tube: Tube, facts: TubeFacts, opposite: bool, gangs: Sequence[Gang]) -> Iterator[Step]:
    """All up to the first drill: by the template, or by a rule and the marking-out."""
    view = facts.view
    line_a = "draw line A along the top" if view.section.is_round else "A on the face that is up"
    yield Step(f"Write 0 on the end at your left, {line_a}.")
    if facts.later and not view.holes and not any(view.mitres):
        return
    together = in_gangs(tube, opposite, gangs)
    if together:
        yield Step(f"{' '.join(together)} See the marking-out.")
    table = f" Or use the {'' if together else 'marking-out '}table." if view.holes else ""
    mitres = [Step(" ".join(_mitres(view, facts.unit)))] if any(view.mitres) else []
    if view.section.is_round or not view.holes:
        yield Step(f"Template: measure both rulers, lay it as it says.{table}")
        yield from mitres
    else:
        # On a square end no strip could be laid on a face that begins behind the long point.
        yield from mitres
        how = "to that line" if mitres else "as it says"
        yield Step(f"Template: measure both rulers, lay it {how}.{table}")
    if not view.holes:
        return
    which = "hole" if len(view.holes) == 1 else "holes"
    yield Step(f"Mark {which} {number_list(h.number for h in view.holes)}. {how_to_punch(tube.material)}")
    if facts.checks:
        reads = ". ".join(
            f"{check.between}: {as_read(Fraction(check.length), facts.unit)} {facts.unit}"
            for check in facts.checks
        )
        # How far it may be out depends on how it was marked: that stands on the template and in the table.
        yield Step(f"Check {reads}. Out by more than template or table accepts: do not drill.")


def _told(view: Tube) -> Callable[[Sequence[int]], str]:
    """Return what says of holes, by their numbers, from which sides they are drilled."""
    of = {hole.number: hole for hole in view.holes}

    def said(numbers: Sequence[int]) -> str:
        sides: dict[str, list[int]] = {}
        for number in numbers:
            sides.setdefault(_sides(view, of[number]), []).append(number)
        told = "; ".join(f"{number_list(some)} {side}" for side, some in sides.items())
        return f"{counted(len(numbers), 'hole')}: {told}"

    return said


def _sides(view: Tube, hole: TubeHole) -> str:
    """Say from where a hole is drilled: ``from A``, and through two walls ``from A and from C``."""
    spots = [hole.spot]
    if hole.through and view.section.two_walls:
        spots.append(hole.spot.opposite(view.section))
    return " and ".join(f"from {spot.face or f'{decimal_text(spot.at_deg, 2)}°'}" for spot in spots)


def _mitres(view: Tube, unit: Unit) -> Iterator[str]:
    """Yield how the mitres are drawn, and how far each falls back, for whoever has no protractor."""
    what = "mitres" if all(view.mitres) else "mitre"
    by = "by the template" if view.section.is_round or not view.holes else "over all faces"
    yield f"Draw the {what} {by}, the long point at the sawn end."
    for end, mitre in enumerate(view.mitres):
        if mitre is not None:
            back = with_unit(_back(view, mitre), unit)
            yield f"End {end}: {mitre_text(mitre, view)}, short side {back} behind."


def _back(view: Tube, mitre: Mitre) -> float:
    """Return how far the short side of an end lies behind its long point, in mm."""
    section = view.section
    if section.is_round:
        return mitre.slope * float(section.a)
    return max(mitre.behind(section, float(y), float(z)) for y, z in section.corners)
