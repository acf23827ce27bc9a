"""The printed saw plan: every cut of every sheet, equal sheets once, nothing over anything."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path as FilePath

import pypdfium2
import pytest

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Fill, Inset, Path, Text
from nestkit.drawing.saw_picture import piece_at_saw
from nestkit.drawing.saw_plan import saw_plan_pages
from nestkit.estimate.saw_repeats import folded
from nestkit.estimate.saw_steps import saw_steps
from nestkit.estimate.saw_words import words_of
from nestkit.geometry.points import Point, Rect
from nestkit.job.model import Paper
from nestkit.job.reader import read_job, read_text
from nestkit.layout.lay_out import lay_out
from nestkit.trade.materials import density
from nestkit.writers.pdf import pdf_bytes
from tests.laid_roll import laid, liner
from tests.many_cuts import OFF_A_ROLL, ON_A_SHEET

SAMPLES = FilePath(__file__).resolve().parent.parent.parent / "sample_parts"

ALIKE = """
job = "alike"
unit = "mm"
[cutting]
how = "saw"
kerf = 3
[[sheet]]
name = "MDF {name}"
material = "MDF"
thickness = 18
size = [2400, 1200]
[[panel]]
name = "shelf {name}"
for = "stand {name}"
material = "MDF"
thickness = 18
size = [1190, 1190]
quantity = 6
"""


@pytest.fixture(scope="module")
def boat():
    """The boat, read and laid out."""
    job = read_job(SAMPLES / "solar_boat.toml")
    return job, lay_out(job)


def words(pages) -> str:
    """All text of the pages as pdfium reads it."""
    document = pypdfium2.PdfDocument(pdf_bytes(pages, title="saw plan"))
    text = " ".join(page.get_textpage().get_text_range() for page in document)
    document.close()
    return " ".join(text.split())


def repeats_of(layout, unit="in"):
    """Return what a plan says of each sawn sheet, sheet after sheet."""
    return [
        (sheet, folded(saw_steps(sheet, laid.group.way.kerf, unit)))
        for laid in layout.groups
        if laid.group.way.edge_to_edge
        for sheet in laid.sheets
    ]


def test_every_cut_stands_in_the_plan_in_its_order(boat):
    """pdfium finds each sentence of each sawn sheet, one after the other."""
    job, layout = boat
    text = words(saw_plan_pages(job, layout))
    at = 0
    for _, repeats in repeats_of(layout):
        for said in words_of(repeats, job.unit):
            for words_said in filter(None, (said.what, said.setting, said.times, said.how, *said.gives)):
                at = text.index(words_said, at)
    assert at > 0


def test_equal_sheets_are_said_once():
    """Three sheets cut alike have one plan that names all three, and a warning for their weight."""
    job = read_text(ALIKE.format(name="a"), FilePath())
    text = words(saw_plan_pages(job, lay_out(job)))
    assert "sheets 1 to 3, all alike" in text
    assert text.count("Cut 1:") == 1
    assert "Two people at cuts 1, 2: the sheet weighs about 38.9 kg." in text
    assert "stand a after MDF a, sheets 1 to 3 (saw)" in text


def test_a_job_without_a_saw_has_no_plan():
    """Nothing is printed for a jigsaw or a router."""
    job = read_job(SAMPLES / "rescue_float.toml")
    assert saw_plan_pages(job, lay_out(job)) == ()


def placed_texts(drawing, at, scale=1.0, room=None):
    """Yield every text of a drawing, also within its pictures, as it stands on the page, and its room."""
    room = room or Rect(0.0, 0.0, drawing.width, drawing.height)
    for mark in drawing.marks:
        if isinstance(mark, Text):
            box = Rect(*(side * scale for side in mark.bounds))
            yield Rect(box.left + at.x, box.bottom + at.y, box.right + at.x, box.top + at.y), room, mark
        elif isinstance(mark, Inset):
            inner = Point(at.x + mark.at.x * scale, at.y + mark.at.y * scale)
            seen = mark.bounds
            inner_room = Rect(*(side * scale for side in seen))
            inner_room = Rect(
                inner_room.left + at.x,
                inner_room.bottom + at.y,
                inner_room.right + at.x,
                inner_room.top + at.y,
            )
            yield from placed_texts(mark.drawing, inner, scale * mark.scale_x, inner_room)


PAPERS = {
    "letter": Paper("letter", 215.9, 279.4),
    "A4": Paper("A4", 210.0, 297.0),
    "A5": Paper("A5", 148.0, 210.0),
    "roll 24 in": Paper("roll 24 in", 609.6, None),
    "roll 150 mm": Paper("roll 150 mm", 150.0, None),
    "smallest": Paper("100 x 100 mm", 100.0, 100.0),
}


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", ["a", "W" * 54])
def test_texts_stay_on_the_page_and_apart(boat, paper, name):
    """Whatever the names and the paper: no text over another, none cut off, also not in the pictures."""
    long = read_text(ALIKE.format(name=name), FilePath())
    for job, layout in (boat, (long, lay_out(long))):
        on_paper = replace(job, printing=replace(job.printing, paper=PAPERS[paper]))
        for page in saw_plan_pages(on_paper, layout):
            boxes = list(placed_texts(page, Point(0.0, 0.0)))
            for i, (box, room, mark) in enumerate(boxes):
                assert room.left <= box.left, mark
                assert box.right <= room.right, mark
                assert room.bottom <= box.bottom, mark
                assert box.top <= room.top, mark
                assert not any(box.meets(other) for other, _, _ in boxes[:i]), mark


def test_settings_are_large(boat):
    """On letter paper each setting stands in bold type of 6 mm at least, most of them in 8 mm."""
    job, layout = boat
    sizes = [
        mark.height
        for page in saw_plan_pages(job, layout)
        for mark in page.marks
        if isinstance(mark, Text) and mark.text.startswith(("Fence ", "Stop ", "Line "))
    ]
    assert len(sizes) == sum(len(repeats) for _, repeats in repeats_of(layout))
    assert min(sizes) >= 6.0
    assert sum(size == 8.0 for size in sizes) > len(sizes) / 2


def test_two_people_are_asked_for_only_while_a_piece_is_heavy():
    """MDF of 18 mm, 750 kg/m3: the sheet of 38.9 kg, then the pieces above 20 kg, and no lighter one."""
    job = read_text(ALIKE.format(name="a").replace("quantity = 6", "quantity = 1"), FilePath())
    layout = lay_out(job)
    material = density("MDF")
    steps = saw_steps(layout.groups[0].sheets[0], job.ways[0].kerf, "mm")
    kg = [
        float((s.piece[2] - s.piece[0]) * (s.piece[3] - s.piece[1]) * 18 * material.density) / 1e9
        for s in steps
    ]
    text = words(saw_plan_pages(job, layout))
    heavy = [w for w in kg if w > 20.0]
    assert len(kg) > len(heavy) > 0
    assert text.count("Two people: about") == len(heavy)
    for weight in heavy:
        assert f"Two people: about {weight:.1f} kg." in text


def test_sheets_that_are_alike_name_no_copies():
    """One plan for three sheets tells nobody to write the first sheet's copy numbers on all of them."""
    job = read_text(ALIKE.format(name="a"), FilePath())
    text = words(saw_plan_pages(job, lay_out(job)))
    assert 'write "shelf a" on each' in text
    assert "copy" not in text


