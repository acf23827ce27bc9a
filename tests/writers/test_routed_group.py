"""The sample's routed group as the shop gets it: GDAL reads our files, ezdxf the drawings behind them.

What is compared is the first file and the last: the outline file that was drawn, and the contours that
are cut. Nothing of ours stands between, but for where each part lies.
"""

from __future__ import annotations

import cmath
import io
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from itertools import product
from pathlib import Path

import ezdxf
import numpy as np
import pyogrio
import pytest
import shapely
from ezdxf import units
from ezdxf.entities import DXFGraphic

from nestkit.drawing.part import part_drawing
from nestkit.drawing.sheet import sheet_drawing
from nestkit.job.model import DxfOptions
from nestkit.job.reader import read_job
from nestkit.layout.efforts import effort_named
from nestkit.layout.lay_out import lay_out_group
from nestkit.layout.result import CutSheet, PlacedPart
from nestkit.writers.dxf import dxf_bytes
from nestkit.writers.read_back import compare_part, compare_sheet
from tests.layout.made import sheet as stock
from tests.layout.shapes.test_verify_shapes import lying

SAMPLES = Path(__file__).resolve().parents[2] / "sample_parts"
JOB = read_job(SAMPLES / "solar_boat.toml")
(GROUP,) = (g for g in JOB.groups if any(p.name == "motor bracket" for p in g.panels))
FILES = {p.name: SAMPLES / "outlines" / f"{p.name.replace(' ', '_')}.dxf" for p in GROUP.panels}
OPENINGS = {"motor bracket": 3, "pulley plate": 2, "hatch ring": 1}
NEAR = 0.01
"""Millimetres by which a contour may differ, and by which the pulley plate's gap is open as drawn."""


@dataclass(frozen=True)
class Drawn:
    """A part: what cuts as contours or loose lines, holes as centre and radius; mm."""

    cuts: shapely.Geometry
    holes: tuple[tuple[complex, float], ...]


def _exploded(entities: Iterable[DXFGraphic]) -> Iterator[DXFGraphic]:
    """Yield blocks as what is in them, and polylines as lines and true arcs."""
    for entity in entities:
        if entity.dxftype() in ("INSERT", "LWPOLYLINE"):
            yield from _exploded(entity.virtual_entities())
        else:
            yield entity


@cache
def source(name: str) -> Drawn:
    """Return an outline file as ezdxf reads it, blocks in place, curves as chords within a thousandth."""
    document = ezdxf.readfile(FILES[name])
    factor = units.conversion_factor(document.units, units.MM)
    lines, holes = [], []
    for entity in _exploded(document.modelspace()):
        if entity.dxf.layer == "DRILL":
            assert entity.dxftype() == "CIRCLE"
            at = complex(entity.dxf.center.x, entity.dxf.center.y)
            holes.append((at * factor, entity.dxf.radius * factor))
        elif entity.dxf.layer == "CUT":
            straight = entity.dxftype() == "LINE"
            ends = (entity.dxf.start, entity.dxf.end) if straight else entity.flattening(0.001 / factor)
            lines.append(shapely.LineString([(p.x * factor, p.y * factor) for p in ends]))
    return Drawn(shapely.MultiLineString(lines), tuple(holes))


def there(name: str, x: float = 0.0, y: float = 0.0, turn: float = 0.0, *, mirrored: bool = False) -> Drawn:
    """Return the drawing where the part lies: mirrored, turned, the lower left of its box moved to x, y."""
    drawn, by = source(name), cmath.exp(1j * math.radians(turn))

    def still(z):
        return (-np.conj(z) if mirrored else z) * by

    def laid(geometry, shift):
        return shapely.transform(geometry, lambda xy: _pairs(still(xy[:, 0] + 1j * xy[:, 1]) + shift))

    left, bottom, _, _ = laid(drawn.cuts, 0).bounds
    shift = complex(x - left, y - bottom)
    return Drawn(laid(drawn.cuts, shift), tuple((complex(still(c) + shift), r) for c, r in drawn.holes))


def _pairs(z):
    return np.column_stack([z.real, z.imag])


def contours(data: bytes, path: Path, mm: float) -> Iterator[tuple[Drawn, int]]:
    """Yield what GDAL finds of each part, in the file's order, and how many openings it has."""
    path.write_bytes(data)
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": 0.25, "DXF_CLOSED_LINE_AS_POLYGON": True})
    meta, _, blobs, columns = pyogrio.raw.read(str(path))
    layers = columns[list(meta["fields"]).index("Layer")]
    parts: list[dict[str, list[shapely.Polygon]]] = []
    for layer, blob in zip(layers, blobs, strict=True):
        shape = shapely.transform(shapely.force_2d(shapely.from_wkb(blob)), lambda xy: xy * mm)
        if layer == "PART_EDGE":
            parts.append({"PART_EDGE": [], "OPENING": [], "DRILLED_HOLE": []})
        if layer in ("PART_EDGE", "OPENING", "DRILLED_HOLE"):
            # GDAL has closed polylines as areas here, circles as lines.
            ring = shape.exterior if shape.geom_type == "Polygon" else shape
            assert ring.is_closed, f"{layer} is not closed"
            parts[-1][layer].append(shapely.Polygon(ring))
    for part in parts:
        (edge,), openings = part["PART_EDGE"], part["OPENING"]
        assert all(edge.covers(s) for s in (*openings, *part["DRILLED_HOLE"]))
        rings = shapely.MultiLineString([shapely.LineString(s.exterior) for s in (edge, *openings)])
        # The chords of a circle enclose a little less than it does.
        holes = tuple(
            (complex(s.centroid.x, s.centroid.y), s.length / math.tau) for s in part["DRILLED_HOLE"]
        )
        yield Drawn(rings, holes), len(openings)


