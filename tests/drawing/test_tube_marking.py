"""Marking-out of tubes: every hole on every face and hand, in both units, legible, on paper."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.drawing.marking_table import error_text, measured_text
from nestkit.drawing.model import Text
from nestkit.drawing.tube_marking import NOTES, tube_marking_pages
from nestkit.drawing.tube_sizes import other_text, place_cells, size_text, step_of
from nestkit.geometry.mitre import Mitre
from nestkit.job.model import Paper
from nestkit.job.settings import LEAST_PRINT
from nestkit.parts.gangs import gangs_of
from nestkit.parts.marked_tube import lines_of
from nestkit.parts.marking import Dimension, rounded
from nestkit.stock.section import section_in_words
from nestkit.trade.cautions import cautions
from nestkit.units import parse_length
from nestkit.writers.pdf import pdf_bytes
from tests import laid_tubes
from tests.laid_tubes import DECK_FRAME, INCH, MAST, MAST_FOOT, SIDE_RAIL, SPACER, group, job, tube

SIXTY = "a name of sixty letters as long as any that a job may have x"


def words(page):
    """Return all texts of a page in one line."""
    return " ".join(m.text for m in page.marks if isinstance(m, Text))


def tables(made):
    """Return the pages with tables, without those of gangs."""
    return [p for p in tube_marking_pages(made) if not p.title.startswith("marking out: MARK TOGETHER")]


def assert_clean(page, *, inside=6.35):
    """Every text lies on the page inside its border, and over no other text."""
    boxes = [m.bounds for m in page.marks]
    for box in boxes:
        assert min(box.left, box.bottom, page.width - box.right, page.height - box.top) >= inside
    texts = [m.bounds for m in page.marks if isinstance(m, Text)]
    for i, box in enumerate(boxes):
        assert not any(box.meets(other) for other in texts if other is not box and other != box), i


@pytest.mark.parametrize(("unit", "paper"), [("in", "letter"), ("mm", "A4")])
def test_pdfium_reads_every_hole_of_every_face_and_hand(unit, paper):
    """Each line of each tube and hand has a row for each hole with both units, and its drill."""
    made = laid_tubes.boat(unit, paper=paper)
    document = pypdfium2.PdfDocument(pdf_bytes(tube_marking_pages(made), title="marking out"))
    pages = [page.get_textpage().get_text_range().replace("\r", "") for page in document]
    document.close()
    for part in (p for p in made.tubes if p.holes):
        for opposite in part.hands:
            first = f"{part.name}\nOPPOSITE HAND" if opposite else f"{part.name}\nMARKING"
            (mine,) = [" ".join(p.split()) for p in pages if p.startswith(first)]
            shown = part.mirrored() if opposite else part
            for one in lines_of(shown):
                for mark in one.marks:
                    cells = place_cells(made, mark.spot.at)
                    assert f" {mark.number} {' '.join(cells)} {mark.drill.name}" in mine
            heads = re.findall(r"(?:FACE [A-D]|AT \d+°): ", mine)
            assert len(heads) == len(lines_of(shown))
    assert not any(p.startswith(SPACER.name) for p in pages)


def test_a_place_is_told_in_both_units_with_what_each_is_out_by():
    """12 1/3 in is 12 11/32 in, .010 in more, and 313.5 mm, 0.23 mm more."""
    made = laid_tubes.boat()
    assert place_cells(made, Fraction("313.2666666667")) == ("12 11/32", "+.010", "313.5", "+0.23")
    assert place_cells(laid_tubes.boat("mm"), 4 * INCH) == ("101.5", "-0.10", "4", "exact")
    assert size_text(made, INCH / 2, "mm") == "12.5 mm (out -0.20)"
    assert (other_text(made, 46 * INCH), other_text(laid_tubes.boat("mm"), 46 * INCH)) == (
        "1168.4 mm",
        "46 in",
    )
    assert step_of(replace(made, marking_to=INCH / 64), "in") == INCH / 64
    assert step_of(replace(made, marking_to=INCH / 64), "mm") == Fraction(1, 2)


@given(st.integers(1, 10**6), st.sampled_from(["in", "mm"]))
@settings(max_examples=60)
def test_what_is_printed_less_what_it_is_out_by_is_the_place(tenths, unit):
    """Read as a length again, each printed place is its true one and the printed error."""
    made = laid_tubes.boat(unit)
    at = Fraction(tenths, 100)
    one, out, other, out_too = place_cells(made, at)
    for said, error, by in ((one, out, unit), (other, out_too, "mm" if unit == "in" else "in")):
        size = parse_length(said, by)
        dimension = rounded(float(at), step_of(made, by))
        assert size == dimension.measured
        assert said == measured_text(Dimension(size, Fraction(0)), by)
        assert error == error_text(dimension, by)
        assert abs(size - dimension.error - at) <= Fraction(1, 40_000)


def test_the_heading_says_from_which_edge():
    """Across is from the edge shared with the next letter, from the heel, or around from line A."""
    said = words(tables(job(DECK_FRAME))[0])
    assert "FACE A: 1/2 in = 12.5 mm (out -0.20) from the B edge, the middle" in said
    assert "from the C edge, the middle" in said
    assert "from the D edge, the middle" in said
    assert "Holes 1 to 6 go through: mark and drill each wall from its own side." in said
    assert "FACE B: 3/8 in = 9.5 mm (out -0.03) from the C edge " in words(tables(job(SIDE_RAIL))[0])
    assert "FACE D: 5/8 in = 16 mm (out +0.12) from the A edge " in words(tables(job(SIDE_RAIL))[1])
    assert "FACE A: 5/8 in = 16 mm (out +0.12) from the heel " in words(tables(job(MAST_FOOT))[0])
    said = words(tables(job(MAST))[0])
    assert "AT 0°: on line A" in said
    assert "AT 120°: 1 1/16 in (out +.015) = 26.5 mm (out -0.10) around from line A to B" in said
    assert "Draw line A along the tube first" in said
    strip = tube("batten", "strip 1 x 1/8", "10", group("row", "A", "1", "9", across="1/4"))
    assert "FACE A: 1/4 in = 6.5 mm (out +0.15) from the near edge" in words(tables(job(strip))[0])


def test_what_proves_the_marks():
    """First to last hole, and the last one to end 1: true lengths with limits, and in the other unit."""
    said = words(tables(job(DECK_FRAME))[0])
    assert "Check 1 to 6: must read 21.000, accept 20.96 to 21.04 in (533.4 mm)" in said
    assert "Check 6 to end 1: must read 0.500, accept 0.45 to 0.55 in (12.7 mm)" in said
    (page,) = tables(job(replace(SIDE_RAIL, opposite_hand=0)))
    one = words(page)
    assert "Check 6 to end 1" in one
    assert "Check 6 to 6" not in one


def test_a_mitred_tube_is_measured_from_its_long_point():
    """Its ends are still square then: it says so, with both mitres, and end 1 is checked as it is sawn."""
    ends = (Mitre.on("A", Fraction(45)), Mitre.on("A", Fraction(45)))
    said = " ".join(words(page) for page in tables(job(replace(DECK_FRAME, quantity=1, mitres=ends))))
    assert "end 0 45 degrees, long side A; end 1 45 degrees, long side A." in said
    assert "Both ends are still square: every size is from end 0, where its LONG POINT will be." in said
    assert re.search(r"Check \d+ to end 1, still square: must read", said)
    assert "LONG POINT" not in words(tables(job(DECK_FRAME))[0])


def test_which_edge_of_the_mark_counts_is_said_once_a_page():
    """Every page has the notes for whoever holds the pen, each once, and the caution."""
    for page in tube_marking_pages(laid_tubes.boat()):
        said = words(page)
        for note in (*NOTES, cautions("footer")[-1]):
            assert said.count(note) == 1


def test_short_tables_of_one_bench_share_a_page_and_those_of_two_do_not():
    """Two short tubes of a bench are on one page; each bench begins a new one."""
    short = [tube(f"cleat {i}", "1 x 1 x 1/16", "6", group("r", "A", i)) for i in (10, 20, 30)]
    (page,) = tables(job(*short))
    assert words(page).count("MARKING OUT") == 3
    assert len(tables(job(*short, DECK_FRAME))) == 2
    parted = [replace(short[0], used_for="deck"), replace(short[1], used_for="hull"), short[2]]
    pages = tables(job(*parted))
    assert [p.title for p in pages] == [f"marking out: cleat {i}" for i in (30, 10, 20)]


@given(
    st.lists(
        st.tuples(st.sampled_from("ABCD"), st.integers(1, 90), st.integers(1, 12)), min_size=1, max_size=5
    ),
    st.sampled_from(["A4", "letter", "A5", "A3"]),
    st.booleans(),
)
@settings(max_examples=20, deadline=None)
def test_any_number_of_holes_stays_on_the_page_without_overlap(rows, paper, through):
    """However many holes on however many lines: each mark once, no text over another or over the edge."""
    groups = [
        group(f"g{i}", face, *range(10, 10 + 11 * count, 11), across=across, through=through)
        for i, (face, count, across) in enumerate(rows)
    ]
    part = tube("side rail", "1 x 1 x 1/16", 1200, *groups)
    paper = Paper("A5", 148.0, 210.0) if paper == "A5" else paper
    numbers = []
    for page in tube_marking_pages(job(part, paper=paper, unit="mm")):
        assert_clean(page)
        left = min(m.bounds.left for m in page.marks)
        texts = [m for m in page.marks if isinstance(m, Text)]
        numbers += [int(m.text) for m in texts if m.at.x == pytest.approx(left) and m.text.isdigit()]
    assert sorted(numbers) == sorted(m.number for m in part.marks)


def test_a_table_is_parted_only_where_a_page_cannot_hold_it():
    """What has no room below another table goes to the next page as a whole; a longer one flows on."""
    rows = [group(f"row {face}", face, *range(20, 20 + 20 * 17, 20)) for face in "AB"]
    pages = tables(job(tube("side rail", "1 x 1 x 1/16", 900, *rows), unit="mm"))
    assert [("FACE A" in words(p), "FACE B" in words(p)) for p in pages] == [(True, False), (False, True)]
    assert words(pages[1]).startswith("side rail (continued) FACE B: ")
    many = group("many", "A", *range(20, 20 + 20 * 60, 20))
    pages = tables(job(tube("side rail", "1 x 1 x 1/16", 1300, many), unit="mm"))
    assert len(pages) == 2
    assert "FACE A: 12.5 mm (out -0.20) = 1/2 in from the B edge, the middle (continued)" in words(pages[1])


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("long", [False, True])
def test_the_smallest_paper_holds_every_word(unit, long):
    """Down to the least paper: notes and caution whole, no cell in two lines, no name cut short."""
    parts = [DECK_FRAME, SIDE_RAIL, MAST, MAST_FOOT]
    if long:
        parts = [
            replace(p, name=f"{SIXTY[:-1]}{i}", used_for=SIXTY, material=SIXTY, revision="R" * 20)
            for i, p in enumerate(parts)
        ]
    least = Paper("least", float(LEAST_PRINT.short), float(LEAST_PRINT.long))
    made = job(*parts, unit=unit, paper=least, name=f"{SIXTY} {SIXTY}"[:120] if long else "boat")
    pages = tube_marking_pages(made)
    for page in pages:
        assert_clean(page)
        texts = [m for m in page.marks if isinstance(m, Text)]
        assert min(m.height for m in texts) >= 2.3
        flat = " ".join(words(page).split())
        assert "…" not in flat
        assert all(note in flat for note in (*NOTES, cautions("footer")[-1]))
        assert made.name in flat or "(continued)" in flat or "Line" in flat
        assert not {"from", "0", f"[{unit}]"} & {m.text for m in texts if m.bold and m.height < 4.5}
    said = " ".join(words(page) for page in pages)
    assert all(p.name in said for p in parts)


def test_paper_that_no_job_may_have_does_not_hang():
    """On paper too small for anything every page still takes a row: the tables come to an end."""
    assert len(tube_marking_pages(laid_tubes.boat(paper=Paper("stamp", 60.0, 60.0)))) < 200


def test_off_a_roll_of_paper_pages_are_as_long_as_usual():
    """Paper off a roll has no long side: pages are as long as a letter."""
    pages = tube_marking_pages(laid_tubes.boat(paper=Paper("roll 24 in", 609.6, None)))
    assert {(p.width, p.height) for p in pages} == {(609.6, 279.4)}


def test_a_job_without_holes_in_tubes_has_no_pages():
    """Spacers and trims are only cut: nothing to mark out."""
    assert tube_marking_pages(job(SPACER, laid_tubes.EDGE_TRIM)) == ()
    assert tube_marking_pages(job()) == ()
    assert tube_marking_pages(job(replace(DECK_FRAME, quantity=0))) == ()


def test_tables_name_the_gang_that_comes_first():
    """A face that is marked with others says under which heading."""
    made = laid_tubes.boat()
    said = {p.title: words(p) for p in tables(made)}
    assert "Faces A, C: first MARK TOGETHER 1." in said["marking out: deck frame"]
    assert "Face B: first MARK TOGETHER 2." in said["marking out: deck frame"]
    assert "Face A: first MARK TOGETHER 3." in said["marking out: side rail, OPPOSITE HAND"]
    assert "MARK TOGETHER" not in said["marking out: mast"]
    (page,) = tables(job(replace(MAST, quantity=2)))
    assert "At 0°, 180°: first MARK TOGETHER 1. At 120°: first MARK TOGETHER 2." in words(page)
    assert len(gangs_of(made.tubes)) == 5


def test_sections_are_named_once():
    """The trade's word, then the sizes: no word twice."""
    told = [section_in_words(p.section, "in") for p in (DECK_FRAME, SPACER, MAST_FOOT, laid_tubes.EDGE_TRIM)]
    assert told == [
        "square tube 1 x 1 x 1/16 in",
        "round tube 1/2 x 1/16 in",
        "angle 1 x 1 x 1/8 in",
        "goods off a roll 1/2 in",
    ]


def test_the_same_job_gives_the_same_bytes():
    """Drawn twice, the pages are the same to the byte."""
    made = laid_tubes.boat()
    once, again = (pdf_bytes(tube_marking_pages(made), title="marking out") for _ in range(2))
    assert once == again
