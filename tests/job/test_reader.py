"""A sound job file is understood as the contract says, sentence by sentence."""

from __future__ import annotations

import datetime
import os
import time
from fractions import Fraction

import pytest

from nestkit.errors import JobError, UserError
from nestkit.geometry.points import Point
from nestkit.job.reader import read_job, read_text
from nestkit.job.shown import shown
from nestkit.stock.ways import Margin
from tests.job.texts import CUTTING, PANEL, SHEET, SOUND, TOP, mistakes, only, read, with_holes, with_panel

IN = Fraction("25.4")


def test_defaults_are_those_of_the_contract(tmp_path):
    """What a job leaves out is filled in as the contract's defaults say."""
    job = read(SOUND, tmp_path)
    assert (job.name, job.unit, job.date) == ("Solar boat", "in", None)
    (way,) = job.ways
    assert (way.name, way.how, way.kerf, way.stages, way.first, way.prefer) == (
        "", "saw", Fraction("3.175"), 3, "any", "offcut",
    )  # fmt: skip
    assert (job.printing.paper.name, job.printing.scale_x, job.printing.scale_y) == ("letter", 1.0, 1.0)
    assert (job.dxf.version, job.dxf.single_layer) == ("R2010", False)
    assert job.marking_to == IN / 32
    (sheet,) = job.sheets
    assert (sheet.on_hand, sheet.buy, sheet.grain, sheet.cut) == (0, True, "none", "")
    assert (sheet.width, sheet.height, sheet.thickness) == (24 * IN, 48 * IN, Fraction("0.118") * IN)
    assert sheet.price == Fraction("38.5")
    (panel,) = job.panels
    assert (panel.quantity, panel.opposite_hand, panel.spare, panel.spare_if_room) == (1, 0, 0, 0)
    assert (panel.faces, panel.grain, panel.turn, panel.revision, panel.used_for) == (
        "differ", "none", "quarter", "", "",
    )  # fmt: skip
    assert (panel.width, panel.height) == (Fraction("368.3"), Fraction("247.65"))
    assert panel.place == 'panel "lid"'
    assert panel.line == SOUND.split("\n").index("[[panel]]") + 1


def test_a_millimetre_job_has_metric_defaults(tmp_path):
    """In a mm job paper is A4, marking goes to 0.5 mm, and bare numbers are millimetres."""
    text = SOUND.replace('"in"', '"mm"').replace('["14 1/2", "9 3/4"]', "[300, 200.5]")
    job = read(text, tmp_path)
    assert job.printing.paper.name == "A4"
    assert job.marking_to == Fraction(1, 2)
    assert (job.panels[0].width, job.panels[0].height) == (300, Fraction("200.5"))


def test_numbers_never_pass_through_a_binary_float(tmp_path):
    """A decimal of the job file is exact: 0.1 mm is one tenth, .118 in is 2.9972 mm."""
    text = SOUND.replace('size = ["14 1/2", "9 3/4"]', 'size = ["0.3 mm", 0.1]')
    panel = read(text, tmp_path).panels[0]
    assert (panel.width, panel.height) == (Fraction(3, 10), Fraction("2.54"))
    assert panel.thickness == Fraction("2.9972")


@pytest.mark.parametrize("date", ["2026-03-01", '"2026-03-01"'])
def test_a_date_may_be_toml_or_text(tmp_path, date):
    """The date is a TOML date or its text."""
    assert read(f"date = {date}\n{SOUND}", tmp_path).date == datetime.date(2026, 3, 1)


def test_a_named_way_of_the_same_machine_inherits(tmp_path):
    """A named way's keys replace those of [cutting]; what it does not say it takes from there."""
    cutting = CUTTING + 'gap = "1/4"\nstages = 2\n[cutting.thin]\nkerf = "1/16"\n'
    usual, thin = read(TOP + cutting + SHEET + PANEL, tmp_path).ways
    assert (thin.name, thin.how, thin.kerf, thin.gap, thin.stages) == (
        "thin", "saw", IN / 16, IN / 4, 2,
    )  # fmt: skip
    assert usual.kerf == IN / 8
    assert thin.place == "cutting.thin"


