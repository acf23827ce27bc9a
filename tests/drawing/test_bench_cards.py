"""Bench cards: one for every part and hand, true, legible, whole, however extreme the names."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.drawing.bench_cards import bench_pages
from nestkit.drawing.bench_rows import SIGNED_OFF
from nestkit.drawing.bench_steps import sizes
from nestkit.drawing.marking_out import drilled
from nestkit.drawing.model import Inset, Text
from nestkit.drawing.record import dump, record
from nestkit.job.model import Job
from nestkit.job.reader import read_job, read_text
from nestkit.writers.pdf import pdf_bytes
from tests.drawing.legible import check_legible, continued, on_paper, texts

SAMPLES = Path(__file__).resolve().parent.parent.parent / "sample_parts"
GOLDEN = Path(__file__).parent.parent / "golden"

JOB = """
job = "cards"
unit = "{unit}"
date = 2026-03-02
[cutting]
how = "{how}"
kerf = "3 mm"
[[sheet]]
name = "s"
material = "acrylic"
thickness = "3 mm"
sold_as = "1/8 in"
size = ["3000 mm", "2000 mm"]
[[panel]]
name = "plate"
for = "bench"
material = "acrylic"
thickness = "3 mm"
size = ["{width} mm", "{height} mm"]
quantity = 2
opposite_hand = 1
{more}
[[panel.holes]]
name = "g"
drill = "5.5 mm"
grid = {{ start = ["6 mm", "6 mm"], columns = {columns}, rows = {rows}, pitch = ["{px} mm", "{py} mm"] }}
"""


def job(
    *,
    unit: str = "mm",
    how: str = "saw",
    size: tuple[float, float] = (300, 200),
    grid: tuple[int, int] = (2, 2),
    more: str = "",
) -> Job:
    """A job of one plate with a grid of holes."""
    (width, height), (columns, rows) = size, grid
    px, py = ((side - 12) / max(1, n - 1) for side, n in zip(size, grid, strict=True))
    text = JOB.format(
        unit=unit, how=how, width=width, height=height, more=more, columns=columns, rows=rows, px=px, py=py
    )
    return read_text(text, Path())


def printed(job: Job) -> list[str]:
    """The words of every card as pdfium reads them."""
    document = pypdfium2.PdfDocument(pdf_bytes(bench_pages(job), title="x"))
    pages = [" ".join(page.get_textpage().get_text_range().split()) for page in document]
    document.close()
    return pages


@cache
def boat() -> tuple[Job, tuple[str, ...]]:
    """The sample with the words of its cards."""
    read = read_job(SAMPLES / "solar_boat.toml")
    return read, tuple(printed(read))


def test_every_part_and_hand_has_its_card():
    """pdfium reads one page for each part and hand, by bench, with hand, copies, sizes and page in words."""
    job, pages = boat()
    wanted = [
        (panel, opposite)
        for panel in sorted(job.panels, key=lambda p: p.used_for)
        for opposite in panel.hands
    ]
    assert len(pages) == len(wanted)
    for number, (page, (panel, opposite)) in enumerate(zip(pages, wanted, strict=True), 1):
        hand = "EITHER HAND" if panel.either_hand else "OPPOSITE HAND" if opposite else "AS DRAWN"
        assert page.startswith(f"{panel.name} {hand}"), page
        assert f"For {panel.used_for}" in page
        assert "THIS FACE UP. Not to scale: use the template." in page
        assert "DATUM" in page
        assert "2026-03-02" in page
        assert job.name in page
        assert page.endswith(f"page {number} of {len(wanted)}")
        for name, nominal in sizes(panel, job.unit):
            assert f"{name}: {nominal}" in page


def test_the_cards_drill_every_hole_once():
    """Over a card the holes of its final drills sum to the panel's holes to drill by hand."""
    job, pages = boat()
    for panel in job.panels:
        for page in (p for p in pages if p.startswith(f"{panel.name} ")):
            counts = re.findall(r"(?:Drill|hole saw) [^:]*?: (\d+) holes?: ", page)
            assert sum(map(int, counts)) == len(drilled(job, panel)), panel.name


def test_made_copies_are_said_with_spares():
    """What to make stands beside the hand, spares and those that are laid only if there is room."""
    _, pages = boat()
    assert any(p.startswith("battery cover AS DRAWN · MAKE 2 + 1 spare") for p in pages)
    assert any(p.startswith("spray guard AS DRAWN · MAKE 2 + ") for p in pages)
    assert any(p.startswith("console side OPPOSITE HAND · MAKE 1") for p in pages)


def test_cautions_are_those_of_the_material_and_the_footer_defers():
    """Plastics, metal and wood have their own; none for the laser; every page defers to the shop's rules."""
    _, pages = boat()
    cards = {name: next(p for p in pages if p.startswith(name)) for name in ("console lid", "motor", "seat")}
    assert "No cutting oil" in cards["console lid"]
    assert "Clamp thin sheet" in cards["motor"]
    assert "Dust extraction" in cards["seat"]
    assert not any("laser polycarbonate" in p for p in pages)
    assert all("Follow the shop's rules" in p for p in pages)


