"""The pages of a long piece off a roll: a map, then stretch by stretch, every part and cut to be read."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pypdfium2
import pytest

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Inset, Path, Text
from nestkit.drawing.sheet_cuts import cuts_between, numbered
from nestkit.drawing.sheet_page import EDGE, sheet_pages
from nestkit.drawing.sheet_picture import fitting_scale, long_scale, picture_scale, signs_text
from nestkit.drawing.sheet_stretches import MAP_WIDTH, MOST_STRETCHES, NARROWEST, map_of, stretch_plans
from nestkit.geometry.points import Point, Rect
from nestkit.job.model import Paper, Printing
from nestkit.layout.result import Cut
from nestkit.units import LARGEST, parse_length
from nestkit.writers.pdf import pdf_bytes
from tests.laid_boat import A4, LETTER, lid_job
from tests.laid_roll import laid, liner, linings
from tests.many_cuts import OFF_A_ROLL

LEAST = Paper("least", 139.0, 210.0)
NARROW = Paper("roll 139 mm", 139.0, None)
PAGE = Point(0.0, 0.0)
ROOM = Rect(0.0, 0.0, 195.0, 220.0)


def pages_of(made, paper):
    """Return the pages of the one piece of a job on a paper, with that piece and the job."""
    job, layout = made
    job = replace(job, printing=Printing(paper))
    (laid,) = layout.groups
    return sheet_pages(job, laid.group, laid.sheets[0], stem="lining-01"), laid.sheets[0], job


def words_and_boxes(marks, at=PAGE, scale=1.0):
    """Yield every text of a page, also in its pictures, with its box on paper."""
    for mark in marks:
        if isinstance(mark, Text):
            box = Rect(*(side * scale for side in mark.bounds))
            yield mark.text, Rect(box.left + at.x, box.bottom + at.y, box.right + at.x, box.top + at.y)
        elif isinstance(mark, Inset):
            inner = at.moved(mark.at.x * scale, mark.at.y * scale)
            yield from words_and_boxes(mark.drawing.marks, inner, scale * mark.scale_x)


@pytest.mark.parametrize("paper", [LETTER, A4, LEAST, NARROW], ids=lambda p: p.name)
@pytest.mark.parametrize(("how", "unit"), [("saw", "in"), ("router", "mm")])
def test_every_part_and_cut_can_be_read(how, unit, paper):
    """Whole words or a number of the key, the numbers of the cuts; no text over another or cut off."""
    pages, piece, job = pages_of(linings(how, unit), paper)
    assert len(pages) > 3
    flat = " ".join(text for page in pages[1:] for text, _ in words_and_boxes(page.marks))
    key = " ".join(text for text, _ in words_and_boxes(pages[-1].marks))
    for part in piece.parts:
        named = f"{part.panel.name} " in f"{flat} "
        assert named or f"{part.panel.name}," in key, part.panel.name
    found = {text for page in pages[1:] for text, _ in words_and_boxes(page.marks)}
    assert {str(step) for step in numbered(piece, job.ways[0].kerf, unit)} <= found
    for page in pages:
        boxes = list(words_and_boxes(page.marks))
        for i, (text, box) in enumerate(boxes):
            assert min(box.left, box.bottom, page.width - box.right, page.height - box.top) >= EDGE - 1.5
            over = [other for other, b in boxes[:i] if b.grown(-0.3).meets(box.grown(-0.3))]
            assert not over, (text, over)


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_stretches_join_and_the_map_tells_their_pages(unit):
    """From the lower end to the upper without a gap; the first page says which page shows which stretch."""
    pages, piece, job = pages_of(linings("saw", unit), LETTER)
    (laid,) = linings("saw", unit)[1].groups
    plans = stretch_plans(piece, laid.group, unit=unit, room=ROOM, whole=100)
    assert plans[0][1] == 0.0
    assert plans[-1][2] == float(piece.stock.height)
    assert all(a[2] == b[1] for a, b in pairwise(plans))
    assert all(plan.drawing.height <= ROOM.height for plan, _, _ in plans)
    assert all(float(piece.stock.width) / plan.scale > NARROWEST for plan, _, _ in plans)
    told = [t for t, _ in words_and_boxes(pages[0].marks) if t.startswith("page ") and ":" in t]
    heads = [t for page in pages[1:] for t, _ in words_and_boxes(page.marks) if t.startswith("From ")]
    assert len(told) == len(heads) > 2
    for number, (line, head) in enumerate(zip(told, heads, strict=True), start=2):
        assert line.startswith(f"page {number}: ")
        ends = line.split(": ")[1]
        assert head.startswith(f"From {ends} of ")
        low, high = (parse_length(f"{e.removesuffix(unit)} {unit}", unit) for e in ends.split(" to "))
        assert 0 <= low < high <= piece.stock.height + 1
    assert "Scale 1:" in heads[0]
    assert job.unit == unit


def test_a_piece_that_reads_as_a_whole_takes_one_page():
    """A short piece, and a sheet of any length, stay on their page."""
    pages, piece, _ = pages_of(liner(), LETTER)
    assert len(pages) == 1
    assert any("cut off the roll at 63 1/2 in" in text for text, _ in words_and_boxes(pages[0].marks))
    job, layout = lid_job()
    sheet = layout.groups[0].sheets[0]
    long = replace(sheet, stock=replace(sheet.stock, height=20 * sheet.stock.height))
    assert len(sheet_pages(job, layout.groups[0].group, long, stem="x")) == 1
    assert stretch_plans(long, layout.groups[0].group, unit="in", room=ROOM, whole=200) == ()
    assert piece.stock.roll


def test_the_longest_piece_takes_a_bounded_number_of_pages():
    """Even 100 m takes no more pages than twice what is aimed at, though no words are parted."""
    job, layout = liner(quantity=4)
    (laid,) = layout.groups
    piece = replace(laid.sheets[0], stock=laid.sheets[0].stock.cut_off(LARGEST))
    pages = sheet_pages(replace(job, printing=Printing(LETTER)), laid.group, piece, stem="x")
    assert MOST_STRETCHES / 2 < len(pages) <= 2 * MOST_STRETCHES + 2


def test_cuts_are_told_from_the_lower_end_of_their_stretch():
    """A cut along y is shown where it runs, one across in the one stretch where it lies."""
    cuts = (
        Cut(1, "sheet", "x", 100, 0, 900, False),
        Cut(2, "1a", "y", 300, 0, 100, False),
        Cut(3, "1b", "y", 600, 103, 500, False),
    )
    assert cuts_between(cuts, 300.0, 600.0) == (
        replace(cuts[0], start=0, end=300),
        replace(cuts[1], at=0),
    )
    assert [c.step for c in cuts_between(cuts, 600.0, 900.0)] == [1, 3]
    assert [c.step for c in cuts_between(cuts, 0.0, 300.0)] == [1]


def test_on_a_screen_a_long_piece_keeps_its_scale():
    """Its picture may be higher than a page; its parts stay as large as in a piece of four widths."""
    (laid,) = linings()[1].groups
    piece = laid.sheets[0]
    four = replace(piece, stock=piece.stock.cut_off(4 * piece.stock.width))
    assert piece.stock.height > 4 * piece.stock.width
    assert picture_scale(piece) == picture_scale(four)
    assert long_scale(piece, ROOM) == long_scale(four, ROOM)


@pytest.mark.parametrize("text", [OFF_A_ROLL, OFF_A_ROLL.replace("400", "1500")])
def test_the_map_of_many_small_parts_is_no_black_bar(text):
    """The picture of the whole is 24 mm wide at least; of 1500 parts on 140 ft less than half is black."""
    job, layout = laid(text)
    piece = layout.groups[0].sheets[0]
    scale = fitting_scale(piece.stock.width, piece.stock.height, ROOM)
    ends = [i * float(piece.stock.height) / 8 for i in range(9)]
    picture = map_of(piece, unit=job.unit, scale=scale, ends=ends, room=ROOM.width)
    (edge,) = [m.bounds for m in picture.marks if isinstance(m, Path) and m.closed and m.layer is Layer.HEAVY]
    assert edge.width >= MAP_WIDTH - 1e-9
    document = pypdfium2.PdfDocument(pdf_bytes([picture], title="map"))
    drawn = document[0].render(scale=10 * 25.4 / 72).to_pil().convert("L")
    document.close()
    left, right = int(10 * edge.left) + 6, int(10 * edge.right) - 6
    top, bottom = int(10 * (picture.height - edge.top)) + 6, int(10 * (picture.height - edge.bottom)) - 6
    black = 1.0 - np.asarray(drawn)[top:bottom, left:right] / 255.0
    assert black.mean() < 0.5


@pytest.mark.parametrize("paper", [LETTER, LEAST], ids=lambda p: p.name)
@pytest.mark.parametrize("length", ["140 ft", "300 ft", "20 ft"])
def test_ticks_along_a_long_roll_stand_apart(length, paper):
    """In an inch job each tick of a long roll names inches and feet, and no figure touches the next."""
    job, layout = liner(quantity=4)
    (laid_group,) = layout.groups
    piece = replace(
        laid_group.sheets[0], stock=laid_group.sheets[0].stock.cut_off(parse_length(length, "in"))
    )
    pages = sheet_pages(replace(job, printing=Printing(paper)), laid_group.group, piece, stem="x")
    ticks = 0
    for page in pages[1:]:
        boxes = [box for text, box in words_and_boxes(page.marks) if re.fullmatch(r"\d+ in \(\d+ ft\)", text)]
        ticks += len(boxes)
        assert not any(a.grown(0.5).meets(b) for i, a in enumerate(boxes) for b in boxes[:i])
        for text, _ in words_and_boxes(page.marks):
            if found := re.fullmatch(r"(\d+) in \((\d+) ft\)", text):
                assert int(found[1]) == 12 * int(found[2])
    assert ticks >= len(pages) - 2


def test_of_equal_cuts_the_first_and_the_last_bear_their_number():
    """400 parts take 419 cuts in four sayings: eight numbers stand on the picture, and it says which."""
    job, layout = laid(OFF_A_ROLL)
    piece = layout.groups[0].sheets[0]
    assert numbered(piece, job.ways[0].kerf, "in") == {1, 19, 20, 39, 40, 99, 100, 419}
    assert "of equal ones the first and the last" in signs_text(piece, layout.groups[0].group, "in")