def test_a_named_way_of_another_machine_inherits_nothing(tmp_path):
    """If its how differs, nothing is inherited: gap, margin and stages are open again."""
    cutting = CUTTING + 'gap = 1\nmargin = 1\nstages = 2\n[cutting.sponsor]\nhow = "router"\nkerf = "1/4"\n'
    _, sponsor = read(TOP + cutting + SHEET + PANEL, tmp_path).ways
    assert (sponsor.gap, sponsor.margin, sponsor.stages, sponsor.kerf) == (None, None, 3, IN / 4)


def test_a_margin_is_one_length_or_sides(tmp_path):
    """A margin is one length for all sides, or a table whose missing sides are 0."""
    one = read(TOP + CUTTING + "margin = 1\n" + SHEET + PANEL, tmp_path).groups[0].margin
    assert one == Margin(IN, IN, IN, IN)
    two = read(TOP + CUTTING + 'margin = { left = 1, top = "1/2" }\n' + SHEET + PANEL, tmp_path)
    assert two.groups[0].margin == Margin(left=IN, top=IN / 2)
    three = read(TOP + CUTTING + "[cutting.margin]\nbottom = 2\n" + SHEET + PANEL, tmp_path)
    assert three.groups[0].margin == Margin(bottom=2 * IN)
    assert len(three.ways) == 1


@pytest.mark.parametrize(
    ("words", "short", "long"),
    [
        ('"A3"', 297, 420),
        ('"letter"', Fraction("215.9"), Fraction("279.4")),
        ('"roll 24 in"', Fraction("609.6"), None),
        ('["18 in", 12]', Fraction("304.8"), Fraction("457.2")),
    ],
)
def test_a_paper_is_named_or_measured(tmp_path, words, short, long):
    """Paper is from the table, [width, height] in either order, or a roll."""
    paper = read(f"{TOP}{CUTTING}[printing]\npaper = {words}\n{SHEET}{PANEL}", tmp_path).printing.paper
    assert (paper.short, paper.long) == (float(short), None if long is None else float(long))


def test_printing_marking_and_dxf_are_read(tmp_path):
    """Scale, marking step and DXF options come as written."""
    more = (
        "[printing]\nscale_x = 0.998\nscale_y = 1.0025\n[marking]\nto = '1/64'\n"
        "[dxf]\nversion = 'R12'\nsingle_layer = true\n"
    )
    job = read(TOP + CUTTING + more + SHEET + PANEL, tmp_path)
    assert (job.printing.scale_x, job.printing.scale_y) == (0.998, 1.0025)
    assert job.marking_to == IN / 64
    assert (job.dxf.version, job.dxf.single_layer) == ("R12", True)


def test_a_panel_carries_all_that_is_said_of_it(tmp_path):
    """Every key of a panel finds its field."""
    more = (
        'for = "console"\nquantity = 2\nopposite_hand = 1\nspare = 3\nspare_if_room = 4\n'
        'faces = "alike"\ngrain = "y"\nturn = "half"\nrevision = "B"\n'
    )
    panel = read(with_panel(more), tmp_path).panels[0]
    assert (panel.used_for, panel.quantity, panel.opposite_hand, panel.spare, panel.spare_if_room) == (
        "console", 2, 1, 3, 4,
    )  # fmt: skip
    assert (panel.faces, panel.grain, panel.turn, panel.revision, panel.needed) == (
        "alike", "y", "half", "B", 6,
    )  # fmt: skip


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


def test_hole_numbers_run_through_all_groups(tmp_path):
    """Holes are numbered 1, 2, ... through all groups of a part in file order."""
    more = (
        '[[panel.holes]]\nname = "hinge"\nscrew = "10-32"\nat = [[1, 1], [2, 1]]\n'
        '[[panel.holes]]\nname = "vent"\ndrill = "#7"\n'
        "grid = { start = [4, 4], columns = 3, rows = 2, pitch = ['3/4', 1] }\n"
    )
    holes = read(with_panel(more), tmp_path).panels[0].holes
    assert [h.number for h in holes] == list(range(1, 9))
    assert [h.group for h in holes] == ["hinge"] * 2 + ["vent"] * 6
    assert holes[3].at == Point(float(Fraction("4.75") * IN), float(4 * IN))
    assert holes[5].at == Point(float(4 * IN), float(5 * IN))


