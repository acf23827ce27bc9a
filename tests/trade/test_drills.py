from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.trade.drills import all_drills, drill, named, nearest
from nestkit.trade.tables import read


@pytest.mark.parametrize(
    ("name", "inches"),
    [("#7", "0.201"), ("# 7", "0.201"), ("f", "0.257"), ("F", "0.257"), ("1/4", "0.25"), ("1/4 in", "0.25"),
     ('17/64"', "0.265625"), ("1 in", "1"), ("E", "0.25"), ("#80", "0.0135")],
)  # fmt: skip
def test_inch_drills_are_exact_by_name(name, inches):
    """A number, letter or fraction drill has exactly its size in inches."""
    assert drill(name).dia == Fraction(inches) * Fraction("25.4")


@pytest.mark.parametrize(
    ("name", "mm"), [("5.5", "5.5"), ("5.50", "5.5"), ("5.5 mm", "5.5"), ("1", "1"), ("3mm", "3")]
)
def test_a_decimal_is_a_metric_drill(name, mm):
    """A bare decimal or whole number is millimetres, however it is written."""
    assert drill(name).dia == Fraction(mm)
    assert drill(name).series == "metric"


@pytest.mark.parametrize(
    "name", ["", "#81", "#0", "AA", "2/8", ".201 in", "5,5", "5.55", "-1", "#7 mm", "٣", "1e1"]
)
def test_what_is_no_drill_is_none(name):
    """A name that no drill has gives nothing, rather than something near."""
    assert drill(name) is None


def test_every_drill_is_found_by_its_own_name():
    """All 323 rows of the table come back by their names, which are unique."""
    rows = all_drills()
    assert len(rows) == len({row.name for row in rows}) == 323
    assert all(drill(row.name) is row for row in rows)


def test_both_units_of_the_table_agree():
    """The converted column is the defining one at 25.4 exactly, rounded to its last digit."""
    for row, read_row in zip(all_drills(), read("drills"), strict=True):
        assert abs(row.dia - Fraction(read_row["diameter_mm"])) <= Fraction("0.0005"), row
        assert abs(row.dia / Fraction("25.4") - Fraction(read_row["diameter_in"])) <= Fraction("0.00005"), row


def test_named_prefers_the_fraction_in_inches_and_the_metric_drill_in_mm():
    """1/4 in is also letter E, 1/2 in also 12.7 mm: the job's unit decides the name."""
    assert named(Fraction("6.35")).name == "1/4"
    assert named(Fraction("12.7"), "in").name == "1/2"
    assert named(Fraction("12.7"), "mm").name == "12.7 mm"
    assert named(Fraction("5.1054")).name == "#7"
    assert named(Fraction("5.1054"), "mm").name == "#7"


def test_named_holds_to_half_a_micrometre():
    """A size beside every drill has no name."""
    assert named(Fraction("5.1059")).name == "#7"
    assert named(Fraction("5.1060")) is None


@given(st.fractions(min_value=Fraction(1, 2), max_value=26), st.fractions(min_value=0, max_value=1))
def test_nearest_lists_all_in_reach_by_distance(dia, within):
    """Nothing in reach is missing and the nearest comes first."""
    found = nearest(dia, within)
    away = [abs(row.dia - dia) for row in found]
    assert away == sorted(away)
    assert set(found) == {row for row in all_drills() if abs(row.dia - dia) <= within}
