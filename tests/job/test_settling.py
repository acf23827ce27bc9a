"""Gap and margin where the job leaves them to the rules table."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.job.settling import settled_by_rules
from nestkit.stock.ways import Margin, Way
from nestkit.trade.rules import rule

IN = Fraction("25.4")


def around(mm):
    """Return a margin alike on all sides."""
    return Margin(mm, mm, mm, mm)


# By the rules table: R027 saw, R026 and R029 router, R105 and R119 jigsaw, R028, R116 and R117 laser,
# R114, R115 and R118 waterjet.
SETTLED = [
    ("saw", Fraction("3.175"), Fraction(3), Fraction("3.175"), Fraction(0), ("R027",)),
    ("router", Fraction("6.35"), Fraction(3), Fraction("12.7"), Fraction("19.05"), ("R026", "R029")),
    ("jigsaw", Fraction("1.5"), Fraction(3), IN / 4, IN / 8, ("R105", "R119")),
    ("laser", Fraction("0.2"), Fraction(6), Fraction(6), None, ("R028", "R117")),
    ("laser", Fraction("0.2"), Fraction(1), Fraction(2), None, ("R116", "R117")),
    ("waterjet", Fraction(1), Fraction(12), Fraction(12), None, ("R114", "R118")),
    ("waterjet", Fraction(1), Fraction(1), Fraction(3), None, ("R115", "R118")),
]


@pytest.mark.parametrize(("how", "kerf", "thickness", "gap", "margin", "rules"), SETTLED)
def test_defaults_come_from_the_rules_table(how, kerf, thickness, gap, margin, rules):
    """Each machine's gap and margin are those of its rules, and the rules are named."""
    found, border, said = settled_by_rules(Way("", how, kerf), thickness)
    assert found == gap
    if margin is not None:
        assert border == around(margin)
    assert border == around(border.left)
    assert len(said) == len(rules)
    for text, number in zip(said, rules, strict=True):
        assert number in text
        assert rule(number).basis in text


def test_what_the_job_says_stands():
    """A gap and a margin of the job are taken as they are, and no rule is named."""
    way = Way("", "router", Fraction(6), Fraction(7), Margin(left=Fraction(1)))
    assert settled_by_rules(way, Fraction(3)) == (7, Margin(left=Fraction(1)), ())


@given(
    st.sampled_from(["saw", "jigsaw", "router", "laser", "waterjet"]),
    st.fractions(0, 100, max_denominator=64),
    st.fractions(Fraction(1, 10), 100, max_denominator=64),
)
def test_the_gap_is_never_below_the_kerf(how, kerf, thickness):
    """Whatever machine, kerf and thickness: parts keep the kerf between them at least."""
    gap, margin, _ = settled_by_rules(Way("", how, kerf), thickness)
    assert gap >= kerf
    assert min(margin.left, margin.right, margin.bottom, margin.top) >= 0
