"""The picture of a sheet for people: what lies where, how it is sawn, what is left."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from nestkit.drawing.datum import datum_bracket
from nestkit.drawing.hatch import hatch
from nestkit.drawing.keep_clear import picture_labels, picture_marks, region_said
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Drawing, Inset, Mark, Text, line, outlined
from nestkit.drawing.part import laid
from nestkit.drawing.sheet import size_text, thickness_text
from nestkit.drawing.sheet_cuts import cut_line, cut_numbers, cuts_between, numbered
from nestkit.drawing.sheet_dimensions import dimensions
from nestkit.drawing.sheet_labels import Spot, arrow_marks, label, number_box
from nestkit.drawing.sheet_offcuts import TYPE, offcut_labels
from nestkit.drawing.sheet_words import (
    KeyLine,
    key_lines,
    kind_of,
    numbers_of,
    part_lines,
)
from nestkit.drawing.tabs import tab_marks
from nestkit.drawing.template_flow import Flow
from nestkit.estimate.words import sheet_name
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import rectangle
from nestkit.job.model import Group
from nestkit.layout.result import CutSheet, Degrees, PlacedPart
from nestkit.parts.panel import Panel
from nestkit.text import counted
from nestkit.units import Unit

SCALES = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150, 200, 300, 500)
"""Scales that a rule can be read at: 1 to this."""

LEFT, BOTTOM, RIGHT, TOP = 12.0, 15.0, 7.0, 3.0
"""Room in mm on paper around the sheet for its datum, dimensions and grain."""
GRAIN_ROOM = 5.0
HATCH_PITCH = 3.0
DOT = 1.2
"""Up to this width in mm on paper a hole is a dot that words may cross."""
NARROWEST = 120.0
LONGEST = 4
"""A piece off a roll that is longer than this many times its width is no smaller on a screen for that."""


@dataclass(frozen=True, slots=True)
class Plan:
    """A sheet drawn at 1 to ``scale``, and the key for parts that show a number only."""

    drawing: Drawing
    scale: int
    key: tuple[KeyLine, ...]


def fitting_scale(width: Fraction, height: Fraction, room: Rect) -> int:
    """Return the largest of the round scales at which a sheet and what surrounds it fit the room."""
    across, up = room.width - LEFT - RIGHT - GRAIN_ROOM, room.height - BOTTOM - TOP - GRAIN_ROOM
    least = max(float(width) / across, float(height) / up)
    return next((s for s in SCALES if s >= least), -int(-least // 1))


def picture_scale(sheet: CutSheet) -> int:
    """Return the scale of a sheet's picture, 1 to this: about as large as a page."""
    return long_scale(sheet, Rect(0.0, 0.0, 200.0, 260.0))


def long_scale(sheet: CutSheet, room: Rect) -> int:
    """Return a scale for a picture on a screen: a long piece off a roll may be higher than the room."""
    stock = sheet.stock
    length = min(stock.height, LONGEST * stock.width) if stock.roll else stock.height
    return fitting_scale(stock.width, length, room)


def sheet_picture(sheet: CutSheet, group: Group, *, unit: Unit, stem: str, heading: bool = True) -> Drawing:
    """Return a sheet's picture with its key and, if wanted, a heading, at 1 to ``picture_scale(sheet)``."""
    plan = sheet_plan(sheet, group, unit=unit, scale=picture_scale(sheet))
    width = max(plan.drawing.width, NARROWEST)
    head, foot = Flow(width), Flow(width)
    if heading:
        stock = sheet.stock
        head.title(sheet_name(sheet), 6.0, least=3.0)
        facts = (size_text(stock, unit), group.material, thickness_text(stock, unit))
        head.text(", ".join(facts), TYPE)
        head.gap(2.0)
    put_words(foot, signs_text(sheet, group, unit), plan.key)
    height = head.height + plan.drawing.height + foot.height
    marks = (
        *head.marks(0.0, height),
        Inset(plan.drawing, Point(0.0, foot.height)),
        *foot.marks(0.0, foot.height),
    )
    return Drawing(width, height, marks, stem)


def put_words(flow: Flow, signs: str, key: tuple[KeyLine, ...]) -> None:
    """Add what explains a picture: its signs, and its key."""
    flow.text(signs, 3.0)
    if key:
        flow.gap(1.5)
        flow.text("By the number in the box:", TYPE, bold=True)
        for row in key:
            flow.row((str(row.number), row.text), (9.0, flow.width - 9.0), TYPE)


