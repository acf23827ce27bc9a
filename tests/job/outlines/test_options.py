"""The keys that say how an outline file is read."""

from __future__ import annotations

import pytest

from nestkit.errors import JobError
from nestkit.job.reader import read_text
from nestkit.job.understood import understood
from tests.job.outlines.drawings import job_text, panel_of, raw, square, svg

HOLES = (
    square(),
    "CIRCLE 8 DRILL 10 20 20 80 40 2.5",
    "CIRCLE 8 DRILL 10 80 20 20 40 2.5",
    "CIRCLE 8 0 10 80 20 80 40 6.35",
    "CIRCLE 8 0 10 20 20 20 40 6.36",
    "CIRCLE 8 FRAME 10 50 20 50 40 3",
)


def wrong(folder, data, more="", file="part.dxf", *, name="part", before=""):
    """Return the mistakes of a job with this outline."""
    (folder / file).write_bytes(data)
    with pytest.raises(JobError) as raised:
        read_text(before + job_text(file, more, name=name), folder)
    return raised.value.mistakes


def test_small_circles_are_drilled_and_numbered_by_rows(tmp_path):
    """Up to 1/2 in, the largest twist drill by hand (R103), circles are holes, counted by rows."""
    panel = panel_of(tmp_path, raw(*HOLES))
    assert [(h.number, *h.at, h.dia, h.group) for h in panel.holes] == [
        (1, 80, 20, 5, "drawn"),
        (2, 50, 50, 6, "drawn"),
        (3, 20, 80, 5, "drawn"),
        (4, 80, 80, 12.7, "drawn"),
    ]
    assert [h.drill.name for h in panel.holes] == ["5 mm", "6 mm", "5 mm", "12.7 mm"]
    assert [o.outline.bounds.centre for o in panel.openings] == [(20, 20)]
    shuffled = panel_of(tmp_path, raw(*HOLES[::-1]))
    assert shuffled.holes == panel.holes


def test_holes_of_one_row_need_not_be_level_to_the_last_digit(tmp_path):
    """Within 0.01 mm holes are in one row, so that noise of the drawing does not change numbers."""
    level = "CIRCLE 8 0 10 {} 20 {} 40 2"
    rows = [
        level.format(20, 50.004),
        level.format(40, 50),
        level.format(60, 50.008),
        level.format(80, 49.999),
    ]
    panel = panel_of(tmp_path, raw(square(), *rows))
    assert [round(h.at.x) for h in panel.holes] == [20, 40, 60, 80]


@pytest.mark.parametrize(
    ("more", "holes", "openings"),
    [
        ("drill_up_to = 6", 3, 2),
        ("drill_up_to = 0", 0, 5),
        ("drill_up_to = 15", 5, 0),
        ('outline_layers = { ignore = ["frame"] }', 3, 1),
        ('outline_layers = { holes = ["Drill"] }', 2, 3),
        ('outline_layers = { holes = ["DRILL"] }\ndrill_up_to = 6', 3, 2),
        ('outline_layers = { edge = ["0"] }', 1, 1),
        ('outline_layers = { edge = ["0"], holes = ["DRILL"] }', 2, 2),
    ],
)
def test_sizes_or_layers_say_what_is_drilled(more, holes, openings, tmp_path):
    """By diameter; by layers, whose names have no case; or by both."""
    panel = panel_of(tmp_path, raw(*HOLES), more)
    assert (len(panel.holes), len(panel.openings)) == (holes, openings)


def test_holes_of_the_job_come_after_the_drawn_ones(tmp_path):
    """Numbers run on, coordinates count from the box, and a group cannot be called as the drawn ones are."""
    more = '[[panel.holes]]\nname = "{}"\ndrill = "4 mm"\nat = [[5, 5]]\nfrom = "top right"\n'
    panel = panel_of(tmp_path, raw(*HOLES), more.format("rim"))
    assert [(h.number, h.group) for h in panel.holes[3:]] == [(4, "drawn"), (5, "rim")]
    assert panel.holes[4].at == (95, 95)
    (mistake,) = wrong(tmp_path, raw(*HOLES), more.format("drawn"))
    assert mistake.place == 'panel "part", holes "drawn", name'


