"""DXF files measured by a program that did not write them, and by the rules of the contract."""

from __future__ import annotations

import io
import math
import os
import subprocess
import sys
from pathlib import Path

import ezdxf
import ezdxf.recover
import pyogrio
import pyogrio.raw
import pytest
import shapely

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Fill, Inset, Text, line
from nestkit.drawing.model import Path as PathMark
from nestkit.drawing.part import laid, part_drawing
from nestkit.drawing.sheet import sheet_drawing
from nestkit.errors import ToolFault
from nestkit.geometry.outline import Vertex
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import rectangle
from nestkit.job.model import DxfOptions
from nestkit.writers.dxf import LAYERS, dxf_bytes, plain_text
from tests.laid_boat import BRACKET, HATCH, LID, lid_job, routed_job

ROOT = Path(__file__).resolve().parents[2]
VERSIONS = ["R2010", "R2000", "R12"]
UNITS = ["in", "mm"]
MM = {"in": 25.4, "mm": 1.0}
PARTS = [(LID, False), (BRACKET, False), (BRACKET, True), (HATCH, False)]


def sheets():
    """Yield the sheets of both jobs with their groups."""
    for _, layout in (lid_job(), routed_job()):
        for group in layout.groups:
            for sheet in group.sheets:
                yield group.group, sheet


def read(path):
    """Return what GDAL sees in a file: layer, text and shape of each entity."""
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": 0.1, "DXF_CLOSED_LINE_AS_POLYGON": True})
    meta, _, shapes, columns = pyogrio.raw.read(str(path))
    fields = list(meta["fields"])
    layers, texts = columns[fields.index("Layer")], columns[fields.index("Text")]
    return [
        (layer, text, shapely.from_wkb(shape))
        for layer, text, shape in zip(layers, texts, shapes, strict=True)
    ]


def document(data):
    """Return a file as the library reads it."""
    doc, auditor = ezdxf.recover.read(io.BytesIO(data))
    assert not auditor.errors
    assert not auditor.fixes
    return doc


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("version", VERSIONS)
@pytest.mark.parametrize(("panel", "opposite"), PARTS, ids=lambda v: getattr(v, "name", v))
def test_an_outside_reader_measures_the_part(tmp_path, panel, opposite, version, unit):
    """GDAL finds edge, openings and holes of a part where they belong, to 0.01 mm, in the job's unit."""
    path = tmp_path / "part.dxf"
    path.write_bytes(dxf_bytes(part_drawing(panel, opposite), unit=unit, options=DxfOptions(version)))
    mm = MM[unit]
    found = read(path)
    (edge,) = [shape for layer, _, shape in found if layer == "PART_EDGE"]
    assert edge.geom_type == "Polygon"
    assert edge.area * mm * mm == pytest.approx(panel.outline.area, abs=0.01 * panel.outline.length)
    assert [v * mm for v in edge.bounds] == pytest.approx(
        [0, 0, float(panel.width), float(panel.height)], abs=0.01
    )
    openings = [shape for layer, _, shape in found if layer == "OPENING"]
    assert [o.area * mm * mm for o in openings] == pytest.approx(
        [o.outline.area for o in panel.openings], rel=1e-4
    )
    shown = panel.mirrored() if opposite else panel
    circles = [shape for layer, _, shape in found if layer == "DRILLED_HOLE"]
    assert len(circles) == len(panel.holes)
    for circle, hole in zip(circles, shown.holes, strict=True):
        left, bottom, right, top = (v * mm for v in circle.bounds)
        assert ((left + right) / 2, (bottom + top) / 2) == pytest.approx(hole.at, abs=0.01)
        assert (right - left, top - bottom) == pytest.approx((hole.dia, hole.dia), abs=0.01)
    assert [text for layer, text, _ in found if layer == "MARK"] == [m.text for m in panel.marks]


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("version", VERSIONS)
def test_an_outside_reader_measures_the_sheets(tmp_path, version, unit):
    """GDAL finds every part of a sheet in its box, to 0.01 mm, and the sheet's edge around them."""
    mm = MM[unit]
    for group, sheet in sheets():
        path = tmp_path / f"{sheet.stock.name[:3]}.dxf"
        drawing = sheet_drawing(sheet, group, unit=unit, stem="x")
        path.write_bytes(dxf_bytes(drawing, unit=unit, options=DxfOptions(version)))
        found = read(path)
        edges = [shape for layer, _, shape in found if layer == "PART_EDGE"]
        assert len(edges) == len(sheet.parts)
        for edge, part in zip(edges, sheet.parts, strict=True):
            x, y = float(part.x), float(part.y)
            box = [x, y, x + float(part.width), y + float(part.height)]
            assert [v * mm for v in edge.bounds] == pytest.approx(box, abs=0.01)
            assert edge.area * mm * mm == pytest.approx(part.panel.outline.area, rel=1e-5)
        border = next(shape for layer, _, shape in found if layer == "NOTE_NO_CUT")
        size = [0, 0, float(sheet.stock.width), float(sheet.stock.height)]
        assert [v * mm for v in border.bounds] == pytest.approx(size, abs=0.01)


