"""Every template of the boat on every paper, as pdfium reads it: outline, holes and rulers are true."""

from __future__ import annotations

import io
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
import svgelements

from nestkit.drawing.rulers import reading
from nestkit.drawing.template import template, template_pages
from nestkit.geometry.points import Point
from nestkit.job.model import Printing
from nestkit.job.reader import read_job
from nestkit.units import MM_PER_INCH
from nestkit.writers.pdf import pdf_bytes
from nestkit.writers.svg import svg_bytes
from tests.drawing import bench

SAMPLES = Path(__file__).resolve().parent.parent.parent / "sample_parts"
TRUE = 0.01
SCALE = (0.996, 1.004)


def scales(page, paper) -> tuple[float, float]:
    """The printer's scale along x and y of a page."""
    upright = abs(page.width - paper.short) < TRUE
    assert upright or abs(page.height - paper.short) < TRUE
    return SCALE if upright else SCALE[::-1]


def ruler_reads(page, unit, x, y) -> bool:
    """Say whether on a page two unbroken lines measure, once printed, what words beside them say."""
    step = MM_PER_INCH / 2 if unit == "in" else Fraction(10)
    lengths = [p.box for p in page.paths if len(p.points) == 2 and not p.curved and not p.closed]
    for axis, scale in (("x", x), ("y", y)):
        sizes = [(b.width if axis == "x" else b.height) * scale for b in lengths]
        longest = max(sizes)
        nominal = round(Fraction(longest) / step) * step
        if abs(longest - float(nominal)) > TRUE or f"CHECK RULER: {reading(nominal, unit)}" not in page.words:
            return False
    return True


@pytest.mark.slow
@pytest.mark.parametrize("sample", ["solar_boat.toml", "rescue_float.toml"])
@pytest.mark.parametrize("paper", sorted(bench.PAPERS))
@pytest.mark.parametrize("back", [False, True])
def test_all_templates_of_the_samples_are_true(sample, paper, back):
    """The printer's scale taken out, each hole of each hand and face is whole on a page, in its place."""
    job = read_job(SAMPLES / sample)
    job = replace(job, printing=Printing(bench.PAPERS[paper], *SCALE))
    for panel in job.panels:
        for opposite in panel.hands:
            view = panel.mirrored() if opposite != back else panel
            pages = bench.read(pdf_bytes(template_pages(job, panel, opposite=opposite, back=back), title="x"))
            found = []
            for page in pages:
                x, y = scales(page, job.printing.paper)
                assert ruler_reads(page, job.unit, x, y), (panel.name, paper)
                wide, high = float(view.width), float(view.height)
                edges = [
                    p.box
                    for p in page.paths
                    if p.closed and abs(p.box.width * x - wide) < TRUE and abs(p.box.height * y - high) < TRUE
                ]
                assert edges or page is pages[0], "each page but the cover shows the outline in its place"
                for dia in {h.dia for h in view.holes} if edges else ():
                    for at in page.circles(dia / x, dia / y):
                        found.append((dia, Point((at.x - edges[0].left) * x, (at.y - edges[0].bottom) * y)))
            for hole in view.holes:
                assert any(abs(d - hole.dia) < TRUE and p.to(hole.at) < TRUE for d, p in found) or (
                    hole.number in cut(job, panel)
                ), (panel.name, hole.number)
            for dia, at in found:
                assert any(abs(dia - h.dia) < TRUE and at.to(h.at) < TRUE for h in view.holes), panel.name


@pytest.mark.parametrize("sample", ["solar_boat.toml", "rescue_float.toml"])
def test_all_svg_templates_of_the_samples_are_nominal(sample):
    """svgelements finds each hole of each hand in its place and of its size, whatever the printer's scale."""
    job = read_job(SAMPLES / sample)
    job = replace(job, printing=replace(job.printing, scale_x=0.996, scale_y=1.004))
    pixel = 25.4 / 96  # svgelements works in pixels of 1/96 in
    for panel in job.panels:
        for opposite in panel.hands:
            view = panel.mirrored() if opposite else panel
            data = svg_bytes(template(job, panel, opposite=opposite))
            shapes = list(svgelements.SVG.parse(io.BytesIO(data), reify=True).elements())
            circles = [s for s in shapes if isinstance(s, svgelements.Circle)]
            boxes = [s.bbox() for s in shapes if isinstance(s, (svgelements.Path, svgelements.Circle))]
            size = (float(view.width) / pixel, float(view.height) / pixel)
            corner = next(
                (b[0], b[3])
                for b in boxes
                if abs(b[2] - b[0] - size[0]) * pixel < TRUE and abs(b[3] - b[1] - size[1]) * pixel < TRUE
            )
            for hole in view.holes:
                x, y = corner[0] + hole.at.x / pixel, corner[1] - hole.at.y / pixel
                assert any(
                    abs(c.cx - x) * pixel < TRUE
                    and abs(c.cy - y) * pixel < TRUE
                    and abs(2 * c.rx * pixel - hole.dia) < TRUE
                    for c in circles
                ), (panel.name, hole.number)


def cut(job, panel) -> set[int]:
    """The numbers of holes that a machine makes: pages laid by themselves leave them out."""
    way = job.way_of(panel)
    machine = way.how in ("router", "laser", "waterjet")
    return {h.number for h in panel.holes if machine and h.dia >= float(way.kerf)}
