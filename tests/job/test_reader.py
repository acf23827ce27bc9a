"""A sound job file is understood as the contract says: defaults, exact numbers, its own example."""

from __future__ import annotations

from fractions import Fraction

from nestkit.geometry.points import Point
from tests.job.texts import CUTTING, PANEL, SHEET, SOUND, TOP, read

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


def test_numbers_never_pass_through_a_binary_float(tmp_path):
    """A decimal of the job file is exact: 0.1 mm is one tenth, .118 in is 2.9972 mm."""
    text = SOUND.replace('size = ["14 1/2", "9 3/4"]', 'size = ["0.3 mm", 0.1]')
    panel = read(text, tmp_path).panels[0]
    assert (panel.width, panel.height) == (Fraction(3, 10), Fraction("2.54"))
    assert panel.thickness == Fraction("2.9972")


def test_line_ends_and_a_byte_order_mark_do_not_matter(tmp_path):
    """The same job with CR LF and a byte order mark reads alike."""
    plain = read(SOUND, tmp_path)
    assert read(b"\xef\xbb\xbf" + SOUND.replace("\n", "\r\n").encode(), tmp_path) == plain


def test_no_hole_of_sixty_panels_is_lost(tmp_path):
    """Sixty panels with three groups of four holes each are read with all 720 holes."""
    text = TOP + CUTTING + SHEET
    for i in range(60):
        text += PANEL.replace("lid", f"lid {i}")
        for group in ("a", "b", "c"):
            text += f'[[panel.holes]]\nname = "{group}"\nscrew = "10-32"\ncorners = "{ord(group) - 96}/2"\n'
    job = read(text, tmp_path)
    assert sum(len(p.holes) for p in job.panels) == 720


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
