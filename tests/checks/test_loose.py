"""Small parts that may come loose are named; large ones, held ones and sawn ones are not."""

from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.checks.loose import small_parts_come_loose
from nestkit.geometry.shapes import rectangle
from nestkit.stock.ways import Tabs


def cut(build, width, height, how="router", tabs=None, unit="mm"):
    """The findings for one rectangle cut one way."""
    made = build.panel(outline=rectangle(width, height), width=Fraction(width), height=Fraction(height))
    job = build.job(made, how=how, kerf="6", unit=unit)
    group = replace(job.groups[0], way=replace(job.groups[0].way, tabs=tabs))
    return list(small_parts_come_loose(replace(job, groups=(group,))))


@pytest.mark.parametrize(("side", "fires"), [(49, True), (50, False)])
@pytest.mark.parametrize("how", ["router", "laser", "waterjet"])
def test_below_the_rule_a_part_may_come_loose(build, side, fires, how):
    """Below 25 cm2 it fires, at 25 it is silent, under every machine."""
    found = cut(build, 50, side, how)
    assert bool(found) == fires
    if fires:
        assert (found[0].level, found[0].rule) == ("advice", "R131")
        assert found[0].text.startswith("24.5 cm2 (3.8 square inches): so small a part may come loose")
        assert "tabs = { width = 6, count = 3 } under [cutting]" in found[0].remedy


def test_the_remedy_is_in_the_jobs_unit(build):
    """An inch job reads inches."""
    assert 'width = "1/4"' in cut(build, 40, 40, unit="in")[0].remedy


def test_tabs_that_hold_silence_it(build):
    """With a tab it is silent; where no edge has room for one it fires and says so."""
    assert not cut(build, 40, 40, tabs=Tabs(Fraction(6), 2))
    (one,) = cut(build, 10, 10, tabs=Tabs(Fraction(6), 2))
    assert "no edge with room for a holding tab" in one.text


@pytest.mark.parametrize("how", ["saw", "jigsaw"])
def test_by_hand_nothing_is_said(build, how):
    """A part sawn by hand is held by hand."""
    assert not cut(build, 20, 20, how)
