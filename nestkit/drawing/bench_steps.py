"""What a bench card asks for: the steps of one part and hand in the order of the bench, sizes to measure."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from nestkit.drawing.bench_drills import Step, drill_steps, far_pair, tap_steps
from nestkit.drawing.later_words import do_not_drill_said
from nestkit.drawing.marking_out import drilled
from nestkit.drawing.marking_words import how_to_punch
from nestkit.drawing.rulers import as_read
from nestkit.geometry.distances import boundary
from nestkit.geometry.pieces import Bow
from nestkit.geometry.points import Point
from nestkit.geometry.reach import sharp_corners
from nestkit.job.model import Job
from nestkit.job.pairs import Later, later_of, without
from nestkit.parts.holes import Hole
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube
from nestkit.stock.ways import MACHINES
from nestkit.text import counted, number_list
from nestkit.trade.rules import rule
from nestkit.units import Unit, length_text, sides_text, with_unit

_LONGEST = 60
"""Letters to write that a step repeats."""
_CORNER_RULE = "R104"
_CORNER_RADIUS = 13.0
"""An inner curve up to this radius is a corner to drill; a wider one is followed with the saw."""


def copies(panel: Panel, opposite: bool) -> int:
    """Return how many of one hand are made, spares included."""
    return panel.opposite_hand if opposite else panel.as_drawn + panel.spare + panel.spare_if_room


def sizes(panel: Panel, unit: Unit) -> tuple[tuple[str, str], ...]:
    """Return what is measured of a finished part, with its nominal size.

    Width and height; then both diagonals of a true rectangle, else a distance between two holes.
    """
    width, height = with_unit(panel.width, unit), with_unit(panel.height, unit)
    if panel.shape == "disc":
        found = [("Diameter", width), ("Crosswise", width)]
    else:
        found = [("Width", width), ("Height", height)]
    if panel.shape == "rectangle" and len(panel.outline.vertices) == 4:
        diagonal = with_unit(Point(0, 0).to(Point(float(panel.width), float(panel.height))), unit)
        return (*found, ("1st diagonal", diagonal), ("2nd diagonal", diagonal))
    pair = far_pair(panel.holes)
    if pair is not None:
        found.append((f"Hole {pair[0]} to {pair[1]}", with_unit(pair[2], unit)))
    return tuple(found)


def steps_of(job: Job, panel: Panel, opposite: bool) -> tuple[Step, ...]:
    """Return the steps of one part and hand, from the sheet to the finished part.

    Holes that are drilled through another part are left to the print that says how: a step says so.
    """
    how = job.way_of(panel).how
    later = later_of(job, panel, opposite)
    warning = not_yet(later, panel, opposite)
    panel = without(panel, later)
    if how in MACHINES:
        steps = [*_by_machine(job, panel, how, warning)]
    elif panel.shape == "rectangle":
        steps = [*_rectangle(job, panel, how, warning)]
    else:
        steps = [*_odd(job, panel, how, warning)]
    if panel.marks:
        texts = ", ".join(mark.text for mark in panel.marks)
        unless = ", unless the shop engraved them" if how in MACHINES else ""
        long = f"what the template has there, {counted(len(panel.marks), 'text')}"
        steps.append(Step(f"Write on this face{unless}: {texts if len(texts) <= _LONGEST else long}."))
    if copies(panel, opposite) > 1:
        doing = "drilling" if drilled(job, panel) else "finishing"
        steps.append(Step(f"Try the first one on the machine before {doing} the rest.", signature=True))
    return tuple(steps)


def not_yet(later: Later, part: Panel | Tube, opposite: bool) -> tuple[Step, ...]:
    """Return the step that keeps the drill off holes that are drilled through another part, if there are."""
    return (Step(do_not_drill_said(later, part, opposite), large=True),) if later else ()


def _by_machine(job: Job, panel: Panel, how: str, warning: tuple[Step, ...]) -> Iterator[Step]:
    """A machine cuts all edges and what holes it can; only the rest is for the bench."""
    left = drilled(job, panel)
    cut = {h.number for h in panel.holes} - {h.number for h in left}
    done = ["edges"] + ["openings"] * bool(panel.openings)
    if cut:
        done.append(f"{'hole' if len(cut) == 1 else 'holes'} {number_list(cut)}")
    yield Step(f"Cut by {how}: {', '.join(done)}.", signed_off=True)
    yield from warning
    tapped = [h for h in panel.holes if h.number in cut and h.drill.tap]
    if not left and not tapped:
        what = "edges and holes" if panel.holes else "edges"
        yield Step(f"Deburr {what}, both sides. Fill in the sizes.")
        return
    yield Step("Deburr the edges. Fill in the sizes.")
    if left:
        yield Step("Measure both check rulers. Tape the template on, this face up, its line on the edges.")
        yield from _prick_and_drill(job, panel, left)
    yield from tap_steps(tapped)
    yield Step("Deburr every hole, both sides.")


def _rectangle(job: Job, panel: Panel, how: str, warning: tuple[Step, ...]) -> Iterator[Step]:
    """To size first, so that sawn edges carry the datum; corners and notches last."""
    plan = " by the saw plan" if how == "saw" else ""
    yield Step(f"Saw to {sides_text(panel.width, panel.height, job.unit)}{plan}.", signed_off=True)
    yield Step("True the edges, deburr them. Fill in the sizes.")
    yield from warning
    shaped = len(panel.outline.vertices) > 4
    if panel.holes or panel.openings or shaped:
        yield Step(
            "Measure both check rulers. Lay each page of the template as it says, this face up, its lines "
            "on the sawn edges. Tape it."
        )
    yield from _prick_and_drill(job, panel, panel.holes)
    yield from _inner_corners(panel, job.unit)
    yield from _openings(panel)
    if shaped:
        what = "corners and notches" if _inner_corner_count(panel) else "corners"
        yield Step(f"Cut the {what} last, beside the line. File to it.", signed_off=True)
    if panel.holes or panel.openings or shaped:
        yield Step("Deburr everything, both sides.")


def _odd(job: Job, panel: Panel, how: str, warning: tuple[Step, ...]) -> Iterator[Step]:
    """Holes while there is sheet around to hold, the outline last."""
    if how == "saw":
        box = sides_text(panel.width, panel.height, job.unit)
        yield Step(f"Saw the box around it to {box} by the saw plan.", signed_off=True)
        yield Step("Measure both check rulers. Tape the template on the sawn box, this face up.")
    else:
        yield Step(
            "Measure both check rulers. Tape the template on the sheet, this face up, where the sheet "
            "picture has the part."
        )
    yield from warning
    yield from _prick_and_drill(job, panel, panel.holes)
    yield from _inner_corners(panel, job.unit)
    yield from _openings(panel)
    yield Step("Cut the outline last, beside the line. File to it.", signed_off=True)
    yield Step("Deburr everything, both sides. Fill in the sizes.")


def _prick_and_drill(job: Job, panel: Panel, holes: tuple[Hole, ...]) -> Iterator[Step]:
    if not holes:
        return
    which = f"{'hole' if len(holes) == 1 else 'holes'} {number_list(h.number for h in holes)}"
    text = f"Mark {which}. {how_to_punch(panel.material)}"
    pair = far_pair(holes)
    if pair is not None:
        a, b, away = pair
        # How far it may be out depends on how the template's pages are laid: that stands on the template.
        text += f" Measure hole {a} to hole {b}: must read {as_read(Fraction(away), job.unit)} {job.unit}."
        text += " Out by more than the template accepts: do not drill."
    yield Step(text)
    yield from drill_steps(holes, panel.material, job.unit)


def _inner_corner_count(panel: Panel) -> int:
    """Return how many inner corners the outline has, sharp ones and those with a small radius."""
    # A sharp corner has no radius of its own: half the drill stands for it.
    by = rule(_CORNER_RULE)
    sharp = sharp_corners(panel.outline, float(by.mm(by.least)) / 2, opening=False)
    return sharp + sum(
        isinstance(piece, Bow) and piece.sweep < 0 and piece.radius < _CORNER_RADIUS
        for piece in boundary(panel.outline).pieces
    )


def _inner_corners(panel: Panel, unit: Unit) -> Iterator[Step]:
    """The inner corners of the outline, drilled before the saw comes to them (rule R104)."""
    count = _inner_corner_count(panel)
    if count:
        by = rule(_CORNER_RULE)
        # A rule of thumb: in mm a whole number says enough.
        sides = [by.mm(by.least), by.mm(by.typical)]
        least, usual = (length_text(s if unit == "in" else Fraction(round(s)), unit) for s in sides)
        corners = "inner corner" if count == 1 else f"{count} inner corners"
        yield Step(f"Drill the {corners} of the outline, {least} to {usual} {unit}, inside both lines.")


def _openings(panel: Panel) -> Iterator[Step]:
    """Openings by hand: where the first hole goes depends on their shape."""
    slots = sum(o.kind == "slot" for o in panel.openings)
    round_ones = sum(o.kind != "slot" and o.outline.is_circle for o in panel.openings)
    cornered = len(panel.openings) - slots - round_ones
    ways = [
        f"{counted(count, thing)}: {way}"
        for count, thing, way in (
            (slots, "slot", "drill both ends, saw between"),
            (round_ones, "round cut-out", "a start hole inside the line, or a hole saw"),
            (cornered, "cut-out", "drill the corners first, inside both lines"),
        )
        if count
    ]
    if ways:
        yield Step(f"Cut the openings. {'. '.join(ways)}. File to the line.", signed_off=True)
