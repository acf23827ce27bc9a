"""Bars: defaults, sections of all kinds, what cuts them, and which of them need a price."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nestkit.geometry.section import Section
from tests.job.texts import BAR, CUTTING, PANEL, SHEET, SOUND_TUBE, TOP, TUBE, mistakes, only, read

IN = Fraction("25.4")
ROUTER = '[cutting]\nhow = "router"\nkerf = "1/4"\n'
HACKSAW = '[cutting.hacksaw]\nhow = "saw"\nkerf = "1/32"\n'


def test_defaults_of_a_bar_are_those_of_the_contract(tmp_path):
    """None on hand, to be bought, no trim, cut the usual way, and what a rest must have left to the rules."""
    (bar,) = read(SOUND_TUBE, tmp_path).bars
    assert (bar.name, bar.material, bar.place) == ("square 1", "aluminium 6061", 'bar "square 1"')
    assert bar.section == Section("tube", IN, IN, IN / 16)
    assert (bar.length, bar.price) == (96 * IN, 14)
    assert (bar.on_hand, bar.buy, bar.trim, bar.keep, bar.cut) == (0, True, 0, None, "")
    assert bar.line == SOUND_TUBE.split("\n").index("[[bar]]") + 1


def test_every_key_of_a_bar_is_read(tmp_path):
    """Counts, flags, trim, keep and way come out as they are written."""
    more = 'on_hand = 3\nbuy = false\ntrim = "1/4"\nkeep = 10\ncut = "hacksaw"\n'
    (bar,) = read(TOP + ROUTER + HACKSAW + BAR + more + TUBE, tmp_path).bars
    assert (bar.on_hand, bar.buy, bar.trim, bar.keep, bar.cut) == (3, False, IN / 4, 10 * IN, "hacksaw")
    assert bar.usable == 96 * IN - IN / 2


@pytest.mark.parametrize(
    ("written", "kind"),
    [
        ("1 x 2 x 1/8", "tube"),
        ("round 25 x 1.5 mm", "round"),
        ("rod 1/4", "rod"),
        ("angle 1 x 1 x 1/8", "angle"),
        ("strip 1 x 1/8", "strip"),
        ("roll 1", "roll"),
    ],
)
def test_every_section_of_the_contract_is_read(tmp_path, written, kind):
    """Square, rectangular and round tube, rod, angle, strip and what comes off a roll."""
    (bar,) = read(SOUND_TUBE.replace("1 x 1 x 1/16", written), tmp_path).bars
    assert bar.section.kind == kind


def test_a_roll_needs_no_saw(tmp_path):
    """What comes off a roll is cut with scissors, also in a job that has no saw; a trim of 0 may be said."""
    text = (TOP + ROUTER + BAR + "trim = 0\nkeep = 3\n" + TUBE).replace("1 x 1 x 1/16", "roll 1")
    job = read(text, tmp_path)
    (bar,) = job.bars
    assert (bar.roll, bar.cut, bar.trim, bar.keep) == (True, "", 0, 3 * IN)
    assert job.bar_groups[0].way is None


def test_bars_only_on_hand_need_no_price(tmp_path):
    """A price is for all that can be bought of one material and section; what is only here needs none."""
    rest = BAR.replace("square 1", "rest").replace("price = 14\n", "on_hand = 2\nbuy = false\n")
    other = (
        BAR.replace("square 1", "flat").replace("1 x 1 x 1/16", "strip 1 x 1/8").replace("price = 14\n", "")
    )
    bars = read(TOP + CUTTING + BAR + rest + other + TUBE, tmp_path).bars
    assert [bar.price for bar in bars] == [Fraction(14), None, None]


def test_each_bar_without_a_saw_is_told(tmp_path):
    """Every bar that nothing can cut is a mistake of its own, and beside others of the same bar."""
    text = TOP + ROUTER + BAR + BAR.replace("square 1", "second") + "trim = 99\n" + SHEET + PANEL
    assert [m.place for m in mistakes(text, tmp_path)] == [
        'bar "square 1", cut',
        'bar "second", cut',
        'bar "second", trim',
    ]


def test_a_wrong_saw_or_section_does_not_blame_the_bar(tmp_path):
    """A way that is wrong itself is told once; a section that is wrong may be a roll, which needs no saw."""
    saw = HACKSAW.replace('"1/32"', "-1")
    found = only(TOP + ROUTER + saw + BAR + 'cut = "hacksaw"\n' + TUBE, tmp_path)
    assert found.place == "cutting.hacksaw, kerf"
    found = only(TOP + ROUTER + BAR.replace("1 x 1 x 1/16", "rol 1") + SHEET + PANEL, tmp_path)
    assert found.place == 'bar "square 1", section'


def test_a_misspelt_way_of_a_bar_is_one_mistake(tmp_path):
    """Where cut is misspelt, the bar is not also blamed for going the usual way."""
    found = only(TOP + ROUTER + HACKSAW + BAR + 'cutt = "hacksaw"\n' + TUBE, tmp_path)
    assert (found.place, found.remedy) == ('bar "square 1", cutt', "Did you mean cut")
