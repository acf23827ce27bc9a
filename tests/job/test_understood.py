"""What was understood is said back in words, and the starter job reads without mistakes."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.job.starter import starter_text
from nestkit.job.understood import how_many, margin_off_a_roll, understood
from nestkit.stock.ways import Margin
from tests.job.texts import BAR, CUTTING, PANEL, SHEET, SIDE, SOUND, TOP, TUBE, read, with_panel, with_tube
from tests.laid_roll import LINER

HOLES = """\
quantity = 2
opposite_hand = 1
[[panel.holes]]
name = "rim"
screw = "10-32"
grid = { start = [1, 1], columns = 4, rows = 2, pitch = [1, 1] }
[[panel.holes]]
name = "vent"
drill = "#7"
corners = 1
[[panel.slots]]
at = [5, 5]
length = 2
width = 1
"""


def test_copies_and_drills_are_told_as_the_contract_shows(tmp_path):
    """The contract's own words: 2 as drawn + 1 opposite hand = 3; 8 x #2, 4 x #7."""
    said = "\n".join(understood(read(with_panel(HOLES), tmp_path)))
    assert "2 as drawn + 1 opposite hand = 3" in said
    assert "8 x #2, 4 x #7, 1 slot" in said
    assert "14 1/2 x 9 3/4 in" in said
    assert "polycarbonate, .118 in" in said
    assert "sold as 1/8 in" in said
    assert "R027" in said


def test_every_panel_and_sheet_is_named(tmp_path):
    """Nothing of the job is missing: stock without panels, panels without stock, ways with gap and margin."""
    text = (
        TOP + CUTTING + '[cutting.sponsor]\nhow = "router"\nkerf = "1/4"\n'
        + SHEET + 'cut = "sponsor"\n'
        + SHEET.replace("PC 1/8 2x4", "spare ply").replace("polycarbonate", "plywood")
        + PANEL + PANEL.replace("lid", "base").replace("polycarbonate", "mdf")
    )  # fmt: skip
    said = "\n".join(understood(read(text, tmp_path)))
    assert 'cut by router ("sponsor")' in said
    assert "gap 1/2 in" in said
    assert "margin 3/4 in" in said
    assert "No panel is cut from: spare ply" in said
    assert "no stock of this material and thickness" in said
    assert "base" in said


def test_lines_align_and_none_ends_in_spaces(tmp_path):
    """Lines carry no trailing spaces and no tabs, so that they can be read and compared."""
    for line in understood(read(SOUND, tmp_path)):
        assert line == line.rstrip()
        assert "\t" not in line


def test_counts_are_told_in_full(tmp_path):
    """Each kind of copy is named; one kind alone has no sum."""
    made = read(with_panel('quantity = 1\nspare = 2\nspare_if_room = 3\nfaces = "alike"\n'), tmp_path).panels[
        0
    ]
    assert how_many(made) == "1 as drawn + 2 spare = 3, 3 more if there is room, faces alike"
    assert how_many(read(SOUND, tmp_path).panels[0]) == "1 as drawn"


def test_a_panel_of_quantity_0_is_said_not_to_be_made(tmp_path):
    """One plain line, unless spares or copies that find room are made of it."""
    made = read(SOUND, tmp_path).panels[0]
    assert how_many(replace(made, quantity=0)) == "not made: quantity 0"
    assert how_many(replace(made, quantity=0, spare=1)) == "1 spare"
    assert how_many(replace(made, quantity=0, spare_if_room=2)) == "none, 2 more if there is room"


@pytest.mark.parametrize(
    ("margin", "said"),
    [
        ((0, 0, 0, 0), "no margin"),
        ((10, 10, 0, 0), "margin 10 mm along the edges of the roll"),
        (
            (10, 20, 5, 5),
            "margin left 10 and right 20 mm along the edges of the roll, 5 mm at each end of the piece",
        ),
        ((0, 0, 20, 30), "margin bottom 20 and top 30 mm at the ends of the piece"),
    ],
)
def test_the_margins_of_goods_off_a_roll_are_where_they_are_kept(margin, said):
    """A roll has edges, and the piece that is cut off it ends: margins are said there, and none as none."""
    assert margin_off_a_roll(Margin(*map(Fraction, margin)), "mm") == said


def test_a_job_off_a_roll_says_its_margins_so(tmp_path):
    """What was understood of a job off a roll speaks of the roll's edges, of no sheet's border."""
    text = LINER.replace("{how}", "router").replace("{margin}", '"1/2"')
    said = "\n".join(understood(read(text, tmp_path)))
    assert "margin 1/2 in along the edges of the roll and at each end of the piece" in said


BARS = (
    TOP
    + CUTTING.replace("saw", "router")
    + '[cutting.hacksaw]\nhow = "saw"\nkerf = "1/32"\n'
    + BAR
    + 'trim = "1/4"\ncut = "hacksaw"\n'
    + BAR.replace("square 1", "rest").replace(
        "length = 96\nprice = 14", "length = 30\non_hand = 2\nbuy = false"
    )
    + 'keep = 10\ncut = "hacksaw"\n'
    + BAR.replace("square 1", "edging").replace("1 x 1 x 1/16", "roll 1/2")
    + BAR.replace("square 1", "bare rod").replace("1 x 1 x 1/16", "rod 1/4")
    + 'cut = "hacksaw"\n'
    + TUBE
    + "quantity = 2\nopposite_hand = 2\n"
    + 'mitre_1 = { angle_deg = 45, long = "A" }\n'
    + SIDE.replace("4]", "4, 8, 12]\nthrough = true")
    + SIDE.replace('"A"', '"B"').replace("side", "rail").replace('drill = "#7"', 'screw = "10-32"')
    + 'matches = "post / bores"\n'
    + TUBE.replace("deck frame", "post").replace("1 x 1 x 1/16", "round 1 x 1/16")
    + "mitre_0 = { angle_deg = 22.5, long_deg = 90 }\nmitre_1 = { angle_deg = 22.5, long_deg = 90 }\n"
    + SIDE.replace('face = "A"', "at_deg = -45\nthrough = true").replace("side", "bores")
    + TUBE.replace("deck frame", "seal").replace("1 x 1 x 1/16", "roll 1/2")
)


