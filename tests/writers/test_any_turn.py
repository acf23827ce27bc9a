"""Parts at any angle and in either hand, in every file that shows them, measured by other programs."""

from __future__ import annotations

import cmath
import csv
import io
import json
import math
import re
from dataclasses import replace
from fractions import Fraction

import ezdxf.recover
import pytest
import shapely
import svgelements

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Text
from nestkit.drawing.sheet import sheet_drawing
from nestkit.drawing.sheet_page import sheet_pages
from nestkit.drawing.sheet_picture import picture_scale, sheet_picture, sheet_plan
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import disc, rectangle
from nestkit.job.model import DxfOptions, Job
from nestkit.layout.proof import Bound
from nestkit.layout.result import CutSheet, GroupLayout, JobLayout, PlacedPart
from nestkit.layout.shapes.verify import verify_shapes
from nestkit.parts.holes import Drill, Hole, Mark
from nestkit.parts.panel import Panel
from nestkit.writers.apart import check_apart
from nestkit.writers.dxf import dxf_bytes
from nestkit.writers.hand_over import hand_over
from nestkit.writers.layout_json import layout_object
from nestkit.writers.lists import parts_csv
from nestkit.writers.pdf import pdf_bytes
from nestkit.writers.read_back import compare_sheet
from nestkit.writers.svg import svg_bytes
from tests.drawing import bench
from tests.layout.made import group, job, sheet
from tests.layout.shapes.shaped import BORE, BRACKET, HORN, RING, shaped
from tests.layout.shapes.test_verify_shapes import lying
from tests.writers.test_dxf import read

NEAR = 0.01
"""Millimetres by which a file may differ from the part."""
HOLES = tuple(
    Hole(i, Point(x, 30), Drill(6.0, "6 mm", "D4"), "bolts") for i, x in enumerate((30, 70), start=1)
)
HORN_PART = shaped("rudder horn", HORN, holes=HOLES, marks=(Mark(Point(30, 45), "UP", 8),))
ANGLE = Fraction("17.3")
PIXEL = 25.4 / 96


def parts() -> tuple[PlacedPart, ...]:
    """Return parts at 17.3 degrees and other angles, both hands, one turned over, one inside another."""
    horn = replace(HORN_PART, quantity=2, opposite_hand=2)
    bracket = shaped("motor bracket", BRACKET, quantity=2, faces="alike")
    ring, cap = shaped("hatch ring", RING, BORE), shaped("hatch cap", disc(90))
    plate = shaped("name plate of the solar boat for the stern, port", rectangle(220, 90, radius=10))
    return (
        lying(horn, 20, 20, ANGLE),
        lying(horn, 200, 20, ANGLE, over=True),
        lying(horn, 360, 20, 90, copy=2),
        lying(horn, 480, 20, Fraction("289.123456789"), copy=2, over=True),
        lying(bracket, 20, 200, ANGLE),
        lying(bracket, 200, 200, ANGLE, copy=2, over=True),
        lying(ring, 320, 180, Fraction("123.4")),
        lying(cap, 355, 215, Fraction("0.000000001")),
        lying(plate, 500, 180, Fraction(30)),
    )


def laid() -> tuple[Job, JobLayout]:
    """Return a job of these parts and its layout, which is verified."""
    lying_parts = parts()
    panels: list[Panel] = list({p.panel.name: p.panel for p in lying_parts}.values())
    made = group(panels, [sheet("full", 800, 420, price=Fraction(20))], "router", 4, 6, (10, 10, 10, 10))
    one = CutSheet(made.sheets[0], 1, False, Fraction(20), lying_parts, (), ())
    bounds = Bound(Fraction(1), "one is needed"), Bound(Fraction(20), "one is needed")
    layout = GroupLayout(made, "price", (one,), (), Fraction(20), *bounds)
    verify_shapes(layout)
    return job(made), JobLayout((layout,), 1, "normal")


JOB, LAYOUT = laid()
GROUP = LAYOUT.groups[0].group
SHEET = LAYOUT.groups[0].sheets[0]


def there(part: PlacedPart, outline) -> shapely.Polygon:
    """Return where an outline of a part lies, by the words of the contract, in arithmetic of its own."""
    width, turn = float(part.panel.width), cmath.exp(1j * math.radians(part.turn))

    def turned(o):
        found = (complex(*p) for p in o.flattened(1e-4))
        return [(complex(width - z.real, z.imag) if part.opposite_hand else z) * turn for z in found]

    edge = turned(part.panel.outline)
    shift = complex(part.x, part.y) - complex(min(z.real for z in edge), min(z.imag for z in edge))
    return shapely.Polygon([((z + shift).real, (z + shift).imag) for z in turned(outline)])


