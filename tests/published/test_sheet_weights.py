"""Weights of full sheets against figures worked by hand, each with its source in the table beside this."""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from nestkit.estimate.amounts import LB_PER_KG
from nestkit.estimate.estimate import sheet_kg
from nestkit.stock.sheet import Sheet
from nestkit.trade.materials import density

TABLE = Path(__file__).with_name("sheet_weights.csv")
with TABLE.open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))
INCH = Fraction(254, 10)


@pytest.mark.parametrize(
    "row", ROWS, ids=lambda r: f"{r['material']} {r['thickness_in'] or r['thickness_mm']}"
)
def test_a_full_sheet_weighs_what_the_table_says(row):
    """Width x length x real thickness x density gives the table's kilograms and pounds to its last digit."""
    if row["width_in"]:
        sizes = [Fraction(row[f"{side}_in"]) * INCH for side in ("width", "height", "thickness")]
    else:
        sizes = [Fraction(row[f"{side}_mm"]) for side in ("width", "height", "thickness")]
    stock = Sheet("x", "sheet", row["material"], sizes[2], sizes[0], sizes[1])
    material = density(row["material"])
    assert material is not None
    kg = sheet_kg(stock, material)
    assert kg == pytest.approx(float(row["kg"]), abs=0.0051)
    if row["lb"]:
        assert kg * LB_PER_KG == pytest.approx(float(row["lb"]), abs=0.0101)
    assert row["source"]


def test_pounds_by_their_definition():
    """A pound is 0.45359237 kg by the international agreement of 1959 (a definition)."""
    assert pytest.approx(1 / 0.45359237, rel=1e-7) == LB_PER_KG


def test_weight_per_area_in_both_systems():
    """kg/m2 x 0.204816 is lb/ft2, a conversion by definition; .118 in polycarbonate is 3.5966 kg/m2."""
    material = density("polycarbonate")
    assert material is not None
    square_metre = Sheet("x", "sheet", "polycarbonate", Fraction("2.9972"), Fraction(1000), Fraction(1000))
    kg = sheet_kg(square_metre, material)
    assert kg == pytest.approx(3.5966, abs=5e-5)
    square_foot = Sheet("x", "sheet", "polycarbonate", Fraction("2.9972"), 12 * INCH, 12 * INCH)
    assert sheet_kg(square_foot, material) * LB_PER_KG == pytest.approx(kg * 0.204816, rel=1e-5)
