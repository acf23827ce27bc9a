"""Sheets and ways of cutting."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nestkit.stock.sheet import Sheet
from nestkit.stock.ways import Way


def test_a_sheet_knows_its_area():
    """Full area in square metres, exactly."""
    sheet = Sheet("a", 'sheet "a"', "mdf", Fraction(6), Fraction("609.6"), Fraction("1219.2"))
    assert sheet.area_m2 == Fraction("609.6") * Fraction("1219.2") / 10**6


@pytest.mark.parametrize(
    ("how", "straight", "round_tool"),
    [
        ("saw", True, False),
        ("jigsaw", False, False),
        ("router", False, True),
        ("laser", False, False),
        ("waterjet", False, False),
    ],
)
def test_what_a_machine_can_do(how, straight, round_tool):
    """Only a saw must cut from edge to edge; only a router leaves its radius in inner corners."""
    way = Way("", how, Fraction(3))
    assert (way.edge_to_edge, way.round_tool) == (straight, round_tool)