def test_the_last_page_says_when_a_bench_has_everything(boat):
    """Of all materials, whoever cuts them: the boat's console also waits for the sponsor's router."""
    job, layout = boat
    pages = saw_plan_pages(job, layout)
    last = words(pages[-1:])
    assert last.startswith("Who can start when")
    benches = {p.used_for for p in job.panels if p.used_for}
    for bench in benches:
        wanted = {
            (s.stock.name, g.group.way.how)
            for g in layout.groups
            for s in g.sheets
            for p in s.parts
            if p.panel.used_for == bench and p.panel.name != "spray guard" and p.panel.name != "battery cover"
        }
        said = last.partition(f" {bench} after ")[2]
        said = min((said.partition(f" {other} after ")[0] for other in benches if other != bench), key=len)
        for stock, how in wanted:
            assert stock in said
            assert f"({how})" in said
    # A material of several sheets has a page of its own, since some bench needs several materials.
    assert "Here only parts of plywood birch count" in words(pages)


def test_a_bench_whose_part_found_no_sheet_is_not_called_complete():
    """What was left out of the layout is said where the bench looks, and a spare is no reason to wait."""
    text = ALIKE.format(name="a").replace(
        "size = [2400, 1200]", "size = [2400, 1200]\non_hand = 2\nbuy = false"
    )
    job = read_text(text, FilePath())
    last = words(saw_plan_pages(job, lay_out(job))[-1:])
    assert "2 parts found no sheet: it cannot be finished." in last
    job = read_text(ALIKE.format(name="a").replace("quantity = 6", "quantity = 2\nspare = 4"), FilePath())
    last = words(saw_plan_pages(job, lay_out(job))[-1:])
    assert "stand a after MDF a, sheet 1 (saw)" in last


