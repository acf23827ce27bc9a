"""Parts that this program writes as DXF, read back by the reader of outline files."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.drawing.part import part_drawing
from nestkit.geometry.distances import boundary
from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import disc, rectangle, slot
from nestkit.job.model import DxfOptions
from nestkit.job.outlines.layers import Layers
from nestkit.job.outlines.options import JOIN, Options
from nestkit.job.outlines.read import from_bytes
from nestkit.parts.holes import Drill, Hole, Opening
from nestkit.parts.panel import Panel
from nestkit.writers.dxf import dxf_bytes

OURS = Options(
    None,
    Layers(frozenset({"part_edge", "opening"}), frozenset({"drilled_hole"})),
    None,
    JOIN,
    Fraction(0),
)
SAME = 1e-6


@st.composite
def outlines(draw):
    """Return a star-shaped outline around its middle, some of its edges arcs; none crosses another."""
    count = draw(st.integers(3, 14))
    size = draw(st.floats(30, 900))
    vertices = []
    for i in range(count):
        angle = math.tau * (i + draw(st.floats(-0.2, 0.2))) / count
        reach = size * draw(st.floats(0.7, 1.0))
        bulge = draw(st.sampled_from([0.0, 0.0, draw(st.floats(0.05, 0.3))]))
        vertices.append(Vertex(reach * math.cos(angle), reach * math.sin(angle), bulge))
    outline = Outline(tuple(vertices))
    box = outline.bounds
    return outline.moved(-box.left, -box.bottom)


@st.composite
def panels(draw):
    """Return a panel of such an outline, with openings and holes in its middle."""
    outline = draw(outlines())
    box = outline.bounds
    room = boundary(outline)
    middle = max(
        (Point(box.width * x / 10, box.height * y / 10) for x in range(1, 10) for y in range(1, 10)),
        key=room.depth,
    )
    free = room.depth(middle)
    kinds = draw(st.lists(st.sampled_from(["hole", "disc", "slot", "rectangle"]), max_size=6))
    openings, places = [], []
    for i, kind in enumerate(kinds):
        at = Point(*middle).moved(*Point(0.55 * free, 0.0).turned(60.0 * i))
        r = 0.2 * free * draw(st.floats(0.3, 1.0))
        if kind == "hole":
            places.append((at, 2 * r))
        elif kind == "disc":
            openings.append(disc(2 * r, centre=at))
        elif kind == "slot":
            openings.append(slot(at, 2 * r, 0.7 * r, draw(st.floats(0, 180))))
        else:
            openings.append(rectangle(r, 0.8 * r, radius=0.2 * r, at=at))
    return Panel(
        name="bracket",
        place="",
        material="aluminium",
        thickness=Fraction(3),
        width=Fraction(box.width),
        height=Fraction(box.height),
        shape="points",
        outline=outline,
        holes=tuple(Hole(n, at, Drill(min(dia, 99.0), "", ""), "") for n, (at, dia) in enumerate(places, 1)),
        openings=tuple(Opening("cutout", o, "") for o in openings),
    )


def apart(a: Outline, b: Outline) -> float:
    """Return how far points along two outlines are from the other one's line at most."""
    return max(
        max(boundary(other).distance(p) for p in one.flattened(one.length / 200))
        for one, other in ((a, b), (b, a))
    )


@pytest.mark.parametrize(("unit", "version"), [("in", "R2010"), ("mm", "R2000"), ("in", "R12")])
@settings(max_examples=25, deadline=None)
@given(panel=panels())
def test_a_part_written_is_the_part_read(unit, version, panel):
    """Outline, openings and holes come back to a millionth of a millimetre, arcs as arcs, also in inches."""
    data = dxf_bytes(part_drawing(panel), unit=unit, options=DxfOptions(version))
    found = from_bytes(data, "dxf", "bracket.dxf", OURS, unit)
    assert apart(found.outline, panel.outline) <= SAME
    assert [bool(v.bulge) for v in found.outline.vertices].count(True) == sum(
        bool(v.bulge) for v in panel.outline.vertices
    )
    assert abs(found.width - panel.width) <= SAME + 1 / 40_000
    assert found.width >= panel.width - Fraction(SAME)
    # Other shapes are matched by where they are; their order is the reader's own.
    assert len(found.openings) == len(panel.openings)
    for opening in panel.openings:
        assert min(apart(opening.outline, o.outline) for o in found.openings) <= SAME
    assert len(found.holes) == len(panel.holes)
    for hole in panel.holes:
        assert min(h.at.to(hole.at) + abs(h.dia - hole.dia) for h in found.holes) <= SAME


@settings(max_examples=25, deadline=None)
@given(panel=panels())
def test_the_opposite_hand_comes_back_mirrored(panel):
    """What is written of the opposite hand is the mirrored part."""
    data = dxf_bytes(part_drawing(panel, opposite=True), unit="mm", options=DxfOptions())
    found = from_bytes(data, "dxf", "bracket.dxf", OURS, "mm")
    assert apart(found.outline, panel.outline.mirrored(float(panel.width))) <= SAME


@settings(max_examples=30, deadline=None)
@given(panel=panels(), turn=st.floats(0, 360), dx=st.floats(-2000, 2000), dy=st.floats(-2000, 2000))
def test_where_a_part_is_drawn_does_not_matter(panel, turn, dx, dy):
    """Turned and moved, the outline encloses the same area and has as many openings and holes."""
    moved = replace(
        panel,
        outline=panel.outline.turned(turn).moved(dx, dy),
        openings=tuple(replace(o, outline=o.outline.turned(turn).moved(dx, dy)) for o in panel.openings),
        holes=tuple(replace(h, at=h.at.turned(turn).moved(dx, dy)) for h in panel.holes),
    )
    data = dxf_bytes(part_drawing(moved), unit="mm", options=DxfOptions())
    found = from_bytes(data, "dxf", "bracket.dxf", OURS, "mm")
    assert found.outline.area == pytest.approx(panel.outline.area, rel=1e-9)
    assert (len(found.openings), len(found.holes)) == (len(panel.openings), len(panel.holes))
    assert found.outline.bounds.left == pytest.approx(0, abs=1e-8)
