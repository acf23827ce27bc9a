"""Templates folded back round their tubes: marks lie where the holes are, both walls on one axis."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.geometry.mitre import End, Mitre
from nestkit.geometry.round_wrap import RoundWrap
from nestkit.geometry.section import FACES, Section
from nestkit.geometry.wrap import Strip, Wrap, right_round
from tests.folding import Place, fold_round, fold_strip, fold_wrap

NEAR = 1e-6
"""Millimetres: a thousandth of what is asked for."""
LOOKS = {"A": (0, 1), "B": (-1, 0), "C": (0, -1), "D": (1, 0)}

SIDE = st.integers(20, 400).map(lambda n: Fraction(n, 4))
SHARE = st.floats(0, 1)
FACE = st.sampled_from(FACES)
FOLD = st.sampled_from([0.0, 0.08, 0.2])
AT = st.floats(-10, 1000)


@st.composite
def tubes(draw):
    """Return a square or rectangular tube, and a corner radius that it may have."""
    a, b = draw(SIDE), draw(SIDE)
    return Section("tube", a, b, min(a, b) / 8), draw(SHARE) * float(min(a, b)) / 2


def axis_error(one, other, looks):
    """Return how far two places are from lying on one line square to a face that looks so."""
    dx, dy, dz = (p - q for p, q in zip(one, other, strict=True))
    along = dy * looks[0] + dz * looks[1]
    return math.hypot(dx, dy - along * looks[0], dz - along * looks[1])


def papers(section, corner, fold, face):
    """Return every paper that covers a face, with what folds it back and its place for a hole."""
    start = FACES.index(face)
    found = [(Strip(section, face), fold_strip, lambda s, f, at, across: s.point(at, across))]
    wraps = [Wrap(section, (FACES * 2)[i : i + 2], corner, fold) for i in ((start + 3) % 4, start)]
    wraps += [right_round(section, corner, fold, first) for first in FACES]
    return found + [(w, fold_wrap, lambda w, f, at, across: w.point(f, at, across)) for w in wraps]


def test_the_frame_by_hand():
    """End 0 at the left hand: A up, B towards you, C down, D away; across from the next letter's edge."""
    section = Section("tube", Fraction(40), Fraction(20), Fraction(2))
    places = {
        "A": Place(7, 5 - 20, 10),
        "B": Place(7, -20, 5 - 10),
        "C": Place(7, 20 - 5, -10),
        "D": Place(7, 20, 10 - 5),
    }
    for face, place in places.items():
        for paper, fold, point in papers(section, 2.0, 0.08, face):
            assert fold(paper, point(paper, face, 7, 5)) == pytest.approx(place, abs=NEAR)


@given(tubes(), FOLD, FACE, SHARE, AT)
def test_both_walls_of_a_through_hole_lie_on_one_axis(tube, fold, face, share, at):
    """On strips, on every L and on every wrap the two marks of a through hole meet square to the face."""
    section, corner = tube
    width = float(section.width(face))
    # A hole's centre lies on the flat; over a rounded corner the paper has no face to be square to.
    across = corner + share * (width - 2 * corner)
    over = FACES[(FACES.index(face) + 2) % 4]
    here = [
        fold_back(p, point(p, face, at, across))
        for p, fold_back, point in papers(section, corner, fold, face)
    ]
    there = [
        fold_back(p, point(p, over, at, width - across))
        for p, fold_back, point in papers(section, corner, fold, over)
    ]
    for one in here:
        for other in there:
            assert axis_error(one, other, LOOKS[face]) < NEAR
            assert abs(one.y - other.y) + abs(one.z - other.z) == pytest.approx(
                float(section.b if face in "AC" else section.a), abs=NEAR
            )


@given(tubes(), FOLD, FACE, SHARE, AT)
def test_a_mark_lies_where_the_part_has_its_hole(tube, fold, face, share, at):
    """Folded back, every paper's mark is at the exact place on the face."""
    section, corner = tube
    across = corner + share * (float(section.width(face)) - 2 * corner)
    y, z = section.on_face(face, Fraction(across))
    for paper, fold_back, point in papers(section, corner, fold, face):
        assert fold_back(paper, point(paper, face, at, across)) == pytest.approx((at, y, z), abs=NEAR)


@given(tubes(), FOLD, FACE, SHARE)
def test_over_a_rounded_corner_the_drill_still_meets_the_mark(tube, fold, face, share):
    """Within the corner radius the mark is on the arc, straight under the place on the face."""
    section, corner = tube
    across = share * corner
    y, z = section.on_face(face, Fraction(across))
    wrap = right_round(section, corner, fold, face)
    place = fold_wrap(wrap, wrap.point(face, 0.0, across))
    assert axis_error(place, Place(0.0, float(y), float(z)), LOOKS[face]) < 1e-5
    inside = corner - math.sqrt(max(0.0, corner**2 - (corner - across) ** 2))
    depth = abs(place.y - float(y)) + abs(place.z - float(z))
    assert depth == pytest.approx(inside, abs=1e-5)


