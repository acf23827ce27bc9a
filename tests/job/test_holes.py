"""What makes a hole, and where the holes of a pattern are."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from nestkit.geometry.points import Point
from tests.job.texts import SOUND, read, with_holes

IN = 25.4
WIDTH, HEIGHT = 14.5, 9.75


def holes(text, folder):
    """Return the holes of the sound job's panel with one group of these keys."""
    return read(with_holes(text), folder).panels[0].holes


def places(text, folder):
    """Return the places of a group in inches, to a millionth."""
    return [
        (round(h.at.x / IN, 6), round(h.at.y / IN, 6)) for h in holes('drill = "#7"\n' + text + "\n", folder)
    ]


MADE = {
    # Clearance drills of ASME B18.2.8 and ISO 273, tap drills, drill sizes: as the trade tables carry them.
    'screw = "10-32"': ("#2", 0.221, "10-32", "normal"),
    'screw = "#10"\nfit = "close"': ("#5", 0.2055, "#10", "close"),
    'screw = "No. 10"\nfit = "loose"': ("B", 0.238, "No. 10", "loose"),
    'screw = "1/4-20"': ("9/32", 0.28125, "1/4-20", "normal"),
    'screw = "M5"': ("5.5 mm", 5.5 / IN, "M5", "medium"),
    'screw = "M5x0.8"\nfit = "fine"': ("5.3 mm", 5.3 / IN, "M5x0.8", "fine"),
    'tap = "10-32"': ("#21", 0.159, None, None),
    'tap = "M5"': ("4.2 mm", 4.2 / IN, None, None),
    'drill = "#7"': ("#7", 0.201, None, None),
    'drill = "F"': ("F", 0.257, None, None),
    'drill = "1/4"': ("1/4", 0.25, None, None),
    'drill = "5.5"': ("5.5 mm", 5.5 / IN, None, None),
    "drill = 5.5": ("5.5 mm", 5.5 / IN, None, None),
    "drill = 5": ("5 mm", 5 / IN, None, None),
    'drill = "5.5 mm"': ("5.5 mm", 5.5 / IN, None, None),
    'drill = ".201 in"': ("#7", 0.201, None, None),
    'drill = "0.8 mm"': ("", 0.8 / IN, None, None),
    'drill = "5.55"': ("", 5.55 / IN, None, None),
    'dia = "1/4"': ("1/4", 0.25, None, None),
    "dia = 0.221": ("#2", 0.221, None, None),
    "dia = 0.3": ("", 0.3, None, None),
}


@pytest.mark.parametrize(("words", "made"), MADE.items(), ids=[w.replace("\n", " ") for w in MADE])
def test_what_makes_a_hole(tmp_path, words, made):
    """Screw and fit, thread, drill name or size each give drill, finished diameter and source."""
    (hole,) = holes(words + "\nat = [[1, 1]]\n", tmp_path)
    name, dia, screw, fit = made
    assert (hole.drill.name, hole.drill.screw, hole.drill.fit) == (name, screw, fit)
    assert hole.dia == pytest.approx(dia * IN, abs=1e-9)
    assert hole.drill.source
    assert (hole.drill.fastener_dia is not None) == ("screw" in words or "tap" in words)


def test_a_decimal_below_one_is_a_drill_in_a_millimetre_job(tmp_path):
    """In a mm job a decimal below 1 means millimetres and nothing else."""
    text = with_holes("drill = 0.8\nat = [[1, 1]]\n").replace('unit = "in"', 'unit = "mm"')
    assert read(text, tmp_path).panels[0].holes[0].dia == pytest.approx(0.8)


def test_the_thread_is_told_with_its_tap_drill(tmp_path):
    """A tapped hole knows its thread and the thread's major diameter."""
    (hole,) = holes('tap = "10-32"\nat = [[1, 1]]\n', tmp_path)
    assert hole.drill.tap == "10-32"
    assert hole.drill.fastener_dia == pytest.approx(0.19 * IN)


PLACES = {
    "at = [[1, 2], [3, '4 1/2']]": [(1, 2), (3, 4.5)],
    "at = [[-1, 2]]": [(-1, 2)],
    "row = { start = [1, 1], end = [4, 2], count = 4 }": [(1, 1), (2, 1.333333), (3, 1.666667), (4, 2)],
    "row = { start = [1, 1], pitch = ['1/2', 0], count = 3 }": [(1, 1), (1.5, 1), (2, 1)],
    "row = { start = [1, 1], end = [4, 1], count = 1 }": [(1, 1)],
    "grid = { start = [4, 4], columns = 3, rows = 2, pitch = ['3/4', 1] }": [
        (4, 4), (4.75, 4), (5.5, 4), (4, 5), (4.75, 5), (5.5, 5),
    ],
    "grid = { start = [4, 4], columns = 1, rows = 2, pitch = [0, -1] }": [(4, 4), (4, 3)],
    "circle = { centre = [5, 5], diameter = 4, count = 4 }": [(7, 5), (5, 7), (3, 5), (5, 3)],
    "circle = { centre = [5, 5], diameter = 4, count = 2, first_deg = 90 }": [(5, 7), (5, 3)],
    "corners = '3/4'": [(0.75, 0.75), (13.75, 0.75), (13.75, 9), (0.75, 9)],
    "edge = { side = 'bottom', inset = 1, count = 3, ends = 1 }": [(1, 1), (7.25, 1), (13.5, 1)],
    "edge = { side = 'top', inset = 1, count = 2, ends = 0 }": [(0, 8.75), (14.5, 8.75)],
    "edge = { side = 'left', inset = 1, count = 2, ends = 1 }": [(1, 1), (1, 8.75)],
    "edge = { side = 'right', inset = 1, count = 1 }": [(13.5, 4.875)],
}  # fmt: skip