def test_a_joint_may_name_the_drawn_holes(tmp_path):
    """The group drawn is one like any other; of a faulty file no joint is blamed."""
    more = (
        '[[bought]]\nname = "motor"\n[[bought.holes]]\nname = "feet"\ndia = 5\nat = [[0, 0], [60, 0]]\n'
        '[[joint]]\nname = "mount"\nscrew = "M4"\nthrough = ["motor / feet", "part / drawn : 1,2"]\n'
    )
    plate = raw(square(), "CIRCLE 8 0 10 20 20 50 40 2.2", "CIRCLE 8 0 10 80 20 50 40 2.2")
    (tmp_path / "part.dxf").write_bytes(plate)
    job = read_text(job_text(more=more), tmp_path)
    assert [m.holes for m in job.joints[0].mates][1] == (1, 2)
    (mistake,) = wrong(tmp_path, raw(), more)
    assert mistake.place == 'panel "part", outline'


PARTS = raw(
    square(30, 0, 50, extra="8 LID"),
    square(40, 100, 0, extra="8 0"),
    square(20, 0, 0, extra="8 BASE"),
    "CIRCLE 8 0 10 120 20 20 40 3",
    "TEXT 8 NOTES 10 105 20 5 40 3 1 rudder",
    "MTEXT 8 NOTES 10 5 20 5 40 3 1 {\\fArial|b0;Clip}",
)


@pytest.mark.parametrize(
    ("wanted", "side"),
    [("1", 20), ("2", 30), ("3", 40), ('"lid"', 30), ('"Base"', 20), ('"rudder"', 40), ('"clip"', 20)],
)
def test_one_part_of_several(wanted, side, tmp_path):
    """By position, from left to right, then from the bottom up; by layer; by a text inside."""
    panel = panel_of(tmp_path, PARTS, f"outline_part = {wanted}")
    assert panel.width == side
    assert len(panel.holes) == (side == 40)
    assert "of 3" in panel.drawn.notes[0]


def test_one_part_by_its_block_and_by_its_group(tmp_path):
    """A block's name, wherever it is placed, and the id of a group of an SVG, tell parts apart."""
    blocks = "".join(
        f"0\nBLOCK\n2\n{name}\n70\n0\n10\n0\n20\n0\n0\n" + "\n".join(square(side).split()) + "\n0\nENDBLK\n"
        for name, side in (("HORN", 10), ("RING", 25))
    )
    data = raw("INSERT 8 0 2 RING 10 0 20 0", "INSERT 8 0 2 HORN 10 90 20 0", blocks=blocks)
    assert panel_of(tmp_path, data, 'outline_part = "horn"').width == 10
    body = (
        '<g id="a"><rect width="9" height="9"/></g><g id="b"><g><rect x="20" width="7" height="9"/></g></g>'
    )
    assert panel_of(tmp_path, svg(body), 'outline_part = "B"', file="part.svg").width == 7


@pytest.mark.parametrize(
    ("more", "place", "said"),
    [
        ("outline_part = 4", "outline", "only 3 parts, no part 4"),
        ("outline_part = 0", "outline_part", "out of range"),
        ("outline_part = 1.5", "outline_part", "whole number"),
        ('outline_part = "keel"', "outline", 'none of its parts is called "keel"'),
        ('outline_part = ""', "outline_part", "empty"),
        ("outline_part = 1\njoin = 2", "join", "too much"),
        ("outline_part = 1\njoin = -1", "join", "negative"),
        ("outline_part = 1\ndrill_up_to = 101", "drill_up_to", "too much"),
        ('outline_part = 1\noutline_unit = "cm"', "outline_unit", "not known"),
        ('outline_part = 1\noutline_layers = { edge = "LID" }', "edge", "a list of layers"),
        ('outline_part = 1\noutline_layers = { edges = ["LID"] }', "edges", "not a key"),
        ('outline_part = 1\noutline_layers = ["LID"]', "outline_layers", "a table is wanted"),
        ('outline_part = 1\noutline_layers = { edge = ["A"], holes = ["a"] }', "outline_layers", "twice"),
        ('outline_part = 1\noutline_layers = { edge = ["EDGE"] }', "outline", 'no layer "edge" in it'),
        ('outline_part = 1\noutline_layers = { holes = ["BASE"] }', "outline", "inside no outline"),
        ("outline_part = 1\ncorner_radius = 2", "corner_radius", "goes with size, not with outline"),
        ("outline_part = 1\nchamfer = 2", "chamfer", "goes with size, not with outline"),
        ("outline_part = 1\nsize = [4, 4]", "outline", "cannot stand together"),
    ],
)
def test_wrong_keys_are_told_where_they_stand(more, place, said, tmp_path):
    """Each wrong key is a mistake with its place; what the file does not have is one of the file."""
    (mistake,) = wrong(tmp_path, PARTS, more)
    assert mistake.place.split(", ")[-1] == place
    assert said in mistake.text