@pytest.mark.parametrize("single", [False, True])
@pytest.mark.parametrize("version", VERSIONS)
def test_the_library_finds_nothing_to_mend(version, single):
    """Every file is of the version asked for, passes the library's audit, and has nothing on layer 0."""
    options = DxfOptions(version, single)
    for group, sheet in sheets():
        doc = document(
            dxf_bytes(sheet_drawing(sheet, group, unit="mm", stem="x"), unit="mm", options=options)
        )
        assert doc.acad_release == version
        used = {e.dxf.layer for e in doc.modelspace()}
        assert "0" not in used
        assert used <= {layer.dxf.name for layer in doc.layers}
        if single:
            assert used <= {"PART_EDGE", "MARK", "NOTE_NO_CUT"}
        kinds = {e.dxftype() for e in doc.modelspace()}
        assert kinds <= {"POLYLINE" if version == "R12" else "LWPOLYLINE", "CIRCLE", "TEXT"}


@pytest.mark.parametrize(("unit", "code", "measurement"), [("in", 1, 0), ("mm", 4, 1)])
@pytest.mark.parametrize("version", ["R2010", "R2000"])
def test_the_unit_stands_in_the_header(version, unit, code, measurement):
    """$INSUNITS and $MEASUREMENT say the unit by the codes of the DXF reference; lengths are decimal."""
    doc = document(dxf_bytes(part_drawing(LID), unit=unit, options=DxfOptions(version)))
    assert doc.header["$INSUNITS"] == code
    assert doc.header["$MEASUREMENT"] == measurement
    assert doc.header["$LUNITS"] == 2


def test_an_old_file_says_its_unit_in_a_comment():
    """R12 has no variable for the unit: a comment at the top of the file says it."""
    data = dxf_bytes(part_drawing(LID), unit="in", options=DxfOptions("R12"))
    assert data.startswith(b"999\nUNIT: inch\n")
    assert b"$INSUNITS" not in data


@pytest.mark.parametrize("version", VERSIONS)
def test_extents_are_those_of_the_marks(version):
    """$EXTMIN and $EXTMAX hold the box of what is drawn, and the limits the part's size."""
    doc = document(dxf_bytes(part_drawing(LID), unit="in", options=DxfOptions(version)))
    assert doc.header["$EXTMIN"][:2] == pytest.approx((0, 0))
    assert doc.header["$EXTMAX"][:2] == pytest.approx((14.5, 9.75))
    assert tuple(doc.header["$LIMMAX"])[:2] == pytest.approx((14.5, 9.75))


def test_layers_are_told_apart_by_name_only():
    """All five layers are there in one colour, and the notes do not plot."""
    doc = document(dxf_bytes(part_drawing(LID), unit="mm", options=DxfOptions()))
    ours = [layer for layer in doc.layers if layer.dxf.name not in ("0", "Defpoints")]
    assert [layer.dxf.name for layer in ours] == [str(layer) for layer in LAYERS]
    assert {layer.color for layer in ours} == {7}
    assert [layer.dxf.name for layer in ours if not layer.dxf.plot] == ["NOTE_NO_CUT"]


def test_outlines_are_closed_with_true_arcs():
    """A round corner is one bulge, a slot's end two quarter turns in one, a disc two half circles."""
    doc = document(dxf_bytes(part_drawing(BRACKET), unit="mm", options=DxfOptions()))
    for outline in doc.modelspace().query("LWPOLYLINE"):
        assert outline.closed
    (slot,) = doc.modelspace().query('LWPOLYLINE[layer=="OPENING"]')
    assert sorted(p[4] for p in slot.get_points()) == pytest.approx([0, 0, 1, 1])
    doc = document(dxf_bytes(part_drawing(HATCH), unit="mm", options=DxfOptions()))
    for outline in doc.modelspace().query("LWPOLYLINE"):
        assert [p[4] for p in outline.get_points()] == pytest.approx([1, 1])
    holes = doc.modelspace().query("CIRCLE")
    assert [h.dxf.radius for h in holes] == [4.0] * 4