def signs_text(sheet: CutSheet, group: Group, unit: Unit) -> str:
    """Say what the signs of a picture mean, those that it has."""
    said = [f"{counted(len(sheet.parts), 'part')}, face up as drawn. Arrow: top of the part as drawn."]
    if any(p.opposite_hand and not p.turned_over for p in sheet.parts):
        said.append("OPPOSITE HAND: mirrored.")
    if any(p.turned_over for p in sheet.parts):
        said.append("TURNED OVER: lies mirrored, its faces are alike.")
    if sheet.cuts:
        every = len(numbered(sheet, group.way.kerf, unit)) == len(sheet.cuts)
        which = "" if every else "; of equal ones the first and the last"
        said.append(f"Figures in circles: saw cuts in their order{which}.")
    if group.way.tabs is not None:
        said.append("Short bars across an edge: holding tabs.")
    if sheet.offcuts:
        said.append("Hatched: offcuts.")
    if sheet.keep_clear:
        where = "; ".join(region_said(region, unit) for region in sheet.keep_clear)
        said.append(f"Crossed, KEEP CLEAR: {where}.")
    if any(p.held for p in sheet.parts):
        said.append("HELD: lies where the job says.")
    return " ".join(said)


def sheet_plan(
    sheet: CutSheet,
    group: Group,
    *,
    unit: Unit,
    scale: int,
    stretch: tuple[float, float] | None = None,
) -> Plan:
    """Return a sheet at 1 to ``scale``: edge, margin, parts, offcuts, saw cuts, dimensions, grain.

    Of a ``stretch``, from and to so many mm along y, only what lies there is shown; words that its ends
    would cut are left out.
    """
    width, height = float(sheet.stock.width), float(sheet.stock.height)
    low, high = stretch or (0.0, height)
    grain = sheet.stock.grain
    right = RIGHT + (GRAIN_ROOM if grain == "y" else 0.0)
    top = TOP + (GRAIN_ROOM if grain == "x" else 0.0)
    on_page = Rect(LEFT, BOTTOM, LEFT + width / scale, BOTTOM + (high - low) / scale)
    corner = Point(LEFT, BOTTOM - low / scale)
    true_size = Drawing(width, height, (*_waste(sheet, scale), *picture_marks(sheet), *_edges(sheet, group)))
    blocks, key = _labels(sheet, unit, scale, corner)
    shown = [b for b in blocks if stretch is None or _within(b, on_page)]
    labels = [mark for block in shown for mark in block]
    labels += picture_labels(sheet, scale, corner, on_page)
    taken = [mark.bounds for mark in labels if isinstance(mark, Text)]
    cuts = sheet.cuts if stretch is None else cuts_between(sheet.cuts, low, high)
    shown_numbers = numbered(sheet, group.way.kerf, unit)
    cuts = tuple(cut for cut in cuts if cut.step in shown_numbers)
    numbers = cut_numbers(cuts, float(group.way.kerf), scale, on_page, taken)
    circles = [n.bounds for n in numbers if isinstance(n, Circle)]
    seen = None if stretch is None else Rect(-scale, low, width + scale, high)
    marks = (
        Inset(true_size, corner, 1 / scale, 1 / scale, seen),
        *offcut_labels(sheet, unit, scale, corner, circles, on_page),
        *labels,
        *numbers,
        *(datum_bracket(on_page, back=False) if low == 0.0 else ()),
        *dimensions(on_page, sheet, unit, stretch),
        *grain_marks(on_page, grain),
    )
    return Plan(Drawing(on_page.right + right, on_page.top + top, marks, sheet.stock.name), scale, key)


def _waste(sheet: CutSheet, scale: int) -> list[Mark]:
    """Offcuts, hatched, in mm of the sheet."""
    marks: list[Mark] = []
    for offcut in sheet.offcuts:
        left, bottom = float(offcut.x), float(offcut.y)
        box = Rect(left, bottom, left + float(offcut.width), bottom + float(offcut.height))
        marks.extend(hatch(box, HATCH_PITCH * scale))
        marks.append(outlined(rectangle(box.width, box.height, at=Point(left, bottom)), Layer.HATCH))
    return marks


