"""The note for the shop says what a shop must know."""

from __future__ import annotations

import datetime
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from nestkit.job.model import DxfOptions
from nestkit.stock.ways import Tabs
from nestkit.trade.cautions import cautions
from nestkit.writers.hand_over import hand_over
from tests.laid_boat import LID, lid_job, placed, routed_job, simple_panel

GOLDEN = Path(__file__).resolve().parents[1] / "golden"


def test_the_note_of_a_routed_job():
    """The whole note, word for word, as golden/hand_over.txt has it."""
    job, layout = routed_job()
    assert hand_over(job, layout) == (GOLDEN / "hand_over.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("make", [lid_job, routed_job])
def test_every_sheet_is_named_with_what_it_is(make, unit):
    """Each file stands there with its stock, and the shop's own rules come first."""
    job, layout = make(unit=unit)
    text = hand_over(job, layout)
    for group in layout.groups:
        for sheet in group.sheets:
            assert sheet.stock.name in text
    assert text.count(".dxf") >= sum(len(g.sheets) for g in layout.groups)
    assert " ".join(text.split()).endswith(cautions("defer")[0])
    assert max(len(row) for row in text.splitlines()) <= 96


def test_equal_sheets_are_pointed_out():
    """A sheet cut like an earlier one says so, whichever copies lie on it."""
    job, layout = lid_job()
    laid = layout.groups[0]
    one = laid.sheets[0]
    twin = replace(one, number=2, parts=tuple(replace(p, copy=2) for p in one.parts))
    other = replace(one, number=3, parts=tuple(replace(p, turn=270) for p in one.parts))
    text = hand_over(job, replace(layout, groups=(replace(laid, sheets=(one, twin, other)),)))
    assert text.count("the same as pc-1-8-2x4-01.dxf") == 1
    assert "Sheets   3" in text


def test_the_layers_named_are_those_of_the_files():
    """With a single layer only its layers are named; R12 says what it cannot say."""
    job, layout = lid_job(dxf=DxfOptions(single_layer=True))
    assert "OPENING" not in hand_over(job, layout)
    assert "everything that is cut" in hand_over(job, layout)
    job, layout = lid_job(dxf=DxfOptions("R12"))
    assert "R12 files cannot say" in hand_over(job, layout)


def test_the_date_is_the_jobs_own():
    """The job's date is printed where it has one; no clock is asked."""
    job, layout = lid_job()
    assert "Date" not in hand_over(job, layout)
    assert "Date     2026-03-01" in hand_over(replace(job, date=datetime.date(2026, 3, 1)), layout)


def test_uneven_margins_are_said_side_by_side():
    """A margin that differs by side is said for each."""
    job, layout = routed_job()
    laid = layout.groups[0]
    group = replace(laid.group, margin=replace(laid.group.margin, left=laid.group.margin.left * 2))
    text = hand_over(job, replace(layout, groups=(replace(laid, group=group),)))
    assert "margin left 40 mm, right 20 mm" in " ".join(text.split())


def test_the_shop_hears_where_no_hand_is_mirrored():
    """Faces alike: both hands lie as drawn, which the note says of each such part, and of no other."""
    job, layout = lid_job()
    laid = layout.groups[0]

    def note(**values: object) -> str:
        panel = replace(LID, marks=(), **values)
        sheet = replace(laid.sheets[0], parts=(placed(panel, 1, 0, 0), placed(panel, 2, 0, 300)))
        return hand_over(job, replace(layout, groups=(replace(laid, sheets=(sheet,)),)))

    text = " ".join(note(opposite_hand=1, faces="alike").split())
    assert "Both hands cut as drawn, faces alike: console lid" in text
    assert "faces alike" not in note(quantity=2, faces="alike")
    assert "faces alike" not in note(opposite_hand=1)


def with_tabs(tabs: Tabs | None, *more):
    """The note of the routed job with a way that asks for tabs, and more parts on its first sheet."""
    job, layout = routed_job()
    laid = layout.groups[0]
    group = replace(laid.group, way=replace(laid.group.way, tabs=tabs))
    first = replace(laid.sheets[0], parts=(*laid.sheets[0].parts, *more))
    changed = replace(laid, group=group, sheets=(first, *laid.sheets[1:]))
    return " ".join(hand_over(job, replace(layout, groups=(changed,))).split())


def test_tabs_are_counted_for_the_shop():
    """All tabs on the sheets are counted, and those of each part; where there are fewer it says so."""
    narrow = simple_panel("peg", 13, 13)
    text = with_tabs(Tabs(Fraction(6), 3), placed(narrow, 1, 700, 300))
    assert "HOLDING_TAB short lines across an edge" in text
    assert "Holding tabs: 20 on these sheets, each 6 mm wide" in text
    assert "motor bracket: 3 =gusset: 3 peg: 2 of 3; no edge is straight enough for more" in text
    assert "Openings have none" in text
    assert "tab" not in with_tabs(None).replace("table", "")


def test_small_parts_are_named_with_what_holds_them():
    """Parts below 25 cm2 are named, with their tabs or the word that none holds them; others are not."""
    clip, plate = simple_panel("cable clip", 40, 40), simple_panel("plate", 50, 50)
    parts = (placed(clip, 1, 700, 300), placed(plate, 1, 800, 300))
    assert "cable clip, 16.0 cm2 (2.5 square inches): no tab holds it" in with_tabs(None, *parts)
    held = with_tabs(Tabs(Fraction(6), 2), *parts)
    assert "cable clip, 16.0 cm2 (2.5 square inches): held by 2 tabs" in held
    assert "plate, 25" not in held
    assert "Small parts" not in with_tabs(None)


def test_the_order_of_cutting_is_for_machines():
    """A shop with a router reads in which order to cut; a saw cuts by its own plan."""
    assert "common lines is left to the shop" in with_tabs(None)
    job, layout = lid_job()
    assert "Order of cutting" not in hand_over(job, layout)
