"""Panels and sheets find each other by material and thickness, in groups that are cut one way."""

from __future__ import annotations

from fractions import Fraction

from tests.job.texts import CUTTING, PANEL, SHEET, SOUND, TOP, read

IN = Fraction("25.4")


def test_thickness_may_name_what_the_shop_calls_it(tmp_path):
    """A panel's thickness names a sheet's thickness or what it is sold as; the real one counts."""
    for named in ('"1/8"', '".118"', '"2.9972 mm"'):
        text = TOP + CUTTING + SHEET + PANEL.replace('"1/8"', named)
        assert read(text, tmp_path).panels[0].thickness == Fraction("2.9972")


def test_materials_are_compared_as_the_trade_writes_them(tmp_path):
    """Case, space, hyphen and underscore are alike, and aluminum is aluminium."""
    text = TOP + CUTTING + SHEET.replace("polycarbonate", "Aluminium 6061")
    text += PANEL.replace("polycarbonate", "aluminum-6061")
    text += PANEL.replace("polycarbonate", "ALUMINUM_6061").replace("lid", "plate")
    (group,) = read(text, tmp_path).groups
    assert [p.name for p in group.panels] == ["lid", "plate"]
    assert group.material == "Aluminium 6061"
    assert len(group.sheets) == 1


def test_a_panel_without_stock_still_has_its_group(tmp_path):
    """No stock of a thickness is no mistake: the group has no sheets and the usual way."""
    text = TOP + CUTTING + SHEET + PANEL.replace('"1/8"', '"1/4"')
    (group,) = read(text, tmp_path).groups
    assert group.sheets == ()
    assert group.way.how == "saw"
    assert group.thickness == IN / 4


def test_stock_is_cut_as_it_says(tmp_path):
    """A sheet's cut names the way of its group; another material goes the usual way."""
    text = TOP + CUTTING + '[cutting.sponsor]\nhow = "router"\nkerf = "1/4"\n'
    text += (
        SHEET + 'cut = "sponsor"\n' + PANEL + PANEL.replace("polycarbonate", "hdpe").replace("lid", "base")
    )
    first, second = read(text, tmp_path).groups
    assert (first.material, first.way.name) == ("polycarbonate", "sponsor")
    assert (second.material, second.way.name) == ("hdpe", "")


def test_any_turn_means_quarter_turns_under_a_saw(tmp_path):
    """The default turn is quarter with size and any otherwise, but a saw lays by quarters."""
    disc = PANEL.replace('size = ["14 1/2", "9 3/4"]', "disc = 9")
    saw = read(TOP + CUTTING + SHEET + disc, tmp_path)
    router = read(TOP + CUTTING.replace("saw", "router") + SHEET + disc, tmp_path)
    assert (saw.panels[0].turn, router.panels[0].turn) == ("quarter", "any")
    assert saw.groups[0].panels == saw.panels
    assert read(SOUND, tmp_path).panels[0].turn == "quarter"


def test_groups_stand_in_the_order_of_their_first_panels(tmp_path):
    """One group per material, real thickness and way that has panels, in the order of the panels."""
    ply = SHEET.replace("PC 1/8 2x4", "ply").replace("polycarbonate", "plywood")
    text = TOP + CUTTING + SHEET + ply
    for name, material in (("a", "plywood"), ("b", "polycarbonate"), ("c", "plywood")):
        text += PANEL.replace("lid", name).replace("polycarbonate", material)
    groups = read(text, tmp_path).groups
    assert [(g.material, [p.name for p in g.panels]) for g in groups] == [
        ("plywood", ["a", "c"]),
        ("polycarbonate", ["b"]),
    ]
    assert [[s.name for s in g.sheets] for g in groups] == [["ply"], ["PC 1/8 2x4"]]
