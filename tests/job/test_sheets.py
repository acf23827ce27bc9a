"""Sheets: which of them need a price; goods off a roll."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nestkit.job.understood import understood
from tests.job.texts import CUTTING, PANEL, SHEET, TOP, read


def test_pieces_only_on_hand_need_no_price(tmp_path):
    """A price is for all that can be bought of one material and thickness; what is only here needs none."""
    rest = SHEET.replace("PC 1/8 2x4", "rest").replace("price = 38.50\n", "on_hand = 2\nbuy = false\n")
    sheets = read(TOP + CUTTING + SHEET + rest + PANEL, tmp_path).sheets
    assert [(s.price, s.on_hand, s.buy) for s in sheets] == [(Fraction("38.5"), 0, True), (None, 2, False)]
    other = SHEET.replace("PC 1/8 2x4", "thick").replace('".118"', '".236"').replace('"1/8"', '"1/4"')
    unpriced = read(TOP + CUTTING + SHEET + other.replace("price = 38.50\n", "") + PANEL, tmp_path).sheets
    assert [s.price for s in unpriced] == [Fraction("38.5"), None]


@pytest.mark.parametrize("word", ["roll", "Roll", "  ROLL "])
@pytest.mark.parametrize(("unit", "by"), [("in", Fraction("304.8")), ("mm", Fraction(1000))])
def test_a_roll_is_priced_by_the_foot_or_the_metre(word, unit, by, tmp_path):
    """Its width is read, y runs along the length, and the price is for a length that the unit names."""
    text = TOP.replace('"in"', f'"{unit}"') + CUTTING.replace('"1/8"', "1")
    text += SHEET.replace("[24, 48]", f'[300, "{word}"]').replace('"1/8"', "2").replace('".118"', "2")
    job = read(text + PANEL.replace('"1/8"', "2"), tmp_path)
    (roll,) = job.sheets
    assert roll.roll
    assert roll.width == 300 * (1 if unit == "mm" else Fraction("25.4"))
    assert roll.priced_by == by
    assert roll.cut_off(by / 2).full_price == Fraction("38.5") / 2
    assert job.groups[0].off_a_roll
    assert not any("100" in line and "wide" in line for line in understood(job))
    said = "\n".join(understood(job))
    assert f"300 {unit} wide, off the roll  38.50 a {'foot' if unit == 'in' else 'metre'}" in said


def test_rolls_of_several_widths_may_stand_side_by_side(tmp_path):
    """Two rolls of one material and thickness are stock of one group; grain is told as for sheets."""
    roll = SHEET.replace("[24, 48]", '[24, "roll"]\ngrain = "y"')
    wide = roll.replace("2x4", "wide").replace("[24,", "[36,")
    job = read(TOP + CUTTING + roll + wide + PANEL, tmp_path)
    assert [s.width / Fraction("25.4") for s in job.groups[0].sheets] == [24, 36]
    assert sum("grain along y" in line for line in understood(job)) == 2


def test_a_wide_margin_along_a_roll_is_no_mistake(tmp_path):
    """The margin at its ends makes the piece longer; only that at its edges takes of its width."""
    cutting = CUTTING + "margin = { bottom = 30, top = 30 }\n"
    job = read(TOP + cutting + SHEET.replace("[24, 48]", '[24, "roll"]') + PANEL, tmp_path)
    assert job.groups[0].margin.top == 30 * Fraction("25.4")
