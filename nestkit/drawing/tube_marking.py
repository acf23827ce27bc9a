"""Marking-out of tubes: running dimensions from end 0 on each face, in inches and millimetres."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from nestkit.drawing.end_view import WIDTH, end_view
from nestkit.drawing.later_words import PRINT, through_said
from nestkit.drawing.marking_flow import Pages, Table, height_of, put_table
from nestkit.drawing.marking_table import HEADING, SMALL, columns_of, marking_page
from nestkit.drawing.marking_words import how_to_mark
from nestkit.drawing.model import Drawing
from nestkit.drawing.rulers import accepted
from nestkit.drawing.template_checks import PEN_RULE, between_marks
from nestkit.drawing.template_facts import copies_said
from nestkit.drawing.template_flow import Flow, ruled
from nestkit.drawing.template_holes import hole_label
from nestkit.drawing.tube_checks import CUT_RULE
from nestkit.drawing.tube_gangs import gang_name, put_gangs
from nestkit.drawing.tube_sizes import other_text, place_cells, place_names, size_text, units_of
from nestkit.drawing.whole import put_whole
from nestkit.estimate.cut_words import mitre_text
from nestkit.job.model import Job
from nestkit.job.pairs import gangs_to_mark, later_of, to_mark
from nestkit.parts.gangs import Gang
from nestkit.parts.marked_tube import MarkedLine, lines_of, through_numbers
from nestkit.parts.tube import Tube, WallMark
from nestkit.stock.section import section_in_words
from nestkit.text import counted, number_list
from nestkit.trade.rules import rule
from nestkit.units import decimal_text, with_unit

NOTES = (
    "END 0 IS AT YOUR LEFT: A up, B towards you, C down, D away.",
    "Write 0 and A on the tube first. Measure from end 0, never from hole to hole.",
    "A mark has width: its edge nearer end 0 is the size. Always that edge.",
)

_SHARES = (0.10, 0.20, 0.14, 0.19, 0.15, 0.22)
_BETWEEN_TUBES = 7.0


def tube_marking_pages(job: Job, tubes: Iterable[Tube] | None = None) -> tuple[Drawing, ...]:
    """Return the marking-out of all tubes with holes, or of some: what is marked as a gang, then the tables.

    Tables are sorted by bench, each hand its own; short ones of one bench share a page.
    """
    page = marking_page(job, *NOTES)
    pages = Pages(page)
    wanted = tuple(job.tubes if tubes is None else tubes)
    gangs = gangs_to_mark(job, wanted)
    put_gangs(job, gangs, pages)
    bench = None
    for tube in sorted((t for t in wanted if t.holes), key=lambda t: t.used_for):
        for opposite in tube.hands:
            if to_mark(job, tube, opposite).holes:
                _put_tube(job, tube, opposite, gangs, pages, alone=bench != tube.used_for)
                bench = tube.used_for
    done = pages.closed()
    return tuple(
        page.finished(marks, title, f"tubes: page {number} of {len(done)}")
        for number, (title, marks) in enumerate(done, 1)
    )


def _put_tube(
    job: Job, tube: Tube, opposite: bool, gangs: Sequence[Gang], pages: Pages, *, alone: bool
) -> None:
    """Put a tube's tables on pages: on the one begun where all fits and the tube need not stand ``alone``."""
    shown = _shown(job, tube, opposite)
    title = f"{tube.name}, OPPOSITE HAND" if opposite else tube.name
    head = _head(job, tube, opposite, gangs, pages.width)
    tables = [_table(job, shown, one) for one in lines_of(shown)]
    rows = [row for table in tables for row in table.rows]
    columns = columns_of(tables[0].names, rows, pages.width, _SHARES)
    whole = head.height + sum(height_of(table, columns, pages.width) for table in tables)
    if pages.begun and not alone and whole + _BETWEEN_TUBES <= pages.left:
        pages.add(ruled(pages.width, _BETWEEN_TUBES), title)
    else:
        pages.turn()
    pages.add(head, title)
    for table in tables:
        put_table(table, columns, title, pages)


