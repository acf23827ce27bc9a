"""Unrolling by hand figures; folding back is tested in its own file."""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import pairwise

import pytest

from nestkit.geometry.mitre import End, Mitre
from nestkit.geometry.section import FACES, Section
from nestkit.geometry.wrap import Strip, Wrap, right_round

TUBE = Section("tube", Fraction(40), Fraction(20), Fraction(2))
ANGLE = Section("angle", Fraction(40), Fraction(20), Fraction(3))
FOLD = 0.08


def test_a_strip_is_as_wide_as_its_face():
    """A strip's y is across, its edges are the face's edges."""
    assert [Strip(TUBE, f).height for f in FACES] == [40, 20, 40, 20]
    assert Strip(TUBE, "C").point(7, 12) == (7, 12)


def test_leg_b_of_an_angle_hangs_from_the_heel():
    """Seen from outside with end 0 at the left, the heel is the lower edge of A and the upper edge of B."""
    assert Strip(ANGLE, "A").point(7, 5) == (7, 5)
    assert Strip(ANGLE, "B").point(7, 5) == (7, 15)
    assert Wrap(ANGLE, ("A", "B"), 0.0, 0.0).point("A", 0, 5).y == 25
    assert Wrap(ANGLE, ("A", "B"), 0.0, 0.0).point("B", 0, 5).y == 15


def test_sharp_corners_and_thin_paper_add_the_faces_up():
    """Without radius and fold the paper is as long as the faces together, A over B over C over D."""
    wrap = right_round(TUBE, 0.0, 0.0)
    assert wrap.height == 120
    assert wrap.bottoms == (80, 60, 20, 0)
    assert wrap.folds == (80, 60, 20)
    assert wrap.point("A", 3, 20) == (3, 100)
    assert wrap.point("D", 3, 5) == (3, 5)


def test_the_length_right_round_by_the_formula():
    """2 (a + b) - 8 r + 2 pi r, and four folds."""
    assert right_round(TUBE, 3.0, FOLD).height == pytest.approx(120 - 24 + 6 * math.pi + 4 * FOLD)
    ell = Wrap(TUBE, ("D", "A"), 3.0, FOLD)
    assert ell.height == pytest.approx(60 - 12 + 2 * (1.5 * math.pi + FOLD))
    heel = Wrap(ANGLE, ("A", "B"), 3.0, FOLD)
    assert heel.height == pytest.approx(60 - 6 + 1.5 * math.pi + FOLD)


def test_the_fold_of_an_l_is_in_the_middle_of_its_corner():
    """From the fold to the flats it is the same paper either way: half the corner."""
    ell = Wrap(TUBE, ("A", "B"), 3.0, FOLD)
    (fold,) = ell.folds
    assert ell.point("A", 0, 3).y - fold == pytest.approx(ell.arc / 2)
    assert fold - ell.point("B", 0, 17).y == pytest.approx(ell.arc / 2)


def test_a_place_over_the_corner_goes_with_the_arc():
    """Half the radius in from the sharp edge, the surface is 30 degrees round the corner."""
    ell = Wrap(TUBE, ("A", "B"), 3.0, FOLD)
    assert ell.bottoms[0] - ell.point("A", 0, 1.5).y == pytest.approx(ell.arc / 3)
    assert ell.point("B", 0, 18.5).y - (ell.bottoms[1] + 14) == pytest.approx(ell.arc / 3)


def test_off_the_paper_at_the_top_is_on_it_at_the_bottom():
    """Right round, a place past the middle of the seam's corner lies at the other edge of the paper."""
    wrap = right_round(TUBE, 3.0, FOLD)
    assert wrap.point("A", 0, 40).y == pytest.approx(wrap.point("A", 0, 37).y + wrap.arc - wrap.height)
    assert 0 <= wrap.point("A", 0, 40).y <= wrap.height


@pytest.mark.parametrize(
    ("section", "faces", "corner", "why"),
    [
        (TUBE, ("A", "C"), 0, "follow each other"),
        (TUBE, ("A",), 0, "follow each other"),
        (TUBE, ("B", "A"), 0, "follow each other"),
        (ANGLE, ("B", "A"), 0, "follow each other"),
        (TUBE, ("A", "B"), 10.1, "half a face"),
        (TUBE, ("A", "B"), -1, "0 or more"),
    ],
)
def test_no_such_wrap(section, faces, corner, why):
    """Paper goes over neighbouring faces, and a corner is no rounder than a face allows."""
    with pytest.raises(ValueError, match=why):
        Wrap(section, faces, corner, 0.0)


def test_a_place_beside_the_face_is_refused():
    """A template has no place for a hole that is not on the face."""
    with pytest.raises(ValueError, match="not on face B"):
        right_round(TUBE, 0.0, 0.0).point("B", 0, 21)


def test_a_square_end_is_a_straight_line():
    """Both ends of a square cut are straight across the paper, at 0 and at the length."""
    for paper in (Strip(TUBE, "B"), right_round(TUBE, 3.0, FOLD), Wrap(ANGLE, ("A", "B"), 2.0, FOLD)):
        for far, x in ((False, 0), (True, 300)):
            line = paper.end_line(End(300, far))
            assert {p.x for p in line} == {x}
            assert (line[0].y, line[-1].y) == pytest.approx((0, paper.height))


def test_a_mitre_on_strips():
    """Long on A at 45 degrees: A and C end straight, B and D on a slope of one to one."""
    near, far = End(300, False, Mitre.on("A", Fraction(45))), End(300, True, Mitre.on("A", Fraction(45)))
    assert Strip(TUBE, "A").end_line(near) == ((0, 0), (0, 40))
    assert Strip(TUBE, "C").end_line(near) == ((20, 0), (20, 40))
    assert Strip(TUBE, "B").end_line(near) == ((20, 0), (0, 20))
    assert Strip(TUBE, "D").end_line(near) == ((0, 0), (20, 20))
    assert Strip(TUBE, "D").end_line(far) == ((300, 0), (280, 20))


@pytest.mark.parametrize(
    "paper",
    [
        right_round(TUBE, 0.0, 0.0),
        right_round(TUBE, 3.0, FOLD, "C"),
        Wrap(TUBE, ("D", "A"), 3.0, FOLD),
        Wrap(ANGLE, ("A", "B"), 2.0, FOLD),
    ],
)
@pytest.mark.parametrize("long", FACES)
def test_the_line_of_a_mitre_rises_and_agrees_with_the_strips(paper, long):
    """Upwards on the paper, and over each face's middle where the strip of that face has it."""
    end = End(300, False, Mitre.on(long, Fraction(30)))
    line = paper.end_line(end)
    assert [p.y for p in line] == sorted(p.y for p in line)
    assert (line[0].y, line[-1].y) == pytest.approx((0, paper.height))
    for face in paper.faces:
        middle = float(paper.section.width(face)) / 2
        y = paper.point(face, 0, middle).y
        a, b = next((a, b) for a, b in pairwise(line) if a.y <= y <= b.y)
        x = a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y)
        low, high = Strip(paper.section, face).end_line(end)
        assert x == pytest.approx((low.x + high.x) / 2)
