from fractions import Fraction

import pytest

from nestkit.checks import edges
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import corners_cut, disc, rectangle

SCREW = {"screw": "10-32", "fastener_dia": 4.0}


@pytest.mark.parametrize(
    ("material", "rule", "least", "drill"),
    [
        ("polycarbonate", "R001", 10.0, {}),  # 1.5 d from the hole's edge is 2 d from its centre
        ("polycarbonate", "R001", 10.0, SCREW),
        ("acrylic", "R003", 10.0, {}),
        ("HDPE", "R004", 7.5, {}),
        ("aluminium 5052", "R005", 7.5, {}),
        ("aluminium 5052", "R005", 6.0, SCREW),  # by the fastener of 4 mm, not the hole of 5
        ("steel", "R007", 6.0, SCREW),
        ("birch plywood", "R008", 10.0, {}),
        ("MDF", "R009", 15.0, {}),
        ("G10", "R010", 10.0, {}),
        ("PVC", "R121", 7.5, SCREW),
    ],
)
def test_edge_distance_by_material(build, material, rule, least, drill):
    """Each material's rule fires just below its least distance from the centre, and is silent at it."""
    for away, fires in ((least - 0.01, True), (least, False)):
        for at in ((away, 50), (200 - away, 50), (100, away), (100, 100 - away)):
            made = build.panel(material=material, holes=(build.hole(1, *at, **drill),))
            found = list(edges.edge_distance(build.job(made)))
            assert bool(found) == fires, (at, found)
            assert all((f.level, f.rule) == ("advice", rule) for f in found)
            assert all(f.source for f in found)


def test_the_text_says_from_edge_or_centre(build):
    """Polycarbonate is measured from the hole's edge, aluminium from its centre; the figures say which."""
    made = build.panel(holes=(build.hole(1, 9, 50), build.hole(2, 8, 20)))
    (found,) = edges.edge_distance(build.job(made))
    assert found.text == (
        "holes 1, 2: from the edge of hole 2 to the edge of the part there is 5.5 mm; "
        "1.5 hole diameters are 7.5 mm"
    )
    made = build.panel(material="aluminium", holes=(build.hole(1, 5.5, 50, **SCREW),))
    (found,) = edges.edge_distance(build.job(made))
    assert "from the centre of hole 1 to the edge of the part there is 5.5 mm" in found.text
    assert "1.5 fastener diameters are 6 mm" in found.text


def test_the_distance_to_an_opening_counts(build):
    """A hole beside an opening cracks out as beside the edge; the opening is named."""
    for x, fires in ((51, True), (49.9, False)):
        made = build.panel(holes=(build.hole(1, x, 50),), openings=[disc(40, centre=Point(80, 50))])
        found = list(edges.edge_distance(build.job(made)))
        assert bool(found) == fires
        if fires:
            assert "to cut-out 1 there is 6.5 mm" in found[0].text


def test_a_hole_over_the_edge_is_left_to_the_error(build):
    """What leaves the part is an error elsewhere and no advice besides; unknown materials have no rule."""
    made = build.panel(holes=(build.hole(1, 1, 50), build.hole(2, -50, 50)))
    assert not list(edges.edge_distance(build.job(made)))
    made = build.panel(material="cardboard", holes=(build.hole(1, 3, 50),))
    assert not list(edges.edge_distance(build.job(made)))


@pytest.mark.parametrize(
    ("material", "rule", "pitch", "drill"),
    [
        ("aluminium", "R012", 12.0, SCREW),
        ("aluminium", "R012", 15.0, {}),
        ("steel", "R012", 12.0, SCREW),
        ("polycarbonate", "R013", 10.0, {}),
        ("birch plywood", "R014", 8.0, {}),  # the sheet is 3 mm
        ("acrylic", "R014", 8.0, {}),
    ],
)
def test_web_between_holes(build, material, rule, pitch, drill):
    """Two 5 mm holes nearer than the rule's pitch are told; at it they are not."""
    for distance, fires in ((pitch - 0.01, True), (pitch, False)):
        holes = (build.hole(1, 50, 50, **drill), build.hole(2, 50, 50 + distance, **drill))
        found = list(edges.web_between_holes(build.job(build.panel(material=material, holes=holes))))
        assert bool(found) == fires
        assert all((f.level, f.rule) == ("advice", rule) for f in found)


def test_holes_that_overlap_are_left_to_the_error(build):
    """Holes that run into each other are an error elsewhere, and no advice besides."""
    holes = (build.hole(1, 50, 50), build.hole(2, 54, 50))
    assert not list(edges.web_between_holes(build.job(build.panel(holes=holes))))


def test_web_at_openings(build):
    """Openings keep the sheet's thickness to the edge and to each other."""
    for gap, fires in ((2.99, True), (3.0, False)):
        to_edge = build.panel(openings=[rectangle(20, 20, at=Point(gap, 40))])
        between = build.panel(
            openings=[rectangle(20, 20, at=Point(50, 40)), rectangle(20, 20, at=Point(70 + gap, 40))]
        )
        for made in (to_edge, between):
            found = list(edges.web_at_openings(build.job(made)))
            assert bool(found) == fires
            assert all((f.level, f.rule) == ("advice", "R014") for f in found)


def test_a_routed_plastic_bridge_is_two_millimetres(build):
    """In thin plastic under a router the bridge of 2 mm rules; in wood, or sawn, the thickness."""

    def at(gap, material, how):
        made = build.panel(material=material, thickness="1", openings=[rectangle(20, 20, at=Point(gap, 40))])
        return [f.rule for f in edges.web_at_openings(build.job(made, how=how))]

    assert at(1.9, "polycarbonate", "router") == ["R015"]
    assert at(2.0, "polycarbonate", "router") == []
    assert at(1.9, "plywood", "router") == []
    assert at(1.9, "polycarbonate", "saw") == []
    assert at(0.9, "plywood", "router") == ["R014"]


WAIST = [
    (0, 0), (90, 0), (90, 40), (110, 40), (110, 0), (200, 0), (200, 100), (110, 100), (110, 43), (90, 43),
    (90, 100), (0, 100),
]  # fmt: skip


@pytest.mark.parametrize(("thickness", "fires"), [(3.1, True), (3.0, False)])
def test_a_neck_of_the_part_itself_is_a_web(build, thickness, fires):
    """Where the part's own outline leaves less than the thickness across, the place is told."""
    made = build.panel(outline=corners_cut([Point(*p) for p in WAIST]), thickness=Fraction(str(thickness)))
    found = list(edges.web_at_openings(build.job(made, how="router", kerf="3")))
    assert [f.rule for f in found] == (["R014"] if fires else [])
    if fires:
        assert found[0].text == "across the part at 90, 40 there is 3 mm of material; 3.1 mm is the least"


@pytest.mark.parametrize(("wide", "fires"), [(2.9, True), (3.0, False)])
def test_a_tongue_in_an_opening_is_a_web(build, wide, fires):
    """A tongue of material that reaches into an opening counts, with its width."""
    left, right = 100 - wide / 2, 100 + wide / 2
    tongue = [(50, 20), (left, 20), (left, 50), (right, 50), (right, 20), (150, 20), (150, 80), (50, 80)]
    made = build.panel(openings=[corners_cut([Point(*p) for p in tongue])])
    found = list(edges.web_at_openings(build.job(made, how="router", kerf="3")))
    assert bool(found) == fires
    assert all("across a tongue in cut-out 1 at" in f.text for f in found)