def test_tables_may_be_written_in_braces(tmp_path):
    """Holes as a list of tables in braces are the same as [[panel.holes]]."""
    more = (
        "holes = [\n  { name = 'a', drill = '#7', at = [[1, 1]] },\n"
        "  { name = 'b', dia = '1/4', corners = 1 },\n]\n"
    )
    holes = read(with_panel(more), tmp_path).panels[0].holes
    assert [(h.number, h.group, h.drill.name) for h in holes] == [
        (1, "a", "#7"), (2, "b", "1/4"), (3, "b", "1/4"), (4, "b", "1/4"), (5, "b", "1/4"),
    ]  # fmt: skip


def test_line_ends_and_a_byte_order_mark_do_not_matter(tmp_path):
    """The same job with CR LF and a byte order mark reads alike."""
    plain = read(SOUND, tmp_path)
    assert read(b"\xef\xbb\xbf" + SOUND.replace("\n", "\r\n").encode(), tmp_path) == plain


def test_all_mistakes_are_told_in_one_run_in_file_order(tmp_path):
    """A job with many mistakes lists each, in the order of the file."""
    text = (
        'job = 3\nunit = "in"\nnonsense = 1\n[cutting]\nhow = "axe"\nkerf = "1/0"\n'
        '[[sheet]]\nname = "a"\nmaterial = "pc"\nthickness = -1\nsize = [24]\n'
        '[[panel]]\nname = "a/b"\nmaterial = "pc"\nthickness = 1\nsize = [1, nan]\nquantity = 1.5\n'
        '[[panel.holes]]\nname = "h"\nscrew = "10-99"\nat = [[1, "x"]]\n'
    )
    found = mistakes(text, tmp_path)
    assert [m.place for m in found] == [
        "job",
        "nonsense",
        "cutting, how",
        "cutting, kerf",
        'sheet "a", thickness',
        'sheet "a", size',
        'panel "a/b", name',
        'panel "a/b", size[1]',
        'panel "a/b", quantity',
        'panel "a/b", holes "h", screw',
        'panel "a/b", holes "h", at[0][1]',
    ]
    assert [m.line for m in found] == [1, 3, 5, 6, 10, 11, 13, 16, 17, 20, 21]
    assert all(m.text and m.remedy for m in found)
    assert str(JobError(found)).count("\n") == len(found) - 1


def test_the_place_is_told_as_the_contract_has_it(tmp_path):
    """The contract's own example of a place comes out word for word."""
    text = SOUND.replace('"lid"', '"console lid"') + (
        '[[panel.holes]]\nname = "vent"\ndrill = "#7"\n'
        'grid = { start = [4, 4], columns = 3, rows = 2, pitch = ["x", "3/4"] }\n'
    )
    assert only(text, tmp_path).place == 'panel "console lid", holes "vent", pitch[0]'


@pytest.mark.parametrize("key", ["bar", "tube", "bought", "joint"])
def test_what_comes_later_is_said_to_be_missing(tmp_path, key):
    """Tables of a later version are mistakes with place and line, their content not examined."""
    found = only(f'{SOUND}[[{key}]]\nname = "x"\nnonsense = 1\n', tmp_path)
    assert (found.place, found.line) == (f'{key} "x"', SOUND.count("\n") + 1)
    assert "not available in this version" in found.text


def test_too_many_pieces_or_holes_are_a_mistake(tmp_path):
    """A job has at most 100,000 pieces, over all panels, and as many holes."""
    many = SOUND + "quantity = 60000\n" + PANEL.replace('"lid"', '"base"')
    assert len(read(many + "spare_if_room = 39999\n", tmp_path).panels) == 2
    found = only(many + "spare_if_room = 40000\n", tmp_path)
    assert "100,001 pieces" in found.text
    assert "100,000" in found.remedy
    grid = "[[panel.holes]]\ndia = 1\ngrid = { start = [1, 1], columns = 100, rows = 100, pitch = [1, 1] }\n"
    assert "holes" in only(SOUND + 11 * grid, tmp_path).text