@pytest.mark.parametrize("version", ["R2010", "R2000", "R12"])
@pytest.mark.parametrize("unit", ["in", "mm"])
def test_the_cutting_file_has_every_part_where_it_lies(tmp_path, version, unit):
    """GDAL finds each edge and opening to 0.01 mm, ezdxf the true arcs with the bulges of the part."""
    options = DxfOptions(version)
    data = dxf_bytes(sheet_drawing(SHEET, GROUP, unit=unit, stem="s"), unit=unit, options=options)
    compare_sheet(data, SHEET, unit=unit, options=options, file="s.dxf")
    check_apart(SHEET, GROUP, file="s.dxf")
    path = tmp_path / "s.dxf"
    path.write_bytes(data)
    mm = 25.4 if unit == "in" else 1.0
    found = [(layer, shapely.affinity.scale(s, mm, mm, origin=(0, 0))) for layer, _, s in read(path)]
    edges = [s for layer, s in found if layer == "PART_EDGE"]
    assert len(edges) == len(SHEET.parts)
    for part, edge in zip(SHEET.parts, edges, strict=True):
        assert edge.exterior.hausdorff_distance(there(part, part.panel.outline).exterior) < NEAR
    (opening,) = [s for layer, s in found if layer == "OPENING"]
    assert opening.exterior.hausdorff_distance(there(SHEET.parts[6], BORE).exterior) < NEAR
    holes = [s for layer, s in found if layer == "DRILLED_HOLE"]
    wanted = [there(p, disc(6, centre=h.at)) for p in SHEET.parts for h in p.panel.holes]
    assert len(holes) == len(wanted) == 8
    for hole, circle in zip(holes, wanted, strict=True):
        assert hole.centroid.distance(circle.centroid) < NEAR
    drawing, _ = ezdxf.recover.read(io.BytesIO(data))
    lines = drawing.modelspace().query("LWPOLYLINE POLYLINE[layer=='PART_EDGE']")
    for part, line in zip(SHEET.parts, lines, strict=True):
        bulges = (
            [p[4] for p in line] if line.dxftype() == "LWPOLYLINE" else [v.dxf.bulge for v in line.vertices]
        )
        assert sorted(map(abs, bulges)) == pytest.approx(
            sorted(abs(v.bulge) for v in part.panel.outline.vertices), abs=1e-9
        )


def on_paper(area: shapely.Polygon, corner: tuple[float, float], scale: int) -> shapely.Polygon:
    """Return an area of the sheet as it lies on a page where the sheet's lower left is at a corner."""
    small = shapely.affinity.scale(area, 1 / scale, 1 / scale, origin=(0, 0))
    return shapely.affinity.translate(small, *corner)


def test_the_picture_for_the_screen_shows_true_shapes():
    """svgelements finds a line along each part's true edge, to 0.01 mm on the sheet."""
    scale = picture_scale(SHEET)
    drawing = sheet_picture(SHEET, GROUP, unit="mm", stem="s")
    picture = svgelements.SVG.parse(io.BytesIO(svg_bytes(drawing, scale=scale)), reify=True)
    found = []
    for shape in picture.elements():
        if isinstance(shape, svgelements.Shape):
            segments = svgelements.Path(shape).segments()
            drawn = [s for s in segments if not isinstance(s, svgelements.Move)]
            points = [s.point(i / 16) for s in drawn for i in range(17)]
            found.append([(q.x * PIXEL, drawing.height * scale - q.y * PIXEL) for q in points])
    boxes = [shapely.MultiPoint(p).bounds for p in found if p]
    corner = next(b[:2] for b in boxes if (b[2] - b[0], b[3] - b[1]) == pytest.approx((800, 420), abs=1e-3))
    for part in SHEET.parts:
        edge = on_paper(there(part, part.panel.outline), corner, 1)
        assert any(p and _along(p, edge) for p in found), part.panel.name


