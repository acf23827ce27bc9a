"""Labels: one for each piece of the heap, then one for each offcut and rest worth keeping."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from nestkit.drawing.label_rows import Key, Said, dated, items, places_in_job
from nestkit.drawing.label_text import SMALL, Row, Words, few_words, full_words, set_words
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Mark, line
from nestkit.drawing.template_page import MARGIN
from nestkit.drawing.tube_labels import rest_labels, tube_labels
from nestkit.estimate.words import sheet_name
from nestkit.geometry.points import Point, Rect
from nestkit.job.labels import LABEL_EDGE, reach
from nestkit.job.model import Job, LabelGrid
from nestkit.job.settings import known_paper
from nestkit.layout.result import CutSheet, JobLayout, Offcut, PlacedPart
from nestkit.parts.panel import Panel
from nestkit.units import Unit, length_text, rest_text, with_unit

_PLAIN = (101.6, 40.0)
"""About how large a label on plain paper is, in mm."""

_Hand = tuple[str, bool]


@dataclass(frozen=True, slots=True)
class _Sheet:
    """A sheet of labels: the page in mm, where labels lie on it, the printer's scale along x and y."""

    width: float
    height: float
    grid: LabelGrid
    scale_x: float = 1.0
    scale_y: float = 1.0

    @property
    def a_page(self) -> int:
        return self.grid.columns * self.grid.rows

    def room(self, place: int) -> Rect:
        """Return the room for words of a label, counted by rows from the upper left, as it is drawn.

        The printer's scale is taken out of the way from the upper left corner, where a printer begins.
        """
        grid = self.grid
        row, column = divmod(place, grid.columns)
        inside = min(2 * LABEL_EDGE, max(LABEL_EDGE, 0.06 * min(grid.width, grid.height)))
        left, top = grid.left + column * grid.pitch_x, grid.top + row * grid.pitch_y
        least_x, most_x = reach(self.width, self.scale_x)
        least_y, most_y = reach(self.height, self.scale_y)
        return Rect(
            max(left + inside, least_x) / self.scale_x,
            self.height - min(top + grid.height - inside, most_y) / self.scale_y,
            min(left + grid.width - inside, most_x) / self.scale_x,
            self.height - max(top + inside, least_y) / self.scale_y,
        )


def label_pages(job: Job, layout: JobLayout) -> tuple[Drawing, ...]:
    """Return the labels of all pieces that are laid, then of all offcuts and rests; empty where none is."""
    sheet = _sheet_of_labels(job)
    small = sheet.grid.width < SMALL[0] or sheet.grid.height < SMALL[1]
    words = [*_pieces(job, layout, small), *_offcuts(job, layout, small), *rest_labels(job, layout, small)]
    places = enumerate(words, sheet.grid.used)
    pages: list[list[Mark]] = []
    for place, said in places:
        page, on_page = divmod(place, sheet.a_page)
        while len(pages) <= page:
            pages.append(list(_cut_lines(sheet)) if job.labels.grid is None else [])
        pages[page] += set_words(said, sheet.room(on_page))
    return tuple(Drawing(sheet.width, sheet.height, tuple(marks), "labels") for marks in pages)


def _sheet_of_labels(job: Job) -> _Sheet:
    """Return the sheet of labels of a job, or plain paper parted into labels that fill it."""
    paper = job.labels.paper or job.printing.paper
    short, long = paper.short, paper.long
    scale_x, scale_y = job.printing.scale_x, job.printing.scale_y
    if long is None:
        # A page off a roll is as long as the usual paper.
        long = known_paper("letter" if job.unit == "in" else "A4").long or short
    elif job.labels.lying:
        short, long, scale_x, scale_y = long, short, scale_y, scale_x
    if job.labels.grid is not None:
        return _Sheet(short, long, job.labels.grid, scale_x, scale_y)
    across, along = short - 2 * MARGIN, long - 2 * MARGIN
    columns, rows = max(1, round(across / _PLAIN[0])), max(1, round(along / _PLAIN[1]))
    width, height = across / columns, along / rows
    # It is cut apart along its own lines: no scale is taken out.
    return _Sheet(short, long, LabelGrid(columns, rows, width, height, width, height, MARGIN, MARGIN))


def _cut_lines(sheet: _Sheet) -> Iterator[Mark]:
    grid = sheet.grid
    left, top = grid.left, sheet.height - grid.top
    right, bottom = left + grid.columns * grid.width, top - grid.rows * grid.height
    for column in range(grid.columns + 1):
        x = left + column * grid.width
        yield line(Point(x, bottom), Point(x, top), Layer.FINE)
    for row in range(grid.rows + 1):
        y = top - row * grid.height
        yield line(Point(left, y), Point(right, y), Layer.FINE)


