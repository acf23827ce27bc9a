"""The printed saw plan: every cut of every sheet, equal sheets once, nothing over anything."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest

from nestkit.drawing.model import Text
from nestkit.drawing.saw_plan import saw_plan_pages
from nestkit.estimate.saw_steps import saw_steps, words_of
from nestkit.job.reader import read_job, read_text
from nestkit.layout.lay_out import lay_out
from nestkit.writers.pdf import pdf_bytes

SAMPLES = Path(__file__).resolve().parent.parent.parent / "sample_parts"

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


def test_every_cut_stands_in_the_plan_in_its_order(boat):
    """pdfium finds each sentence of each sawn sheet, one after the other."""
    job, layout = boat
    text = words(saw_plan_pages(job, layout))
    at = 0
    for laid in layout.groups:
        for sheet in laid.sheets if laid.group.way.edge_to_edge else ():
            for said in words_of(saw_steps(sheet, laid.group.way.kerf, job.unit), job.unit):
                for words_said in (said.what, said.setting, said.how, *said.gives):
                    at = text.index(words_said, at)
    assert at > 0


def test_equal_sheets_are_said_once():
    """Three sheets cut alike have one plan that names all three, and a warning for their weight."""
    job = read_text(ALIKE.format(name="a"), Path())
    text = words(saw_plan_pages(job, lay_out(job)))
    assert "sheets 1 to 3, all alike" in text
    assert text.count("Cut 1:") == 1
    assert "Two people at cuts 1 to 3: the sheet weighs about 38.9 kg." in text
    assert "stand a after MDF a, sheets 1 to 3 (saw)" in text


def test_a_job_without_a_saw_has_no_plan():
    """Nothing is printed for a jigsaw or a router."""
    job = read_job(SAMPLES / "rescue_float.toml")
    assert saw_plan_pages(job, lay_out(job)) == ()


@pytest.mark.parametrize("name", ["a", "W" * 52])
def test_texts_stay_on_the_page_and_apart(boat, name):
    """Whatever the names: no text over another, none over the page's edge."""
    long = read_text(ALIKE.format(name=name), Path())
    for job, layout in (boat, (long, lay_out(long))):
        for page in saw_plan_pages(job, layout):
            boxes = [m.bounds for m in page.marks if isinstance(m, Text)]
            for i, box in enumerate(boxes):
                assert min(box.left, box.bottom) >= 0
                assert box.right <= page.width
                assert box.top <= page.height
                assert not any(box.meets(other) for other in boxes[:i])


def test_the_same_layout_gives_the_same_bytes(boat):
    """The plan is written twice alike."""
    assert pdf_bytes(saw_plan_pages(*boat), title="x") == pdf_bytes(saw_plan_pages(*boat), title="x")