@pytest.mark.parametrize(("words", "where"), PLACES.items(), ids=PLACES)
def test_where_a_pattern_puts_its_holes(tmp_path, words, where):
    """Each pattern's places come in the order in which the contract numbers them."""
    assert places(words, tmp_path) == where


FROM = {
    "bottom left": (2, 1),
    "bottom right": (WIDTH - 2, 1),
    "top right": (WIDTH - 2, HEIGHT - 1),
    "top left": (2, HEIGHT - 1),
    "centre": (WIDTH / 2 + 2, HEIGHT / 2 + 1),
    "center": (WIDTH / 2 + 2, HEIGHT / 2 + 1),
}


@pytest.mark.parametrize(("start", "where"), FROM.items())
def test_coordinates_run_inwards_from_a_corner(tmp_path, start, where):
    """With from a corner x and y run inwards; from the centre they run right and up."""
    assert places(f'at = [[2, 1]]\nfrom = "{start}"', tmp_path) == [where]
    row = places(f"row = {{ start = [2, 1], pitch = [1, 0], count = 2 }}\nfrom = '{start}'", tmp_path)
    assert row[1][0] - row[0][0] == pytest.approx(-1 if "right" in start else 1)


@pytest.mark.parametrize("start", FROM)
def test_edges_and_corners_ignore_where_coordinates_start(tmp_path, start):
    """edge and corners lie where they say, whatever from says."""
    for words in ("corners = 1", "edge = { side = 'top', inset = 1, count = 2, ends = 2 }"):
        assert places(f"{words}\nfrom = '{start}'", tmp_path) == places(words, tmp_path)


@pytest.mark.parametrize("start", FROM)
def test_angles_are_counter_clockwise_from_right_whatever_the_corner(tmp_path, start):
    """A circle's first hole lies to the right of its centre and the second above, from any corner."""
    (x, y), (x2, y2), *_ = places(
        f"circle = {{ centre = [2, 1], diameter = 2, count = 4 }}\nfrom = '{start}'", tmp_path
    )
    cx, cy = FROM[start]
    assert (x, y) == pytest.approx((cx + 1, cy))
    assert (x2, y2) == pytest.approx((cx, cy + 1))


def test_a_circle_of_seven_lies_on_its_circle(tmp_path):
    """Holes on a circle keep its radius and equal angles, to a nanometre."""
    found = holes(
        "dia = 0.1\ncircle = { centre = [5, 5], diameter = 4, count = 7, first_deg = 12.5 }\n", tmp_path
    )
    centre = Point(5 * IN, 5 * IN)
    for k, hole in enumerate(found):
        assert hole.at.to(centre) == pytest.approx(2 * IN, abs=1e-9)
        angle = math.degrees(math.atan2(hole.at.y - centre.y, hole.at.x - centre.x)) % 360
        assert angle == pytest.approx((12.5 + 360 * k / 7) % 360, abs=1e-9)


def test_a_row_by_thirds_is_exact(tmp_path):
    """Steps that no decimal can write do not add up to an error: the last hole is where end says."""
    found = holes("dia = 0.1\nrow = { start = [0, 0], end = [1, 1], count = 8 }\n", tmp_path)
    assert found[-1].at == Point(25.4, 25.4)
    assert found[1].at.x == float(Fraction("25.4") / 7)


def test_holes_of_a_mirrored_panel_keep_their_numbers(tmp_path):
    """The opposite hand has x as width - x and the same numbers; twice mirrored is as before."""
    panel = read(SOUND + '[[panel.holes]]\nscrew = "10-32"\nat = [[1, 2], [3, 4]]\n', tmp_path).panels[0]
    other = panel.mirrored()
    assert [h.number for h in other.holes] == [1, 2]
    assert [h.at.x for h in other.holes] == pytest.approx([(WIDTH - 1) * IN, (WIDTH - 3) * IN])
    assert [h.at.y for h in other.holes] == [h.at.y for h in panel.holes]
    for hole, again in zip(panel.holes, other.mirrored().holes, strict=True):
        assert again.at == pytest.approx(hole.at)