def test_on_one_layer_the_marks_stay_apart():
    """With a single layer all that is cut lies on PART_EDGE; texts to engrave and notes do not."""
    group, sheet = next(sheets())
    drawing = sheet_drawing(sheet, group, unit="in", stem="x")
    doc = document(dxf_bytes(drawing, unit="in", options=DxfOptions(single_layer=True)))
    for entity in doc.modelspace():
        cut = entity.dxftype() == "CIRCLE" or (
            entity.dxftype() == "LWPOLYLINE" and entity.dxf.layer != "NOTE_NO_CUT"
        )
        assert cut == (entity.dxf.layer == "PART_EDGE")


def test_writing_twice_gives_the_same_bytes_and_leaves_the_library_alone():
    """A drawing is not changed by writing it, nor is the library's own setting."""
    before = ezdxf.options.write_fixed_meta_data_for_testing
    drawing = part_drawing(BRACKET)
    assert dxf_bytes(drawing, unit="mm", options=DxfOptions()) == dxf_bytes(
        drawing, unit="mm", options=DxfOptions()
    )
    assert ezdxf.options.write_fixed_meta_data_for_testing == before


def test_the_same_bytes_whatever_the_hash_seed_and_time_zone():
    """Hash order, clock and time zone do not show in a file."""
    script = (
        "import hashlib\n"
        "from nestkit.drawing.part import part_drawing\n"
        "from nestkit.job.model import DxfOptions\n"
        "from nestkit.writers.dxf import dxf_bytes\n"
        "from tests.laid_boat import BRACKET\n"
        "data = b''.join(dxf_bytes(part_drawing(BRACKET), unit='in', options=DxfOptions(v))"
        " for v in ('R2010', 'R2000', 'R12'))\n"
        "print(hashlib.sha256(data).hexdigest())\n"
    )
    seen = set()
    for seed, zone in (("0", "UTC"), ("1", "Asia/Tokyo"), ("7", "America/New_York"), ("12345", "UTC")):
        env = {**os.environ, "PYTHONHASHSEED": seed, "TZ": zone}
        run = subprocess.run(
            [sys.executable, "-c", script], cwd=ROOT, env=env, capture_output=True, text=True, check=True
        )
        assert run.stderr == ""
        seen.add(run.stdout)
    assert len(seen) == 1


@pytest.mark.parametrize("version", VERSIONS)
@pytest.mark.parametrize("text", ["Größe Ø 1/2", "船 lid", "100%%d", "a^Jb", "two\nlines\x00", "x" * 200])
def test_texts_come_back_as_they_were(text, version):
    """Letters of any kind and the format's own codes are read back as written; control letters as blanks."""
    drawing = Drawing(100, 100, (Text(Point(5, 5), text, 4, Layer.MARK),))
    doc = document(dxf_bytes(drawing, unit="mm", options=DxfOptions(version)))
    (entity,) = doc.modelspace().query("TEXT")
    shown = entity.plain_text()
    assert shown == "".join(" " if ord(c) < 32 else c for c in text)


def test_codes_of_the_format_are_doubled():
    """What the format would take for a code of its own is written so that it shows as it is."""
    assert plain_text("50%") == "50%"
    assert plain_text("%%c") == "%%%%%%c"
    assert plain_text("^") == "^ "


@pytest.mark.parametrize(
    "mark",
    [
        Fill(rectangle(5, 5)),
        Inset(Drawing(5, 5, ()), Point(0, 0)),
        line(Point(0, 0), Point(1, 1), Layer.PART_EDGE),
        PathMark((Vertex(0, 0), Vertex(1, 0), Vertex(1, 1)), closed=True, layer=Layer.HATCH),
        Text(Point(0, 0), "x", 3, Layer.LABEL),
        Text(Point(0, 0), "x", 3, Layer.MARK, "middle"),
    ],
    ids=["fill", "inset", "open", "hatch", "label", "centred"],
)
def test_what_has_no_place_in_a_cutting_file_is_refused(mark):
    """A mark of prints in a cutting file is a fault of the tool, not something to leave out silently."""
    with pytest.raises(ToolFault, match=r"has no place in a cutting file|starts at its foot"):
        dxf_bytes(Drawing(10, 10, (mark,)), unit="mm", options=DxfOptions())


def test_a_free_angle_comes_out_true(tmp_path):
    """A part turned by 30 degrees keeps its area and the angle of its edges."""
    group, sheet = list(sheets())[1]
    path = tmp_path / "free.dxf"
    drawing = sheet_drawing(sheet, group, unit="mm", stem="x")
    path.write_bytes(dxf_bytes(drawing, unit="mm", options=DxfOptions()))
    edge = [shape for layer, _, shape in read(path) if layer == "PART_EDGE"][-1]
    (ax, ay), (bx, by) = edge.exterior.coords[0], edge.exterior.coords[1]
    assert math.degrees(math.atan2(by - ay, bx - ax)) == pytest.approx(30, abs=1e-6)
    assert edge.area == pytest.approx(laid(sheet.parts[-1]).outline.area)