def test_the_printed_picture_shows_true_shapes():
    """pdfium finds a line along each part's true edge, to 0.01 mm on paper."""
    pages = sheet_pages(JOB, GROUP, SHEET, stem="s")
    page = bench.read(pdf_bytes(pages, title="s"))[0]
    scale = int(re.search(r"Scale 1:(\d+)", page.words)[1])
    size = (float(SHEET.stock.width) / scale, float(SHEET.stock.height) / scale)
    corner = next(
        p.box[:2] for p in page.paths if (p.box.width, p.box.height) == pytest.approx(size, abs=1e-3)
    )
    for part in SHEET.parts:
        edge = on_paper(there(part, part.panel.outline), corner, scale)
        assert any(_along(p.points, edge) for p in page.paths if len(p.points) > 2), part.panel.name


def _along(points, area: shapely.Polygon) -> bool:
    """Say whether points lie along the edge of an area, all round it."""
    cloud = shapely.MultiPoint([tuple(p) for p in points])
    if any(area.exterior.distance(p) > NEAR for p in cloud.geoms):
        return False
    # Between two points of a flat arc the edge strays from their chord by far less than it is long.
    return cloud.convex_hull.area > 0.8 * area.convex_hull.area


@pytest.mark.parametrize("scale", [1, 3, 6])
def test_words_and_numbers_stand_inside_their_parts(scale):
    """No word of a part leaves its material at its scale; a number may, only where the part is narrower."""
    plan = sheet_plan(SHEET, GROUP, unit="mm", scale=scale)
    corner = next(m.at for m in plan.drawing.marks if type(m).__name__ == "Inset")
    solids = []
    for part in SHEET.parts:
        holes = [there(part, o.outline) for o in part.panel.openings]
        area = there(part, part.panel.outline).difference(shapely.union_all(holes))
        solids.append(on_paper(area, corner, scale))
    numbers = names = 0
    for mark in plan.drawing.marks:
        if not isinstance(mark, Text) or mark.layer is not Layer.LABEL:
            continue
        box = shapely.box(*mark.bounds)
        if mark.text.isdigit() and mark.bold:
            numbers += 1
            assert any(s.covers(box) for s in solids), mark
        elif any(mark.text == p.panel.name for p in SHEET.parts):
            names += 1
            assert any(s.covers(box) for s in solids), mark
            assert mark.height >= 2.2
    assert numbers + names == len(SHEET.parts)
    assert names >= {1: 9, 3: 3, 6: 0}[scale]


def test_turn_and_hand_are_said():
    """A part at an angle shows its size as drawn and the angle; one turned over is no opposite hand."""
    plan = sheet_plan(SHEET, GROUP, unit="mm", scale=1)
    words = [m.text for m in plan.drawing.marks if isinstance(m, Text)]
    assert words.count("80 x 90 mm, 17.3°") == 2
    assert "60 x 121.178 mm" in words
    assert words.count("copy 2, TURNED OVER") == 1
    assert words.count("copy 1, OPPOSITE HAND") == 1
    picture = sheet_picture(SHEET, GROUP, unit="mm", stem="s")
    said = " ".join(m.text for m in picture.marks if isinstance(m, Text))
    assert "TURNED OVER: lies mirrored, its faces are alike." in said
    note = hand_over(JOB, LAYOUT)
    assert "Some cut as drawn, some mirrored, faces alike: motor bracket" in note


def test_layout_json_and_the_list_write_what_was_judged():
    """Nine decimals of a turn, six of a place: read back they are the layout to the last digit."""
    rows = json.loads(json.dumps(layout_object(JOB, LAYOUT)))["groups"][0]["sheets"][0]["parts"]
    assert [r["turn_deg"] for r in rows] == [17.3, 17.3, 90, 289.123456789, 17.3, 17.3, 123.4, 1e-9, 30]
    for row, part in zip(rows, SHEET.parts, strict=True):
        assert Fraction(str(row["x_mm"])) == part.x
        assert Fraction(f"{row['turn_deg']:.9f}") == part.turn
        assert row["opposite_hand"] is part.opposite_hand
    table = csv.DictReader(io.StringIO(parts_csv(JOB, LAYOUT).decode("utf-8-sig")))
    turns = {(r["part"], r["hand"], r["copy"]): r["turn"] for r in table}
    assert turns["rudder horn", "opposite", "2"] == "289.123456789"
    assert turns["rudder horn", "as drawn", "2"] == "90"
    # Turned over it is the part as drawn all the same.
    assert turns["motor bracket", "as drawn", "2"] == "17.3"
