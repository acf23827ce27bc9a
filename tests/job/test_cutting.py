"""Ways of cutting: what a named way inherits, and margins."""

from __future__ import annotations

from fractions import Fraction

from nestkit.stock.ways import Margin
from tests.job.texts import CUTTING, PANEL, SHEET, TOP, read

IN = Fraction("25.4")


def test_a_named_way_of_the_same_machine_inherits(tmp_path):
    """A named way's keys replace those of [cutting]; what it does not say it takes from there."""
    cutting = CUTTING + 'gap = "1/4"\nstages = 2\n[cutting.thin]\nkerf = "1/16"\n'
    usual, thin = read(TOP + cutting + SHEET + PANEL, tmp_path).ways
    assert (thin.name, thin.how, thin.kerf, thin.gap, thin.stages) == (
        "thin", "saw", IN / 16, IN / 4, 2,
    )  # fmt: skip
    assert usual.kerf == IN / 8
    assert thin.place == "cutting.thin"


def test_a_named_way_of_another_machine_inherits_nothing(tmp_path):
    """If its how differs, nothing is inherited: gap, margin and stages are open again."""
    cutting = CUTTING + 'gap = 1\nmargin = 1\nstages = 2\n[cutting.sponsor]\nhow = "router"\nkerf = "1/4"\n'
    _, sponsor = read(TOP + cutting + SHEET + PANEL, tmp_path).ways
    assert (sponsor.gap, sponsor.margin, sponsor.stages, sponsor.kerf) == (None, None, 3, IN / 4)


def test_a_margin_is_one_length_or_sides(tmp_path):
    """A margin is one length for all sides, or a table whose missing sides are 0."""
    one = read(TOP + CUTTING + "margin = 1\n" + SHEET + PANEL, tmp_path).groups[0].margin
    assert one == Margin(IN, IN, IN, IN)
    two = read(TOP + CUTTING + 'margin = { left = 1, top = "1/2" }\n' + SHEET + PANEL, tmp_path)
    assert two.groups[0].margin == Margin(left=IN, top=IN / 2)
    three = read(TOP + CUTTING + "[cutting.margin]\nbottom = 2\n" + SHEET + PANEL, tmp_path)
    assert three.groups[0].margin == Margin(bottom=2 * IN)
    assert len(three.ways) == 1
