"""What a tube's template says in words: the part, its holes and drills, how the paper is laid."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from nestkit.drawing.later_words import leaders_said, not_yet_said
from nestkit.drawing.marking_words import how_to_punch
from nestkit.drawing.template_checks import Check
from nestkit.drawing.template_facts import copies_said, in_short, scale_said
from nestkit.drawing.template_holes import HoleRow, hole_rows
from nestkit.drawing.tube_bend import Bend, bend_of
from nestkit.drawing.tube_checks import tube_checks
from nestkit.drawing.tube_lane import flap_of
from nestkit.drawing.tube_piece import Piece, pieces_of
from nestkit.drawing.tube_stack import Stack, stacked
from nestkit.geometry.points import Rect
from nestkit.job.model import Job
from nestkit.job.pairs import later_of, without
from nestkit.parts.tube import Tube, TubeHole, WallMark
from nestkit.stock.section import section_text
from nestkit.trade.cautions import cautions, for_materials
from nestkit.units import Unit, decimal_text, length_text, with_unit

BOTH_WALLS = "Through holes: drill each wall from its own side."
"""A drill that leans misses the far hole (R095); the caution says when one may go right through."""
BOTH_SIDES = "Through holes: drill from both sides."
"""The same of a rod."""


@dataclass(frozen=True, slots=True)
class TubeFacts:
    """The words of a tube's template, as :class:`~nestkit.drawing.template_words.Words` has them.

    ``view`` is the tube as it is drawn: mirrored where that is due, and without what is drilled ``later``
    through another part. ``pieces`` are its papers, each with the length of its flap. ``saw`` and ``lay`` are
    the two halves of ``order``.
    """

    view: Tube
    unit: Unit
    hand: str
    facts: tuple[tuple[str, str], ...]
    holes: tuple[HoleRow, ...]
    places: tuple[str, ...]
    cautions: tuple[str, ...]
    punch: str
    checks: tuple[Check, ...]
    pieces: tuple[tuple[Piece, float], ...]
    saw: str
    lay: str
    later: tuple[WallMark, ...] = ()

    @property
    def title(self) -> str:
        """The tube's name."""
        return self.view.name

    @property
    def face(self) -> str:
        """How the tube lies before whoever marks it."""
        return "END 0 AT YOUR LEFT"

    @property
    def in_short(self) -> str:
        """The least of the facts, in one line."""
        return in_short(dict(self.facts))

    @property
    def order(self) -> str:
        """What is done first, and how the paper is laid."""
        return f"{self.saw} {self.lay}"

    @property
    def footer(self) -> str:
        """The caution of every page."""
        return cautions("footer")[0]

    @property
    def places_from(self) -> str:
        """From where the places of holes are told."""
        if self.view.section.is_round:
            return "from END 0, and degrees from A towards B"
        return "from END 0, and across as the job has it"

    @property
    def drilled(self) -> tuple[WallMark, ...]:
        """All that is punched."""
        return self.view.marks

    @property
    def cut(self) -> frozenset[int]:
        """Holes that are there already: none, as tube is drilled by hand."""
        return frozenset()

    @property
    def stack(self) -> Stack:
        """All pieces under each other."""
        return stacked(self.pieces)

    @property
    def area(self) -> Rect:
        """What must be on paper."""
        return self.stack.area

    def with_places(self) -> TubeFacts:
        """Return the same facts with the place of every mark in words."""
        return replace(self, places=tuple(_place(mark, self) for mark in self.view.marks))


def tube_facts(job: Job, tube: Tube, *, opposite: bool, corrected: bool) -> TubeFacts:
    """Return what the template of one hand of a tube has to say.

    ``corrected`` says that the job's printer scale is taken out of the print.
    """
    whole = tube.mirrored() if opposite else tube
    through = later_of(job, tube, opposite)
    view, later = without(whole, through), tuple(m for m in whole.marks if m.number in through)
    bend = bend_of(job, view)
    pieces = tuple((piece, flap_of(piece, job.unit)) for piece in pieces_of(view, bend, later))
    punch = how_to_punch(tube.material) if view.holes else ""
    both = any(mark.comes_out for mark in view.marks)
    # Of the template cautions the one on scale fits any part; others speak of panels.
    topics = cautions("template")[:1] + (cautions("tube") if view.section.two_walls else ())
    return TubeFacts(
        view=view,
        unit=job.unit,
        hand="OPPOSITE HAND" if opposite else "",
        facts=tuple(_facts(job, tube, bend, opposite=opposite, corrected=corrected)),
        holes=tuple(_rows(whole, job.unit, {n: leaders_said(pairs) for n, pairs in through.items()})),
        places=(),
        cautions=topics + for_materials([tube.material], []),
        punch=f"{punch} {BOTH_SIDES if view.section.kind == 'rod' else BOTH_WALLS}" if both else punch,
        checks=tube_checks(view, job.unit),
        pieces=pieces,
        saw=f"{_saw(view)} {not_yet_said(through)}".strip(),
        lay=_lay(view, bend, any(flap for _, flap in pieces)),
        later=later,
    )


