"""No word of a template lies on a mark or on another word: the faults that random panels once found."""

from __future__ import annotations

import pytest

from nestkit.drawing.crosses import Cross, cross_marks, crosses_in
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Inset, Text
from nestkit.drawing.template import template_pages
from nestkit.drawing.template_labels import Field
from nestkit.drawing.tiles import OVERLAP, tiling
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import disc, rectangle
from nestkit.parts.holes import Opening
from tests.drawing import bench
from tests.drawing.bench import M5, NO_2, NO_7, QUARTER
from tests.drawing.clear import covered

LONG = "long words " * 5


def plate(wide, high, *groups, name="rail", radius=0.0, opening=False):
    """A panel with holes by drill, perhaps round corners and a round opening in its middle."""
    return bench.panel(
        wide,
        high,
        name=name,
        outline=rectangle(wide, high, radius=radius),
        holes=bench.numbered_holes(*((drill.name, drill, places) for drill, places in groups)),
        openings=(
            Opening("cutout", disc(min(wide, high) / 3, centre=Point(wide / 2, high / 2)), "cutouts[0]"),
        )
        if opening
        else (),
    )


CROSS_ON_A_RING = plate(
    341, 41,
    (NO_2, [(229, 33), (207, 32), (130, 13), (90, 30), (31, 10), (289, 28), (311, 28), (170, 9)]),
    (NO_7, [(332, 26), (87, 8)]), (M5, [(206, 8)]), (QUARTER, [(52, 26), (267, 31)]),
    name=LONG, radius=5, opening=True,
)  # fmt: skip
CROSS_ON_AN_OPENING = plate(624, 624, radius=5, opening=True)
CROSS_ON_AN_ARM = plate(
    543, 427,
    (NO_2, [(270, 150), (409, 267), (389, 207), (393, 227), (509, 67)]), (NO_7, [(72, 411), (288, 193)]),
    (M5, [(28, 112), (246, 33), (46, 190)]), (QUARTER, [(291, 393), (312, 107), (90, 287), (473, 269)]),
    opening=True,
)  # fmt: skip
DATUM_CUT_OFF = plate(245, 316, (NO_2, [(231, 149)]), radius=12)
MARK_ON_A_HOLE = plate(
    564, 246, (NO_2, [(509, 146)]), (NO_7, [(452, 167), (447, 227)]), (M5, [(26, 53)]),
    (QUARTER, [(451, 12), (412, 31)]), radius=5, opening=True,
)  # fmt: skip
MARK_ON_AN_EDGE = plate(
    1442, 195, (NO_7, [(1370, 146), (130, 30)]), (QUARTER, [(950, 93)]), name=LONG, radius=5, opening=True
)


@pytest.mark.parametrize(
    ("part", "job", "back"),
    [
        (CROSS_ON_A_RING, {"how": "router", "paper": "letter", "unit": "mm", "all_pages": True}, False),
        (CROSS_ON_AN_OPENING, {"how": "saw", "paper": "A4", "all_pages": True}, True),
        (CROSS_ON_AN_ARM, {"how": "router", "paper": "letter", "all_pages": True}, False),
        (
            DATUM_CUT_OFF,
            {"how": "saw", "paper": "A4", "unit": "mm", "scale_x": 0.996, "scale_y": 1.004},
            False,
        ),
        (MARK_ON_A_HOLE, {"how": "jigsaw", "paper": "letter"}, True),
        (MARK_ON_AN_EDGE, {"how": "jigsaw", "paper": "A4", "scale_x": 0.996, "scale_y": 1.004}, False),
    ],
    ids=["ring", "opening", "arm", "datum", "mark on hole", "mark on edge"],
)
def test_words_keep_off_what_they_once_lay_on(part, job, back):
    """Letters of crosses, the word at the datum and the words of a line to measure lie on nothing."""
    pages = template_pages(bench.job(part, **job), part, back=back)
    assert len(pages) > 2
    assert [wrong for page in pages for wrong in covered(page)] == []


def words_along_lines(pages):
    """The words along the lines to measure of all pages."""
    windows = [m for page in pages for m in page.marks if isinstance(m, Inset)]
    return [t for w in windows for t in w.drawing.marks if isinstance(t, Text) and t.text.startswith("MARK")]


def test_words_along_a_line_get_smaller_then_shorter():
    """Words along a line to measure are as whole as they can be; the head of the page says all of it."""
    part = MARK_ON_A_HOLE
    pages = template_pages(bench.job(part, how="jigsaw", paper="letter"), part, back=True)
    words = words_along_lines(pages)
    assert words
    assert all(text.height >= 2.6 for text in words)
    heads = " ".join(m.text for page in pages for m in page.marks if isinstance(m, Text))
    assert all(text.text.removeprefix("MARK ") in heads for text in words)


def letter(cross: Cross) -> list[Text]:
    """The letter of a cross, or none."""
    return [m for m in cross_marks(cross) if isinstance(m, Text)]


@pytest.mark.parametrize("side", [-1, 1])
def test_the_letter_of_a_cross_stands_where_nothing_is(side):
    """With a line all along one side of a seam's middle, its crosses have their letters on the other."""
    area = Rect(0, 0, 300, 200)
    middle = tiling(area, 200, 220, []).crosses[0].at.x
    field = Field(area)
    field.take_line(Point(middle + 3 * side, 0), Point(middle + 3 * side, 200))
    crosses = tiling(area, 200, 220, [], field=field).crosses
    assert len(crosses) == 2
    for cross in crosses:
        [text] = letter(cross)
        assert (text.bounds.centre.x - cross.at.x) * side < 0


def test_a_cross_between_taken_places_has_no_letter_on_them():
    """Where no place along its half is free, a cross is there all the same; no letter lies on anything."""
    band = Rect(100, 0, 112, 200)
    field = Field(Rect(0, 0, 300, 200))
    field.take(Rect(101, 0, 111, 200))
    crosses = crosses_in([band], [], OVERLAP, field)
    assert len(crosses) == 2
    assert not any(letter(cross) for cross in crosses)


@pytest.mark.parametrize("index", [0, 25, 26, 26 * 13 + 12])
def test_long_letters_of_a_cross_are_seen_on_both_pages(index):
    """After z come aa, ab, and so on to mm and beyond: set so small that they stay within the overlap."""
    bands = [Rect(0, 30 * i, 200, 30 * i + OVERLAP) for i in range(index // 2 + 1)]
    cross = crosses_in(bands, [], OVERLAP)[index]
    [text] = letter(cross)
    assert text.layer == Layer.LABEL
    band = bands[index // 2].grown(-0.1)
    assert band.bottom < text.bounds.bottom
    assert text.bounds.top < band.top
    assert text.bounds.width < 4.3
    assert text.height > 2.0