def _edges(sheet: CutSheet, group: Group) -> list[Mark]:
    """Parts, saw cuts, margin and the sheet's edge, in mm of the sheet."""
    width, height = float(sheet.stock.width), float(sheet.stock.height)
    marks: list[Mark] = []
    for part in sheet.parts:
        there = laid(part)
        marks.append(outlined(there.outline, Layer.PART_EDGE))
        marks.extend(outlined(o.outline, Layer.OPENING) for o in there.openings)
        marks.extend(Circle(h.at, h.dia / 2, Layer.DRILLED_HOLE) for h in there.holes)
        marks.extend(tab_marks(part, group.way))
    for cut in sheet.cuts:
        marks.append(line(*cut_line(cut, float(group.way.kerf), width, height), Layer.SAW_CUT))
    m = group.margin
    if any((m.left, m.right, m.bottom, m.top)):
        inner = rectangle(
            width - float(m.left + m.right),
            height - float(m.bottom + m.top),
            at=Point(float(m.left), float(m.bottom)),
        )
        marks.append(outlined(inner, Layer.NOTE_NO_CUT))
    marks.append(outlined(rectangle(width, height), Layer.HEAVY))
    return marks


def label_spans(sheet: CutSheet, unit: Unit, scale: int) -> list[tuple[float, float]]:
    """Return from where to where along y on paper, from the sheet's lower edge, the words in parts stand."""
    blocks, _ = _labels(sheet, unit, scale, Point(0.0, 0.0))
    return [(min(m.bounds.bottom for m in b), max(m.bounds.top for m in b)) for b in blocks if b]


def _within(block: Sequence[Mark], page: Rect) -> bool:
    """Say whether marks stand between the lower and upper end of a picture."""
    return all(page.bottom <= m.bounds.bottom and m.bounds.top <= page.top for m in block)


def _labels(
    sheet: CutSheet, unit: Unit, scale: int, corner: Point
) -> tuple[list[tuple[Mark, ...]], tuple[KeyLine, ...]]:
    """Words in the parts, a block each, and the key for those that have room for a number only."""
    blocks: list[tuple[Mark, ...]] = []
    small: list[tuple[PlacedPart, Spot, Point]] = []
    for part in sheet.parts:
        spot = _spot(part.panel, part.opposite_hand, part.turn, part.width, part.height, scale)
        at = corner.moved(float(part.x) / scale, float(part.y) / scale)
        words = label(part_lines(part, unit), spot, at)
        if words:
            blocks.append(words)
        else:
            small.append((part, spot, at))
    numbers = numbers_of(part for part, *_ in small)
    blocks += [number_box(numbers[kind_of(part)], spot, at) for part, spot, at in small]
    return blocks, key_lines((part for part, *_ in small), numbers, unit)


@lru_cache(maxsize=1024)
def _spot(panel: Panel, opposite: bool, turn: Degrees, width: Fraction, height: Fraction, scale: int) -> Spot:
    """Room for a label in a part as it lies, on paper."""
    there = laid(PlacedPart(panel, 1, opposite, Fraction(0), Fraction(0), turn, width, height))
    boxes = [o.outline.bounds for o in there.openings]
    boxes += [Rect(*h.at, *h.at).grown(h.dia / 2) for h in there.holes]
    on_paper = [Rect(*(edge / scale for edge in box)) for box in boxes]
    return Spot(
        float(width) / scale,
        float(height) / scale,
        tuple(b for b in on_paper if b.width > DOT),
        tuple(b for b in on_paper if b.width <= DOT),
        tuple(Point(p.x / scale, p.y / scale) for p in there.outline.flattened(0.2 * scale)),
        (90.0 + there.turn) % 360,
    )


def grain_marks(sheet: Rect, grain: str) -> list[Mark]:
    """Return a double arrow along the sheet's grain, above it or at its right, with the word."""
    if grain == "none":
        return []
    if grain == "x":
        middle, turn, foot = Point(sheet.centre.x, sheet.top + 3.8), 0.0, Point(12.0, -1.2)
    else:
        middle, turn, foot = Point(sheet.right + 3.8, sheet.centre.y), 90.0, Point(1.2, 12.0)
    words = Text(middle.moved(*foot), "grain", TYPE, Layer.LABEL, "start", turn)
    return [*arrow_marks(middle, 20.0, turn, both=True), words]