def _facts(job: Job, tube: Tube, bend: Bend, *, opposite: bool, corrected: bool) -> list[tuple[str, str]]:
    facts = [("Job", job.name), ("Part", tube.name)]
    if tube.used_for:
        facts.append(("For", tube.used_for))
    facts.append(("Make", copies_said(tube, opposite)))
    hand = "either: both hands are the same" if tube.either_hand else "as drawn"
    facts.append(("Hand", "opposite hand" if opposite else hand))
    sizes = section_text(tube.section, job.unit).removeprefix(tube.section.kind).strip()
    facts.append(("Material", f"{tube.material}, {tube.section.words} {sizes} {job.unit}"))
    over = " over the long points" if any(tube.mitres) else ""
    facts.append(("Length", f"{with_unit(tube.length, job.unit)}{over}"))
    shown = tube.mirrored() if opposite else tube
    facts += [(f"End {i}", _mitre(shown, i)) for i in (0, 1) if shown.mitres[i] is not None]
    if bend.fact[0]:
        facts.append(bend.fact)
    if tube.revision:
        facts.append(("Revision", tube.revision))
    facts.append(("Unit", "inch" if job.unit == "in" else "mm"))
    facts.append(("Scale", scale_said(job) if corrected else "1:1"))
    if job.date is not None:
        facts.append(("Date", job.date.isoformat()))
    return facts


def _mitre(tube: Tube, end: int) -> str:
    mitre = tube.mitres[end]
    if mitre is None:
        return "square"
    face = None if tube.section.is_round else mitre.long_face
    where = face or f"{decimal_text(mitre.long_deg, 2)} deg"
    return f"mitre {decimal_text(mitre.angle_deg, 2)} deg off square, long at {where}"


def _rows(view: Tube, unit: Unit, later: Mapping[int, str]) -> list[HoleRow]:
    """The table of holes, each with where it is drilled from."""
    of = {hole.number: hole for hole in view.holes}
    rows = []
    for row in hole_rows(view, unit, frozenset(), later):
        hole = of[int(row.numbers.partition(" ")[0])]
        rows.append(replace(row, use=f"{_where(view, hole)}; {row.use}" if row.use else _where(view, hole)))
    return rows


def _where(view: Tube, hole: TubeHole) -> str:
    out = hole.spot.opposite(view.section)
    through = hole.through and view.section.two_walls
    if hole.spot.face is not None:
        return f"{hole.spot.face} and {out.face}" if through else hole.spot.face
    here = f"{decimal_text(hole.spot.at_deg, 2)}"
    return f"{here} and {decimal_text(out.at_deg, 2)} deg" if through else f"{here} deg"


def _saw(view: Tube) -> str:
    if not any(view.mitres):
        return "Saw to length first."
    if view.section.is_round:
        return "Saw square over the long points first, the curved ends last."
    # No strip fits a face that begins behind the long point, unless the mitre is drawn and not yet sawn.
    what = "the mitres" if all(view.mitres) else "the mitre"
    return f"Saw square over the long points and draw {what} first; saw {what} last."


def _lay(view: Tube, bend: Bend, flaps: bool) -> str:
    """How the paper is laid on the tube."""
    if view.section.is_round:
        return "Cut out, wrap round: the edges meet, END 0 line on end 0. Tape it."
    end = "END 0 line on the mitre drawn" if view.mitres[0] else "END 0 line on end 0"
    if not any(True for _ in view.section.faces[1:]) or view.paper == "strips":
        fold = " Fold flaps down over the edge." if flaps else ""
        return f"Cut out on the edge lines.{fold} Lay each on its face between both edges, {end}. Tape it."
    if view.section.kind == "angle":
        return f"Cut out, fold along the dashed line over the heel, {end}. Tape it."
    if view.paper == "corner":
        return f"Cut out, fold along the dashed line over the corner, {end}. Tape it."
    drift = "" if bend.sure else " Corner radius not measured: the faces drift. Measure it."
    return f"Cut out, fold along the dashed lines right round: the edges meet, {end}.{drift}"


def _place(mark: WallMark, facts: TubeFacts) -> str:
    spot, unit = mark.spot, facts.unit
    at = length_text(spot.at, unit)
    if spot.face is None:
        return f"{mark.number}: {at}, {decimal_text(spot.at_deg, 2)} deg"
    return f"{mark.number} {spot.face}: {at}, {length_text(spot.across, unit)}"
