"""Holes that leave a tube, meet one another, or do not match a twin's: errors by plain measuring."""

from __future__ import annotations

from collections.abc import Iterator

from nestkit.checks.findings import NOTHING, Finding, holes_said, listed, measured
from nestkit.geometry.section import Face
from nestkit.job.model import Job
from nestkit.parts.bores import Crossing, beside, crossings, over_ends, overlapping
from nestkit.parts.tube import Tube, TubeHole, Twin, WallMark
from nestkit.text import counted
from nestkit.units import Unit, with_unit


def holes_leave_face(job: Job) -> Iterator[Finding]:
    """A hole lies wholly on its face."""
    for tube in job.tubes:
        wide, over, worst = [], [], 0.0
        for mark in tube.marks:
            room = beside(tube.section, mark.spot)
            left = room.least - mark.drill.dia / 2
            if room.near + room.far <= mark.drill.dia + NOTHING:
                wide.append(mark)
            elif left <= NOTHING:
                over.append(mark)
                worst = min(worst, left)
        said = []
        if wide:
            said.append(_wide_said(tube, wide, job.unit))
        if over:
            far = f", by up to {with_unit(-worst, job.unit)}" if worst < -NOTHING else ""
            said.append(f"{_reaching(over)} over the edge of {_faces_said(tube, over)}{far}")
        if said:
            yield measured(
                tube.place,
                "; ".join(said),
                "move the hole to the middle of its face, or make it smaller",
            )


def _wide_said(tube: Tube, marks: list[WallMark], unit: Unit) -> str:
    where = _faces_said(tube, marks)
    width = min(room.near + room.far for room in (beside(tube.section, m.spot) for m in marks))
    verb = "is" if len({m.number for m in marks}) == 1 else "are"
    return f"{holes_said(marks)} {verb} as wide as {where} ({with_unit(width, unit)}) or wider"


def _reaching(marks: list[WallMark]) -> str:
    return f"{holes_said(marks)} {'reaches' if len({m.number for m in marks}) == 1 else 'reach'}"


def _faces_said(tube: Tube, marks: list[WallMark]) -> str:
    """Return ``face A`` or ``faces A, C``; ``the tube`` where it is round."""
    letters: dict[Face, None] = {}
    for face in tube.section.faces:
        if any(mark.spot.face == face for mark in marks):
            letters[face] = None
    if not letters:
        return f"the {tube.section.words}"
    return f"face{'s' * (len(letters) > 1)} {', '.join(letters)}"


def holes_leave_end(job: Job) -> Iterator[Finding]:
    """A hole lies wholly between the ends of its tube, mitred or square."""
    for tube in job.tubes:
        said = []
        room = [(over_ends(tube, mark), mark) for mark in tube.marks]
        for end in (0, 1):
            out = [(left[end], mark) for left, mark in room if left[end] <= NOTHING]
            if out:
                worst = -min(left for left, _ in out)
                far = f", by up to {with_unit(worst, job.unit)}" if worst > NOTHING else ""
                mitred = " the mitre of" if tube.mitres[end] is not None else ""
                said.append(f"{_reaching([mark for _, mark in out])} over{mitred} end {end}{far}")
        if said:
            yield measured(
                tube.place, "; ".join(said), "move the hole inwards, or look from which end it is measured"
            )


def holes_of_face_meet(job: Job) -> Iterator[Finding]:
    """Holes of one wall do not run into each other, nor do they where two walls share a corner."""
    for tube in job.tubes:
        pairs = [f"{a.number} and {b.number}{_where(a)}{_at_one_place(a, b)}" for a, b in _overlaps(tube)] + [
            f"{c.a.number} and {c.b.number} in their shared corner" for c in crossings(tube) if not c.inside
        ]
        if pairs:
            yield measured(
                tube.place,
                f"holes run into each other: {listed(pairs)}",
                "move one, leave out the one that is there twice, or make a slot of them",
            )


def _overlaps(tube: Tube) -> Iterator[tuple[WallMark, WallMark]]:
    """Yield each pair of holes once, on the first face where it meets."""
    told: set[tuple[int, int]] = set()
    every = tube.marks
    for face in tube.section.faces or (None,):
        marks = tuple(mark for mark in every if mark.spot.face == face)
        for a, b in sorted(overlapping(tube.section, marks), key=lambda p: (p[0].number, p[1].number)):
            if (a.number, b.number) not in told:
                told.add((a.number, b.number))
                yield a, b


def _where(mark: WallMark) -> str:
    return f" on face {mark.spot.face}" if mark.spot.face is not None else ""


def _at_one_place(a: WallMark, b: WallMark) -> str:
    return " at one place" if a.spot == b.spot else ""


def holes_cross_inside(job: Job) -> Iterator[Finding]:
    """Screws through both walls of a tube do not meet inside it."""
    for tube in job.tubes:
        touching = {(a.number, b.number) for a, b in _overlaps(tube)}
        found = [c for c in crossings(tube) if c.inside and (c.a.number, c.b.number) not in touching]
        if found:
            worst = min(found, key=lambda c: (c.has - c.wants, c.a.number, c.b.number))
            pairs = [f"{c.a.number} and {c.b.number}" for c in found]
            yield measured(
                tube.place,
                f"holes {listed(pairs)} cross inside: {_crossing_said(worst, job.unit)}",
                "move one row along the tube by at least "
                f"{with_unit(worst.wants - worst.has, job.unit)}, or let one of them through one wall only",
            )


def _crossing_said(crossing: Crossing, unit: Unit) -> str:
    a, b = crossing.a.number, crossing.b.number
    along = (
        f"along the tube {a} and {b} are {with_unit(crossing.has, unit)} apart"
        if crossing.has > NOTHING
        else f"{a} and {b} lie at one place along the tube"
    )
    return f"{along}, so a screw through one runs into the screw through the other"


def twins_differ(job: Job) -> Iterator[Finding]:
    """A row that must match another tube's has as many holes, at the same places from end 0."""
    tubes = {tube.name: tube for tube in job.tubes}
    for tube in job.tubes:
        said = []
        for twin in tube.twins:
            other = tubes.get(twin.tube)
            unlike = "" if other is None else _unlike(tube, other, twin, job.unit)
            if unlike:
                said.append(f'"{twin.group}" does not match "{twin.tube} / {twin.of_group}": {unlike}')
        if said:
            yield measured(
                tube.place,
                listed(said),
                "give both rows the same places from end 0, or leave out matches where they need not meet",
            )


def _unlike(tube: Tube, other: Tube, twin: Twin, unit: Unit) -> str:
    mine, theirs = _row(tube, twin.group), _row(other, twin.of_group)
    if len(mine) != len(theirs):
        return f"it has {counted(len(mine), 'hole')}, the other {len(theirs)}"
    for own, its in zip(mine, theirs, strict=True):
        if own.spot.at != its.spot.at:
            here, there = with_unit(own.spot.at, unit), with_unit(its.spot.at, unit)
            return f"hole {own.number} is at {here} from end 0, hole {its.number} there at {there}"
    return ""


def _row(tube: Tube, group: str) -> list[TubeHole]:
    return [hole for hole in tube.holes if hole.group == group]
