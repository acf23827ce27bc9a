from fractions import Fraction
from itertools import pairwise

import pytest

from nestkit.trade.drills import drill
from nestkit.trade.rivets import backing_washer, rivet_nut, rivets, wood_screw
from nestkit.trade.rules import rule
from nestkit.trade.tables import read

IN = Fraction("25.4")


@pytest.mark.parametrize(("dia", "name"), [("1/8", "#30"), ("5/32", "#20"), ("3/16", "#11")])
def test_rivet_drills_are_those_of_the_rules(dia, name):
    """R108 names #30, #20 and #11; each drill makes a hole within .001 in of the limits."""
    assert name in rule("R108").note
    for row in rivets(Fraction(dia) * IN):
        assert row.drill == name
        made = drill(name).dia
        assert row.hole_least - Fraction(".001") * IN <= made <= row.hole_most


@pytest.mark.parametrize("dia", ["3.175", "3.96875", "4.7625", "3.2", "4", "4.8"])
def test_grips_follow_one_another(dia):
    """Grips rise without overlap, and leave no gap of more than .001 in."""
    rows = rivets(Fraction(dia))
    assert rows
    for a, b in pairwise(rows):
        assert a.grip_least < a.grip_most <= b.grip_least <= a.grip_most + Fraction(".0011") * IN
    assert {row.sure for row in rows} == {rows[0].code != ""}


def test_a_code_is_32nds_and_16ths():
    """The code of an inch rivet is its diameter in 32nds and its longest grip in 16ths."""
    for row in read("rivets"):
        if row["code"]:
            dia = Fraction(row["dia"]) * 32
            grip = round(Fraction(row["grip_most"]) * 16)
            assert row["code"] == f"{dia}{grip}", row


def test_metric_and_inch_rivets_are_told_apart():
    """1/8 in and 3.2 mm are .025 mm apart and are different rivets."""
    assert {r.drill for r in rivets(IN / 8)} == {"#30"}
    assert {r.drill for r in rivets(Fraction("3.2"))} == {"3.3 mm"}
    assert rivets(Fraction("3.3")) == ()


def test_washers_behind_rivets():
    """What goes behind a rivet is a flat washer whose hole is that of the rivet."""
    for dia in ("3.175", "3.96875", "4.7625", "3.2", "4", "4.8"):
        size, found = backing_washer(Fraction(dia))
        assert abs(found.hole - Fraction(dia)) <= Fraction(1, 2), size
    assert backing_washer(Fraction(9)) is None


def test_pilots_of_wood_screws_keep_to_the_rule():
    """R063: the pilot is .65 to .75 of the largest diameter in soft wood; in hard wood it is larger."""
    by = rule("R063")
    for row in read("wood_screws"):
        found = wood_screw(Fraction(row["major"]) * (IN if row["unit"] == "in" else 1))
        soft, hard = drill(found.pilot_soft).dia, drill(found.pilot_hard).dia
        assert by.least <= soft / found.major <= by.most
        assert soft < hard < found.major


def test_what_the_tables_lack_is_none():
    """No rivet nut and no wood screw is made up."""
    assert rivet_nut("12-24") is None
    assert wood_screw(Fraction(9)) is None
    assert rivet_nut("10-32").grip_most == Fraction(".130") * IN
