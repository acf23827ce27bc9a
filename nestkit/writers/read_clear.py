"""Compares the regions that are kept clear in a file that was read back with those of its sheet."""

from __future__ import annotations

from nestkit.drawing.keep_clear import crossed
from nestkit.drawing.layers import Layer
from nestkit.errors import ToolFault
from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Point
from nestkit.layout.result import CutSheet
from nestkit.writers.dxf_pool import TOLERANCE, Pool
from nestkit.writers.dxf_reader import Loop


def take_clear(sheet: CutSheet, loops: Pool[Loop], factor: float) -> None:
    """Take the lines of a sheet's regions out of a file's loops, each in its place and size.

    Raises :class:`~nestkit.errors.ToolFault` for the first that is missing or has another size.
    """
    for number, region in enumerate(sheet.keep_clear, 1):
        for drawn in crossed(region, sheet.stock):
            what = f"region {number} that is kept clear"
            found = loops.take(_middle(drawn), str(Layer.NOTE_NO_CUT), what).outline.bounds
            wanted = drawn.bounds
            if any(abs(a * factor - b) > TOLERANCE for a, b in zip(found, wanted, strict=True)):
                raise ToolFault(f"{what} has another size")


def _middle(outline: Outline) -> Point:
    count = len(outline.vertices)
    return Point(sum(v.x for v in outline.vertices) / count, sum(v.y for v in outline.vertices) / count)