def test_the_piece_at_the_saw_shows_fence_stop_or_line_at_its_edge(boat):
    """A black bar or block lies outside the edge that is named; a line has none."""
    _, layout = boat
    seen = set()
    for _, repeats in repeats_of(layout):
        for repeat in repeats:
            step = repeat.first
            marks = piece_at_saw(repeat, "14 3/4 in").marks
            black = [m.bounds.centre for m in marks if isinstance(m, Fill) and m.grey == 0.0]
            (piece,) = (m.bounds for m in marks if isinstance(m, Path) and m.layer is Layer.HEAVY)
            seen.add((step.held, step.edge))
            assert len(black) == (step.held != "line")
            for at in black:
                beyond = {
                    "left": piece.left - at.x, "right": at.x - piece.right,
                    "lower": piece.bottom - at.y, "upper": at.y - piece.top,
                }[step.edge]  # fmt: skip
                assert 0 < beyond < 3.0
    assert {("fence", "lower"), ("stop", "left"), ("line", "left"), ("line", "lower")} <= seen


def test_waste_offcuts_and_parts_look_different_without_colour(boat):
    """Waste is hatched closer than what is kept, a finished part is grey, all else is white."""
    _, layout = boat
    looks = {}
    for _, repeats in repeats_of(layout):
        for repeat in (r for r in repeats if r.times == 1):
            marks = piece_at_saw(repeat, "1 in").marks
            hatched = sorted({round(m.bounds.left - m.bounds.bottom, 3) for m in marks if hatch_line(m)})
            greys = [m for m in marks if isinstance(m, Fill) and 0.0 < m.grey < 1.0]
            assert len(greys) == sum(g.done is not None for g in repeat.first.gained)
            for gained in repeat.first.gained:
                if not gained.parts:
                    pitch = min(b - a for a, b in pairwise(hatched))
                    looks.setdefault(gained.keep, set()).add(round(pitch, 3))
    assert max(looks[False]) * 2 < min(looks[True])


def hatch_line(mark) -> bool:
    """Say whether a mark is a line of a hatch."""
    return isinstance(mark, Path) and mark.layer is Layer.HATCH


def test_the_same_layout_gives_the_same_bytes(boat):
    """The plan is written twice alike."""
    assert pdf_bytes(saw_plan_pages(*boat), title="x") == pdf_bytes(saw_plan_pages(*boat), title="x")


@pytest.mark.parametrize("paper", PAPERS)
def test_a_piece_is_first_cut_off_the_roll(paper):
    """The cut before all others stands first, with its length in large; the texts stay apart."""
    for job, layout in (liner(), liner("saw", "0", 14)):
        on_paper = replace(job, printing=replace(job.printing, paper=PAPERS[paper]))
        pages = saw_plan_pages(on_paper, layout)
        text = words(pages)
        assert text.startswith("Saw liner, piece off the roll 24 in wide, cut off the roll at ")
        assert text.index("First: cut the piece off the roll.") < text.index("Cut 1: trim the piece")
        assert "sheet" not in text.replace("sheet fully supported", "")
        for page in pages:
            boxes = list(placed_texts(page, Point(0.0, 0.0)))
            for i, (box, room, mark) in enumerate(boxes):
                assert room.left <= box.left, mark
                assert box.right <= room.right, mark
                assert not any(box.meets(other) for other, _, _ in boxes[:i]), mark


