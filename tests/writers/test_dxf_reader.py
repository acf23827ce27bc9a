"""Our own reader of DXF files sees what another reader sees, and refuses what it does not know."""

from __future__ import annotations

import io

import ezdxf
import ezdxf.recover
import pytest

from nestkit.drawing.part import part_drawing
from nestkit.errors import ToolFault
from nestkit.job.model import DxfOptions
from nestkit.writers.dxf import dxf_bytes
from nestkit.writers.dxf_reader import read_dxf
from tests.laid_boat import BRACKET, LID


def made(draw, version="R2010"):
    """Return a file that the library made by itself."""
    doc = ezdxf.new(version, units=4 if version != "R12" else 0)
    draw(doc.modelspace())
    stream = io.StringIO()
    doc.write(stream)
    return doc.encode(stream.getvalue())


@pytest.mark.parametrize("version", ["R2010", "R2000", "R12"])
def test_it_agrees_with_the_library(version):
    """Outlines, circles and texts are read to the same figures as the library reads."""
    data = dxf_bytes(part_drawing(BRACKET, True), unit="in", options=DxfOptions(version))
    ours = read_dxf(data)
    doc, _ = ezdxf.recover.read(io.BytesIO(data))
    space = doc.modelspace()
    assert [(r.centre, r.radius) for r in ours.rings] == [
        ((c.dxf.center.x, c.dxf.center.y), c.dxf.radius) for c in space.query("CIRCLE")
    ]
    assert [t.text for t in ours.lines] == [t.dxf.text for t in space.query("TEXT")]
    if version == "R12":
        theirs = [
            [(v.dxf.location.x, v.dxf.location.y, v.dxf.bulge) for v in p.vertices]
            for p in space.query("POLYLINE")
        ]
    else:
        theirs = [[tuple(p) for p in poly.get_points("xyb")] for poly in space.query("LWPOLYLINE")]
    assert [[tuple(v) for v in loop.outline.vertices] for loop in ours.loops] == theirs
    assert ours.plots.keys() == {layer.dxf.name for layer in doc.layers}


def test_letters_that_an_encoding_lacks_are_read():
    """In older files a letter outside the code page stands as a code, and is read as the letter."""
    data = made(lambda s: s.add_text("lid 船 Ø", dxfattribs={"insert": (1, 2)}), "R2000")
    assert read_dxf(data).lines[0].text == "lid 船 Ø"


@pytest.mark.parametrize(
    ("draw", "match"),
    [
        (lambda s: s.add_line((0, 0), (1, 1)), "LINE"),
        (lambda s: s.add_point((0, 0)), "POINT"),
        (lambda s: s.add_spline([(0, 0), (1, 1), (2, 0)]), "SPLINE"),
        (lambda s: s.add_lwpolyline([(0, 0), (1, 0), (1, 1)]), "not closed"),
        (lambda s: s.add_lwpolyline([(0, 0), (1, 0), (1, 0), (0, 1)], close=True), "same corner twice"),
        (lambda s: s.add_lwpolyline([(0, 0)], close=True), "fewer than two"),
    ],
    ids=["line", "point", "spline", "open", "twice", "one corner"],
)
def test_what_no_cutting_file_may_have_is_refused(draw, match):
    """A stray entity, an open outline or an edge of no length is a fault, not something to skip."""
    with pytest.raises(ToolFault, match=match):
        read_dxf(made(draw))


def test_a_file_cut_off_is_refused():
    """A file that ends early is not taken for a shorter one."""
    data = dxf_bytes(part_drawing(LID), unit="mm", options=DxfOptions())
    for short in (data[: data.rindex(b"  0\nEOF")], data[: data.rindex(b"EOF")]):
        with pytest.raises(ToolFault, match=r"no end|middle of a pair"):
            read_dxf(short)
