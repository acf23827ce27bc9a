"""Sheets: which of them need a price."""

from __future__ import annotations

from fractions import Fraction

from tests.job.texts import CUTTING, PANEL, SHEET, TOP, read


def test_pieces_only_on_hand_need_no_price(tmp_path):
    """A price is for all that can be bought of one material and thickness; what is only here needs none."""
    rest = SHEET.replace("PC 1/8 2x4", "rest").replace("price = 38.50\n", "on_hand = 2\nbuy = false\n")
    sheets = read(TOP + CUTTING + SHEET + rest + PANEL, tmp_path).sheets
    assert [(s.price, s.on_hand, s.buy) for s in sheets] == [(Fraction("38.5"), 0, True), (None, 2, False)]
    other = SHEET.replace("PC 1/8 2x4", "thick").replace('".118"', '".236"').replace('"1/8"', '"1/4"')
    unpriced = read(TOP + CUTTING + SHEET + other.replace("price = 38.50\n", "") + PANEL, tmp_path).sheets
    assert [s.price for s in unpriced] == [Fraction("38.5"), None]