@given(SIDE, SIDE, SHARE, FOLD, SHARE, AT)
def test_both_legs_of_an_angle(a, b, radius, fold, share, at):
    """An L over the heel and a strip a leg agree with the exact places, whatever the heel's radius."""
    section = Section("angle", a, b, min(a, b) / 8)
    heel = radius * float(min(a, b)) / 2
    for face in section.faces:
        across = heel + share * (float(section.width(face)) - heel)
        y, z = section.on_face(face, Fraction(across))
        ell = Wrap(section, ("A", "B"), heel, fold)
        assert fold_wrap(ell, ell.point(face, at, across)) == pytest.approx((at, y, z), abs=NEAR)
        strip = Strip(section, face)
        assert fold_strip(strip, strip.point(at, across)) == pytest.approx((at, y, z), abs=NEAR)


@given(SIDE, st.floats(0.98, 1.02), st.floats(0, 360), st.floats(0, 359), AT)
def test_round_tube_meets_through_the_middle(dia, stretch, seam, at_deg, at):
    """Both walls of a round tube's hole are on one line through its middle, wherever the seam is."""
    section = Section("round", dia, dia, dia / 8)
    wrap = RoundWrap(section, stretch * math.pi * float(dia), seam)
    one = fold_round(wrap, wrap.point(at, at_deg))
    other = fold_round(wrap, wrap.point(at, at_deg + 180))
    assert one == pytest.approx((at, *section.at_angle(at_deg)), abs=NEAR)
    assert other == pytest.approx((at, -one.y, -one.z), abs=NEAR)


@given(tubes(), FACE, SHARE, AT)
def test_the_opposite_hand_is_a_mirror_image(tube, face, share, at):
    """B for D and across from the other edge puts every hole at its mirror image."""
    section, _ = tube
    width = float(section.width(face))
    mirror = {"A": "A", "B": "D", "C": "C", "D": "B"}[face]
    drawn, other = Strip(section, face), Strip(section, mirror)
    one = fold_strip(drawn, drawn.point(at, share * width))
    twin = fold_strip(other, other.point(at, width - share * width))
    assert twin == pytest.approx((one.x, -one.y, one.z), abs=NEAR)


def test_a_wrap_that_forgets_the_corner_drifts():
    """Drawn as if sharp, folded round a 2 mm radius, the wall opposite is off by what two corners differ."""
    section = Section("tube", Fraction(40), Fraction(20), Fraction(2))
    sharp, true = right_round(section, 0.0, 0.08), right_round(section, 2.0, 0.08)
    # The paper is held at the middle of face A, where both agree.
    held = true.point("A", 0, 20).y - sharp.point("A", 0, 20).y
    mark = sharp.point("C", 0, 20).moved(0, held)
    place = fold_wrap(true, mark)
    assert abs(place.y) == pytest.approx(2 * (2 * 2.0 - math.pi / 2 * 2.0), abs=NEAR)


@given(tubes(), st.integers(5, 75), st.integers(0, 359), st.booleans())
def test_an_end_folds_to_one_plane(tube, angle, long, far):
    """The line of a mitre, folded back round the tube, lies in the plane of the saw cut, corners included."""
    section, corner = tube
    end = End(1000.0, far, Mitre(Fraction(angle), Fraction(long)))
    slope, (to_y, to_z) = math.tan(math.radians(angle)), end.mitre.towards
    offsets = set()
    for first in FACES:
        wrap = right_round(section, corner, 0.08, first)
        for p in wrap.end_line(end):
            x, y, z = fold_wrap(wrap, p)
            offsets.add(x + slope * (to_y * y + to_z * z) * (-1 if far else 1))
    assert max(offsets) - min(offsets) < 1e-5


@given(SIDE, st.integers(5, 75), st.integers(0, 359), st.floats(0, 360), st.booleans())
def test_a_round_end_folds_to_one_plane(dia, angle, long, seam, far):
    """The developed curve of a mitre, put back round the pipe, lies in the plane of the saw cut."""
    section = Section("round", dia, dia, dia / 8)
    end = End(1000.0, far, Mitre(Fraction(angle), Fraction(long)))
    slope, (to_y, to_z) = math.tan(math.radians(angle)), end.mitre.towards
    wrap = RoundWrap(section, math.pi * float(dia) + 0.3, seam)
    offsets = [
        p.x + slope * (to_y * p.y + to_z * p.z) * (-1 if far else 1)
        for p in (fold_round(wrap, q) for q in wrap.end_line(end))
    ]
    assert max(offsets) - min(offsets) < 1e-5
