"""Groups of holes of a part: their numbers, names and mistakes."""

from __future__ import annotations

from fractions import Fraction

from nestkit.geometry.points import Point
from tests.job.texts import SOUND, mistakes, only, read, with_holes, with_panel

IN = Fraction("25.4")


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


def test_a_hole_group_needs_no_name(tmp_path):
    """Groups without a name are told by their number in mistakes, and read as they are."""
    text = (
        SOUND
        + '[[panel.holes]]\ndrill = "#7"\nat = [[1, 1]]\n[[panel.holes]]\ndrill = "#7"\nat = [[2, "x"]]\n'
    )
    assert only(text, tmp_path).place == 'panel "lid", holes 2, at[0][1]'
    assert [h.group for h in read(text.replace('"x"', "2"), tmp_path).panels[0].holes] == ["", ""]


def test_holes_are_counted_for_joints_only_where_they_are(tmp_path):
    """A group with a mistake leaves the other groups' mistakes to be told as well."""
    text = with_holes('drill = "#7"\nat = []\n[[panel.holes]]\nname = "rim"\ndrill = "#999"\ncorners = 1\n')
    assert [m.place for m in mistakes(text, tmp_path)] == [
        'panel "lid", holes "vent", at',
        'panel "lid", holes "rim", drill',
    ]
