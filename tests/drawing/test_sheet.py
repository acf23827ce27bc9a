"""A sheet's cutting file: parts on the sheet, notes beside it."""

from __future__ import annotations

import pytest

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Path, Text
from nestkit.drawing.sheet import sheet_drawing, sheet_notes, thickness_text
from tests.laid_boat import LID, PC, PLY, lid_job, routed_job

CASES = [(job, laid.group, sheet) for job, layout in (lid_job(), routed_job()) for laid in layout.groups
         for sheet in laid.sheets]  # fmt: skip


@pytest.mark.parametrize(("job", "group", "sheet"), CASES, ids=lambda v: getattr(v, "number", ""))
def test_notes_stand_beside_the_sheet(job, group, sheet):
    """On the sheet lie its edge and its parts; notes and check square stand at its right, at x, y >= 0."""
    drawing = sheet_drawing(sheet, group, unit=job.unit, stem="ply-12-01")
    notes = [m for m in drawing.marks if m.layer is Layer.NOTE_NO_CUT]
    edge, *beside = notes
    assert edge.bounds == (0, 0, float(sheet.stock.width), float(sheet.stock.height))
    assert all(m.bounds.left >= float(sheet.stock.width) for m in beside)
    assert all((m.at.y if isinstance(m, Text) else m.bounds.bottom) >= 0 for m in beside)
    parts = [m for m in drawing.marks if m.layer is not Layer.NOTE_NO_CUT]
    assert sum(m.layer is Layer.PART_EDGE for m in parts) == len(sheet.parts)
    for mark in parts:
        if isinstance(mark, Path | Circle):
            assert mark.bounds.left >= -1e-9
            assert mark.bounds.right <= float(sheet.stock.width) + 1e-9


@pytest.mark.parametrize(("unit", "side", "said"), [("in", 25.4, "1 in"), ("mm", 25.0, "25 mm")])
def test_the_check_square_is_of_known_size(unit, side, said):
    """Beside the sheet stands a square of 1 in or 25 mm, and a text that says so."""
    _, layout = lid_job(unit=unit)
    drawing = sheet_drawing(layout.groups[0].sheets[0], layout.groups[0].group, unit=unit, stem="x")
    square = [m for m in drawing.marks if isinstance(m, Path) and m.layer is Layer.NOTE_NO_CUT][1]
    assert square.bounds.width == pytest.approx(side)
    assert square.bounds.height == pytest.approx(side)
    assert any(isinstance(m, Text) and m.text == f"CHECK SQUARE: {said}" for m in drawing.marks)


def test_the_notes_say_what_a_shop_must_know():
    """Material, real thickness and trade name, size, unit, face, count, nominal size, what is not cut."""
    _, layout = lid_job()
    laid = layout.groups[0]
    text = "\n".join(sheet_notes(laid.sheets[0], laid.group, unit="in", stem="pc-1-8-2x4-01"))
    for said in (
        "pc-1-8-2x4-01",
        "polycarbonate",
        ".118 in (sold as 1/8 in)",
        "24 x 48 in",
        "inch",
        "FACE UP",
        "1 part",
        "NOMINAL",
        "NOTE_NO_CUT IS NOT CUT",
    ):
        assert said in text


def test_the_trade_name_is_said_only_where_it_differs():
    """A sheet without a trade name shows its real thickness alone."""
    assert thickness_text(PLY, "mm") == "12 mm"
    assert thickness_text(PC, "in") == ".118 in (sold as 1/8 in)"


def test_lines_of_notes_do_not_run_into_each_other():
    """Notes are one below the other, the lowest above the check square."""
    _, layout = routed_job()
    laid = layout.groups[0]
    drawing = sheet_drawing(laid.sheets[1], laid.group, unit="mm", stem="x")
    texts = [m for m in drawing.marks if isinstance(m, Text) and m.layer is Layer.NOTE_NO_CUT]
    boxes = [t.bounds for t in texts]
    assert not any(a.meets(b) for i, a in enumerate(boxes) for b in boxes[i + 1 :])
    assert LID.name not in "".join(t.text for t in texts)
