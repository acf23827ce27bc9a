"""Reading back passes what was written right and catches every planted fault."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis.strategies import booleans, integers, sampled_from

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Drawing, Path, Text
from nestkit.drawing.part import part_drawing
from nestkit.drawing.sheet import sheet_drawing
from nestkit.errors import ToolFault
from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point
from nestkit.job.model import DxfOptions
from nestkit.writers.dxf import dxf_bytes
from nestkit.writers.read_back import compare_part, compare_sheet
from tests.laid_boat import BRACKET, GUSSET, HATCH, LID, lid_job, placed, routed_job

OPTIONS = [DxfOptions(v, s) for v in ("R2010", "R2000", "R12") for s in (False, True)]


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("options", OPTIONS, ids=str)
def test_what_is_written_right_passes(options, unit):
    """Sheets and parts of both jobs pass in every version, unit and way of laying layers."""
    for _, layout in (lid_job(), routed_job()):
        for laid in layout.groups:
            for sheet in laid.sheets:
                data = dxf_bytes(
                    sheet_drawing(sheet, laid.group, unit=unit, stem="s"), unit=unit, options=options
                )
                compare_sheet(data, sheet, unit=unit, options=options, file="s.dxf")
    for panel in (LID, BRACKET, HATCH, GUSSET):
        for opposite in (False, True):
            data = dxf_bytes(part_drawing(panel, opposite), unit=unit, options=options)
            compare_part(data, panel, opposite, unit=unit, options=options, file="p.dxf")


@settings(max_examples=25, deadline=None)
@given(
    panel=sampled_from([LID, BRACKET, HATCH, GUSSET]),
    turn=sampled_from([0, 90, 180, 270, 13, 215]),
    opposite=booleans(),
    x=integers(0, 9_000_000),
    y=integers(0, 9_000_000),
    unit=sampled_from(["in", "mm"]),
)
def test_any_place_on_a_sheet_passes(panel, turn, opposite, x, y, unit):
    """Wherever and however a part lies, drawing and reading back agree on its place."""
    _, layout = lid_job()
    laid = layout.groups[0]
    part = placed(panel, 1, Fraction(x, 40_000), Fraction(y, 40_000), turn, opposite)
    sheet = replace(laid.sheets[0], parts=(part,))
    data = dxf_bytes(sheet_drawing(sheet, laid.group, unit=unit, stem="s"), unit=unit, options=DxfOptions())
    compare_sheet(data, sheet, unit=unit, options=DxfOptions(), file="s.dxf")


def changed(drawing: Drawing, index: int, **values) -> Drawing:
    """Return a drawing with one mark changed."""
    marks = list(drawing.marks)
    marks[index] = replace(marks[index], **values)
    return replace(drawing, marks=tuple(marks))


def first(drawing: Drawing, kind: type, layer: Layer) -> int:
    """Return the place of the first mark of a kind on a layer."""
    return next(i for i, m in enumerate(drawing.marks) if isinstance(m, kind) and m.layer is layer)


def planted():
    """Yield drawings of the lid with one fault each, and what is said about it."""
    good = part_drawing(LID)
    hole = first(good, Circle, Layer.DRILLED_HOLE)
    opening = first(good, Path, Layer.OPENING)
    text = first(good, Text, Layer.MARK)
    yield changed(good, hole, radius=2.81), "hole 1 .* is 5.6200 mm wide, not 5.6134"
    yield changed(good, hole, centre=Point(12.7, 12.7001)), "hole 1 .* is not at 12.7000, 12.7000"
    yield changed(good, hole, layer=Layer.OPENING), "hole 1 .* on layer DRILLED_HOLE"
    yield replace(good, marks=good.marks[:hole] + good.marks[hole + 1 :]), "hole 1 .* is not at"
    yield replace(good, marks=(*good.marks, good.marks[hole])), "1 mark.s. that belong to no part"
    yield replace(good, marks=(*good.marks, good.marks[0])), "1 mark.s. that belong to no part"
    edge = good.marks[0].vertices
    yield (
        changed(good, 0, vertices=tuple(Vertex(v.x, v.y, -v.bulge) for v in edge)),
        "the edge of .* mm long|encloses",
    )
    yield changed(good, 0, vertices=tuple(Vertex(v.x, v.y, v.bulge * 1.01) for v in edge)), "the edge of"
    yield changed(good, 0, vertices=edge[:-1]), "the edge of"
    moved = tuple(Vertex(v.x + 0.001, v.y, v.bulge) for v in good.marks[opening].vertices)
    yield changed(good, opening, vertices=moved), "cutout of .* is not at"
    swung = (
        Vertex(edge[0].x + 0.01, edge[0].y, edge[0].bulge),
        Vertex(edge[1].x - 0.01, *edge[1][1:]),
        *edge[2:],
    )
    yield changed(good, 0, vertices=swung), "the edge of"
    sheared = tuple(
        Vertex(v.x, v.y, b) for v, b in zip(edge, [*[v.bulge for v in edge[1:]], edge[0].bulge], strict=True)
    )
    yield changed(good, 0, vertices=sheared), "the edge of"
    yield changed(good, text, text="LID B"), "mark 'LID A' .* reads 'LID B'"
    yield changed(good, text, at=Point(0, 0)), "mark 'LID A'"
    yield part_drawing(LID, True), "mark 'LID A'|hole|cutout"
    yield Drawing(10, 10, ()), "it is empty"


@pytest.mark.parametrize(
    ("drawing", "said"), list(planted()), ids=lambda v: v[:24] if isinstance(v, str) else ""
)
def test_planted_faults_are_caught(drawing, said):
    """A wrong size, place, layer, hand, a lost or doubled mark: each is a fault of the tool."""
    data = dxf_bytes(drawing, unit="in", options=DxfOptions())
    with pytest.raises(ToolFault, match=f"lid.dxf was read back and differs from the job: .*({said})"):
        compare_part(data, LID, False, unit="in", options=DxfOptions(), file="lid.dxf")


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (rb"\$INSUNITS\n 70\n1", b"$INSUNITS\n 70\n4", "INSUNITS is not 1"),
        (rb"\$MEASUREMENT\n 70\n0", b"$MEASUREMENT\n 70\n1", "MEASUREMENT is not 0"),
        (rb"AC1024", b"AC1015", "version is AC1015"),
        (rb"\$EXTMAX\n 10\n14.5", b"$EXTMAX\n 10\n15.5", "extents"),
        (rb"290\n0\n", b"290\n1\n", "would be plotted"),
        (rb"  2\nMARK\n", b"  2\nMARKS\n", "lacks the layer MARK"),
        (rb"AcDbEntity\n  8\nOPENING\n", b"AcDbEntity\n  8\n0\n", "lies on layer 0"),
    ],
    ids=["unit", "measurement", "version", "extents", "plot", "layer", "layer 0"],
)
def test_a_wrong_head_is_caught(old, new, said):
    """Unit, version, extents and layers of the file are compared too."""
    data = dxf_bytes(part_drawing(LID), unit="in", options=DxfOptions())
    wrong, count = re.subn(old, new, data)
    assert count
    with pytest.raises(ToolFault, match=said):
        compare_part(wrong, LID, False, unit="in", options=DxfOptions(), file="lid.dxf")


def test_arcs_that_changed_places_are_caught():
    """An arc out and an arc in that are swapped keep area and length: the edges themselves are compared."""
    bumps = [(0, 0, 0.3), (40, 0, 0), (60, 0, -0.3), (100, 0, 0), (100, 50, 0), (0, 50, 0)]
    swapped = [(x, y, -b) for x, y, b in bumps]
    right, wrong = (
        replace(GUSSET, outline=Outline(tuple(Vertex(*v) for v in vs))) for vs in (bumps, swapped)
    )
    assert right.outline.area == pytest.approx(wrong.outline.area)
    assert right.outline.length == pytest.approx(wrong.outline.length)
    box = right.outline.bounds
    marks = part_drawing(wrong).marks
    moved = replace(marks[0], vertices=wrong.outline.moved(-box.left, -box.bottom).vertices)
    data = dxf_bytes(Drawing(100, 60, (moved,)), unit="mm", options=DxfOptions())
    with pytest.raises(ToolFault, match="a corner or an arc of the edge"):
        compare_part(data, right, False, unit="mm", options=DxfOptions(), file="p.dxf")


def test_the_wrong_unit_is_caught():
    """A file in inches for a job in mm, 25.4 times out, is never handed over."""
    data = dxf_bytes(part_drawing(LID), unit="in", options=DxfOptions("R12"))
    with pytest.raises(ToolFault, match="the edge of"):
        compare_part(data, LID, False, unit="mm", options=DxfOptions("R12"), file="lid.dxf")


def test_a_sheet_that_lacks_a_part_is_caught():
    """Lost, moved and turned parts of a sheet are caught, and a check square of a wrong size."""
    _, layout = routed_job()
    laid = layout.groups[0]
    sheet = laid.sheets[0]
    one = sheet.parts[0]
    for wrong in (
        replace(sheet, parts=sheet.parts[1:]),
        replace(sheet, parts=(replace(one, x=one.x + Fraction(1, 1000)), *sheet.parts[1:])),
        replace(sheet, parts=(placed(one.panel, 1, one.x, one.y, 180), *sheet.parts[1:])),
        replace(sheet, parts=(replace(one, opposite_hand=True), *sheet.parts[1:])),
    ):
        data = dxf_bytes(
            sheet_drawing(wrong, laid.group, unit="mm", stem="s"), unit="mm", options=DxfOptions()
        )
        with pytest.raises(ToolFault, match=r"s\.dxf"):
            compare_sheet(data, sheet, unit="mm", options=DxfOptions(), file="s.dxf")
    inches = sheet_drawing(sheet, laid.group, unit="in", stem="s")
    data = dxf_bytes(inches, unit="mm", options=DxfOptions())
    with pytest.raises(ToolFault, match="check square"):
        compare_sheet(data, sheet, unit="mm", options=DxfOptions(), file="s.dxf")
