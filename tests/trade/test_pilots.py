"""Which pilot goes before which drill, and what opens a hole that no twist drill should."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.trade.drills import all_drills
from nestkit.trade.pilots import LARGE_TOOL, by_hand_tool, is_large, pilots_for, spoken
from nestkit.trade.rules import rule

MATERIALS = ("polycarbonate", "acrylic", "HDPE", "plywood birch", "aluminium 6061", "cardboard")


def pilot_for(dia: float, material: str, unit: str) -> str | None:
    """The first drill of a hole, as the shop says it."""
    drills = pilots_for(dia, material, unit)
    return spoken(drills[0]) if drills else None


@pytest.mark.parametrize("material", ["HDPE", "plywood birch", "aluminium 6061", "cardboard"])
def test_a_pilot_comes_before_what_is_over_the_typical_limit(material):
    """Rule R061 (common practice): 6 mm is drilled at once, a little more after a 1/8 in or 3 mm pilot."""
    limit = float(rule("R061").typical)
    assert pilot_for(limit, material, "in") is None
    assert pilot_for(limit + 0.1, material, "in") == "1/8 in"
    assert pilot_for(limit + 0.1, material, "mm") == "3 mm"


@pytest.mark.parametrize("material", ["polycarbonate", "acrylic"])
def test_plastics_that_grab_or_chip_get_one_earlier(material):
    """Polycarbonate and acrylic take the least limit of rule R061, 4 mm."""
    limit = float(rule("R061").least)
    assert pilot_for(limit, material, "mm") is None
    assert pilot_for(limit + 0.1, material, "mm") == "3 mm"


def test_polycarbonate_is_stepped_up():
    """Rule R062 (common practice): two or three drills, the first about 3 mm."""
    assert [r.name for r in pilots_for(6.35, "polycarbonate", "in")] == ["1/8"]
    assert [r.name for r in pilots_for(12.7, "polycarbonate", "in")] == ["1/8", "1/4"]
    assert [r.name for r in pilots_for(10, "polycarbonate", "mm")] == ["3 mm", "6 mm"]
    assert [r.name for r in pilots_for(10, "aluminium 6061", "mm")] == ["3 mm"]
    about = float(rule("R062").typical)
    assert all(abs(float(pilots_for(9, "polycarbonate", u)[0].dia) - about) < 0.2 for u in ("in", "mm"))


def test_over_half_an_inch_no_twist_drill_by_hand():
    """Rule R103 (common practice): 1/2 in is drilled, more takes a step drill or hole saw after a pilot."""
    assert by_hand_tool(12.7) == "drill"
    assert by_hand_tool(12.8) == LARGE_TOOL
    assert "step drill" in LARGE_TOOL
    assert [r.name for r in pilots_for(19.05, "polycarbonate", "in")] == ["1/8"]


@given(
    dia=st.floats(0.3, 80, allow_nan=False),
    material=st.sampled_from(MATERIALS),
    unit=st.sampled_from(["in", "mm"]),
)
@settings(max_examples=200)
def test_each_drill_is_larger_than_the_one_before(dia, material, unit):
    """Whatever the hole: pilots rise, stay below it, and the last of them leaves no great step."""
    row = [float(r.dia) for r in pilots_for(dia, material, unit)] + [dia]
    assert all(a < b for a, b in pairwise(row))
    assert len(row) <= 3
    if material == "polycarbonate" and not is_large(dia) and len(row) > 1:
        assert all(b <= 2.5 * a + 1e-6 for a, b in pairwise(row))


def test_names_are_said_with_their_unit():
    """A fraction is never left without its unit; number, letter and metric drills say themselves."""
    names = {row.name: spoken(row) for row in all_drills()}
    assert names["1/8"] == "1/8 in"
    assert names["1 in"] == "1 in"
    assert names["#7"] == "#7"
    assert names["3 mm"] == "3 mm"
