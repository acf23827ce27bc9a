"""Bought parts: defaults, holes in their own frame, and how parts say that their holes are made."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nestkit.geometry.points import Point
from nestkit.parts.bought import Bought
from nestkit.parts.methods import METHODS
from tests.job.joint_texts import SOUND_JOINT
from tests.job.texts import CUTTING, SHEET, SOUND, SOUND_TUBE, TOP, mistakes, only, read

IN = Fraction("25.4")


def test_the_contract_s_hinge_is_read(tmp_path):
    """Count, price, and holes where they are in the part's own frame, numbered from 1."""
    hinge = """\
[[bought]]
name = "hinge"
quantity = 2
price = 6.20
  [[bought.holes]]             # as panel.holes without from, in the bought part's own frame
  name = "leaf"
  dia  = ".2"
  at   = [["1/4", "1/4"], ["1 1/4", "1/4"]]
"""
    (part,) = read(SOUND + hinge, tmp_path).bought
    assert (part.name, part.place, part.quantity, part.price) == (
        "hinge",
        'bought "hinge"',
        2,
        Fraction("6.2"),
    )
    assert (part.used_for, part.material, part.thickness, part.method) == ("", "", None, None)
    assert part.line == SOUND.count("\n") + 1
    assert [(h.number, h.group, h.dia) for h in part.holes] == [(1, "leaf", 5.08), (2, "leaf", 5.08)]
    assert [h.at for h in part.holes] == [Point(6.35, 6.35), Point(31.75, 6.35)]


def test_a_bought_part_needs_only_its_name(tmp_path):
    """One of it, no price, no holes, nothing known of material or thickness."""
    (part,) = read(SOUND + '[[bought]]\nname = "motor"\n', tmp_path).bought
    assert part == Bought("motor", 'bought "motor"', line=SOUND.count("\n") + 1)


@pytest.mark.parametrize(("unit", "mm"), [("in", IN), ("mm", Fraction(1))])
def test_all_that_a_bought_part_may_say(tmp_path, unit, mm):
    """Lengths are in the job's unit; holes of all groups are numbered through, some left of the origin."""
    text = SOUND.replace('unit = "in"', f'unit = "{unit}"') + (
        '[[bought]]\nname = "motor"\nfor = "drive"\nmaterial = "steel"\nthickness = 4\nquantity = 0\n'
        'price = 0\nmethod = "as bought"\n'
        '[[bought.holes]]\nname = "face"\ntap = "M5"\n'
        "circle = { centre = [0, 0], diameter = 40, count = 4, first_deg = 90 }\n"
        '[[bought.holes]]\nname = "foot"\nscrew = "M5"\n'
        "row = { start = [-10, -20], pitch = [10, 0], count = 2 }\n"
        '[[bought.holes]]\nname = "side"\ndrill = "#7"\n'
        "grid = { start = [0, 0], columns = 2, rows = 2, pitch = [5, 5] }\n"
    )  # fmt: skip
    (part,) = read(text, tmp_path).bought
    assert (part.used_for, part.material, part.thickness) == ("drive", "steel", 4 * mm)
    assert (part.quantity, part.price, part.method) == (0, 0, "as bought")
    assert [h.number for h in part.holes] == list(range(1, 11))
    assert part.holes[0].drill.tap == "M5x0.8"
    first, last = part.holes[0].at, part.holes[3].at
    assert (first.x, first.y) == pytest.approx((0, float(20 * mm)), abs=1e-9)
    assert (last.x, last.y) == pytest.approx((float(20 * mm), 0), abs=1e-9)
    assert [h.at for h in part.holes[4:6]] == [
        Point(float(-10 * mm), float(-20 * mm)), Point(0.0, float(-20 * mm)),
    ]  # fmt: skip


def test_all_mistakes_of_a_bought_part_are_told_at_once(tmp_path):
    """What is wrong in one key or group hides nothing in another."""
    text = SOUND + (
        '[[bought]]\nname = "a/b"\nquantity = -1\nthickness = 0\nmethod = "x"\nprice = nan\ncolour = 1\n'
        "[[bought.holes]]\ndia = 0\nat = [[1]]\n[[bought.holes]]\nfit = 1\n"
    )
    told = [m.place.partition(", ")[2] for m in mistakes(text, tmp_path)]
    assert told == [
        "name", "quantity", "thickness", "method", "price", "colour", "holes 1, dia", "holes 1, at[0]",
        "holes 2", "holes 2",
    ]  # fmt: skip


def test_what_is_bought_is_not_made(tmp_path):
    """A job with bought parts alone makes nothing, which is a mistake."""
    found = only(TOP + CUTTING + SHEET + '[[bought]]\nname = "motor"\n', tmp_path)
    assert "nothing to make" in found.text


@pytest.mark.parametrize("method", METHODS)
def test_every_part_may_say_how_its_holes_are_made(tmp_path, method):
    """Panels and tubes, of the job file and of spreadsheets, take a method; without it there is none."""
    said = f'method = "{method}"\n'
    assert read(SOUND + said, tmp_path).panels[0].method == method
    assert read(SOUND_TUBE + said, tmp_path).tubes[0].method == method
    (tmp_path / "parts.csv").write_text(
        "name,material,thickness,width,height,section,length,method\n"
        f"a,pc,1/8,4,4,,,{method}\nb,pc,,,,1 x 1 x 1/16,9,{method}\n"
        "c,pc,1/8,4,4,,,\nd,pc,,,,1 x 1 x 1/16,9,\n",
        encoding="utf-8",
    )
    job = read(TOP + CUTTING + SHEET + '[[import]]\nfile = "parts.csv"\n', tmp_path)
    assert [p.method for p in job.panels] == [method, None]
    assert [t.method for t in job.tubes] == [method, None]


def test_a_wrong_method_of_a_spreadsheet_is_told_by_its_row(tmp_path):
    """A method that is not known is refused where it stands."""
    (tmp_path / "parts.csv").write_text(
        "name,material,thickness,width,height,method\na,pc,1/8,4,4,tape\n", encoding="utf-8"
    )
    found = only(TOP + CUTTING + SHEET + '[[import]]\nfile = "parts.csv"\n', tmp_path)
    assert (found.place, found.line) == ("parts.csv, row 2, method", None)
    assert '"tape and marker"' in found.remedy


def test_holes_of_bought_parts_count_too(tmp_path):
    """A job has at most 100,000 holes, those of bought parts among them."""
    grid = "[[bought.holes]]\ndia = 1\ngrid = { start = [1, 1], columns = 100, rows = 100, pitch = [1, 1] }\n"
    text = SOUND_JOINT + '[[bought]]\nname = "x"\n'
    assert read(text + 9 * grid, tmp_path).joints
    assert "110,010 holes" in only(text + 11 * grid, tmp_path).text