def _head(job: Job, tube: Tube, opposite: bool, gangs: Sequence[Gang], width: float) -> Flow:
    """Say what it is and how it is marked, beside a picture of its end."""
    shown = _shown(job, tube, opposite)
    words = Flow(width - WIDTH - 3.0)
    put_whole(words, tube.name, 9.0, least=4.0, bold=True)
    if opposite:
        words.text("OPPOSITE HAND", 6.0, bold=True)
    put_whole(words, f"MARKING OUT - {with_unit(tube.length, job.unit)} long", 6.0, least=4.0, bold=True)
    words.text(
        f"Make {copies_said(tube, opposite)} · {section_in_words(tube.section, job.unit)}", HEADING, bold=True
    )
    said = [tube.material, tube.used_for, f"Rev {tube.revision}" if tube.revision else ""]
    said += [job.date.isoformat() if job.date is not None else "", job.name]
    words.text(" · ".join(word for word in said if word), SMALL)
    words.gap(1.0)
    later = later_of(job, tube, opposite)
    if later:
        words.text(f"Not here: {through_said(later)}, see {PRINT}.", HEADING, bold=True)
    for text in (*in_gangs(tube, opposite, gangs), *_about(shown), how_to_mark(tube.material)):
        words.text(text, HEADING)
    picture = Flow(WIDTH)
    picture.picture(end_view(tube.section))
    flow = Flow(width)
    flow.beside(words, picture, width - WIDTH)
    return flow


def _shown(job: Job, tube: Tube, opposite: bool) -> Tube:
    """Return a tube and hand with the holes that are marked on it."""
    marked = to_mark(job, tube, opposite)
    return marked.mirrored() if opposite else marked


def in_gangs(tube: Tube, opposite: bool, gangs: Sequence[Gang]) -> list[str]:
    """Return which faces of a tube are marked with others first, a sentence for each gang."""
    said = []
    for number, gang in enumerate(gangs, 1):
        for member in gang.members:
            if (member.tube.name, member.opposite) == (tube.name, opposite):
                what = "At" if tube.section.is_round else "Face" if len(member.ups) == 1 else "Faces"
                said.append(f"{what} {', '.join(member.ups)}: first {gang_name(number)}.")
    return said


def _about(tube: Tube) -> list[str]:
    said = []
    if any(tube.mitres):
        both = enumerate(tube.mitres)
        ends = (f"end {end} {mitre_text(mitre, tube)}" for end, mitre in both if mitre is not None)
        said.append(f"Mitres are sawn last: {'; '.join(ends)}.")
        said.append("Both ends are still square: every size is from end 0, where its LONG POINT will be.")
    if tube.section.is_round:
        said.append("Draw line A along the tube first; measure around it with a strip of paper.")
    numbers = through_numbers(tube)
    if numbers:
        goes = "goes" if len(numbers) == 1 else "go"
        holes = counted(len(numbers), "Hole").split(" ")[1]
        said.append(
            f"{holes} {number_list(numbers)} {goes} through: mark and drill each wall from its own side."
        )
    return said


def _table(job: Job, tube: Tube, one: MarkedLine) -> Table:
    names = ("Hole", *place_names(job), "Drill")
    rows = tuple(_cells(job, mark) for mark in one.marks)
    return Table(f"{_where(one)}: {_side(job, tube, one)}", names, rows, tuple(_proofs(job, tube, one)))


def _where(one: MarkedLine) -> str:
    return f"FACE {one.face}" if one.face is not None else f"AT {decimal_text(one.at_deg, 2)}°"


def _side(job: Job, tube: Tube, one: MarkedLine) -> str:
    """Say where the line lies across the face, in both units with what they are out by."""
    if one.face is None and one.side == 0:
        return "on line A"
    size = " = ".join(size_text(job, one.side, unit) for unit in units_of(job))
    if one.face is None:
        return f"{size} around from line A to B"
    if tube.section.kind == "angle":
        return f"{size} from the heel"
    edge = "near edge" if tube.section.kind == "strip" else f"{tube.section.next_face(one.face)} edge"
    return f"{size} from the {edge}{', the middle' if one.in_middle else ''}"


def _cells(job: Job, mark: WallMark) -> tuple[str, ...]:
    drill = hole_label(mark, job.unit).split("  ", 1)[1]
    return (str(mark.number), *place_cells(job, mark.spot.at), drill)


def _proofs(job: Job, tube: Tube, one: MarkedLine) -> list[str]:
    """Say what must be read between the first and the last hole, and from the last to end 1."""
    first, last = one.marks[0], one.marks[-1]
    said = []
    along = last.spot.at - first.spot.at
    if along:
        reads = between_marks(float(along), job.unit, PEN_RULE)
        said.append(f"Check {first.number} to {last.number}: {reads} ({other_text(job, along)})")
    rest = tube.length - last.spot.at
    pen, cut = rule(PEN_RULE), rule(CUT_RULE)
    reads = accepted(rest, pen.mm(pen.typical) + cut.mm(cut.typical), job.unit)
    square = ", still square" if tube.mitres[1] is not None else ""
    said.append(f"Check {last.number} to end 1{square}: {reads} ({other_text(job, rest)})")
    return said
