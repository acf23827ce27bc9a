"""Tubes: defaults, holes and their numbers, ends, templates, rows that must match."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from nestkit.geometry.mitre import Mitre
from nestkit.geometry.section import Section
from nestkit.parts.tube import Spot, Twin
from tests.job.texts import (
    BAR,
    CUTTING,
    PANEL,
    SIDE,
    SOUND,
    SOUND_TUBE,
    TOP,
    TUBE,
    mistakes,
    only,
    read,
    with_tube,
)

IN = Fraction("25.4")

CONTRACT = (
    TOP
    + CUTTING
    + """\
[cutting.hacksaw]
how = "saw"
kerf = "1/32"

[[bar]]                        # stock lengths
name     = "square 1 x 1/16"
material = "aluminium 6061"
section  = "1 x 1 x 1/16"      # tube a x b x wall
length   = 96
price    = 14.00
on_hand  = 0
buy      = true
trim     = "1/4"               # lost at each end
cut      = "hacksaw"           # a way with how = "saw"

[[tube]]                       # a cut length of any section
name = "deck frame"
material = "aluminium 6061"
section = "1 x 1 x 1/16"
length = 22                    # over the long points
quantity = 2

  [[tube.holes]]
  name = "lid side"
  face = "A"
  through = true               # also in the wall opposite
  drill = "#7"
  at = ["1/2", 4, 8, 12, "21 1/2"]
