"""Cards of tubes: one for every tube and hand with a hole or a mitre, true, legible, whole."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path as FilePath

import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.drawing.bench_cards import bench_pages
from nestkit.drawing.bench_rows import SIGNED_OFF
from nestkit.drawing.model import Inset, Path
from nestkit.drawing.tube_card import tube_card_pages
from nestkit.drawing.tube_template import has_template
from nestkit.job.model import Job
from nestkit.job.pairs import to_mark
from nestkit.job.reader import read_job
from nestkit.make import make
from nestkit.writers.job_files import pack_files
from nestkit.writers.pdf import pdf_bytes
from tests.drawing import tube_bench
from tests.drawing.legible import check_legible, continued, on_paper, texts
from tests.drawing.tube_bench import M5, NO_2, NO_7, QUARTER

SAMPLES = FilePath(__file__).resolve().parent.parent.parent / "sample_parts"
EVERY = [tube_bench.frame, tube_bench.rail, tube_bench.spacer, tube_bench.post, tube_bench.pin]
EVERY += [tube_bench.heel, tube_bench.flat]


def printed(job: Job) -> list[str]:
    """The words of every card of a tube as pdfium reads them."""
    document = pypdfium2.PdfDocument(pdf_bytes(tube_card_pages(job), title="x"))
    pages = [" ".join(page.get_textpage().get_text_range().split()) for page in document]
    document.close()
    return pages


@cache
def boat() -> tuple[Job, tuple[str, ...]]:
    """The sample with the words of its tubes' cards."""
    read = read_job(SAMPLES / "solar_boat.toml")
    return read, tuple(printed(read))


def numbers(said: str) -> list[int]:
    """The numbers of a list as people read it: ``1 to 3, 7`` is 1, 2, 3 and 7."""
    found = []
    for first, last in re.findall(r"(\d+)(?: to (\d+))?", said):
        found += range(int(first), int(last or first) + 1)
    return found


def drilled(words: str) -> list[tuple[str, int, str]]:
    """Every hole under its drill on a card: the drill, the number, from which sides."""
    found = []
    steps = re.findall(r"(?:Drill|hole saw) ([^:]*?): \d+ holes?: (.*?)(?= \d+ [A-Z]| TRAINED|$)", words)
    for drill, told in steps:
        for part in told.split("; "):
            listed, sides = part.split(" from ", 1)
            found += [(drill, number, sides) for number in numbers(listed)]
    return found


def test_every_tube_and_hand_with_something_to_mark_has_its_card():
    """pdfium reads one page each, by bench, with hand, copies, faces, length and page in words."""
    job, pages = boat()
    own = [t for t in job.tubes if t.holes or any(t.mitres)]
    wanted = [(t, hand) for t in sorted(own, key=lambda t: t.used_for) for hand in t.hands]
    assert len(pages) == len(wanted) == 10
    for number, (page, (tube, opposite)) in enumerate(zip(pages, wanted, strict=True), 1):
        hand = "OPPOSITE HAND" if opposite else "AS DRAWN"
        assert page.startswith(f"{tube.name} {hand} · MAKE "), page
        assert f"For {tube.used_for}" in page
        assert tube.section.words in page
        assert "END 0 AT YOUR LEFT. Not to scale: use the template." in page
        assert "2026-03-02" in page
        assert job.name in page
        assert page.endswith(f"tubes: page {number} of {len(wanted)}")


def test_what_is_only_cut_to_length_has_no_card():
    """The boat's spacers, 40 of them, and its goods off a roll have none."""
    job, pages = boat()
    plain = {t.name for t in job.tubes if not has_template(t)}
    assert {"spacer", "hatch edge", "cable port edge"} <= plain
    assert not any(page.startswith(tuple(plain)) for page in pages)


def test_a_tube_that_is_not_made_has_no_card():
    """Of quantity 0 without other copies there is nothing to tick."""
    job = tube_bench.job(tube_bench.frame(quantity=0))
    assert tube_card_pages(job) == ()
    assert len(tube_card_pages(tube_bench.job(tube_bench.frame(quantity=0, opposite_hand=1)))) == 1


