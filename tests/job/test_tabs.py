"""Holding tabs: how they are asked for, inherited, and what is wrong with them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nestkit.job.understood import understood
from nestkit.stock.ways import Tabs
from tests.job.texts import PANEL, SHEET, TOP, mistakes, read

IN = Fraction("25.4")
ROUTER = '[cutting]\nhow = "router"\nkerf = "1/4"\n'


def ways(text: str, tmp_path):
    """Return the ways of a job whose cutting is this text."""
    return read(TOP + text + SHEET + PANEL, tmp_path).ways


def test_tabs_have_a_width_and_a_count_or_a_distance(tmp_path):
    """Both spellings are read; a way without the key has none."""
    assert ways(ROUTER, tmp_path)[0].tabs is None
    by_count = ways(ROUTER + 'tabs = { width = "1/4", count = 3 }\n', tmp_path)[0].tabs
    assert by_count == Tabs(IN / 4, count=3)
    by_length = ways(ROUTER + "[cutting.tabs]\nwidth = '6 mm'\nevery = 8\n", tmp_path)
    assert [w.tabs for w in by_length] == [Tabs(Fraction(6), every=8 * IN)]


def test_a_named_way_inherits_tabs_and_can_do_without(tmp_path):
    """Of the same machine tabs are inherited; count 0 is none; another machine inherits nothing."""
    usual = ROUTER + 'tabs = { width = "1/4", count = 3 }\n'
    fine = usual + '[cutting.fine]\nkerf = "1/8"\n[cutting.bare]\ntabs = { count = 0 }\n'
    fine += '[cutting.beam]\nhow = "laser"\nkerf = ".01"\n'
    assert [w.tabs for w in ways(fine, tmp_path)] == [Tabs(IN / 4, 3), Tabs(IN / 4, 3), None, None]


@pytest.mark.parametrize(
    ("tabs", "place", "said"),
    [
        ("3", "cutting, tabs", "a table is wanted"),
        ("{ count = 3 }", "cutting, tabs, width", "missing"),
        ('{ width = "1/4" }', "cutting, tabs", "one of count, every is wanted"),
        ('{ width = "1/4", count = 3, every = 8 }', "cutting, tabs, every", "cannot stand together"),
        ('{ width = "1/4", count = 101 }', "cutting, tabs, count", "out of range"),
        ('{ width = "1/4", count = -1 }', "cutting, tabs, count", "out of range"),
        ('{ width = "1/4", every = 0 }', "cutting, tabs, every", ""),
        ("{ width = 5, count = 3 }", "cutting, tabs, width", "out of range"),
        ("{ width = 0, count = 3 }", "cutting, tabs, width", ""),
        ('{ width = "1/4", number = 3 }', "cutting, tabs, number", "not a key of tabs"),
    ],
)
def test_wrong_tabs_say_where_and_what(tmp_path, tabs, place, said):
    """Each wrong value is a mistake at its place."""
    found = mistakes(TOP + ROUTER + f"tabs = {tabs}\n" + SHEET + PANEL, tmp_path)
    assert place in [m.place for m in found]
    assert any(said in m.text and m.remedy for m in found)


@pytest.mark.parametrize("how", ["saw", "jigsaw"])
def test_hand_and_saw_leave_no_tabs(tmp_path, how):
    """Tabs under a saw or jigsaw are a mistake: they cut each part free."""
    text = (
        TOP
        + f'[cutting]\nhow = "{how}"\nkerf = "1/8"\ntabs = {{ width = "1/4", count = 3 }}\n'
        + SHEET
        + PANEL
    )
    (one,) = mistakes(text, tmp_path)
    assert one.text == f"a {how} leaves no tabs"
    assert "router, laser or waterjet" in one.remedy


def test_check_says_what_was_understood(tmp_path):
    """Tabs and relief stand beside kerf and gap in what check prints."""
    job = read(
        TOP + ROUTER + 'tabs = { width = "1/4", count = 3 }\nrelief = "corners"\n' + SHEET + PANEL, tmp_path
    )
    assert "3 holding tabs a part, 1/4 in wide, inner corners relieved" in "\n".join(understood(job))
    job = read(TOP + ROUTER + 'tabs = { width = "1/4", every = 8 }\n' + SHEET + PANEL, tmp_path)
    assert "a holding tab every 8 in of edge, 1/4 in wide" in "\n".join(understood(job))