"""
)


def only_tube(text, folder):
    """Return the one tube of a sound job."""
    (tube,) = read(text, folder).tubes
    return tube


def test_the_job_that_explains_the_format_is_read(tmp_path):
    """The example by which bars and tubes are explained reads without a mistake, and as it says."""
    job = read(CONTRACT, tmp_path)
    (tube,), (group,) = job.tubes, job.bar_groups
    assert (tube.length, tube.quantity, len(tube.holes), len(tube.marks)) == (22 * IN, 2, 5, 10)
    assert [hole.spot for hole in tube.holes] == [
        Spot(at * IN, "A", IN / 2) for at in (Fraction(1, 2), 4, 8, 12, Fraction(43, 2))
    ]
    assert all(hole.through and hole.drill.name == "#7" and hole.group == "lid side" for hole in tube.holes)
    assert (group.way.name, group.kerf, group.bars[0].trim) == ("hacksaw", IN / 32, IN / 4)


def test_defaults_of_a_tube_are_those_of_the_contract(tmp_path):
    """One as drawn, cut square, no holes, strips for templates, nothing measured."""
    tube = only_tube(SOUND_TUBE, tmp_path)
    assert (tube.quantity, tube.opposite_hand, tube.spare, tube.spare_if_room) == (1, 0, 0, 0)
    assert (tube.mitres, tube.holes, tube.twins) == ((None, None), (), ())
    assert (tube.paper, tube.corner, tube.girth) == ("strips", None, None)
    assert (tube.used_for, tube.revision, tube.place) == ("", "", 'tube "deck frame"')
    assert tube.line == SOUND_TUBE.split("\n").index("[[tube]]") + 1


def test_counts_and_names_of_a_tube_are_read(tmp_path):
    """The same counts as a panel has, its bench and its revision."""
    more = 'quantity = 2\nopposite_hand = 1\nspare = 3\nspare_if_room = 4\nfor = "deck"\nrevision = "B"\n'
    tube = only_tube(with_tube(more), tmp_path)
    assert (tube.needed, tube.spare_if_room, tube.used_for, tube.revision) == (6, 4, "deck", "B")


def test_holes_are_numbered_through_all_groups(tmp_path):
    """Numbers run in file order, a row from its start by its pitch or to its end, either end the start."""
    more = (
        SIDE
        + '[[tube.holes]]\nface = "B"\nscrew = "10-32"\nfrom = "end 1"\nacross = "1/4"\n'
        + "row = { start = 1, pitch = 2, count = 3 }\n"
        + '[[tube.holes]]\nface = "D"\ntap = "10-32"\nacross = "centre"\n'
        + "row = { start = 21, end = 1, count = 3 }\n"
    )
    tube = only_tube(with_tube(more), tmp_path)
    assert [hole.number for hole in tube.holes] == list(range(1, 9))
    assert [hole.spot.at / IN for hole in tube.holes] == [Fraction(1, 2), 4, 21, 19, 17, 21, 11, 1]
    assert [hole.spot.face for hole in tube.holes] == list("AABBBDDD")
    assert [hole.spot.across / IN for hole in tube.holes[2:6]] == [Fraction(1, 4)] * 3 + [Fraction(1, 2)]
    assert [hole.drill.name for hole in tube.holes[1:6:2]] == ["#7", "#2", "#21"]
    assert not any(hole.through for hole in tube.holes)


@pytest.mark.parametrize(("written", "deg"), [("0", 0), ("90", 90), ("-45", 315), ("360", 0), ("22.5", 22.5)])
def test_holes_of_round_sections_go_by_angle(tmp_path, written, deg):
    """From A, growing towards B; the other way round it is the same place."""
    more = SIDE.replace('face = "A"', f"at_deg = {written}\nthrough = true")
    tube = only_tube(with_tube(more, "round 1 x 1/16"), tmp_path)
    assert [(m.spot.face, float(m.spot.at_deg)) for m in tube.marks[:2]] == [
        (None, deg),
        (None, (deg + 180) % 360),
    ]


@pytest.mark.parametrize(
    ("section", "face", "wide"),
    [("1 x 2 x 1/8", "B", 2), ("angle 1 x 2 x 1/8", "A", 1), ("strip 3 x 1/8", "A", 3)],
)
def test_across_may_be_anything_on_the_face(tmp_path, section, face, wide):
    """From 0 to the width of the face that has the holes; what leaves the face is a finding, no mistake."""
    for across in (0, wide):
        more = SIDE.replace('"A"', f'"{face}"') + f"across = {across}\n"
        assert only_tube(with_tube(more, section), tmp_path).holes[0].spot.across == across * IN
    found = only(with_tube(SIDE.replace('"A"', f'"{face}"') + f"across = {wide}.01\n", section), tmp_path)
    assert f"which is {wide} in wide" in found.text


def test_a_hole_past_an_end_is_no_mistake_of_the_file(tmp_path):
    """As with panels: where a hole leaves the part, the checks say so, with everything else they find."""
    tube = only_tube(with_tube(SIDE.replace("4]", "23, -1]")), tmp_path)
    assert [hole.spot.at / IN for hole in tube.holes] == [Fraction(1, 2), 23, -1]


def test_mitres_are_read_by_face_and_by_angle(tmp_path):
    """On a section with faces the long side is a letter, on a round one an angle."""
    more = 'mitre_0 = { angle_deg = 45, long = "D" }\nmitre_1 = { angle_deg = 22.5, long = "A" }\n'
    tube = only_tube(with_tube(more), tmp_path)
    assert tube.mitres == (Mitre(Fraction(45), Fraction(270)), Mitre(Fraction("22.5"), Fraction(0)))
    tube = only_tube(with_tube("mitre_1 = { angle_deg = 30, long_deg = -90 }\n", "rod 1/2"), tmp_path)
    assert tube.mitres == (None, Mitre(Fraction(30), Fraction(270)))


def test_mitres_meet_where_nothing_is_left(tmp_path):
    """A 1 in tube with two mitres of 45 towards one side is made from a little over 2 in on."""
    more = "mitre_0 = { angle_deg = 45, long = 'A' }\nmitre_1 = { angle_deg = 45, long = 'A' }\n"
    assert only_tube(with_tube(more).replace("length = 22", 'length = "2 1/64"'), tmp_path).least_length > 0
    assert "meet" in only(with_tube(more).replace("length = 22", "length = 2"), tmp_path).text
    aslant = more.replace("long = 'A' }\nm", "long = 'C' }\nm")
    assert only_tube(with_tube(aslant).replace("length = 22", "length = 2"), tmp_path).least_length > 0


@pytest.mark.parametrize(
    ("section", "said", "paper"),
    [
        ("1 x 1 x 1/16", "wrap", "wrap"),
        ("1 x 2 x 1/16", "corner", "corner"),
        ("angle 1 x 1 x 1/8", "corner", "corner"),
        ("angle 1 x 1 x 1/8", "", "strips"),
        ("strip 1 x 1/8", "strips", "strips"),
        ("round 1 x 1/16", "", "wrap"),
        ("rod 1", "wrap", "wrap"),
    ],
)
def test_a_template_lies_as_the_job_says(tmp_path, section, said, paper):
    """A strip a face where nothing is said, and right round what is round."""
    more = f"template = '{said}'\n" if said else ""
    assert only_tube(with_tube(more, section), tmp_path).paper == paper


def test_what_was_measured_is_kept(tmp_path):
    """An outside corner radius of 0 to half the smaller side, and a girth that agrees with the diameter."""
    for radius in ("0", '"1/2"'):
        tube = only_tube(with_tube(f"corner_radius = {radius}\n", "1 x 2 x 1/16"), tmp_path)
        assert tube.corner == (IN / 2 if radius != "0" else 0)
    around = math.pi * 25.4
    for girth in (around * 0.951, around, around * 1.049 + 8 * 0.08):
        tube = only_tube(with_tube(f'girth = "{girth:.4f} mm"\n', "round 1 x 1/16"), tmp_path)
        assert tube.girth == Fraction(f"{girth:.4f}")


def test_thick_paper_makes_a_longer_girth(tmp_path):
    """What the paper adds at a fold is what the job says it is: a rod has room for it around."""
    text = with_tube('girth = "11 mm"\n', "rod 3 mm")
    assert only(text, tmp_path).place == 'tube "deck frame", girth'
    job = read(text.replace("[cutting]", "[printing]\nfold = '0.2 mm'\n[cutting]"), tmp_path)
    assert (job.printing.fold, job.tubes[0].girth) == (0.2, 11)


def test_a_fold_is_left_to_the_rules_unless_it_is_said(tmp_path):
    """No fold is none; 0 is a fold of no thickness."""
    assert read(SOUND, tmp_path).printing.fold is None
    assert read(TOP + "[printing]\nfold = 0\n" + SOUND[len(TOP) :], tmp_path).printing.fold == 0.0


PAIR = (
    TOP
    + CUTTING
    + BAR
    + TUBE
    + SIDE
    + 'matches = "far frame / rim"\n'
    + TUBE.replace("deck", "far")
    + SIDE.replace("side", "rim")
)


def test_rows_of_a_pair_are_matched_by_their_names(tmp_path):
    """A group may name one that is read later, of another tube or of its own."""
    near, far = read(PAIR, tmp_path).tubes
    assert (near.twins, far.twins) == ((Twin("side", "far frame", "rim"),), ())
    own = SIDE + SIDE.replace("side", "other") + 'matches = "deck frame/side"\n'
    assert only_tube(with_tube(own), tmp_path).twins == (Twin("other", "deck frame", "side"),)


def test_a_match_is_checked_beside_other_mistakes(tmp_path):
    """A wrong match is told where its tube has other mistakes, and a sound one is not where the other has."""
    text = PAIR.replace("far frame / rim", "far frame / rom").replace("length = 22", "length = 0", 1)
    assert [m.place for m in mistakes(text, tmp_path)] == [
        'tube "deck frame", length',
        'tube "deck frame", holes "side", matches',
    ]
    text = PAIR.replace("length = 22", "length = 0").replace("length = 0", "length = 22", 1)
    assert only(text, tmp_path).place == 'tube "far frame", length'
    text = PAIR.replace('name = "rim"', 'name = "rim"\nacross = 3')
    assert only(text, tmp_path).place == 'tube "far frame", holes "rim", across'


def test_a_panel_is_no_tube_to_match(tmp_path):
    """Only holes of tubes lie along something; a name with braces is told as it is."""
    text = PAIR.replace("far frame / rim", "lid / {0}") + PANEL
    assert only(text, tmp_path).text == '"lid" is no tube of this job'


MANY = """\
[[tube]]
name = "many"
material = "aluminium"
section = "1 x 1 1/16"
length = "x"
quantity = -1
template = "fold"
corner_radius = "a"
girth = "b"
mitre_0 = { angle_deg = 95, long = "E", longer = 1 }
mitre_1 = 45
  [[tube.holes]]
  name = "h/1"
  face = "Q"
  at_deg = "c"
  through = 1
  drill = "#99"
  at = [1, "d"]
  row = { start = "e", count = 0 }
  across = "f"
  from = "end 2"
  matches = "nothing"
