from fractions import Fraction

import pytest

from nestkit.errors import ToolFault
from nestkit.trade.rules import all_rules, rule


def test_rules_are_numbered_without_a_gap():
    """The rules are R001, R002, ... so that a number on a print finds its row."""
    assert [r.id for r in all_rules()] == [f"R{n:03}" for n in range(1, len(all_rules()) + 1)]


def test_least_typical_and_most_are_in_order():
    """Where a rule has several figures they rise."""
    for r in all_rules():
        known = [v for v in (r.least, r.typical, r.most) if v is not None]
        assert known == sorted(known), r.id


def test_every_rule_says_something():
    """A rule has a figure or a sentence, and a distance from a hole says from where."""
    for r in all_rules():
        assert r.note or any(v is not None for v in (r.least, r.typical, r.most)), r.id
        if r.topic == "edge_distance":
            assert "EDGE" in r.quantity or "CENTRE" in r.quantity or r.process == "punch", r.id


def test_what_a_rule_says_of_itself():
    """One line has the number, the basis and the source in words, or that there is none."""
    assert rule("R026").said() == "R026, common practice, no source"
    assert rule("R014").said() == "R014, common practice, no source; confidence low"
    assert rule("R001").said() == 'R001, seen: "Drilling holes in polycarbonate sheet"'


@pytest.mark.parametrize(
    ("number", "field", "mm"),
    [("R029", "typical", "19.05"), ("R105", "typical", "6.35"), ("R115", "least", "3"),
     ("R116", "least", "2"),
     ("R117", "typical", "5"), ("R118", "typical", "12.7"), ("R119", "typical", "3.175"),
     ("R120", "least", "50"),
     ("R030", "typical", "3.175"), ("R104", "least", "3.175")],
)  # fmt: skip
def test_lengths_of_rules_are_exact_millimetres(number, field, mm):
    """A rule in inches or millimetres gives exact millimetres: the defaults of a job rest on them."""
    r = rule(number)
    assert r.mm(getattr(r, field)) == Fraction(mm)


def test_a_multiple_is_no_length():
    """A rule in diameters cannot be read as a length, nor a figure that is not there."""
    with pytest.raises(ToolFault, match="R001"):
        rule("R001").mm(rule("R001").least)
    with pytest.raises(ToolFault, match="R116"):
        rule("R116").mm(None)
    with pytest.raises(ToolFault, match="R999"):
        rule("R999")
