"""Tube templates as pdfium reads them, folded back into space: every hole's axis is that of the part."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.drawing.rulers import reading
from nestkit.geometry.mitre import Mitre
from nestkit.geometry.round_wrap import RoundWrap, usual_girth
from nestkit.geometry.wrap import Strip, Wrap, right_round
from nestkit.units import MM_PER_INCH
from tests.drawing import folded, tube_bench
from tests.drawing.bench import BORDER, NO_7, QUARTER
from tests.drawing.tube_bench import ANGLE, FLAT, ROD, ROUND, SLIM, SMALL, SQUARE, STRIP

FOLD = 0.1
CORNER = Fraction(3, 2)

BOX = tube_bench.tube(
    FLAT,
    tube_bench.holes("a", NO_7, [12, 60, 111], face="A", across=9, through=True),
    tube_bench.holes("d", QUARTER, [25, 90], face="D", through=True),
    length=130,
    name="frame",
    mitres=(None, Mitre.on("B", Fraction(30))),
)
LONG = tube_bench.tube(
    SQUARE,
    tube_bench.holes("a", NO_7, [10 + 77 * i for i in range(12)], face="A", through=True),
    tube_bench.holes("b", QUARTER, [44, 500, 901], face="B", across=8, through=True),
    length=950,
    name="side rail",
)
MAST = tube_bench.tube(
    ROUND,
    tube_bench.holes("a", NO_7, [15 + 90 * i for i in range(6)], at_deg=20, through=True),
    tube_bench.holes("b", QUARTER, [200, 400], at_deg=115),
    length=500,
    name="mast",
    mitres=(Mitre(Fraction(40), Fraction(70)), None),
)


def strips(section, *faces):
    """A strip for each face."""
    return [Strip(section, face) for face in faces]


def with_paper(part, paper, corner=None):
    """A part with another template."""
    return replace(part, paper=paper, corner=corner)


CASES = {
    "square, strips": (tube_bench.frame(), strips(SQUARE, "A", "B", "C")),
    "rectangle, strips": (BOX, strips(FLAT, "A", "B", "C", "D")),
    "rectangle, corner": (
        with_paper(BOX, "corner", CORNER),
        [Wrap(FLAT, pair, 1.5, FOLD) for pair in (("A", "B"), ("C", "D"))],
    ),
    "rectangle, wrap": (with_paper(BOX, "wrap", CORNER), [right_round(FLAT, 1.5, FOLD, "A")]),
    "square, long": (LONG, strips(SQUARE, "A", "B", "C", "D")),
    "square, long, wrap": (with_paper(LONG, "wrap", Fraction(0)), [right_round(SQUARE, 0.0, FOLD, "A")]),
    "narrow, on flaps": (tube_bench.spacer(), strips(SMALL, "A", "C")),
    "angle, strips": (tube_bench.heel(), strips(ANGLE, "A", "B")),
    "angle, corner": (tube_bench.heel(paper="corner"), [Wrap(ANGLE, ("A", "B"), 0.0, FOLD)]),
    "flat": (tube_bench.flat(), strips(STRIP, "A")),
    "round": (tube_bench.post(), [RoundWrap(ROUND, usual_girth(ROUND, FOLD), 270.0)]),
    "round, as measured": (tube_bench.post(girth=Fraction("80.3")), [RoundWrap(ROUND, 80.3, 270.0)]),
    "round, long": (MAST, [RoundWrap(ROUND, usual_girth(ROUND, FOLD), 290.0)]),
    "rod": (tube_bench.pin(), [RoundWrap(ROD, usual_girth(ROD, FOLD), 45.0)]),
}
PRINTS = [("in", "letter"), ("mm", "A4"), ("in", "roll 24 in")]


@pytest.mark.parametrize(("unit", "paper"), PRINTS, ids=lambda p: p)
@pytest.mark.parametrize("case", CASES)
def test_every_hole_lies_where_the_part_has_it_once_the_print_is_folded(case, unit, paper):
    """The printer's scale taken out, every mark folds to its place in space, both walls to one axis."""
    part, papers = CASES[case]
    job = tube_bench.job(part, unit=unit, paper=paper, scale_x=0.997, scale_y=1.004, fold=FOLD)
    found = folded.check(job, part, papers)
    folded.walls_meet(part, found)


