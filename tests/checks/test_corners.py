import pytest

from nestkit.checks import corners
from nestkit.geometry.notches import Notch, notched
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import corners_cut, rectangle

SHARP = rectangle(30, 30, at=Point(90, 40))
ROUND = rectangle(30, 30, radius=4, at=Point(90, 40))


def test_a_router_leaves_its_radius(build):
    """Sharp inner corners of openings and notches are counted, with the radius that the cutter leaves."""
    made = build.panel(openings=[SHARP, ROUND], outline=notched(200, 100, [Notch("top", 20, 20, at=60)]))
    (found,) = corners.corners_get_cutter_radius(build.job(made, how="router", kerf="6.35"))
    assert (found.level, found.rule) == ("advice", "R016")
    assert found.text == (
        "6 inner corners without a radius: the cutter leaves 3.175 mm there, "
        "at 80, 80; 60, 80; 90, 40 and 3 more"
    )
    assert 'relief = "corners"' in found.remedy
    assert not list(corners.corners_get_cutter_radius(build.job(made, how="laser", kerf="0.2")))


def test_a_plain_part_has_no_inner_corner(build):
    """Outer corners are cut sharp by any tool."""
    made = build.panel(openings=[ROUND])
    for check in (corners.corners_get_cutter_radius, corners.corners_by_hand, corners.corners_by_waterjet):
        for how in ("router", "saw", "jigsaw", "laser", "waterjet"):
            assert not list(check(build.job(made, how=how)))


@pytest.mark.parametrize(
    ("material", "how", "fires"),
    [("polycarbonate", "saw", True), ("acrylic", "jigsaw", True), ("plywood", "jigsaw", True),
     ("MDF", "saw", True),
     ("aluminium", "jigsaw", False), ("polycarbonate", "router", False), ("cardboard", "saw", False)],
)  # fmt: skip
def test_sawn_corners_are_drilled_first(build, material, how, fires):
    """By saw or jigsaw in plastic and wood the advice is to drill the corner."""
    made = build.panel(material=material, openings=[SHARP])
    found = list(corners.corners_by_hand(build.job(made, how=how)))
    assert bool(found) == fires
    if fires:
        assert (found[0].level, found[0].rule) == ("advice", "R104")
        assert "4 inner corners" in found[0].text
        assert "3.175 mm to 6.35 mm" in found[0].remedy


@pytest.mark.parametrize(("radius", "fires"), [(0.0, True), (0.8, True), (0.82, False)])
def test_a_waterjet_wants_a_radius(build, radius, fires):
    """Below .032 in (.8128 mm) the waterjet's inner corner is told, sharp ones as well."""
    made = build.panel(openings=[rectangle(30, 30, radius=radius, at=Point(90, 40))])
    found = list(corners.corners_by_waterjet(build.job(made, how="waterjet", kerf="1")))
    assert bool(found) == fires
    assert all((f.level, f.rule) == ("advice", "R018") for f in found)


@pytest.mark.parametrize(("half", "short"), [(5.7, "3.2"), (5.9, None)])
def test_an_acute_corner_says_how_far_the_cutter_stays_away(build, half, short):
    """Below 60 degrees more than the radius stays standing in a notch, which is said with the place."""
    notch = [(0, 0), (200, 0), (200, 100), (100 + half, 100), (100, 90), (100 - half, 100), (0, 100)]
    made = build.panel(outline=corners_cut([Point(*p) for p in notch]))
    (found,) = corners.corners_get_cutter_radius(build.job(made, how="router", kerf="6.35"))
    said = "; at 100, 90 it stops 3."
    assert (said in found.text) == (short is not None)
    assert "there, at 100, 90" in found.text