@pytest.mark.parametrize("paper", ["letter", "A5", "smallest"])
@pytest.mark.parametrize("text", [ON_A_SHEET, OFF_A_ROLL])
def test_hundreds_of_equal_parts_take_a_few_pages(paper, text):
    """300 parts of a sheet, 400 off a roll: few pages, in type of the usual size, texts apart."""
    job, layout = laid(text)
    on_paper = replace(job, printing=replace(job.printing, paper=PAPERS[paper]))
    pages = saw_plan_pages(on_paper, layout)
    assert len(pages) <= (8 if paper == "letter" else 12)
    for page in pages:
        boxes = list(placed_texts(page, Point(0.0, 0.0)))
        for i, (box, room, mark) in enumerate(boxes):
            assert room.left <= box.left, mark
            assert box.right <= room.right, mark
            assert room.bottom <= box.bottom, mark
            assert not any(box.meets(other) for other, _, _ in boxes[:i]), mark
    if paper == "letter":
        large = [m for page in pages for m in page.marks if isinstance(m, Text) and " each" in m.text]
        assert any(m.height >= 6.0 and "pieces, 4 times each" in m.text for m in large)


def test_of_many_equal_strips_the_picture_shows_one_and_that_there_are_more():
    """Strip, an ellipsis, what is left: three boxes, two cuts; two strips are drawn one by one."""
    ((_, repeats),) = repeats_of(laid(ON_A_SHEET)[1], "mm")
    for repeat in repeats:
        marks = piece_at_saw(repeat, "98 mm").marks
        names = [m.text for m in marks if isinstance(m, Text)]
        cuts = [m for m in marks if isinstance(m, Path) and m.layer is Layer.SAW_CUT]
        assert ("…" in names) == (repeat.times > 2)
        assert len(cuts) == min(repeat.times, 2)
        assert repeat.lots[0].name in names


def test_a_part_as_large_as_the_piece_needs_no_cut_but_one():
    """Where the one part is the piece, only the cut off the roll is left, and the plan says so."""
    text = ALIKE.format(name="a").replace("[2400, 1200]", '[1190, "roll"]').replace("= 6", "= 1")
    job = read_text(text, FilePath())
    said = words(saw_plan_pages(job, lay_out(job)))
    assert "Length 1190 mm" in said
    assert "No more cuts: the part is the piece." in said


def test_what_many_pieces_become_goes_on_over_the_page():
    """Of sixty equal panels with names of their own cut at one setting each is told, none below the foot."""
    panel = '[[panel]]\nname = "shelf {} of the cabinet"\nmaterial = "MDF"\nthickness = 6\nsize = [50, 150]\n'
    text = (
        'job = "many names"\nunit = "mm"\n[cutting]\nhow = "saw"\nkerf = 3\nstages = 2\nfirst = "y"\n'
        '[[sheet]]\nname = "S"\nmaterial = "MDF"\nthickness = 6\nsize = [1600, 306]\n'
    ) + "".join(panel.format(i) for i in range(60))
    job = read_text(text, FilePath())
    pages = saw_plan_pages(job, lay_out(job, effort="quick"))
    told = " ".join(words(pages).split())
    assert all(f'"shelf {i} of the cabinet"' in told for i in range(60))
    for page in pages:
        texts = [m for m in page.marks if isinstance(m, Text)]
        foot = max(m.at.y for m in texts if m.text.startswith(("Follow the shop", "Guard and", "page ")))
        assert not [
            m.text for m in texts if m.at.y < foot and not m.text.startswith(("page", "Follow", "Guard"))
        ]