def test_a_file_that_cannot_be_read_is_told_apart(tmp_path):
    """No file, a folder, a file without rights, one too large and an odd name: each says so."""
    for path, said in [
        (tmp_path / "none.toml", "there is no file"),
        (tmp_path, "is a folder"),
        (tmp_path / "a\0b", "cannot be read"),
    ]:
        with pytest.raises(UserError, match=said) as caught:
            read_job(path)
        assert not isinstance(caught.value, JobError)
    large = tmp_path / "large.toml"
    large.write_bytes(b"#" * 20_000_001)
    with pytest.raises(UserError, match="20 MB"):
        read_job(large)


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="rights do not bind this user")
def test_a_file_without_the_right_to_read_it(tmp_path):
    """A file that may not be read is said to be so."""
    path = tmp_path / "job.toml"
    path.write_text(SOUND)
    path.chmod(0)
    with pytest.raises(UserError, match="may not be read"):
        read_job(path)


@pytest.mark.parametrize(
    ("data", "line"),
    [
        (SOUND.encode("utf-16"), 1),
        (SOUND.encode("utf-16-le"), 1),
        (SOUND.encode("utf-32"), 1),
        ((SOUND + "# Maß\n").encode("latin-1"), SOUND.count("\n") + 1),
    ],
)
def test_other_encodings_are_told(tmp_path, data, line):
    """A file in UTF-16, UTF-32 or Latin-1 is one mistake, with the remedy to save it as UTF-8."""
    found = only(data, tmp_path)
    assert "UTF-8" in found.text
    assert "UTF-8" in found.remedy
    assert found.line == line


def test_a_hole_group_needs_no_name(tmp_path):
    """Groups without a name are told by their number in mistakes, and read as they are."""
    text = (
        SOUND
        + '[[panel.holes]]\ndrill = "#7"\nat = [[1, 1]]\n[[panel.holes]]\ndrill = "#7"\nat = [[2, "x"]]\n'
    )
    assert only(text, tmp_path).place == 'panel "lid", holes 2, at[0][1]'
    assert [h.group for h in read(text.replace('"x"', "2"), tmp_path).panels[0].holes] == ["", ""]


def test_shown_input_is_cut_and_escaped(tmp_path):
    """What a message repeats of the input is one line of at most 80 letters."""
    hostile = "x\u202e\x1b[31m" + "y" * 10_000
    assert len(shown(hostile)) <= 80
    assert shown("a\u202eb\n") == '"a\\u202eb\\n"'
    found = only(SOUND.replace('"lid"', '"x\\u202e\\u001b[31m' + "y" * 10_000 + '"'), tmp_path)
    assert len(str(found)) < 400
    assert found.place.isprintable()
    assert found.text.isprintable()


def test_sixty_panels_are_read_in_a_blink(tmp_path):
    """Sixty panels with three groups of holes each take little: generous bound for a busy machine."""
    text = TOP + CUTTING + SHEET
    for i in range(60):
        text += PANEL.replace("lid", f"lid {i}")
        for group in ("a", "b", "c"):
            text += f'[[panel.holes]]\nname = "{group}"\nscrew = "10-32"\ncorners = "{ord(group) - 96}/2"\n'
    read(text, tmp_path)
    start = time.process_time()
    job = read(text, tmp_path)
    assert time.process_time() - start < 0.3
    assert sum(len(p.holes) for p in job.panels) == 720


def test_holes_are_counted_for_joints_only_where_they_are(tmp_path):
    """A group with a mistake leaves the other groups' mistakes to be told as well."""
    text = with_holes('drill = "#7"\nat = []\n[[panel.holes]]\nname = "rim"\ndrill = "#999"\ncorners = 1\n')
    assert [m.place for m in mistakes(text, tmp_path)] == [
        'panel "lid", holes "vent", at',
        'panel "lid", holes "rim", drill',
    ]


def test_pieces_only_on_hand_need_no_price(tmp_path):
    """A price is for all that can be bought of one material and thickness; what is only here needs none."""
    rest = SHEET.replace("PC 1/8 2x4", "rest").replace("price = 38.50\n", "on_hand = 2\nbuy = false\n")
    sheets = read(TOP + CUTTING + SHEET + rest + PANEL, tmp_path).sheets
    assert [(s.price, s.on_hand, s.buy) for s in sheets] == [(Fraction("38.5"), 0, True), (None, 2, False)]
    other = SHEET.replace("PC 1/8 2x4", "thick").replace('".118"', '".236"').replace('"1/8"', '"1/4"')
    unpriced = read(TOP + CUTTING + SHEET + other.replace("price = 38.50\n", "") + PANEL, tmp_path).sheets
    assert [s.price for s in unpriced] == [Fraction("38.5"), None]


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


