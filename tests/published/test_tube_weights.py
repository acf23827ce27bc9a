"""Weights of tube and bar against figures from outside, each with its source beside it."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from nestkit.estimate.amounts import LB_PER_KG
from nestkit.stock.section import kg_per_m, read_section
from nestkit.trade.tables import read

IN2 = Fraction("645.16")
FOOT_M = 0.3048


@pytest.mark.parametrize("row", read("stock_tubes"), ids=lambda r: f"{r['material']} {r['size']}")
def test_every_stock_tube_has_the_section_and_weight_of_the_table(row):
    """Section, kg/m and lb/ft of the trade table, computed there by ab - (a - 2w)(b - 2w) and density."""
    section = read_section(row["size"], "in")
    assert [round(float(s) / 25.4, 4) for s in section.sizes] == [
        float(row[f"{name}_in"]) for name in ("width", "height", "wall")
    ]
    assert section.area() == pytest.approx(float(Fraction(row["section_in2"]) * IN2), rel=1e-12)
    kg = kg_per_m(section, row["material"])
    assert kg == pytest.approx(float(row["kg_per_m"]), abs=0.5001e-4)
    assert kg * LB_PER_KG * FOOT_M == pytest.approx(float(row["lb_per_ft"]), abs=0.5001e-4)


@pytest.mark.parametrize(
    ("text", "square_inches", "pounds_a_foot"),
    [
        # Worked by hand: 1 - .875^2 and 1 - .75^2 in2; x 12 in x 2700 kg/m3.
        ("1 x 1 x 1/16", "0.234375", 0.2743),
        ("1 x 1 x 1/8", "0.4375", 0.5121),
    ],
)
def test_square_tube_by_hand(text, square_inches, pounds_a_foot):
    """A 1 in square tube of 6061 has the section worked by hand, and its weight a foot."""
    section = read_section(text, "in")
    assert section.area() == pytest.approx(float(Fraction(square_inches) * IN2), rel=1e-12)
    kg = kg_per_m(section, "aluminum 6061")
    assert kg * FOOT_M * LB_PER_KG == pytest.approx(pounds_a_foot, abs=5e-5)


@pytest.mark.parametrize(("text", "listed"), [("1 x 1 x 1/16", 0.276), ("1 x 1 x 1/8", 0.515)])
def test_trade_lists_are_a_little_heavier(text, listed):
    """Supplier lists reckon with .098 lb/in3 and print .276 and .515 lb/ft (note of the trade table)."""
    section = read_section(text, "in")
    assert section.area() / float(IN2) * 12 * 0.098 == pytest.approx(listed, abs=5e-4)
    kg = kg_per_m(section, "aluminium 6061")
    assert kg * FOOT_M * LB_PER_KG == pytest.approx(listed, rel=0.01)


@pytest.mark.parametrize(
    ("text", "kilograms"),
    [
        # Common steel tables (from memory): 0.02466 kg/m x wall x (outside diameter - wall), and
        # 0.006165 kg/m x diameter^2 for round bar, both at 7850 kg/m3.
        ("round 42.4 x 2.6", 0.02466 * 2.6 * (42.4 - 2.6)),
        ("rod 10", 0.006165 * 100),
        ("strip 30 x 5", 30 * 5 * 0.00785),
    ],
)
def test_steel_by_the_usual_rules(text, kilograms):
    """Round tube, bar and flat of mild steel weigh what the usual factors give."""
    assert kg_per_m(read_section(text, "mm"), "mild steel") == pytest.approx(kilograms, rel=2e-4)


@pytest.mark.parametrize(
    ("text", "kilograms"),
    [
        # EN 10219-2 tables (from memory): 40 x 40 x 3 cold formed 3.30 kg/m, 60 x 40 x 3 4.25 kg/m.
        ("40 x 40 x 3", 3.30),
        ("60 x 40 x 3", 4.25),
    ],
)
def test_steel_tube_with_its_rounded_corners(text, kilograms):
    """With an outside radius of two walls the section gives the weight of the standard's tables."""
    section = read_section(text, "mm")
    assert section.area(2 * section.wall) * 7850 / 1e6 == pytest.approx(kilograms, rel=0.005)
    assert math.isclose(kg_per_m(section, "steel"), kilograms, rel_tol=0.06)
