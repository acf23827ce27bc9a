from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.checks import stock
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import corners_cut
from nestkit.stock.ways import Margin


def test_a_group_without_stock_says_what_there_is(build):
    """No sheet of the thickness: the panels are named, and the thicknesses that there are."""
    made = build.panel(thickness="6")
    (found,) = stock.no_stock(build.job(made, sheets=(build.sheet("thin"), build.sheet("other", "plywood"))))
    assert found.level == "error"
    assert found.text == (
        'there is no sheet of polycarbonate 6 mm to cut "lid" from; of polycarbonate there is 3 mm ("thin")'
    )


def test_a_material_under_another_name_is_offered(build):
    """PC and polycarbonate are two names: the remedy says which one the sheet has."""
    (found,) = stock.no_stock(build.job(build.panel(material="PC"), sheets=(build.sheet(),)))
    assert 'write the material as the sheet does: "polycarbonate"' in found.remedy


def test_no_sheet_at_all(build):
    """A job without sheets is told as such."""
    (found,) = stock.no_stock(build.job(build.panel(), sheets=()))
    assert "the job has no sheet at all" in found.text


@pytest.mark.parametrize(("buy", "on_hand", "fires"), [(True, 0, False), (False, 1, False), (False, 0, True)])
def test_stock_that_is_neither_bought_nor_here(build, buy, on_hand, fires):
    """A sheet that cannot be bought and of which none is here is no stock."""
    found = list(stock.no_stock(build.job(build.panel(), sheets=(build.sheet(buy=buy, on_hand=on_hand),))))
    assert bool(found) == fires
    assert all("neither be bought nor" in f.text for f in found)


@pytest.mark.parametrize(
    ("width", "height", "more", "fires"),
    [
        (600, 1200, {}, False),
        (600, 90_000, {}, False),
        (90_000, 600, {}, False),
        (601, 602, {}, True),
        (1200, 600, {"turn": "half"}, True),
        (1200, 600, {"grain": "y"}, True),
        (1200, 600, {"grain": "x"}, False),
    ],
)
def test_a_part_no_roll_is_wide_enough_for(build, width, height, more, fires):
    """Only the width of a roll keeps a part off it; how long it may be is never told."""
    roll = build.sheet(
        height=Fraction(100_000), priced_by=Fraction(1000), grain="y" if "grain" in more else "none"
    )
    made = build.job(build.panel(width=width, height=height, **more), sheets=(roll,))
    found = list(stock.too_large_for_sheets(made))
    assert bool(found) == fires
    for f in found:
        assert f.level == "error"
        assert f.text.startswith(f"no roll is wide enough for it, {width} x {height} mm: ")
        assert '"stock" leaves 600 mm' in f.text
        assert "100" not in f.text.replace(str(width), "").replace(str(height), "")
        assert ("only turn or grain forbids" in f.text) == (height == 600)
        assert ("wider roll" in f.remedy) == (height != 600)


@pytest.mark.parametrize(
    ("margin", "words", "remedy"),
    [
        ((0, 0, 9, 9), "leaves 600 mm", "add a wider roll, or make the part of two"),
        (
            (10, 5, 0, 0),
            "leaves 585 mm between the margins at its edges",
            "add a wider roll, make the part of two, or lessen the margins at its edges",
        ),
    ],
)
def test_only_margins_at_its_edges_narrow_a_roll(build, margin, words, remedy):
    """Those at the ends of the piece make it longer; the words name the ones that are in the way."""
    roll = build.sheet(height=Fraction(100_000), priced_by=Fraction(1000))
    job = build.job(build.panel(width=601, height=700), sheets=(roll,))
    job = replace(job, groups=(replace(job.groups[0], margin=Margin(*(Fraction(m) for m in margin))),))
    (found,) = stock.too_large_for_sheets(job)
    assert found.text.endswith(words)
    assert found.remedy == remedy


@pytest.mark.parametrize(
    ("width", "height", "more", "fires"),
    [
        (600, 1200, {}, False),
        (1200, 600, {}, False),
        (600.001, 1200, {}, True),
        (1200, 600, {"turn": "half"}, True),
        (1200, 600, {"turn": "none"}, True),
        (600, 1200, {"turn": "none"}, False),
        (1201, 10, {}, True),
    ],
)
def test_a_part_no_sheet_can_hold(build, width, height, more, fires):
    """A part as large as the sheet fits; more, or a turn that is not allowed, does not."""
    found = list(stock.too_large_for_sheets(build.job(build.panel(width=width, height=height, **more))))
    assert bool(found) == fires
    assert all(f.level == "error" and '"stock" leaves 600 x 1200 mm' in f.text for f in found)
    assert all(("only turn or grain forbids" in f.text) == (height == 600) for f in found)


@pytest.mark.parametrize(
    ("part_grain", "sheet_grain", "fires"),
    [
        ("x", "x", True),
        ("x", "y", False),
        ("y", "y", True),
        ("y", "x", False),
        ("none", "x", False),
        ("x", "none", False),
    ],
)
def test_grain_may_forbid_the_only_turn(build, part_grain, sheet_grain, fires):
    """A part of 1100 x 500 on 600 x 1200 must be turned a quarter: grain along like axes forbids it."""
    made = build.panel(width=1100, height=500, grain=part_grain)
    found = list(stock.too_large_for_sheets(build.job(made, sheets=(build.sheet(grain=sheet_grain),))))
    assert bool(found) == fires
    assert all("allow the turn" in f.remedy for f in found)


def test_the_margin_takes_room(build):
    """The margin on both sides is taken off the sheet."""
    for width, fires in ((580, False), (580.1, True)):
        made = build.panel(width=width, height=1180, turn="none")
        found = list(stock.too_large_for_sheets(build.job(made, margin="10")))
        assert bool(found) == fires
        assert all("leaves 580 x 1180 mm inside the margin" in f.text for f in found)


def test_any_sheet_of_the_group_will_do(build):
    """A part is told only when every sheet is too small."""
    large = build.sheet("large", width=Fraction(1500), height=Fraction(3000))
    made = build.panel(width=1400, height=900)
    assert list(stock.too_large_for_sheets(build.job(made)))
    assert not list(stock.too_large_for_sheets(build.job(made, sheets=(build.sheet(), large))))


def test_a_free_turn_may_save_a_long_part(build):
    """A long slim part fits a sheet on the slant, where its way and turn allow that; a sawn one never."""
    slim = corners_cut([Point(0, 0), Point(1330, 0), Point(1330, 5), Point(0, 5)])
    made = build.panel(width=1330, height=5, outline=slim, turn="any")
    assert not list(stock.too_large_for_sheets(build.job(made, how="router")))
    assert list(stock.too_large_for_sheets(build.job(made, how="saw")))
    assert list(stock.too_large_for_sheets(build.job(build.replace(made, turn="quarter"), how="router")))
    too_long = corners_cut([Point(0, 0), Point(1360, 0), Point(1360, 5), Point(0, 5)])
    made = build.panel(width=1360, height=5, outline=too_long, turn="any")
    assert list(stock.too_large_for_sheets(build.job(made, how="router")))