def test_every_hole_stands_under_its_drill_once():
    """On each card of the boat each hole's number is under its own drill, from the faces it goes into."""
    job, pages = boat()
    own = [t for t in job.tubes if has_template(t)]
    wanted = [(t, hand) for t in sorted(own, key=lambda t: t.used_for) for hand in t.hands]
    for page, (tube, opposite) in zip(pages, wanted, strict=True):
        view = tube.mirrored() if opposite else tube
        found = drilled(page)
        # The rails' holes for the deck are drilled through it.
        own = to_mark(job, tube, opposite).holes
        assert sorted(number for _, number, _ in found) == [hole.number for hole in own]
        for drill, number, sides in found:
            hole = view.holes[number - 1]
            assert drill.startswith(hole.drill.name)
            marks = [mark for mark in view.marks if mark.number == number]
            told = [m.spot.face or f"{float(m.spot.at_deg):g}°" for m in marks]
            assert sides == " and from ".join(told)


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("made", EVERY)
def test_every_hole_of_any_section_stands_under_its_drill_once(made, unit):
    """Box, round tube, rod, angle and strip in inches and millimetres, both hands: each number once."""
    part = made(opposite_hand=1)
    pages = {}
    for page in tube_card_pages(tube_bench.job(part, unit=unit)):
        pages.setdefault(page.title, []).extend(text for text, _ in texts(page))
    assert len(pages) == len(part.hands)
    for words in pages.values():
        # Steps wrap: a line that begins anew with a large word ends one.
        found = drilled(" ".join(words))
        assert sorted(n for _, n, _ in found) == [hole.number for hole in part.holes]


def test_a_gang_is_named_as_the_marking_out_names_it():
    """The card sends to the gang of the same number, face by face; a tube of no gang names none."""
    _, pages = boat()
    frame = next(p for p in pages if p.startswith("deck frame"))
    assert "Faces A, C: first MARK TOGETHER 1. Face B: first MARK TOGETHER 2. See the marking-out." in frame
    alone = printed(tube_bench.job(tube_bench.spacer()))[0]
    assert "MARK TOGETHER" not in alone
    assert "Or use the marking-out table." in alone


def test_pages_of_panels_and_tubes_are_counted_apart():
    """Both stand in one file: those of tubes say that they are, so no number is there twice."""
    job, pages = boat()
    of_panels = [
        text for page in bench_pages(job) for text, _ in texts(page) if re.match(r"page \d+ of", text)
    ]
    of_tubes = [page.rpartition(" tubes: ")[2] for page in pages]
    assert of_panels[0] == f"page 1 of {len(of_panels)}"
    assert of_tubes == [f"page {n} of {len(pages)}" for n in range(1, len(pages) + 1)]


def test_the_file_of_bench_cards_has_panels_first_then_tubes():
    """The pack of the battery bench holds the cards of its panels, then those of its angle, each counted."""
    job, _ = boat()
    own = [part for part in job.parts if part.used_for == "battery"]
    files = dict(pack_files(job, make(job, effort="quick").layout, own))
    document = pypdfium2.PdfDocument(files["bench_cards.pdf"])
    words = [" ".join(page.get_textpage().get_text_range().split()) for page in document]
    document.close()
    panels = len(words) - 2
    assert words[panels].startswith("battery angle AS DRAWN")
    for n, page in enumerate(words[:panels], 1):
        assert page.endswith(f". page {n} of {panels}")
    for n, page in enumerate(words[panels:], 1):
        assert page.endswith(f". tubes: page {n} of 2")


def test_the_sample_is_legible_on_one_page_each():
    """Each card of the boat's tubes is one page on letter and A4; all steps in 4 mm type or more."""
    read, _ = boat()
    for paper in ("letter", "A4"):
        pages = tube_card_pages(on_paper(read, paper))
        assert len({page.title for page in pages}) == len(pages)
        for page in pages:
            check_legible(page)