def test_tubes_are_told_with_stock_saw_holes_and_ends(tmp_path):
    """All that is cut to length: section, saw, stock, lengths, copies, holes by drill and face, mitres."""
    assert understood(read(BARS, tmp_path)) == (
        "Solar boat: 3 tubes, 6 pieces",
        "A number without a unit is in inches.",
        "",
        'aluminium 6061, 1 x 1 x 1/16 in (square tube), cut by saw ("hacksaw")',
        "  kerf 1/32 in",
        "  square 1  96 in  14.00  trim 1/4 in at each end",
        "  rest      30 in         no trim, rests kept from 10 in on, 2 on hand, not to be bought",
        "    deck frame  22 in  2 as drawn + 2 opposite hand = 4  4 x #7 on A, through; 2 x #2 on B; "
        "rail as post / bores; 45 deg at end 1, long on A",
        "",
        "aluminium 6061, round 1 x 1/16 in (round tube), with no saw to cut it",
        "  no stock of this material and section",
        "    post  22 in  1 as drawn  2 x #7 at 315 deg, through; 22.5 deg at both ends, long at 90 deg",
        "",
        "aluminium 6061, roll 1/2 in (goods off a roll), cut with scissors",
        "  edging  96 in  14.00",
        "    seal  22 in  1 as drawn",
        "",
        "No tube is cut from: bare rod",
    )


def test_both_halves_of_a_job_are_told(tmp_path):
    """Panels first, then tubes; the first line counts both."""
    said = understood(read(SOUND + BAR + TUBE.replace("length = 22", "length = 22\nquantity = 3"), tmp_path))
    assert said[0] == "Solar boat: 1 panel, 1 tube, 4 pieces"
    text = "\n".join(said)
    assert text.index("polycarbonate") < text.index("aluminium 6061")
    assert "kerf 1/8 in, no trim" in text


def test_a_tube_that_is_its_own_mirror_says_so(tmp_path):
    """Opposite hands of a tube drilled in its middle are the same part; of one drilled on B they are not."""
    both = "opposite_hand = 1\n"
    assert "= 2, both hands alike" in "\n".join(understood(read(with_tube(both + SIDE), tmp_path)))
    other = with_tube(both + SIDE.replace('"A"', '"B"'))
    assert "alike" not in "\n".join(understood(read(other, tmp_path)))


def test_stock_that_lies_turned_says_so(tmp_path):
    """Where a bar names the section of its tubes turned, its own words are told beside it."""
    text = with_tube("", "1 x 2 x 1/8").replace("1 x 2 x 1/8", "2 x 1 x 1/8", 1)
    said = "\n".join(understood(read(text, tmp_path)))
    assert "1 x 2 x 1/8 in (rectangular tube)" in said
    assert "as 2 x 1 x 1/8" in said


def test_where_faces_are_alike_the_other_hand_is_no_other_part(tmp_path):
    """Both hands asked for, faces alike: the copies are counted as asked, and said to serve as either."""
    made = read(with_panel('quantity = 2\nopposite_hand = 1\nfaces = "alike"\n'), tmp_path).panels[0]
    said = "2 as drawn + 1 opposite hand = 3, faces alike: turned over, one hand is the other"
    assert how_many(made) == said
    made = read(with_panel('quantity = 0\nopposite_hand = 2\nfaces = "alike"\n'), tmp_path).panels[0]
    assert how_many(made) == "2 opposite hand, faces alike: turned over, one hand is the other"


def test_the_starter_job_reads_without_mistakes(tmp_path):
    """The starter is a sound job with stock for all its parts, commented for a beginner."""
    job = read(starter_text(), tmp_path)
    assert job.panels
    assert job.tubes
    assert all(group.sheets for group in job.groups)
    assert all(group.bars for group in job.bar_groups)
    assert job.groups[0].thickness == Fraction("2.9972")
    (joint,) = job.joints
    handle, lid = job.bought[0], job.panels[0]
    assert [mate.part for mate in joint.mates] == [handle.name, lid.name]
    feet, rim = (
        [hole.at for hole in part.holes if hole.number in mate.holes]
        for part, mate in zip((handle, lid), joint.mates, strict=True)
    )
    assert feet[1].y - feet[0].y == rim[1].y - rim[0].y
    assert starter_text().count("#") > 15
    assert all(len(line) <= 110 for line in starter_text().split("\n"))


def test_the_starter_job_shows_keys_that_can_be_switched_on(tmp_path):
    """Taking the # from the notes that are keys leaves a sound job."""
    switched = (
        starter_text()
        .replace("# date", "date")
        .replace("# margin", "margin")
        .replace("# on_hand", "on_hand")
        .replace("# mitre_1", "mitre_1")
        .replace("# made ", "made ")
    )
    job = read(switched, tmp_path)
    assert job.date is not None
    assert job.groups[0].margin.left > 0
    assert job.sheets[0].on_hand == 1
    assert job.joints[0].together
