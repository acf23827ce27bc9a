"""Tubes on pages laid by themselves: fewer pages, every mark once, true to the line of its page."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, given, settings

from nestkit.drawing.model import Fill, Path, Text
from nestkit.drawing.tube_facts import tube_facts
from nestkit.drawing.tube_map import stretches_map
from nestkit.drawing.tube_template import tube_template_pages
from nestkit.drawing.tube_windows import stretches
from nestkit.geometry.mitre import Mitre
from nestkit.geometry.round_wrap import RoundWrap, usual_girth
from nestkit.geometry.section import Section
from nestkit.geometry.wrap import Strip, Wrap, right_round
from nestkit.job.model import Paper
from nestkit.units import parse_length
from tests.drawing import folded, tube_bench
from tests.drawing.bench import M5, NO_2, NO_7, PAPERS, QUARTER
from tests.drawing.clear import covered
from tests.drawing.test_tube_template_any import cases
from tests.drawing.tube_bench import ANGLE, ROUND, SMALL, SQUARE

FOLD = 0.1
A5 = Paper("A5", 148.0, 210.0)
INCH = 25.4


def beam(section=SQUARE, **more):
    """A 2 m rail drilled at its ends and once in its middle."""
    spot = {"at_deg": 0} if section.is_round else {"face": "A"}
    walls = {"through": section.two_walls}
    return tube_bench.tube(
        section,
        tube_bench.holes("foot", NO_7, [20, 60], **spot, **walls),
        tube_bench.holes("stay", QUARTER, [1007], **spot),
        tube_bench.holes("head", M5, [1940, 1980], **spot, **walls),
        length=2000,
        name="long rail",
        **more,
    )


BEAMS = {
    "strips": (beam(), [Strip(SQUARE, "A"), Strip(SQUARE, "C")]),
    "strips, mitred": (
        beam(mitres=(Mitre.on("A", Fraction(30)), Mitre.on("B", Fraction(45)))),
        [Strip(SQUARE, "A"), Strip(SQUARE, "C")],
    ),
    "corners": (
        beam(paper="corner", corner=Fraction(3, 2)),
        [Wrap(SQUARE, pair, 1.5, FOLD) for pair in (("A", "B"), ("C", "D"))],
    ),
    "right round": (
        beam(paper="wrap", corner=Fraction(3, 2), mitres=(None, Mitre.on("A", Fraction(45)))),
        [right_round(SQUARE, 1.5, FOLD, "A")],
    ),
    "round": (
        beam(ROUND, mitres=(Mitre(Fraction(20), Fraction(10)), Mitre(Fraction(30), Fraction(90)))),
        [RoundWrap(ROUND, usual_girth(ROUND, FOLD), 90.0)],
    ),
    "narrow, on flaps": (beam(SMALL), [Strip(SMALL, "A"), Strip(SMALL, "C")]),
    "angle": (beam(ANGLE, paper="corner"), [Wrap(ANGLE, ("A", "B"), 0.0, FOLD)]),
}
PRINTS = [("in", "letter"), ("mm", "A4"), ("in", "tabloid"), ("mm", "A3")]


def job_of(part, unit="mm", paper="A4", **more):
    """A job of one tube, its printer out of scale."""
    return tube_bench.job(part, unit=unit, paper=paper, scale_x=0.997, scale_y=1.004, fold=FOLD, **more)


def laid(job, part):
    """The pages that are laid by themselves, as pdfium reads them."""
    return [page for page in folded.printed(job, part) if folded.LAID.search(page.words)]


@pytest.mark.parametrize(("unit", "paper"), PRINTS, ids=lambda p: p)
@pytest.mark.parametrize("case", BEAMS)
def test_each_mark_is_printed_once_and_folds_true_off_its_measured_line(case, unit, paper):
    """Off end 0 or the bold line that a page is laid by, marks lie where the part has them, to 0.01 mm."""
    part, papers = BEAMS[case]
    job = job_of(part, unit, paper)
    found = folded.check(job, part, papers)
    assert len(found) == len(part.marks), "each mark stands on one page and on no other"
    folded.walls_meet(part, found)
    pages = laid(job, part)
    assert 3 <= len(pages) <= 4
    assert len(pages) + 1 < len(tube_template_pages(job_of(part, unit, paper, all_pages=True), part))


@pytest.mark.parametrize("case", BEAMS)
def test_lines_lie_at_round_figures_from_end_0(case):
    """Whole inches or 10 mm, in running order; the cover lists each with its page."""
    part, _ = BEAMS[case]
    for unit, paper, step in (("in", "letter", INCH), ("mm", "A4", 10.0)):
        pages = folded.printed(job_of(part, unit, paper), part)
        said = [m[1] for page in pages for m in folded.LAID.finditer(page.words)]
        assert said[0] is None
        places = [float(parse_length(text, unit)) for text in said[1:]]
        assert places == sorted(places)
        assert all(abs(at / step - round(at / step)) < 1e-9 for at in places)
        cover = " ".join(pages[0].words.split())
        listed = "; ".join(f"{text} (page {number})" for number, text in enumerate(said[1:], 3))
        assert f"never from line to line: {listed}." in cover
        assert "The pages are not joined" in cover


def test_both_ends_are_shown_and_nothing_that_is_blank():
    """END 0 is on the first page, END 1 on the last; every page has one of them or a ring."""
    part, papers = BEAMS["round"]
    pages = laid(job_of(part), part)
    rings = [sum(len(page.circles(d / x, d / y)) for d in {h.drill.dia for h in part.holes})
             for page in pages for x, y in [folded.scales(page, job_of(part))]]  # fmt: skip
    assert all(rings)
    [paper] = papers
    for page, end in ((pages[0], part.ends[0]), (pages[-1], part.ends[1])):
        curve = len(paper.end_line(end))
        assert any(len(path.points) == curve and path.whole for path in page.paths)
    assert ["END 1" in page.words for page in pages] == [False] * (len(pages) - 1) + [True]


def test_between_the_ends_only_marked_faces_are_printed():
    """The hole in the middle is in A alone: its page has no strip of C."""
    part, _ = BEAMS["strips"]
    middle = laid(job_of(part), part)[1]
    assert "A" in middle.words.split()
    assert "C" not in middle.words.split()


def test_pages_are_joined_where_all_are_asked_for_or_placing_saves_none():
    """With all pages asked for, off a roll, and drilled all along, pages are joined as ever."""
    part, _ = BEAMS["strips"]
    assert laid(job_of(part, all_pages=True), part) == []
    assert laid(job_of(part, paper="roll 24 in"), part) == []
    dense = replace(tube_bench.rail(), mitres=(None, None))
    assert laid(job_of(dense), dense) == []


def test_a_group_that_fits_a_page_is_not_parted():
    """Six holes over 100 mm come on one page, wherever they lie."""
    for start in range(150, 400, 30):
        part = tube_bench.tube(
            SQUARE,
            tube_bench.holes("row", M5, [start + 20 * i for i in range(6)], face="A"),
            tube_bench.holes("far", NO_2, [1700], face="B"),
            length=1800,
        )
        job = job_of(part)
        counts = []
        for page in laid(job, part):
            x, y = folded.scales(page, job)
            counts.append(len(page.circles(M5.dia / x, M5.dia / y)))
        assert sorted(counts)[-1] == 6 == sum(counts)


def test_faces_too_many_for_a_page_have_pages_of_their_own():
    """Wide strips of four faces stand on two sets of pages; the cover names all pages of one line."""
    wide = Section("tube", Fraction(75), Fraction(75), Fraction(3))
    part = tube_bench.tube(
        wide,
        tube_bench.holes("foot", NO_7, [20], face="A", through=True),
        tube_bench.holes("head", QUARTER, [1900], face="B", through=True),
        length=2000,
    )
    job = job_of(part, "in", "letter")
    folded.check(job, part, [Strip(wide, face) for face in "ABCD"])
    cover = " ".join(folded.printed(job, part)[0].words.split())
    assert re.search(r"never from line to line: \d+ in \(pages \d, \d\)", cover)


@pytest.mark.parametrize("count", [1, 3, 6, 12])
def test_the_map_has_every_page_by_its_number(count):
    """However short the stretches of a long tube: numbers that can be read, in order, none over another."""
    spans = [(4000.0 * i / count, 4000.0 * i / count + 60.0) for i in range(count)]
    small = stretches_map([("A", spans)], (0.0, 4000.0), 26.0, 15.5, before=1, here=2)
    cells = [m.bounds for m in small.marks if isinstance(m, Path) and m.closed]
    assert len(cells) == count
    assert all(one.right <= other.left + 1e-9 for one, other in pairwise(cells))
    assert all(cell.left >= -1e-9 and cell.right <= 26.0 + 1e-9 for cell in cells)
    numbers = [m.text for m in small.marks if isinstance(m, Text)]
    # Of twelve in 26 mm those of two digits would be smaller than can be read.
    assert numbers == [str(n) for n in range(2, min(count + 2, 10))]
    assert sum(isinstance(m, Fill) and m.grey < 1.0 for m in small.marks) == min(1, count - 1)


def test_what_may_be_read_allows_for_pages_laid_by_hand():
    """Marks of two pages may be out by R047 for each page; the sawn length is checked first, by R097."""
    part, _ = BEAMS["strips"]
    cover = " ".join(laid_cover(part).split())
    # R049 0.4 mm a mark, R047 0.5 mm a page laid by hand.
    assert "1 to 5 on A: must read 1960.0, accept 1958.2 to 1961.8 mm" in cover
    assert "END 0 to 5 on A: must read 1980.0, accept 1979.1 to 1980.9 mm" in cover
    assert "Measure the tube: must read 2000.0, accept 1999.2 to 2000.8 mm. If it is out" in cover
    joined = folded.printed(job_of(part, all_pages=True), part)[0].words
    assert "1 to 5 on A: must read 1960.0, accept 1959.2 to 1960.8 mm" in " ".join(joined.split())


def laid_cover(part):
    """The words of a print's cover."""
    return folded.printed(job_of(part), part)[0].words