@pytest.mark.parametrize("paper", ["letter", "A4", "A5", "A6", "roll 24 in"])
@pytest.mark.parametrize("made", EVERY)
def test_any_section_on_any_paper_is_legible(made, paper):
    """Whatever the section and the paper: no text over text, none outside the margin, nothing cut short."""
    job = on_paper(tube_bench.job(made(opposite_hand=2)), paper)
    for page in tube_card_pages(job):
        check_legible(page)
        assert not any("…" in text for text, _ in texts(page) if not continued(text))


@pytest.mark.parametrize("paper", ["letter", "A4", "A5", "roll 24 in"])
@pytest.mark.parametrize("letter", ["W", "面", '"'])
def test_the_longest_names_are_legible_and_whole(letter, paper):
    """Names, bench, revision and job of 60 letters each stand on the page, none cut short."""
    long = letter * 60
    part = replace(
        tube_bench.frame(), name=long, used_for=long, revision=long, material="aluminium " + "Q" * 50
    )
    job = replace(on_paper(tube_bench.job(part), paper), name=long)
    pages = tube_card_pages(job)
    for page in pages:
        check_legible(page)
        assert not any("…" in text for text, _ in texts(page) if not continued(text))
    said = "".join(text for page in pages for text, _ in texts(page))
    assert said.count(letter) >= 4 * 60


def test_a_page_off_a_roll_is_as_long_as_the_usual_paper():
    """On a roll a card is as wide as the roll and as long as a letter or an A4; lines stay readable."""
    page = tube_card_pages(on_paper(tube_bench.job(tube_bench.frame(), unit="mm"), "roll 24 in"))[0]
    assert (page.width, page.height) == (pytest.approx(609.6), 297.0)
    assert max(box.right for _, box in texts(page)) < 265


@given(
    count=st.integers(1, 40),
    length=st.integers(30, 4000),
    faces=st.lists(st.sampled_from("ABCD"), min_size=1, max_size=4, unique=True),
    through=st.booleans(),
    paper=st.sampled_from(["letter", "A4", "A5"]),
    unit=st.sampled_from(["in", "mm"]),
    opposite=st.booleans(),
)
@settings(max_examples=25, deadline=None)
def test_any_tube_on_any_paper_is_legible_and_whole(count, length, faces, through, paper, unit, opposite):
    """Rows on any faces: no text over text, each hole once under its drill, each step once."""
    groups = [
        tube_bench.holes(
            f"row {face}",
            (NO_2, NO_7, M5, QUARTER)[i],
            [length * (n + 1) / (count + 1) for n in range(count)],
            face=face,
            through=through,
        )
        for i, face in enumerate(faces)
    ]
    part = tube_bench.tube(
        tube_bench.SQUARE, *groups, length=length, quantity=0 if opposite else 2, opposite_hand=int(opposite)
    )
    job = on_paper(tube_bench.job(part, unit=unit), paper)
    pages = tube_card_pages(job)
    for page in pages:
        check_legible(page)
    words = " ".join(text for page in pages for text, _ in texts(page))
    assert sorted(n for _, n, _ in drilled(words)) == [hole.number for hole in part.holes]


def test_what_wants_a_trained_hand_stands_in_a_heavy_frame():
    """A saw that is not named as a hand's has the words and the frame, also for the mitre; a hacksaw none."""
    job = tube_bench.job(tube_bench.post())
    assert printed(job)[0].count(SIGNED_OFF) == 2
    group = job.bar_groups[0]
    hack = replace(job, bar_groups=(replace(group, way=replace(group.way, name="hacksaw")),))
    assert SIGNED_OFF not in printed(hack)[0]
    for page in tube_card_pages(job):
        for row in (m.drawing for m in page.marks if isinstance(m, Inset)):
            words = [text for text, _ in texts(row)]
            framed = any(isinstance(m, Path) and m.closed and m.layer == "HEAVY" for m in row.marks)
            if any(text.startswith(("Saw ", "Drill ", "Pilot ", "Deburr ")) for text in words):
                assert framed == any(text.startswith("Saw ") for text in words)


def test_the_same_job_gives_the_same_bytes():
    """The cards are written twice alike."""
    read, _ = boat()
    assert pdf_bytes(tube_card_pages(read), title="x") == pdf_bytes(tube_card_pages(read), title="x")
