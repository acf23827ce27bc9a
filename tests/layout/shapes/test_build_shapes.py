"""A group as a problem of true shapes: what is laid is never smaller than what is cut."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction

import pytest
import shapely

from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import disc, rectangle, slot
from nestkit.layout.shapes.build import problems_of, uses_shapes
from nestkit.layout.shapes.outwards import TOLERANCE, grown_ring, shape_of, shrunk_ring
from nestkit.parts.holes import Mark
from tests.layout.made import group, panel, sheet
from tests.layout.shapes.shaped import BORE, BRACKET, HORN, RING, WEDGE, boat_group, polygon, shaped, star

OUTLINES = [
    HORN,
    BRACKET,
    RING,
    rectangle(100, 60, radius=12),
    slot(Point(40, 40), 70, 20, 33),
    slot(Point(30, 10), 60, 20),
    disc(0.3),
    polygon((0, 0, -0.2), (80, 0, 1.0), (80, 40, 0.7), (0, 40, -0.3)),
    polygon(*((*v.point, 0.3) for v in star(12, 60, 40).vertices)),
    polygon(*((*v.point, -0.15) for v in star(12, 60, 45).vertices)),
]


def fine(outline: Outline) -> shapely.Polygon:
    """Return an outline's area, arcs flattened to 1e-6 mm."""
    return shapely.Polygon(outline.flattened(1e-6))


@pytest.mark.parametrize("outline", OUTLINES)
@pytest.mark.parametrize("tolerance", [0.05, 0.002])
def test_rings_hold_their_outline_and_lie_in_their_opening(outline, tolerance):
    """A grown ring covers the outline, a shrunk one is covered by it; neither strays by more than is said."""
    area = fine(outline)
    grown, shrunk = (shapely.Polygon(f(outline, tolerance)) for f in (grown_ring, shrunk_ring))
    assert grown.is_valid
    assert shrunk.is_valid
    assert area.difference(grown).area < 1e-5 * outline.length
    assert shrunk.difference(area).area < 1e-5 * outline.length
    assert grown.exterior.hausdorff_distance(area.exterior) < tolerance + 2e-6
    assert shrunk.exterior.hausdorff_distance(area.exterior) < tolerance + 2e-6
    assert grown.exterior.is_ccw
    assert area.bounds == pytest.approx(grown.bounds, abs=2e-6)


def test_a_straight_outline_stays_as_it_is():
    """Without arcs the ring is the outline itself, corners on a straight line left out."""
    assert grown_ring(WEDGE, 0.05) == tuple((v.x, v.y) for v in WEDGE.vertices)
    with_one_more = polygon((0, 0), (40, 0), (90, 0), (0, 55))
    assert grown_ring(with_one_more, 0.05) == tuple((v.x, v.y) for v in WEDGE.vertices)


def test_an_arc_does_not_take_many_corners():
    """A hundred millimetres' disc is a ring of fewer than 80 corners at the usual tolerance."""
    assert len(grown_ring(disc(100), TOLERANCE)) < 80


def test_rings_that_would_cross_are_made_finer_and_at_last_a_box():
    """Two lobes 0.02 mm apart are not joined; an outline that crosses itself becomes its box."""
    lobes = polygon((0, 0), (100, 0), (90, 30, 2.998), (60, 30), (40, 30, 2.998), (10, 30)).turned(30)
    cleft = lobes.moved(-lobes.bounds.left, -lobes.bounds.bottom)
    assert not shapely.Polygon(grown_ring(cleft, TOLERANCE)).is_valid
    shape = shape_of(cleft)
    assert shapely.Polygon(shape.outer).is_valid
    assert fine(cleft).difference(shapely.Polygon(shape.outer)).area < 1e-3
    bow = Outline((Vertex(0, 0), Vertex(60, 40), Vertex(60, 0), Vertex(0, 40)))
    box = shape_of(bow)
    assert box.outer == ((0, 0), (60, 0), (60, 40), (0, 40))


