"""The picture of all sticks of a group for the summary: each kind once, with what it gives."""

from __future__ import annotations

from nestkit.drawing.model import Text
from nestkit.drawing.stick_summary import MOST, sticks_picture
from nestkit.estimate.cut_steps import sticks_alike
from nestkit.writers.svg import svg_bytes
from tests.cut_sticks import boat_angle, boat_frames, large_list, layout_of


def test_the_summarys_picture_has_every_kind_of_stick():
    """Its words name each kind, how many, what it gives and what is left; its SVG is the same twice."""
    page = sticks_picture(boat_frames(), "in")
    said = [m.text for m in page.marks if isinstance(m, Text)]
    assert "Sticks 1 to 3 (96 in): cut 3 alike" in said
    assert "7 x 1 1/2 in spacer" in said
    assert "Uses 91.94 of 96 in; 4.06 in left over: waste." in said
    assert svg_bytes(page) == svg_bytes(sticks_picture(boat_frames(), "in"))
    assert min(m.height for m in page.marks if isinstance(m, Text)) >= 3.4
    assert sticks_picture(layout_of([], unplaced=boat_angle().unplaced), "in") is None


def test_the_summarys_picture_ends_with_how_many_more_there_are():
    """Of hundreds of kinds the first are drawn."""
    laid = large_list()
    kinds = sticks_alike(laid)
    page = sticks_picture(laid, "in")
    more = sum(alike.count for alike in kinds[MOST:])
    said = [m.text for m in page.marks if isinstance(m, Text)]
    assert said[-1] == f"And {len(kinds) - MOST} more kinds, {more} sticks: see the cut plan."
    assert len(svg_bytes(page)) < 100_000
