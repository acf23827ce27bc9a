"""Regions that are kept clear, on the pictures and files of sheets: a crossed box, and words in it."""

from __future__ import annotations

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Fill, Mark, Text, outlined
from nestkit.drawing.sheet_labels import fitted_label
from nestkit.drawing.type import text_width
from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import box_outline
from nestkit.job.understood_fixed import region_text
from nestkit.layout.result import CutSheet, PlacedPart
from nestkit.stock.keep_clear import KeepClear
from nestkit.stock.sheet import Sheet
from nestkit.units import Unit

WORDS = "KEEP CLEAR"
TYPE = 3.6
LEAST_TYPE = 1.8
WIDER = 1.25
"""Type of other programs may be wider than ours by this."""
LEAST_NOTE = 2.0
"""Smaller words in mm on a cutting file help nobody."""


def region_box(region: KeepClear, stock: Sheet) -> Rect:
    """Return the box of a region in mm, as far as it lies on its sheet."""
    return Rect(
        max(float(region.left), 0.0),
        max(float(region.bottom), 0.0),
        min(float(region.right), float(stock.width)),
        min(float(region.top), float(stock.height)),
    )


def crossed(region: KeepClear, stock: Sheet) -> tuple[Outline, ...]:
    """Return closed lines in mm of the sheet: around a region, and two triangles that cross it."""
    box = region_box(region, stock)
    edge = box_outline(box)
    inside = region.right <= stock.width and region.top <= stock.height
    whole = min(region.left, region.bottom) >= 0 and inside
    if region.disc and whole:
        edge = region.outline()
        box = box.grown(-(1 - 0.5**0.5) / 2 * box.width)
    low, high, middle = box.bottom, box.top, box.centre
    sides = (
        Outline((Vertex(box.left, low), Vertex(*middle), Vertex(box.left, high))),
        Outline((Vertex(box.right, high), Vertex(*middle), Vertex(box.right, low))),
    )
    return (edge, *sides)


def region_words(region: KeepClear) -> str:
    """Return what is written into a region: ``KEEP CLEAR: scratch``."""
    return f"{WORDS}: {region.why}" if region.why else WORDS


def picture_marks(sheet: CutSheet) -> list[Mark]:
    """Return the regions of a sheet, crossed, in mm of the sheet."""
    marks: list[Mark] = []
    for region in sheet.keep_clear:
        edge, *sides = crossed(region, sheet.stock)
        marks += [Fill(edge), outlined(edge, Layer.HEAVY)]
        marks += [outlined(side, Layer.FINE) for side in sides]
    return marks


def picture_labels(sheet: CutSheet, scale: int, corner: Point, page: Rect) -> list[Mark]:
    """Return the words in the regions of a sheet's picture at 1 to ``scale``, where they have room.

    ``corner`` is the sheet's lower left on paper, ``page`` what of the sheet is seen there.
    """
    marks: list[Mark] = []
    for region in sheet.keep_clear:
        box = region_box(region, sheet.stock)
        sides = (corner.x + box.left / scale, corner.y + box.bottom / scale)
        far = (corner.x + box.right / scale, corner.y + box.top / scale)
        seen = Rect(sides[0], max(sides[1], page.bottom), far[0], min(far[1], page.top))
        if seen.bottom >= seen.top:
            continue
        for words in dict.fromkeys((region_words(region), WORDS)):
            found = fitted_label(words, seen, TYPE, least=LEAST_TYPE)
            if found:
                marks += found
                break
    return marks


def file_marks(sheet: CutSheet) -> list[Mark]:
    """Return the regions of a sheet for its cutting file, on the layer that is not cut, with words inside."""
    marks: list[Mark] = []
    for region in sheet.keep_clear:
        edge, *sides = crossed(region, sheet.stock)
        marks += [outlined(line, Layer.NOTE_NO_CUT) for line in (edge, *sides)]
        box = region_box(region, sheet.stock)
        for words in dict.fromkeys((region_words(region), WORDS)):
            size = min(box.height / 3, 0.9 * box.width / (WIDER * text_width(words, 1.0)), 15.0)
            if size >= LEAST_NOTE:
                # Cutting files have texts that start at their foot.
                start = box.centre.x - WIDER * text_width(words, size) / 2
                foot = Point(start, box.centre.y - 0.36 * size)
                marks.append(Text(foot, words, size, Layer.NOTE_NO_CUT))
                break
    return marks


def region_said(region: KeepClear, unit: Unit) -> str:
    """Say where a region lies, and why it is kept clear: ``x 2 to 4, y 1 to 2 in, scratch``."""
    return region_text(region, unit) + (f", {region.why}" if region.why else "")


def held_text(part: PlacedPart) -> str:
    """Say which copy is held: ``console lid 2, opposite hand``."""
    hand = ", turned over" if part.turned_over else ", opposite hand" if part.opposite_hand else ""
    return f"{part.panel.name} {part.copy}{hand}"


def fixed_lines(sheet: CutSheet, unit: Unit) -> tuple[str, ...]:
    """Return what a shop must know of regions and held copies, a line each; none where there are none."""
    lines = [f"{WORDS}: {region_said(region, unit)}" for region in sheet.keep_clear]
    held = [held_text(p) for p in sheet.parts if p.held]
    return (*lines, *([f"HELD WHERE THE JOB SAYS: {'; '.join(held)}"] if held else []))
