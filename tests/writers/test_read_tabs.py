"""Holding tabs in cutting files: lines on their own layer, read back, and read by another program."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pyogrio
import pytest
import shapely

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, line
from nestkit.drawing.sheet import sheet_drawing
from nestkit.errors import ToolFault
from nestkit.geometry.points import Point
from nestkit.job.model import DxfOptions
from nestkit.stock.ways import Tabs
from nestkit.writers.dxf import dxf_bytes
from nestkit.writers.read_back import compare_sheet
from tests.laid_boat import routed_job

_, LAYOUT = routed_job()
SHEET = LAYOUT.groups[0].sheets[0]
WAY = replace(LAYOUT.groups[0].group.way, tabs=Tabs(Fraction(6), 3))
DRAWN = sheet_drawing(SHEET, replace(LAYOUT.groups[0].group, way=WAY), unit="mm", stem="s")
OPTIONS = [DxfOptions(v, s) for v in ("R2010", "R2000", "R12") for s in (False, True)]


def compare(drawing: Drawing, options: DxfOptions | None = None, cut=WAY, unit="mm") -> bytes:
    """Write a drawing of the sheet and compare it with the sheet."""
    options = options or DxfOptions()
    data = dxf_bytes(drawing, unit=unit, options=options)
    compare_sheet(data, SHEET, unit=unit, options=options, file="s.dxf", cut=cut)
    return data


@pytest.mark.parametrize("options", OPTIONS, ids=str)
def test_tabs_pass_in_every_version(options):
    """Every version has the tabs on a layer of their own, also where all that is cut is on one."""
    assert b"HOLDING_TAB" in compare(DRAWN, options)


def test_tabs_pass_in_inches():
    """In a file in inches the same tabs are found."""
    compare(sheet_drawing(SHEET, replace(LAYOUT.groups[0].group, way=WAY), unit="in", stem="s"), unit="in")


def test_another_program_finds_them(tmp_path):
    """GDAL reads three lines for each part, each crossing one edge, each as long as the cut is wide."""
    path = tmp_path / "s.dxf"
    path.write_bytes(compare(DRAWN))
    _, _, blobs, (layers, *_) = pyogrio.raw.read(path, columns=["Layer"])
    shapes = shapely.from_wkb(blobs)
    tabs = shapes[layers == "HOLDING_TAB"]
    edges = shapes[layers == "PART_EDGE"]
    assert len(tabs) == 3 * len(SHEET.parts)
    for tab in tabs:
        assert tab.length == pytest.approx(6.35)
        assert sum(tab.crosses(edge) for edge in edges) == 1


def tabs_of(drawing: Drawing) -> list[int]:
    """The places of the tabs among a drawing's marks."""
    return [i for i, m in enumerate(drawing.marks) if getattr(m, "layer", None) is Layer.HOLDING_TAB]


def with_tab(start: Point, end: Point, *, instead: bool = True) -> Drawing:
    """The drawing with another line in place of its first tab, or beside it."""
    first = tabs_of(DRAWN)[0]
    marks = list(DRAWN.marks)
    marks[first : first + instead] = [line(start, end, Layer.HOLDING_TAB)]
    return replace(DRAWN, marks=tuple(marks))


def test_planted_faults_are_caught():
    """A tab that is lost, added, moved, too short or turned along the edge is a fault of the tool."""
    first = DRAWN.marks[tabs_of(DRAWN)[0]]
    a, b = (v.point for v in first.vertices)
    middle = Point((a.x + b.x) / 2, (a.y + b.y) / 2)
    lost = replace(DRAWN, marks=tuple(m for m in DRAWN.marks if m is not first))
    along = Point(-(b.y - a.y) / 2, (b.x - a.x) / 2)
    for wrong, said in (
        (lost, "a holding tab of .* is not at"),
        (with_tab(Point(900, 300), Point(906, 300), instead=False), "1 mark.s. that belong to no part"),
        (with_tab(a.moved(0.01, 0), b.moved(0.01, 0)), "a holding tab of .* is not at"),
        (with_tab(middle.moved(0, -1), middle.moved(0, 1)), "2.0000 mm long"),
        (with_tab(middle.moved(-along.x, -along.y), middle.moved(*along)), "does not lie across its edge"),
    ):
        with pytest.raises(ToolFault, match=said):
            compare(wrong)
    with pytest.raises(ToolFault, match="that belong to no part"):
        compare(DRAWN, cut=None)