def test_a_line_on_a_slanting_end_is_refused():
    """Where a group of A begins before the steep end 0 of C does, no line square round the tube is free."""
    part = tube_bench.tube(
        SQUARE,
        tube_bench.holes("a", NO_7, [60, 130, 200], face="A"),
        tube_bench.holes("c", NO_7, [900], face="C"),
        length=1000,
        mitres=(Mitre.on("A", Fraction(161, 2)), None),
    )
    facts = tube_facts(job_of(part), part, opposite=False, corrected=True)
    assert stretches(facts.stack, 200.0, "mm") is None
    assert stretches(facts.stack, 250.0, "mm") is not None
    folded.check(job_of(part), part, [Strip(SQUARE, "A"), Strip(SQUARE, "C")])


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(cases())
def test_stretches_of_any_tube_show_all_once_within_their_width(case):
    """Windows are as wide as asked at most, each mark is whole in one, lines lie before all marks."""
    job, part = case
    facts = tube_facts(job, part, opposite=False, corrected=True)
    for wide in (180.0, 250.0, 400.0):
        found = stretches(facts.stack, wide, job.unit)
        if found is None:
            continue
        assert [one.line for one in found] == sorted({one.line for one in found})
        assert found[0].line == 0
        marks = [p.mark for one in found for s in one.stack.standing for p in s.piece.punches]
        assert len(marks) == len({*marks}) == len(part.marks)
        for one in found:
            assert one.window.width <= wide + 1e-6
            for (x, y), dia in one.stack.punches():
                assert one.window.left <= x - dia / 2 <= x + dia / 2 <= one.window.right
                assert not one.line or x - dia / 2 - 1 > one.line
                assert one.window.bottom <= y <= one.window.top


@pytest.mark.parametrize("paper", ["letter", "A4", "A5"])
@pytest.mark.parametrize("case", BEAMS)
def test_pages_are_clear_whatever_the_names(case, paper):
    """With names of 60 letters no word lies on a mark, on the bold line or on another word."""
    part = replace(BEAMS[case][0], name="W" * 60, used_for="W" * 60, revision="W" * 20)
    job = replace(job_of(part), name="W" * 60)
    job = replace(job, printing=replace(job.printing, paper=PAPERS.get(paper, A5)))
    pages = tube_template_pages(job, part)
    assert any(re.search("bold line", str(page.marks)) for page in pages)
    for page in pages:
        assert covered(page) == []