def test_opposite_hand_is_a_print_of_its_own():
    """B and D change places on it, and it says that it is the opposite hand."""
    part = tube_bench.frame(opposite_hand=1)
    job = tube_bench.job(part, scale_x=0.997, scale_y=1.004)
    folded.check(job, part, strips(SQUARE, "A", "C", "D"), opposite=True)
    words = folded.printed(job, part, opposite=True)[0].words
    assert "OPPOSITE HAND" in words
    assert "OPPOSITE HAND" not in folded.printed(job, part)[0].words


def test_slim_tube_is_as_wide_as_its_faces():
    """A 20 x 10 mm tube has strips of 20 and 10 mm, its marks in their middles."""
    part = tube_bench.tube(
        SLIM,
        tube_bench.holes("a", NO_7, [10, 50], face="A", through=True),
        tube_bench.holes("b", NO_7, [30], face="B", through=True),
        length=60,
    )
    job = tube_bench.job(part, unit="mm", paper="A4", scale_x=1.003, scale_y=0.998)
    found = folded.check(job, part, strips(SLIM, "A", "B", "C", "D"))
    assert sorted((round(p.y), round(p.z)) for _, p in found) == [
        (-10, 0),
        (0, -5),
        (0, -5),
        (0, 5),
        (0, 5),
        (10, 0),
    ]


def test_pages_tall_as_well_as_long_are_joined_both_ways():
    """A wrap higher than the paper is joined upwards too, and folds true."""
    big = type(SQUARE)("tube", Fraction(90), Fraction(90), Fraction(4))
    part = tube_bench.tube(
        big,
        tube_bench.holes("a", QUARTER, [20, 300, 460], face="A", through=True),
        tube_bench.holes("b", NO_7, [120, 380], face="B", across=20, through=True),
        length=480,
        paper="wrap",
        corner=Fraction(5),
    )
    job = tube_bench.job(part, unit="mm", paper="A4", scale_x=0.997, scale_y=1.004, fold=FOLD)
    found = folded.check(job, part, [right_round(big, 5.0, FOLD, "A")])
    folded.walls_meet(part, found)


@pytest.mark.parametrize("case", ["square, strips", "square, long", "round", "narrow, on flaps"])
@pytest.mark.parametrize(("unit", "paper"), PRINTS, ids=lambda p: p)
def test_every_page_proves_its_scale_and_keeps_the_border(case, unit, paper):
    """On every page two rulers measure what they say, and nothing is where printers cannot reach."""
    part, _ = CASES[case]
    job = tube_bench.job(part, unit=unit, paper=paper, scale_x=0.997, scale_y=1.004)
    step = MM_PER_INCH / 2 if unit == "in" else Fraction(10)
    for page in folded.printed(job, part):
        x, y = folded.scales(page, job)
        for axis, scale in (("x", x), ("y", y)):
            lengths = [
                (p.box.width if axis == "x" else p.box.height) * scale
                for p in page.paths
                if len(p.points) == 2 and not p.closed
            ]
            nominal = [
                n * step for n in range(1, 200) if f"CHECK RULER: {reading(n * step, unit)}" in page.words
            ]
            assert any(abs(length - float(n)) < folded.TRUE for n in nominal for length in lengths), axis
        for path in page.paths:
            clip = path.clip
            box = path.box if clip is None else path.box.common(clip)
            if box.width >= 0 and box.height >= 0:
                assert min(box.left, box.bottom) > BORDER
                assert box.right < page.width - BORDER
                assert box.top < page.height - BORDER


def test_length_of_paper_around_is_said():
    """A round tube's print says how long it is around: as measured, or 25.4 x pi and a sheet's thickness."""
    assert usual_girth(ROUND, 0.08) == pytest.approx(math.pi * 25.4 + 0.32)
    part = tube_bench.post()
    words = folded.printed(tube_bench.job(part, unit="mm", paper="A4"), part)[0].words
    assert "80.116 mm" in words
    measured = tube_bench.post(girth=Fraction("80.3"))
    assert (
        "80.3 mm, as measured"
        in folded.printed(tube_bench.job(measured, unit="mm", paper="A4"), measured)[0].words
    )
