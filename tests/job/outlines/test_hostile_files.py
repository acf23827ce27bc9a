"""Files spoiled at random: a part or a mistake, never a crash, and never for long."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.job.outlines.fault import OutlineFault
from nestkit.job.outlines.layers import Layers
from nestkit.job.outlines.options import JOIN, Options
from nestkit.job.outlines.read import FromFile, from_bytes
from tests.job.outlines.drawings import dxf, raw, svg
from tests.job.outlines.good_dxf import GOOD as DXF
from tests.job.outlines.good_svg import GOOD as SVG

USUAL = Options(None, Layers(), None, JOIN, Fraction(12))
WORDS = [
    "0",
    "-1",
    "1e308",
    "nan",
    "",
    "LINE",
    "7",
    "INSERT",
    "POLYLINE",
    "SPLINE",
    "70",
    "10",
    "\x00",
    "ü",
    "9" * 400,
]
KINDS = [
    "LINE",
    "ARC",
    "CIRCLE",
    "ELLIPSE",
    "LWPOLYLINE",
    "POLYLINE",
    "VERTEX",
    "SPLINE",
    "INSERT",
    "SEQEND",
    "TEXT",
]
CODES = [2, 8, 10, 20, 11, 21, 30, 40, 41, 42, 50, 51, 60, 67, 70, 71, 210, 230]


def read(data, kind):
    """Return what the reader makes of a file: a part, or None where it refuses it."""
    try:
        found = from_bytes(data, kind, "part", USUAL, "mm")
    except OutlineFault:
        return None
    assert isinstance(found, FromFile)
    assert found.outline.area > 0
    return found


def _spoiled(draw, lines):
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(lines) - 1))
        what = draw(st.integers(0, 3))
        if what == 0:
            lines[at] = draw(st.sampled_from(WORDS))
        elif what == 1:
            del lines[at]
        elif what == 2:
            lines.insert(at, draw(st.sampled_from(WORDS)))
        else:
            other = draw(st.integers(0, len(lines) - 1))
            lines[at], lines[other] = lines[other], lines[at]
        if not lines:
            break
    return lines


ENTITIES = {
    name: dxf(DXF[name]).decode()
    for name in ("arcs_and_lines", "nested_blocks", "spline", "old_polyline", "half_ellipse", "with_notes")
}


@st.composite
def spoiled_dxf(draw):
    """Return a DXF file with a few lines changed in its blocks or entities."""
    text = ENTITIES[draw(st.sampled_from(sorted(ENTITIES)))]
    head, mark, tail = text.partition("\nENTITIES\n")
    return (head + mark + "\n".join(_spoiled(draw, tail.split("\n")[:400]))).encode()


@settings(max_examples=150, deadline=None)
@given(spoiled_dxf())
def test_a_spoiled_dxf_is_read_or_refused(data):
    """Lines lost, doubled, swapped or replaced by nonsense end in a part or a fault."""
    read(data, "dxf")


@settings(max_examples=150, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(KINDS),
            st.lists(
                st.tuples(st.sampled_from(CODES), st.sampled_from([0, 1, -1, 2.5, 1e-9, 1e9, 100, 360])),
                max_size=9,
            ),
        ),
        max_size=6,
    )
)
def test_entities_of_any_codes_are_read_or_refused(entities):
    """Entities put together at random, valid as text, end in a part or a fault."""
    rows = [" ".join([kind, *(f"{code} {value}" for code, value in tags)]) for kind, tags in entities]
    read(raw(*rows), "dxf")


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_a_spoiled_svg_is_read_or_refused(data):
    """Letters of shapes and paths changed at random end in a part or a fault."""
    body, head = SVG[data.draw(st.sampled_from(sorted(SVG)))]
    letters = list(svg(body, head).decode())
    for _ in range(data.draw(st.integers(1, 5))):
        letters[data.draw(st.integers(0, len(letters) - 1))] = data.draw(
            st.sampled_from('09.-eMAZczsq "<>%() ')
        )
    read("".join(letters).encode(), "svg")


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=300))
def test_any_bytes_are_refused(data):
    """Nothing that is no drawing is taken for one."""
    assert read(data, "dxf") is None
    assert read(data, "svg") is None
