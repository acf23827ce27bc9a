"""Drill speeds: the rule of the size or the next above, nothing worked out between."""

from __future__ import annotations

import pytest

from nestkit.trade.speeds import cooling, drill_speed


@pytest.mark.parametrize(
    ("dia", "said"),
    [
        (1.0, "1750 rpm, 0.025 mm/rev (R064)"),
        (3.175, "1750 rpm, 0.025 mm/rev (R064)"),
        (3.2, "1500 rpm, 0.051 mm/rev (R065)"),
        (6.35, "1500 rpm, 0.051 mm/rev (R065)"),
        (6.4, "500 rpm, 0.102 mm/rev (R066)"),
        (12.7, "500 rpm, 0.102 mm/rev (R066)"),
        (12.8, ""),
    ],
)
def test_the_rule_at_or_above_the_size(dia, said):
    """Each rule holds up to its own drill; over the largest there is none."""
    assert drill_speed(dia, "PC", "mm") == said


def test_inches_as_the_rule_has_them():
    """In an inch job the feed stands as in the rule's note."""
    assert drill_speed(12.7, "polycarbonate", "in") == "500 rpm, .004 in/rev (R066)"


@pytest.mark.parametrize("material", ["plywood birch", "aluminium 6061", "EVA foam", "acrylic"])
def test_other_materials_have_none(material):
    """No rule, no speed and no coolant."""
    assert drill_speed(5.0, material, "in") == ""
    assert cooling(material) == ""
