"""A page rendered at 600 dots per inch and measured in pixels: what a printer would put on paper."""

from __future__ import annotations

import math

import pypdfium2
import pytest

from nestkit.drawing.template import template_pages
from nestkit.geometry.points import Point
from nestkit.writers.pdf import pdf_bytes
from tests.drawing import bench

PER_MM = 600 / 25.4
HALF_DOT = 0.5 / PER_MM
DARK = 140


def dark_middle(image, start: Point, way: Point, reach: float) -> float:
    """How far from a place, along a direction, the middle of the first dark stroke lies, in mm."""
    step, first = 0.1 / PER_MM, None
    for i in range(int(reach / step)):
        at = start.moved(way.x * i * step, way.y * i * step)
        dark = image.getpixel((round(at.x * PER_MM - 0.5), round(image.height - at.y * PER_MM - 0.5))) < DARK
        if dark and first is None:
            first = i
        if first is not None and not dark:
            return (first + i) / 2 * step
    raise AssertionError(f"no stroke within {reach} mm of {start}")


@pytest.mark.parametrize(("paper", "scale"), [("letter", (1.0, 1.0)), ("A4", (0.996, 1.004))])
def test_pixels_agree_with_the_part(paper, scale):
    """Centres and sizes of rings, and the rulers, are where they should be to a dot of 1/600 in."""
    part = bench.bracket()
    job = bench.job(part, unit="mm", paper=paper, scale_x=scale[0], scale_y=scale[1])
    data = pdf_bytes(template_pages(job, part), title="x")
    [page] = bench.read(data)
    document = pypdfium2.PdfDocument(data)
    image = document[0].render(scale=600 / 72, grayscale=True).to_pil()
    document.close()
    scale = scale if page.width < page.height else scale[::-1]
    ways = [Point(math.cos(a), math.sin(a)) for a in (math.radians(45 + 90 * i) for i in range(4))]
    centres = {}
    for hole in part.holes:
        rough = min(
            page.circles(hole.dia / scale[0], hole.dia / scale[1]),
            key=lambda at, h=hole: at.to(near(page, h, part, scale)),
        )
        ring = [dark_middle(image, rough, way, hole.dia) for way in ways]
        for there, back in ((0, 2), (1, 3)):
            across = ring[there] + ring[back]
            mean = (1 / scale[0] + 1 / scale[1]) / 2
            assert abs(across - hole.dia * mean) < 2 * HALF_DOT + 0.01 * abs(1 - mean) * hole.dia
        east, north = (ring[0] - ring[2]) / 2, (ring[1] - ring[3]) / 2
        shift = Point(ways[0].x * east + ways[1].x * north, ways[0].y * east + ways[1].y * north)
        centres[hole.number] = rough.moved(*shift)
    for a in part.holes:
        for b in part.holes:
            want = math.hypot((a.at.x - b.at.x) / scale[0], (a.at.y - b.at.y) / scale[1])
            assert abs(centres[a.number].to(centres[b.number]) - want) < 2 * HALF_DOT + 0.01


def longest_run(image, y: int) -> int:
    """The longest row of dark dots without a gap."""
    dots = "".join("#" if image.getpixel((x, y)) < DARK else " " for x in range(image.width))
    return max(len(run) for run in dots.split(" "))


def near(page, hole, part, scale) -> Point:
    """Where a hole lies on the page by the vectors: from the lower left of the part's outline."""
    edge = max(
        (p for p in page.paths if p.closed and abs(p.box.width * scale[0] - float(part.width)) < 0.01),
        key=lambda p: p.box.height,
    )
    return Point(edge.box.left + hole.at.x / scale[0], edge.box.bottom + hole.at.y / scale[1])


def test_a_ruler_measured_in_pixels_is_as_long_as_its_words_say():
    """From the first dark dot to the last a ruler is what must be read, but for the printer's error."""
    part = bench.bracket()
    job = bench.job(part, unit="mm", paper="A4", scale_x=0.996, scale_y=1.004)
    data = pdf_bytes(template_pages(job, part), title="x")
    document = pypdfium2.PdfDocument(data)
    image = document[0].render(scale=600 / 72, grayscale=True).to_pil()
    words = document[0].get_textpage().get_text_range()
    document.close()
    lengths = []
    for turned in (image, image.transpose(2)):  # ROTATE_90: the left edge comes to lie below
        rows = range(turned.height - round(14 * PER_MM), turned.height - round(9 * PER_MM))
        lengths.append(max(longest_run(turned, y) for y in rows) / PER_MM)
    scales = (0.996, 1.004) if image.width < image.height else (1.004, 0.996)
    for length, scale in zip(lengths, scales, strict=True):
        # The line has round ends of half of its width of 0.15 mm.
        printed = (length - 0.15) * scale
        assert f"must read {round(printed):.1f}" in words
        assert abs(printed - round(printed)) < 2 * HALF_DOT