def test_parts_of_no_bench_come_last():
    """Cards are sorted by bench, then in the job's order."""
    one = job()
    panel = one.panels[0]
    names = [("c", ""), ("b", "z"), ("a", "z"), ("d", "hull")]
    panels = tuple(replace(panel, name=n, used_for=f, opposite_hand=0) for n, f in names)
    titles = [page.title for page in bench_pages(replace(one, panels=panels))]
    assert titles == ["bench card: d", "bench card: b", "bench card: a", "bench card: c"]


def test_one_card_serves_both_hands_of_a_part_with_like_faces():
    """Where the opposite hand is the part turned over there is one card, for all copies."""
    pages = printed(job(more='faces = "alike"'))
    assert len(pages) == 1
    assert pages[0].startswith("plate EITHER HAND, FACES ALIKE · MAKE 3")


def test_what_wants_a_trained_hand_stands_in_a_heavy_frame():
    """Each marked step has the words and a heavy frame around its text."""
    page = bench_pages(job())[0]
    rows = [
        m for m in page.marks if isinstance(m, Inset) and any(t == SIGNED_OFF for t, _ in texts(m.drawing))
    ]
    assert len(rows) == 1
    frames = [m.bounds for m in rows[0].drawing.marks if not isinstance(m, Text) and m.layer == "HEAVY"]
    assert len(frames) == 1
    assert all(frames[0].grown(-0.3).meets(box) for _, box in texts(rows[0].drawing))
    assert any(text.startswith("Saw to") for text, _ in texts(rows[0].drawing))


@pytest.mark.parametrize("sample", ["solar_boat", "rescue_float"])
def test_the_samples_are_legible(sample):
    """Each card of the samples is one page without text over text; all steps in 4 mm type or more."""
    read = read_job(SAMPLES / f"{sample}.toml")
    pages = bench_pages(read)
    assert len(pages) == sum(len(p.hands) for p in read.panels)
    for page in pages:
        check_legible(page)
        rows = [m.drawing.marks for m in page.marks if isinstance(m, Inset)]
        steps = [m.height for row in rows for m in row if isinstance(m, Text) and m.text.endswith(".")]
        assert min(steps) >= 4.0


@given(
    columns=st.integers(1, 12),
    rows=st.integers(1, 8),
    size=st.tuples(st.floats(60, 1500), st.floats(30, 1500)),
    paper=st.sampled_from(["letter", "A4", "A3", "A5"]),
    unit=st.sampled_from(["in", "mm"]),
    how=st.sampled_from(["saw", "jigsaw", "router"]),
)
@settings(max_examples=30, deadline=None)
def test_any_part_on_any_paper_is_legible(columns, rows, size, paper, unit, how):
    """Whatever its size, its holes and the paper: no text over text, none outside the margin."""
    made = job(unit=unit, how=how, size=(round(size[0], 1), round(size[1], 1)), grid=(columns, rows))
    for page in bench_pages(on_paper(made, paper)):
        check_legible(page)


@pytest.mark.parametrize("paper", ["letter", "A4", "A5", "A6"])
@pytest.mark.parametrize("letter", ["W", "面", '"'])
def test_the_longest_names_are_legible_and_whole(letter, paper):
    """Names, bench, revision and job of 60 letters each stand on the page, none cut short."""
    made = job(grid=(4, 3), more='revision = "R"')
    long = letter * 60
    panel = replace(made.panels[0], name=long, used_for=long, revision=long, material="acrylic " + "Q" * 50)
    made = replace(on_paper(made, paper), name=long, panels=(panel,))
    pages = bench_pages(made)
    for page in pages:
        check_legible(page)
        assert not any("…" in text for text, _ in texts(page) if not continued(text))
    said = "".join(text for page in pages for text, _ in texts(page))
    assert said.count(letter) >= 4 * 60 * 2


def test_a_page_off_a_roll_is_as_long_as_the_usual_paper():
    """On a roll a card is as wide as the roll and as long as a letter or an A4; lines stay readable."""
    page = bench_pages(on_paper(job(), "roll 24 in"))[0]
    assert (page.width, page.height) == (pytest.approx(609.6), 297.0)
    assert max(box.right for _, box in texts(page)) < 265
    check_legible(page)


def test_eighty_holes_number_the_first_the_last_and_some_fifths():
    """Too dense for all numbers, a grid shows those it has room for, and says where the others are."""
    pages = printed(job(size=(150, 100), grid=(10, 8)))
    words = pages[0].split(" Steps: ")[0]
    numbers = [w for w in words.split() if w.isdigit() and w not in ("2", "150", "100", "3")]
    assert numbers[:2] == ["1", "80"]
    assert all(int(n) % 5 == 0 for n in numbers[2:])
    # In the middle of the grid there is room for none; at its edges there is.
    assert {"5", "10", "75"} <= set(numbers)
    assert "Numbers missing here are on the template." in words
    assert "Drill 5.5 mm: 80 holes: 1 to 80" in pages[0]


