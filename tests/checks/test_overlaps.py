import pytest

from nestkit.checks import overlaps
from nestkit.geometry.notches import Notch, notched
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import disc, rectangle, slot


@pytest.mark.parametrize(
    ("x", "y", "fires"),
    [(2.5, 50, True), (2.51, 50, False), (0, 50, True), (-5, 50, True), (197.49, 50, False),
     (197.6, 50, True),
     (100, 97.5, True), (100, 97.4, False)],
)  # fmt: skip
def test_a_hole_leaves_the_part(build, x, y, fires):
    """A hole of 5 mm must have its whole circle inside the edge; touching it is leaving."""
    found = list(overlaps.holes_leave_part(build.job(build.panel(holes=(build.hole(1, x, y),)))))
    assert bool(found) == fires
    if fires:
        assert (found[0].level, found[0].place) == ("error", 'panel "lid"')
        assert "hole 1 reaches over the edge" in found[0].text


def test_true_edges_count_not_the_box(build):
    """In a rounded corner and in a notch the part's own edge counts."""
    corner = build.hole(1, 4, 4)
    assert not list(overlaps.holes_leave_part(build.job(build.panel(holes=(corner,)))))
    rounded = build.panel(holes=(corner,), outline=rectangle(200, 100, radius=20))
    assert list(overlaps.holes_leave_part(build.job(rounded)))
    bitten = build.panel(holes=(corner,), outline=notched(200, 100, [Notch("bottom left", 6, 6)]))
    assert list(overlaps.holes_leave_part(build.job(bitten)))


def test_all_holes_of_a_panel_are_in_one_finding(build):
    """One panel, one rule, one finding: the holes are listed by number."""
    holes = tuple(build.hole(n, x, 50) for n, x in ((1, 0), (2, 1), (3, 2), (4, 50), (5, -3)))
    (found,) = overlaps.holes_leave_part(build.job(build.panel(holes=holes)))
    assert "holes 1 to 3, 5 reach over the edge of the part, by up to 5.5 mm" in found.text


@pytest.mark.parametrize(("x", "fires"), [(54.99, True), (55, True), (55.01, False), (50, True)])
def test_holes_run_into_each_other(build, x, fires):
    """Two holes of 5 mm need more than 5 mm from centre to centre."""
    holes = (build.hole(1, 50, 50), build.hole(2, x, 50))
    found = list(overlaps.holes_meet_holes(build.job(build.panel(holes=holes))))
    assert bool(found) == fires
    if x == 50:
        assert "1 and 2 at one place" in found[0].text


def test_every_pair_is_found_however_sizes_mix(build):
    """A large hole is compared with small ones that lie well beside it."""
    holes = (
        build.hole(1, 50, 50, 60),
        build.hole(2, 79, 50, 3),
        build.hole(3, 90, 50, 3),
        build.hole(4, 50, 21, 3),
    )
    (found,) = overlaps.holes_meet_holes(build.job(build.panel(holes=holes)))
    assert "1 and 2" in found.text
    assert "1 and 4" in found.text
    assert "3" not in found.text


@pytest.mark.parametrize(
    ("x", "fires"), [(57.5, True), (57.4, False), (70, True), (82.5, True), (82.6, False)]
)
def test_a_hole_runs_into_an_opening(build, x, fires):
    """A hole must lie clear of an opening, also when it lies inside it."""
    made = build.panel(holes=(build.hole(1, x, 50),), openings=[rectangle(20, 20, at=Point(60, 40))])
    found = list(overlaps.holes_meet_openings(build.job(made)))
    assert bool(found) == fires
    if fires:
        assert "hole 1 and cut-out 1" in found[0].text


@pytest.mark.parametrize(
    ("opening", "fires"),
    [
        (rectangle(20, 20, at=Point(1, 1)), False),
        (rectangle(20, 20, at=Point(0, 40)), True),
        (rectangle(20, 20, at=Point(190, 40)), True),
        (rectangle(20, 20, at=Point(300, 40)), True),
        (rectangle(300, 300, at=Point(-10, -10)), True),
        (disc(20, centre=Point(10.1, 50)), False),
        (disc(20, centre=Point(10, 50)), True),
        (slot(Point(100, 50), 198, 10), False),
        (slot(Point(100, 50), 200, 10), True),
    ],
)
def test_an_opening_leaves_the_part(build, opening, fires):
    """An opening lies wholly inside the edge; touching it, lying outside or around the part is leaving."""
    found = list(overlaps.openings_leave_part(build.job(build.panel(openings=[opening]))))
    assert bool(found) == fires


@pytest.mark.parametrize(
    ("other", "fires"),
    [
        (rectangle(10, 10, at=Point(80, 40)), True),
        (rectangle(10, 10, at=Point(80.1, 40)), False),
        (rectangle(4, 4, at=Point(65, 45)), True),
        (rectangle(60, 60, at=Point(40, 20)), True),
        (disc(10, centre=Point(85.1, 50)), False),
        (disc(10, centre=Point(84.9, 50)), True),
    ],
)
def test_openings_run_into_each_other(build, other, fires):
    """Two openings are apart; one inside the other counts as running into it."""
    made = build.panel(openings=[rectangle(20, 20, at=Point(60, 40)), other])
    found = list(overlaps.openings_meet_openings(build.job(made)))
    assert bool(found) == fires
    if fires:
        assert "cut-out 1 and cut-out 2" in found[0].text