CONTRACT = """\
job  = "Solar boat: console and hatches"
unit = "in"
date = 2026-03-01              # optional

[cutting]
how    = "saw"
kerf   = "1/8"
gap    = "1/8"
margin = 0
stages = 3
first  = "any"
prefer = "offcut"

[cutting.sponsor]
how = "router"
kerf = "1/4"
gap = "1/2"
margin = "3/4"

[printing]
paper   = "letter"
scale_x = 1.0
scale_y = 1.0

[marking]
to = "1/32"

[dxf]
version = "R2010"
single_layer = false

[[sheet]]
name      = "PC 1/8 2x4"
material  = "polycarbonate"
thickness = ".118"
sold_as   = "1/8"
size      = [24, 48]
price     = 38.50
on_hand   = 0
buy       = true
grain     = "none"
cut       = "sponsor"

[[panel]]
name          = "console lid"
for           = "console"
material      = "polycarbonate"
thickness     = "1/8"
size          = ["14 1/2", "9 3/4"]
corner_radius = "1/4"
quantity      = 2
opposite_hand = 1
spare         = 0
spare_if_room = 0
faces         = "differ"
grain         = "none"
turn          = "quarter"
revision      = "A"

  [[panel.holes]]
  name  = "hinge"
  screw = "10-32"
  fit   = "normal"
  row   = { start = ["1/2", "1/2"], end = [14, "1/2"], count = 4 }
  from  = "bottom left"

  [[panel.holes]]
  name  = "vent"
  drill = "#7"
  grid  = { start = [4, 4], columns = 3, rows = 2, pitch = ["3/4", "3/4"] }
"""


def test_the_job_that_explains_the_format_is_read(tmp_path):
    """The example by which the format is explained reads without a mistake, and as it says."""
    job = read(CONTRACT, tmp_path)
    (group,) = job.groups
    assert (group.way.name, group.gap, group.margin.top, group.settled_by) == (
        "sponsor", IN / 2, IN * 3 / 4, (),
    )  # fmt: skip
    (lid,) = group.panels
    assert (len(lid.holes), lid.needed, lid.used_for, lid.revision) == (10, 3, "console", "A")
    assert lid.holes[3].at == Point(355.6, 12.7)
    assert {h.drill.name for h in lid.holes} == {"#2", "#7"}


TWICE = """job = "twice"
unit = "in"
[cutting]
how = "saw"
kerf = "1/8"
[[panel]]
name = "a"
material = "MDF"
thickness = 1
size = [5, 5]
  [[panel.holes]]
  name = "two patterns"
  dia = 1
  drill = "F"
  fit = "close"
  at = [[2, 2], [2]]
  row = { start = [1, 1], count = 0 }
  [[panel.notches]]
  corner = "top left"
  side = "top"
  size = [9, 9]
[[panel]]
name = "b"
material = "MDF"
thickness = 1
size = [5, 0]
disc = 3
chamfer = "1/4"
corner_radius = 1
  [[panel.cutouts]]
  size = [1, 1]
  disc = -1
  at = [2]
"""


def test_what_cannot_stand_together_hides_no_other_mistake(tmp_path):
    """Where two patterns, drills, outlines or places stand together, each one's own mistakes are told too."""
    with pytest.raises(JobError) as caught:
        read_text(TWICE, tmp_path)
    told = [m.place for m in caught.value.mistakes]
    for part, keys in (
        ('panel "a", holes "two patterns"', ("dia", "fit", "row", "at[1]", "count")),
        ('panel "a", notches 1', ("side",)),
        ('panel "a"', ("notches",)),
        ('panel "b"', ("disc", "chamfer", "size[1]")),
        ('panel "b", cutouts 1', ("disc", "at")),
    ):
        missing = [key for key in keys if f"{part}, {key}" not in told]
        assert not missing, (part, missing, told)
