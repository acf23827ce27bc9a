"""The last look at true outlines lets a sound sheet pass and catches what lies too near."""

from __future__ import annotations

import sys
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from nestkit.errors import ToolFault
from nestkit.job.reader import read_text
from nestkit.layout.lay_out import lay_out
from nestkit.writers.apart import check_apart

JOB = """
job = "apart"
unit = "mm"
[cutting]
how = "router"
kerf = 3
gap = 6
margin = 10
[[sheet]]
name = "HDPE"
material = "HDPE"
thickness = 6
size = [600, 400]
[[panel]]
name = "disc"
material = "HDPE"
thickness = 6
disc = 100
quantity = 6
[[panel]]
name = "plate"
material = "HDPE"
thickness = 6
size = [120, 80]
corner_radius = 15
opposite_hand = 2
"""


@pytest.fixture(scope="module")
def laid_group():
    """A group of round and rounded parts, laid out by their boxes on one sheet: neighbours lie at the gap."""
    return lay_out(read_text(JOB, Path()), shapes=None).groups[0]


def moved(sheet, index, dx, dy):
    """The sheet with one part moved."""
    part = sheet.parts[index]
    away = replace(part, x=part.x + Fraction(dx), y=part.y + Fraction(dy))
    return replace(sheet, parts=(*sheet.parts[:index], away, *sheet.parts[index + 1 :]))


def test_a_sound_sheet_passes(laid_group):
    """What the layout verified by boxes is sound by true outlines too."""
    for sheet in laid_group.sheets:
        check_apart(sheet, laid_group.group, file="x.dxf")
    assert laid_group.sheets


def test_parts_too_near_are_caught(laid_group):
    """A plate moved by a hundredth of a millimetre into its neighbour's gap is a fault, with both names."""
    sheet = laid_group.sheets[0]
    plates = [i for i, p in enumerate(sheet.parts) if p.panel.name == "plate"]
    first, second = (sheet.parts[i] for i in plates[:2])
    dx = 1 if second.x > first.x else 0
    dy = 1 if second.y > first.y else 0
    step = Fraction(1, 100)
    with pytest.raises(ToolFault, match="less than the gap"):
        check_apart(moved(sheet, plates[0], dx * step, dy * step), laid_group.group, file="x.dxf")


def test_a_part_on_the_border_is_caught(laid_group):
    """A part that enters the margin is a fault."""
    sheet = laid_group.sheets[0]
    corner = min(range(len(sheet.parts)), key=lambda i: sheet.parts[i].x + sheet.parts[i].y)
    with pytest.raises(ToolFault, match="over the border"):
        check_apart(moved(sheet, corner, "-0.01", 0), laid_group.group, file="x.dxf")


def test_overlaps_are_caught_where_no_gap_is_kept(laid_group):
    """With a gap of 0 parts may touch, but not lie on each other."""
    sheet = laid_group.sheets[0]
    touching = replace(laid_group.group, gap=Fraction(0))
    check_apart(sheet, touching, file="x.dxf")
    part = sheet.parts[0]
    other = sheet.parts[1]
    with pytest.raises(ToolFault):
        check_apart(moved(sheet, 1, part.x - other.x + 5, part.y - other.y), touching, file="x.dxf")
    assert "shapely" in sys.modules