def test_keys_of_outline_files_stand_with_them_only(tmp_path):
    """Beside size each of them is a mistake."""
    keys = 'outline_part = 1\noutline_layers = {}\noutline_unit = "mm"\njoin = 0\ndrill_up_to = 4\n'
    text = job_text(more=keys).replace('outline = "part.dxf"', "size = [9, 9]")
    with pytest.raises(JobError) as raised:
        read_text(text, tmp_path)
    assert [m.text.split(" goes ")[0] for m in raised.value.mistakes] == [
        k.split(" =")[0] for k in keys.split("\n") if k
    ]


def test_what_is_drilled_must_be_a_circle_and_no_wider_than_a_drill(tmp_path):
    """On a layer of holes other shapes, and circles over 100 mm, are mistakes with their place."""
    layers = 'outline_layers = { holes = ["DRILL"] }'
    slot = square(20, 40, 40, extra="8 DRILL")
    (mistake,) = wrong(tmp_path, raw(square(), slot), layers)
    assert "at x 50, y 50 lies on a layer of holes, but is no circle" in mistake.text
    (mistake,) = wrong(tmp_path, raw(square(300), "CIRCLE 8 DRILL 10 150 20 150 40 51"), layers)
    assert "at x 150, y 150 has a diameter of 102" in mistake.text


def test_join_is_what_it_says(tmp_path):
    """A gap of 0.3 mm is joined with join = 0.3, and not with less; exact ends need none."""
    sides = [
        "LINE 8 0 10 0 20 0 11 50 21 0",
        "LINE 8 0 10 50 20 0 11 50 21 40",
        "LINE 8 0 10 50 20 40 11 0 21 0.3",
    ]
    assert "largest 0.3 mm" in panel_of(tmp_path, raw(*sides), "join = 0.3").drawn.notes[1]
    assert "0.3 away (join is 0.29;" in wrong(tmp_path, raw(*sides), "join = 0.29")[0].text
    assert panel_of(tmp_path, raw(square()), "join = 0").width == 100


def test_hidden_layers_and_paper_do_not_count_unless_they_are_listed(tmp_path):
    """Layers that are off or frozen, invisible entities and paper space are left out, and said."""
    table = "".join(
        "0\n" + "\n".join(f"LAYER 2 {name} 70 {flags} 62 {colour}".split()) + "\n"
        for name, flags, colour in (("OFF", 0, -7), ("COLD", 1, 7), ("ON", 0, 7))
    )
    data = raw(
        square(extra="8 ON"),
        square(50, 10, 10, extra="8 OFF"),
        square(5, 80, 80, extra="8 COLD"),
        square(5, 90, 80, extra="8 ON 60 1"),
        square(500, extra="8 ON 67 1"),
        square(5, 200, 80, extra="8 Defpoints"),
        tables=table,
    )
    panel = panel_of(tmp_path, data)
    assert panel.openings == ()
    said = panel.drawn.notes[-1]
    for words in ('hidden layer "off"', 'hidden layer "cold"', "invisible", "paper space", "never plots"):
        assert words in said
    assert len(panel_of(tmp_path, data, 'outline_layers = { edge = ["ON", "OFF"] }').openings) == 1


def test_check_says_what_was_read_and_how(tmp_path):
    """Under the panel stand the file, the unit taken, what was mended, and what is not cut."""
    plate = raw(
        square(), square(), "TEXT 8 0 10 5 20 5 40 3 1 lid", "CIRCLE 8 0 10 50 20 50 40 2.5", units=None
    )
    (tmp_path / "part.dxf").write_bytes(plate)
    said = "\n".join(understood(read_text(job_text(), tmp_path)))
    assert "100 x 100 mm  outline  1 as drawn" in said
    assert "1 x 5 mm" in said
    line = next(line for line in said.split("\n") if "part.dxf" in line)
    assert line.strip() == (
        "part.dxf: in millimetres, as the job (the file has no unit); lines taken out: 4 drawn twice; "
        "not cut: 1 TEXT"
    )


def test_turn_of_a_part_from_a_file(tmp_path):
    """Any turn by default; under a saw that means quarter turns; a turn that is given stands."""
    assert panel_of(tmp_path, raw(square())).turn == "any"
    assert panel_of(tmp_path, raw(square()), 'turn = "half"').turn == "half"
    saw = read_text(job_text(how="saw"), tmp_path)
    assert saw.groups[0].panels[0].turn == "quarter"
