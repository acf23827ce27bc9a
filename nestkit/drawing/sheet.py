"""A sheet for a cutting file: its parts, and notes that are not cut."""

from __future__ import annotations

from nestkit.drawing.keep_clear import file_marks, fixed_lines
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Mark, Text, outlined
from nestkit.drawing.part import placed_marks
from nestkit.drawing.tabs import tab_marks
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import rectangle
from nestkit.job.model import Group
from nestkit.layout.result import CutSheet
from nestkit.stock.sheet import Sheet
from nestkit.text import counted
from nestkit.units import Unit, sides_text, with_unit

ALONG_THE_ROLL = "y runs along it, from its end, which must be square"
NOTE_GAP = 25.4
"""Room in mm between the sheet and the notes at its right."""


def sheet_drawing(sheet: CutSheet, group: Group, *, unit: Unit, stem: str) -> Drawing:
    """Return a sheet for its cutting file, the sheet's lower left at 0, 0.

    On the sheet lie only its edge, its parts, and what is kept clear of them. The notes and the check square
    stand at its right, so that nothing of ours meets a part and every coordinate is positive.
    ``stem`` is the file's name.
    """
    width, height = float(sheet.stock.width), float(sheet.stock.height)
    notes = _notes(sheet_notes(sheet, group, unit=unit, stem=stem), width, height, unit)
    marks: list[Mark] = [outlined(rectangle(width, height), Layer.NOTE_NO_CUT)]
    marks.extend(file_marks(sheet))
    for part in sheet.parts:
        marks.extend(placed_marks(part))
        marks.extend(tab_marks(part, group.way))
    marks.extend(notes)
    return Drawing(width, height, tuple(marks), stem)


def sheet_notes(sheet: CutSheet, group: Group, *, unit: Unit, stem: str) -> tuple[str, ...]:
    """Return what a shop must know of a sheet, a line each."""
    kind = "piece" if sheet.stock.roll else "sheet"
    tabs = group.way.tabs
    held = (
        ()
        if tabs is None
        else (
            f"LAYER {Layer.HOLDING_TAB}: each line is the middle of a tab {with_unit(tabs.width, unit)} wide",
        )
    )
    clear = "what is kept clear, " if sheet.keep_clear else ""
    along = (f"OFF THE ROLL: {ALONG_THE_ROLL}",) if sheet.stock.roll else ()
    return (
        f"SHEET: {stem}",
        f"MATERIAL: {group.material}",
        f"THICKNESS: {thickness_text(sheet.stock, unit)}",
        f"SIZE: {size_text(sheet.stock, unit)}",
        *along,
        f"UNIT: {'inch' if unit == 'in' else 'millimetre'}",
        "FACE UP: as drawn",
        f"QUANTITY: cut this {kind} once, {counted(len(sheet.parts), 'part')}",
        "DRAWN TO NOMINAL SIZE: the offset for the cutter is the shop's",
        *held,
        *fixed_lines(sheet, unit),
        f"LAYER {Layer.NOTE_NO_CUT} IS NOT CUT: {kind} edge, {clear}these notes, check square",
    )


def thickness_text(stock: Sheet, unit: Unit) -> str:
    """Return the real thickness, and what the shop calls it where that differs."""
    real = with_unit(stock.thickness, unit)
    if stock.sold_as is None or stock.sold_as == stock.thickness:
        return real
    return f"{real} (sold as {with_unit(stock.sold_as, unit)})"


def size_text(stock: Sheet, unit: Unit) -> str:
    """Return a sheet's size along x and y: ``24 x 48 in``; of a piece off a roll, how long it is cut."""
    if stock.roll:
        width, length = with_unit(stock.width, unit), with_unit(stock.height, unit)
        return f"{width} wide, cut off the roll at {length}"
    return sides_text(stock.width, stock.height, unit)


def check_square(unit: Unit) -> tuple[float, str]:
    """Return the side in mm of the square that proves a file's unit, and its length in words."""
    return (25.4, "1 in") if unit == "in" else (25.0, "25 mm")


def _notes(lines: tuple[str, ...], width: float, height: float, unit: Unit) -> list[Mark]:
    """Set the check square at the right of the sheet's foot, and the lines above it."""
    side, said = check_square(unit)
    size = min(max(height / 80, 5.0), 15.0)
    left = width + NOTE_GAP
    marks: list[Mark] = [
        outlined(rectangle(side, side, at=Point(left, 0.0)), Layer.NOTE_NO_CUT),
        Text(Point(left + side + size, 0.0), f"CHECK SQUARE: {said}", size, Layer.NOTE_NO_CUT),
    ]
    for row, text in enumerate(reversed(lines)):
        y = side + size * (1.5 + 1.8 * row)
        marks.append(Text(Point(left, y), text, size, Layer.NOTE_NO_CUT))
    return marks