def test_steps_that_do_not_fit_go_on_a_second_page():
    """A part with many drills takes two pages: every step once, in order, the second named as continued."""
    groups = "".join(
        f'[[panel.holes]]\nname = "h{i}"\ndrill = "{3 + i / 5:.1f} mm"\nat = [["{20 + 8 * i} mm", "60 mm"]]\n'
        for i in range(25)
    )
    made = job(more=groups)
    made = replace(made, panels=(replace(made.panels[0], opposite_hand=0),))
    first, second = bench_pages(made)
    assert any(t == "plate (continued)" for t, _ in texts(second))
    boxes = [m.drawing for page in (first, second) for m in page.marks if isinstance(m, Inset)]
    numbers = [
        int(m.text) for b in boxes for m in b.marks if isinstance(m, Text) and m.bold and m.height == 4.6
    ]
    assert numbers == list(range(1, len(numbers) + 1))
    for page in (first, second):
        check_legible(page)


@pytest.mark.parametrize("opposite", [False, True])
def test_the_picture_is_the_part_in_its_hand(opposite):
    """Every hole lies where the part of that hand has it, all at one scale, the datum at the lower left."""
    made = job(size=(300, 200), more='[[panel.notches]]\ncorner = "top right"\nsize = ["40 mm", "30 mm"]')
    page = bench_pages(made)[1 if opposite else 0]
    view = made.panels[0].mirrored() if opposite else made.panels[0]
    pen = record(page)
    edge = next(points for layer, points, closed in pen.paths if layer == "PART_EDGE" and len(points) == 6)
    left, bottom = min(p.x for p in edge), min(p.y for p in edge)
    scale = (max(p.x for p in edge) - left) / 300
    circles = [(c, r) for layer, c, r in pen.circles if layer == "DRILLED_HOLE"]
    for (centre, radius), hole in zip(circles, view.holes, strict=True):
        assert centre.x - left == pytest.approx(hole.at.x * scale)
        assert centre.y - bottom == pytest.approx(hole.at.y * scale)
        assert radius == pytest.approx(hole.dia / 2 * scale)
    corner = next(points for layer, points, _ in pen.paths if layer == "HEAVY")[1]
    assert left - 2 < corner.x < left
    assert bottom - 2 < corner.y < bottom


@pytest.mark.parametrize(
    ("size", "more", "names"),
    [
        ((300, 400), "", ["Width", "Height", "1st diagonal", "2nd diagonal"]),
        ((300, 400), 'corner_radius = "5 mm"', ["Width", "Height", "Hole 1 to 4"]),
    ],
)
def test_what_is_measured_suits_the_outline(size, more, names):
    """A true rectangle has its diagonals, any other part two holes far apart; all with the nominal size."""
    made = job(size=size, more=more)
    found = sizes(made.panels[0], "mm")
    assert [name for name, _ in found] == names
    if not more:
        assert [nominal for _, nominal in found] == ["300 mm", "400 mm", "500 mm", "500 mm"]


def test_a_disc_is_measured_across_twice():
    """The sample's disc has its diameter twice, and two holes of its circle."""
    across, crosswise, holes = sizes(read_job(SAMPLES / "rescue_float.toml").panels[0], "mm")
    assert (across, crosswise) == (("Diameter", "220 mm"), ("Crosswise", "220 mm"))
    assert re.fullmatch(r"Hole \d to \d", holes[0])
    assert holes[1] == "180 mm"


def test_holes_that_are_cut_have_no_cross():
    """A hole to drill has a cross, one that the router cut has none, and the card says so."""
    more = '[[panel.holes]]\nname = "fine"\ndrill = "2 mm"\nat = [["150 mm", "100 mm"]]'
    made = job(how="router", more=more)
    pages = printed(made)
    assert "With a cross: drill. Without: cut already." in pages[0]
    pen = record(bench_pages(made)[0])
    fine = [points for layer, points, _ in pen.paths if layer == "FINE"]
    for _, centre, radius in pen.circles:
        cross = [
            p for p in fine if any(abs(q.x - centre.x) < radius + 1 and abs(q.y - centre.y) < 0.01 for q in p)
        ]
        assert bool(cross) is (radius < 0.5)


def test_golden_small_card():
    """The whole card of a small part, mark by mark, as golden/bench_card.txt has it."""
    made = job(size=(60, 40), grid=(2, 1), more='revision = "A"')
    made = replace(made, panels=(replace(made.panels[0], name="tag", opposite_hand=0),))
    (page,) = bench_pages(made)
    assert dump(page) == (GOLDEN / "bench_card.txt").read_text(encoding="utf-8")


def test_the_same_job_gives_the_same_bytes():
    """The cards are written twice alike."""
    read = read_job(SAMPLES / "rescue_float.toml")
    assert pdf_bytes(bench_pages(read), title="x") == pdf_bytes(bench_pages(read), title="x")