def test_which_groups_go_by_shapes():
    """Any path, off sheets, and a part that is no box: all three are wanted."""
    assert uses_shapes(boat_group())
    stock = [sheet("full", 900, 500)]
    plates = [panel("plate", 100, 60, quantity=2)]
    assert not uses_shapes(group(plates, stock, "router"))
    assert not uses_shapes(group([shaped("wedge", WEDGE, turn="quarter")], stock, "saw"))
    assert uses_shapes(group([*plates, shaped("wedge", WEDGE)], stock, "laser"))
    assert not uses_shapes(group([*plates, shaped("wedge", WEDGE, quantity=0)], stock, "laser"))
    roll = replace(stock[0], price=Fraction(2), priced_by=Fraction(1000))
    assert not uses_shapes(group([shaped("wedge", WEDGE)], [roll], "router"))
    # A frame may hold others, a plate may fit at an angle only; round corners are no reason.
    frame = shaped("frame", rectangle(200, 200), BORE, turn="quarter")
    assert uses_shapes(group([*plates, frame, panel("lid", 50, 50)], stock, "router"))
    assert not uses_shapes(group([*plates, frame], stock, "router", 4, 8))
    assert uses_shapes(group([panel("plate", 100, 60, turn="any")], stock, "router"))
    rounded = shaped("lid", rectangle(100, 60, radius=12), turn="quarter")
    assert not uses_shapes(group([rounded], stock, "router"))
    assert uses_shapes(group([shaped("wedge", WEDGE, turn="quarter")], stock, "router"))


def test_copies_become_kinds():
    """Hands are kinds of their own unless faces are alike; spares and extras count as the job says."""
    (built,) = problems_of(boat_group())
    rows = {}
    for kind, copies in zip(built.problem.kinds, built.copies, strict=True):
        assert kind.count + kind.extras == len(copies)
        assert {c.opposite_hand for c in copies} == {copies[0].opposite_hand}
        rows[copies[0].panel.name, copies[0].opposite_hand] = (kind.count, kind.extras, kind.either_hand)
    assert rows == {
        ("rudder horn", False): (2, 0, False),
        ("rudder horn", True): (1, 0, False),
        ("motor bracket", False): (4, 0, False),
        ("wedge", False): (3, 1, True),
        ("hatch ring", False): (1, 0, False),
        ("cable clip", False): (2, 0, False),
        ("plate", False): (2, 0, False),
    }
    horn, mirrored = built.problem.kinds[:2]
    assert mirrored.shape == shape_of(built.copies[1][0].panel.mirrored().outline)
    assert horn.shape != mirrored.shape


def test_turns_follow_turn_and_grain():
    """Any turn is free only without grain; sheets whose grain runs across are a problem of their own."""
    (built,) = problems_of(boat_group())
    by_name = {c[0].panel.name: k for k, c in zip(built.problem.kinds, built.copies, strict=True)}
    assert by_name["rudder horn"].any_turn
    assert by_name["hatch ring"].turns == (0.0,)
    assert by_name["cable clip"].turns == (0.0, 180.0)
    assert not by_name["motor bracket"].any_turn
    grained = [shaped("wedge", WEDGE, grain="x"), shaped("clip", HORN)]
    stock = [
        sheet("along", 900, 500, grain="x"),
        sheet("across", 700, 500, grain="y"),
        sheet("more", 90, 90, grain="x"),
    ]
    along, across = problems_of(group(grained, stock, "router"))
    assert [k.turns for k in along.problem.kinds] == [(0.0, 180.0), (0.0, 90.0, 180.0, 270.0)]
    assert [k.any_turn for k in along.problem.kinds] == [False, True]
    assert across.problem.kinds[0].turns == (90.0, 270.0)
    assert [len(b.supplies) for b in (along, across)] == [2, 1]
    # A part that the sheets of one grain can take in no turn is a kind without turns there.
    still = [shaped("wedge", WEDGE, grain="x", turn="half")]
    assert [b.problem.kinds[0].turns for b in problems_of(group(still, stock, "router"))] == [
        (0.0, 180.0),
        (),
    ]


def test_plates_are_sheets_less_their_margin():
    """Room, cost and count as where boxes are laid; on hand first, at no cost."""
    panels = [shaped("wedge", WEDGE)]
    stock = [
        sheet("full", 900, 500, price=Fraction(30), on_hand=2),
        sheet("rest", 300, 200, price=Fraction(9), buy=False),
    ]
    (built,) = problems_of(group(panels, stock, "router", 3, "3.175", (5, 10, 15, 20)))
    assert [(p.width, p.height, p.cost, p.count) for p in built.problem.plates] == [
        (885.0, 465.0, 0, 2),
        (885.0, 465.0, 30, None),
    ]
    assert built.problem.gap == 3.175
    # What is finer than the grid: gaps up, sheets down.
    off = group(panels, [sheet("full", Fraction(1000, 3), 500)], "router", 3, Fraction(10, 3))
    (built,) = problems_of(off)
    assert built.problem.gap == 3.33335
    assert built.problem.plates[0].width == 333.333325


