"""SVG files against another reader of SVG."""

from __future__ import annotations

import io
import math

import numpy as np
import pytest
import shapely
from svgelements import SVG, Path, Shape

from nestkit.job.outlines.curves import TOLERANCE
from tests.job.outlines.drawings import panel_of, svg
from tests.job.outlines.good_svg import GOOD, MM
from tests.job.outlines.judge import compare, faces


def read_by_another(data: bytes) -> list[shapely.Polygon]:
    """Return the areas that svgelements finds, in mm and y up; it knows of pixels only, 96 to an inch."""
    lines = []
    for shape in SVG.parse(io.BytesIO(data), ppi=96).elements():
        if not isinstance(shape, Shape):
            continue
        for sub in abs(Path(shape)).as_subpaths():
            points = [np.array([[s.point(t).x, s.point(t).y] for t in ts]) for s, ts in steps(Path(sub))]
            if points:
                lines.append(shapely.LineString(np.round(np.vstack(points) * [25.4 / 96, -25.4 / 96], 5)))
    return faces(lines)


def steps(path: Path):
    """Yield each segment that draws something, with where to look at it."""
    for segment in path:
        name = type(segment).__name__
        if name in ("Line", "Close"):
            if segment.end is not None and segment.start != segment.end:
                yield segment, (0.0, 1.0)
        elif name != "Move":
            yield segment, np.linspace(0, 1, 400)


@pytest.mark.parametrize("name", GOOD)
def test_the_part_is_the_one_that_another_reader_sees(name, tmp_path):
    """Outline, openings and holes of an SVG lie within the tolerance of what svgelements reads."""
    data = svg(*GOOD[name])
    panel = panel_of(tmp_path, data, file="part.svg")
    compare(panel, read_by_another(data), 2 * TOLERANCE)


def test_round_corners_are_skewed_with_the_rest(tmp_path):
    """A skewed rounded rectangle is as wide as the ellipses of its corners make it (worked by hand)."""
    body = '<rect x="20" y="10" width="40" height="30" rx="5" transform="skewX(20) scale(1,.8)"/>'
    panel = panel_of(tmp_path, svg(body, MM), file="part.svg")
    k = 0.8 * math.tan(math.radians(20))
    assert float(panel.width) == pytest.approx(30 + 20 * k + 2 * 5 * math.hypot(1, k), abs=TOLERANCE)
    assert float(panel.height) == pytest.approx(24, abs=TOLERANCE)
    assert panel.outline.area == pytest.approx(0.8 * (1200 - (4 - math.pi) * 25), abs=0.05)


def test_a_file_without_a_size_is_in_the_job_s_unit(tmp_path):
    """No unit in width and height: numbers are in the job's unit, or in outline_unit; both are said."""
    data = svg('<rect width="3" height="2"/>', 'viewBox="0 0 5 4"')
    panel = panel_of(tmp_path, data, file="part.svg", unit="in")
    assert float(panel.width) == 76.2
    assert "inches, as the job (the file has no unit)" in panel.drawn.notes[0]
    panel = panel_of(tmp_path, data, 'outline_unit = "mm"', file="part.svg", unit="in")
    assert panel.width == 3
    assert "outline_unit" in panel.drawn.notes[0]


def test_what_is_not_drawn_does_not_count(tmp_path):
    """Texts, images, what is hidden, and what other programs keep in a file are left out and listed."""
    body = (
        '<title>x</title><metadata/><rect width="60" height="40"/><text x="4" y="5">up</text>'
        '<image href="a.png"/><rect x="5" y="5" width="9" height="9" style="fill:red; display:none"/>'
        '<o:view xmlns:o="urn:other" width="5"/><g visibility="hidden"><circle r="4"/></g>'
        '<clipPath><circle r="9"/></clipPath>'
    )
    panel = panel_of(tmp_path, svg(body, MM), file="part.svg")
    assert (panel.width, panel.height) == (60, 40)
    assert panel.openings == ()
    assert "not cut: 1 image, 1 invisible g, 1 invisible rect, 1 text" in panel.drawn.notes