def _pieces(job: Job, layout: JobLayout, small: bool) -> Iterator[Words]:
    """Yield what the label of each piece says, in the order of the job's labels: sheets before sticks."""
    heaps = [*_of_sheets(job, layout, small), *tube_labels(job, layout, small)]
    if job.labels.order == "for":
        heaps = [[said for heap in heaps for said in heap]]
    for heap in heaps:
        for said in sorted(heap, key=lambda said: said.key):
            yield said.words


def _of_sheets(job: Job, layout: JobLayout, small: bool) -> list[list[Said]]:
    """Return the labels of each sheet's pieces, sheet by sheet as they are cut."""
    order = places_in_job(job)
    laid = [(sheet, group.group.material) for group in layout.groups for sheet in group.sheets]
    counts = Counter(_hand(part) for sheet, _ in laid for part in sheet.parts)
    return [
        [
            Said(_key(part, order), _piece(job, part, sheet, material, counts[_hand(part)], small))
            for part in sheet.parts
        ]
        for sheet, material in laid
    ]


def _key(part: PlacedPart, order: dict[str, int]) -> Key:
    used_for = part.panel.used_for
    return not used_for, used_for, order[part.panel.name], _hand(part)[1], part.copy


def _hand(part: PlacedPart) -> _Hand:
    """Return what copies are counted by: where both faces are alike one hand serves as the other."""
    return part.panel.name, part.opposite_hand and part.panel.faces == "differ"


def _piece(job: Job, part: PlacedPart, sheet: CutSheet, material: str, count: int, small: bool) -> Words:
    panel = part.panel
    hand = "OPPOSITE HAND" if _hand(part)[1] else ""
    copy = f"{part.copy} of {count}{', spare' if _is_spare(part) else ''}"
    stock = sheet_name(sheet)
    if small:
        return few_words(panel.name, items((0, hand), (1, copy), (2, stock)))
    rows = (
        Row(items((0, hand), (1, copy)), 5.0, bold=True),
        Row(items((3, _size(panel, job.unit))), 4.6),
        Row(items((4, _material(material, sheet, job.unit)), (8, _sold_as(sheet, job.unit))), 3.4),
        Row(items((5, f"for {panel.used_for}" if panel.used_for else "")), 4.0),
        Row(
            items((2, stock), (6, f"revision {panel.revision}" if panel.revision else ""), (7, dated(job))),
            3.2,
        ),
    )
    return full_words(panel.name, rows)


def _is_spare(part: PlacedPart) -> bool:
    """Say whether a copy is a spare: spares are counted after all that were asked for."""
    panel = part.panel
    asked = panel.quantity + (panel.opposite_hand if panel.faces == "alike" else 0)
    return not _hand(part)[1] and part.copy > asked


def _size(panel: Panel, unit: Unit) -> str:
    if panel.shape == "disc":
        return f"disc, {with_unit(panel.width, unit)} across"
    overall = " overall" if panel.shape in ("points", "outline") else ""
    return f"{length_text(panel.width, unit)} x {with_unit(panel.height, unit)}{overall}"


def _material(material: str, sheet: CutSheet, unit: Unit) -> str:
    return f"{material}, {with_unit(sheet.stock.thickness, unit)}"


def _sold_as(sheet: CutSheet, unit: Unit) -> str:
    """Say what the shop calls the thickness, where that is not the real one."""
    sold = sheet.stock.sold_as
    return "" if sold is None or sold == sheet.stock.thickness else f"sold as {with_unit(sold, unit)}"


def _offcuts(job: Job, layout: JobLayout, small: bool) -> Iterator[Words]:
    """Yield what the label of each offcut says, in the order in which sheets are cut."""
    for group in layout.groups:
        for sheet in group.sheets:
            for offcut in sheet.offcuts:
                yield _offcut(job, offcut, sheet, group.group.material, small)


def _offcut(job: Job, offcut: Offcut, sheet: CutSheet, material: str, small: bool) -> Words:
    size = f"{rest_text(offcut.width, job.unit)} x {rest_text(offcut.height, job.unit)} {job.unit}"
    stock = f"from {sheet_name(sheet)}"
    of = _material(material, sheet, job.unit)
    if small:
        return few_words("OFFCUT", items((0, size), (1, of), (2, stock)))
    rows = (
        Row(items((0, size)), 5.4, bold=True),
        Row(items((1, of), (4, _sold_as(sheet, job.unit))), 3.4),
        Row(items((3, _grain(offcut, sheet, job.unit))), 3.4),
        Row(items((2, stock)), 3.4),
        Row(items((5, dated(job)), (6, job.name)), 3.2),
    )
    return full_words("OFFCUT", rows)


def _grain(offcut: Offcut, sheet: CutSheet, unit: Unit) -> str:
    """Say along which of its sides the grain of an offcut runs: a loose piece has no x and y."""
    if sheet.stock.grain == "none":
        return ""
    sides = [rest_text(side, unit) for side in (offcut.width, offcut.height)]
    if sides[0] == sides[1]:
        return "draw an arrow along its grain"
    return f"grain along its {sides[0] if sheet.stock.grain == 'x' else sides[1]} {unit} side"