def test_plain_parts_are_made_up_to_the_grid():
    """A plate of a third of a millimetre is laid as the next grid step, and sheets a step smaller."""
    plate = panel("plate", Fraction(301, 3), 60)
    (built,) = problems_of(group([plate, shaped("wedge", WEDGE)], [sheet("full", 900, 500)], "router"))
    assert built.problem.kinds[0].shape.outer[2] == (100.33335, 60.0)
    assert built.problem.plates[0].width == 899.999975


def test_openings_that_hold_nothing_are_left_out():
    """An opening counts where the narrowest part fits with its gaps; it is laid smaller than it is."""
    ring, cap = shaped("ring", RING, BORE), shaped("cap", disc(98))
    (built,) = problems_of(group([ring, cap], [sheet("full", 900, 500)], "router", 4, 6))
    assert len(built.problem.kinds[0].shape.openings) == 1
    opening = shapely.Polygon(built.problem.kinds[0].shape.openings[0])
    assert not opening.exterior.is_ccw
    assert fine(BORE).covers(opening.buffer(-1e-6))
    large = shaped("cap", disc(98.5))
    (built,) = problems_of(group([ring, large], [sheet("full", 900, 500)], "router", 4, 6))
    assert built.problem.kinds[0].shape.openings == ()


def test_what_has_marks_is_not_turned_over():
    """Faces alike, but a text is on one of them: the part lies as drawn."""
    marked = shaped("wedge", WEDGE, faces="alike", marks=(Mark(Point(5, 5), "W", 4),))
    plain = shaped("wedge 2", WEDGE, faces="alike")
    (built,) = problems_of(group([marked, plain], [sheet("full", 900, 500)], "router"))
    assert [k.either_hand for k in built.problem.kinds] == [False, True]


def test_equal_shapes_are_one_kind():
    """Panels of one shape are one kind, whatever their names."""
    panels = [shaped("port", WEDGE, quantity=2), shaped("starboard", WEDGE, spare=1, spare_if_room=1)]
    (built,) = problems_of(group(panels, [sheet("full", 900, 500)], "router"))
    (kind,) = built.problem.kinds
    assert (kind.count, kind.extras) == (4, 1)
    assert [c.panel.name for c in built.copies[0]] == ["port"] * 2 + ["starboard"] * 3


def test_rings_of_random_outlines_hold_them():
    """A hundred random outlines with arcs in and out are covered by their rings."""
    rng = random.Random(3)
    for _ in range(100):
        corners = star(2 * rng.randrange(3, 8), 60, rng.uniform(30, 55)).vertices
        outline = Outline(tuple(Vertex(v.x, v.y, rng.choice([0.0, 0.2, -0.2, 0.35])) for v in corners))
        if not shapely.Polygon(outline.flattened(1e-3)).is_valid:
            continue
        area = shapely.Polygon(outline.flattened(1e-4))
        shape = shape_of(outline)
        assert area.difference(shapely.Polygon(shape.outer)).area < 1e-3


@pytest.mark.parametrize("dia", [20.0, 100.0, 1000.0])
def test_edges_stray_by_a_share_of_their_size_and_openings_by_little(dia):
    """A large edge strays by no more than 1/2000 of its side or 0.25 mm, an opening by 0.05 mm."""
    middle = Point(0.0, 0.0)
    shape = shape_of(disc(dia, centre=middle), [disc(dia / 2, centre=middle)])
    edge, opening = shapely.Polygon(shape.outer), shapely.Polygon(shape.openings[0])
    origin = shapely.Point(0, 0)
    assert shapely.distance(origin, edge.exterior) >= dia / 2 - 1e-9
    assert shapely.hausdorff_distance(origin, edge.exterior) <= dia / 2 + max(0.05, min(0.25, dia / 2000))
    assert shapely.hausdorff_distance(origin, opening.exterior) <= dia / 4 + 1e-9
    assert shapely.distance(origin, opening.exterior) >= dia / 4 - 0.05
