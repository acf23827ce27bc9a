"""What a larger drill spoils: edge rules that are broken only by it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nestkit.checks.edges import edge_rule
from nestkit.checks.larger import newly_too_near
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import disc
from tests.laid_tubes import SCREW, group, tube

WIDE = 6.0


def limit(material: str, dia: float) -> float:
    """Where a hole of this diameter just keeps its material's rule."""
    return float(edge_rule(material).by.least) * dia + (dia / 2 if edge_rule(material).from_edge else 0.0)


@pytest.mark.parametrize("material", ["polycarbonate", "acrylic", "plywood birch", "hdpe"])
def test_a_panel_at_the_limit_and_under_it(build, material):
    """At the limit of the larger hole nothing is broken; .01 mm nearer to the edge the rule is."""
    for y, broken in ((limit(material, WIDE), False), (limit(material, WIDE) - 0.01, True)):
        part = build.panel(material=material, holes=(build.hole(1, 100, y),))
        found = newly_too_near(part, {1}, WIDE)
        assert (found == edge_rule(material).by) is broken


def test_what_is_too_near_already_does_not_count(build):
    """A hole that breaks the rule as drawn is a finding of its own; only the holes named get wider."""
    near = limit("polycarbonate", 5.0) - 0.1
    part = build.panel(holes=(build.hole(1, 50, near), build.hole(2, 100, limit("polycarbonate", 5.0))))
    assert newly_too_near(part, {1}, WIDE) is None
    assert newly_too_near(part, {2}, WIDE) is not None


def test_openings_are_edges(build):
    """An opening that comes near only by the larger hole counts."""
    away = limit("polycarbonate", WIDE) - 0.01
    part = build.panel(
        openings=(disc(20, centre=Point(100.0 + 10 + away, 50.0)),), holes=(build.hole(1, 100, 50),)
    )
    assert newly_too_near(part, {1}, WIDE) is not None
    assert newly_too_near(part, {1}, 5.2) is None


def test_tubes_have_ends():
    """A tube's rule goes by the fastener where it is named: a larger hole breaks nothing, else it does."""
    at = limit("aluminium 6061", 5.5)
    plain = replace(SCREW, screw=None, fit=None, fastener_dia=None, dia=5.0)
    for drill, broken in ((plain, True), (replace(SCREW, dia=5.0), False)):
        part = tube("frame", "1 x 1 x 1/16", 300, group("end", "A", round(at), drill=drill))
        assert (newly_too_near(part, {1}, at) is not None) is broken


def test_no_rule_nothing_broken(build):
    """A material without an edge rule is never spoiled."""
    assert newly_too_near(build.panel(material="EVA foam", holes=(build.hole(1, 3, 3),)), {1}, 50.0) is None
