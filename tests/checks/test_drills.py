from dataclasses import replace

import pytest

from nestkit.checks import drills
from nestkit.parts.holes import Drill
from tests import laid_tubes


def named(build, *sizes, **more):
    """A panel with a hole for each (name, dia) given."""
    holes = tuple(build.hole(i + 1, 20 * i + 20, 50, dia, name=name) for i, (name, dia) in enumerate(sizes))
    return build.panel(holes=holes, **more)


@pytest.mark.parametrize(
    ("one", "other", "says"),
    [
        (("#7", 5.1054), ("7 mm", 7.0), "#7 and 7 mm"),
        (("#7", 5.1054), ("7/32", 5.55625), "#7 and 7/32"),
        (("#3", 5.4102), ("3 mm", 3.0), "#3 and 3 mm"),
        (("#7", 5.1054), ("5.1 mm", 5.1), None),
        (("#7", 5.1054), ("#3", 5.4102), None),
        (("#7", 5.1054), ("7.5 mm", 7.5), None),
    ],
)
def test_names_with_one_figure_are_traps(build, one, other, says):
    """#7, 7 mm and 7/32 are mistaken for each other, in one panel or two; #7 and 5.1 mm are one hole."""
    for made in (
        build.job(named(build, one, other)),
        build.job(named(build, one), named(build, other, name="base")),
    ):
        found = list(drills.drill_names_alike(made))
        assert [(f.level, f.rule) for f in found] == ([("advice", "R102")] if says else [])
        assert all(says in f.text for f in found)


def test_a_number_ten_drill_is_no_hole_for_a_number_ten_screw(build):
    """drill = "#10" is told always; the drill that a screw's table names is not."""
    (found,) = drills.drill_names_alike(build.job(named(build, ("#10", 4.9149))))
    assert "the #10 drill (4.915 mm) is not the hole for a No. 10 screw" in found.text
    of_screw = build.panel(
        holes=(build.hole(1, 50, 50, 5.6134, name="#2", screw="10-32", fastener_dia=4.826),)
    )
    assert not list(drills.drill_names_alike(build.job(of_screw)))


def test_a_number_drill_beside_a_screw_of_that_number(build):
    """A #8 drill where No. 8 screws are used is a trap; without such screws it is not."""
    drilled = build.hole(1, 20, 50, 5.0546, name="#8")
    screwed = build.hole(2, 60, 50, 4.9784, name="#9", screw="8-32", fastener_dia=4.1656)
    (found,) = drills.drill_names_alike(build.job(build.panel(holes=(drilled, screwed))))
    assert "#8 drill" in found.text
    assert not list(drills.drill_names_alike(build.job(build.panel(holes=(drilled,)))))


def test_a_trap_is_told_once_a_job(build):
    """Ten panels with the same two drills give one finding."""
    panels = [named(build, ("#7", 5.1054), ("7 mm", 7.0), name=f"lid {n}") for n in range(10)]
    (found,) = drills.drill_names_alike(build.job(*panels))
    assert found.place == 'panel "lid 0"'


@pytest.mark.parametrize(
    ("dia", "fires"),
    [(5.1, False), (5.13, False), (5.14, True), (5.359, True), (5.3595, False), (5.6, False)],
)
def test_sizes_nearer_than_ten_thousandths(build, dia, fires):
    """Below .010 in (.254 mm) apart two drills are easily swapped, unless they make the same hole."""
    found = list(drills.drill_sizes_near(build.job(named(build, ("#7", 5.1054), ("other", dia)))))
    assert bool(found) == fires
    assert all((f.level, f.rule) == ("advice", "R102") for f in found)


def test_near_sizes_in_two_panels_are_no_finding(build):
    """The nearness of sizes counts within one panel."""
    made = build.job(named(build, ("#7", 5.1054)), named(build, ("#5", 5.2197), name="base"))
    assert not list(drills.drill_sizes_near(made))


@pytest.mark.parametrize(("dia", "how", "fires"), [(12.71, "saw", True), (12.7, "saw", False),
                                                   (13, "jigsaw", True),
                                                   (13, "router", False), (13, "laser", False)])  # fmt: skip
def test_a_large_hole_by_hand(build, dia, how, fires):
    """Over 1/2 in by hand takes a step drill or hole saw; a router cuts it."""
    found = list(drills.too_large_by_hand(build.job(named(build, ("x", dia)), how=how)))
    assert bool(found) == fires
    assert all((f.level, f.rule) == ("advice", "R103") for f in found)


@pytest.mark.parametrize(
    ("name", "dia", "how", "fires"),
    [("", 5.15, "saw", True), ("", 5.15, "router", True), ("", 8.0, "router", False),
     ("#7", 5.1054, "saw", False),
     ("", 20.0, "saw", False), ("", 5.15, "laser", False)],
)  # fmt: skip
def test_a_size_that_no_drill_has(build, name, dia, how, fires):
    """A bare size that must be drilled is told with the drills on either side of it."""
    found = list(drills.no_such_drill(build.job(named(build, (name, dia)), how=how, kerf="6.35")))
    assert bool(found) == fires
    assert all(f.level == "advice" and "nearest: 13/64, 5.159 mm" not in f.text for f in found)
    assert all("5.1 mm" in f.text or "#7" in f.text for f in found)


def test_drills_of_tubes_are_looked_at_too(build):
    """Traps are told once over panels and tubes; sizes, large holes, missing drills of both alike."""
    row = laid_tubes.group("row", "A", 50, 90, drill=Drill(5.1054, "#7", "t"))
    odd = laid_tubes.group("odd", "B", 150, drill=Drill(5.2, "", "given"))
    wide = laid_tubes.group("wide", "A", 200, drill=Drill(14.0, "", "given"))
    tubes = laid_tubes.job(laid_tubes.tube("frame", "1 x 1 x 1/16", 400, row, odd, wide), unit="mm")
    lid = build.panel(holes=(build.hole(1, 50, 50, 7, name="7 mm"),))
    both = replace(build.job(lid), tubes=tubes.tubes, bar_groups=tubes.bar_groups)
    (trap,) = drills.drill_names_alike(both)
    assert trap.place == 'panel "lid"'
    assert "#7 and 7 mm" in trap.text
    (near,) = drills.drill_sizes_near(both)
    assert near.place == 'tube "frame"'
    assert "#7 and 5.2 mm" in near.text
    (large,) = drills.too_large_by_hand(both)
    assert large.text.startswith("hole 4: over")
    (none,) = drills.no_such_drill(both)
    assert none.text.startswith("hole 3: no drill of the tables has the diameter 5.2 mm")
    routed = replace(build.job(lid, how="router"), tubes=tubes.tubes, bar_groups=tubes.bar_groups)
    assert {f.place for f in drills.too_large_by_hand(routed)} == {'tube "frame"'}
