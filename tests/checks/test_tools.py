import pytest

from nestkit.checks import tools
from nestkit.geometry.notches import Notch, notched
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import disc, mixed_corners, rectangle, slot


@pytest.mark.parametrize(("dia", "how", "fires"), [(6.3, "router", True), (6.35, "router", False),
                                                   (6.3, "saw", False),
                                                   (6.3, "laser", False)])  # fmt: skip
def test_a_hole_smaller_than_the_cutter_is_drilled(build, dia, how, fires):
    """Under a router a hole below the cutter is advised to be drilled; other ways do not care."""
    made = build.panel(holes=(build.hole(1, 50, 50, dia, name="D"), build.hole(2, 90, 50, 20)))
    found = list(tools.hole_below_cutter(build.job(made, how=how, kerf="6.35")))
    assert bool(found) == fires
    if fires:
        assert (found[0].level, found[0].rule) == ("advice", "R020")
        assert "hole 1 (D = 6.3 mm) is smaller than the 6.35 mm cutter" in found[0].text


@pytest.mark.parametrize(
    ("opening", "fires"),
    [
        (slot(Point(100, 50), 30, 6), True),
        (slot(Point(100, 50), 30, 6.35, 20), False),
        (rectangle(6, 30, at=Point(90, 40)), True),
        (rectangle(30, 30, radius=3, at=Point(90, 40)), True),
        (rectangle(30, 30, radius=3.175, at=Point(90, 40)), False),
        (rectangle(30, 30, at=Point(90, 40)), False),
        (disc(6, centre=Point(100, 50)), True),
    ],
)
def test_an_opening_narrower_than_the_cutter_is_an_error(build, opening, fires):
    """A slot, disc or corner radius below the cutter's cannot be made; a sharp corner is only advice."""
    found = list(
        tools.cutter_cannot_follow(build.job(build.panel(openings=[opening]), how="router", kerf="6.35"))
    )
    assert bool(found) == fires
    assert all((f.level, f.rule) == ("error", "R016") for f in found)
    assert all("cut-out 1" in f.text for f in found)


@pytest.mark.parametrize(("how", "level"), [("router", "error"), ("laser", "error"), ("waterjet", "error"),
                                            ("saw", None), ("jigsaw", None)])  # fmt: skip
def test_no_tool_cuts_a_slot_below_its_own_width(build, how, level):
    """A beam or jet has a width as well; by hand a narrow place is drilled and filed."""
    made = build.panel(openings=[slot(Point(100, 50), 30, 0.9)])
    found = list(tools.cutter_cannot_follow(build.job(made, how=how, kerf="1")))
    assert [f.level for f in found] == ([level] if level else [])


def test_a_notch_in_the_edge_counts(build):
    """A notch narrower than the cutter is as impossible as a slot."""
    for wide, fires in ((6.3, True), (6.4, False)):
        made = build.panel(outline=notched(200, 100, [Notch("top", wide, 20, at=60)]))
        found = list(tools.cutter_cannot_follow(build.job(made, how="router", kerf="6.35")))
        assert bool(found) == fires
        assert all(
            "the part's edge: a side of 6.3 mm between two inner corners at 66.3, 80" in f.text for f in found
        )


@pytest.mark.parametrize(
    ("material", "rule"),
    [("polycarbonate", "R078"), ("PVC", "R079"), ("foam-pvc", "R079"), ("HDPE", "R080"), ("G10", "R081"),
     ("acrylic", None), ("birch plywood", None), ("aluminium", None)],
)  # fmt: skip
def test_materials_that_must_not_be_lasered(build, material, rule):
    """What burns or gives off poison under a laser is an error there, and fine any other way."""
    made = build.panel(material=material)
    found = list(tools.material_not_for_laser(build.job(made, how="laser", kerf="0.2")))
    assert [(f.level, f.rule) for f in found] == ([("error", rule)] if rule else [])
    assert not list(tools.material_not_for_laser(build.job(made, how="router")))


def test_small_holes_by_laser(build):
    """Below the sheet's thickness a lasered hole is advised against; at it it is not."""
    for dia, fires in ((2.9, True), (3.0, False)):
        made = build.panel(material="acrylic", holes=(build.hole(1, 50, 50, dia),))
        found = list(tools.hole_small_for_laser(build.job(made, how="laser", kerf="0.2")))
        assert bool(found) == fires
        assert all((f.level, f.rule) == ("advice", "R021") for f in found)
        assert not list(tools.hole_small_for_laser(build.job(made, how="router")))


def test_every_tight_place_is_told_once_with_where_it_is(build):
    """Two small radii and a narrow slot: three places, each with x and y from the part's lower left."""
    given = [
        (0, 0, 0), (200, 0, 0), (200, 60, 0), (150, 60, 2),
        (150, 100, 0), (50, 100, 0), (50, 60, 1), (0, 60, 0),
    ]  # fmt: skip
    outline = mixed_corners([(Point(x, y), r, 0.0) for x, y, r in given])
    made = build.panel(outline=outline, openings=[slot(Point(100, 30), 30, 6)])
    (found,) = tools.cutter_cannot_follow(build.job(made, how="router", kerf="6.35", unit="mm"))
    assert "the part's edge: a radius of 1 mm, below 3.175 mm, at 50, 61" in found.text
    assert "the part's edge: a radius of 2 mm, below 3.175 mm, at 152, 60" in found.text
    assert "a width of 6 mm at" in found.text
    fine = build.panel(outline=outline)
    assert not list(tools.cutter_cannot_follow(build.job(fine, how="router", kerf="2")))
