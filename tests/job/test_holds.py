"""What is read of regions that are kept clear and of copies that are held."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.job.understood import understood
from nestkit.layout.lay_out import lay_out
from tests.job.texts import CUTTING, PANEL, SHEET, TOP, mistakes, read

INCH = Fraction("25.4")
REGIONS = """\
[[sheet.keep_clear]]
at = [1, "2 1/2"]
size = [3, "50.8 mm"]
why = "scratch"
[[sheet.keep_clear]]
at = [24, 48]
disc = 2
on = 3
"""
HOLDS = """\
quantity = 2
opposite_hand = 1
[[hold]]
part = "lid"
sheet = "PC 1/8 2x4"
at = ["203.2 mm", 20]
turn_deg = -90
[[hold]]
part = "lid"
opposite_hand = true
sheet = "PC 1/8 2x4"
on = 2
at = [1, 10]
"""


def test_regions_and_holds_are_read_to_the_digit(tmp_path):
    """Places in the job's unit or with their own, turns from 0 to 360, what is left out by its default."""
    group = read(TOP + CUTTING + SHEET + REGIONS + PANEL + HOLDS, tmp_path).groups[0]
    box, disc = group.sheets[0].keep_clear
    assert (box.left, box.bottom, box.right, box.top) == (INCH, 5 * INCH / 2, 4 * INCH, 9 * INCH / 2)
    assert (box.disc, box.on, box.why) == (False, None, "scratch")
    assert (disc.left, disc.bottom, disc.right, disc.top) == (23 * INCH, 47 * INCH, 25 * INCH, 49 * INCH)
    assert (disc.disc, disc.on, disc.why) == (True, 3, "")
    one, two = group.holds
    assert (one.panel, one.copy, one.opposite_hand, one.sheet, one.on) == ("lid", 1, False, "PC 1/8 2x4", 1)
    assert (one.x, one.y, one.turn) == (8 * INCH, 20 * INCH, 270)
    assert (two.copy, two.opposite_hand, two.on, two.turn) == (1, True, 2, 0)
    assert group.fixed
    assert group.sheets[0].clear_on(3) == (box, disc)
    assert group.sheets[0].clear_on(1) == (box,)


def test_what_was_understood_names_regions_and_holds(tmp_path):
    """The check says back which sheet, where, why and how turned."""
    job = read(TOP + CUTTING + SHEET + REGIONS + PANEL + HOLDS, tmp_path)
    lines = [line.strip() for line in understood(job)]
    assert "keep clear on every sheet of PC 1/8 2x4: x 1 to 4, y 2 1/2 to 4 1/2 in (scratch)" in lines
    assert "keep clear on PC 1/8 2x4, sheet 3: disc 2 in across, centre x 24, y 48 in" in lines
    assert "held: lid 1, on PC 1/8 2x4, sheet 1, at x 8, y 20 in, turned 270 degrees" in lines
    assert "held: lid 1, opposite hand, on PC 1/8 2x4, sheet 2, at x 1, y 10 in" in lines


def test_a_part_or_sheet_that_is_wrong_itself_is_not_blamed_on_its_hold(tmp_path):
    """One slip in a panel or in its stock is one mistake, whatever holds name them."""
    text = TOP + CUTTING + SHEET + PANEL + HOLDS
    assert len(mistakes(text.replace('size = ["14 1/2"', 'size = ["14 1/2 inchs"'), tmp_path)) == 1
    assert len(mistakes(text.replace("size = [24, 48]", "size = [24]"), tmp_path)) == 1


def test_all_mistakes_of_a_hold_are_told_at_once(tmp_path):
    """A wrong copy and a wrong turn of one hold are two mistakes of one run."""
    text = TOP + CUTTING + SHEET + PANEL + HOLDS.replace("turn_deg = -90", "turn_deg = 45\ncopy = 9")
    assert {m.place for m in mistakes(text, tmp_path)} == {"hold 1, turn_deg", "hold 1, copy"}


def test_a_part_that_may_lie_at_any_angle_is_held_at_any(tmp_path):
    """Under a router an angle of its own is kept to nine decimals."""
    router = CUTTING.replace("saw", "router") + "margin = 0\n"
    turned = HOLDS.replace("-90", "30.123456789").replace("203.2 mm", "25.4 mm")
    group = read(TOP + router + SHEET + PANEL + 'turn = "any"\n' + turned, tmp_path).groups[0]
    assert group.holds[0].turn == Fraction("30.123456789")


def test_with_alike_faces_a_copy_is_held_either_way_round(tmp_path):
    """Copies count over both hands; the hand of the hold says how it lies."""
    text = TOP + CUTTING + SHEET + PANEL + HOLDS.replace("quantity = 2", 'quantity = 2\nfaces = "alike"')
    held = read(text.replace("opposite_hand = true", "copy = 3\nopposite_hand = true"), tmp_path).groups[0]
    assert [(h.copy, h.opposite_hand) for h in held.holds] == [(1, False), (3, True)]


@pytest.mark.parametrize("cutting", [CUTTING, CUTTING.replace("saw", "router")])
def test_places_out_of_a_layout_can_be_held_as_they_are(tmp_path, cutting):
    """What a layout says in millimetres, given as text with its unit, is kept by the next layout."""
    text = TOP + cutting + SHEET + PANEL + "quantity = 5\n"
    first = lay_out(read(text, tmp_path), effort="quick").groups[0]
    for sheet in first.sheets:
        for p in sheet.parts:
            which = f'sheet = "{sheet.stock.name}"\non = {sheet.number}\n'
            text += (
                f'[[hold]]\npart = "lid"\ncopy = {p.copy}\n{which}'
                f'at = ["{float(p.x):.6f} mm", "{float(p.y):.6f} mm"]\nturn_deg = {p.turn}\n'
            )
    again = lay_out(read(text, tmp_path), effort="quick").groups[0]
    free = [tuple(replace(p, held=False) for p in s.parts) for s in again.sheets]
    assert [tuple((p.copy, p.x, p.y, p.turn) for p in row) for row in free] == [
        tuple((p.copy, p.x, p.y, p.turn) for p in s.parts) for s in first.sheets
    ]
    assert [s.cuts for s in again.sheets] == [s.cuts for s in first.sheets]
    assert (again.cost, again.proved) == (first.cost, first.proved)