"""


def test_every_mistake_of_a_tube_is_told_in_one_run(tmp_path):
    """Also where the section is wrong: what stands in the tube and its holes is read all the same."""
    keys = [m.place.removeprefix('tube "many", ') for m in mistakes(TOP + CUTTING + MANY, tmp_path)]
    assert keys == [
        "section", "length", "quantity", "template", "corner_radius", "girth", "mitre_0, longer",
        "mitre_0, angle_deg", "mitre_0, long", "mitre_1", 'holes "h/1", name', 'holes "h/1", face',
        'holes "h/1", at_deg', 'holes "h/1", through', 'holes "h/1", drill', 'holes "h/1", at[1]',
        'holes "h/1", row', 'holes "h/1", start', 'holes "h/1", count', 'holes "h/1"', 'holes "h/1", across',
        'holes "h/1", from', 'holes "h/1", matches',
    ]  # fmt: skip


def test_what_a_roll_cannot_have_hides_no_mistake_in_it(tmp_path):
    """Holes of what comes off a roll are not wanted, and their own mistakes are told all the same."""
    text = with_tube(SIDE.replace('"#7"', '"#99"'), "roll 1")
    assert [m.place for m in mistakes(text, tmp_path)] == [
        'tube "deck frame", holes',
        'tube "deck frame", holes "side", drill',
    ]


def test_pieces_and_holes_of_tubes_count_with_those_of_panels(tmp_path):
    """A job has at most 100,000 pieces and as many holes, over panels and tubes together."""
    many = SOUND + "quantity = 60000\n" + TUBE + "quantity = 40000\n"
    job = read(many, tmp_path)
    assert (len(job.panels), len(job.tubes)) == (1, 1)
    assert "100,001 pieces" in only(many + "spare = 1\n", tmp_path).text
    found = only(SOUND_TUBE + "quantity = 60000\nspare = 60000\n", tmp_path)
    assert (found.place, found.line) == ("tube", SOUND_TUBE.split("\n").index("[[tube]]") + 1)
    row = '[[tube.holes]]\nface = "A"\ndia = 1\nrow = { start = 0, pitch = ".001", count = 10000 }\n'
    assert "holes" in only(SOUND_TUBE + 11 * row, tmp_path).text


def test_a_job_of_tubes_alone_is_a_job(tmp_path):
    """Neither a panel nor a sheet is needed; a job of neither panels nor tubes makes nothing."""
    job = read(SOUND_TUBE, tmp_path)
    assert (job.panels, job.groups, job.sheets) == ((), (), ())
    assert "[[tube]]" in only(TOP + CUTTING + BAR, tmp_path).remedy
    text = SOUND + "quantity = 0\n" + TUBE
    assert read(text, tmp_path).tubes[0].needed == 1
    assert only(text + "quantity = 0\n", tmp_path).place == "panel"


def test_sections_are_in_the_unit_of_the_job(tmp_path):
    """Bare sizes are inches in a job in inches, millimetres in one in millimetres."""
    text = (
        SOUND_TUBE.replace('"in"', '"mm"')
        .replace("1 x 1 x 1/16", "25 x 25 x 1.5")
        .replace("length = 22", "length = 600")
    )
    assert only_tube(text, tmp_path).section == Section("tube", Fraction(25), Fraction(25), Fraction(3, 2))
