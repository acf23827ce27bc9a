"""Outlines, openings and marks of a panel as a job gives them."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.geometry.points import Point
from nestkit.geometry.regions import is_simple
from nestkit.job.polygon import read_polygon
from tests.job.texts import CUTTING, PANEL, SHEET, TOP, only, read, with_panel

IN = 25.4
BARE = TOP + CUTTING + SHEET + PANEL.replace('size = ["14 1/2", "9 3/4"]\n', "")


def panel(words, folder):
    """Return the panel of the sound job with this outline and more."""
    return read(BARE + words + "\n", folder).panels[0]


def test_a_rectangle_is_exact(tmp_path):
    """A sharp rectangle has its four corners, counter-clockwise from the lower left."""
    made = panel("size = [10, 5]", tmp_path)
    assert made.shape == "rectangle"
    assert [v.point for v in made.outline.vertices] == [(0, 0), (254, 0), (254, 127), (0, 127)]


@pytest.mark.parametrize(
    ("words", "area"),
    [
        ("corner_radius = 1", 50 - (4 - math.pi)),
        ("chamfer = 1", 50 - 2),
        ("corner_radius = 2.5", 50 - (4 - math.pi) * 2.5**2),
        ("corner_radius = 0", 50),
        ("[[panel.notches]]\ncorner = 'top left'\nsize = [2, 1]", 48),
        (
            "[[panel.notches]]\nside = 'top'\nat = 2\nsize = [2, 1]\ncorner_radius = '1/4'",
            48 + (4 - math.pi) / 32,
        ),
        (
            "corner_radius = 1\n[[panel.notches]]\ncorner = 'top left'\nsize = [2, 1]",
            48 - (4 - math.pi) * 3 / 4,
        ),
        ("chamfer = 1\n[[panel.notches]]\nside = 'left'\nat = 2\nsize = [1, 1]", 50 - 2 - 1),
    ],
)
def test_corners_and_notches_take_their_area(tmp_path, words, area):
    """Radius, chamfer and notches change the area by the formula, and leave the box as it is."""
    made = panel(f"size = [10, 5]\n{words}", tmp_path)
    assert made.outline.area / IN**2 == pytest.approx(area, rel=1e-9)
    assert made.outline.bounds == pytest.approx((0, 0, 254, 127))
    assert (made.width, made.height) == (254, 127)
    assert is_simple(made.outline)


def test_a_disc_is_two_half_circles(tmp_path):
    """A disc has its diameter as width and height."""
    made = panel("disc = 9", tmp_path)
    assert (made.shape, made.width, made.height) == ("disc", Fraction("228.6"), Fraction("228.6"))
    assert made.outline.is_circle
    assert made.outline.bounds == pytest.approx((0, 0, 228.6, 228.6))


@pytest.mark.parametrize(
    "points",
    [
        "[[0,0],[4,0],[4,3],[2,5],[0,3]]",
        "[[0,3],[2,5],[4,3],[4,0],[0,0]]",
        "[[0,0],[4,0],[4,3],[2,5],[0,3],[0,0]]",
    ],
)
def test_points_run_counter_clockwise_whichever_way_they_are_given(tmp_path, points):
    """Points either way round, closed or not, give the same area, counter-clockwise, with the exact box."""
    made = panel(f"points = {points}", tmp_path)
    assert made.shape == "points"
    assert made.outline.area / IN**2 == pytest.approx(16)
    assert (made.width, made.height) == (Fraction("101.6"), 127)
    assert len(made.outline.vertices) == 5


def test_slots_and_cut_outs_lie_where_they_say(tmp_path):
    """A slot is about its centre, a cut-out from its lower left corner, a disc about its centre."""
    made = panel(
        "size = [20, 20]\n"
        "[[panel.slots]]\nat = [5, 5]\nlength = 3\nwidth = 1\nangle_deg = 90\n"
        "[[panel.cutouts]]\nat = [1, 1]\nsize = [2, 1]\ncorner_radius = '1/4'\n"
        "[[panel.cutouts]]\nat = [10, 10]\ndisc = 4\n"
        "[[panel.cutouts]]\npoints = [[15, 15], [15, 17], [16, 15]]\n",
        tmp_path,
    )
    slot, box, disc, triangle = made.openings
    assert [o.kind for o in made.openings] == ["slot", "cutout", "cutout", "cutout"]
    assert slot.outline.bounds == pytest.approx((4.5 * IN, 3.5 * IN, 5.5 * IN, 6.5 * IN))
    assert slot.outline.area / IN**2 == pytest.approx(2 + math.pi / 4)
    assert box.outline.bounds == pytest.approx((IN, IN, 3 * IN, 2 * IN))
    assert disc.outline.is_circle
    assert disc.outline.bounds == pytest.approx((8 * IN, 8 * IN, 12 * IN, 12 * IN))
    assert triangle.outline.area / IN**2 == pytest.approx(1)
    assert [o.place for o in made.openings] == [
        'panel "lid", slots 1', 'panel "lid", cutouts 1', 'panel "lid", cutouts 2', 'panel "lid", cutouts 3',
    ]  # fmt: skip


def test_marks_are_read(tmp_path):
    """A mark has its place, text and height."""
    made = panel("size = [9, 9]\n[[panel.marks]]\nat = [1, 2]\ntext = 'DECK / A'\nheight = '1/4'", tmp_path)
    (mark,) = made.marks
    assert (mark.at, mark.text, mark.height) == (Point(IN, 2 * IN), "DECK / A", 0.25 * IN)


@pytest.mark.parametrize(
    ("notches", "said"),
    [
        ("side = 'top'\nat = 8\nsize = [2, 1]", "meets a corner"),
        ("side = 'top'\nat = 9\nsize = [2, 1]", "not wholly on the part"),
        ("side = 'top'\nat = 2\nsize = [2, 5]", "right through"),
        ("corner = 'top left'\nsize = [10, 1]", "right through"),
        (
            "corner = 'top left'\nsize = [2, 1]\n[[panel.notches]]\nside = 'top'\nat = 1\nsize = [2, 1]",
            "two notches",
        ),
        (
            "side = 'top'\nat = 2\nsize = [2, 3]\n[[panel.notches]]\nside = 'bottom'\nat = 3\nsize = [2, 3]",
            "two notches",
        ),
        ("side = 'top'\nat = 2\nsize = [2, 1]\ncorner_radius = 2", "too short"),
    ],
)
def test_notches_that_do_not_fit_are_told(tmp_path, notches, said):
    """Notches that meet a corner, each other or the far side are a mistake."""
    found = only(f"{BARE}size = [10, 5]\n[[panel.notches]]\n{notches}\n", tmp_path)
    assert found.place == 'panel "lid", notches'
    assert said in found.text


def test_many_points_are_looked_at_in_a_moment(tmp_path):
    """An outline of a thousand points is read; more than two thousand are refused."""
    up = ", ".join(f"[{i}, {i % 2}]" for i in range(500))
    down = ", ".join(f"[{i}, {4 + i % 2}]" for i in reversed(range(500)))
    text = BARE.replace('unit = "in"', 'unit = "mm"')
    made = read(f"{text}points = [{up}, {down}]\n", tmp_path).panels[0]
    assert len(made.outline.vertices) == 1000
    many = ", ".join(f"[{i}, 0]" for i in range(2001))
    assert "too many" in only(f"{text}points = [{many}, [0, 9]]\n", tmp_path).text


class Stub:
    """Stands for a table that has only points; keeps what is said to be wrong."""

    def __init__(self, points):
        self.data = {"points": points}
        self.said = []
        self.notes = type("Unit", (), {"unit": "mm"})()

    def __contains__(self, key):
        return key in self.data

    def wrong(self, key, text, remedy, *index):
        self.said.append((key, text, remedy, index))


@given(st.lists(st.tuples(st.integers(0, 6), st.integers(0, 6)), min_size=3, max_size=9))
def test_a_polygon_is_taken_exactly_when_it_is_simple(points):
    """Our own exact test agrees with shapely on every small polygon, on a grid where touching is common."""
    import shapely

    entry = Stub([list(p) for p in points])
    found = read_polygon(entry, "points")
    ring = [p for i, p in enumerate(points) if i == 0 or p != points[0] or i < len(points) - 1]
    repeated = any(a == b for a, b in zip(ring, ring[1:] + ring[:1], strict=True))
    simple = len(ring) >= 3 and not repeated and shapely.is_valid(shapely.Polygon(ring))
    # A spike that runs back on itself is no valid polygon either way.
    assert (found is not None) == simple
    assert bool(entry.said) == (not simple)


def test_a_panel_carries_all_that_is_said_of_it(tmp_path):
    """Every key of a panel finds its field."""
    more = (
        'for = "console"\nquantity = 2\nopposite_hand = 1\nspare = 3\nspare_if_room = 4\n'
        'faces = "alike"\ngrain = "y"\nturn = "half"\nrevision = "B"\n'
    )
    panel = read(with_panel(more), tmp_path).panels[0]
    assert (panel.used_for, panel.quantity, panel.opposite_hand, panel.spare, panel.spare_if_room) == (
        "console", 2, 1, 3, 4,
    )  # fmt: skip
    assert (panel.faces, panel.grain, panel.turn, panel.revision, panel.needed) == (
        "alike", "y", "half", "B", 6,
    )  # fmt: skip
