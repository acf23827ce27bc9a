"""Regions that are kept clear and held copies: on pictures, in cutting files, the saw plan and the note."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import ezdxf
import pytest

from nestkit.drawing.keep_clear import crossed
from nestkit.drawing.layers import Layer
from nestkit.drawing.record import RecordPen
from nestkit.drawing.saw_plan import saw_plan_pages
from nestkit.drawing.sheet import sheet_drawing
from nestkit.drawing.sheet_page import sheet_pages
from nestkit.drawing.sheet_picture import sheet_picture, signs_text
from nestkit.errors import ToolFault
from nestkit.estimate.saw_steps import saw_steps
from nestkit.job.model import DxfOptions, Hold
from nestkit.layout.lay_out import lay_out
from nestkit.stock.keep_clear import KeepClear
from nestkit.writers.dxf import dxf_bytes
from nestkit.writers.hand_over import hand_over
from nestkit.writers.layout_json import layout_object
from nestkit.writers.read_back import compare_sheet
from tests.layout.made import group, job, panel, sheet

SCRATCH = KeepClear(Fraction(300), Fraction(250), Fraction(420), Fraction(330), on=1, why="scratch")
KNOT = KeepClear(Fraction(520), Fraction(20), Fraction(580), Fraction(80), disc=True)
CORNER = KeepClear(Fraction(-30), Fraction(360), Fraction(50), Fraction(440))


def made(how: str):
    """Return a job laid around three regions, one copy held, with its layout."""
    parts = [panel("lid", 200, 150, quantity=3), panel("side", 90, 60, quantity=2)]
    stock = sheet("ply", 600, 400, price=Fraction(10), keep_clear=(SCRATCH, KNOT, CORNER))
    hold = Hold("lid", 2, False, "ply", 1, Fraction(20), Fraction(30), 0)
    whole = job(replace(group(parts, [stock], how), holds=(hold,)))
    return whole, lay_out(whole, effort="quick")


def drawn(drawing):
    """Return what a drawing puts on a pen."""
    pen = RecordPen()
    drawing.draw(pen)
    return pen


@pytest.mark.parametrize("how", ["saw", "router"])
def test_the_picture_shows_regions_and_held_copies(how):
    """Each region is crossed and says KEEP CLEAR, with its word; held copies say HELD; both are explained."""
    whole, layout = made(how)
    laid = layout.groups[0]
    picture = sheet_picture(laid.sheets[0], laid.group, unit="mm", stem="ply-01")
    texts = [text for text, _ in drawn(picture).texts]
    assert "KEEP CLEAR: scratch" in texts
    assert any(text.endswith("HELD") for text in texts)
    signs = signs_text(laid.sheets[0], laid.group, "mm")
    assert "Crossed, KEEP CLEAR: x 300 to 420, y 250 to 330 mm, scratch" in signs
    assert "disc 60 mm across, centre x 550, y 50 mm" in signs
    assert "HELD: lies where the job says." in signs
    page = sheet_pages(whole, laid.group, laid.sheets[0], stem="ply-01")[0]
    assert any("KEEP CLEAR" in text for text, _ in drawn(page).texts)


def test_a_sheet_of_which_nothing_is_asked_says_nothing_of_it():
    """No crossed box and no word of regions or holds where there are none."""
    plain = job(group([panel("lid", 200, 150)], [sheet("ply", 600, 400)], "router"))
    laid = lay_out(plain, effort="quick").groups[0]
    texts = [t for t, _ in drawn(sheet_picture(laid.sheets[0], laid.group, unit="mm", stem="x")).texts]
    notes = [t for t, _ in drawn(sheet_drawing(laid.sheets[0], laid.group, unit="mm", stem="x")).texts]
    assert not any("KEEP CLEAR" in t or "HELD" in t for t in (*texts, *notes))


@pytest.mark.parametrize("version", ["R2010", "R2000", "R12"])
def test_the_cutting_file_has_regions_on_the_layer_that_is_not_cut(version, tmp_path):
    """Closed lines around and across each region, words in and beside it; read back, they are as asked."""
    _, layout = made("router")
    laid = layout.groups[0]
    on, options = laid.sheets[0], DxfOptions(version)
    drawing = sheet_drawing(on, laid.group, unit="mm", stem="ply-01")
    data = dxf_bytes(drawing, unit="mm", options=options)
    compare_sheet(data, on, unit="mm", options=options, file="ply-01.dxf")
    path = tmp_path / "ply-01.dxf"
    path.write_bytes(data)
    space = ezdxf.readfile(path).modelspace()
    texts = [t.dxf.text for t in space.query('TEXT[layer=="NOTE_NO_CUT"]')]
    assert "KEEP CLEAR: scratch" in texts
    assert "KEEP CLEAR: x 300 to 420, y 250 to 330 mm, scratch" in texts
    assert "HELD WHERE THE JOB SAYS: lid 2" in texts
    loops = [e for e in space.query("LWPOLYLINE POLYLINE") if e.dxf.layer == "NOTE_NO_CUT"]
    assert len(loops) == 2 + 3 * len(on.keep_clear)
    assert not [e for e in space if e.dxf.layer not in ("NOTE_NO_CUT", "PART_EDGE")]


def test_a_file_whose_region_lies_elsewhere_is_not_let_out():
    """Reading back compares place and size of every region."""
    _, layout = made("router")
    laid = layout.groups[0]
    on, options = laid.sheets[0], DxfOptions()
    data = dxf_bytes(sheet_drawing(on, laid.group, unit="mm", stem="x"), unit="mm", options=options)
    moved = replace(SCRATCH, left=SCRATCH.left + 1, right=SCRATCH.right + 1)
    wider = replace(SCRATCH, left=SCRATCH.left - 1, right=SCRATCH.right + 1)
    for other in ((moved, KNOT, CORNER), (wider, KNOT, CORNER), (SCRATCH, KNOT)):
        wrong = replace(on, stock=replace(on.stock, keep_clear=other))
        with pytest.raises(ToolFault, match="differs from the job"):
            compare_sheet(data, wrong, unit="mm", options=options, file="x.dxf")


@pytest.mark.parametrize("region", [SCRATCH, KNOT, CORNER])
def test_a_crossed_region_stays_on_its_sheet(region):
    """What hangs over the edge is cut off there; a disc within it is drawn as one."""
    stock = sheet("ply", 600, 400)
    edge, *sides = crossed(region, stock)
    box = edge.bounds
    assert min(box.left, box.bottom) >= 0
    assert box.top <= 400
    assert any(v.bulge for v in edge.vertices) is (region is KNOT)
    for side in sides:
        assert box.left <= side.bounds.left
        assert side.bounds.right <= box.right


def test_the_saw_plan_names_the_pieces_that_are_kept_clear():
    """A piece with a region is neither kept nor waste: KEEP CLEAR, and why."""
    whole, layout = made("saw")
    laid = layout.groups[0]
    steps = saw_steps(laid.sheets[0], laid.group.way.kerf, "mm")
    clear = [g for s in steps for g in s.gained if g.clear is not None]
    assert any(g.clear == "scratch" for g in clear)
    assert not any(g.keep or g.parts for g in clear)
    texts = " ".join(text for page in saw_plan_pages(whole, layout) for text, _ in drawn(page).texts)
    assert "KEEP CLEAR (scratch)" in texts
    assert "KEEP CLEAR: x 300 to 420, y 250 to 330 mm, scratch" in texts


@pytest.mark.parametrize("how", ["saw", "router"])
def test_the_note_for_the_shop_says_it(how):
    """Which region on which sheet, and which copy is held; layout.json has no new key."""
    whole, layout = made(how)
    note = " ".join(hand_over(whole, layout).split())
    assert "KEEP CLEAR: x 300 to 420, y 250 to 330 mm, scratch" in note
    assert "HELD WHERE THE JOB SAYS: lid 2" in note
    first = layout_object(whole, layout)["groups"][0]["sheets"][0]
    assert set(first) == {
        "stock", "files", "width_mm", "height_mm", "price", "on_hand", "parts", "offcuts", "cuts",
    }  # fmt: skip
    assert set(first["parts"][0]) == {"part", "copy", "opposite_hand", "x_mm", "y_mm", "turn_deg"}


def test_regions_are_marked_on_no_layer_that_is_cut():
    """Nothing of a region is drawn on a layer of parts."""
    _, layout = made("router")
    laid = layout.groups[0]
    pen = drawn(sheet_drawing(laid.sheets[0], laid.group, unit="mm", stem="x"))
    cut = [layer for layer, _, _ in pen.paths if layer is Layer.PART_EDGE]
    assert len(cut) == len(laid.sheets[0].parts)