def compare(found: Drawn, openings: int, wanted: Drawn, name: str) -> None:
    """Assert that what was cut is what was drawn: each way no point is further off than NEAR."""
    assert openings == OPENINGS.get(name, 0), name
    assert found.cuts.hausdorff_distance(wanted.cuts) <= NEAR, name
    assert len(found.holes) == len(wanted.holes), name
    left = list(found.holes)
    for centre, radius in wanted.holes:
        nearest = min(left, key=lambda hole: abs(hole[0] - centre))
        left.remove(nearest)
        assert abs(nearest[0] - centre) <= NEAR, name
        assert abs(nearest[1] - radius) <= NEAR / 2, name


def check_sheet(sheet: CutSheet, folder: Path) -> None:
    """Compare a sheet's file, as the job writes it, with the drawings of all parts on it."""
    data = dxf_bytes(sheet_drawing(sheet, GROUP, unit=JOB.unit, stem="s"), unit=JOB.unit, options=JOB.dxf)
    compare_sheet(data, sheet, unit=JOB.unit, options=JOB.dxf, file="s.dxf", cut=GROUP.way)
    found = list(contours(data, folder / "s.dxf", 25.4))
    assert len(found) == len(sheet.parts)
    for part, (drawn, openings) in zip(sheet.parts, found, strict=True):
        name = part.panel.name
        place = (float(part.x), float(part.y), float(part.turn))
        compare(drawn, openings, there(name, *place, mirrored=part.opposite_hand), name)


def test_the_sheet_of_the_shop_holds_what_was_drawn(tmp_path):
    """Each contour and hole of the sample's routed sheet is within 0.01 mm of its outline file, in place."""
    layout, _ = lay_out_group(GROUP, seed=1, effort=effort_named("quick"))
    assert not layout.unplaced
    assert {p.panel.name for s in layout.sheets for p in s.parts} == set(FILES)
    for number, sheet in enumerate(layout.sheets):
        folder = tmp_path / str(number)
        folder.mkdir()
        check_sheet(sheet, folder)


@pytest.mark.parametrize("turn", [0, 90, 180, 270, Fraction("17.3")], ids=str)
def test_every_turn_and_hand_holds_what_was_drawn(tmp_path, turn):
    """Both hands of all six, at any turn, lie within 0.01 mm of the drawing, also off the grid."""
    parts: list[PlacedPart] = []
    for k, (panel, over) in enumerate(product(GROUP.panels, (False, True))):
        parts.append(
            lying(panel, Fraction(20 + 260 * (k % 6)), Fraction("20.000007") + k // 6 * 260, turn, over=over)
        )
    check_sheet(CutSheet(stock("full", 1600, 560), 1, False, Fraction(0), tuple(parts), (), ()), tmp_path)


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("version", ["R2010", "R12"])
def test_the_file_of_a_part_holds_what_was_drawn(tmp_path, version, unit):
    """Each part's own file, both hands, is the drawing within 0.01 mm, the lower left of its box at 0, 0."""
    options = DxfOptions(version)
    for panel, opposite in product(GROUP.panels, (False, True)):
        data = dxf_bytes(part_drawing(panel, opposite), unit=unit, options=options)
        compare_part(data, panel, opposite, unit=unit, options=options, file="p.dxf")
        ((drawn, openings),) = contours(data, tmp_path / "p.dxf", 25.4 if unit == "in" else 1.0)
        compare(drawn, openings, there(panel.name, mirrored=opposite), panel.name)


def test_arcs_come_through_as_arcs():
    """A polyline's bulges are those that were drawn, and a circle is two half arcs, in a part's file."""
    panels = {p.name: p for p in GROUP.panels}

    def edge(name):
        data = dxf_bytes(part_drawing(panels[name]), unit="in", options=DxfOptions("R2010"))
        document = ezdxf.read(io.StringIO(data.decode("utf-8")))
        (line,) = document.modelspace().query('LWPOLYLINE[layer=="PART_EDGE"]')
        return [bulge for *_, bulge in line.get_points("xyb")]

    for name in ("motor bracket", "gusset", "cable clip"):
        drawn = max(ezdxf.readfile(FILES[name]).modelspace().query("LWPOLYLINE"), key=len)
        bulges = sorted(b for *_, b in drawn.get_points("xyb"))
        assert sum(b != 0 for b in bulges) >= 1
        assert sorted(edge(name)) == pytest.approx(bulges, abs=1e-9)
    assert edge("hatch ring") == pytest.approx([1, 1], abs=1e-12)
