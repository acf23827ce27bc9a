"""Tubes and bars find each other by material and section, in groups that one saw cuts."""

from __future__ import annotations

from fractions import Fraction

from tests.job.texts import BAR, CUTTING, SOUND_TUBE, TOP, TUBE, read

ROUTER = '[cutting]\nhow = "router"\nkerf = "1/4"\n'
HACKSAW = '[cutting.hacksaw]\nhow = "saw"\nkerf = "1/32"\n'


def turned(text: str, section: str) -> str:
    """Return a bar or tube of another section."""
    return text.replace("1 x 1 x 1/16", section)


def test_sections_are_one_stock_however_they_are_turned(tmp_path):
    """A 1 x 2 tube is cut from 2 x 1 bar; material is compared as the trade writes it."""
    text = TOP + CUTTING + turned(BAR, "1 x 2 x 1/8").replace("aluminium 6061", "Aluminum-6061")
    text += turned(TUBE, "2 x 1 x .125 in") + turned(TUBE.replace("deck", "far"), "1 x 2 x 1/8")
    (group,) = read(text, tmp_path).bar_groups
    assert [tube.name for tube in group.tubes] == ["deck frame", "far frame"]
    assert (group.material, group.section) == ("Aluminum-6061", group.tubes[0].section)
    assert [bar.name for bar in group.bars] == ["square 1"]


def test_groups_stand_in_the_order_of_their_first_tubes(tmp_path):
    """One group a material and section that has tubes; its bars in the order of the file."""
    rod = turned(BAR, "rod 1/4").replace("square 1", "rod")
    text = TOP + CUTTING + BAR + rod + BAR.replace("square 1", "short")
    for name, section in (("a", "rod 1/4"), ("b", "1 x 1 x 1/16"), ("c", "rod 1/4")):
        text += turned(TUBE.replace("deck frame", name), section)
    job = read(text, tmp_path)
    assert [[t.name for t in g.tubes] for g in job.bar_groups] == [["a", "c"], ["b"]]
    assert [[b.name for b in g.bars] for g in job.bar_groups] == [["rod"], ["square 1", "short"]]
    assert job.bar_group_of(job.tubes[2]) is job.bar_groups[0]


def test_the_saw_is_that_of_the_bars(tmp_path):
    """A named saw where the bars have one, else the usual way, if that is a saw."""
    (group,) = read(TOP + ROUTER + HACKSAW + BAR + 'cut = "hacksaw"\n' + TUBE, tmp_path).bar_groups
    assert (group.way.name, group.kerf) == ("hacksaw", Fraction("25.4") / 32)
    (group,) = read(SOUND_TUBE, tmp_path).bar_groups
    assert (group.way.name, group.kerf) == ("", Fraction("3.175"))


def test_a_tube_without_stock_still_has_its_group(tmp_path):
    """No bar of a section is no mistake: the group has no bars, and the usual way if that is a saw."""
    (group,) = read(TOP + CUTTING + TUBE, tmp_path).bar_groups
    assert (group.bars, group.way.name) == ((), "")
    (group,) = read(TOP + ROUTER + TUBE, tmp_path).bar_groups
    assert (group.bars, group.way, group.kerf) == ((), None, 0)


def test_off_a_roll_nothing_is_sawn(tmp_path):
    """Goods off a roll have no way of cutting and no kerf, with stock and without."""
    for bar in (BAR, ""):
        (group,) = read(turned(TOP + CUTTING + bar + TUBE, "roll 1"), tmp_path).bar_groups
        assert (group.off_a_roll, group.way, group.kerf) == (True, None, 0)
        assert len(group.bars) == bool(bar)
