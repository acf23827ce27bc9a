"""Wrong jobs by class: each is told with its place, its line and what to write instead."""

from __future__ import annotations

import pytest

from nestkit.errors import JobError
from nestkit.job.reader import read_text
from tests.job import wrong_fixed, wrong_holes, wrong_joints, wrong_panels, wrong_stock, wrong_tubes
from tests.job.texts import CUTTING, PANEL, SHEET, SOUND, TOP, marked_line, mistakes, only, read

EACH = [w.CASES for w in (wrong_stock, wrong_panels, wrong_holes, wrong_tubes, wrong_joints, wrong_fixed)]
CASES = {name: case for cases in EACH for name, case in cases.items()}


@pytest.mark.parametrize(("text", "place", "said", "remedy"), CASES.values(), ids=CASES)
def test_a_mistake_is_told_with_place_line_and_remedy(tmp_path, text, place, said, remedy):
    """Each wrong job has its one mistake, where it is, in which line, and what to write."""
    found = only(text, tmp_path)
    assert found.place == place
    assert said in found.text
    assert remedy in found.remedy
    marked = marked_line(text)
    if marked is not None:
        assert found.line == marked
    assert found.remedy[0].isupper() or not found.remedy[0].isalpha()
    assert not found.remedy.endswith(".")


def test_there_are_cases_enough():
    """More than eighty wrong files, forty of bars and tubes, thirty of joints, forty of regions and holds."""
    assert len(CASES) > 80
    assert len(wrong_tubes.CASES) >= 40
    assert len(wrong_joints.JOINTS) >= 30
    assert len(wrong_fixed.CASES) >= 40
    assert sum(map(len, EACH)) == len(CASES), "two cases have one name"


def test_a_misspelt_key_is_not_also_called_missing(tmp_path):
    """One slip is one mistake: the key that is offered is not missed as well."""
    text = SOUND.replace("kerf", "kerff").replace("material", "materail")
    places = [m.place for m in mistakes(text, tmp_path)]
    assert places == ["cutting, kerff", 'sheet "PC 1/8 2x4", materail', 'panel "lid", materail']


def test_a_wrong_way_does_not_blame_the_sheets_that_name_it(tmp_path):
    """A sheet cut by a way that is wrong itself has no mistake of its own."""
    text = (
        TOP
        + CUTTING
        + '[cutting.sponsor]\nhow = "roter" #<\nkerf = 1\n'
        + SHEET
        + 'cut = "sponsor"\n'
        + PANEL
    )
    found = only(text, tmp_path)
    assert (found.place, found.line) == ("cutting.sponsor, how", marked_line(text))


def test_what_does_not_agree_is_told_beside_other_mistakes(tmp_path):
    """Mistakes between sheets and panels are told in the same run as mistakes within them."""
    text = (
        TOP + CUTTING + SHEET + SHEET.replace("2x4", "4x4").replace("price = 38.50\n", "")
        + SHEET.replace("2x4", "thick").replace('".118"', '".125"')
        + PANEL + PANEL.replace("lid", "base") + "turn = 1\n"
    )  # fmt: skip
    assert [m.place for m in mistakes(text, tmp_path)] == [
        'sheet "PC 1/8 4x4", price',
        'panel "lid", thickness',
        'panel "base", turn',
    ]


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


def test_too_many_pieces_or_holes_are_a_mistake(tmp_path):
    """A job has at most 100,000 pieces, over all panels, and as many holes."""
    many = SOUND + "quantity = 60000\n" + PANEL.replace('"lid"', '"base"')
    assert len(read(many + "spare_if_room = 39999\n", tmp_path).panels) == 2
    found = only(many + "spare_if_room = 40000\n", tmp_path)
    assert "100,001 pieces" in found.text
    assert "100,000" in found.remedy
    grid = "[[panel.holes]]\ndia = 1\ngrid = { start = [1, 1], columns = 100, rows = 100, pitch = [1, 1] }\n"
    assert "holes" in only(SOUND + 11 * grid, tmp_path).text


def test_nothing_to_make_is_told_beside_other_mistakes(tmp_path):
    """A job that makes nothing says so in the run that tells its other mistakes, also by a spreadsheet."""
    none = PANEL + "quantity = 0\n"
    text = TOP + CUTTING + "gap = 0\n" + SHEET + none + none
    assert [m.place for m in mistakes(text, tmp_path)] == ["cutting, gap", "panel", 'panel "lid", name']
    (tmp_path / "parts.csv").write_text(
        "name,material,thickness,disc,quantity\na,MDF,1,2,0\n", encoding="utf-8"
    )
    found = only(TOP + CUTTING + SHEET + '[[import]]\nfile = "parts.csv"\n', tmp_path)
    assert (found.place, found.line) == ("import", 13)
    assert "nothing to make" in found.text


def test_what_a_mistake_hides_is_not_called_nothing(tmp_path):
    """Where a panel cannot be read, how much there is to make is not known."""
    text = SOUND + "quantity = 0\n" + PANEL.replace('"lid"', '"base"') + "quantity = 1.5\n"
    assert only(text, tmp_path).place == 'panel "base", quantity'
    read(SOUND + "quantity = 0\n" + PANEL.replace('"lid"', '"base"'), tmp_path)
    read(SOUND + "quantity = 0\nopposite_hand = 1\n", tmp_path)
    read(SOUND + "quantity = 0\nspare = 1\n", tmp_path)


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
