"""Tubes that no bar can hold are told before anything is laid out, with the nearest slip."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.checks.all_checks import examine
from nestkit.checks.tube_stock import no_bar, saw_without_kerf, too_long_for_bars
from tests import laid_tubes
from tests.laid_tubes import INCH, bar, job, tube


def test_the_boat_has_bars_for_all():
    """A job whose tubes all have a bar of their section, long enough, has no finding of stock."""
    made = laid_tubes.boat()
    assert not [*no_bar(made), *too_long_for_bars(made)]


def test_another_section_is_offered_the_nearest_first():
    """No bar of the section: the tubes are named, the sections that there are, and the likeliest slip."""
    frame = tube("deck frame", "1 x 1 x 1/16", "22")
    bars = [bar("angle 1 x 1 x 1/8"), bar("2 x 2 x 1/8"), bar("1 x 1 x 1/8", name="square 1")]
    (found,) = no_bar(job(frame, bars=bars))
    assert (found.level, found.rule, found.place) == ("error", "", 'tube "deck frame"')
    assert found.text == (
        'there is no bar of aluminium 6061 1 x 1 x 1/16 to cut "deck frame" from; of aluminium 6061 there is '
        '1 x 1 x 1/8 ("square 1"), 2 x 2 x 1/8 ("2 x 2 x 1/8 stock"), angle 1 x 1 x 1/8 '
        '("angle 1 x 1 x 1/8 stock")'
    )
    assert found.remedy == (
        'add a [[bar]] of aluminium 6061 1 x 1 x 1/16, or write the section as the bar does: "1 x 1 x 1/8"'
    )


def test_a_material_under_another_name_is_offered():
    """Of the section, but of a material by another name: the remedy says the bar's."""
    bars = [bar("1 x 1 x 1/16", material="aluminium")]
    (found,) = no_bar(job(tube("deck frame", "1 x 1 x 1/16", "22"), bars=bars))
    assert "the bars are of aluminium" in found.text
    assert found.remedy.endswith('or write the material as the bar does: "aluminium"')


def test_no_bar_at_all():
    """A job without bars is told as such, and nothing is offered."""
    (found,) = no_bar(job(tube("deck frame", "1 x 1 x 1/16", "22"), bars=[]))
    assert "the job has no bar at all" in found.text
    assert found.remedy == "add a [[bar]] of aluminium 6061 1 x 1 x 1/16"


@pytest.mark.parametrize(("buy", "on_hand", "fires"), [(True, 0, False), (False, 1, False), (False, 0, True)])
def test_a_bar_that_is_neither_bought_nor_here(buy, on_hand, fires):
    """A bar that cannot be bought and of which none is here is no stock."""
    made = job(tube("frame", "1 x 1 x 1/16", "22"), bars=[bar("1 x 1 x 1/16", buy=buy, on_hand=on_hand)])
    assert bool(found := list(no_bar(made))) == fires
    assert all("can neither be bought nor is any on hand" in f.text for f in found)
    assert bool(list(too_long_for_bars(made))) is False


@pytest.mark.parametrize(
    ("length", "fires"), [("95 1/2", False), ("95.501", True), ("96", True), ("22", False)]
)
def test_a_part_longer_than_the_longest_bar_between_its_trims(length, fires):
    """96 in less 1/4 in at each end hold 95 1/2 in, and nothing longer."""
    part = tube("side rail", "1 x 1 x 1/16", length)
    found = list(
        too_long_for_bars(job(part, bars=[bar("1 x 1 x 1/16", "48"), bar("1 x 1 x 1/16", name="long")]))
    )
    assert bool(found) == fires
    if fires:
        assert found[0].level == "error"
        assert found[0].text.startswith(f"no bar is long enough for it, {length.lstrip('0')} in: ")
        assert '"long" leaves 95 1/2 in between its trims' in found[0].text
        assert "lessen the trim" in found[0].remedy


def test_a_roll_is_called_one():
    """Off a roll there is no trim to lessen."""
    strip = tube("edge trim", "roll 1/2", 11 * 96 * INCH)
    (found,) = too_long_for_bars(job(strip, unit="mm"))
    assert found.text.startswith("no roll is long enough")
    assert "trim" not in found.remedy


def test_a_tube_that_is_not_made_has_no_findings():
    """Of quantity 0 nothing is cut: neither stock nor holes of it are looked at."""
    part = tube("deck frame", "1 x 1 x 1/16", "400", laid_tubes.group("row", "A", "-2", "500"))
    assert len(examine(job(part, bars=[bar("1 x 1 x 1/16")]))) >= 2
    assert not examine(job(replace(part, quantity=0), bars=[bar("1 x 1 x 1/16")]))
    assert not examine(job(replace(part, quantity=0), bars=[]))
    assert examine(job(replace(part, quantity=0, spare_if_room=1), bars=[]))


def test_findings_of_tubes_come_after_those_of_panels_in_the_order_of_the_job(build):
    """Errors first; among them panels, then tubes, each in the job's own order."""
    sheets = build.job(build.panel("lid", width=5000), build.panel("tray", width=4000))
    tubes = job(tube("b", "1 x 1 x 1/16", "400"), tube("a", "1 x 1 x 1/16", "300"))
    both = replace(sheets, tubes=tubes.tubes, bars=tubes.bars, bar_groups=tubes.bar_groups)
    assert [f.place for f in examine(both)] == ['panel "lid"', 'panel "tray"', 'tube "b"', 'tube "a"']
    assert examine(both) == examine(both)


def test_lengths_on_the_grid_are_judged_as_the_layout_judges_them():
    """A part longer than its bar by less than a grid step does not fit, since parts round up."""
    part = tube("rod", "rod 1/4", 100 + Fraction(1, 10**9))
    assert list(too_long_for_bars(job(part, bars=[bar("rod 1/4", 100, trim=Fraction(0))])))
    whole = replace(part, length=Fraction(100))
    assert not list(too_long_for_bars(job(whole, bars=[bar("rod 1/4", 100, trim=Fraction(0))])))


@pytest.mark.parametrize(("kerf", "fires"), [(Fraction(0), True), (Fraction(1, 1000), False)])
def test_a_saw_without_a_kerf(kerf, fires):
    """A saw that takes nothing leaves no room for its cuts: an advice, once a way of cutting."""
    frame, stay = tube("frame", "1 x 1 x 1/16", "22"), tube("stay", "rod 1/4", "5")
    made = job(frame, stay, bars=[bar("1 x 1 x 1/16"), bar("rod 1/4")])
    way = made.bar_groups[0].way
    groups = tuple(replace(group, way=replace(way, kerf=kerf)) for group in made.bar_groups)
    found = list(saw_without_kerf(replace(made, bar_groups=groups)))
    assert bool(found) == fires
    assert [(f.level, f.rule, f.place) for f in found] == [("advice", "R035", "cutting")] * fires
    assert all("the cuts take no length" in f.text for f in found)


def test_a_roll_has_no_kerf_to_set():
    """Scissors take nothing: what comes off a roll is not told of."""
    edge = tube("edge", "roll 1/2", "22", material="rubber")
    assert not list(saw_without_kerf(job(edge, bars=[bar("roll 1/2", material="rubber", trim=Fraction(0))])))
